"""A floor as rows of bits: covering it with polygons, shrinking it by a person's width, flooding it, paths.

A cell is `STEP` wide and counts as covered when its middle lies within a polygon, so that a width read
from the grid is wrong by up to one step. A person is a square that is moved over the free cells: passages
along the axes come out as they are, passages at an angle too narrow (by up to 29 % at 45°), never too wide.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor
from operator import and_, or_

from specreg.space.polygon import Point, Polygon, chord, is_upright, span

STEP = 0.02
"""Width of a cell in m."""

Rows = tuple[int, ...]
"""One integer a row of cells across; bit 0 is the leftmost cell."""


@dataclass(frozen=True)
class Grid:
    """Where the cells lie: `rows` of `columns` cells, from the foremost left corner (x, y) on."""

    x: float
    y: float
    rows: int
    columns: int

    @property
    def none(self) -> Rows:
        """Return no cell."""
        return (0,) * self.rows

    def covered(self, polygon: Polygon) -> Rows:
        """Return the cells whose middle lies within a convex polygon."""
        left, near, right, far = span(polygon)
        first = max(0, ceil((left - self.x) / STEP - 0.5 + 1e-9))
        last = min(self.rows - 1, floor((right - self.x) / STEP - 0.5 - 1e-9))
        found = [0] * self.rows
        if is_upright(polygon):
            found[first : last + 1] = [self._bits(near, far)] * max(0, last + 1 - first)
            return tuple(found)
        for row in range(first, last + 1):
            between = chord(polygon, self.x + (row + 0.5) * STEP)
            if between is not None:
                found[row] = self._bits(*between)
        return tuple(found)

    def _bits(self, low: float, high: float) -> int:
        first = max(0, ceil((low - self.y) / STEP - 0.5 + 1e-9))
        last = min(self.columns - 1, floor((high - self.y) / STEP - 0.5 - 1e-9))
        return ((1 << (last - first + 1)) - 1) << first if last >= first else 0

    def middle(self, row: int, column: int, cells: int = 1) -> Point:
        """Return the middle of a square of cells, given its foremost left one."""
        return (self.x + (row + cells / 2) * STEP, self.y + (column + cells / 2) * STEP)


def shifted(rows: Rows, by: int) -> Rows:
    """Return the cells moved back and to the right, or with a negative number forward and to the left."""
    moved = tuple(row << by if by >= 0 else row >> -by for row in rows)
    return ((0,) * by + moved)[: len(rows)] if by >= 0 else moved[-by:] + (0,) * min(-by, len(rows))


def both(first: Rows, second: Rows) -> Rows:
    """Return the cells of both."""
    return tuple(map(and_, first, second))


def either(first: Rows, second: Rows) -> Rows:
    """Return the cells of one or the other."""
    return tuple(map(or_, first, second))


def without(first: Rows, second: Rows) -> Rows:
    """Return the cells of the first that are not of the second."""
    return tuple(a & ~b for a, b in zip(first, second, strict=True))


def shrunk(free: Rows, cells: int) -> Rows:
    """Return the foremost left cells of all squares that lie within the free cells."""
    rows = list(free)
    for step in _doublings(cells):
        rows = [row & row >> step for row in rows]
    for step in _doublings(cells):
        rows = list(map(and_, rows, rows[step:] + [0] * step))
    return tuple(rows)


def grown(cells_of: Rows, cells: int) -> Rows:
    """Return the foremost left cells of all squares of that size that touch one of the cells."""
    rows = list(cells_of)
    for step in _doublings(cells):
        rows = [row | row >> step for row in rows]
    for step in _doublings(cells):
        rows = list(map(or_, rows, rows[step:] + [0] * step))
    return tuple(rows)


def _doublings(cells: int) -> list[int]:
    """Return the shifts after which a run of that many cells has been gathered into its first."""
    steps, done = [], 1
    while done < cells:
        steps.append(min(done, cells - done))
        done += steps[-1]
    return steps


def flooded(free: Rows, start: Rows) -> Rows:
    """Return all free cells that can be reached from the start along the axes."""
    found = [_spread(seed & row, row) if seed else 0 for seed, row in zip(start, free, strict=True)]
    waiting = [index for index, bits in enumerate(found) if bits]
    while waiting:
        index = waiting.pop()
        for beside in (index - 1, index + 1):
            if 0 <= beside < len(free):
                new = found[index] & free[beside] & ~found[beside]
                if new:
                    found[beside] = _spread(found[beside] | new, free[beside])
                    waiting.append(beside)
    return tuple(found)


def _spread(seed: int, free: int) -> int:
    """Return the runs of free bits that hold a seed (Kogge and Stone's fill, both ways)."""
    if not seed or seed == free:
        return seed
    up, down, open_up, open_down, step = seed, seed, free, free, 1
    top = free.bit_length()
    while step < top:
        up |= open_up & (up << step)
        down |= open_down & (down >> step)
        open_up &= open_up << step
        open_down &= open_down >> step
        step *= 2
    return (up | down) & free


def path(free: Rows, start: Rows, goal: Rows) -> tuple[tuple[int, int], ...]:
    """Return a shortest path along the axes as (row, column) cells; empty where there is none."""
    ahead = {index: bits for index, bits in enumerate(both(free, start)) if bits}
    layers, seen = [ahead], list(both(free, start))
    while ahead:
        met = next((index for index, bits in ahead.items() if bits & goal[index]), None)
        if met is not None:
            return _back(layers, met, (ahead[met] & goal[met]))
        ahead = _next(ahead, free, seen)
        layers.append(ahead)
    return ()


def _next(ahead: dict[int, int], free: Rows, seen: list[int]) -> dict[int, int]:
    rows = sorted({row for index in ahead for row in (index - 1, index, index + 1) if 0 <= row < len(free)})
    found = {}
    for row in rows:
        own = ahead.get(row, 0)
        new = (own << 1 | own >> 1 | ahead.get(row - 1, 0) | ahead.get(row + 1, 0)) & free[row] & ~seen[row]
        if new:
            found[row] = new
    for row, bits in found.items():
        seen[row] |= bits
    return found


def _back(layers: list[dict[int, int]], row: int, bits: int) -> tuple[tuple[int, int], ...]:
    column = (bits & -bits).bit_length() - 1
    found = [(row, column)]
    for layer in reversed(layers[:-1]):
        for r, c in ((row, column - 1), (row, column + 1), (row - 1, column), (row + 1, column)):
            if c >= 0 and layer.get(r, 0) >> c & 1:
                row, column = r, c
                break
        found.append((row, column))
    return tuple(reversed(found))


def count(rows: Iterable[int]) -> int:
    """Return how many cells there are."""
    return sum(row.bit_count() for row in rows)
