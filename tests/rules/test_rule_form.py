"""Documents of rules: their parts and the places of these, what is wrong with them, limits, and the words of figures."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.value_type import ANYTHING, DATE, TRUTH, ValueType, list_of, number, text
from specreg.rules import pack as packs
from specreg.rules.document import Fragment, read_document
from specreg.rules.pack import Pack, Rule, load_pack, load_rule, own_documents, pack_of
from specreg.rules.wording import iso_date, names, percent, plain, wording
from specreg.units import Dimension, System

HEAD = """---
title: A pump draws little
system: dc
level: error
judges: pump
passes: pump.power <= limits.most
finding: "{{ pump.name }} draws {{ pump.power | watts }}"
limits: {most: {any: 50 W}}
sources: [{how: physics}]
---
"""


def without(key: str) -> str:
    """The document without a line of its head."""
    return "".join(line for line in HEAD.splitlines(keepends=True) if not line.startswith(f"{key}:"))


def put(line: str) -> str:
    """The document with a line in the place of the one with the same key, or added before the sources."""
    key = line.partition(":")[0]
    if f"\n{key}:" not in HEAD:
        return HEAD.replace("sources:", f"{line}\nsources:")
    return "".join(
        f"{line}\n" if one.startswith(f"{key}:") else one for one in HEAD.splitlines(keepends=True)
    )


def rule_of(document: str, identity: str = "dc/pump") -> Rule:
    """The rule of a document that has no problem."""
    found, problems = load_rule(document, identity, "rules/dc/pump.md")
    assert found is not None, [problem.text() for problem in problems]
    return found


def problems_of(document: str) -> list[str]:
    """What is wrong with a document, each with its place."""
    found, problems = load_rule(document, "dc/pump", "pump.md")
    assert (found is None) == bool(problems)
    return [problem.text() for problem in problems]


BODY = """Why it matters.
   Missing
## By the way
```yaml
no: fragment
```
## Conforms
Ten watts are few.
```yaml
components: {pump: {power: 10 W}}
```

```yaml
components:
  pump: {power: 11 W}
```
  ## Missing
## Does not conform
Finding: of nothing here
```python
no = "fragment"
```
  ```yaml
components: {pump: {power: 90 W}}
  ```
