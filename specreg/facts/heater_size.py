"""The heaters against the loss: what they give at height, and what they use in a night."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text
from specreg.graph.walk import reached
from specreg.model.build import Header
from specreg.model.coolant import EngineCoolantTakeoff, HeatExchanger, Radiator
from specreg.model.fuel import FuelTakeoff, FuelTank
from specreg.model.heat import CombinedHeater, ElectricHeater, Heater, HydronicHeater
from specreg.model.port import Medium, Terminal
from specreg.tables import environment
from specreg.units import Dimension

POWER = number(Dimension.power)
ENERGY = number(Dimension.energy)
GAS_DERATE = "NFPA 54 table E.1.1(d): gas gives 4 % less for each 1000 ft above the sea, above 2000 ft"


def room_heaters(van: Facts) -> list[Subject]:
    """Return what burns fuel to warm the living space."""
    return list(van.of_class(Heater))


def dc_heaters(van: Facts) -> list[Subject]:
    """Return the electric heaters on direct current."""
    return [heater for heater in van.of_class(ElectricHeater) if heater.energy == "dc"]


def _height(van: Facts) -> float:
    height = van.whole.get("greatest_altitude")
    if height is None:
        van.assume("heaters reckoned at sea level: no place of use states its altitude")
    return height or 0.0


@fact(
    Heater,
    POWER,
    formula="stated output × share that is left at the highest place (gas); at most what its radiators give",
    source=GAS_DERATE,
)
def output_at_height(heater: Subject) -> float:
    """Heat that it gives at the highest place the van is meant for."""
    height = _height(heater.van)
    found = float(heater.output) * heater.count
    if heater.burns_gas:
        found *= environment.altitude_factor(height)
    elif height:
        heater.van.assume(f"{heater.name}: output of liquid fuel not reduced with height; its maker's kit is")
    radiators = [r for r in heater.van.of_class(Radiator) if r.get("output") is not None]
    if isinstance(heater.model, HydronicHeater) and radiators:
        found = min(found, sum(float(one.output) * one.count for one in radiators))
    return float(found)


@fact(
    Header,
    list_of(text()),
    formula="air heaters, hydronic and combined heaters, and electric heaters on the battery",
    source="the spec",
)
def sleeping_heaters(build: Subject) -> tuple[str, ...]:
    """Heaters that warm the living space at night without hook-up or engine."""
    return tuple(h.name for h in (*room_heaters(build.van), *dc_heaters(build.van)))


@fact(
    Header,
    POWER,
    formula="Σ output at height of the fuel heaters + power of electric heaters on the battery",
    source=f"addition; {GAS_DERATE}",
)
def heater_output(build: Subject) -> float:
    """Heat that all heaters give without hook-up or engine."""
    van = build.van
    if not build.sleeping_heaters:
        raise Missing(reason="no heater that works without hook-up or engine is listed")
    burning = sum(float(heater.output_at_height) for heater in room_heaters(van))
    return float(burning + sum(heater.power * heater.count for heater in dc_heaters(van)))


@fact(
    Header,
    POWER,
    formula="Σ mains power of electric heaters and of combined heaters' elements",
    source="addition",
)
def hook_up_heat(build: Subject) -> float:
    """Heat that electric heaters add while the van is hooked up."""
    van = build.van
    electric = [h for h in van.of_class(ElectricHeater) if h.energy == "mains"]
    elements = [h for h in van.of_class(CombinedHeater) if h.get("mains_power") is not None]
    return float(sum(heater.mains_power * heater.count for heater in (*electric, *elements)))


@fact(
    Header,
    POWER,
    formula="Σ output of the radiators that the engine's coolant reaches, at most what exchangers pass on",
    source="the graph; makers' figures",
)
def engine_heat(build: Subject) -> float:
    """Heat that the engine's coolant adds under way, with the engine warm; none of it at night."""
    van = build.van
    taps = [Terminal(tap.id, "engine-coolant-flow", "flow") for tap in van.of_class(EngineCoolantTakeoff)]
    seen = {end.component for end in reached(van.net, taps, lambda edge, *_: edge.medium is Medium.water)}
    direct = _of_radiators(van, seen)
    behind = [one for one in van.of_class(HeatExchanger) if one.id in seen and one.secondary == "coolant"]
    ends = [Terminal(one.id, "coolant-out", "flow") for one in behind]
    warmed = {end.component for end in reached(van.net, ends, lambda edge, *_: edge.medium is Medium.water)}
    passed = float(sum(one.output * one.count for one in behind))
    return direct + min(passed, _of_radiators(van, warmed - seen))


