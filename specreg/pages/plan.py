"""Boxes seen from one side, with numbers that never lie on each other, lines of dimension, and a scale.

Everything is in centimetres. A number stands inside its box where there is room, else in a column beside the
van with a line to its box. A view is laid out upright, and turned where the van lies along the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

RADIUS = 8.0
"""Half the height of a number's disc on a drawing to a large scale."""
GAP = 1.5
"""Least room between two discs."""

Room = tuple[float, float, float, float]
Segment = tuple[float, float, float, float]


class Box(NamedTuple):
    """A box on the plan; number 0 is furniture that only shows where one is.

    `kind` chooses its line: `thing`, `high` for what hangs, `zone` for a place only, `behind`.
    """

    number: int
    x: float
    y: float
    width: float
    height: float
    kind: str
    thing: str = ""
    name: str = ""
    corners: tuple[tuple[float, float], ...] = ()
    """Its outline where it is turned out of the square; empty for a plain box."""

    @property
    def centre(self) -> tuple[float, float]:
        """Return its middle."""
        return (self.x + self.width / 2, self.y + self.height / 2)


class Mark(NamedTuple):
    """A number's disc, with the end of the line to its box where it stands beside the van."""

    number: int
    x: float
    y: float
    line: tuple[float, float] | None = None
    thing: str = ""


class Span(NamedTuple):
    """A line of dimension with its two extension lines and its words; `upright` words read from below up."""

    words: str
    line: Segment
    ends: tuple[Segment, Segment]
    x: float
    y: float
    upright: bool


class Label(NamedTuple):
    """Words on a drawing, by the point at their beginning, middle or end."""

    words: str
    x: float
    y: float
    anchor: str = "middle"


class Plan(NamedTuple):
    """A drawing, ready to draw: the view's corner and size, outlines, boxes, numbers, axles, dimensions.

    `radius` is that of a disc, `scale` what one unit stands for on paper (30: 1:30); 0 while none is chosen.
    """

    left: float
    top: float
    width: float
    height: float
    room: Room | None
    boxes: tuple[Box, ...]
    marks: tuple[Mark, ...]
    axles: tuple[Segment, ...]
    body: Room | None = None
    spans: tuple[Span, ...] = ()
    labels: tuple[Label, ...] = ()
    radius: float = RADIUS
    scale: int = 0

    @property
    def letter(self) -> float:
        """Return the height of its type."""
        return self.radius * 1.06

    @property
    def paper(self) -> tuple[float, float]:
        """Return its width and height on paper in mm, to its scale."""
        return (self.width * 10 / self.scale, self.height * 10 / self.scale)

    def turned(self) -> Plan:
        """Return the same lying on its side: what was down is to the right."""
        return self._replace(
            left=self.top,
            top=self.left,
            width=self.height,
            height=self.width,
            room=_swapped(self.room),
            body=_swapped(self.body),
            boxes=tuple(b._replace(x=b.y, y=b.x, width=b.height, height=b.width) for b in self.boxes),
            marks=tuple(
                m._replace(x=m.y, y=m.x, line=(m.line[1], m.line[0]) if m.line else None) for m in self.marks
            ),
            axles=tuple((y1, x1, y2, x2) for x1, y1, x2, y2 in self.axles),
        )


def _swapped(room: Room | None) -> Room | None:
    return (room[1], room[0], room[3], room[2]) if room else None


@dataclass
class _Discs:
    """The discs placed so far, and how far apart their middles stay."""

    step: float
    placed: list[tuple[float, float]] = field(default_factory=list)

    def free(self, x: float, y: float) -> bool:
        """Tell whether a disc at this place would touch no other."""
        return all((x - a) ** 2 + (y - b) ** 2 >= self.step**2 for a, b in self.placed)


def plan_of(
    boxes: Iterable[Box],
    room: Room | None,
    axles: tuple[float, ...],
    *,
    body: Room | None = None,
    radius: float = RADIUS,
) -> Plan:
    """Place the numbers of all boxes and return the drawing; `axles` are heights of lines across it."""
    listed = tuple(boxes)
    margin, step = 5 * radius, 2 * radius + GAP
    left, top, right, bottom = _around(listed, room, body, axles)
    discs, marks, beside = _Discs(step), [], []
    for box in sorted((b for b in listed if b.number), key=lambda b: (b.width * b.height, b.number)):
        spot = next((spot for spot in _spots(box, radius) if discs.free(*spot)), None)
        if spot is None:
            beside.append(box)
        else:
            discs.placed.append(spot)
            marks.append(Mark(box.number, *spot, thing=box.thing))
    columns = (left - margin / 2, right + margin / 2)
    for column, x in zip(_sides(beside, (left + right) / 2), columns, strict=True):
        marks += _column(column, x, top, bottom, radius)
    top, bottom = min([top, *(m.y - radius for m in marks)]), max([bottom, *(m.y + radius for m in marks)])
    ordered = tuple(sorted(listed, key=lambda b: (b.kind != "behind", -b.width * b.height)))
    view = (left - margin, top - 6, right - left + 2 * margin, bottom - top + 12)
    across = tuple((left - margin, y, right + margin, y) for y in axles)
    numbered = tuple(sorted(marks, key=lambda m: m.number))
    return Plan(*view, room, ordered, numbered, across, body=body, radius=radius)


def _around(
    boxes: tuple[Box, ...], room: Room | None, body: Room | None, axles: tuple[float, ...]
) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of all that is drawn."""
    spans = [(box.x, box.y, box.x + box.width, box.y + box.height) for box in boxes]
    spans += [(r[0], r[1], r[0] + r[2], r[1] + r[3]) for r in (room, body) if r]
    spans = spans or [(-80.0, 0.0, 80.0, 100.0)]
    lefts, tops, rights, bottoms = zip(*spans, strict=True)
    top, bottom = min([*tops, *(y - 4 for y in axles)]), max([*bottoms, *(y + 4 for y in axles)])
    return min(lefts), top, max(rights), bottom


def _spots(box: Box, radius: float) -> Iterator[tuple[float, float]]:
    """Yield places for a number inside a box, its middle first, then in steps towards its sides."""
    across, along = box.width / 2 - radius, box.height / 2 - radius
    if across < 0 or along < 0:
        return
    x, y = box.centre
    steps = (0.0, -0.5, 0.5, -1.0, 1.0)
    yield from ((x + a * across, y + b * along) for b in steps for a in steps)


def _sides(boxes: list[Box], middle: float) -> tuple[list[Box], list[Box]]:
    """Part boxes into a left and a right column of about the same length, each box on its own side."""
    across = sorted(boxes, key=lambda b: (b.centre[0], b.number))
    left = sum(b.centre[0] < middle for b in across)
    most = (len(across) + 1) // 2 + 2
    left = max(min(left, most), len(across) - most)
    return across[:left], across[left:]


def _column(boxes: list[Box], x: float, top: float, bottom: float, radius: float) -> list[Mark]:
    """Return the numbers of one column, each as near to its box as the others let it."""
    step = 2 * radius + GAP
    ordered = sorted(boxes, key=lambda b: (b.centre[1], b.number))
    heights: list[float] = []
    for box in ordered:
        heights.append(
            max(box.centre[1], heights[-1] + step) if heights else max(top + radius, box.centre[1])
        )
    least = bottom - radius
    for index in range(len(heights) - 1, -1, -1):
        heights[index] = min(heights[index], least)
        least = heights[index] - step
    return [Mark(b.number, x, y, b.centre, b.thing) for b, y in zip(ordered, heights, strict=True)]
