"""Electrical energy from the battery: what each thing takes in a day, and how long a full battery lasts."""

from __future__ import annotations

from math import floor

from specreg.facts.current_path import supply_port
from specreg.facts.engine import Facts, Subject
from specreg.facts.load_current import nominal_supply
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.source_voltage import reaching
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.model.charging import DcConverter, ShoreCharger
from specreg.model.component import AcConsumer, Component, Consumer
from specreg.model.dc import Battery
from specreg.model.inverting import Inverting
from specreg.model.loads import DcOutlet, Fridge
from specreg.units import Dimension

DAY = 86_400.0
AGED = 0.8
"""Share of its capacity that a battery has left when it counts as worn: common practice, no source."""

CONVERTER = 0.9
"""What a converter between two voltages hands on where it does not say: common practice, no source."""

USE = (
    "power × hours × duty + standby × the rest of the day; × count; a fridge by its daily energy or duty; "
    "÷ the efficiency of the converters on the way from the battery"
)


@fact(Component, number(Dimension.energy), formula=USE, source="P·t; the hours are the spec's")
def energy_per_day(load: Subject) -> float:
    """Energy that it takes from the battery on a typical day."""
    return _own_energy(load) / _handed_on(load)


def _own_energy(load: Subject) -> float:
    model = load.model
    if getattr(model, "runs_in", None) == ("shore",):
        load.van.assume(f"{load.name} runs on hook-up only and is left out")
        return 0.0
    if isinstance(model, DcConverter):
        return model.count * _idle(load)
    if isinstance(model, Inverting):
        return model.count * float(load.idle_power * load.hours_per_day)
    if isinstance(model, DcOutlet):
        return model.count * float(load.expected_power * load.hours_per_day)
    if isinstance(model, Fridge):
        return model.count * _fridge(load)
    if isinstance(model, Consumer):
        return model.count * _in_use(load)
    raise Missing(reason=f"{load.name} takes no energy from the battery")


def _idle(converter: Subject) -> float:
    idle = converter.get("idle_power")
    if idle is None:
        converter.van.assume(f"{converter.name}: power without load is not stated and not counted")
    return 0.0 if idle is None else float(idle) * DAY


def _handed_on(load: Subject) -> float:
    """Return the share that converters in a row hand on to a load; 1 where a battery is joined to it."""
    van, known = load.van, dict[str, float]()
    before = van.once(converters_before)
    direct = tuple(one for one in _feeding(van, load.id) if one in before)
    for name in _in_a_row(before, direct):
        shares = (known[one] * _efficiency(van.subject(one), CONVERTER) for one in before[name])
        known[name] = min(shares, default=1.0)
    shares = (known[one] * _efficiency(van.subject(one), CONVERTER) for one in direct)
    return min(shares, default=1.0)


def _in_a_row(before: dict[str, tuple[str, ...]], last: tuple[str, ...]) -> list[str]:
    """Return these converters and all before them, those nearest to a battery first."""
    wanted, more = set(last), list(last)
    while more:
        new = [one for one in before[more.pop()] if one not in wanted]
        wanted.update(new)
        more += new
    return [name for name in before if name in wanted]


def converters_before(van: Facts) -> dict[str, tuple[str, ...]]:
    """Return for each converter those that feed it: none at a battery, and none that stands further from one.

    They are told nearest to a battery first, so that no ring of converters leads on for ever.
    """
    waiting = {one.id: set(_feeding(van, one.id)) for one in van.of_class(DcConverter)}
    found: dict[str, tuple[str, ...]] = {}
    level = [name for name, feeding in waiting.items() if not feeding & waiting.keys()]
    while level:
        found |= {name: tuple(one for one in found if one in waiting[name]) for name in level}
        level = [name for name, feeding in waiting.items() if name not in found and feeding & found.keys()]
    return found | {name: () for name in waiting if name not in found}


def _feeding(van: Facts, name: str) -> tuple[str, ...]:
    """Return what is joined to a load and feeds it; nothing where a battery is among it."""
    found = dict.fromkeys(source.component for source in reaching(van, name))
    return () if any(isinstance(van.build.components[one], Battery) for one in found) else tuple(found)


def _efficiency(part: Subject, usual: float) -> float:
    """Return what a converter or inverter hands on, where it does not say, the usual."""
    stated = part.get("efficiency")
    if stated is None:
        part.van.assume(f"{part.name} taken to hand on {usual:.0%} (common practice, no source)")
        return usual
    if stated <= 0:
        raise Missing(f"{part.id}.efficiency")
    return float(stated)


def _fridge(load: Subject) -> float:
    stated = load.get("daily_energy")
    if stated is not None:
        return float(stated)
    if load.get("duty") is None:
        raise Missing(f"{load.id}.daily_energy")
    return _power(load) * DAY * float(load.duty)


