"""The floor plan: boxes of what is fitted, seen from above, with numbers that never lie on each other.

Everything is in centimetres, the front of the van at the top, its right side on the right. A number stands
inside its box where there is room, else in a column beside the van with a line to its box.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

RADIUS = 8.0
"""Half the height of a number's disc."""
GAP = 1.5
"""Least room between two discs."""
MARGIN = 34.0
"""Room for the columns beside the van."""


@dataclass(frozen=True, slots=True)
class Box:
    """A box on the plan; `kind` chooses its line: `thing`, `high` for what hangs, `zone` for a place only."""

    number: int
    name: str
    href: str
    x: float
    y: float
    width: float
    height: float
    kind: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A number's disc, with the end of the line to its box where it stands beside the van."""

    number: int
    href: str
    x: float
    y: float
    line: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Rule:
    """A line across the plan with words: an axle."""

    y: float
    words: str


@dataclass(frozen=True)
class Plan:
    """A plan, ready to draw: the view's corner and size, the room's outline, boxes, numbers, axles."""

    left: float
    top: float
    width: float
    height: float
    room: tuple[float, float, float, float] | None
    boxes: tuple[Box, ...]
    marks: tuple[Mark, ...]
    axles: tuple[Rule, ...]


@dataclass
class _Discs:
    """The discs placed so far."""

    placed: list[tuple[float, float]] = field(default_factory=list)

    def free(self, x: float, y: float) -> bool:
        """Tell whether a disc at this place would touch no other."""
        least = 2 * RADIUS + GAP
        return all((x - a) ** 2 + (y - b) ** 2 >= least**2 for a, b in self.placed)


def plan_of(
    boxes: Iterable[Box], room: tuple[float, float, float, float] | None, axles: tuple[Rule, ...]
) -> Plan:
    """Place the numbers of all boxes and return the plan."""
    listed = tuple(boxes)
    left, top, right, bottom = _around(listed, room, axles)
    discs = _Discs()
    marks: dict[int, Mark] = {}
    beside: list[Box] = []
    for box in sorted(listed, key=lambda one: (one.width * one.height, one.number)):
        spot = next((spot for spot in _spots(box) if discs.free(*spot)), None)
        if spot is None:
            beside.append(box)
        else:
            discs.placed.append(spot)
            marks[box.number] = Mark(box.number, box.href, *spot)
    columns = (*_column(beside, left - MARGIN / 2, True, left, right), *_column(beside, right + MARGIN / 2, False, left, right))
    marks |= {mark.number: mark for mark in columns}
    lowest = max([bottom, *(mark.y + RADIUS for mark in marks.values())])
    return Plan(
        left - MARGIN,
        top - 12,
        right - left + 2 * MARGIN,
        lowest - top + 24,
        room,
        tuple(sorted(listed, key=lambda one: -one.width * one.height)),
        tuple(marks[number] for number in sorted(marks)),
        axles,
    )


def _around(
    boxes: tuple[Box, ...], room: tuple[float, float, float, float] | None, axles: tuple[Rule, ...]
) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of all that is drawn."""
    spans = [(box.x, box.y, box.x + box.width, box.y + box.height) for box in boxes]
    if room:
        spans.append((room[0], room[1], room[0] + room[2], room[1] + room[3]))
    spans += [(-80.0, axle.y - 4, 80.0, axle.y + 4) for axle in axles]
    spans = spans or [(-80.0, 0.0, 80.0, 100.0)]
    lefts, tops, rights, bottoms = zip(*spans, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _spots(box: Box) -> Iterable[tuple[float, float]]:
    """Yield places for a number inside a box, its middle first, then in steps towards its sides."""
    across, along = box.width / 2 - RADIUS, box.height / 2 - RADIUS
    if across < 0 or along < 0:
        return
    middle = (box.x + box.width / 2, box.y + box.height / 2)
    steps = [0.0, -0.5, 0.5, -1.0, 1.0]
    for b in steps:
        for a in steps:
            yield middle[0] + a * across, middle[1] + b * along


def _column(boxes: list[Box], x: float, on_left: bool, left: float, right: float) -> list[Mark]:
    """Return the numbers of one column from top to bottom, each as near to its box as the last one lets it."""
    middle = (left + right) / 2
    mine = [box for box in boxes if (box.x + box.width / 2 < middle) is on_left]
    marks: list[Mark] = []
    y = float("-inf")
    for box in sorted(mine, key=lambda one: (one.y + one.height / 2, one.number)):
        centre = (box.x + box.width / 2, box.y + box.height / 2)
        y = max(centre[1], y + 2 * RADIUS + GAP)
        marks.append(Mark(box.number, box.href, x, y, centre))
    return marks
