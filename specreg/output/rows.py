"""Tables: as CSV for spreadsheets, and set in columns for people."""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""Beginnings that a spreadsheet would take for a formula."""


def as_csv(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return rows as CSV (RFC 4180, but lines end with LF); no cell can start a formula in a spreadsheet."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([_harmless(cell) for cell in row])
    return out.getvalue()


def _harmless(cell: str) -> str:
    if cell.startswith(FORMULA) and not _is_number(cell):
        return f"'{cell}"
    return cell


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def visible(text: str) -> str:
    """Return a text in which no character steers a terminal."""
    return text if text.isprintable() else "".join(one if one.isprintable() else "\ufffd" for one in text)


def in_columns(
    header: Sequence[str], rows: Iterable[Sequence[str]], gap: str = "  ", width: int | None = None
) -> list[str]:
    """Return rows set in columns under their header; columns that are empty throughout are left out.

    Where that is wider than `width`, columns give way and their cells take several lines, parted at spaces
    only; where that does not do, each row is told in a paragraph of its own.
    """
    body = [list(row) for row in rows]
    kept = [index for index in range(len(header)) if any(row[index] for row in body)]
    table = [[row[index] for index in kept] for row in [list(header), *body]]
    widths = [max(len(row[index]) for row in table) for index in range(len(kept))]
    if width is not None and sum(widths) + len(gap) * (len(kept) - 1) > width:
        narrowed = _narrowed(table, widths, width - len(gap) * (len(kept) - 1))
        if narrowed is None:
            return [line for row in table[1:] for line in _told(table[0], row, width)]
        widths = narrowed
    return [line for row in table for line in _set(row, widths, gap)]


def _narrowed(table: Sequence[Sequence[str]], widths: Sequence[int], room: int) -> list[int] | None:
    """Take from the widest columns until all fit; None where the longest words leave no room."""
    least = [max(len(word) for row in table for word in [*row[n].split(), ""]) for n in range(len(widths))]
    found = list(widths)
    while sum(found) > room:
        spare = [have - need for have, need in zip(found, least, strict=True)]
        if not any(spare):
            return None
        found[max(range(len(found)), key=lambda n: (spare[n] > 0, found[n]))] -= 1
    return found


def _set(row: Sequence[str], widths: Sequence[int], gap: str) -> Iterator[str]:
    cells = [
        [cell] if len(cell) <= width else _wrapped(cell, width)
        for cell, width in zip(row, widths, strict=True)
    ]
    for parts in zip_longest(*cells, fillvalue=""):
        yield gap.join(part.ljust(width) for part, width in zip(parts, widths, strict=True)).rstrip()


def _told(header: Sequence[str], row: Sequence[str], width: int) -> list[str]:
    named = (f"{name} {cell}" for name, cell in zip(header, row, strict=True) if cell)
    return _wrapped("; ".join(named), width, subsequent_indent="  ")


def _wrapped(text: str, width: int, subsequent_indent: str = "") -> list[str]:
    return textwrap.wrap(
        text,
        width,
        subsequent_indent=subsequent_indent,
        break_long_words=False,
        break_on_hyphens=False,
    )