Finding:  draws 90 W
Finding:draws 90 watts
## Missing
```yaml
components: {pump: {power: ~}}
```
"""


def test_the_parts_of_a_document() -> None:
    """Prose up to the first heading of proofs; under these the fenced specs, each with its line and its finding."""
    document = rule_of(HEAD + BODY).document
    assert document.prose == "Why it matters.\n   Missing\n## By the way\n```yaml\nno: fragment\n```"
    assert document.fragments == (
        Fragment("Conforms", "components: {pump: {power: 10 W}}\n", 20),
        # the line of "Finding: of nothing here" stands below this one
        Fragment("Conforms", "components:\n  pump: {power: 11 W}\n", 24, "of nothing here"),
        Fragment("Does not conform", "components: {pump: {power: 90 W}}\n", 34, "draws 90 watts"),
        Fragment("Missing", "components: {pump: {power: ~}}\n", 40),
    )
    lines = (HEAD + BODY).splitlines()
    assert [lines[fragment.line - 1] for fragment in document.fragments] == [
        fragment.text.splitlines()[0] for fragment in document.fragments
    ]


def test_a_document_without_a_body_has_no_parts() -> None:
    """And a finding before any fragment is of none."""
    assert (rule_of(HEAD).document.prose, rule_of(HEAD).document.fragments) == ("", ())
    early = rule_of(HEAD + "## Conforms\nFinding: of none\n```yaml\na: 1\n```\n").document
    assert early.fragments == (Fragment("Conforms", "a: 1\n", 14),)


def test_where_a_document_begins_and_what_marks_it() -> None:
    """Lines are those of the file; the digest tells any change of a word, be it of the prose."""
    document = rule_of(HEAD + "Why.\n").document
    assert (document.place.file, document.place.line, document.place.column) == ("rules/dc/pump.md", 2, 1)
    assert document.front.entries["judges"].key_place.line == 5
    assert document.digest == rule_of(HEAD + "Why.\n").document.digest
    assert document.digest != rule_of(HEAD + "Why?\n").document.digest
    assert len(document.digest) == 64


@pytest.mark.parametrize(
    ("document", "problem"),
    [
        ("", "pump.md:1:1: problem: a rule begins with front matter between two lines of `---`"),
        ("title: A pump\n---\n", "pump.md:1:1: problem: a rule begins with front matter"),
        ("---\ntitle: A pump\n", "pump.md:1:1: problem: a rule begins with front matter"),
        ("--- \n- a list\n ---\n", "pump.md:2:1: problem: the front matter is a mapping of keys to values"),
        ("---\n---\n", "pump.md:1:1: problem: the file is empty"),
        ("---\ntitle: [\n---\n", "pump.md:2:9: problem: a value was expected here"),
        (HEAD.replace("title: A pump draws little", "title: A\ntitle: B"), "pump.md:3:1: problem: "),
        (without("level"), "pump.md:2:1: problem: "),
        (put("level: errr"), 'pump.md:4:8: problem: '),
        (put("lvel: error"), 'pump.md:9:1: problem: '),
        (put("judges: pmp"), 'pump.md:5:9: problem: unknown noun: read "pmp", expected what a rule can judge, nearest is "pump"'),
        (put("passes: pump.powr > limits.most"), 'nearest is "power"'),
        (put("applies: pump.powr > limits.most"), 'nearest is "power"'),
        (put("passes: pump.power > limits.mst"), 'unknown attribute of limits: read "mst", nearest is "most"'),
        (put("passes: jurisdiction == 'uks'"), 'unknown word: read "uks", nearest is "uk"'),
        (put("passes: case > 3"), "compares a text with a bare number"),
        (put("finding: 'draws {{ pump.powr }}'"), 'nearest is "power"'),
        (put("asks: 'draws {{ pump.powr }}'"), 'nearest is "power"'),
        (put("remedy: 'draws {{ pump.powr }}'"), 'nearest is "power"'),
        (without("passes"), "pump.md:2:1: problem: a rule has `passes:`, or `decides:` with who must look, or both"),
        (put("limits: {most: {any: 50 W, fr: 60 W}}"),
         'pump.md:8:32: problem: unknown jurisdiction: read "fr", expected any, '),
        (put("limits: {most: {any: 50 yers}}"), 'is not a unit that is known here: read "50 yers", nearest is "years"'),
        (put("limits: {most: {any: 50 Wa}}"), 'pump.md:8:22: problem: '),
        (put("limits: {most: {any: 50 W, us: 2 A}}"),
         'pump.md:8:32: problem: limit `most` changes its dimension: read "2 A"'),
        (put("limits: {most: {any: 50 W, us: 50}}"), 'limit `most` changes its dimension: read "50"'),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_document(document: str, problem: str) -> None:
    """It is told in words, at its place, and the rule is not taken."""
    said = problems_of(document)
    assert any(problem in one for one in said), said
    assert all(one.startswith("pump.md:") for one in said)


def test_every_problem_of_a_document_is_told() -> None:
    """Each condition and text is read, whatever is wrong with another, and each limit."""
    wrong = put("limits: {most: {any: 50 Wa, zz: 2 A, us: 60 W}}").replace("pump.name", "pump.nam")
    assert [line.partition(": problem: ")[2].partition(":")[0] for line in problems_of(wrong)] == [
        "Wa is not a unit that is known here",
        "unknown jurisdiction",
        "limit `most` changes its dimension",
        "compares a power with a current",
        "unknown attribute of pump",
    ]


def test_a_person_decides_or_a_condition() -> None:
    """Either is enough, and both are well."""
    decided = put("decides: plumber")
    assert rule_of(decided).passes is not None
    only_decided = "".join(
        line for line in decided.splitlines(keepends=True) if not line.startswith(("passes:", "limits:"))
    )
    one = rule_of(only_decided)
    assert (one.passes, one.applies, one.asks, one.remedy) == (None, None, None, None)
    assert one.finding is not None


LIMITS = put("limits: {most: {any: 50 W, us: 0.1 kW, uk: 60}, ratio: {any: 3}, drop: {eu: 4 %}}")


def test_limits_by_country() -> None:
    """A country's own before that for any; in SI units; without either there is none."""
    of = rule_of(LIMITS.replace("uk: 60", "uk: 60 W"))
    assert of.limits_in("uk") == {"most": 60.0, "ratio": 3.0}
    assert of.limits_in("us") == {"most": 100.0, "ratio": 3.0}
    assert of.limits_in("eu") == {"most": 50.0, "ratio": 3.0, "drop": 0.04}
    assert of.limits_in("ca") == of.limits_in(None) == {"most": 50.0, "ratio": 3.0}
    assert of.dimensions == {
        "most": Dimension.power, "ratio": Dimension.plain, "drop": Dimension.share
    }  # fmt: skip


