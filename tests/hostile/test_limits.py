"""The bounds of what is read: each is said with its place, and what lies beyond is not worked on."""

from __future__ import annotations

import io
import json
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner
from effort import calls_of

from specreg.cli.commands import cli
from specreg.output import spreadsheet
from specreg.output.spreadsheet import NotAWorkbook, TooLarge, as_workbook, read_workbook
from specreg.register import revision
from specreg.register.query import equal
from specreg.source import Limits, Mapping, Problem, Scalar, read_yaml, substitute
from specreg.source.assembly import MOST_ASSEMBLIES
from specreg.source.circuits import MOST_CIRCUITS
from specreg.source.recall import named_alike
from specreg.source.tree import MOST_VALUES
from specreg.works.parts_list import MOST_PROBLEMS, read_parts_list
from specreg.workshop import load

HEAD = "format: 1\nbuild: v\ntitle: T\nstage: design\njurisdictions: [uk]\n"


def many(count: int, line: str) -> str:
    """A line for each number."""
    return "".join(line.format(n=n) for n in range(count))


def problems_of(folder: Path, files: dict[str, str]) -> tuple[Problem, ...]:
    """What is wrong with a register of these files."""
    for name, text in files.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(text)
    return load(folder / "v").problems


LIMITS = Limits()
FEW = 3_000
"""What stands here for the values of one build, so that the tests are quick."""

BEYOND: dict[str, tuple[dict[str, str], str]] = {
    "bytes": ({"v/spec.yaml": HEAD + "# " + "x" * LIMITS.bytes}, f"{LIMITS.bytes} are read at most"),
    "levels": ({"v/spec.yaml": HEAD + "note: " + "[" * 60 + "]" * 60 + "\n"}, f"deeper than {LIMITS.depth} levels"),
    "levels of an assembly": (
        {"v/spec.yaml": HEAD + "include: [{assembly: a}]\n", "assemblies/a.yaml": "components: " + "{a: " * 60 + "1" + "}" * 60 + "\n"},
        f"deeper than {LIMITS.depth} levels",
    ),
    "what assemblies bring": (
        {"v/spec.yaml": HEAD + "include:\n" + many(90, "- {{assembly: a, prefix: p{n}}}\n"),
         "assemblies/a.yaml": "components:\n" + many(20, "  c{n}: {{kind: cabinet}}\n")},
        f"more than {FEW} values come of its assemblies",
    ),
    "assemblies": (
        {"v/spec.yaml": HEAD + "include:\n" + many(MOST_ASSEMBLIES + 1, "- {{assembly: a, prefix: p{n}}}\n")},
        f"more than {MOST_ASSEMBLIES} assemblies",
    ),
    "what parts bring": (
        {"v/spec.yaml": HEAD + "components:\n" + many(700, "  c{n}: {{part: p}}\n"), "parts/p.yaml": "p:\n" + many(5, "  k{n}: 1\n")},
        f"more than {FEW} values come of the parts",
    ),
    "what parts bring deep below": (
        {"v/spec.yaml": HEAD + "components:\n" + many(700, "  c{n}: {{part: p}}\n"), "parts/p.yaml": "p:\n  size:\n" + many(500, "    k{n}: 1\n")},
        f"more than {MOST_VALUES} values with what it takes",
    ),
    "circuits": ({"v/spec.yaml": HEAD + "circuits:\n" + many(MOST_CIRCUITS + 1, "  c{n}: b/1 10 A\n")}, f"more than {MOST_CIRCUITS} circuits"),
    "an alias": ({"v/spec.yaml": HEAD + "note: &a [1]\nmore: [*a, *a]\n"}, "an alias"),
    "aliases within aliases": (
        {"v/spec.yaml": "a: &a [x, x]\n" + "".join(f"b{n}: &b{n} [*{'a' if not n else f'b{n - 1}'}, *{'a' if not n else f'b{n - 1}'}]\n" for n in range(30))},
        "an alias",
    ),
    "a merge key": ({"v/spec.yaml": HEAD + "note:\n  <<: {a: 1}\n"}, "a merge key"),
    "a tag": ({"v/spec.yaml": HEAD + "note: !!python/object/apply:os.system [touch ran]\n"}, "a tag"),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(BEYOND))
