"""What doors and drawers sweep when they open: a sector for a leaf that turns, a box for what slides."""

from __future__ import annotations

from math import cos, dist, pi, sin

from specreg.space.polygon import Polygon, rectangle, sector
from specreg.space.solid import Solid

QUARTER = pi / 2
"""Angle to which a leaf opens where the spec does not say."""

LEVEL = {"left", "right", "front", "rear"}


def sweep(
    body: Solid,
    side: str,
    reach: float | None,
    hinge: str | None = None,
    angle: float | None = None,
    leaves: int = 1,
) -> Solid | None:
    """Return what the doors or drawers on one side of a body sweep; None where it cannot be said.

    Without `hinge` they reach out by `reach` (drawers, and doors of which only the reach is known). With an
    upright hinge one leaf as wide as the side turns; several leaves turn each on its own edge and are taken
    as a box as deep as one leaf is wide. A flap hinged at top or bottom reaches out by its height.
    """
    if side not in LEVEL:
        return None
    left, near, right, far = body.span
    wide = (right - left) if side in {"left", "right"} else (far - near)
    outline: Polygon | None = None
    if hinge in {"top", "bottom"}:
        reach = body.height
    elif hinge in LEVEL and hinge is not None:
        if leaves > 1:
            reach = wide / leaves
        else:
            outline = _leaf(body, side, hinge, angle or QUARTER)
    if outline is None:
        if not reach:
            return None
        outline = _box(body, side, reach)
    return Solid(body.id, "sweep", outline, body.bottom, body.top)


def _box(body: Solid, side: str, reach: float) -> Polygon:
    left, near, right, far = body.span
    match side:
        case "left":
            return rectangle(left, near - reach, right - left, reach)
        case "right":
            return rectangle(left, far, right - left, reach)
        case "front":
            return rectangle(left - reach, near, reach, far - near)
        case _:
            return rectangle(right, near, reach, far - near)


def _leaf(body: Solid, side: str, hinge: str, angle: float) -> Polygon | None:
    """Return the sector of one leaf; None where the hinge is not an edge of that side."""
    left, near, right, far = body.span
    along = {"front": left, "rear": right}
    across = {"left": near, "right": far}
    if side in across and hinge in along:
        pivot = (along[hinge], across[side])
        arm = ((right - left) * (1 if hinge == "front" else -1), 0.0)
        outwards = 1 if side == "right" else -1
        turn = outwards if hinge == "front" else -outwards
    elif side in along and hinge in across:
        pivot = (along[side], across[hinge])
        arm = (0.0, (far - near) * (1 if hinge == "left" else -1))
        outwards = 1 if side == "rear" else -1
        turn = -outwards if hinge == "left" else outwards
    else:
        return None
    return sector(pivot, arm, turn * min(angle, pi))


def turning(seat: Solid, base: Solid, sides: int = 24) -> Solid:
    """Return what a seat sweeps in a whole turn about the middle of its base: a circle, as a polygon."""
    left, near, right, far = base.span
    middle = ((left + right) / 2, (near + far) / 2)
    radius = max(dist(middle, corner) for corner in seat.footprint)
    turns = [2 * pi * side / sides for side in range(sides)]
    outline = tuple((middle[0] + radius * cos(t), middle[1] + radius * sin(t)) for t in turns)
    return Solid(seat.id, "sweep", outline, seat.bottom, seat.top)
