"""What can be reached from seats and beds: exits from each seat, the extinguisher from each bed."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.engine import Facts, Subject
from specreg.facts.exits import NIGHT, ways
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.room_space import at_a_stand
from specreg.facts.seats import DRIVING
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.facts.ways import LEAST_WAY, STATED, Passage, modes_of, passage, room_known, start_of, worded
from specreg.model.dc import DisconnectSwitch
from specreg.model.furniture import Storage
from specreg.model.gas import GasValve
from specreg.model.safety import Extinguisher
from specreg.model.seating import Seating, SwivelBase
from specreg.model.sleeping import Bed
from specreg.model.structure import Exit
from specreg.space.grid import STEP
from specreg.space.overlap import in_its_way
from specreg.space.swing import turning
from specreg.space.walkway import CUSHION, around
from specreg.units import Dimension

ARM = 0.60
"""Reach of an arm from where a person stands, in m: our judgement, no source."""

HEAD = 0.75
"""Height of a seated person's chin above the cushion, in m: our judgement, no source."""

AHEAD = 0.30
"""How far before the seat a belted head swings, in m: our judgement, no source."""

HEAVY = 5.0
"""Mass in kg from which a thing above a head counts as heavy: our judgement, no source."""


def _openable(van: Facts, exit_: Subject) -> bool:
    return bool(exit_.get("opens_from_inside")) and not exit_.get("needs_power")


@fact(
    Seating,
    list_of(text()),
    formula=f"exits that open from inside without current, with a way to them {STATED}, 400 mm wide",
    source="geometry; width: common practice, no source",
    axis=Axis.mode,
)
def exits_reached(seat: Subject) -> tuple[str, ...]:
    """Exits that can be reached from the seat."""
    room_known(seat.van)
    if modes_of(seat.van).solid(seat.case, seat.id) is None:
        raise Missing(f"{seat.id}.at", f"{seat.id}.size")
    found, absent = [], []
    for exit_ in seat.van.of_class(Exit):
        if exit_.get("opens_from_inside") is None:
            absent.append(f"{exit_.id}.opens_from_inside")
        way = passage(seat, exit_.id, seat.case)
        if way is None:
            absent.append(f"{exit_.id}.at")
        elif _openable(seat.van, exit_) and way.usable:
            found.append(exit_.name)
    if not found and absent:
        raise Missing(*absent)
    return tuple(found)


@dataclass(frozen=True)
class TracedWay:
    """One way out of a bed at night: width and length in m, where it is narrow, what it climbs over."""

    name: str
    width: float
    length: float
    narrowest: str
    over: tuple[str, ...]

    def __str__(self) -> str:
        """Return the exit's name."""
        return self.name


def _traced(bed: Subject, name: str, found: Passage) -> TracedWay:
    place = found.narrowest
    where = worded(bed.van, place) if place else "nowhere" if found.width else "no way"
    return TracedWay(name, found.width, found.length, where, tuple(map(bed.van.name_of, found.over)))


TRACED = view(
    "way out",
    {
        "name": text(),
        "width": number(Dimension.length),
        "length": number(Dimension.length),
        "narrowest": text(),
        "over": list_of(text()),
    },
)


@fact(
    Bed,
    list_of(TRACED),
    formula=f"{STATED}: width of the widest way (at most 1 m), length of the shortest one wide enough",
    source="geometry",
)
def traced_ways(bed: Subject) -> tuple[TracedWay, ...]:
    """Each way out of the bed at night: how wide, how long, where narrow, over what."""
    room_known(bed.van)
    found = ((way.name, passage(bed, way.id, NIGHT)) for way in ways(bed)[0])
    return tuple(_traced(bed, name, way) for name, way in found if way is not None)


def beds_cut_off(component: Subject) -> tuple[str, ...]:
    """Beds from which it cannot be reached at night."""
    van, modes = component.van, modes_of(component.van)
    room_known(van)
    walk, solid = modes.walk(NIGHT), modes.solid(NIGHT, component.id)
    if walk is None or solid is None:
        raise Missing(f"{component.id}.at", f"{component.id}.size")
    near = around(walk, solid.span, ARM)
    found = []
    for bed in van.of_class(Bed):
        lies = modes.solid(NIGHT, bed.id)
        if lies is None:
            raise Missing(f"{bed.id}.at", f"{bed.id}.size")
        if not walk.passes(start_of(walk, bed, lies), near, round(LEAST_WAY / STEP)):
            found.append(bed.name)
    return tuple(found)


for _kind in (Extinguisher, GasValve, DisconnectSwitch):
    fact(
        _kind,
        list_of(text()),
        formula=f"beds without a way by night, {STATED}, to where an arm of 0.6 m reaches it",
        source="geometry; reach and width are our judgement",
    )(beds_cut_off)


@fact(
    Seating,
    list_of(text()),
    formula="cabinets and shelves with 5 kg or more in them, 0.75 m over the cushion, within the seat's "
    "outline and 0.3 m before it, under way",
    source="our judgement, no source",
)
def heavy_above(seat: Subject) -> tuple[str, ...]:
    """Heavy storage above the heads of those who travel on it."""
    modes = modes_of(seat.van)
    solid = modes.solid(DRIVING, seat.id)
    if solid is None:
        raise Missing(f"{seat.id}.at", f"{seat.id}.size")
    left, near, right, far = solid.span
    cushion = seat.get("seat_height") or solid.bottom + CUSHION
    found = []
    for storage in seat.van.of_class(Storage):
        above = modes.solid(DRIVING, storage.id)
        if above is None or above.bottom < cushion + HEAD:
            continue
        x1, y1, x2, y2 = above.span
        over = min(x2, right) > max(x1, left - AHEAD) and min(y2, far) > max(y1, near)
        if over and (storage.get("contents") or 0.0) >= HEAVY:
            found.append(storage.name)
    return tuple(found)


@fact(Seating, TRUTH, formula="it is a travel seat, and its place is stated", source="the spec")
def placed_travel_seat(seat: Subject) -> bool:
    """Whether people travel on it, and it is known where."""
    return bool(seat.travel_seat) and modes_of(seat.van).solid(DRIVING, seat.id) is not None


@fact(
    SwivelBase,
    list_of(text()),
    formula="bodies in the circle through the seat's farthest corner about the middle of the base, in the "
    "mode at a stand with the fewest of them",
    source="geometry",
)
def turns_against(base: Subject) -> tuple[str, ...]:
    """What the seat meets when it is turned where it stands."""
    van, modes = base.van, modes_of(base.van)
    found = []
    for mode in at_a_stand(van):
        seat, plate = modes.solid(mode, base.under), modes.solid(mode, base.id)
        if seat is None or plate is None:
            raise Missing(f"{base.id}.at", f"{base.under}.at")
        swept = turning(seat, plate)
        found.append(
            tuple(
                van.name_of(other.id)
                for other in modes.solids(mode)
                if other.blocks and swept.overlap(other) and in_its_way(van.build, seat, other)
            )
        )
    return min(found, key=len)
