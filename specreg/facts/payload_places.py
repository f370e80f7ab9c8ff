"""What may still be added at each place before a limit is met, and which limit that is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

from specreg.facts.engine import Subject
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.structure import TowBar
from specreg.units import Dimension

MASS, LENGTH = number(Dimension.mass), number(Dimension.length)


class Limits(NamedTuple):
    """What may still be added in kg: in all, on the front and on the rear axle, and the wheelbase in m."""

    total: float
    front: float
    rear: float
    wheelbase: float


class Room(NamedTuple):
    """The greatest mass in kg that may still be added at a place, and the limit that it meets."""

    mass: float
    limit: str


def room_at(x: float, left: Limits) -> Room:
    """Return the greatest mass that may be added x metres behind the front axle; 0 where a limit is passed.

    A mass m loads the rear axle with m·x/wheelbase and the front axle with the rest: the total and each
    axle on which it presses bound it. One behind the rear axle lifts the front wheels: no bound here.
    """
    rear = x / left.wheelbase
    bounds = [Room(left.total, "total")]
    if rear < 1:
        bounds.append(Room(left.front / (1 - rear), "front axle"))
    if rear > 0:
        bounds.append(Room(left.rear / rear, "rear axle"))
    if min(left.total, left.front, left.rear) < 0:
        over = [name for name in ("total", "front", "rear") if getattr(left, name) < 0]
        return Room(0.0, f"{over[0]} axle".replace("total axle", "total"))
    return min(bounds, key=lambda room: room.mass)


@dataclass(frozen=True, slots=True)
class Place:
    """A place, how far it is behind the front axle in m, what may still stand there in kg, the limit met."""

    name: str
    x: float
    mass: float
    limit: str


class Spot(NamedTuple):
    """A place by its name, from where to where it reaches behind the front axle, and a limit of its own."""

    name: str
    starts: float
    ends: float
    own: Room | None = None


def spots(build: Subject) -> Iterator[Spot]:
    """Yield the places at which a load is asked about: axles, ends of the room, zones, roof, tow ball."""
    van = build.van
    vehicle = van.build.header.vehicle
    wheelbase, room = build.vehicle.wheelbase, vehicle.interior
    yield Spot("over the front axle", 0.0, 0.0)
    yield Spot("over the rear axle", wheelbase, wheelbase)
    if room.starts is not None and room.length is not None:
        end = room.starts + room.length
        yield Spot("front end of the room", room.starts, room.starts)
        yield Spot("rear end of the room", end, end)
        if vehicle.permitted.roof is not None:
            left = max(0.0, vehicle.permitted.roof - float(build.roof_load))
            yield Spot("on the roof", room.starts, end, Room(left, "roof"))
    for name, zone in vehicle.zones.items():
        yield Spot(zone.title or name.replace("-", " "), zone.at[0], zone.at[0] + zone.size[0])
    for bar in van.of_class(TowBar):
        if bar.get("overhang") is not None:
            ball, limit = wheelbase + bar.overhang, float(build.tow_ball_limit - build.tow_ball_load)
            yield Spot("on the tow ball", ball, ball, Room(max(0.0, limit), "tow ball"))


def room_in(spot: Spot, left: Limits) -> Room:
    """Return the greatest mass that may stand anywhere in a place: the least of its two ends and its own."""
    bounds = [room_at(spot.starts, left), room_at(spot.ends, left), *([spot.own] if spot.own else [])]
    return min(bounds, key=lambda room: room.mass)


def _left(build: Subject, end: str = "") -> Limits:
    """Return what is left in a case: by the figures, or with `_least` for certain. Raises Missing."""
    fields = (f"payload_left{end}", f"front_axle_left{end}", f"rear_axle_left{end}")
    total, front, rear = (float(getattr(build, name)) for name in fields)
    return Limits(total, front, rear, float(build.vehicle.wheelbase))


PLACE = view("place for a load", {"name": text(), "x": LENGTH, "mass": MASS, "limit": text()})
LEAST = (
    "least of payload left, front left ÷ (1 − x/wheelbase), rear left ÷ (x/wheelbase), and the place's own "
    "limit; at the worse end of the place"
)


@fact(Header, list_of(PLACE), axis=Axis.loading, formula=LEAST, source="moments about the front axle")
def room_for_more(build: Subject) -> tuple[Any, ...]:
    """What may still be added, place by place, in this case."""
    return _places(build, _left(build))


@fact(Header, list_of(PLACE), axis=Axis.loading, formula=f"{LEAST}; every doubt taken the wrong way",
      source="moments about the front axle; worst case, linear")  # fmt: skip
def room_for_more_least(build: Subject) -> tuple[Any, ...]:
    """What may still be added for certain, place by place, in this case."""
    return _places(build, _left(build, "_least"))


def _places(build: Subject, left: Limits) -> tuple[Place, ...]:
    rooms = ((spot, room_in(spot, left)) for spot in spots(build))
    return tuple(Place(s.name, (s.starts + s.ends) / 2, room.mass, room.limit) for s, room in rooms)


@fact(Header, MASS, axis=Axis.loading, formula="what may be added at the rear end of the interior",
      source="moments about the front axle")  # fmt: skip
def room_at_the_rear(build: Subject) -> float:
    """Mass that may still be added at the rear end of the room in this case."""
    room = build.vehicle.interior
    return room_at(float(room.starts + room.length), _left(build)).mass
