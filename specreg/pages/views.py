"""A van seen from above, from the left, from the right and from behind, in one of its modes, to scale."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees
from typing import NamedTuple

from specreg.facts.ways import modes_of
from specreg.model.furniture import Furniture
from specreg.model.seating import Seating
from specreg.model.sleeping import Bed
from specreg.pages import where
from specreg.pages.dimensions import Measure, dimensioned, to_scale
from specreg.pages.plan import Box, Plan, Room, plan_of
from specreg.pages.van import Van
from specreg.space.solid import Solid
from specreg.units import System

VIEWS = ("above", "left", "right", "rear")

HANGS_FROM = 1.2
"""Height above the floor, in metres, from which a thing is drawn as hanging."""

CM, INCH = 100.0, 0.0254


class Thing(NamedTuple):
    """A thing in the van's frame, in metres, in one mode; `outline` is its footprint where it is turned."""

    name: str
    number: int
    box: where.Box
    kind: str
    outline: tuple[tuple[float, float], ...] = ()


def things(van: Van, numbers: dict[str, int], mode: str) -> tuple[Thing, ...]:
    """Return the numbered things, and furniture without a number, as they stand in a mode."""
    modes = modes_of(van.facts)
    behind = [name for name in van.of(Furniture, Bed, Seating) if name not in numbers]
    names = [*((name, 0) for name in behind), *numbers.items()]
    found = (_thing(van, name, number, modes.solid(mode or None, name)) for name, number in names)
    return tuple(one for one in found if one is not None)


def _thing(van: Van, name: str, number: int, solid: Solid | None) -> Thing | None:
    if solid is not None:
        x, y, far, right = solid.span
        corner, size = (x, y, solid.bottom), (far - x, right - y, solid.height)
        box = where.Box(*(round(length, 6) for length in (*corner, *size)))
        square = abs(degrees(solid.turned) % 90) < 0.5 or abs(degrees(solid.turned) % 90 - 90) < 0.5
        return Thing(name, number, box, _kind(number, box), () if square else tuple(solid.footprint))
    component = van.build.components[name]
    box_ = where.box_of(component)
    if box_ is not None:
        return Thing(name, number, box_, _kind(number, box_))
    zone = van.build.header.vehicle.zones.get(component.zone or "")
    return Thing(name, number, where.zone_box(zone), "zone" if number else "behind") if zone else None


def _kind(number: int, box: where.Box) -> str:
    if not number:
        return "behind"
    return "high" if box.z >= HANGS_FROM else "thing"


def shown(van: Van, found: tuple[Thing, ...], view: str) -> tuple[Thing, ...]:
    """Return what a view shows: the near side of the van, and from behind what stands in its rear half."""
    middle = _middle(van)
    return tuple(thing for thing in found if _near(thing.box, view, middle))


def _near(box: where.Box, view: str, middle: float) -> bool:
    x, y, _ = box.centre
    match view:
        case "left":
            return y < where.SIDE_FROM or box.y < -WIDE
        case "right":
            return y > -where.SIDE_FROM or box.y + box.across > WIDE
        case "rear":
            return box.x + box.along > middle and x > middle - where.SIDE_FROM
    return True


WIDE = 0.5
"""How far beyond the centre line a thing reaches, in metres, to be seen from that side as well."""


def _middle(van: Van) -> float:
    room, wheelbase = van.build.header.vehicle.interior, van.build.header.vehicle.wheelbase
    if room.starts is not None and room.length is not None:
        return room.starts + room.length / 2
    return (wheelbase or 0.0) / 2


def drawn(van: Van, found: tuple[Thing, ...], view: str, beds: tuple[Thing, ...] = ()) -> Plan:
    """Return a view to scale with its dimensions; `beds` are those whose sizes the plan shows."""
    said = tuple((van.texts(f"places.edge.{word}"), at) for word, at in EDGES[view])
    measures = tuple(_measures(van, view, beds))
    boxes = tuple(_seen(van, thing, view) for thing in found)
    return to_scale(lambda radius: dimensioned(_view(van, boxes, view, radius), measures, said))


EDGES = {
    "above": (("front", "middle"),),
    "left": (("front", "start"), ("rear", "end")),
    "right": (("rear", "start"), ("front", "end")),
    "rear": (("left", "start"), ("right", "end")),
}
"""Which end of the van is where on a drawing."""


def _view(van: Van, boxes: tuple[Box, ...], view: str, radius: float) -> Plan:
    lying = view in ("left", "right")
    axles = () if view == "rear" else tuple(_along(x, view) for x in _axles(van))
    plan = plan_of(boxes, _room(van, view), axles, body=_body(van, view), radius=radius)
    return plan.turned() if lying else plan


def _axles(van: Van) -> tuple[float, ...]:
    wheelbase = van.build.header.vehicle.wheelbase
    return (0.0,) if wheelbase is None else (0.0, wheelbase)


def _along(x: float, view: str) -> float:
    """Return where a distance behind the front axle is drawn: from the right, the front is at the right."""
    return (-x if view == "right" else x) * CM


