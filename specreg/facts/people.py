"""Who travels, at which seat, and what they bring along."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import Load, load
from specreg.facts.standing import Standing, anywhere, in_the_cab, standing
from specreg.model.component import Component
from specreg.model.furniture import Storage
from specreg.model.seating import Bench, Seat, Seating
from specreg.model.structure import Carrier, Luggage
from specreg.tables import vehicle

CONVENTION = "by convention"
"""How the mass of a person is known: the jurisdiction sets it."""


def driver(van: Facts, person: float) -> Load:
    """Return the driver at the driver's seat."""
    for seat in van.of_class(Seat):
        if seat.driver:
            return load("driver", seat.id, person, _places(seat)[0], 0.0, CONVENTION)
    place = in_the_cab(van, "driver", "vehicle.interior.starts")
    return load("driver", "", person, place, 0.0, CONVENTION)


def passengers(van: Facts, person: float) -> Iterator[Load]:
    """Yield a person on every further place that is offered under way. Raises Missing."""
    for seat in van.of_class(Seating):
        driving = isinstance(seat.model, Seat) and seat.driver
        if driving or seat.used_under_way:
            places = _places(seat) * int(seat.count)
            for number, place in enumerate(places[1:] if driving else places, 1):
                yield load(f"person {number} on {seat.name}", seat.id, person, place, 0.0, CONVENTION)


def _places(seat: Subject) -> tuple[Standing, ...]:
    stated = seat.get("seated_at")
    if stated:
        return tuple(Standing(x, y, z, told="its seat") for x, y, z in stated)
    return (standing(seat),) * int(seat.places)


def belongings(van: Facts) -> Iterator[Load]:
    """Yield contents, luggage, dogs, what is carried outside, and the rest of the allowance."""
    listed = 0.0
    for thing in van.of_class(Component):
        mass = _brought(thing)
        if mass:
            listed += mass
            yield load(f"in or on {thing.name}", thing.id, mass, standing(thing), 0.0, "allowance")
    use = van.build.header.use
    if use.people.dogs:
        mass = use.people.dogs * van.whole.use.dog_mass
        place = anywhere(van, "dogs", "vehicle.interior.starts")
        yield load("dogs", "", mass, place, 0.0, "allowance")
    rest = allowance(van) - listed
    if rest > 0:
        place = anywhere(van, "personal effects without a place", "vehicle.interior.starts")
        yield load("personal effects without a place", "", rest, place, 0.0, "allowance")


def _brought(thing: Subject) -> float:
    if isinstance(thing.model, Luggage):
        return float(thing.mass * thing.count)
    return kept_in(thing)


def kept_in(thing: Subject) -> float:
    """Return the mass in kg of what is kept in furniture or lies on a carrier, of all that stand as one."""
    if isinstance(thing.model, Storage | Bench):
        return float((thing.get("contents") or 0.0) * thing.count)
    if isinstance(thing.model, Carrier):
        return float((thing.get("carried") or 0.0) * thing.count)
    return 0.0


def allowance(van: Facts) -> float:
    """Return the personal effects that are counted on: as stated, else 10·N + 10·L of EN 1646-2."""
    stated = van.build.header.use.personal_effects
    if stated is not None:
        return stated
    people = van.build.header.use.people
    persons = people.adults + people.children
    van.assume("personal effects not stated, taken as 10 kg for each person and each metre (EN 1646-2)")
    return vehicle.personal_effects_eu(persons, van.whole.vehicle.overall_length)
