"""What the editor is answered, on the demo register and small texts: `|` marks the cursor."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.editor import completion, fixes, hover, navigation, positions
from specreg.editor.notices import Severity, notices, span_of
from specreg.editor.reading import Reading, home_of, judged, read
from specreg.editor.scanner import cursor, outline
from specreg.source import Place, Scalar, read_yaml, walk
from specreg.workshop import rules_for

BUILDS = Path(__file__).parents[2] / "builds"
FIELDWORK = BUILDS / "fieldwork"
PACK, _ = rules_for()


def reading_of(path: Path, text: str, home: Path = BUILDS) -> Reading:
    """The register with one text over a file, judged where it can be."""
    return judged(read(home, {path: text}), PACK)


def marked(text: str) -> tuple[str, int, int]:
    """A text without its mark, and the line and column where the mark stood."""
    before, _, after = text.partition("|")
    line = before.count("\n")
    return before + after, line, len(before) - before.rfind("\n") - 1


# where things stand


@pytest.mark.parametrize(
    "path", sorted(BUILDS.rglob("*.yaml")), ids=lambda path: f"{path.parent.name}-{path.stem}"
)
def test_the_outline_agrees_with_the_reader(path: Path) -> None:
    """In a text that can be read, every key and single value stands where the reader finds it."""
    data = path.read_bytes()
    tree, problems = read_yaml(data, "spec.yaml")
    assert tree is not None and not problems
    found = outline(data.decode())
    for place, node in walk(tree):
        if not isinstance(node, Scalar):
            continue
        item = found.by_path[place]
        if item.value is None or "\n" in node.text or len(node.text) > len(item.text):
            continue  # a text over several lines
        assert item.text == node.text
        quotes = item.value.start - (node.place.column - 1)
        assert item.value.line == node.place.line - 1 and quotes in (0, 1)


@pytest.mark.parametrize(
    ("text", "path", "is_value", "word"),
    [
        ("sta|", (), False, "sta"),
        ("stage: des|", ("stage",), True, "des"),
        ("stage: |", ("stage",), True, ""),
        ("components:\n  pump:\n    ki|", ("components", "pump"), False, "ki"),
        ("components:\n  pump:\n    |", ("components", "pump"), False, ""),
        ("components:\n  pump:\n  |", ("components",), False, ""),
        ("components:\n  pump: {ki|", ("components", "pump"), False, "ki"),
        ("components:\n  pump: {kind: pu|}", ("components", "pump", "kind"), True, "pu"),
        ("components:\n  pump: {kind: pump, |}", ("components", "pump"), False, ""),
        ("components:\n  pump: {kind: pump, at: [1 mm, 2|]}", ("components", "pump", "at", 1), True, "2"),
        (
            "runs:\n  a:\n    protection:\n      - {fuse: 10 A, fam|",
            ("runs", "a", "protection", 0),
            False,
            "fam",
        ),
        ("include:\n  - assem|", ("include", 0), False, "assem"),
        ("include:\n  - assembly: |", ("include", 0, "assembly"), True, ""),
        ("jurisdictions: [uk, |", ("jurisdictions", 1), True, ""),
        ("components:\n  a: {kind: pump\n  b: {kind: |", ("components", "b", "kind"), True, ""),
        ("summary: >-\n  A text in which kind: stands.\nstage: |", ("stage",), True, ""),
    ],
)
def test_the_cursor_knows_what_is_being_written(
    text: str, path: tuple[str | int, ...], is_value: bool, word: str
) -> None:
    """Also in a text that cannot be read yet."""
    plain, line, column = marked(text)
    found = cursor(outline(plain).lines, line, column)
    assert found is not None
    assert (found.path, found.is_value, found.word) == (path, is_value, word)


@pytest.mark.parametrize("text", ["stage: design # a rem|ark", "summary: >-\n  A text |", "# only |"])
def test_nothing_is_offered_in_comments_and_texts(text: str) -> None:
    """Where a person writes prose, no word of ours stands in the way."""
    plain, line, column = marked(text)
    assert cursor(outline(plain).lines, line, column) is None


@pytest.mark.parametrize(
    ("text", "column", "units"),
    [("a 2 mm² b", 8, 8), ("a – b", 4, 4), ("🚐 b", 2, 3), ("🚐🚐", 2, 4), ("abc", 9, 3), ("e\u0301x", 2, 2)],
)
def test_columns_count_in_units_of_utf_16(text: str, column: int, units: int) -> None:
    """LSP 3.17, Position: a character beyond U+FFFF is two units, any other one (rule)."""
    assert positions.units(text, column) == units
    assert positions.column(text, units) == min(column, len(text))


@given(st.text(), st.integers(0, 40), st.sampled_from(["utf-8", "utf-16", "utf-32"]))
def test_columns_come_back(text: str, column: int, encoding: positions.Encoding) -> None:
    """To units and back is the same column, in every encoding that an editor may ask for."""
    within = min(column, len(text))
    assert positions.column(text, positions.units(text, within, encoding), encoding) == within
    assert positions.units(text, within, "utf-8") == len(text[:within].encode("utf-8", "surrogatepass"))


# what may be written next

ELECTRICS = FIELDWORK / "electrics.yaml"


def offered(path: Path, text: str) -> set[str]:
    """The words that are offered at the mark, in a file of the demo register with that text at its end."""
    plain, line, column = marked(path.read_text(encoding="utf-8") + text)
    last = sound()  # while a text cannot be read, the vans are those of the last that could
    reading = Reading(last.home, last.register, last.vans, (), {path: plain}, {}, PACK)
    return {one.text for one in completion.completion(reading, path, line, column)[1]}


@cache
def sound() -> Reading:
    """The demo register as it is."""
    return reading_of(ELECTRICS, ELECTRICS.read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("text", "some", "none"),
    [
        ("\n  new: {medium: d|", {"dc", "water", "gas"}, {"battery"}),
        (
            "\n  new: {medium: dc, from: |",
            {"essentials-box/pump", "house-battery/positive"},
            {"fresh-tank", "fridge"},
        ),
        ("\n  new: {medium: dc, to: |", {"fridge", "house-battery/negative"}, {"essentials-box/pump"}),
        ("\n  new: {medium: dc, return: |", {"same cable", "chassis"}, {"body"}),
        ("\n  new: {medium: dc, conductor: 1.5 |", {"mm²", "AWG"}, {"mm"}),
        ("\n  new: {medium: dc, length: 2|", {" m", " mm", " ft"}, {" A"}),
        ("\n  new: {medium: dc, |", {"from: ", "to: ", "conductor: "}, {"medium: ", "bore: "}),
        ("\n  new: {medium: dc, hidden: |", {"true", "false"}, set()),
        ("\n  new: {medium: dc, covering: |", {"sheath", "conduit"}, set()),
        ("\ncomponents:\n  new: {kind: |", {"battery", "fridge", "pump"}, {"dc"}),
        ("\ncomponents:\n  new: {kind: fridge, part: |", {"compressor-fridge-60"}, {"lithium-battery-200"}),
        ("\ncomponents:\n  new: {kind: fridge, fixed_to: |", {"body", "electrics-board"}, {"same cable"}),
        ("\ncomponents:\n  new: {kind: fridge, zone: |", {"galley", "garage-left"}, {"fridge"}),
        ("\ncomponents:\n  new: {part: lithium-battery-200, |", {"role: ", "capacity: "}, {"hob: "}),
        ("\nstage: |", {"hand-over", "panels-close"}, {"uk"}),
        ("\ninclude:\n  - {assembly: |", {"house-power-12v"}, set()),
        ("\ninclude:\n  - {assembly: house-power-12v, set: {|", {"battery: ", "inverter: "}, {"prefix: "}),
        ("\nrecords:\n  sign_offs:\n    - {matter: |", {"dc/battery-fastened"}, {"dc/charging-drop"}),
        ("\nrecords:\n  sign_offs:\n    - {|", {"matter: ", "covers: "}, {"rule: "}),
        ("\nconcessions:\n  - {rule: |", {"dc/charging-drop"}, set()),
        ("\nconcessions:\n  - {target: |", {"fridge", "alternator-cable"}, set()),
    ],
)
def test_what_may_be_written_next(text: str, some: set[str], none: set[str]) -> None:
    """The words that fit are offered, others are not; the text need not be readable yet."""
    found = offered(ELECTRICS, text)
    assert some <= found
    assert not none & found


# what is told of a word


@pytest.mark.parametrize(
    ("needle", "into", "said"),
    [
        ("short_circuit_current: 200 A", 3, ["With a unit: A, mA, kA"]),
        ("kind: alternator,", 7, ["**alternator**"]),
        ("part: compressor-fridge-60", 9, ["compressor-fridge-60", "parts/", "power"]),
        (
            "alternator-cable:",
            3,
            ["Current that the run is to carry", "Current that the conductor may carry"],
        ),
        ("  fridge: {", 4, ["Voltage lost between the battery", "Mass that", "Supplied from"]),
    ],
)
def test_hover(needle: str, into: int, said: list[str]) -> None:
    """A field's meaning and units, a kind, a part's figures, a run's and a component's facts."""
    text = ELECTRICS.read_text(encoding="utf-8")
    line, column = at(text, needle, into)
    found = hover.hover(sound(), ELECTRICS, line, column)
    assert found is not None
    for one in said:
        assert one in found[0]


def at(text: str, needle: str, into: int = 0) -> tuple[int, int]:
    """The line and column of a piece of a text."""
    place = text.index(needle) + into
    return text.count("\n", 0, place), place - text.rfind("\n", 0, place) - 1


def test_definition_and_references() -> None:
    """From a run's end to its component, from there into assembly and part, and back to all that name it."""
    text = ELECTRICS.read_text(encoding="utf-8")
    line, column = at(text, "fixed_to: electrics-board", 12)
    ((file, span),) = navigation.definition(sound(), ELECTRICS, line, column)
    assert file == ELECTRICS and text.splitlines()[span.line].startswith("  electrics-board:")
    line, column = at(text, "  house-battery: {", 4)
    folders = {file.parent.name for file, _ in navigation.definition(sound(), ELECTRICS, line, column)}
    assert {"assemblies", "parts"} <= folders
    named = navigation.references(sound(), ELECTRICS, line, column)
    assert {"assemblies", "fieldwork"} <= {file.parent.name for file, _ in named}
    assert all(
        "house-battery" in sound().outline(file).lines[span.line][span.start : span.end]
        for file, span in named
    )


