"""How the room is filled: what overlaps, what sticks out, how wide the aisle is, what doors run into."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.seats import DRIVING
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.facts.ways import LEAST_WAY, STATED, modes_of, room_known, worded
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.furniture import Furniture, InteriorDoor, StepBody, Storage, Worktop
from specreg.model.seating import Bench
from specreg.model.sleeping import Bed, Mattress
from specreg.model.structure import Exit, Luggage
from specreg.space.grid import STEP, Rows, both, count, either, flooded, grown, shifted, without
from specreg.space.overlap import in_its_way, is_body, overlaps
from specreg.space.solid import Solid
from specreg.space.swing import sweep
from specreg.space.walkway import REACH, REACH_OVER, STOOP, Walkway, around
from specreg.units import Dimension

KEPT_INSIDE = (Furniture, Bed, Mattress, Bench, StepBody, Luggage)
"""Kinds that belong wholly inside the room."""

STANDING = 0.40
"""Side of the square on which a person stands upright, in m: our judgement, no source."""

HEAD = 0.20
"""Side of the square that a head needs, in m: our judgement, no source."""

LEAST_FLOOR = 0.3
"""Area of free floor in m² below which a van is entered through its doors alone and has no aisle."""

LITRE = 1e-3


def known_modes(van: Facts) -> tuple[str | None, ...]:
    """Return the modes of the build; without any, its usual shapes."""
    return tuple(van.build.header.modes) or (None,)


def shared_room(van: Facts) -> dict[str, dict[str, tuple[float, list[str]]]]:
    """Return for each thing the earlier things that it shares room with: greatest volume and modes."""
    order = list(van.build.components)
    found: dict[str, dict[str, tuple[float, list[str]]]] = {}
    for mode in known_modes(van):
        for pair in overlaps(van.build, modes_of(van).solids(mode)):
            early, late = sorted((pair.first.id, pair.second.id), key=order.index)
            volume, modes = found.setdefault(late, {}).get(early, (0.0, []))
            found[late][early] = (max(volume, pair.volume), [*modes, *([mode] if mode else [])])
    return found


@fact(Component, TRUTH, formula="`at` and `size`, of its own or of its usual shape", source="the spec")
def placed(component: Subject) -> bool:
    """Whether the spec gives it a place and a size."""
    return modes_of(component.van).solid(None, component.id) is not None


@fact(Component, TRUTH, formula="its kind has a solid box, and the spec places it", source="the spec")
def takes_up_room(component: Subject) -> bool:
    """Whether its box is its own, so that nothing else may stand in it."""
    model = component.model
    return (
        isinstance(model, Component)
        and is_body(model)
        and modes_of(component.van).solid(None, component.id) is not None
    )


@fact(
    Component,
    list_of(text()),
    formula="common area in plan × common height > 0, with 1 mm of touch; what is fixed to, carried by, "
    "stowed in or wholly within the other is left out",
    source="geometry",
)
def shares_room_with(component: Subject) -> tuple[str, ...]:
    """Things listed before it that take up the same room, with the volume and the modes."""
    van = component.van
    every = len(known_modes(van))
    found = []
    for name, (volume, modes) in van.once(shared_room).get(component.id, {}).items():
        when = f", {' and '.join(modes)}" if 0 < len(modes) < every else ""
        found.append(f"{van.name_of(name)} ({max(volume / LITRE, 0.1):.1f} l{when})")
    return tuple(found)


def _sticking_out(component: Subject) -> tuple[str, float]:
    room, modes = room_known(component.van), modes_of(component.van)
    worst = ("", 0.0)
    for mode in known_modes(component.van):
        solid = modes.solid(mode, component.id)
        if solid is not None and room.contains_middle(solid):
            worst = max([worst, *room.beyond(solid).items()], key=lambda item: item[1])
    return worst


@fact(Component, TRUTH, formula="furniture, beds, steps, luggage, placed within the room", source="the spec")
def belongs_inside(component: Subject) -> bool:
    """Whether it belongs wholly inside the room."""
    if not isinstance(component.model, KEPT_INSIDE) or modes_of(component.van).room is None:
        return False
    solid = modes_of(component.van).solid(None, component.id)
    return solid is not None and room_known(component.van).contains_middle(solid)


@fact(
    Component,
    number(Dimension.length),
    formula="greatest depth beyond floor, roof, ends, or the walls where they are narrowest, in any mode",
    source="geometry",
)
def sticks_out_by(component: Subject) -> float:
    """How far it sticks out of the room."""
    return _sticking_out(component)[1]


@fact(Component, text(), formula="the side with the greatest depth", source="geometry")
def sticks_out_of(component: Subject) -> str:
    """The side of the room that it sticks out of."""
    return _sticking_out(component)[0] or "none"


def _walk(build: Subject) -> Walkway:
    room_known(build.van)
    walk = modes_of(build.van).walk(build.case)
    assert walk is not None
    return walk


def _entrance(build: Subject, walk: Walkway) -> Rows:
    """Return the free cells at the doors of the living space. Raises Missing where no door has a place."""
    found = walk.grid.none
    doors = [
        exit_
        for exit_ in build.van.of_class(Exit)
        if exit_.get("where") in {"side", "rear"} and str(exit_.get("form")).endswith("door")
    ]
    for door in doors:
        solid = modes_of(build.van).solid(build.case, door.id)
        if solid is not None:
            found = tuple(a | b for a, b in zip(found, around(walk, solid.span, REACH), strict=True))
    if not doors or not any(found):
        raise Missing(reason="no door of the living space has a place with free floor before it")
    return found


def _goals(build: Subject, walk: Walkway) -> Iterator[tuple[str, Rows]]:
    """Yield made beds and worktops with the floor before them; none where the van has no floor to walk on."""
    if count(walk.floor) * STEP * STEP < LEAST_FLOOR:
        return
    for thing in (*build.van.of_class(Bed), *build.van.of_class(Worktop)):
        solid = modes_of(build.van).solid(build.case, thing.id)
        if solid is not None and solid.blocks and solid.shape != "stowed":
            yield thing.id, both(walk.floor, around(walk, solid.span, REACH_OVER))


def _aisles(build: Subject) -> Iterator[tuple[float, str, Rows]]:
    """Yield width, thing and the cells before it, for each thing that people walk to."""
    walk = _walk(build)
    goals = list(_goals(build, walk))
    start = _entrance(build, walk) if goals else walk.grid.none
    for name, goal in goals:
        yield walk.widest(start, goal, floor_only=True), name, goal


@fact(
    Header,
    number(Dimension.length),
    formula=f"least over made beds and worktops of the widest way along the floor from the doors, {STATED}, "
    "at most 1 m",
    source="geometry",
    axis=Axis.mode,
)
def aisle_width(build: Subject) -> float | None:
    """Width of the aisle from the doors to beds and worktops at its narrowest."""
    return min((width for width, _, _ in _aisles(build)), default=None)


@fact(Header, text(), formula="where a wider square no longer passes", source="geometry", axis=Axis.mode)
def aisle_narrowest(build: Subject) -> str | None:
    """The narrowest place of the aisle: how far behind the front axle, and what stands there."""
    worst = min(_aisles(build), default=None, key=lambda item: item[0])
    if worst is None:
        return None
    walk = _walk(build)
    place = (
        walk.narrowest_place(_entrance(build, walk), worst[2], worst[0], floor_only=True)
        if worst[0]
        else None
    )
    if place is None:
        return "nowhere narrower" if worst[0] else f"no way on foot to {build.van.name_of(worst[1])}"
    return worded(build.van, place)


def _headroom(build: Subject) -> tuple[float, str] | None:
    """Return the greatest height in which people walk upright to all they use, and what limits it."""
    room, walk = room_known(build.van), _walk(build)
    goals = [goal for _, goal in _goals(build, walk)]
    if not goals:
        return None
    start, components = _entrance(build, walk), build.van.build.components
    hanging = [
        one
        for one in modes_of(build.van).solids(build.case)
        if STOOP <= one.bottom < room.height and one.blocks and is_body(components[one.id])
    ]
    height, what = room.height, "the roof"
    for one in sorted(hanging, key=lambda one: -one.bottom):
        if _upright(walk, start, goals, [lower for lower in hanging if lower.bottom <= one.bottom]):
            break
        height, what = one.bottom, build.van.name_of(one.id)
    return height, what


def _upright(walk: Walkway, start: Rows, goals: list[Rows], hanging: list[Solid]) -> bool:
    """Tell whether people get from the doors to every goal with no head below what hangs."""
    cells, head = round(STANDING / STEP), round(HEAD / STEP)
    covered = walk.grid.none
    for one in hanging:
        covered = either(covered, walk.grid.covered(one.footprint))
    heads = shifted(grown(covered, head), -(cells - head) // 2)
    squares = without(walk.squares(cells, True), heads)
    reached = flooded(squares, both(squares, grown(start, cells)))
    return all(any(both(reached, grown(goal, cells))) for goal in goals)


@fact(
    Header,
    number(Dimension.length),
    formula="greatest height in which 400 mm of width, with 200 mm for the head, get from the doors to "
    "all made beds and all worktops",
    source="geometry",
    axis=Axis.mode,
)
def standing_height(build: Subject) -> float | None:
    """Standing height along the walkway."""
    found = _headroom(build)
    return found[0] if found else None


@fact(Header, text(), formula="what hangs lowest over the walkway", source="geometry", axis=Axis.mode)
def standing_under(build: Subject) -> str | None:
    """What limits the standing height."""
    found = _headroom(build)
    return found[1] if found else None


def _sweep(thing: Subject, solid: Solid) -> Solid | None:
    model = thing.model
    if isinstance(model, Storage) and model.open_side:
        return sweep(
            solid, model.open_side, model.opens_by, model.hinged_at, model.opens_to, model.doors or 1
        )
    if isinstance(model, InteriorDoor) and model.form == "hinged" and model.open_side:
        return sweep(solid, model.open_side, None, model.hinged_at, model.opens_to)
    return None


def runs_into(thing: Subject, mode: str | None) -> tuple[str, ...]:
    """Return what stands in the sweep of a thing's doors or drawers in one mode."""
    van, modes = thing.van, modes_of(thing.van)
    solid = modes.solid(mode, thing.id)
    swept = _sweep(thing, solid) if solid is not None else None
    if swept is None or solid is None:
        return ()
    room = modes.room
    found = [
        other.id
        for other in (*modes.solids(mode), *(room.arches if room else ()))
        if other.blocks and swept.overlap(other) and in_its_way(van.build, solid, other)
    ]
    return tuple(van.name_of(name) for name in found)


