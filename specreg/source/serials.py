"""Serial and lot numbers compared as people read them: letters, then numbers by their value."""

from __future__ import annotations

import re
from enum import Enum

PIECES = re.compile(r"[0-9]+|[^\W\d_]+")
BETWEEN, LAST = "\x01", "\U0010ffff"
"""Below and above any character of a serial."""


class Within(Enum):
    """Whether a serial number lies in a range; `unclear` where it is not written like the range's ends."""

    yes = "yes"
    no = "no"
    unclear = "unclear"


def serial_key(serial: str) -> str:
    """Return a text that sorts as serial numbers do: its shape, then letters and numbers by their value.

    Marks between them count for nothing: `LP-0399b` is letters `lp`, number 399, letters `b`.
    """
    pieces = PIECES.findall(serial.casefold())
    written = (_by_value(one) if one.isdigit() else one for one in pieces)
    return _shape(pieces) + BETWEEN.join(written) if pieces else ""


def _shape(pieces: list[str]) -> str:
    return "".join("n" if one.isdigit() else "a" * len(one) for one in pieces) + ":"


def _by_value(digits: str) -> str:
    bare = digits.lstrip("0")
    return f"{len(bare):03}{bare}"


def shape(serial: str) -> str:
    """Return which pieces of a serial are numbers and which letters, and how many; empty for none."""
    return serial_key(serial).partition(":")[0]


def span(first: str, last: str) -> tuple[str, str]:
    """Return the least and the greatest key of a range, both included; an empty end is open."""
    start = f"{shape(first or last)}:"
    return serial_key(first) or start, serial_key(last) or start + LAST


def within(serial: str, first: str, last: str) -> Within:
    """Tell whether a serial lies between two of one shape."""
    if shape(serial) != shape(first or last):
        return Within.unclear
    low, high = span(first, last)
    return Within.yes if low <= serial_key(serial) <= high else Within.no
