"""The load flow in each way of using the van: current in every run, voltage at every load, and the worst."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.axes import OPERATIONS
from specreg.facts.current_path import Measure, total
from specreg.facts.engine import Facts, Subject
from specreg.facts.load_current import nominal_supply
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.supply_tree import supplied_loads
from specreg.facts.value_type import list_of, number, text, view
from specreg.facts.voltage_drop import OHM, drop_to
from specreg.model.build import Header
from specreg.model.component import Consumer
from specreg.model.run import DcRun
from specreg.units import Dimension

EVERYTHING = OPERATIONS[-1]
AXIS = Axis.operation


@dataclass(frozen=True)
class LoadVoltage:
    """A load with the voltage left at it in one way of using the van."""

    load: str
    operation: str
    voltage: float


LOAD_VOLTAGE = view(
    "load voltage", {"load": text(), "operation": text(), "voltage": number(Dimension.voltage)}
)


def running_in(facts: Facts, operation: str | None) -> Measure:
    """Return the running current of a load in an operation: nothing where it is stated not to run then."""

    def measure(name: str) -> float:
        load = facts.subject(name)
        if operation not in (None, EVERYTHING) and isinstance(load.model, Consumer):
            stated = load.model.runs_in
            if stated is None:
                facts.assume(f"{load.name} taken as running at all times: `runs_in` is not stated")
            elif operation not in stated:
                return 0.0
        return float(load.running_current)

    return measure


@fact(DcRun, number(Dimension.current), formula="Σ running current behind it", source=OHM, axis=AXIS)
def flow(run: Subject) -> float:
    """Current that the run carries to the loads that run then."""
    return total(run.van.once(supplied_loads).get(run.id, ()), running_in(run.van, run.case))


@fact(
    Consumer, number(Dimension.voltage), formula="nominal voltage − Σ I·R out and back", source=OHM, axis=AXIS
)
def voltage_at_load(load: Subject) -> float:
    """Voltage at the load, the source at nominal, with the loads that run then."""
    return nominal_supply(load) - drop_to(load, running_in(load.van, load.case))


@fact(
    Header,
    list_of(LOAD_VOLTAGE),
    formula="least voltage at a load / nominal voltage, over wired loads and operations",
    source=OHM,
)
def worst_load_voltage(build: Subject) -> tuple[LoadVoltage, ...]:
    """The load with the greatest share of its voltage lost, and when; nothing where no load is wired."""
    found: list[tuple[float, LoadVoltage]] = []
    for load in (one for one in build.van.of_class(Consumer) if one.wired):
        try:
            left = [(when, float(load.in_case(when).voltage_at_load)) for when in OPERATIONS]
        except Missing as lacking:
            build.van.assume(f"{load.name} left out of the worst case: {lacking}")
        else:
            found += [(v / nominal_supply(load), LoadVoltage(load.name, when, v)) for when, v in left]
    return (min(found, key=lambda pair: pair[0])[1],) if found else ()