def _living(van: Facts) -> tuple[str | None, ...]:
    return tuple(mode for mode in known_modes(van) if mode != DRIVING) or (None,)


@fact(Furniture, TRUTH, formula="its side and reach, or its hinge, are stated", source="the spec")
def sweep_known(furniture: Subject) -> bool:
    """Whether it is known what its doors or drawers sweep."""
    solid = modes_of(furniture.van).solid(None, furniture.id)
    return solid is not None and _sweep(furniture, solid) is not None


@fact(
    Furniture,
    list_of(text()),
    formula="things within what its doors or drawers sweep, in the mode at a stand with the fewest of them",
    source="geometry",
)
def opens_against(furniture: Subject) -> tuple[str, ...]:
    """What its doors or drawers run into, whichever way the van stands."""
    return min((runs_into(furniture, mode) for mode in _living(furniture.van)), key=len)


@fact(
    Furniture,
    list_of(text()),
    formula="things within what its doors or drawers sweep, in each mode",
    source="geometry",
    axis=Axis.mode,
)
def doors_blocked_by(furniture: Subject) -> tuple[str, ...]:
    """What its doors or drawers run into in one mode."""
    return runs_into(furniture, furniture.case)


@fact(
    Exit,
    list_of(text()),
    formula="furniture whose open door or drawer covers half of the opening or more by night",
    source="geometry; the share is our judgement",
)
def open_doors_across(exit_: Subject) -> tuple[str, ...]:
    """Cabinets whose open door or drawer stands before it."""
    modes = modes_of(exit_.van)
    opening = modes.solid("night", exit_.id)
    if opening is None:
        raise Missing(f"{exit_.id}.at")
    left, near, right, far = opening.span
    found = []
    for thing in exit_.van.of_class(Furniture):
        solid = modes.solid("night", thing.id)
        swept = _sweep(thing, solid) if solid is not None else None
        if swept is None:
            continue
        along = 0 if right - left > far - near else 1
        before = LEAST_WAY * along, LEAST_WAY * (1 - along)
        low = max(left - before[0], swept.span[0]), max(near - before[1], swept.span[1])
        high = min(right + before[0], swept.span[2]), min(far + before[1], swept.span[3])
        length = max(right - left, far - near)
        if min(high[0] - low[0], high[1] - low[1]) > 0 and high[along] - low[along] >= length / 2:
            found.append(thing.name)
    return tuple(found)


@fact(
    Header,
    number(Dimension.volume),
    formula="Σ volume of cabinets, shelves, drawers and benches / people; without a volume: nothing",
    source="the spec",
)
def storage_per_person(build: Subject) -> float:
    """Storage volume for each person."""
    things = [*build.van.of_class(Storage), *build.van.of_class(Bench)]
    volumes = {thing.name: thing.get("volume") for thing in things}
    silent = [name for name, volume in volumes.items() if volume is None]
    if silent:
        build.van.assume(f"no storage counted in {', '.join(silent)}: no volume is stated")
    people = build.van.build.header.use.people
    count = (people.adults or 0) + (people.children or 0)
    if not count:
        raise Missing("use.people")
    return float(sum(volume or 0.0 for volume in volumes.values())) / count