def test_symbols() -> None:
    """Every component and run that a file holds, in its order."""
    found = navigation.symbols(sound(), ELECTRICS)
    tree, _ = read_yaml(ELECTRICS.read_bytes(), "x")
    assert tree is not None
    listed = [path[1] for path, _ in walk(tree) if len(path) == 2 and path[0] in ("components", "runs")]
    listed += [path[1] for path, _ in walk(tree) if len(path) == 2 and path[0] == "circuits"]
    assert sorted(one.name for one in found) == sorted(map(str, listed))


# what can be mended


def mended(path: Path, text: str, home: Path = BUILDS) -> list[str]:
    """The texts that the fixes for the problems of a text would leave."""
    reading = reading_of(path, text, home)
    lines = reading.outline(path).lines
    found = []
    for notice in notices(reading):
        for fix in fixes.fixes(reading, notice) if notice.problem else ():
            changed = list(lines)
            row = changed[fix.span.line]
            changed[fix.span.line] = row[: fix.span.start] + fix.text + row[fix.span.end :]
            found.append("\n".join(changed))
    return found


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("kind: alternator,", "kind: alternatr,"),
        ("rated_current: 180 A", "rated_curent: 180 A"),
        ("regulation: variable", "regulation: varable"),
        ("rated_current: 180 A", "rated_current: 180"),
        ("rated_current: 180 A", "rated_current: 180 a"),
        ("fixed_to: fresh-tank", "fixed_to: fresh-tnk"),
        ("part: compressor-fridge-60", "part: compresor-fridge-60"),
    ],
)
def test_fixes_lead_back_to_the_right_text(right: str, wrong: str) -> None:
    """A slip in a key, a kind, a word, a unit, an id or a part: one of the fixes is what stood there."""
    text = ELECTRICS.read_text(encoding="utf-8")
    broken = text.replace(right, wrong, 1)
    assert broken != text and text in mended(ELECTRICS, broken)


