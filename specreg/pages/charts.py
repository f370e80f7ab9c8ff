"""What charts are drawn with: round numbers for an axis, scales, shapes and words, as pure layout.

Lengths are in units of the drawing, about a pixel each on a telephone. Nothing here knows a van.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from math import ceil, floor, log10
from textwrap import wrap
from typing import NamedTuple

from specreg.units import Dimension, System, write
from specreg.units.notation import BY_DIMENSION

WIDTH = 330.0
"""Width of every chart: that of a telephone less its margins."""
LINE = 17.0
"""Height of a line of words."""
LETTER = 7.0
"""Room that one letter takes, on the wide side."""
SAMPLE = 26.0
"""Width of the sample of a style in the key."""

Point = tuple[float, float]


class Shape(NamedTuple):
    """Lines of one style, or areas where they are closed; the style says how they are drawn."""

    style: str
    parts: tuple[tuple[Point, ...], ...]
    closed: bool = False


class Said(NamedTuple):
    """Words on a chart by the point at their beginning, middle or end."""

    words: str
    x: float
    y: float
    anchor: str = "start"
    strong: bool = False


class Scale(NamedTuple):
    """Numbers from `low` to `high` laid along a line from `start` to `end`."""

    low: float
    high: float
    start: float
    end: float

    def at(self, number: float) -> float:
        """Return where a number stands."""
        return self.start + (number - self.low) / (self.high - self.low) * (self.end - self.start)

    def number(self, place: float) -> float:
        """Return the number that stands at a place."""
        return self.low + (place - self.start) / (self.end - self.start) * (self.high - self.low)


class Drawn(NamedTuple):
    """A chart, ready to draw; `across` and `upright` are its scales, None where there is no such axis."""

    height: float
    shapes: tuple[Shape, ...]
    said: tuple[Said, ...]
    across: Scale
    upright: Scale | None = None
    width: float = WIDTH


class Axis(NamedTuple):
    """What an axis counts, with its round numbers from one end to the other."""

    words: str
    ticks: tuple[float, ...]

    def scale(self, start: float, end: float) -> Scale:
        """Return the axis laid along a line."""
        return Scale(self.ticks[0], self.ticks[-1], start, end)


class Key(NamedTuple):
    """A style with what it stands for."""

    style: str
    words: str


class Measure(NamedTuple):
    """The unit in which an axis is numbered: SI value = number · factor + offset."""

    unit: str
    factor: float = 1.0
    offset: float = 0.0

    def number(self, value: float) -> float:
        """Return an SI value in this unit."""
        return (value - self.offset) / self.factor


def measure(dimension: Dimension, system: System, greatest: float) -> Measure:
    """Return the unit in which a person would write the greatest value of an axis."""
    unit = write(greatest, dimension, system).rpartition(" ")[2]
    found = BY_DIMENSION[dimension][unit]
    return Measure(unit, found.factor, found.offset)


NARROW = 1e-9
"""Numbers nearer to each other than this part of their size are one number."""


def ticks(low: float, high: float, most: int = 5) -> tuple[float, ...]:
    """Return round numbers evenly apart that hold a range between them, in at most so many steps.

    A step is 1, 2 or 5 times a power of ten, the least that fits. Where the range is a single number it is
    widened by one. Raises ValueError for fewer than two steps: a range around nought could have no answer.
    """
    if most < 2:
        raise ValueError("an axis needs two steps")
    if high - low <= NARROW * max(1.0, abs(low), abs(high)):
        high = low + max(1.0, abs(low) * 0.1)
    begin = floor(log10((high - low) / most)) - 1
    for exponent, mantissa in ((e, m) for e in count(begin) for m in (1, 2, 5)):
        step = _tick(1, mantissa, exponent)
        first, last = floor(low / step + NARROW), ceil(high / step - NARROW)
        if last - first <= most:
            return tuple(_tick(n, mantissa, exponent) for n in range(first, last + 1))
    raise AssertionError("the powers of ten do not end")


def _tick(times: int, mantissa: int, exponent: int) -> float:
    """Return a multiple of a step as the nearest float to its decimal."""
    whole = times * mantissa
    return float(whole * 10**exponent) if exponent >= 0 else whole / 10**-exponent


def numbered(number: float) -> str:
    """Return a number of an axis in figures."""
    return write(number, Dimension.plain)


def room(words: str) -> float:
    """Return the width that words may take, on the wide side."""
    return LETTER * len(words)


def cut(words: str, width: float) -> str:
    """Return words that fit a width; what is cut off is told by the table beside the chart."""
    letters = int(width / LETTER)
    return words if len(words) <= letters else f"{words[: max(1, letters - 1)].rstrip()}…"


def box(left: float, top: float, right: float, bottom: float) -> tuple[Point, ...]:
    """Return the corners of an upright rectangle."""
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def hatch(left: float, top: float, right: float, bottom: float, gap: float = 5.0) -> Shape:
    """Return slanting lines within a rectangle."""
    high, lines = bottom - top, []
    for number in range(ceil((right - left + high) / gap)):
        foot = left - high + (number + 0.5) * gap  # where the line would reach the lower edge
        start, end = max(left, foot), min(right, foot + high)
        if end > start:
            lines.append(((start, bottom - (start - foot)), (end, bottom - (end - foot))))
    return Shape("hatch", tuple(lines))


def area(style: str, left: float, top: float, right: float, bottom: float) -> tuple[Shape, ...]:
    """Return a rectangle in a style; a hatched one has its outline and its lines."""
    corners = (box(left, top, right, bottom),)
    if style == "hatch":
        return (Shape("outline", corners, closed=True), hatch(left, top, right, bottom))
    return (Shape(style, corners, closed=True),)


def diamond(style: str, x: float, y: float, half: float = 5.0) -> Shape:
    """Return a point that can be told from others by its filling."""
    return Shape(style, (((x - half, y), (x, y - half), (x + half, y), (x, y + half)),), closed=True)


def bracket(left: float, right: float, y: float, half: float = 5.0) -> Shape:
    """Return a line with a stroke across each end: from here to there it may be."""
    ends = tuple(((x, y - half), (x, y + half)) for x in (left, right))
    return Shape("doubt", (((left, y), (right, y)), *ends))


AREAS = ("bar", "hatch", "range", "outline")
POINTS = ("point", "open")


def keyed(keys: Sequence[Key], top: float) -> tuple[list[Shape], list[Said], float]:
    """Return the key from a height downward, a line or more for each style, and the height below it."""
    shapes: list[Shape] = []
    said: list[Said] = []
    for key in keys:
        shapes += _sample(key.style, top + LINE / 2)
        for line in wrap(key.words, int((WIDTH - SAMPLE - 8) / LETTER)):
            said.append(Said(line, SAMPLE + 8, top + LINE - 5))
            top += LINE
    return shapes, said, top


def _sample(style: str, y: float) -> tuple[Shape, ...]:
    if style == "band":
        return (
            *area(style, 1, y - 5, SAMPLE, y + 5),
            Shape("better", (box(1, y - 5, SAMPLE, y + 5),), closed=True),
        )
    if style in AREAS:
        return area(style, 1, y - 5, SAMPLE, y + 5)
    if style in POINTS:
        return (diamond(style, SAMPLE / 2, y),)
    if style == "doubt":
        return (bracket(1, SAMPLE, y),)
    if style == "limit":
        return (Shape(style, (((SAMPLE / 2, y - 7), (SAMPLE / 2, y + 7)),)),)
    return (Shape(style, (((1, y), (SAMPLE, y)),)),)


def along(axis: Axis, scale: Scale, y: float) -> list[Said]:
    """Return the numbers below an axis from left to right, as many as have room, and what it counts."""
    widest = max(room(numbered(tick)) for tick in axis.ticks) + LETTER
    apart = abs(scale.at(axis.ticks[1]) - scale.at(axis.ticks[0]))
    every = ceil(widest / apart)
    shown = axis.ticks[::every]
    said = []
    for tick in shown:
        words, x = numbered(tick), scale.at(tick)
        half = room(words) / 2
        x = min(max(x, half), WIDTH - half)
        said.append(Said(words, x, y + 12, "middle"))
    return [*said, *_below(axis.words, y + 12 + LINE)]


def _below(words: str, y: float) -> list[Said]:
    return [
        Said(line, WIDTH / 2, y + n * LINE, "middle")
        for n, line in enumerate(wrap(words, int(WIDTH / LETTER)))
    ]