def _in_use(load: Subject) -> float:
    """Return running and standby energy; a load without a duty runs all of its hours."""
    hours = float(load.hours_per_day)
    duty, standby = load.get("duty"), load.get("standby")
    waiting = 0.0 if standby is None else float(standby) * max(0.0, DAY - hours)
    return (_power(load) * hours * (1.0 if duty is None else float(duty)) if hours else 0.0) + waiting


def _power(load: Subject) -> float:
    stated = load.get("power")
    return float(stated) if stated is not None else float(load.current) * nominal_supply(load)


def battery_loads(facts: Facts) -> tuple[str, ...]:
    """Return everything wired that takes energy from the battery by itself."""
    wired = {joint.component for ends in facts.build.ends.values() for joint in (ends.start, ends.finish)}
    kinds = (Consumer, DcOutlet, Inverting, DcConverter)
    return tuple(
        name
        for name, component in facts.build.components.items()
        if name in wired and isinstance(component, kinds) and supply_port(component) is not None
    )


EFFICIENCY = 0.85
"""What an inverter hands on of the battery's energy where it does not say: common practice, no source."""


@fact(
    AcConsumer,
    number(Dimension.energy),
    formula="mains power × hours × count / efficiency of the inverter; 0 where no inverter feeds it",
    source="P·t / η; the hours are the spec's",
)
def energy_through_inverter(appliance: Subject) -> float:
    """Energy that a mains appliance takes from the battery on a typical day."""
    model = appliance.model
    inverters = appliance.in_case("inverter").mains_sources
    modes = getattr(model, "modes", ())
    if not inverters or isinstance(model, ShoreCharger) or (modes and "inverter" not in modes):
        return 0.0
    assert isinstance(model, AcConsumer)
    taken = model.count * float(appliance.mains_power) * float(appliance.mains_hours_per_day)
    return taken / min(_efficiency(appliance.van.subject(name), EFFICIENCY) for name in inverters)


def inverted_loads(facts: Facts) -> tuple[str, ...]:
    """Return every mains appliance, where an inverter is fitted that could feed it."""
    parts = facts.build.components
    if not any(isinstance(part, Inverting) for part in parts.values()):
        return ()
    return tuple(name for name, part in parts.items() if isinstance(part, AcConsumer))


def takers(facts: Facts) -> list[tuple[str, str]]:
    """Return everything that takes energy from the battery, each with the fact that says how much."""
    asked = [(name, "energy_per_day") for name in facts.once(battery_loads)]
    return asked + [(name, "energy_through_inverter") for name in facts.once(inverted_loads)]


@fact(
    Header,
    number(Dimension.energy),
    formula="Σ energy per day of every load on the battery, of the inverter's idling and of what it feeds",
    source="addition",
)
def daily_energy_use(build: Subject) -> float:
    """Energy that the battery gives on a typical day."""
    found = 0.0
    missing: list[str] = []
    for name, fact_name in takers(build.van):
        try:
            found += float(getattr(build.van.subject(name), fact_name))
        except Missing as absent:
            missing += absent.fields
    if missing:
        raise Missing(*dict.fromkeys(missing))
    if build.van.once(inverted_loads):
        build.van.assume("plugged-in things without an entry of their own are not in the daily energy")
        build.van.assume("water heaters are taken to heat on mains only while the van is hooked up")
    return found


@fact(
    Header,
    number(Dimension.energy),
    formula="Σ capacity × nominal voltage × usable share of the house batteries, less the reserve",
    source="E = Q·U",
)
def usable_energy(build: Subject) -> float:
    """Energy in the full house batteries that is used day by day."""
    batteries = [b for b in build.van.of_class(Battery) if b.role == "house"]
    if not batteries:
        raise Missing(reason="the spec has no house battery")
    return sum(_usable(battery, build) for battery in batteries)


def _usable(battery: Subject, build: Subject) -> float:
    share, reserve = battery.get("usable"), build.van.build.header.use.reserve
    if share is None and reserve is None:
        raise Missing(f"{battery.id}.usable")
    shares = [float(share)] if share is not None else []
    shares += [1 - reserve] if reserve is not None else []
    return float(battery.capacity * battery.nominal_voltage * min(shares))


@fact(
    Header,
    number(),
    formula="usable energy / daily use, down to half days",
    source="division; no charging of any kind, a new battery, no allowance for cold",
)
def most_days_without_charge(build: Subject) -> float:
    """Days that the full battery lasts when it is new."""
    return halves(build.usable_energy / _use(build))


@fact(
    Header,
    number(),
    formula="0.8 × usable energy / daily use, down to half days",
    source="a battery counts as worn at 80 % of its capacity: common practice, no source",
)
def least_days_without_charge(build: Subject) -> float:
    """Days that the full battery lasts when it is worn."""
    build.van.assume("worn battery taken at 80 % of its capacity (common practice, no source)")
    return halves(AGED * build.usable_energy / _use(build))


def _use(build: Subject) -> float:
    used = float(build.daily_energy_use)
    if not used:
        raise Missing(reason="nothing takes energy from the battery")
    return used


def halves(days: float) -> float:
    """Return days down to halves."""
    return floor(days * 2 + 1e-9) / 2