def test_a_stale_sign_off_takes_its_new_mark_by_a_decision_only() -> None:
    """The fix says that somebody must have looked, and is not the one that an editor does unasked."""
    path = FIELDWORK / "sign-offs.yaml"
    text = path.read_text(encoding="utf-8")
    right = next(line for line in text.splitlines() if "dc/battery-fastened" in line)
    mark = right.rpartition("covers: ")[2].rstrip("}")
    stale = text.replace(mark, "00000000", 1)
    reading = reading_of(path, stale)
    found = [fix for notice in notices(reading) for fix in fixes.fixes(reading, notice)]
    (fix,) = [one for one in found if one.text == mark]
    assert fix.file == path and not fix.is_plain and "after looking" in fix.title
    line = stale.splitlines()[fix.span.line]
    assert line[: fix.span.start] + mark + line[fix.span.end :] == right


# findings


def test_levels_become_severities_and_nothing_else_is_told() -> None:
    """Errors, warnings and notes as such; what waits is a hint; what passes is silent."""
    path = BUILDS / "second-hand" / "spec.yaml"
    found = notices(reading_of(path, path.read_text(encoding="utf-8")))
    severities = {notice.severity for notice in found}
    assert {Severity.error, Severity.warning, Severity.information} <= severities
    for notice in found:
        assert notice.result is not None
        if notice.severity is Severity.error:
            assert notice.result.level.value == "error" and notice.result.failed
        if notice.severity is Severity.hint:
            assert notice.result.waiting


