"""Where a mass sits in the van, and how sure that is: box, zone, holder, or anywhere inside."""

from __future__ import annotations

from typing import NamedTuple

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.model.shape import Shaped

HELD_BY = ("fixed_to", "stowed_in", "lies_on", "under", "stands_on", "locker", "near", "beside", "is_part")
"""Fields that name the thing, or the zone, at which something without a place of its own stands."""

BODY = "body"

UNDER_WAY = "driving"
"""The mode in which the van stands on its axles for these figures."""

ANYWHERE = "anywhere in the interior"

SEATED = 0.6
"""Height of a seated person's middle above the load floor in m, ± as much: common practice, no source."""


class Standing(NamedTuple):
    """A centre of mass in the van's frame, how far off it may be each way, in metres, and what says so."""

    x: float
    y: float
    z: float
    along: float = 0.0
    across: float = 0.0
    up: float = 0.0
    told: str = "its box"


def standing(thing: Subject) -> Standing:
    """Return where a component's mass sits. Raises Missing where nothing bounds it."""
    found = _stated(thing) or _held(thing)
    return found or anywhere(thing.van, thing.name, f"{thing.id}.at")


def _stated(thing: Subject) -> Standing | None:
    centre = thing.get("centre_of_mass")
    if centre is not None:
        x, y, z = centre
        return Standing(x, y, z, told="its centre of mass")
    corner, size = _box(thing)
    if corner is not None:
        return Standing(*_middle(corner, size or (0.0, 0.0, 0.0)))
    return _zone(thing.van, thing.get("zone"), thing.name)


Triple = tuple[float, float, float]


def _box(thing: Subject) -> tuple[Triple | None, Triple | None]:
    """Return corner and size, of what changes its shape as it stands under way: that is when axles count."""
    model = thing.model
    if isinstance(model, Shaped) and model.shapes:
        named = thing.van.build.header.modes.get(UNDER_WAY, {}).get(thing.id)
        shape = model.in_shape(named if named in model.shapes else None)
        return shape.at, shape.size
    return thing.get("at"), thing.get("size")


def _middle(corner: tuple[float, ...], size: tuple[float, ...]) -> tuple[float, float, float]:
    x, y, z = (c + s / 2 for c, s in zip(corner, size, strict=True))
    return x, y, z


def _zone(van: Facts, name: str | None, thing: str) -> Standing | None:
    zone = van.build.header.vehicle.zones.get(name or "")
    if zone is None:
        return None
    van.assume(f"{thing}: taken at the middle of its zone, ± half the zone")
    along, across, up = (side / 2 for side in zone.size)
    return Standing(*_middle(zone.at, zone.size), along, across, up, f"zone {name}")


def _held(thing: Subject) -> Standing | None:
    """Return the place of what holds it; a chain of holders is not followed further than one step."""
    for field in HELD_BY:
        holder = getattr(thing.model, field, None)
        if not holder or holder == BODY:
            continue
        if holder in thing.van.build.components:
            found = _stated(thing.van.subject(holder))
            if found is not None:
                thing.van.assume(f"{thing.name}: taken at the place of {thing.van.name_of(holder)}")
                return found._replace(told=f"at {thing.van.name_of(holder)}")
        zone = _zone(thing.van, holder, thing.name)
        if zone is not None:
            return zone
    return None


def anywhere(van: Facts, thing: str, field: str) -> Standing:
    """Return the middle of the interior, ± half of it. Raises Missing(`field`) without an interior."""
    room = van.build.header.vehicle.interior
    if room.starts is None or room.length is None:
        raise Missing(field)
    van.assume(f"{thing}: place not stated, taken as anywhere in the interior")
    half_width, half_height = (room.width or 0.0) / 2, (room.height or 0.0) / 2
    middle = room.starts + room.length / 2
    return Standing(middle, 0.0, half_height, room.length / 2, half_width, half_height, ANYWHERE)


def in_the_cab(van: Facts, thing: str, field: str) -> Standing:
    """Return the middle between front axle and interior, ± half of that. Raises Missing(`field`)."""
    starts = van.build.header.vehicle.interior.starts
    if starts is None:
        raise Missing(field)
    van.assume(f"{thing}: seat not stated, taken as anywhere between front axle and interior")
    return Standing(starts / 2, 0.0, SEATED, starts / 2, 0.0, SEATED, "anywhere in the cab")


def between(van: Facts, start: str, finish: str, thing: str, field: str) -> Standing:
    """Return the middle between two components, ± half of the way between them."""
    places = []
    for end in (start, finish):
        found = _stated(van.subject(end)) or _held(van.subject(end))
        if found is None:
            return anywhere(van, thing, field)
        places.append(found)
    a, b = places
    along = abs(a.x - b.x) / 2 + max(a.along, b.along)
    across = abs(a.y - b.y) / 2 + max(a.across, b.across)
    up = abs(a.z - b.z) / 2 + max(a.up, b.up)
    middle = ((a.x + b.x) / 2, (a.y + b.y) / 2, (a.z + b.z) / 2)
    return Standing(*middle, along, across, up, "between its ends")
