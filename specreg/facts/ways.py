"""The ways over the free floor: from beds and seats to the exits, along the aisle, in each mode."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.model.sleeping import Bed
from specreg.model.structure import Exit
from specreg.space.grid import STEP, Rows
from specreg.space.joined import chain
from specreg.space.room import Room, room_of
from specreg.space.solid import Solid, shapes
from specreg.space.walkway import REACH, REACH_OVER, STEP_OFF, Span, Walkway, around, walkway

LEAST_WAY = 0.40
"""Width in m from which a way counts as one: a person sideways. Common practice, no source."""

STATED = f"squares moved over the free floor, cells of {STEP * 1000:.0f} mm"
"""How ways are found, for the formulas of facts."""


class Modes:
    """The solids and the walkway of each mode, made when asked for."""

    def __init__(self, van: Facts) -> None:
        self._build = van.build
        self._solids: dict[str | None, tuple[Solid, ...]] = {}
        self._by_name: dict[str | None, dict[str, Solid]] = {}
        self._walks: dict[str | None, Walkway] = {}
        self.passages: dict[tuple[str, str, str | None], Passage | None] = {}
        self.room: Room | None = room_of(van.build.header.vehicle.interior)

    def solids(self, mode: str | None) -> tuple[Solid, ...]:
        """Return the solids of a mode."""
        if mode not in self._solids:
            self._solids[mode] = shapes(self._build, mode)
        return self._solids[mode]

    def solid(self, mode: str | None, name: str) -> Solid | None:
        """Return one thing's solid in a mode."""
        if mode not in self._by_name:
            self._by_name[mode] = {one.id: one for one in self.solids(mode)}
        return self._by_name[mode].get(name)

    def walk(self, mode: str | None) -> Walkway | None:
        """Return the walkway of a mode; None where the room is not stated."""
        if self.room is None:
            return None
        if mode not in self._walks:
            self._walks[mode] = walkway(self._build, self.solids(mode), self.room)
        return self._walks[mode]


def modes_of(van: Facts) -> Modes:
    """Return the build's modes, made once."""
    return van.once(Modes)


def room_known(van: Facts) -> Room:
    """Return the room. Raises Missing where it is not stated."""
    room = modes_of(van).room
    if room is None:
        interior = van.build.header.vehicle.interior
        names = ("starts", "length", "width", "height")
        absent = [f"vehicle.interior.{name}" for name in names if getattr(interior, name) is None]
        raise Missing(*absent)
    return room


@dataclass(frozen=True)
class Passage:
    """A way from a bed or seat to an exit, traced as far as it is asked for."""

    walk: Walkway
    start: Rows
    goal: Rows

    @cached_property
    def usable(self) -> bool:
        """Tell whether it is at least as wide as a person needs."""
        return self.walk.passes(self.start, self.goal, round(LEAST_WAY / STEP))

    @cached_property
    def width(self) -> float:
        """Return its least width in m; 0 where there is none, and at most `GREATEST`."""
        return self.walk.widest(self.start, self.goal)

    @property
    def _cells(self) -> int:
        return max(1, round(min(self.width, LEAST_WAY) / STEP))

    @property
    def length(self) -> float:
        """Return the length along the axes of a shortest way that is as wide as a person needs, in m."""
        return max(0, len(self.walk.way(self.start, self.goal, self._cells)) - 1) * STEP

    @property
    def narrowest(self) -> tuple[float, tuple[str, ...]] | None:
        """Return how far back it is narrowest, in m, and the ids of what stands there."""
        return self.walk.narrowest_place(self.start, self.goal, self.width)

    @property
    def over(self) -> tuple[str, ...]:
        """Return the ids of what it climbs over."""
        return self.walk.over(self.walk.way(self.start, self.goal, self._cells), self._cells)


def start_of(walk: Walkway, thing: Subject, solid: Solid) -> Rows:
    """Return the cells from which a person on a bed or seat sets out."""
    if thing.id not in walk.high:
        return around(walk, solid.span, 0.0)
    left, near, right, far = solid.span
    sides = getattr(thing.model, "open_sides", ()) or ("front", "rear", "left", "right")
    boxes: dict[str, Span] = {
        "front": (left - STEP_OFF, near, left, far),
        "rear": (right, near, right + STEP_OFF, far),
        "left": (left, near - STEP_OFF, right, near),
        "right": (left, far, right, far + STEP_OFF),
        "below": (left, near, right, far),
    }
    found = walk.grid.none
    for side in sides:
        found = tuple(a | b for a, b in zip(found, around(walk, boxes[side], 0.0), strict=True))
    return found


def passage(thing: Subject, opening: str, mode: str | None) -> Passage | None:
    """Return the way from a bed or seat to an opening; None where it cannot be traced for want of places."""
    known = modes_of(thing.van).passages
    key = (thing.id, opening, mode)
    if key not in known:
        known[key] = _passage(thing, opening, mode)
    return known[key]


def _passage(thing: Subject, opening: str, mode: str | None) -> Passage | None:
    modes = modes_of(thing.van)
    walk, solid = modes.walk(mode), modes.solid(mode, thing.id)
    goal_solid = modes.solid(mode, opening)
    if walk is None or solid is None or goal_solid is None:
        return None
    model = thing.van.build.components[opening]
    door = isinstance(model, Exit) and model.form in {"sliding door", "hinged door"}
    goal = around(walk, goal_solid.span, REACH if door else REACH_OVER)
    if isinstance(thing.model, Bed) and not door and _over(solid, goal_solid):
        goal = start = around(walk, solid.span, STEP_OFF)
        return Passage(walk, start, goal)
    start = start_of(walk, thing, solid)
    return Passage(walk, start, goal)


def too_narrow(thing: Subject, opening: str, mode: str | None) -> str | None:
    """Return what is wrong with the way to an opening, in words; None where it is wide enough."""
    found = passage(thing, opening, mode)
    if found is None:
        thing.van.assume(f"{thing.name}: its way to {thing.van.name_of(opening)} is free; places are wanting")
        return None
    if found.usable:
        return None
    if not found.width:
        return "no way to it"
    place = found.narrowest
    return f"too narrow a way, {worded(thing.van, place)}" if place else "too narrow a way"


def worded(van: Facts, place: tuple[float, tuple[str, ...]]) -> str:
    """Return a narrow place in words; a thing that is fixed to another one there goes without saying."""
    behind, beside = place
    alone = [name for name in beside if not (chain(van.build, name) - {name}) & set(beside)]
    names = " and ".join(van.name_of(name) for name in alone)
    return f"{behind * 1000:.0f} mm behind the front axle, by {names or 'the walls'}"


def _over(bed: Solid, opening: Solid) -> bool:
    """Tell whether an opening is reached from the bed itself: beside or above it."""
    a, b = bed.span, opening.span
    near = all(b[i] <= a[i + 2] + REACH_OVER and b[i + 2] >= a[i] - REACH_OVER for i in (0, 1))
    return near and opening.top > bed.top
