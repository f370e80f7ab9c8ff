"""Liquefied gas: how much is asked for, how long a cylinder lasts, lockers, hoses and regulators."""

from __future__ import annotations

from collections.abc import Callable

from specreg.facts.engine import Subject
from specreg.facts.gas_path import downstream_of
from specreg.facts.registry import fact
from specreg.facts.stated import stated
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.component import CombustionAppliance, System
from specreg.model.gas import GasCylinder, GasLocker, GasOutlet, GasStore, GasTank, Regulator
from specreg.model.port import Medium, Terminal
from specreg.model.run import GasRun
from specreg.tables import environment
from specreg.units import Dimension

DAY = 86_400.0
LASTS = "content × usable share ÷ Σ gas use × hours of burning a day"
RATE = number(Dimension.mass_flow)
HEATING = "propane 46.3 MJ/kg net (formation enthalpies), 50.1 gross after vaporisation (NFPA 58 style table)"


@fact(
    CombustionAppliance,
    RATE,
    formula="the stated gas use, else input ÷ heating value on the basis that the input is stated on",
    source=HEATING,
)
def gas_use(appliance: Subject) -> float | None:
    """Gas that it uses at full output."""
    if not appliance.burns_gas:
        return None
    flow = stated(appliance, "gas_flow")
    if flow is not None:
        return float(flow)
    name = "propane-net-heating-value"
    if appliance.input_basis == "gross":
        name = "propane-gross-heating-value-vaporised"
    if appliance.burnt_fuel != "propane":
        appliance.van.assume(f"{appliance.name}: reckoned with the heating value of propane")
    return float(appliance.input / environment.constant(name).value)


def users_behind(subject: Subject, terminal: Terminal) -> list[Subject]:
    """Return what uses gas behind a terminal: appliances and outlets."""
    names = downstream_of(subject.van, terminal)
    things = [subject.van.subject(name) for name in names]
    return [thing for thing in things if isinstance(thing.model, CombustionAppliance | GasOutlet)]


def gas_rate(thing: Subject) -> float:
    """Return the gas that all alike that stand as one appliance or outlet use at full output, in kg/s."""
    one = thing.gas_flow if isinstance(thing.model, GasOutlet) else thing.gas_use
    return float(one * thing.count)


@fact(Regulator, list_of(text()), formula="appliances and outlets behind it on the graph", source="the graph")
def serves(regulator: Subject) -> tuple[str, ...]:
    """What it feeds."""
    return tuple(thing.name for thing in users_behind(regulator, Terminal(regulator.id, "out", "flow")))


@fact(Regulator, RATE, formula="Σ gas use at full output of all that it feeds", source=HEATING)
def demand(regulator: Subject) -> float:
    """Gas that everything behind it uses at once."""
    return sum(gas_rate(thing) for thing in users_behind(regulator, Terminal(regulator.id, "out", "flow")))


@fact(GasStore, RATE, formula="Σ gas use at full output of all that it feeds", source=HEATING)
def demand_on_it(store: Subject) -> float:
    """Gas that everything behind it uses at once."""
    return sum(gas_rate(thing) for thing in users_behind(store, Terminal(store.id, "valve", "flow")))


@fact(
    GasStore,
    number(Dimension.mass),
    formula="a cylinder's content; a tank's volume × fill limit × 503 kg/m³ of liquid propane; of all alike",
    source="NFPA 58 style property table: 4.20 lb/gal at 60 °F",
)
def gas_when_full(store: Subject) -> float:
    """Gas in it when full."""
    if isinstance(store.model, GasTank):
        limit = store.get("fill_limit") or environment.constant("propane-tank-fill-share").value
        one = store.volume * limit * environment.constant("propane-liquid-density").value
    else:
        one = store.content
    return float(one * store.count)


def _lasts(store: Subject, hours: Callable[[Subject], float]) -> float | None:
    """Return the time that one filling lasts when each appliance burns for some hours a day."""
    users = users_behind(store, Terminal(store.id, "valve", "flow"))
    outlets = [thing.id for thing in users if isinstance(thing.model, GasOutlet)]
    for name in outlets:
        store.van.assume(f"{name}: what is used outside is not counted in the days of a cylinder")
    burning = [thing for thing in users if thing.id not in outlets]
    daily = sum(gas_rate(thing) * hours(thing) for thing in burning)
    if daily <= 0:
        return None
    return _usable_gas(store) / daily * DAY


def _usable_gas(store: Subject) -> float:
    usable = store.get("usable")
    if usable is None:
        store.van.assume(f"{store.name}: used to the last gram; cold leaves some of it behind")
        usable = 1.0
    return float(store.gas_when_full * usable)


@fact(GasStore, number(Dimension.time), formula=LASTS, source=HEATING)
def lasts(store: Subject) -> float | None:
    """Time that one filling lasts at the stated use."""
    return _lasts(store, lambda thing: float(thing.burn_hours_per_day))