def test_what_lies_beyond_a_bound_is_said(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With a place, in a sentence, and without a build that would be worked on."""
    monkeypatch.setattr("specreg.source.assembly.MOST_VALUES", FEW)
    monkeypatch.setattr("specreg.source.catalogue.MOST_VALUES", FEW)
    files, said = BEYOND[name]
    problems = problems_of(tmp_path, files)
    assert any(said in problem.message for problem in problems), [problem.text() for problem in problems[:3]]
    assert all(problem.place for problem in problems)
    assert load(tmp_path / "v").sound == ()


def test_ten_thousand_components_are_read_in_step(tmp_path: Path) -> None:
    """Four times the components take four times the work; none is lost."""

    def work(count: int) -> int:
        text = (
            HEAD
            + "components:\n"
            + many(count, "  c{n}: {{kind: ceiling-light, power: 3 W, fixed_to: c0}}\n")
        )
        (tmp_path / "v").mkdir(exist_ok=True)
        (tmp_path / "v" / "spec.yaml").write_text(text)
        called = calls_of(lambda: load(tmp_path / "v"))
        return called

    work(10)
    assert work(400) < 4.5 * work(100)
    text = HEAD + "components:\n" + many(10_000, "  c{n}: {{kind: cabinet}}\n")
    (tmp_path / "v" / "spec.yaml").write_text(text)
    [build] = load(tmp_path / "v").sound
    assert len(build.components) == 10_000


class Looked(set[object]):
    """A set that counts how often it is gone through whole."""

    walked = 0

    def __iter__(self):  # type: ignore[no-untyped-def]
        Looked.walked += 1
        return super().__iter__()


def test_references_are_looked_up_and_not_gone_through(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Whether an id is there was asked by going through all ids, for each component."""
    from specreg.model import read

    ids = read._ids
    monkeypatch.setattr(read, "_ids", lambda *asked: Looked(ids(*asked)))
    (tmp_path / "v").mkdir()
    counts = []
    for count in (10, 100):
        text = HEAD + "components:\n" + many(count, "  c{n}: {{kind: ceiling-light, fixed_to: c0}}\n")
        (tmp_path / "v" / "spec.yaml").write_text(text)
        Looked.walked = 0
        assert load(tmp_path / "v").problems == ()
        counts.append(Looked.walked)
    assert counts[0] == counts[1]


AMOUNTS = {
    "length": ("-1 m", "-0.001 mm", "1e400 m", "NaN m", "nan", ".nan", ".inf", "-.inf", "9" * 400 + " m", "999999999999999 m",
               "1" * 59 + " m", "1e308", "--1 m", "0x10 m", "١ m"),
    "conductor": ("-1 mm²", "0 mm²", "1e9 mm²", "nan mm²"),
    "ambient": ("-300 °C", "nan °C", "1e99 K"),
}  # fmt: skip


@pytest.mark.parametrize(
    ("field", "amount"), [(field, amount) for field, amounts in AMOUNTS.items() for amount in amounts]
)
def test_amounts_that_cannot_be_are_told(field: str, amount: str, tmp_path: Path) -> None:
    """Negative, endless, not a number, beyond any vehicle, in another notation: a problem where it stands.

    A cable of minus four metres would have had a voltage drop below every limit.
    """
    line = f"  r: {{medium: dc, from: b/1, to: c/1, return: chassis, {field}: {amount}}}\n"
    text = (
        HEAD + "components:\n  b: {kind: bus-bar, studs: 2}\n  c: {kind: bus-bar, studs: 2}\nruns:\n" + line
    )
    problems = problems_of(tmp_path, {"v/spec.yaml": text})
    assert problems and str(problems[0].place).endswith(
        f"v/spec.yaml:10:{line.index(field) + len(field) + 3}"
    )


def test_a_quantity_below_zero_is_refused_and_a_place_is_not(tmp_path: Path) -> None:
    """Of every dimension but temperatures, angles and coefficients; places lie to both sides of their point."""
    fine = "  a: {kind: cabinet, mass: 1 kg, at: [-100 mm, -200 mm, -50 mm], size: [1 m, 1 m, 1 m]}\n"
    assert problems_of(tmp_path, {"v/spec.yaml": HEAD + "components:\n" + fine}) == ()
    wrong = {"mass: 1 kg": "mass: -1 kg", "size: [1 m": "size: [-1 m"}
    for old, new in wrong.items():
        [problem] = problems_of(tmp_path, {"v/spec.yaml": HEAD + "components:\n" + fine.replace(old, new)})
        assert "cannot be below zero" in problem.message
    battery = "  b: {kind: battery, nominal_voltage: -12 V, capacity: -90 Ah, greatest_draw: -3 A}\n"
    found = problems_of(tmp_path, {"v/spec.yaml": HEAD + "components:\n" + battery})
    assert sum("cannot be below zero" in problem.message for problem in found) == 2


NUMBERS = "mass: 999999999999 kg, size: [999999999999 m, 0 m, 0.000001 mm], at: [999999999999 m, -999999999999 m, 0 m]"


def test_figures_of_the_greatest_numbers_are_numbers_or_unknown(tmp_path: Path) -> None:
    """What is just within the bounds is computed: no figure is endless or no number, and JSON stays JSON."""
    text = (
        HEAD
        + f"components:\n  a: {{kind: cabinet, {NUMBERS}}}\n  b: {{kind: battery, nominal_voltage: 999999999999 V, "
    )
    text += f"capacity: 0.000000001 Ah, {NUMBERS}}}\n"
    assert problems_of(tmp_path, {"v/spec.yaml": text}) == ()

    def refuse(word: str) -> None:
        raise AssertionError(word)

    for words in (
        ("figures", "--format", "json"),
        ("inspect", "--format", "json"),
        ("plan", "--format", "json"),
    ):
        done = CliRunner().invoke(cli, (words[0], str(tmp_path / "v"), *words[1:]), catch_exceptions=False)
        assert done.exit_code in (0, 1, 2)
        json.loads(done.stdout, parse_constant=refuse)


# texts that take their time to be matched


def test_a_parameter_is_looked_for_in_one_way_along_the_text(monkeypatch: pytest.MonkeyPatch) -> None:
    """A brace and many spaces took the cube of their number: half an hour for a thousand lines of them."""
    tree, _ = read_yaml(b'a: "{' + b" " * 500_000 + b'x"\nb: "{ count }"\nc: "{count}"\n', "a.yaml")
    assert isinstance(tree, Mapping)
    filled, problems = substitute(tree, {"count": Scalar(2, "2", tree.place)})
    assert problems == []
    assert isinstance(filled, Mapping)
    assert [getattr(filled.entries[key].node, "value", None) for key in ("b", "c")] == [2, 2]


@pytest.mark.parametrize(
    ("pattern", "text", "alike"),
    [("*a" * 200, "a" * 400, True), ("*a" * 200 + "*", "a" * 399 + "b", True), ("*a" * 200 + "b", "a" * 50_000, False),
     ("pump-*", "Pump-3", True), ("*-3", "pump-3", True), ("p*p*3", "pump-3", True), ("p*3*3", "pump-3", False),
     ("pump", "pump", True), ("pump", "pumps", False), ("*", "", True), ("**", "x", True), ("ab*ba", "aba", False)],
)  # fmt: skip
def test_a_pattern_is_matched_in_one_way_along_the_text(pattern: str, text: str, alike: bool) -> None:
    """Two hundred `*` in a recall: a regular expression would not have ended."""
    assert named_alike(pattern, text) is alike
    assert equal("title", pattern).holds(text) is alike


@pytest.mark.parametrize(
    "heading", ["(" * 200_000, "[" * 100_000 + "(" * 100_000, " " * 200_000 + "x", "(" + ")" * 200_000 + "x"]
)
def test_a_heading_is_parted_in_one_way_along_the_text(heading: str) -> None:
    """A heading of brackets took the square of their number."""
    found = read_parts_list([[heading, "Mass (kg)", "Mass (net) (g)"]], "list.csv", frozenset())
    assert [(one.field, one.unit) for one in found.columns[1:]] == [("mass", "kg"), ("", "g")]


# tables


def test_a_list_of_parts_is_read_as_far_as_problems_are_told() -> None:
    """Ten thousand rows of nonsense: the first thousand problems, and where reading stopped."""
    rows = [["Part", "Kind"], *(["x y z", ""] for _ in range(10_000))]
    problems = read_parts_list(rows, "list.csv", frozenset()).problems
    assert MOST_PROBLEMS <= len(problems) <= MOST_PROBLEMS + 2
    assert problems[-1].message == "what follows is not read: mend these first"


def workbook(sheet: bytes) -> bytes:
    """A workbook whose sheet is replaced."""
    out = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(as_workbook("x", ("Part",), [("a",)]))) as old,
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            new.writestr(name, sheet if name.endswith("sheet1.xml") else old.read(name))
    return out.getvalue()


