"""A workshop's own list: what is understood of it, what is refused and where, and round trips."""

from __future__ import annotations

import csv
import io
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.cli.commands import cli
from specreg.output import spreadsheet
from specreg.output.ordering import COLUMNS
from specreg.output.parts_list import entries_yaml
from specreg.output.rows import as_csv
from specreg.output.spreadsheet import as_workbook, read_workbook
from specreg.source import plain, read_yaml
from specreg.works.parts_list import field_of, read_parts_list
from specreg.workshop import load

BUILDS = Path(__file__).parents[2] / "builds"
HEAD = ["Part No.", "Type", "Vendor", "Price (GBP)", "Weight (kg)", "Power", "Delivery", "Length (mm)", "Width (mm)",
        "Height (mm)", "Shelf"]  # fmt: skip
ROWS = [
    ["Pump 12L", "pump", "the chandlery", "74,50", "1.9", "60 W", "2 weeks", "200", "120", "110", "A3"],
    ["LED spot", "ceiling-light", "", "9.95", "", "3 W", "", "", "", "", "B1"],
]
ENTRIES = {
    "pump-12l": {"kind": "pump", "size": ("200 mm", "120 mm", "110 mm"), "supplier": "the chandlery",
                 "price": "74.50 GBP", "mass": "1.9 kg", "power": "60 W", "lead_time": "2 weeks"},
    "led-spot": {"kind": "ceiling-light", "price": "9.95 GBP", "power": "3 W"},
}  # fmt: skip


def run(*words: object) -> Result:
    """Run the program."""
    return CliRunner().invoke(cli, [str(word) for word in words])


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """A copy of the demonstration register with its smallest van alone."""
    larger = shutil.ignore_patterns("fieldwork", "winter-tourer", "second-hand")
    return Path(shutil.copytree(BUILDS, tmp_path / "builds", ignore=larger))


def test_headings_and_units_are_understood() -> None:
    """Columns by their headings, units from headings, sizes from three columns; what is not known is left out."""
    found = read_parts_list([HEAD, *ROWS], "list.csv", frozenset())
    assert found.problems == ()
    assert found.entries == ENTRIES
    assert [one.field for one in found.columns][-1] == ""


@pytest.mark.parametrize(
    ("heading", "field"),
    [("Part No.", "id"), ("DESCRIPTION", "title"), ("sold by", "supplier"), ("Weight", "mass"), ("lead_time", "lead_time"),
     ("rated current", "rated_current"), ("colour of the box", ""), ("Net price", "price")],
)  # fmt: skip
def test_a_heading_is_taken_for(heading: str, field: str) -> None:
    """By its own name or by what trades call it."""
    assert field_of(heading) == field


WRONG = [
    (0, "Pump 12L", "fuse-box-8", "list.csv:2:1", "the catalogue has a part of this id already"),
    (1, "pump", "pmup", "list.csv:2:2", 'unknown kind: read "pmup"'),
    (3, "74,50", "cheap", "list.csv:2:4", "`price` is no price"),
    (4, "1.9", "heavy", "list.csv:2:5", "`mass`"),
    (5, "60 W", "60 kg", "list.csv:2:6", "`power`"),
    (6, "2 weeks", "soon", "list.csv:2:7", "`lead_time`"),
    (8, "120", "wide", "list.csv:2:9", "`size`"),
]


@pytest.mark.parametrize(("column", "right", "wrong", "place", "said"), WRONG)
def test_a_slip_is_told_with_row_and_column(
    column: int, right: str, wrong: str, place: str, said: str
) -> None:
    """One cell changed, one problem, at that cell."""
    row = [wrong if number == column else cell for number, cell in enumerate(ROWS[0])]
    assert ROWS[0][column] == right
    (problem,) = read_parts_list([HEAD, row], "list.csv", frozenset({"fuse-box-8"})).problems
    assert problem.text().startswith(f"{place}: problem: {said}")


def test_all_slips_are_told_at_once() -> None:
    """And a field that the kind has not is named with its column."""
    rows = [["part", "kind", "tog"], ["a", "pump", "3"], ["a", "pump", ""], ["", "pump", ""]]
    said = {"tog": "duty_cycle"}
    texts = [one.text() for one in read_parts_list(rows, "list.csv", frozenset(), said).problems]
    assert len(texts) == 3
    assert 'no field of a part: read "duty_cycle"' in texts[0]
    assert "row 2 has this id already" in texts[1]
    assert "the row names no part" in texts[2]


SAFE = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Cf", "Zl", "Zp", "Co", "Cn", "Zs")),
    max_size=12,
)


@given(st.lists(st.lists(SAFE, min_size=2, max_size=2), min_size=1, max_size=4))
def test_entries_read_back_as_they_are(cells: list[list[str]]) -> None:
    """YAML written for any text gives that text again."""
    entries = {f"part-{n}": {"kind": "pump", "supplier": a, "note": b} for n, (a, b) in enumerate(cells)}
    tree, problems = read_yaml(entries_yaml(entries).encode(), "parts.yaml")
    assert problems == []
    assert tree is not None and plain(tree) == entries