def _winter_hours(thing: Subject) -> float:
    winter = thing.get("burn_hours_in_winter")
    if winter is None:
        thing.van.assume(f"{thing.name}: burns in winter as on any day")
        return float(thing.burn_hours_per_day)
    return float(winter)


@fact(GasStore, number(Dimension.time), formula=LASTS, source=HEATING)
def lasts_in_winter(store: Subject) -> float | None:
    """Time that one filling lasts on winter days."""
    return _lasts(store, _winter_hours)


@fact(
    GasStore,
    number(Dimension.time),
    formula="content × usable share ÷ Σ gas use at full output",
    source=HEATING,
)
def lasts_at_full_output(store: Subject) -> float | None:
    """Time that one filling lasts when everything burns at full output."""
    if store.demand_on_it <= 0:
        return None
    return float(_usable_gas(store) / store.demand_on_it)


@fact(
    GasLocker,
    number(Dimension.area),
    formula="max(2 % of the floor, 100 cm²)",
    source="EN 1949 via DVGW G 607",
)
def single_vent_due(locker: Subject) -> float:
    """Free area asked for where the locker has a low opening only."""
    return environment.locker_vent_area(locker.floor_area).value


@fact(
    GasLocker,
    number(Dimension.area),
    formula="max(1 % of the floor, 50 cm²)",
    source="EN 1949 via DVGW G 607",
)
def split_vent_due(locker: Subject) -> float:
    """Free area asked for low and again high, where the locker has both openings."""
    return environment.locker_vent_area_split(locker.floor_area).value


@fact(
    GasLocker, number(Dimension.area), formula="1 % of the floor: half of 2 %", source="675 IAC 15-2-74(c)(2)"
)
def half_vent_due_us(locker: Subject) -> float:
    """Free area asked for low and again high by the rule for vehicles in Indiana."""
    return environment.locker_vent_area_us(locker.floor_area).value / 2


@fact(
    GasLocker,
    number(Dimension.area),
    formula="as stated; 0 where no high opening is stated",
    source="the spec",
)
def high_opening(locker: Subject) -> float:
    """Free area of its high opening."""
    stated = locker.get("vent_area_high")
    if stated is None:
        locker.van.assume(f"{locker.name}: no high opening is stated, so none is counted")
    return float(stated or 0.0)


@fact(
    GasLocker,
    list_of(text()),
    formula="electrical things listed in it, and components with a cable whose box has its middle inside",
    source="the spec; geometry",
)
def ignition_sources(locker: Subject) -> tuple[str, ...]:
    """Electrical things in the locker that are no part of the gas system."""
    named = [*locker.electrical_items, *locker.contents]
    known = locker.van.build.components
    found = [n for n in locker.electrical_items if n not in known]
    found += [n for n in named if n in known and _sparks(locker, n)]
    found += [name for name in known if _inside(locker, name) and _sparks(locker, name)]
    return tuple(dict.fromkeys(found))


def _sparks(locker: Subject, name: str) -> bool:
    component = locker.van.build.components[name]
    if component.system is System.gas:  # valves, sensors and heated regulators are made for the place
        return False
    media = {port.medium for port in component.ports()}
    return bool(media & {Medium.dc, Medium.ac}) or isinstance(component, CombustionAppliance)


def stands_in(locker: Subject, name: str) -> bool:
    """Tell whether a thing stands in a locker: listed, fixed to it, or with its middle inside its box."""
    known = locker.van.build.components
    return name in locker.contents or known[name].fixed_to == locker.id or _inside(locker, name)


def _inside(locker: Subject, name: str) -> bool:
    corner, size = locker.get("at"), locker.get("size")
    thing = locker.van.build.components[name]
    if corner is None or size is None or thing.at is None:
        return False
    middle = [a + s / 2 for a, s in zip(thing.at, thing.size or (0.0, 0.0, 0.0), strict=True)]
    return all(c <= m <= c + s for c, m, s in zip(corner, middle, size, strict=True))


@fact(
    GasRun,
    number(Dimension.time),
    formula="from its date of manufacture to the day of judgement",
    source="the spec",
)
def hose_age(run: Subject) -> float:
    """Age of the hose."""
    return float((run.van.on - run.made_on).days * DAY)


@fact(
    Regulator,
    number(Dimension.time),
    formula="from its date of manufacture to the day of judgement",
    source="the spec",
)
def regulator_age(regulator: Subject) -> float:
    """Age of the regulator."""
    return float((regulator.van.on - regulator.made_on).days * DAY)


@fact(
    GasCylinder,
    TRUTH,
    formula="it stands upright, and something holds its foot and something holds it higher up",
    source="the spec",
)
def held_upright(cylinder: Subject) -> bool:
    """Whether it stands upright and is held low and high."""
    held = cylinder.held_low != "none" and cylinder.held_high != "none"
    return bool(held and cylinder.orientation == "upright")
