"""Columns in code points, as places have them, and in the units that an editor counts in."""

from __future__ import annotations

from typing import Literal

Encoding = Literal["utf-8", "utf-16", "utf-32"]
"""How an editor counts: UTF-16 code units unless it has agreed on others (LSP 3.17, `positionEncoding`)."""

_SIZES: dict[Encoding, tuple[str, int]] = {
    "utf-8": ("utf-8", 1),
    "utf-16": ("utf-16-le", 2),
    "utf-32": ("utf-32-le", 4),
}


def units(line: str, column: int, encoding: Encoding = "utf-16") -> int:
    """Return how many units of an encoding stand before a column of a line; beyond its end, all of them."""
    name, size = _SIZES[encoding]
    return len(line[:column].encode(name, "surrogatepass")) // size


def column(line: str, units_before: int, encoding: Encoding = "utf-16") -> int:
    """Return the column in code points that stands after so many units; inside a character, before it."""
    passed = 0
    for index, sign in enumerate(line):
        passed += units(sign, 1, encoding)
        if passed > units_before:
            return index
    return len(line)