def _of_radiators(van: Facts, among: set[str]) -> float:
    return float(sum(r.output * r.count for r in van.of_class(Radiator) if r.id in among))


@fact(Header, POWER, formula="output of all heaters − greatest loss", source="subtraction")
def heat_to_spare(build: Subject) -> float:
    """Heat to spare at the design temperature, at least; below 0 it gets colder than meant."""
    return float(build.heater_output - build.greatest_heat_loss)


def _running(build: Subject, loss: float) -> float:
    output = float(build.heater_output)
    return min(1.0, loss / output) if output else 1.0


def _liquid(van: Facts) -> float:
    """Return m³/s of liquid fuel of all heaters at full output."""
    return float(sum(_fuel(h) * h.count for h in room_heaters(van) if not h.burns_gas))


def _fuel(heater: Subject) -> float:
    stated = heater.get("fuel_flow")
    if stated is not None:
        return float(stated)
    if heater.burnt_fuel != "diesel":
        raise Missing(f"{heater.id}.fuel_flow")
    heater.van.assume(f"{heater.name}: fuel from its input and 9.948 kWh/L of diesel (US DOE, net)")
    return float(heater.input) / environment.constant("diesel-net-heating-value").value


def _gas(van: Facts) -> float:
    """Return kg/s of gas of all heaters at full output."""
    return float(sum(_gas_of(h) * h.count for h in room_heaters(van) if h.burns_gas))


def _gas_of(heater: Subject) -> float:
    stated = heater.get("gas_flow")
    if stated is not None:
        return float(stated)
    basis = heater.input_basis
    return float(heater.input) / environment.constant(f"propane-{basis}-heating-value").value


FUEL = "share of full output that the loss asks for × fuel at full output × length of a night"


@fact(
    Header,
    number(Dimension.volume),
    formula=f"least loss: {FUEL}",
    source="fuel in step with heat; makers' figures",
)
def least_fuel_of_a_night(build: Subject) -> float:
    """Diesel or petrol burnt in a night at the design temperature, at least."""
    return _running(build, build.least_heat_loss) * _liquid(build.van) * float(build.night_length)


@fact(
    Header,
    number(Dimension.volume),
    formula=f"greatest loss: {FUEL}",
    source="fuel in step with heat; makers' figures",
)
def greatest_fuel_of_a_night(build: Subject) -> float:
    """Diesel or petrol burnt in a night at the design temperature, at most."""
    return _running(build, build.greatest_heat_loss) * _liquid(build.van) * float(build.night_length)


@fact(
    Header,
    number(Dimension.mass),
    formula=f"least loss: {FUEL}",
    source="gas in step with heat; makers' figures, else the input over propane's heating value",
)
def least_gas_of_a_night(build: Subject) -> float:
    """Gas burnt for heat in a night at the design temperature, at least."""
    return _running(build, build.least_heat_loss) * _gas(build.van) * float(build.night_length)


@fact(
    Header,
    number(Dimension.mass),
    formula=f"greatest loss: {FUEL}",
    source="gas in step with heat; makers' figures, else the input over propane's heating value",
)
def greatest_gas_of_a_night(build: Subject) -> float:
    """Gas burnt for heat in a night at the design temperature, at most."""
    return _running(build, build.greatest_heat_loss) * _gas(build.van) * float(build.night_length)


@fact(
    Header,
    ENERGY,
    formula="Σ power of the heaters × share of full output × length of a night",
    source="E = P·t; a heater's own power is taken to follow its heat",
)
def greatest_electricity_of_heating(build: Subject) -> float:
    """Electrical energy that the heaters take in a night at the design temperature, at most."""
    van = build.van
    heaters = [*room_heaters(van), *dc_heaters(van)]
    power = sum(float(heater.power) * heater.count for heater in heaters)
    return float(_running(build, build.greatest_heat_loss) * power * build.night_length)


@fact(
    Header,
    number(),
    formula="(tanks − what their take-offs leave) / fuel of a night at most, down to halves",
    source="division; driving uses none of it",
)
def nights_of_heating_fuel(build: Subject) -> float:
    """Nights at the design temperature that a full tank of liquid fuel heats."""
    van = build.van
    burnt = float(build.greatest_fuel_of_a_night)
    tanks = list(van.of_class(FuelTank))
    if not tanks or burnt <= 0:
        raise Missing(reason="no heater burns liquid fuel from a listed tank")
    left = sum(float(one.reserve_left) for one in van.of_class(FuelTakeoff))
    usable = sum(float(tank.volume) * tank.count for tank in tanks) - left
    return int(max(0.0, usable) / burnt * 2 + 1e-9) / 2
