"""Charts of lying bars: each with its name and its figure above it, so that a telephone has room for both."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from specreg.pages.charts import (
    LETTER,
    LINE,
    WIDTH,
    Axis,
    Drawn,
    Key,
    Said,
    Scale,
    Shape,
    along,
    area,
    bracket,
    cut,
    diamond,
    keyed,
    room,
)

THICK = 12.0
"""Height of a bar."""
ROW = LINE + THICK + 9
"""Height of a bar with its words."""
EDGE = 6.0
LEAST = 0.05
"""A bar narrower than this is not drawn."""


class Part(NamedTuple):
    """A part of a bar from one number to another, in a style."""

    style: str
    start: float
    end: float


class Bar(NamedTuple):
    """A bar with its name, its figure in words, its parts, its doubt, and points on it by style."""

    name: str
    figure: str
    parts: tuple[Part, ...] = ()
    doubt: tuple[float, float] | None = None
    points: tuple[tuple[str, float], ...] = ()


def barred(axis: Axis, bars: Sequence[Bar], keys: Sequence[Key] = (), limit: float | None = None) -> Drawn:
    """Return the chart: the key, then the bars, then the axis; a limit is a stroke across every bar."""
    shapes, said, top = keyed(keys, 0.0)
    top += 4 if keys else 0
    scale = axis.scale(EDGE, WIDTH - EDGE)
    for bar in bars:
        said += _named(bar, top)
        shapes += _drawn(bar, axis, scale, top + LINE + 1, limit)
        top += ROW
    shapes.append(Shape("axis", (((scale.start, top), (scale.end, top)), *_strokes(axis, scale, top))))
    below = along(axis, scale, top + 5)
    return Drawn(max(one.y for one in below) + 6, tuple(shapes), (*said, *below), scale)


def _named(bar: Bar, top: float) -> list[Said]:
    """Return the words above a bar: the name at the left, the figure at the right."""
    name = cut(bar.name, WIDTH - room(bar.figure) - 2 * LETTER)
    return [Said(name, 0, top + LINE - 5), Said(bar.figure, WIDTH, top + LINE - 5, "end", strong=True)]


def _drawn(bar: Bar, axis: Axis, scale: Scale, top: float, limit: float | None) -> Iterator[Shape]:
    middle, bottom = top + THICK / 2, top + THICK
    yield Shape("grid", tuple(((scale.at(t), top - 1), (scale.at(t), bottom + 1)) for t in axis.ticks))
    for part in bar.parts:
        left, right = scale.at(part.start), scale.at(part.end)
        if right - left > LEAST:
            yield from area(part.style, left, top, right, bottom)
    if bar.doubt is not None:
        yield bracket(scale.at(bar.doubt[0]), scale.at(bar.doubt[1]), middle)
    if limit is not None:
        yield Shape("limit", (((scale.at(limit), top - 2), (scale.at(limit), bottom + 4)),))
    for style, number in bar.points:
        yield diamond(style, scale.at(number), middle)


def _strokes(axis: Axis, scale: Scale, y: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    return tuple(((scale.at(tick), y), (scale.at(tick), y + 4)) for tick in axis.ticks)
