"""A filled table as it comes from a phone or a spreadsheet, every cell with its line and column."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from specreg.source import Place, Problem

SEPARATORS = ",;\t"
"""What parts cells: a comma, or what spreadsheets write where the comma is the decimal sign."""

LARGEST = 2_000_000
"""Bytes of a table that are read at most."""


class Cell(NamedTuple):
    """A cell's text without surrounding space, and where it begins."""

    text: str
    place: Place


@dataclass(frozen=True)
class Row:
    """A row by the names of its columns."""

    place: Place
    cells: dict[str, Cell]

    def __getitem__(self, column: str) -> str:
        """Return the text of a cell; empty where the row or the table has none."""
        cell = self.cells.get(column)
        return cell.text if cell else ""

    def place_of(self, column: str) -> Place:
        """Return where a cell begins; the row's beginning where it has none."""
        cell = self.cells.get(column)
        return cell.place if cell else self.place


def read_table(data: bytes, file: str, wanted: tuple[str, ...]) -> tuple[list[Row], list[Problem]]:
    """Read a table (RFC 4180; semicolons and tabs part, too) by its header with the `wanted` columns."""
    start = Place(file, 1, 1)
    if len(data) > LARGEST:
        return [], [Problem(start, "the table is too large", f"{len(data)} bytes", f"{LARGEST} at most")]
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return [], [Problem(start, "the table is not UTF-8", remedy="save it as CSV in UTF-8")]
    rows = [row for row in _rows(text, file) if any(cell.text for cell in row)]
    if not rows:
        return [], [
            Problem(start, "the table is empty", expected="the columns that `specreg schedule` prints")
        ]
    names = [column_name(cell.text) for cell in rows[0]]
    missing = [name for name in wanted if name not in names]
    if missing:
        return [], [Problem(start, "the table lacks columns", ", ".join(names), ", ".join(missing))]
    return [Row(row[0].place, dict(zip(names, row, strict=False))) for row in rows[1:]], []


def column_name(text: str) -> str:
    """Return a column's name as it is known, however a person spaced and capitalised it."""
    return text.strip().lower().replace(" ", "_").replace("-", "_")


def unguarded(text: str) -> str:
    """Return a cell's text without the apostrophe that keeps a spreadsheet from computing it."""
    return text[1:] if text.startswith("'") and text[1:2] in ("=", "+", "-", "@") else text


def _rows(text: str, file: str) -> Iterator[list[Cell]]:
    """Part a text into rows of cells; a quoted cell may hold separators, line ends and doubled quotes."""
    head = text.split("\n", 1)[0]
    separator = max(SEPARATORS, key=head.count)
    row: list[Cell] = []
    letters: list[str] = []
    line, column, quoted, place = 1, 1, False, Place(file, 1, 1)
    index, blank = 0, True
    while index < len(text):
        letter = text[index]
        if quoted and text.startswith('""', index):
            letters.append('"')
            index, column = index + 1, column + 1
        elif letter == '"' and (quoted or blank):
            quoted, blank = not quoted, False
        elif quoted or letter not in (separator, "\n"):
            letters.append(letter)
            blank = blank and letter.isspace()
        else:
            row.append(Cell(unguarded("".join(letters).strip()), place))
            letters, blank = [], True
            if letter == "\n":
                yield row
                row = []
            place = Place(file, line + 1, 1) if letter == "\n" else Place(file, line, column + 1)
        line, column = (line + 1, 1) if letter == "\n" else (line, column + 1)
        index += 1
    if letters or row:
        yield [*row, Cell(unguarded("".join(letters).strip()), place)]
