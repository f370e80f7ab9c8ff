"""What stands on each axle in each loading case, by moments about the front axle."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from specreg.facts.coolant import coolant
from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import ABOARD, Load, contents, convention, filling, holds, load, vehicle_fuel
from specreg.facts.mass_ledger import weigh_whole, weights
from specreg.facts.missing import Missing
from specreg.facts.people import belongings, driver, passengers
from specreg.facts.registry import Axis, fact
from specreg.facts.standing import Standing, between, standing
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.run import Run
from specreg.model.structure import SpareWheel
from specreg.model.vehicle import Weighing
from specreg.units import Dimension

MASS, LENGTH = number(Dimension.mass), number(Dimension.length)
MOMENTS = "rear = Σ mass × distance behind the front axle ÷ wheelbase; front = Σ mass − rear"
BUILDER = "truck body builder's manual, Appendix B: moments about the front axle"
SCALE_STEP = 20.0
"""Step of a weighbridge where the ticket does not state it, in kg: common practice, no source."""

AS_RECEIVED = "vehicle.as_received"
AS_WEIGHED, WHEN_WEIGHED = "vehicle as weighed", " when weighed"

LOAD = view(
    "load",
    {
        "name": text(), "subject": text(), "mass": MASS, "mass_doubt": MASS,
        "x": LENGTH, "x_doubt": LENGTH, "y": LENGTH, "y_doubt": LENGTH, "z": LENGTH, "z_doubt": LENGTH,
        "known": text(), "place": text(),
    },
)  # fmt: skip


def as_received(van: Facts) -> Iterator[Load]:
    """Yield the ticket of the base vehicle, less what was in it and does not belong to it. Raises Missing."""
    ticket = van.build.header.vehicle.as_received
    if ticket is None:
        raise Missing(AS_RECEIVED)
    yield ticket_load(van, ticket, AS_RECEIVED)
    for entry in aboard(van, ticket, AS_RECEIVED):
        place = Standing(entry.x, entry.y, entry.z, told=entry.place)
        yield load(f"{entry.name}{WHEN_WEIGHED}", entry.subject, -entry.mass, place, 0.0, entry.known)
    yield from _wheel_left_out(van, ticket)


def ticket_load(van: Facts, ticket: Weighing, path: str) -> Load:
    """Return a ticket as one mass at its centre of gravity. Raises Missing for an axle or the wheelbase."""
    absent = [f"{path}.{name}" for name in ("front_axle", "rear_axle") if getattr(ticket, name) is None]
    if absent:
        raise Missing(*absent)
    assert ticket.front_axle is not None and ticket.rear_axle is not None
    mass = ticket.front_axle + ticket.rear_axle
    if ticket.scale_step is None:
        van.assume(f"scale step not stated, taken as {SCALE_STEP:g} kg")
    doubt = ticket.scale_step or SCALE_STEP
    x = ticket.rear_axle * van.whole.vehicle.wheelbase / mass
    return Load(AS_WEIGHED, "", mass, doubt, x, 0.0, 0.0, 0.0, known="weighed", place="its axle loads")


def aboard(van: Facts, ticket: Weighing, path: str) -> Iterator[Load]:
    """Yield driver, fuel, water and gas that were in the vehicle when it was weighed. Raises Missing."""
    absent = [f"{path}.{name}" for name in ("driver", "fuel") if getattr(ticket, name) is None]
    if absent:
        raise Missing(*absent)
    assert ticket.fuel is not None
    if ticket.driver:
        yield driver(van, convention(van).person)
    yield from vehicle_fuel(van, ticket.fuel)
    _say_what_is_not_stated(van, ticket, path)
    shares = {part: getattr(ticket, field) or 0.0 for field, parts in ABOARD.items() for part in parts}
    yield from contents(van, shares)


def _say_what_is_not_stated(van: Facts, ticket: Weighing, path: str) -> None:
    """Say what counts as none: of a base vehicle as received water only, for gas and the rest come later."""
    asked = ("fresh_water",) if path == AS_RECEIVED else ABOARD
    for field in asked:
        if getattr(ticket, field) is None and holds(van, field):
            van.assume(f"{field.replace('_', ' ')} when weighed not stated, taken as none")


def _wheel_left_out(van: Facts, ticket: Weighing) -> Iterator[Load]:
    wheels = [wheel for wheel in van.of_class(SpareWheel) if wheel.origin == "base vehicle"]
    if wheels and ticket.spare_wheel is None:
        raise Missing(f"{AS_RECEIVED}.spare_wheel")
    for wheel in wheels if not ticket.spare_wheel else ():
        found = weigh_whole(wheel)
        yield load(wheel.name, wheel.id, found.mass, standing(wheel), found.doubt, found.known)


def fitted(van: Facts) -> Iterator[Load]:
    """Yield everything fitted and taken out whose mass is known, and coolant; the others are named."""
    unknown = []
    for thing, found in weights(van):
        if isinstance(found, Missing):
            unknown.append(thing.name)
        elif found.doubt:  # no mass is certain: what has no doubt adds nothing
            yield load(thing.name, thing.id, found.mass, _place(thing), found.doubt, found.known)
    for thing, held in coolant(van):
        yield load(f"coolant in {thing.name}", thing.id, held.mass, _place(thing), held.doubt, held.known)
    if unknown:
        van.assume(f"not counted, for want of a mass: {', '.join(unknown)}")


def _place(thing: Subject) -> Standing:
    if not isinstance(thing.model, Run):
        return standing(thing)
    ends = thing.van.build.ends[thing.id]
    start, finish = ends.start.component, ends.finish.component
    return between(thing.van, start, finish, thing.name, f"{thing.id}.length")


@fact(Header, list_of(LOAD), formula="the ticket as received, corrected, and every component and run",
      source="the spec")  # fmt: skip
def fitted_loads(build: Subject) -> tuple[Load, ...]:
    """The van as built, dry and empty but for coolant, as masses at their places."""
    return (*as_received(build.van), *fitted(build.van))


@fact(Header, list_of(LOAD), axis=Axis.loading, formula="the van as built + fluids + people + belongings",
      source="(EU) 1230/2012 Art. 2(4), EN 1646-2 per a handbook; 49 CFR 567.4(g)(3)")  # fmt: skip
def loads(build: Subject) -> tuple[Load, ...]:
    """Everything that stands on the axles in this case, as masses at their places."""
    van = build.van
    counted = convention(van)
    case = filling(build.case or "as converted", counted)
    found = [*build.fitted_loads, *contents(van, case.shares), *vehicle_fuel(van, case.fuel)]
    if case.people:
        found.append(driver(van, counted.person))
    if case.people == "all":
        found += passengers(van, counted.person)
    if case.belongings:
        found += belongings(van)
    return tuple(found)


def rear_share(entry: Load, wheelbase: float) -> float:
    """Return the share of a load that the rear axle carries; beyond 0 and 1 outside the wheelbase."""
    return entry.x / wheelbase


def total(entries: tuple[Load, ...]) -> float:
    """Return the sum of the masses in kg."""
    return sum(entry.mass for entry in entries)


def on_rear(entries: tuple[Load, ...], wheelbase: float) -> float:
    """Return what the rear axle carries in kg, by moments about the front axle."""
    return sum(entry.mass * rear_share(entry, wheelbase) for entry in entries)


def doubt(entries: tuple[Load, ...], share: Callable[[Load], float], slope: float) -> float:
    """Return how far a weighted sum may be off when every doubt goes the wrong way.

    Each mass doubt by its share, each place doubt by its mass and the share's change per metre.
    """
    return sum(
        entry.mass_doubt * abs(share(entry)) + abs(entry.mass) * entry.x_doubt * slope for entry in entries
    )


@fact(Header, MASS, axis=Axis.loading, formula="Σ mass", source=BUILDER)
def laden_mass(build: Subject) -> float:
    """Mass of the van in this case."""
    return total(build.loads)


@fact(Header, MASS, axis=Axis.loading, formula=MOMENTS, source=BUILDER)
def rear_axle_load(build: Subject) -> float:
    """Load of the rear axle in this case."""
    return on_rear(build.loads, build.vehicle.wheelbase)


@fact(Header, MASS, axis=Axis.loading, formula=MOMENTS, source=BUILDER)
def front_axle_load(build: Subject) -> float:
    """Load of the front axle in this case."""
    return float(build.laden_mass - build.rear_axle_load)


@fact(Header, LENGTH, axis=Axis.loading, formula="Σ mass × distance ÷ Σ mass", source=BUILDER)
def centre_of_gravity(build: Subject) -> float:
    """Distance of the centre of gravity behind the front axle in this case."""
    return float(build.rear_axle_load * build.vehicle.wheelbase / build.laden_mass)


WORST = "sum of all doubts: scale step, masses by how they are known, places by their zone"


@fact(Header, MASS, axis=Axis.loading, formula=WORST, source="worst case, linear")
def laden_mass_doubt(build: Subject) -> float:
    """How far the mass in this case may be off, every doubt taken the wrong way."""
    return doubt(build.loads, lambda _: 1.0, 0.0)


@fact(Header, MASS, axis=Axis.loading, formula=WORST, source="worst case, linear")
def rear_axle_doubt(build: Subject) -> float:
    """How far the load of the rear axle may be off, every doubt taken the wrong way."""
    wheelbase = build.vehicle.wheelbase
    return doubt(build.loads, lambda entry: rear_share(entry, wheelbase), 1 / wheelbase)


@fact(Header, MASS, axis=Axis.loading, formula=WORST, source="worst case, linear")
def front_axle_doubt(build: Subject) -> float:
    """How far the load of the front axle may be off, every doubt taken the wrong way."""
    wheelbase = build.vehicle.wheelbase
    return doubt(build.loads, lambda entry: 1 - rear_share(entry, wheelbase), 1 / wheelbase)
