"""What a device carries where batteries stand in parallel: its share while all are on, and all while one is.

Batteries that are alike share evenly by assumption; whether those of a van are alike is a rule of its own.
With one of them off the others carry everything: a device that then opens is a nuisance, no danger, for what
it protects is judged by its rating.
"""

from __future__ import annotations

from specreg.facts.battery_string import string_over
from specreg.facts.current_path import CurrentWays, Measure, Side, flow_between, ways_of
from specreg.facts.design_current import BASIS, FLOW, edge_ends, edge_of, greatest, through
from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, number
from specreg.graph.network import Edge
from specreg.model.dc import Battery
from specreg.model.device import ProtectiveDevice
from specreg.model.port import Terminal
from specreg.units import Dimension


@fact(
    ProtectiveDevice,
    number(Dimension.current),
    formula=f"{FLOW}; of like batteries in parallel its even share",
    source=BASIS,
)
def carried_current(device: Subject) -> float:
    """Current that the device is to carry, all batteries on."""
    facts = device.van
    edge = edge_of(device)
    whole = through(facts, edge)
    share = _shared(facts, edge, greatest(facts))
    if share is None or share >= whole:
        return whole
    facts.assume(f"batteries beside that of {device.name} taken as on and sharing the current evenly")
    return share


@fact(ProtectiveDevice, number(Dimension.current), formula=FLOW, source=BASIS)
def carried_current_alone(device: Subject) -> float:
    """Current that the device is to carry while the batteries in parallel with its own are off."""
    return through(device.van, edge_of(device))


@fact(
    ProtectiveDevice,
    TRUTH,
    formula="it stands in the way of a battery that has its like in parallel",
    source="the graph",
)
def shares_with_batteries(device: Subject) -> bool:
    """Whether another battery carries a part of its circuit's current."""
    return bool(device.carried_current < device.carried_current_alone)


def _shared(facts: Facts, edge: Edge, measure: Measure) -> float | None:
    """Return the greater current of both directions with even shares; None in a ring."""
    upper = string_over(facts, edge.owner)
    if upper is not None:
        battery = facts.subject(upper)
        return max(float(battery.discharge_demand), float(battery.charge_offered))
    near, far = facts.once(edge_ends)[id(edge)]
    ways = ways_of(facts, edge.core)
    sides = ways.sides(near, far, edge)
    if sides is None:
        return None
    one, other = sides
    return max(_one_way(facts, ways, one, other, measure), _one_way(facts, ways, other, one, measure))


def _one_way(facts: Facts, ways: CurrentWays, giving: Side, taking: Side, measure: Measure) -> float:
    flow = flow_between(facts, ways, giving, taking, measure)
    if not flow:  # nothing to share; towards a source that is so for most, and all loads need not be listed
        return flow
    here, there = _batteries(facts, giving), _batteries(facts, taking)
    if not _alike([*here, *there]):
        return flow
    together = len(here) + len(there)
    if len(here) == len(giving.sources) and not giving.outlets:  # batteries alone give
        return flow * len(here) / together
    if len(there) == len(taking.stores) and not taking.loads:  # batteries alone take
        return flow * len(there) / together
    return flow


def _batteries(facts: Facts, side: Side) -> list[Subject]:
    components = facts.build.components
    names: dict[Terminal, str] = {t: t.component for t in side.stores}
    return [facts.subject(name) for name in names.values() if isinstance(components[name], Battery)]


def _alike(batteries: list[Subject]) -> bool:
    fields = ("role", "chemistry", "capacity", "nominal_voltage")
    return len({tuple(battery.get(name) for name in fields) for battery in batteries}) == 1
