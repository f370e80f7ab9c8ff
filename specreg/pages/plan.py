"""The floor plan: boxes of what is fitted, seen from above, with numbers that never lie on each other.

Everything is in centimetres, the front of the van at the top, its right side on the right. A number stands
inside its box where there is room, else in a column beside the van with a line to its box.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

RADIUS = 8.0
"""Half the height of a number's disc."""
GAP = 1.5
"""Least room between two discs."""
STEP = 2 * RADIUS + GAP
MARGIN = 40.0
"""Room for the columns beside the van."""

Room = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """A box on the plan; number 0 is furniture that only shows where one is.

    `kind` chooses its line: `thing`, `high` for what hangs, `zone` for a place only, `behind`.
    """

    number: int
    x: float
    y: float
    width: float
    height: float
    kind: str

    @property
    def centre(self) -> tuple[float, float]:
        """Return its middle."""
        return (self.x + self.width / 2, self.y + self.height / 2)


@dataclass(frozen=True, slots=True)
class Mark:
    """A number's disc, with the end of the line to its box where it stands beside the van."""

    number: int
    x: float
    y: float
    line: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Rule:
    """A line across the plan: an axle."""

    y: float


@dataclass(frozen=True)
class Plan:
    """A plan, ready to draw: the view's corner and size, the room's outline, boxes, numbers, axles."""

    left: float
    top: float
    width: float
    height: float
    room: Room | None
    boxes: tuple[Box, ...]
    marks: tuple[Mark, ...]
    axles: tuple[Rule, ...]


@dataclass
class _Discs:
    """The discs placed so far."""

    placed: list[tuple[float, float]] = field(default_factory=list)

    def free(self, x: float, y: float) -> bool:
        """Tell whether a disc at this place would touch no other."""
        return all((x - a) ** 2 + (y - b) ** 2 >= STEP**2 for a, b in self.placed)


def plan_of(boxes: Iterable[Box], room: Room | None, axles: tuple[Rule, ...]) -> Plan:
    """Place the numbers of all boxes and return the plan."""
    listed = tuple(boxes)
    left, top, right, bottom = _around(listed, room, axles)
    discs, marks, beside = _Discs(), [], []
    for box in sorted((b for b in listed if b.number), key=lambda b: (b.width * b.height, b.number)):
        spot = next((spot for spot in _spots(box) if discs.free(*spot)), None)
        if spot is None:
            beside.append(box)
        else:
            discs.placed.append(spot)
            marks.append(Mark(box.number, *spot))
    for column, x in zip(_sides(beside), (left - MARGIN / 2, right + MARGIN / 2), strict=True):
        marks += _column(column, x, top, bottom)
    top, bottom = min([top, *(m.y - RADIUS for m in marks)]), max([bottom, *(m.y + RADIUS for m in marks)])
    ordered = tuple(sorted(listed, key=lambda b: (b.kind != "behind", -b.width * b.height)))
    view = (left - MARGIN, top - 6, right - left + 2 * MARGIN, bottom - top + 12)
    return Plan(*view, room, ordered, tuple(sorted(marks, key=lambda m: m.number)), axles)


def _around(boxes: tuple[Box, ...], room: Room | None, axles: tuple[Rule, ...]) -> Room:
    """Return left, top, right and bottom of all that is drawn."""
    spans = [(box.x, box.y, box.x + box.width, box.y + box.height) for box in boxes]
    if room:
        spans.append((room[0], room[1], room[0] + room[2], room[1] + room[3]))
    spans += [(-80.0, axle.y - 4, 80.0, axle.y + 4) for axle in axles]
    spans = spans or [(-80.0, 0.0, 80.0, 100.0)]
    lefts, tops, rights, bottoms = zip(*spans, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _spots(box: Box) -> Iterator[tuple[float, float]]:
    """Yield places for a number inside a box, its middle first, then in steps towards its sides."""
    across, along = box.width / 2 - RADIUS, box.height / 2 - RADIUS
    if across < 0 or along < 0:
        return
    x, y = box.centre
    steps = (0.0, -0.5, 0.5, -1.0, 1.0)
    yield from ((x + a * across, y + b * along) for b in steps for a in steps)


def _sides(boxes: list[Box]) -> tuple[list[Box], list[Box]]:
    """Part boxes into a left and a right column of about the same length, each box on its own side."""
    across = sorted(boxes, key=lambda b: (b.centre[0], b.number))
    left = sum(b.centre[0] < 0 for b in across)
    most = (len(across) + 1) // 2 + 2
    left = max(min(left, most), len(across) - most)
    return across[:left], across[left:]


def _column(boxes: list[Box], x: float, top: float, bottom: float) -> list[Mark]:
    """Return the numbers of one column, each as near to its box as the others let it."""
    ordered = sorted(boxes, key=lambda b: (b.centre[1], b.number))
    heights: list[float] = []
    for box in ordered:
        heights.append(
            max(box.centre[1], heights[-1] + STEP) if heights else max(top + RADIUS, box.centre[1])
        )
    least = bottom - RADIUS
    for index in range(len(heights) - 1, -1, -1):
        heights[index] = min(heights[index], least)
        least = heights[index] - STEP
    return [Mark(b.number, x, y, b.centre) for b, y in zip(ordered, heights, strict=True)]
