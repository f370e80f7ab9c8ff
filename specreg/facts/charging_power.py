"""Charging: what alternator and shore give the house batteries, and what these take and give at most."""

from __future__ import annotations

from math import inf

from specreg.facts.battery_string import pole, string_of
from specreg.facts.current_path import ways_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.state_of_charge import HOUR, Store
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.model.charging import Alternator, DcCharger, ShoreCharger
from specreg.model.component import Component
from specreg.model.dc import Battery
from specreg.model.inverting import InverterCharger
from specreg.model.port import Terminal
from specreg.units import Dimension

CHARGER = 0.85
"""What a charger hands on where it does not say: common practice, no source."""
LITHIUM = "lithium iron phosphate"
KEPT = {True: (0.92, 0.98), False: (0.75, 0.85)}
"""Share of the charge that comes back, least and most, of lithium and of lead: from memory."""
TAPER = {True: 0.05, False: 0.20}
"""Share of the content over which acceptance falls to nothing, lithium and lead: common practice."""


def house_batteries(van: Facts) -> list[Subject]:
    """Return the house batteries; raise Missing where there is none."""
    found = [battery for battery in van.of_class(Battery) if battery.role == "house"]
    if not found:
        raise Missing(reason="the spec has no house battery")
    return found


def _house_voltage(van: Facts) -> float:
    """Return the least nominal voltage of the house batteries; those in series add theirs."""
    strings = dict.fromkeys(string_of(van, battery.id) for battery in house_batteries(van))
    return min(sum(float(van.subject(one).nominal_voltage) for one in string) for string in strings)


def _charging(van: Facts, kinds: tuple[type[Component], ...]) -> list[Subject]:
    """Return the components of some kinds that conductors join to a house battery."""
    ways = ways_of(van, "positive")
    found: dict[str, None] = {}
    for battery in house_batteries(van):
        part = ways.tree.part(pole(van, battery.id))
        found.update(dict.fromkeys(ways.sources[t].component for t in part if t in ways.sources))
    return [van.subject(name) for name in found if isinstance(van.build.components[name], kinds)]


def _alternators(charger: Subject) -> list[Subject]:
    """Return the alternators that conductors join to a charger's input."""
    van, ways = charger.van, ways_of(charger.van, "positive")
    part = ways.tree.part(Terminal(charger.id, "input", "positive"))
    names = dict.fromkeys(ways.sources[t].component for t in part if t in ways.sources)
    return [van.subject(name) for name in names if isinstance(van.build.components[name], Alternator)]


def _spare(alternators: list[Subject]) -> float:
    """Return the power that alternators have left at rated speed."""
    return sum(
        max(0.0, float(one.rated_current - one.present_draw)) * float(one.charging_voltage)
        for one in alternators
    )


def _efficiency(charger: Subject) -> float:
    stated = charger.get("efficiency")
    if stated is None:
        charger.van.assume(f"{charger.name} taken to hand on {CHARGER:.0%} (common practice, no source)")
    if stated is not None and stated <= 0:
        raise Missing(f"{charger.id}.efficiency")
    return CHARGER if stated is None else float(stated)


@fact(
    DcCharger,
    number(Dimension.power),
    formula="min(output current × battery voltage, (rated − vehicle's own current) × charging voltage × η)",
    source="power balance; the spec's ratings",
)
def charging_power(charger: Subject) -> float:
    """Power with which it charges the house battery while driving."""
    own = float(charger.output_current) * _house_voltage(charger.van)
    alternators = _alternators(charger)
    if not alternators:
        raise Missing(reason=f"no alternator is joined to {charger.name}")
    charger.van.assume("alternator taken at its rated output, hot idling and slow traffic not counted")
    return min(own, _spare(alternators) * _efficiency(charger))


@fact(
    DcCharger, number(Dimension.energy), formula="charging power × 1 h", source="E = P·t; before the battery"
)
def charge_per_driving_hour(charger: Subject) -> float:
    """Energy that it offers the house battery in an hour's drive."""
    return float(charger.charging_power) * HOUR


@fact(
    Alternator,
    number(Dimension.share),
    formula="(vehicle's own current + input of the chargers joined to it / charging voltage) / rated current",
    source="power balance; the spec's ratings",
)
def share_taken(alternator: Subject) -> float:
    """Share of its rating that the vehicle and the charging of the house battery take together."""
    part = ways_of(alternator.van, "positive").tree.part(Terminal(alternator.id, "positive", "positive"))
    inputs = {t.component for t in part if t.port == "input"}
    chargers = [one for one in alternator.van.of_class(DcCharger) if one.id in inputs]
    asked = sum(float(one.charging_power) / _efficiency(one) for one in chargers)
    if alternator.charging_voltage <= 0 or alternator.rated_current <= 0:
        raise Missing(f"{alternator.id}.rated_current", f"{alternator.id}.charging_voltage")
    current = float(alternator.present_draw) + asked / float(alternator.charging_voltage)
    return current / float(alternator.rated_current)


