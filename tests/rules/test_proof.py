"""A rule's fragments prove it or say what came instead."""

from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.rules.pack import Rule, load_rule
from specreg.rules.proof import laid, prove, proving_base
from specreg.source import Mapping, read_yaml

BASE = """
format: 1
build: base
title: Base
stage: enquiry
jurisdictions: [uk]
components: {water-pump: {kind: pump, supply_voltage: 12 V, power: 60 W}, other: {kind: pump, power: 10 W}}
"""
HEAD = """---
title: A pump draws little
system: dc
level: error
judges: pump
passes: pump.power <= limits.most
finding: "{{ pump.name }} draws {{ pump.power | watts }}"
limits: {most: {any: 50 W}}
open_from: design
sources: [{how: physics}]
---
Why.
"""
FINE = "components: {water-pump: {power: 50 W}}"
BAD = "components: {water-pump: {power: 51 W}}"
UNSAID = "components: {water-pump: {power: ~}}"


def base() -> Mapping:
    """The small build."""
    tree, problems = read_yaml(BASE.encode(), "base.yaml")
    assert isinstance(tree, Mapping) and not problems
    return tree


def rule(*fragments: tuple[str, str, str], head: str = HEAD) -> Rule:
    """A rule with fragments: heading, text, and the finding that it must give."""
    text = head
    for heading, fragment, finding in fragments:
        said = f"Finding: {finding}\n" if finding else ""
        text += f"\n## {heading}\n```yaml\n{fragment}\n```\n{said}"
    found, problems = load_rule(text, "dc/rule", "rules/dc/rule.md")
    assert found is not None, [problem.text() for problem in problems]
    return found


@pytest.mark.parametrize(
    ("heading", "fragment", "finding", "complaint"),
    [
        ("Conforms", FINE, "", ""),
        ("Conforms", BAD, "", "expected pass everywhere, got water-pump: fail water pump draws 51 W, other: pass "),
        ("Conforms", UNSAID, "", "expected pass everywhere, got water-pump: open cannot be decided"),
        ("Conforms", "components: {water-pump: ~, other: ~}", "", "expected pass everywhere, got build: notApplicable"),
        ("Does not conform", BAD, "", ""),
        ("Does not conform", BAD, "draws 51 W", ""),
        ("Does not conform", BAD, "draws 52 W", "expected a finding with “draws 52 W”, got water-pump: fail"),
        ("Does not conform", BAD, "other draws", "expected a finding with “other draws”, got water-pump: fail"),
        ("Does not conform", "components: {water-pump: {power: 61 W}, other: {power: 62 W}}", "draws 61 W", ""),
        ("Does not conform", FINE, "", "expected a failure, got water-pump: pass , other: pass "),
        ("Does not conform", UNSAID, "", "expected a failure, got water-pump: open"),
        ("Missing", UNSAID, "", ""),
        ("Missing", FINE, "", "expected open, got water-pump: pass"),
        (
            "Missing",
            "components: {water-pump: {power: ~}, other: {power: 60 W}}",
            "",
            "expected open, got water-pump: open",
        ),
        ("Missing", "{stage: design, components: {water-pump: {power: ~}}}", "", "expected open, got water-pump: fail"),
        ("Conforms", "- a list", "", "the fragment is a mapping"),
        ("Conforms", "components: {water-pump: {powr: 1 W}}", "", "the fragment has problems of its own"),
        ("Conforms", "components: {water-pump: {power: [}}", "", "the fragment has problems of its own"),
    ],
)  # fmt: skip
def test_a_fragment_gives_what_its_heading_says(
    heading: str, fragment: str, finding: str, complaint: str
) -> None:
    """Or the complaint says what was expected and what came."""
    (proof,) = prove(rule((heading, fragment, finding)), base())
    assert proof.complaint.startswith(complaint) if complaint else proof.complaint == ""
    assert proof.rule == "dc/rule"
    assert bool(proof.problems) is ("problems" in complaint)
    assert bool(proof.results) is not ("the fragment" in complaint)
    places = {(place.file, place.line) for problem in proof.problems if (place := problem.place)}
    assert places <= {("rules/dc/rule.md", 16)}
    assert bool(places) is bool(proof.problems)


def test_a_matter_for_a_person_conforms_where_it_is_asked() -> None:
    """It never passes; that it is asked is what its fragment shows."""
    deciding = HEAD.replace("passes:", "decides: plumber\npasses:")
    asked, failing = prove(rule(("Conforms", FINE, ""), ("Conforms", BAD, ""), head=deciding), base())
    assert asked.complaint == ""
    assert failing.complaint.startswith("expected review everywhere, got water-pump: fail")


def test_circuits_are_expanded_in_fragments() -> None:
    """A fragment may be written as a spec may."""
    one = rule(("Conforms", FINE, ""))
    fragment = one.document.fragments[0]
    build, problems = laid(fragment, base(), "rules/dc/rule.md")
    assert build is not None and not problems
    assert set(build.components) == {"water-pump", "other"}


def test_the_base_is_that_of_the_first_pack_that_has_one(tmp_path: Path) -> None:
    """A register's own pack comes first; the system's base is laid over the common one."""
    own, shipped = tmp_path / "own", tmp_path / "shipped"
    (own / "dc").mkdir(parents=True)
    (shipped / "dc").mkdir(parents=True)
    (shipped / "base.yaml").write_text("title: Shipped\nbuild: base\n")
    (shipped / "dc" / "base.yaml").write_text("title: Shipped for direct current\n")
    (own / "dc" / "base.yaml").write_text("stage: design\n")
    for folders, system, expected in (
        ((own, shipped), "dc", {"title": "Shipped", "build": "base", "stage": "design"}),
        ((shipped,), "dc", {"title": "Shipped for direct current", "build": "base"}),
        ((shipped,), "gas", {"title": "Shipped", "build": "base"}),
        ((own,), "dc", {"stage": "design"}),
    ):
        found, problems = proving_base(folders, system)
        assert not problems
        assert found is not None
        assert {
            key: str(getattr(entry.node, "value", "")) for key, entry in found.entries.items()
        } == expected
    assert proving_base((tmp_path,), "dc") == (None, [])


def test_what_is_wrong_with_a_base_is_told(tmp_path: Path) -> None:
    """With its place; and what is no mapping is no base."""
    (tmp_path / "dc").mkdir()
    (tmp_path / "base.yaml").write_text("title: [\n")
    (tmp_path / "dc" / "base.yaml").write_text("- a\n")
    found, problems = proving_base((tmp_path,), "dc")
    assert found is None
    assert [problem.place.file for problem in problems if problem.place] == [f"{tmp_path.name}/base.yaml"]
    (tmp_path / "base.yaml").unlink()
    assert proving_base((tmp_path,), "dc")[0] is None
