"""Convex polygons in plan: boxes turned about their middle, their areas, and what two of them share."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, degrees, fmod, sin

Point = tuple[float, float]
Polygon = tuple[Point, ...]
"""Corners of a convex polygon, counter-clockwise as seen with x along and y across."""

QUARTERS = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}


def rectangle(x: float, y: float, along: float, across: float, turned: float = 0.0) -> Polygon:
    """Return the footprint of a box with its corner at (x, y), turned about its middle by radians."""
    middle_x, middle_y = x + along / 2, y + across / 2
    cosine, sine = direction(turned)
    corners = (
        (-along / 2, -across / 2),
        (along / 2, -across / 2),
        (along / 2, across / 2),
        (-along / 2, across / 2),
    )
    return tuple((middle_x + a * cosine - b * sine, middle_y + a * sine + b * cosine) for a, b in corners)


def direction(turned: float) -> Point:
    """Return cosine and sine, exact for quarter turns, so that a whole turn changes nothing."""
    angle = fmod(degrees(turned), 360.0) % 360.0
    nearest = round(angle)
    if abs(angle - nearest) < 1e-9 and nearest % 360 in QUARTERS:
        return QUARTERS[nearest % 360]
    return cos(turned), sin(turned)


def sector(hinge: Point, arm: Point, angle: float, steps: int = 12) -> Polygon:
    """Return what a leaf sweeps: `arm` from `hinge` to its edge when shut, opened by up to half a turn.

    The arc is drawn by points on it, so that the area is too small by 0.3 % at a quarter turn.
    """
    turns = [angle * step / steps for step in range(steps + 1)]
    edge = [(arm[0] * cos(t) - arm[1] * sin(t), arm[0] * sin(t) + arm[1] * cos(t)) for t in turns]
    points = [hinge, *((hinge[0] + a, hinge[1] + b) for a, b in edge)]
    return tuple(points if angle >= 0 else reversed(points))


def area(polygon: Polygon) -> float:
    """Return the area by the shoelace formula."""
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in _edges(polygon))) / 2


def shared(first: Polygon, second: Polygon) -> Polygon:
    """Return what two convex polygons have in common (Sutherland and Hodgman); empty where nothing."""
    kept = list(first)
    for start, end in _edges(second):
        kept = list(_clip(kept, start, end))
        if not kept:
            return ()
    return tuple(kept)


def _clip(points: list[Point], start: Point, end: Point) -> Iterator[Point]:
    """Yield the corners of the part on the inner side of one edge."""
    before = points[-1]
    depth_before = _depth(before, start, end)
    for point in points:
        depth = _depth(point, start, end)
        if (depth >= 0) != (depth_before >= 0):
            share = depth_before / (depth_before - depth)
            yield (before[0] + share * (point[0] - before[0]), before[1] + share * (point[1] - before[1]))
        if depth >= 0:
            yield point
        before, depth_before = point, depth


def _depth(point: Point, start: Point, end: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _edges(polygon: Polygon) -> Iterator[tuple[Point, Point]]:
    yield from zip(polygon, (*polygon[1:], *polygon[:1]), strict=True)


def span(polygon: Polygon) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y."""
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return min(xs), min(ys), max(xs), max(ys)


def chord(polygon: Polygon, x: float) -> tuple[float, float] | None:
    """Return where the line across at `x` enters and leaves a polygon; None where it passes by."""
    ys = []
    for (x1, y1), (x2, y2) in _edges(polygon):
        if x1 != x2 and min(x1, x2) <= x <= max(x1, x2):
            ys.append(y1 + (y2 - y1) * (x - x1) / (x2 - x1))
    return (min(ys), max(ys)) if ys else None


def is_upright(polygon: Polygon) -> bool:
    """Tell whether a polygon is a rectangle along the axes."""
    return len(polygon) == 4 and len({x for x, _ in polygon}) == 2 and len({y for _, y in polygon}) == 2
