"""The floor that people can move over in one mode: what stands in the way, what can be climbed on.

A person walks stooping (`STOOP` high) on the floor and crawls (`CRAWL` high) over beds, seats and steps. What
is lower than `SILL` is stepped over. Beds higher than `CLIMB` are no part of the way: one leaves them over
their open sides. These four heights are our judgement, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.furniture import StepBody
from specreg.model.seating import Seating
from specreg.model.sleeping import Bed, Curtain, Mattress
from specreg.model.structure import Exit, InsulatedPanel, LayeredPanel, Luggage, PopTop, RemovedItem
from specreg.space.grid import STEP, Grid, Rows, both, either, flooded, grown, path, shrunk, without
from specreg.space.overlap import is_body
from specreg.space.polygon import rectangle
from specreg.space.room import Room
from specreg.space.solid import Solid

STOOP = 1.10
"""Height that a person needs on the floor, in m."""
CRAWL = 0.50
"""Height that a person needs over a bed, seat or step, in m."""
CLIMB = 1.15
"""Greatest height of what people climb over on the way, in m."""
SILL = 0.10
"""Height of what people step over, in m."""
CUSHION = 0.45
"""Height of a seat's cushion above its foot, where the spec does not say, in m."""
REACH = 0.10
"""Distance from a door within which a person must come to leave by it, in m."""
REACH_OVER = 0.30
"""The same for a window or hatch, which people lean and climb through."""
STEP_OFF = 0.40
"""Distance from the edge of a high bed within which a person sets foot, in m."""
GREATEST = 1.00
"""Width in m beyond which a way is not measured: it is as good as free."""


Span = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


