"""Serial and lot numbers compared as people read them: letters, then numbers by their value."""

from __future__ import annotations

import re
from enum import Enum
from typing import Any

PIECES = re.compile(r"[0-9]+|[^\W\d_]+")


class Within(Enum):
    """Whether a serial number lies in a range; `unclear` where it is not written like the range's ends."""

    yes = "yes"
    no = "no"
    unclear = "unclear"


def pieces(serial: str) -> tuple[str | int, ...]:
    """Return letters and numbers in turn: `LP-0399b` is `lp`, 399, `b`; marks between count for nothing."""
    return tuple(int(one) if one.isdecimal() else one for one in PIECES.findall(serial.casefold()))


def shape(serial: str) -> tuple[bool, ...]:
    """Return which pieces are numbers."""
    return tuple(isinstance(one, int) for one in pieces(serial))


def within(serial: str, first: str, last: str) -> Within:
    """Tell whether a serial lies between two, both included; an empty end is open."""
    if any(shape(end) != shape(serial) for end in (first, last) if end):
        return Within.unclear
    own: tuple[Any, ...] = pieces(serial)  # of one shape: a number never meets a letter
    low = not first or pieces(first) <= own
    high = not last or own <= pieces(last)
    return Within.yes if low and high else Within.no