def test_a_limit_of_nought_is_a_limit() -> None:
    """It is no missing one."""
    assert rule_of(put("limits: {most: {any: 50 W, us: 0 W}}")).limits_in("us") == {"most": 0.0}


def test_the_cases_of_a_rule_open_the_facts_of_their_axis() -> None:
    """A fact by mode can be read where the rule is judged by mode, of the whole as of the thing itself."""
    aisle = put("passes: case == 'night' or build.aisle_width is present")
    assert "unknown attribute of build" in problems_of(aisle)[0]
    assert rule_of(aisle.replace("passes:", "cases: mode\npasses:")).passes is not None
    seat = put("judges: seating").replace(
        "pump.power <= limits.most", "seating.exits_reached is not none_left"
    )
    seat = seat.replace("{{ pump.name }} draws {{ pump.power | watts }}", "{{ seating.name }}")
    assert "unknown attribute of seating" in problems_of(seat)[0]
    assert rule_of(seat.replace("passes:", "cases: mode\npasses:")).passes is not None


def test_what_a_rule_is_about_goes_by_its_noun() -> None:
    """With `_` for `-`, as names in conditions are written."""
    run = put("judges: dc-run").replace("pump.power <= limits.most", "dc_run.length is present")
    of = rule_of(run.replace("{{ pump.name }} draws {{ pump.power | watts }}", "{{ dc_run.name }}"))
    assert (of.variable, of.header.judges) == ("dc_run", "dc-run")


def test_rules_by_name() -> None:
    """By every earlier name; a name that a rule bears now is that rule's."""
    old = rule_of(put("formerly: [dc/old, dc/new]"))
    new = rule_of(HEAD, "dc/new")
    for rules in ((old, new), (new, old)):
        assert Pack(rules).by_identity() == {"dc/old": old, "dc/new": new, "dc/pump": old}


def test_which_documents_a_pack_refers_to() -> None:
    """Each once, with its edition where one is named, in the order of their names; a bare `physics` is none."""
    two = put("sources: [{document: Handbook B, edition: '2020', how: read}, {how: physics}]")
    one = put("sources: [{document: Code A, how: read}, {document: Handbook B, edition: '2020', how: read}]")
    assert Pack((rule_of(two), rule_of(one))).codes == ("Code A", "Handbook B, 2020")
    assert Pack((rule_of(HEAD),)).codes == ()


def test_the_edition_of_a_pack() -> None:
    """Eight digits that change with a word of a rule, with its name, and with a rule more."""
    packed = [
        (rule_of(HEAD),),
        (rule_of(HEAD + "Why.\n"),),
        (rule_of(HEAD, "dc/pumps"),),
        (rule_of(HEAD), rule_of(HEAD, "dc/pumps")),
        (),
    ]
    marks = [Pack(rules).mark for rules in packed]
    assert len(set(marks)) == len(packed)
    assert all(re.fullmatch("[0-9a-f]{8}", mark) for mark in marks)
    assert Pack((rule_of(HEAD),)).mark == marks[0]


