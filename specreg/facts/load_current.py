"""What each direct-current load takes: when running, at the voltage that makes it take most, at start.

By load kind: constant power takes most at its least voltage, a resistance at the highest charging voltage,
a motor its rated current, with its start apart.
"""

from __future__ import annotations

from collections.abc import Callable

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.source_voltage import highest_source_voltage, system_voltage
from specreg.facts.value_type import number
from specreg.model.component import Component, Consumer, LoadKind
from specreg.model.conversion import DcConversion
from specreg.model.inverting import Inverting
from specreg.model.loads import DcOutlet
from specreg.units import Dimension

LEAST_OF_12 = 10.5
"""Volt at a 12 V load when the battery is all but empty: common practice, no source."""
HIGHEST_OF_12 = 14.4
"""Volt at a 12 V load while the battery is charged: common practice, no source."""

BY_KIND = "design currents by load kind: physics of the load"


@fact(
    Component,
    number(Dimension.current),
    formula="rated current, or rated power / supply voltage; × count",
    source="Ohm's law and P = U·I",
)
def running_current(load: Subject) -> float:
    """Current that it takes when running at its nominal voltage."""
    return _count(load) * _rated(load)


@fact(
    Component,
    number(Dimension.current),
    formula="constant power: P / least voltage; resistance: I × highest voltage / nominal; motor: I; × count",
    source=BY_KIND,
)
def greatest_current(load: Subject) -> float:
    """Greatest current that it takes for long."""
    model = load.model
    if isinstance(model, Consumer):
        return _count(load) * _greatest_of_consumer(load, model)
    if isinstance(model, DcConversion | Inverting):
        return _count(load) * _converted(load, lambda: _least(load, "least_input_voltage"))
    return _count(load) * _rated(load)


@fact(
    Consumer,
    number(Dimension.current),
    formula="stated start current × count; none stated for what is no motor: its greatest current",
    source="the spec",
)
def greatest_start_current(load: Subject) -> float:
    """Current at start."""
    stated = load.get("start_current")
    if stated is not None:
        return _count(load) * float(stated)
    if _kind(load) is LoadKind.motor:
        raise Missing(f"{load.id}.start_current")
    return float(load.greatest_current)


def _count(load: Subject) -> int:
    model = load.model
    assert isinstance(model, Component)
    return model.count


def _rated(load: Subject) -> float:
    model = load.model
    if isinstance(model, Consumer):
        current = load.get("current")
        return float(current) if current is not None else float(load.power) / nominal_supply(load)
    if isinstance(model, DcOutlet):
        return float(load.rated_current) * model.outlets
    if isinstance(model, DcConversion | Inverting):
        return _converted(load, lambda: nominal_supply(load))
    raise Missing(reason=f"{load.name} takes no direct current")


def _kind(load: Subject) -> LoadKind:
    model = load.model
    assert isinstance(model, Consumer)
    return load.get("load") or model.default_load


def _greatest_of_consumer(load: Subject, model: Consumer) -> float:
    rated, nominal = _rated(load), nominal_supply(load)
    match _kind(load):
        case LoadKind.motor:
            return rated
        case LoadKind.resistance:
            return rated * _highest(load, nominal) / nominal
        case _:
            return rated * nominal / _least(load, "least_voltage")


def _converted(load: Subject, volts: Callable[[], float]) -> float:
    """Return the input current of a converter, charger or inverter at an input voltage."""
    stated = load.get("input_current")
    if stated is not None:
        return float(stated)
    if load.efficiency <= 0:
        raise Missing(reason=f"{load.id}.efficiency is written as nothing, so that no power would come out")
    if isinstance(load.model, Inverting):
        return float(load.rated_power / (load.efficiency * volts()))
    output = load.get("absorption_voltage") if "absorption_voltage" in type(load.model).model_fields else None
    return float((output or load.output_voltage) * load.output_current / (load.efficiency * volts()))


def nominal_supply(load: Subject) -> float:
    """Return the nominal supply voltage, as stated or else that of the batteries that reach it."""
    name = "supply_voltage" if isinstance(load.model, Consumer) else "input_voltage"
    stated = load.get(name)
    if stated is not None:
        return float(stated)
    found = system_voltage(load.van, load.id)
    if found is None:
        raise Missing(f"{load.id}.{name}")
    load.van.assume(f"{load.name} taken as made for {found:g} V, the voltage of what feeds it")
    return found


def least_working(load: Subject) -> float:
    """Return the least voltage at which a consumer works, as stated or by the practice of 10.5 V in 12."""
    return _least(load, "least_voltage")


def _least(load: Subject, field: str) -> float:
    stated = load.get(field)
    if stated is not None:
        return float(stated)
    least = LEAST_OF_12 * nominal_supply(load) / 12
    load.van.assume(f"{load.name} taken as working down to {least:.3g} V (common practice, no source)")
    return least


def _highest(load: Subject, nominal: float) -> float:
    """Return the highest voltage that a source holds at the load."""
    facts: Facts = load.van
    found = highest_source_voltage(facts, load.id)
    if found is not None:
        return max(found, nominal)
    highest = HIGHEST_OF_12 * nominal / 12
    facts.assume(f"{load.name} taken at up to {highest:.3g} V while charging (common practice, no source)")
    return highest
