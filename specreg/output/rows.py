"""Tables: as CSV for spreadsheets, and set in columns for people."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

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


def in_columns(header: Sequence[str], rows: Iterable[Sequence[str]], gap: str = "  ") -> list[str]:
    """Return rows set in columns under their header; columns that are empty throughout are left out."""
    body = [list(row) for row in rows]
    kept = [index for index in range(len(header)) if any(row[index] for row in body)]
    table = [[row[index] for index in kept] for row in [list(header), *body]]
    widths = [max(len(row[index]) for row in table) for index in range(len(kept))]
    return [
        gap.join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in table
    ]