def test_a_pack_of_texts() -> None:
    """Each by the path without its ending, in that order; a wrong one is told and leaves the others."""
    pack, problems = pack_of({"dc/b.md": HEAD, "dc/wrong.md": "", "dc/a.md": HEAD, "dc/none.md": ""}, "shown")
    assert [rule.identity for rule in pack.rules] == ["dc/b", "dc/a"]
    assert [str(problem.place) for problem in problems] == ["shown/dc/none.md:1:1", "shown/dc/wrong.md:1:1"]


def folder_of(home: Path, **documents: bytes) -> Path:
    """A folder of rules in a register."""
    (home / "rules" / "dc").mkdir(parents=True)
    for name, document in documents.items():
        (home / "rules" / "dc" / f"{name}.md").write_bytes(document)
    return home / "rules"


def test_the_documents_of_a_folder(tmp_path: Path) -> None:
    """Those one level below it, by their paths; what cannot be read or stands elsewhere is told beside them."""
    folder = folder_of(
        tmp_path, b=HEAD.encode(), a=HEAD.encode(), z=b"---\n\xff", late=b"\n\n\xff", wrong=b""
    )
    (folder / "top.md").write_text("no rule")
    (folder / "dc" / "deep").mkdir()
    (folder / "dc" / "deep" / "down.md").write_text("no rule")
    pack, problems = load_pack(folder, "vans/rules")
    assert [rule.identity for rule in pack.rules] == ["dc/a", "dc/b"]
    assert pack.rules[0].document.file == "vans/rules/dc/a.md"
    elsewhere = "expected vans/rules/SYSTEM/NAME.md; move or rename it, or take it away"
    assert [problem.text() for problem in problems] == [
        f'vans/rules/dc/deep/down.md:1:1: problem: no rule is read from here: read "vans/rules/dc/deep/down.md", {elsewhere}',
        "vans/rules/dc/late.md:3:1: problem: a rule document is not UTF-8; save it with the encoding UTF-8",
        "vans/rules/dc/wrong.md:1:1: problem: a rule begins with front matter between two lines of `---`",
        "vans/rules/dc/z.md:2:1: problem: a rule document is not UTF-8; save it with the encoding UTF-8",
        f'vans/rules/top.md:1:1: problem: no rule is read from here: read "vans/rules/top.md", {elsewhere}',
    ]
    assert list(own_documents(folder, "r")[0]) == ["dc/a.md", "dc/b.md", "dc/wrong.md"]
    assert load_pack(folder)[0].rules[0].document.file == "rules/dc/a.md"


def test_how_many_and_how_long(tmp_path: Path) -> None:
    """As the developers' guide tells it: a thousand documents of a hundred kilobytes."""
    assert own_documents(folder_of(tmp_path), "r") == ({}, [])
    assert (packs.MOST_DOCUMENTS, packs.LONGEST_DOCUMENT) == (1_000, 100_000)


@pytest.mark.parametrize(("most", "read"), [(1, ["dc/a.md"]), (2, ["dc/a.md", "dc/b.md"])])
def test_more_documents_than_are_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, most: int, read: list[str]
) -> None:
    """It is told how many there are; no word where there are just so many."""
    folder = folder_of(tmp_path, a=b"", b=b"")
    monkeypatch.setattr(packs, "MOST_DOCUMENTS", most)
    texts, problems = own_documents(folder, "r")
    assert list(texts) == read
    assert [problem.text() for problem in problems] == (
        ['r/:1:1: problem: too many rules of its own: read "2", expected at most 1'] if most == 1 else []
    )


