"""The sources that conductors join to a load, their nominal voltage and the highest that they hold."""

from __future__ import annotations

from collections.abc import Iterable

from specreg.facts.battery_string import string_of
from specreg.facts.current_path import ways_of
from specreg.facts.engine import Facts
from specreg.graph.fault import Supply
from specreg.model.charging import DcConverter
from specreg.model.dc import Battery

NOMINALS = (12.0, 24.0, 48.0)


def reaching(facts: Facts, component: str) -> tuple[Supply, ...]:
    """Return the sources joined by conductors to a component's supply terminal."""
    ways = ways_of(facts, "positive")
    own = [terminal for terminal, name in ways.loads.items() if name == component]
    joined = dict.fromkeys(t for terminal in own for t in ways.tree.part(terminal))
    return tuple(ways.sources[t] for t in joined if t in ways.sources)


VOLTAGE_FIELDS = ("highest_charge_voltage", "absorption_voltage", "charging_voltage")


def highest_held(facts: Facts, sources: Iterable[Supply]) -> float | None:
    """Return the highest voltage that sources state to hold while charging; None where none states it."""
    known = []
    for source in sources:
        subject = facts.subject(source.component)
        if isinstance(subject.model, Battery):
            known += _of_string(facts, source.component)
            continue
        fields = [name for name in VOLTAGE_FIELDS if name in type(subject.model).model_fields]
        known += [value for name in fields if (value := subject.get(name)) is not None]
        if isinstance(subject.model, DcConverter) and (held := subject.get("output_voltage")) is not None:
            known.append(held)
    return max(known, default=None)


def _of_string(facts: Facts, battery: str) -> list[float]:
    """Return the highest charging voltage of batteries in series, if each states its own."""
    stated = [facts.subject(name).get("highest_charge_voltage") for name in string_of(facts, battery)]
    return [sum(map(float, stated))] if all(value is not None for value in stated) else []


def highest_source_voltage(facts: Facts, component: str) -> float | None:
    """Return the highest voltage that the sources of a load state to hold."""
    return highest_held(facts, reaching(facts, component))


def system_voltage(facts: Facts, component: str) -> float | None:
    """Return 12, 24 or 48 V by the nominal voltage of a load's sources; None where they tell none or several.

    A 12.8 V battery counts as 12 V.
    """
    nominal = [s.feed.nominal for s in reaching(facts, component) if s.feed.nominal is not None]
    found = {_class_of(volts) for volts in nominal}
    return found.pop() if len(found) == 1 else None


def _class_of(nominal: float) -> float:
    return min(NOMINALS, key=lambda volts: abs(volts - nominal))
