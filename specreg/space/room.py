"""The room inside: its walls, leaning in towards the roof, its wheel arches, and what sticks out of it."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.model.vehicle import Interior
from specreg.space.polygon import rectangle
from specreg.space.solid import Solid


@dataclass(frozen=True)
class Room:
    """The room inside in the van's frame, in metres; `widths` are (height, width), lowest first."""

    starts: float
    ends: float
    height: float
    widths: tuple[tuple[float, float], ...]
    arches: tuple[Solid, ...] = ()

    def width(self, height: float) -> float:
        """Return the width at a height: straight between the stated heights, beyond them as the nearest."""
        before = self.widths[0]
        for after in self.widths:
            if height <= after[0]:
                rise = after[0] - before[0]
                share = (height - before[0]) / rise if rise > 0 and height > before[0] else 1.0
                return before[1] + share * (after[1] - before[1])
            before = after
        return before[1]

    def narrowest(self, low: float, high: float) -> float:
        """Return the least width between two heights."""
        between = [width for height, width in self.widths if low < height < high]
        return (
            min(self.width(low), self.width(high), *between)
            if between
            else min(self.width(low), self.width(high))
        )

    def beyond(self, solid: Solid) -> dict[str, float]:
        """Return by how much a solid sticks out of each side of the room, in m; other sides are left out.

        The front is open to the cab, of which the spec says nothing.
        """
        _, near, right, far = solid.span
        half = self.narrowest(max(0.0, solid.bottom), min(self.height, solid.top)) / 2
        out = {
            "rear": right - self.ends,
            "left": -half - near,
            "right": far - half,
            "floor": -solid.bottom,
            "roof": solid.top - self.height,
        }
        return {side: depth for side, depth in out.items() if depth > 0}

    def contains_middle(self, solid: Solid) -> bool:
        """Tell whether the middle of a solid lies in the room."""
        left, near, right, far = solid.span
        x, y, z = (left + right) / 2, (near + far) / 2, (solid.bottom + solid.top) / 2
        return self.starts <= x <= self.ends and 0 <= z <= self.height and abs(y) <= self.width(z) / 2


def room_of(interior: Interior) -> Room | None:
    """Return the room of an interior; None where start, length, width or height is not stated."""
    if interior.starts is None or interior.length is None or interior.height is None:
        return None
    widths = tuple(sorted((one.height, one.width) for one in interior.widths))
    if not widths:
        if interior.width is None:
            return None
        widths = ((0.0, interior.width),)
    arches = tuple(
        Solid(
            f"wheel arch {n}",
            "wheel-arch",
            rectangle(a.at[0], a.at[1], a.size[0], a.size[1]),
            a.at[2],
            a.at[2] + a.size[2],
        )
        for n, a in enumerate(interior.wheel_arches, 1)
    )
    return Room(interior.starts, interior.starts + interior.length, interior.height, widths, arches)