def _seen(van: Van, thing: Thing, view: str) -> Box:
    rect = _rect(thing.box, view)
    corners = tuple((y * CM, x * CM) for x, y in thing.outline) if view == "above" else ()
    kind = thing.kind if view == "above" or thing.kind != "high" else "thing"
    return Box(thing.number, *rect, kind, thing.name, van.name(thing.name), corners)


def _rect(box: where.Box, view: str) -> Room:
    """Return left, top, width and height of a box in a view; side views are laid out standing on end."""
    if view == "above":
        return (box.y * CM, box.x * CM, box.across * CM, box.along * CM)
    if view == "rear":
        return (box.y * CM, -(box.z + box.up) * CM, box.across * CM, box.up * CM)
    first = _along(box.x + box.along if view == "right" else box.x, view)
    return (-(box.z + box.up) * CM, first, box.up * CM, box.along * CM)


def _room(van: Van, view: str) -> Room | None:
    room = van.build.header.vehicle.interior
    if room.length is None or room.width is None:
        return None
    if view != "above" and room.height is None:
        return None
    box = where.Box(room.starts or 0.0, -room.width / 2, 0.0, room.length, room.width, room.height or 0.0)
    return _rect(box, view)


def _body(van: Van, view: str) -> Room | None:
    """Return the outline of the whole vehicle, ground to roof, as far as its measures are written."""
    body = van.build.header.vehicle
    floor = body.interior.floor_height
    length, width, height = body.overall_length, body.overall_width, body.overall_height
    if view != "rear" and (length is None or body.front_overhang is None):
        return None
    if view in ("above", "rear") and width is None:
        return None
    if view != "above" and (height is None or floor is None):
        return None
    wide, start = width or 0.0, -(body.front_overhang or 0.0)
    box = where.Box(start, -wide / 2, -(floor or 0.0), length or 0.0, wide, height or 0.0)
    return _rect(box, view)


def _measures(van: Van, view: str, beds: tuple[Thing, ...]) -> Iterator[Measure]:
    """Yield the dimensions of a view, each where it is written: the van's, the room's, the beds'."""
    for key, length, start in _lengths(van) if view != "rear" else ():
        first, last = _along(start, view), _along(start + length, view)
        yield Measure(_told(van, key, length), min(first, last), max(first, last), view == "above")
    for key, width in _widths(van) if view in ("above", "rear") else ():
        yield Measure(_told(van, key, width), -width / 2 * CM, width / 2 * CM, upright=False)
    for key, bottom, top in _heights(van) if view != "above" else ():
        yield Measure(_told(van, key, top - bottom), -top * CM, -bottom * CM, upright=True)
    for bed in beds if view == "above" else ():
        yield from _bed(van, bed)


def _bed(van: Van, bed: Thing) -> Iterator[Measure]:
    box = bed.box
    along, across = (written(van, length) for length in (box.along, box.across))
    name = van.name(bed.name)
    yield Measure(f"{name} {along}", box.x * CM, (box.x + box.along) * CM, upright=True)
    yield Measure(f"{name} {across}", box.y * CM, (box.y + box.across) * CM, upright=False)


def _told(van: Van, key: str, length: float) -> str:
    return f"{van.texts(f'places.measure.{key}')} {written(van, length)}"


def written(van: Van, length: float) -> str:
    """Return a length as drawings write it: whole millimetres, or inches to a tenth."""
    if van.units is System.us:
        return f"{length / INCH:.1f}".removesuffix(".0") + " in"
    return f"{length * 1000:.0f} mm"


def _lengths(van: Van) -> Iterator[tuple[str, float, float]]:
    """Yield lengths along the van with where they start behind the front axle."""
    body, room = van.build.header.vehicle, van.build.header.vehicle.interior
    if body.wheelbase is not None:
        yield "wheelbase", body.wheelbase, 0.0
    if room.starts is not None and room.length is not None:
        yield "room_length", room.length, room.starts
    if body.overall_length is not None and body.front_overhang is not None:
        yield "overall_length", body.overall_length, -body.front_overhang


def _widths(van: Van) -> Iterator[tuple[str, float]]:
    body = van.build.header.vehicle
    if body.interior.width is not None:
        yield "room_width", body.interior.width
    if body.overall_width is not None:
        yield "overall_width", body.overall_width


def _heights(van: Van) -> Iterator[tuple[str, float, float]]:
    """Yield heights with their lower and upper ends above the load floor."""
    body, room = van.build.header.vehicle, van.build.header.vehicle.interior
    if room.height is not None:
        yield "room_height", 0.0, room.height
    if room.floor_height is not None:
        yield "floor_height", -room.floor_height, 0.0
        if body.overall_height is not None:
            yield "overall_height", -room.floor_height, body.overall_height - room.floor_height


def measures_listed(van: Van) -> tuple[tuple[str, str], ...]:
    """Return every dimension of van and room as pairs of words, for the table beside the drawings."""
    found = [(key, length) for key, length, _ in _lengths(van)] + list(_widths(van))
    found += [(key, top - bottom) for key, bottom, top in _heights(van)]
    return tuple((van.texts(f"places.measure.{key}"), written(van, length)) for key, length in found)