def test_a_finding_leads_to_the_part_behind_it() -> None:
    """Related information points into parts and assemblies."""
    related = {file.parent.name for notice in notices(sound()) for file, _, _ in notice.related}
    assert {"parts", "assemblies"} <= related


def test_a_file_that_builds_share_is_read_with_all_of_them(tmp_path: Path) -> None:
    """A part that is written in concerns every build; a build only itself."""
    home = Path(shutil.copytree(BUILDS, tmp_path / "builds"))
    shared = home / "parts" / "water.yaml"
    assert home_of(shared) == home == home_of(home / "pocket" / "spec.yaml")
    assert len(read(home, {shared: shared.read_text(encoding="utf-8")}).vans) == 4
    one = home / "pocket" / "spec.yaml"
    assert list(read(home, {one: one.read_text(encoding="utf-8")}).vans) == ["pocket"]


# never a fault

POCKET = BUILDS / "pocket" / "spec.yaml"
SIGNS = st.sampled_from(
    ["{", "}", "[", "]", ":", "- ", "\n", "  ", '"', "'", "#", "|", ">", "&", "²", "🚐", "\t", "x", "12"]
)


@settings(max_examples=25)
@given(st.data())
def test_random_edits_are_survived(data: st.DataObject) -> None:
    """Whatever is typed, cut or put in, every question gets an answer."""
    text = POCKET.read_text(encoding="utf-8")
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        gone = data.draw(st.integers(0, 40))
        text = text[:start] + "".join(data.draw(st.lists(SIGNS, max_size=5))) + text[start + gone :]
    reading = reading_of(POCKET, text)
    lines = reading.outline(POCKET).lines
    line = data.draw(st.integers(0, len(lines)))
    column = data.draw(st.integers(0, 80))
    for notice in notices(reading):
        for fix in fixes.fixes(reading, notice):
            assert fix.span.start <= fix.span.end
    completion.completion(reading, POCKET, line, column)
    hover.hover(reading, POCKET, line, column)
    navigation.definition(reading, POCKET, line, column)
    navigation.references(reading, POCKET, line, column)
    for symbol in navigation.symbols(reading, POCKET):
        assert symbol.last_line >= symbol.span.line
    assert span_of(reading, Place("builds/pocket/spec.yaml", line + 1, column + 1)).line == line
