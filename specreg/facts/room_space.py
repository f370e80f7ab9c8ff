"""How the room is filled: what overlaps, what sticks out, what doors run into."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.seats import DRIVING
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.facts.ways import LEAST_WAY, modes_of, room_known
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.furniture import Furniture, InteriorDoor, StepBody, Storage
from specreg.model.seating import Bench
from specreg.model.sleeping import Bed, Mattress
from specreg.model.structure import Exit, Luggage
from specreg.space.overlap import in_its_way, is_body, overlaps
from specreg.space.solid import Solid
from specreg.space.swing import sweep
from specreg.units import Dimension

KEPT_INSIDE = (Furniture, Bed, Mattress, Bench, StepBody, Luggage)
"""Kinds that belong wholly inside the room."""

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


def at_a_stand(van: Facts) -> tuple[str | None, ...]:
    """Return the modes in which the van stands still."""
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
    return min((runs_into(furniture, mode) for mode in at_a_stand(furniture.van)), key=len)


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