TABLE = st.lists(
    st.lists(
        st.one_of(SAFE, st.from_regex(r"[=+@-][A-Z]{1,5}\(1\)", fullmatch=True)), min_size=3, max_size=3
    ),
    min_size=1,
    max_size=5,
)


@settings(max_examples=30)  # each writes and reads a whole workbook
@given(TABLE)
def test_a_workbook_gives_back_its_text(rows: list[list[str]]) -> None:
    """What is written is read again, formulas as text; a number may come back without noughts at its end."""
    header = ["one", "two", "three"]
    read = read_workbook(as_workbook("Test", header, rows))
    wide = [row + [""] * (3 - len(row)) for row in read] + [["", "", ""]] * (len(rows) + 1 - len(read))
    assert wide[0] == header
    for before, after in zip(rows, wide[1:], strict=True):
        assert all(a == b or float(a) == float(b) for a, b in zip(before, after, strict=True))


def test_no_cell_of_a_workbook_is_a_formula() -> None:
    """Nor of the CSV: a supplier's name must not run on the buyer's machine."""
    openpyxl = pytest.importorskip("openpyxl")
    evil = ['=HYPERLINK("http://x.invalid")', "+1+1", "@SUM(A1)"]
    book = openpyxl.load_workbook(io.BytesIO(as_workbook("Test", ["a", "b", "c"], [evil])))
    assert [cell.data_type for cell in book.active[2]] == ["s", "s", "s"]
    (row,) = list(csv.reader(io.StringIO(as_csv(["a", "b", "c"], [evil]))))[1:]
    assert all(cell.startswith("'") for cell in row)
    assert (
        read_parts_list([["part", "note", "kind"], ["x", row[0], "pump"]], "l", frozenset()).entries["x"][
            "note"
        ]
        == evil[0]
    )


def test_the_same_table_is_the_same_workbook() -> None:
    """No clock in it."""
    assert as_workbook("Test", COLUMNS, [("1",) * len(COLUMNS)]) == as_workbook(
        "Test", COLUMNS, [("1",) * len(COLUMNS)]
    )
    assert b"1980-01-01T00:00:00Z" not in as_workbook(
        "Test", ["a"], []
    )  # it is packed; nothing stands in the open


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_an_import_shows_first_and_writes_when_asked(register: Path, tmp_path: Path, form: str) -> None:
    """Nothing is written before --write; then the catalogue has the parts, and a second time nothing is overwritten."""
    file = tmp_path / f"My list.{form}"
    file.write_bytes(as_csv(HEAD, ROWS).encode() if form == "csv" else as_workbook("List", HEAD, ROWS))
    shown = run("order", register, "--import", file)
    assert shown.exit_code == 0
    assert "left out" in shown.output and "pump-12l:" in shown.output
    new = register / "parts" / "my-list.yaml"
    assert not new.exists()
    assert run("order", register, "--import", file, "--write").exit_code == 0
    opened = load(register)
    assert opened.problems == () and opened.register is not None
    assert {"pump-12l", "led-spot"} <= opened.register.parts.keys()
    before = new.read_bytes()
    again = run("order", register, "--import", file, "--write")
    assert again.exit_code == 2
    assert new.read_bytes() == before


@pytest.mark.parametrize("form", ["csv", "xlsx"])
def test_an_order_can_be_read_back(tmp_path: Path, form: str) -> None:
    """The order's own table, as CSV or workbook, holds the same cells."""
    file = tmp_path / f"order.{form}"
    assert run("order", BUILDS / "pocket", "--format", form, "--output", file).exit_code == 0
    rows = (
        list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
        if form == "csv"
        else read_workbook(file.read_bytes())
    )
    assert tuple(rows[0]) == COLUMNS
    window = next(row for row in rows if row[0] == "window-sliding-pocket")
    assert [window[COLUMNS.index(name)] for name in ("to order", "price", "currency", "order by")] == [
        "1", "148", "GBP", "2026-12-07",
    ]  # fmt: skip


def test_without_the_library_a_friendly_word(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What to install, or that CSV will do; no traceback."""

    def lacking() -> None:
        raise spreadsheet.NoSpreadsheets

    monkeypatch.setattr(spreadsheet, "_library", lacking)
    result = run("order", BUILDS / "pocket", "--format", "xlsx", "--output", tmp_path / "o.xlsx")
    assert result.exit_code == 2
    assert "specreg[spreadsheet]" in result.output


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("list.xlsx", b"no workbook", "no workbook that can be read"),
        ("list.csv", b"part\xff\xfe", "not UTF-8"),
        ("list.csv", b"", "the table is empty"),
        ("list.csv", b"what,kind\n1,pump\n", "no column is taken for the part's id"),
    ],
)
def test_a_file_that_is_none_is_told(tmp_path: Path, name: str, data: bytes, said: str) -> None:
    """Without a traceback, exit code 2."""
    (tmp_path / name).write_bytes(data)
    result = run("order", BUILDS, "--import", tmp_path / name)
    assert result.exit_code == 2
    assert said in result.output
    assert result.exception is None or isinstance(result.exception, SystemExit)
