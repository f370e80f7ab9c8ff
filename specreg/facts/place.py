"""Where things are: centres of boxes, with zones standing in where a place is only named."""

from __future__ import annotations

from typing import NamedTuple

from specreg.facts.engine import Subject


class Point(NamedTuple):
    """A point of the van's frame, in metres: back from the front axle, right, up from the load floor."""

    x: float
    y: float
    z: float


def box_centre(component: Subject) -> Point | None:
    """Return the middle of a component's box, or of its zone; None where neither is stated."""
    corner, size = component.get("at"), component.get("size") or (0.0, 0.0, 0.0)
    if corner is None:
        zone = component.van.build.header.vehicle.zones.get(component.get("zone") or "")
        if zone is None:
            return None
        component.van.assume(f"{component.name}: taken at the middle of its zone, ± half the zone")
        corner, size = zone.at, zone.size
    return Point(*(c + s / 2 for c, s in zip(corner, size, strict=True)))
