"""Workbooks (Office Open XML) of plain tables: written without formulas and without a clock, read as text.

The library that knows the format is an extra of its own; without it a table can still be had as CSV.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any

from specreg.output.rows import FORMULA

EPOCH = (1980, 1, 1, 0, 0, 0)
"""The day that every workbook bears: the first that the format's container knows."""
STAMP = re.compile(rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*(<)")


class NoSpreadsheets(Exception):  # noqa: N818 - said to a person
    """The library for workbooks is not installed."""

    remedy = "install it with: pip install 'specreg[spreadsheet]', or take CSV"

    def __init__(self) -> None:
        super().__init__("workbooks need the library openpyxl, which is not installed")


def _library() -> Any:
    try:
        import openpyxl  # noqa: PLC0415 - an extra of its own
    except ImportError:
        raise NoSpreadsheets from None
    return openpyxl


def as_workbook(title: str, header: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    """Return a workbook of one sheet; the same table gives the same bytes; a cell is text or a number.

    Raises NoSpreadsheets.
    """
    book = _library().Workbook()
    sheet = book.active
    sheet.title = title
    for number, row in enumerate((header, *rows), 1):
        for column, text in enumerate(row, 1):
            _write(sheet.cell(number, column), text)
    sheet.freeze_panes = "A2"
    out = io.BytesIO()
    book.save(out)
    return _without_clock(out.getvalue())


def _write(cell: Any, text: str) -> None:
    """Write a text as text, even one that begins like a formula; a plain number becomes one."""
    if re.fullmatch(r"-?\d+(\.\d+)?", text):
        cell.value = float(text) if "." in text else int(text)
        return
    cell.value = "".join(c for c in text if c.isprintable())
    cell.data_type = "s"
    if text.startswith(FORMULA):
        cell.quotePrefix = True


def _without_clock(data: bytes) -> bytes:
    """Return the same container with one fixed time in it."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            content = old.read(name)
            if name == "docProps/core.xml":
                content = STAMP.sub(rb"\g<1>1980-01-01T00:00:00Z\g<2>", content)
            entry = zipfile.ZipInfo(name, EPOCH)
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return out.getvalue()


class NotAWorkbook(Exception):  # noqa: N818 - said to a person
    """The file is not one that the library can read."""


class TooLarge(NotAWorkbook):
    """The file, unpacked, is larger than any list of parts; a small file can claim any size."""


MOST_UNPACKED = 50_000_000
"""Bytes that a workbook may unpack to."""
MOST_ROWS = 50_000
MOST_COLUMNS = 200


def read_workbook(data: bytes) -> list[list[str]]:
    """Return the cells of a workbook's first sheet as text: stored values, no formula is computed.

    Raises NoSpreadsheets, NotAWorkbook and TooLarge.
    """
    library = _library()
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            unpacked = sum(one.file_size for one in packed.infolist())
        if unpacked > MOST_UNPACKED:
            raise TooLarge(f"unpacks to {unpacked} bytes, {MOST_UNPACKED} are read at most")
        book = library.load_workbook(io.BytesIO(data), read_only=True, data_only=True)
        cells = book.worksheets[0].iter_rows(values_only=True, max_col=MOST_COLUMNS, max_row=MOST_ROWS + 1)
        rows = [[_text(cell) for cell in row] for row in cells]
        if len(rows) > MOST_ROWS:
            raise TooLarge(f"has more than {MOST_ROWS} rows")
        return _without_blanks(rows)
    except TooLarge:
        raise
    except Exception as error:
        raise NotAWorkbook(f"{type(error).__name__}: {error}") from None


def _without_blanks(rows: list[list[str]]) -> list[list[str]]:
    """Return rows without the blank cells at their ends, to which a sheet may be padded."""
    widest = max((i for row in rows for i, text in enumerate(row, 1) if text), default=0)
    return [row[:widest] for row in rows]


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:.12g}"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == datetime.min.time() else value.isoformat()
    return value.isoformat() if isinstance(value, date) else str(value)