@dataclass
class Walkway:
    """The free cells of one mode, with what each thing covers; floods are kept, as many ways share them."""

    grid: Grid
    free: Rows
    floor: Rows
    """The free cells on the floor itself, nothing climbed."""
    things: Mapping[str, Solid]
    barring: Mapping[str, Rows]
    """The cells that each thing bars."""
    climbed: Mapping[str, Rows]
    """The cells over each thing that people climb on."""
    high: frozenset[str]
    """Beds too high to be part of the way."""
    _shrunk: dict[tuple[bool, int], Rows] = field(default_factory=dict, repr=False)
    _floods: dict[tuple[bool, int], list[Rows]] = field(default_factory=dict, repr=False)

    def widest(self, start: Rows, goal: Rows, floor_only: bool = False) -> float:
        """Return the side of the largest square that can be moved from start to goal, in m; 0 where none."""
        low, high = 0, round(GREATEST / STEP)
        while low < high:
            middle = (low + high + 1) // 2
            if self.passes(start, goal, middle, floor_only):
                low = middle
            else:
                high = middle - 1
        return round(low * STEP, 3)

    def passes(self, start: Rows, goal: Rows, cells: int, floor_only: bool = False) -> bool:
        """Tell whether a square of that many cells can be moved from start to goal."""
        free = self.squares(cells, floor_only)
        begin, end = both(free, grown(start, cells)), both(free, grown(goal, cells))
        if not any(begin) or not any(end):
            return False
        known = self._floods.setdefault((floor_only, cells), [])
        left = begin
        for flood in known:
            if any(both(flood, left)):
                if any(both(flood, end)):
                    return True
                left = without(left, flood)
        while any(left):
            flood = flooded(free, _first(left))
            known.append(flood)
            if any(both(flood, end)):
                return True
            left = without(left, flood)
        return False

    def way(
        self, start: Rows, goal: Rows, cells: int, floor_only: bool = False
    ) -> tuple[tuple[int, int], ...]:
        """Return a shortest way for a square of that size."""
        return path(self.squares(cells, floor_only), grown(start, cells), grown(goal, cells))

    def squares(self, cells: int, floor_only: bool) -> Rows:
        """Return the places of squares of that size on the free cells, or on those of the floor alone."""
        key = (floor_only, cells)
        if key not in self._shrunk:
            self._shrunk[key] = shrunk(self.floor if floor_only else self.free, cells)
        return self._shrunk[key]

    def narrowest_place(
        self, start: Rows, goal: Rows, width: float, floor_only: bool = False
    ) -> tuple[float, tuple[str, ...]] | None:
        """Return how far back the way is narrowest and what stands beside it; None where it is wide.

        Of places that are as narrow it is the one in the middle of the way, of two alike the one farther on.
        """
        cells = round(width / STEP)
        if cells < 1 or cells >= round(GREATEST / STEP):
            return None
        wider = self.squares(cells + 1, floor_only)
        room = grown_back(wider, cells + 1, cells)
        tight = [
            cell for cell in self.way(start, goal, cells, floor_only) if not room[cell[0]] >> cell[1] & 1
        ]
        if not tight:
            return None
        row, column = tight[len(tight) // 2]
        return self.grid.middle(row, column, cells)[0], self._beside(row, column, cells)

    def _beside(self, row: int, column: int, cells: int) -> tuple[str, ...]:
        low, high = max(0, row - 2), min(self.grid.rows, row + cells + 2)
        bits = ((1 << (cells + 4)) - 1) << column >> 2
        return tuple(
            name
            for name, cover in self.barring.items()
            if any(cover[index] & bits for index in range(low, high))
        )

    def over(self, cells_of: Iterable[tuple[int, int]], cells: int) -> tuple[str, ...]:
        """Return the things that a way climbs over, in the order of the way."""
        found: dict[str, None] = {}
        half = cells // 2
        for row, column in cells_of:
            for name, cover in self.climbed.items():
                if cover[row + half] >> (column + half) & 1:
                    found[name] = None
        return tuple(found)


def grown_back(squares: Rows, cells: int, smaller: int) -> Rows:
    """Return the places of smaller squares that lie within one of the larger squares."""
    return _shifted(squares, cells - smaller)


def _shifted(rows: Rows, by: int) -> Rows:
    found = []
    for index in range(len(rows)):
        bits = 0
        for row in rows[max(0, index - by) : index + 1]:
            for shift in range(by + 1):
                bits |= row << shift
        found.append(bits)
    return tuple(found)


def _first(rows: Rows) -> Rows:
    """Return the first cell alone."""
    found = [0] * len(rows)
    index = next(i for i, bits in enumerate(rows) if bits)
    found[index] = rows[index] & -rows[index]
    return tuple(found)


NO_OBSTACLE = (Exit, LayeredPanel, InsulatedPanel, RemovedItem, PopTop, Curtain)
"""Kinds that are no obstacle: openings, linings, what is gone."""


def around(walk: Walkway, box: Span, distance: float) -> Rows:
    """Return the free cells within a distance of a box seen from above."""
    left, near, right, far = box
    wide = rectangle(left - distance, near - distance, right - left + 2 * distance, far - near + 2 * distance)
    return both(walk.free, walk.grid.covered(wide))


def in_the_way(model: Component) -> bool:
    """Tell whether a component is large enough a thing to stand in the way."""
    return is_body(model) and not isinstance(model, NO_OBSTACLE)


def _stands(build: Build, solid: Solid) -> bool:
    model = build.components[solid.id]
    if isinstance(model, Luggage) and isinstance(build.components.get(model.fixed_to or ""), Bed):
        return False
    return in_the_way(model)


def surface_of(model: Component, solid: Solid) -> float | None:
    """Return the height at which people crawl over a thing; None where they do not."""
    if isinstance(model, Seating):
        return model.seat_height if model.seat_height is not None else min(solid.top, solid.bottom + CUSHION)
    if isinstance(model, Bed):
        return model.surface_height if model.surface_height is not None else solid.top
    return solid.top if isinstance(model, StepBody | Mattress) else None


def walkway(build: Build, solids: Iterable[Solid], room: Room) -> Walkway:
    """Return the walkway of one mode."""
    listed = [one for one in solids if one.blocks and _stands(build, one)]
    grid, inside = _ground(build, listed, room)
    surfaces: list[tuple[float, Solid]] = []
    for one in listed:
        height = surface_of(build.components[one.id], one)
        if height is not None and height <= CLIMB:
            surfaces.append((height, one))
    levels, climbed = _levels(grid, inside, surfaces)
    barred: dict[str, Rows] = {}
    names = {one.id for _, one in surfaces}
    for one in (*listed, *room.arches):
        cover = grid.none if one.id in names else _barred(grid, one, levels)
        if any(cover):
            barred[one.id] = cover
    taken = grid.none
    for cover in barred.values():
        taken = either(taken, cover)
    free = without(inside, taken)
    high = frozenset(
        one.id for one in listed if isinstance(build.components[one.id], Bed) and one.id not in names
    )
    floor = both(free, levels.get(0.0, grid.none))
    return Walkway(grid, free, floor, {one.id: one for one in listed}, barred, climbed, high)


def _ground(build: Build, listed: list[Solid], room: Room) -> tuple[Grid, Rows]:
    """Return the grid and its cells inside: the room, and the cab between seats and doors ahead of it."""
    half = room.narrowest(0.0, STOOP) / 2
    cab = [one.span for one in listed if isinstance(build.components[one.id], Seating)]
    ahead = [box for box in cab if box[0] < room.starts]
    first = min([room.starts, *(box[0] for box in ahead)])
    grid = Grid(first, -half, round((room.ends - first) / STEP), round(2 * half / STEP))
    inside = grid.covered(rectangle(first, -half, room.ends - first, 2 * half))
    return grid, inside


def _levels(
    grid: Grid, inside: Rows, surfaces: list[tuple[float, Solid]]
) -> tuple[dict[float, Rows], dict[str, Rows]]:
    """Return the cells by the height of what one stands or crawls on, and by thing; the highest counts."""
    left = inside
    levels: dict[float, Rows] = {}
    climbed: dict[str, Rows] = {}
    for height, one in sorted(surfaces, key=lambda pair: (-pair[0], pair[1].id)):
        cover = grid.covered(one.footprint)
        climbed[one.id] = both(cover, left)
        levels[height] = either(levels.get(height, grid.none), climbed[one.id])
        left = without(left, cover)
    levels[0.0] = either(levels.get(0.0, grid.none), left)
    return levels, climbed


def _barred(grid: Grid, one: Solid, levels: Mapping[float, Rows]) -> Rows:
    """Return the cells that a thing bars: where it stands higher than one steps and lower than one's back."""
    standing = [
        cells
        for height, cells in levels.items()
        if one.top > height + SILL and one.bottom < height + (CRAWL if height else STOOP)
    ]
    if not standing:
        return grid.none
    cover = grid.covered(one.footprint)
    found = grid.none
    for cells in standing:
        found = either(found, both(cover, cells))
    return found
