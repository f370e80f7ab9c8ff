"""Where a thing is, in words that a person in the van can follow."""

from __future__ import annotations

from typing import NamedTuple

from specreg.model.component import Component
from specreg.model.run import Cable
from specreg.model.shape import Shaped
from specreg.model.vehicle import Zone
from specreg.pages.van import LENGTH, Van

SIDE_FROM = 0.15
"""Nearer to the centre line than this, in metres, a thing is said to be in the middle."""

POINTERS = ("locker", "stowed_in", "near", "beside", "under", "lies_on", "stands_on", "is_part")
"""Fields that name the thing in, on or beside which something is, best first."""


class Box(NamedTuple):
    """A box in the van's frame, in metres: its foremost, leftmost, lowest corner and its size."""

    x: float
    y: float
    z: float
    along: float
    across: float
    up: float

    @property
    def centre(self) -> tuple[float, float, float]:
        """Return its middle."""
        return (self.x + self.along / 2, self.y + self.across / 2, self.z + self.up / 2)


def box_of(component: Component, shape: str | None = None) -> Box | None:
    """Return the box that a component takes up, in one of its shapes; None where its corner is not stated."""
    at, size = component.at, component.size
    if isinstance(component, Shaped) and component.shapes and (shape or component.usual_shape):
        shown = component.in_shape(shape)
        at, size = shown.at, shown.size
    return Box(*at, *(size or (0.0, 0.0, 0.0))) if at is not None else None


def zone_box(zone: Zone) -> Box:
    """Return a zone as a box."""
    return Box(*zone.at, *zone.size)


def place_of(van: Van, thing: str) -> str:
    """Return where a component (or the box that a device or way is in) is; empty where nothing says it."""
    owner = thing.partition("/")[0]
    component = van.build.components.get(owner)
    if component is None:
        return _on_run(van, thing)
    said = [text for text in (_at(van, component), str(getattr(component, "reachable", None) or "")) if text]
    return ", ".join(said)


def _on_run(van: Van, device: str) -> str:
    """Return where an in-line device sits on its run."""
    run, _, name = device.partition("/")
    cable = van.build.runs.get(run)
    if not isinstance(cable, Cable) or name not in cable.protection:
        return ""
    inline = cable.protection[name]
    joint = van.build.ends[run]
    end = (joint.start if inline.end.value == "from" else joint.finish).component
    if inline.holder:
        return str(inline.holder)
    if inline.distance is None:
        return van.texts("where.on_run", end=van.name(end), run=van.name(run))
    far = van.value(inline.distance, LENGTH)
    return van.texts("where.on_run_at", far=far, end=van.name(end))


def _at(van: Van, component: Component) -> str:
    zones = van.build.header.vehicle.zones
    if component.zone in zones:
        zone = zones[component.zone]
        return zone.title or component.zone.replace("-", " ")
    box = box_of(component)
    if box is not None:
        return in_words(van, box, high=component.kind != "exit")
    for field in POINTERS:
        other = getattr(component, field, None)
        if isinstance(other, str) and other:
            named = van.name(other) if other in van.build.components else other
            return van.texts(f"where.{field}", other=named)
    if component.fixed_to in van.build.components:
        return van.texts("where.fixed_to", other=van.name(component.fixed_to or ""))
    return ""


def in_words(van: Van, box: Box, *, high: bool = True) -> str:
    """Return a box's place as a person stands in the van: side, how far back, how high where that matters."""
    x, y, z = box.centre
    side = "middle" if abs(y) < SIDE_FROM else ("right" if y > 0 else "left")
    said = [van.texts(f"where.{side}"), _along(van, x), *([_height(van, z)] if high else [])]
    return ", ".join(said)


def _along(van: Van, x: float) -> str:
    """Return how far back: by thirds of the living space where it is written, else from the front axle."""
    room = van.build.header.vehicle.interior
    if room.starts is None or room.length is None:
        way = "behind_axle" if x >= 0 else "before_axle"
        return van.texts(f"where.{way}", far=van.value(round(abs(x), 1), LENGTH))
    if x < room.starts:
        return van.texts("where.cab" if x > room.starts - CAB_LENGTH else "where.engine")
    share = (x - room.starts) / room.length
    if share > 1:
        return van.texts("where.behind")
    return van.texts(f"where.{THIRDS[min(2, int(share * 3))]}")


CAB_LENGTH = 1.3
"""How far the cab reaches before the living space, in metres: a common figure, no source."""

THIRDS = ("front", "centre", "rear")

HEIGHTS = ((0.0, "below_floor"), (0.3, "low"), (0.75, "knee"), (1.2, "waist"), (1.6, "chest"), (2.0, "head"))
"""Heights above the load floor up to which a thing is said to be so high."""


def _height(van: Van, z: float) -> str:
    return van.texts(f"where.{next((word for limit, word in HEIGHTS if z < limit), 'roof')}")
