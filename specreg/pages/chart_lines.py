"""Charts of a course: lines and bands over an axis, with a key above them and no words between the lines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from specreg.pages.charts import (
    LETTER,
    LINE,
    WIDTH,
    Axis,
    Drawn,
    Key,
    Point,
    Said,
    Scale,
    Shape,
    along,
    keyed,
    numbered,
    room,
)

HIGH = 170.0
"""Height of the part with the lines."""
EDGE = 8.0


class Curve(NamedTuple):
    """A line through points in numbers of the axes, in a style, with what it shows."""

    words: str
    style: str
    points: tuple[Point, ...]


class Band(NamedTuple):
    """All that lies between two lines; the edge that is worse is drawn thick."""

    words: str
    least: tuple[Point, ...]
    greatest: tuple[Point, ...]
    worse_is_less: bool = False


class Level(NamedTuple):
    """A number of the upright axis that matters."""

    words: str
    number: float
    style: str = "level"


def lined(
    x: Axis, y: Axis, curves: Sequence[Curve], bands: Sequence[Band] = (), levels: Sequence[Level] = ()
) -> Drawn:
    """Return the chart: the key, then the upright axis' words, then the lines, then the numbers below."""
    keys = [*_keys_of(bands), *(Key(c.style, c.words) for c in curves)]
    shapes, said, top = keyed([*keys, *(Key(level.style, level.words) for level in levels)], 0.0)
    said.append(Said(y.words, 0, top + LINE - 4))
    top += LINE + 8
    left = max(room(numbered(tick)) for tick in y.ticks) + LETTER
    across, upright = x.scale(left, WIDTH - EDGE), y.scale(top + HIGH, top)
    frame = _frame(x, y, across, upright)
    said += [Said(numbered(tick), left - 5, upright.at(tick) + 4, "end") for tick in y.ticks]
    drawn = [*_banded(bands, across, upright), *_levels(levels, across, upright)]
    drawn += [Shape(c.style, (_placed(c.points, across, upright),)) for c in curves]
    below = along(x, across, top + HIGH + 4)
    height = max(one.y for one in below) + 6
    return Drawn(height, (*shapes, *frame, *drawn), (*said, *below), across, upright)


def _keys_of(bands: Sequence[Band]) -> list[Key]:
    return [Key("band", band.words) for band in bands]


def _frame(x: Axis, y: Axis, across: Scale, upright: Scale) -> list[Shape]:
    left, right, top, bottom = across.start, across.end, upright.end, upright.start
    lines = [((left, upright.at(tick)), (right, upright.at(tick))) for tick in y.ticks]
    lines += [((across.at(tick), top), (across.at(tick), bottom)) for tick in x.ticks]
    return [Shape("grid", tuple(lines)), Shape("axis", (((left, top), (left, bottom), (right, bottom)),))]


def _placed(points: tuple[Point, ...], across: Scale, upright: Scale) -> tuple[Point, ...]:
    return tuple((across.at(x), upright.at(y)) for x, y in points)


def _banded(bands: Sequence[Band], across: Scale, upright: Scale) -> list[Shape]:
    shapes = []
    for band in bands:
        least, greatest = (_placed(edge, across, upright) for edge in (band.least, band.greatest))
        worse, better = (least, greatest) if band.worse_is_less else (greatest, least)
        shapes.append(Shape("band", ((*least, *reversed(greatest)),), closed=True))
        shapes += [Shape("better", (better,)), Shape("worse", (worse,))]
    return shapes


def _levels(levels: Sequence[Level], across: Scale, upright: Scale) -> list[Shape]:
    ends = (across.low, across.high)
    return [
        Shape(level.style, (_placed(tuple((x, level.number) for x in ends), across, upright),))
        for level in levels
    ]