SHEET = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>{}</sheetData></worksheet>'


def test_a_workbook_that_unpacks_to_too_much_is_not_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    """A small file that becomes a large one; a row far below all others; a column far to the right."""
    monkeypatch.setattr(spreadsheet, "MOST_UNPACKED", 1_000_000)
    monkeypatch.setattr(spreadsheet, "MOST_ROWS", 500)
    packed = workbook(b" " * 1_000_000)
    assert len(packed) < 10_000
    with pytest.raises(TooLarge, match="unpacks to"):
        read_workbook(packed)
    with pytest.raises(TooLarge, match="rows"):
        read_workbook(workbook(SHEET.format('<row r="505"><c t="n"><v>1</v></c></row>').encode()))
    wide = SHEET.format('<row r="1"><c r="A1"><v>1</v></c><c r="XFD1"><v>2</v></c></row>')
    assert read_workbook(workbook(wide.encode())) == [["1"]]


def test_entities_of_a_workbook_are_not_multiplied() -> None:
    """Entities within entities in its XML: no workbook, or one in which they stand for nothing."""
    tenfold = [f"&e{n};" * 10 for n in range(11)]
    entities = "".join(f'<!ENTITY e{n} "{text}">' for n, text in enumerate(tenfold, 1))
    text = f'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY e0 "lol">{entities}]>' + SHEET.format(
        '<row r="1"><c r="A1" t="str"><v>&e11;</v></c></row>'
    )
    try:
        rows = read_workbook(workbook(text.encode()))
    except NotAWorkbook:
        return
    assert sum(len(cell) for row in rows for cell in row) < 1000


# git


def test_a_revision_has_a_bound_in_number_and_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    """What git lists is looked at before any of it is fetched."""
    entry = b"100644 blob 0123456789012345678901234567890123456789 3999999\tv/f%d.yaml\0"
    listed = b"".join(entry % number for number in range(51))
    with pytest.raises(revision.NotInGit, match="bytes at a revision"):
        list(revision._wanted(listed, "", "HEAD"))
    with pytest.raises(revision.NotInGit, match="files at a revision"):
        list(revision._wanted((entry % 1) * (revision.MOST_FILES + 1), "", "HEAD"))
    with pytest.raises(revision.NotInGit, match="too large"):
        list(revision._wanted(b"100644 blob 01 4000001\tv/a.yaml\0", "", "HEAD"))
