"""What the loading cases put into the van: fluids, people at their seats, and what they bring."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from specreg.facts.coolant import coolant_pipes
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.run_mass import volume_in
from specreg.facts.standing import Standing, between, standing
from specreg.model import vehicle as vehicle_model
from specreg.model.build import Jurisdiction
from specreg.model.component import Component
from specreg.model.fuel import FuelTank
from specreg.model.gas import GasCylinder, GasTank
from specreg.model.heat import CombinedHeater
from specreg.model.hot_water import WaterHeater
from specreg.model.run import WaterRun
from specreg.model.structure import FuelCan
from specreg.model.waste import BlackTank, Cassette, GreyTank, Toilet, UrineTank
from specreg.model.water import FreshTank
from specreg.tables import environment, vehicle

WATER_DENSITY = vehicle.WATER_MASS_US.value
LPG_DENSITY = vehicle.LPG_MASS_TRADE.value
FUEL_DENSITY = {"diesel": environment.constant("diesel-density").value, "petrol": 745.0}
"""Fuel in kg/m³; both from memory (EN 590 and EN 228 give ranges)."""

FROM_VOLUME = "computed from its volume"


@dataclass(frozen=True, slots=True)
class Load:
    """One entry of the sum of moments: a mass in kg, where it sits in m, and how far each may be off.

    Its height `z` is above the load floor. `known` says how the mass is known, `place` what says where it is.
    """

    name: str
    subject: str
    mass: float
    mass_doubt: float
    x: float
    x_doubt: float
    y: float
    y_doubt: float
    z: float = 0.0
    z_doubt: float = 0.0
    known: str = "stated"
    place: str = "stated"


def load(name: str, subject: str, mass: float, place: Standing, doubt: float, known: str) -> Load:
    """Return a load of a mass at a place."""
    at = (place.x, place.along, place.y, place.across, place.z, place.up)
    return Load(name, subject, mass, doubt, *at, known, place.told)


@dataclass(frozen=True, slots=True)
class Convention:
    """How a jurisdiction counts the empty vehicle and a person."""

    words: str
    person: float
    driver: bool
    fuel: float
    water_and_gas: float


EU = Convention(
    "running order as in the EU: driver 75 kg, fuel 90 %, fresh water and gas full; a person is 75 kg",
    vehicle.DRIVER_MASS_EU.value, True, vehicle.FUEL_SHARE_EU.value, 1.0,
)  # fmt: skip
US = Convention(
    "unladen as in the US: fuel full, no driver, no water, no gas; a person is 68 kg (150 lb)",
    vehicle.PASSENGER_MASS_US.value, False, 1.0, 0.0,
)  # fmt: skip


def convention(van: Facts) -> Convention:
    """Return the convention that counts, noted as an assumption: the EU's unless only US or CA are named."""
    american = {Jurisdiction.us, Jurisdiction.ca}
    chosen = US if set(van.build.header.jurisdictions) <= american else EU
    van.assume(chosen.words)
    return chosen


@dataclass(frozen=True, slots=True)
class Filling:
    """How full everything is in a loading case; waste stays empty until the fresh water has been used."""

    fuel: float
    fresh: float
    hot: float
    gas: float
    waste: float
    people: Literal["", "driver", "all"]
    belongings: bool

    @property
    def shares(self) -> dict[str, float]:
        """Return how full each sort of vessel is; what no pump draws stays in when the rest became waste."""
        own = {"belongings": float(self.belongings)}
        water = {"fresh": self.fresh, "dead": max(self.fresh, self.waste), "hot": self.hot}
        return {**water, "gas": self.gas, "waste": self.waste, "fuel": self.fuel, **own}


def filling(case: str, counted: Convention) -> Filling:
    """Return what a loading case puts in.

    `as converted` is the jurisdiction's empty vehicle. `full tanks` adds the driver and fills whatever is
    filled before leaving. `all seats` is the empty vehicle with every travel seat taken. `everything` is
    full tanks, all seats, belongings. On the way home waste tanks and fuel are full, and of the fresh water
    only what no pump draws is left.
    """
    empty = counted.water_and_gas
    return {
        "as converted": Filling(
            counted.fuel, empty, empty, empty, 0.0, "driver" if counted.driver else "", False
        ),
        "full tanks": Filling(1.0, 1.0, 1.0, 1.0, 0.0, "driver", False),
        "all seats": Filling(1.0, empty, empty, empty, 0.0, "all", False),
        "everything": Filling(1.0, 1.0, 1.0, 1.0, 0.0, "all", True),
        "grey full, fresh empty": Filling(1.0, 0.0, 1.0, 1.0, 1.0, "all", True),
    }[case]


Read = Callable[[Subject], float]


def _water(tank: Subject) -> float:
    return float(tank.volume) * WATER_DENSITY


def _water_if_any(thing: Subject, field: str) -> float:
    """Return what a part holds that not every thing of its kind has: without a volume there is none."""
    return float(thing.get(field) or 0.0) * WATER_DENSITY


def drawable(tank: Subject) -> float:
    """Return what a pump can draw from one full fresh tank in m³. Raises Missing for its volume."""
    return max(0.0, float(tank.volume) - float(tank.get("dead_volume") or 0.0))


def _drawn(tank: Subject) -> float:
    return drawable(tank) * WATER_DENSITY


def _dead(tank: Subject) -> float:
    return (float(tank.volume) - drawable(tank)) * WATER_DENSITY


def _tank_gas(tank: Subject) -> float:
    limit = tank.get("fill_limit") or vehicle.LPG_FILL_SHARE.value
    return float(tank.volume * limit * LPG_DENSITY)


