"""Addresses as QR codes (ISO/IEC 18004), drawn as one path."""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple

QUIET = 4
"""Width of the quiet zone in modules (ISO/IEC 18004)."""


class Code(NamedTuple):
    """A QR code: its width with the quiet zone, in modules, and its dark modules as a path of rows."""

    width: int
    path: str


def code(address: str) -> Code:
    """Return an address as a code that still reads with 15 % of it spoilt (level M)."""
    import segno  # noqa: PLC0415 - only a publication with an address needs it

    made = segno.make_qr(address, error="m", boost_error=False)
    rows = tuple(tuple(row) for row in made.matrix)
    path = "".join(_row(row, y + QUIET + 0.5) for y, row in enumerate(rows))
    return Code(len(rows) + 2 * QUIET, path)


def _row(modules: tuple[int, ...], y: float) -> str:
    """Return the dark stretches of a row as strokes along its middle: the first absolute, then relative."""
    pieces, x, at = [], QUIET, -1
    for dark, stretch in groupby(modules):
        length = len(list(stretch))
        if dark:
            pieces.append(f"M{x} {y:g}h{length}" if at < 0 else f"m{x - at} 0h{length}")
            at = x + length
        x += length
    return "".join(pieces)