def test_links_out_of_the_folder_are_told(tmp_path: Path) -> None:
    """Of the whole folder, of one of its folders, of one document; none of what they lead to is read."""
    outside = folder_of(tmp_path / "outside", own=HEAD.encode())
    home = tmp_path / "vans"
    home.mkdir()
    (home / "rules").symlink_to(outside)
    texts, (problem,) = own_documents(home / "rules", "rules")
    assert (texts, problem.message, str(problem.place)) == (
        {}, "a link out of the register, which is not followed", "rules:1:1"
    )  # fmt: skip
    (home / "rules").unlink()
    (home / "rules" / "gas").mkdir(parents=True)
    (home / "rules" / "dc").symlink_to(outside / "dc")
    (home / "rules" / "gas" / "one.md").symlink_to(outside / "dc" / "own.md")
    (home / "rules" / "gas" / "two.md").write_text(HEAD)
    texts, problems = own_documents(home / "rules", "rules")
    assert list(texts) == ["gas/two.md"]
    assert [str(one.place) for one in problems] == ["rules/dc/own.md:1:1", "rules/gas/one.md:1:1"]
    assert {one.message for one in problems} == {"a link out of the register, which is not followed"}


def test_a_document_that_is_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """At the limit it is read, one byte beyond not."""
    folder = folder_of(tmp_path, a=b"x" * 10, b=b"x" * 11)
    monkeypatch.setattr(packs, "LONGEST_DOCUMENT", 10)
    texts, (problem,) = own_documents(folder, "r")
    assert list(texts) == ["dc/a.md"]
    assert problem.text().startswith("r/dc/b.md:1:1: problem: the file is too large: 11 bytes, 10 are read")


def test_a_document_is_not_opened_before_it_is_read_whole() -> None:
    """What is no document has a problem, and none of its parts."""
    document, problems = read_document("---\ntitle: A\n---\nProse.", "dc/a", "a.md")
    assert document is not None and not problems
    assert (document.identity, document.file, document.prose) == ("dc/a", "a.md", "Prose.")


THING = SimpleNamespace(name="fuse F1")


@pytest.mark.parametrize(
    ("things", "written"),
    [
        ([], "none"),
        (["a"], "a"),
        (["a", "b"], "a and b"),
        (["a", "b", "c"], "a, b and c"),
        ([THING, "x"], "fuse F1 and x"),
        ([3], "3"),
    ],
)
def test_names_are_listed(things: list[object], written: str) -> None:
    """A thing by its name, a text as itself, else whatever it says of itself."""
    assert names(things) == written


@pytest.mark.parametrize(
    ("write", "value", "written"),
    [
        (percent, 0.03, "3 %"),
        (percent, 0.12345, "12.3 %"),
        (percent, -0.005, "-0.5 %"),
        (percent, 9.994, "999 %"),
        (percent, 10.0, "1000 %"),
        (percent, 12.345, "1234 %"),  # half to even: 1234.5
        (percent, -12.346, "-1235 %"),
        (plain, 3.0, "3"),
        (plain, 123456.0, "123456"),
        (plain, 2.71828, "2.718"),
        (plain, -0.5, "-0.5"),
        (iso_date, date(2024, 5, 1), "2024-05-01"),
    ],
)
def test_figures_in_sentences(write: Callable[[Any, Any], str], value: Any, written: str) -> None:
    """Three digits of a share, four of a ratio, whole numbers in full, days as ISO 8601 writes them."""
    assert write(value, System.metric) == written


@pytest.mark.parametrize(
    ("kind", "value", "written"),
    [
        (number(), 2.0, "2"),
        (ValueType("number"), 2.5, "2.5"),
        (number(Dimension.current), 2.0, "2 A"),
        (number(Dimension.share), 0.03, "3 %"),
        (TRUTH, True, "yes"),
        (TRUTH, False, "no"),
        (DATE, date(2024, 5, 1), "2024-05-01"),
        (list_of(text()), ["a", "b"], "a and b"),
        (text(), "a", "a"),
        (ANYTHING, 5, "5"),
        (ANYTHING, THING, "fuse F1"),
    ],
)
def test_what_has_no_wording_of_its_own(kind: ValueType, value: object, written: str) -> None:
    """Each form is written as it is usually said."""
    assert wording(kind)(value, System.metric) == written