def _can(can: Subject) -> float:
    return float(can.volume * FUEL_DENSITY.get(str(can.get("content")), FUEL_DENSITY["diesel"]))


def _own_fuel(tank: Subject) -> float:
    """Return what a tank beside the base vehicle's holds; that one's is counted by `vehicle_fuel`."""
    if tank.get("base_vehicle"):
        return 0.0
    return float(tank.volume * FUEL_DENSITY[tank.get("contents") or "diesel"])


VESSELS: tuple[tuple[type[Component], str, str, Read], ...] = (
    (FreshTank, "fresh water", "fresh", _drawn),
    (FreshTank, "water below the outlet", "dead", _dead),
    (Toilet, "flushing water", "fresh", lambda toilet: _water_if_any(toilet, "own_tank")),
    (WaterHeater, "water", "hot", lambda heater: _water_if_any(heater, "volume")),
    (CombinedHeater, "water", "hot", lambda heater: _water_if_any(heater, "water_volume")),
    (GreyTank, "grey water", "waste", _water),
    (BlackTank, "waste", "waste", _water),
    (UrineTank, "urine", "waste", _water),
    (Cassette, "waste", "waste", _water),
    (Toilet, "urine", "waste", lambda toilet: _water_if_any(toilet, "urine_volume")),
    (Toilet, "solids", "waste", lambda toilet: _water_if_any(toilet, "solids_volume")),
    (GasCylinder, "gas", "gas", lambda thing: float(thing.content)),
    (GasTank, "gas", "gas", _tank_gas),
    (FuelTank, "fuel", "fuel", _own_fuel),
    (FuelCan, "fuel", "belongings", _can),
)
"""What holds something, its content, the part of a filling that it follows, and the mass of one when full."""


ABOARD = {
    "fresh_water": ("fresh", "dead"),
    "hot_water": ("hot",),
    "waste_water": ("waste",),
    "gas": ("gas",),
    "heater_fuel": ("fuel",),
}
"""What a weighbridge ticket says of how full vessels were, by its field: the parts of a filling."""


def holds(van: Facts, field: str) -> bool:
    """Tell whether the van has a vessel that a field of a ticket speaks of."""
    kinds = [(kind, read) for kind, _, part, read in VESSELS if part in ABOARD[field]]
    return any(_may_hold(read, thing) for kind, read in kinds for thing in van.of_class(kind))


def _may_hold(read: Read, thing: Subject) -> bool:
    try:
        return read(thing) > 0
    except Missing:
        return True


def content_when_full(thing: Subject) -> float:
    """Return the mass in kg of all that a component holds when it is full. Raises Missing for its volume."""
    return float(
        sum(read(thing) for kind, _, _, read in VESSELS if isinstance(thing.model, kind)) * thing.count
    )


def contents(van: Facts, shares: Mapping[str, float]) -> Iterator[Load]:
    """Yield the content of every vessel. Raises one Missing that names every absent volume."""
    absent: list[str] = []
    if shares.get("fresh"):
        yield from _in_pipes(van)
    for kind, words, part, read in VESSELS:
        share = shares.get(part, 0.0)
        for thing in van.of_class(kind) if share else ():
            try:
                mass = read(thing) * thing.count * share
            except Missing as missing:
                absent += missing.fields
                continue
            if mass:
                yield load(f"{words} in {thing.name}", thing.id, mass, standing(thing), 0.0, FROM_VOLUME)
    if absent:
        raise Missing(*dict.fromkeys(absent))


def _in_pipes(van: Facts) -> Iterator[Load]:
    """Yield the water that stands in every water pipe; of which bore or length is not known is said."""
    untold = []
    for pipe in (one for one in van.of_class(WaterRun) if one.id not in van.once(coolant_pipes)):
        mass = volume_in(pipe) * WATER_DENSITY
        if mass:
            ends = van.build.ends[pipe.id]
            joint = (ends.start.component, ends.finish.component)
            place = between(van, *joint, pipe.name, f"{pipe.id}.length")
            yield load(f"water in {pipe.name}", pipe.id, mass, place, 0.0, FROM_VOLUME)
        else:
            untold.append(pipe.name)
    if untold:
        van.assume(f"not counted, for want of bore or length: water in {', '.join(untold)}")


def vehicle_fuel(van: Facts, share: float) -> Iterator[Load]:
    """Yield a share of the base vehicle's fuel, negative to take it out. Raises Missing without a volume."""
    if not share:
        return
    tank = van.build.header.vehicle.fuel_tank
    if tank is not None and tank.fuel == "electric":
        return
    for entry in van.of_class(FuelTank):
        if entry.get("base_vehicle"):
            density = FUEL_DENSITY[entry.get("contents") or "diesel"]
            yield load("fuel", entry.id, share * entry.volume * density, standing(entry), 0.0, FROM_VOLUME)
            return
    if tank is None or tank.volume is None:
        raise Missing("vehicle.fuel_tank.volume")
    mass = share * tank.volume * FUEL_DENSITY[tank.fuel or "diesel"]
    yield load("fuel", "", mass, _fuel_place(van, tank), 0.0, FROM_VOLUME)


def _fuel_place(van: Facts, tank: vehicle_model.FuelTank) -> Standing:
    if tank.at is not None:
        x, y, z = (c + s / 2 for c, s in zip(tank.at, tank.size or (0.0, 0.0, 0.0), strict=True))
        return Standing(x, y, z)
    wheelbase = van.whole.vehicle.wheelbase
    van.assume("fuel tank: place not stated, taken as anywhere between the axles")
    return Standing(wheelbase / 2, 0.0, 0.0, wheelbase / 2, told="anywhere between the axles")