@fact(
    Header,
    number(Dimension.power),
    formula="Σ of the chargers, on the same alternators at most through what these have to spare; where a "
    "contact joins alternator and battery, the alternator's spare output",
    source="power balance; the spec's ratings",
)
def charging_power_driving(build: Subject) -> float:
    """Power offered to the house batteries while driving."""
    direct = _charging(build.van, (Alternator,))
    if direct:
        build.van.assume("a battery joined to the alternator by a contact taken to get all its spare output")
        return _spare(direct)
    groups: dict[tuple[str, ...], list[Subject]] = {}
    for charger in _charging(build.van, (DcCharger,)):
        groups.setdefault(tuple(one.id for one in _alternators(charger)), []).append(charger)
    return sum((_together(chargers) for chargers in groups.values()), 0.0)


def _together(chargers: list[Subject]) -> float:
    """Return what chargers on the same alternators give at a time: in goes what these have to spare."""
    given = sum(float(one.charging_power) for one in chargers)
    asked = sum(float(one.charging_power) / _efficiency(one) for one in chargers)
    return given if asked <= 0 else given * min(1.0, _spare(_alternators(chargers[0])) / asked)


@fact(
    Header,
    number(Dimension.power),
    formula="Σ charging current of the chargers on mains × battery voltage",
    source="P = U·I",
)
def charging_power_on_shore(build: Subject) -> float:
    """Power offered to the house batteries on hook-up, the supply taken as strong enough."""
    chargers = _charging(build.van, (ShoreCharger, InverterCharger))
    volts = _house_voltage(build.van)
    return sum(float(charger.charge_current) * volts for charger in chargers)


@fact(
    Header,
    number(Dimension.power),
    formula="Σ greatest charging current × nominal voltage of the house batteries",
    source="P = U·I; the makers' limits",
)
def battery_takes_at_most(build: Subject) -> float:
    """Power with which the house batteries may be charged at most."""
    return _limit(build, "charge_current")


@fact(
    Header,
    number(Dimension.power),
    formula="Σ greatest discharge current × nominal voltage of the house batteries",
    source="P = U·I; the makers' limits",
)
def battery_gives_at_most(build: Subject) -> float:
    """Power that the house batteries may give at most."""
    return _limit(build, "discharge_current")


def _limit(build: Subject, field: str) -> float:
    batteries = house_batteries(build.van)
    return sum(float(getattr(one, field)) * float(one.nominal_voltage) for one in batteries)


def bank(build: Subject, *, most: bool, aged: float) -> Store:
    """Return the house batteries as one store; `aged` is the share of their capacity that is left."""
    batteries = house_batteries(build.van)
    lithium = all(battery.chemistry == LITHIUM for battery in batteries)
    full = aged * sum(float(one.capacity) * float(one.nominal_voltage) for one in batteries)
    if full <= 0:
        raise Missing(*(f"{battery.id}.capacity" for battery in batteries))
    build.van.assume(
        "of the charge 92 to 98 % comes back from lithium, 75 to 85 % from lead (from memory); charging "
        "falls off over the last 5 % of lithium, the last 20 % of lead (common practice, no source)"
    )
    return Store(
        full,
        full - aged * float(build.usable_energy),
        _or_none(build, "battery_takes_at_most", "charging"),
        KEPT[lithium][most],
        TAPER[lithium],
        _or_none(build, "battery_gives_at_most", "discharging"),
    )


def _or_none(build: Subject, name: str, doing: str) -> float:
    found = build.get(name)
    if found is None:
        build.van.assume(f"greatest current in {doing} is not stated for every house battery: not bounded")
    return inf if found is None else float(found)


FREEZING = 273.15


def too_cold(build: Subject, temperature: float) -> bool:
    """Tell whether a house battery must not be charged where its place has an outside temperature."""
    return any(_too_cold(battery, temperature) for battery in house_batteries(build.van))


def _too_cold(battery: Subject, temperature: float) -> bool:
    if battery.chemistry != LITHIUM or battery.get("heated"):
        return False
    least, kept = battery.get("least_charging_temperature"), battery.get("kept_above")
    if least is None:
        battery.van.assume(f"{battery.name}: no charging below 0 °C taken, as makers of such cells state")
        least = FREEZING
    if kept is None:
        battery.van.assume(f"{battery.name}: as cold as the air outside, for `kept_above` is not stated")
        kept = 0.0
    return bool(max(temperature, kept) < least)
