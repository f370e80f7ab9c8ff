"""Every fuse and breaker where it sits: the fault current that it must break there, and the voltage.

The current is that of a dead short directly behind the device, fed through it by every source on its other
side. Batteries add through their own resistance and that of their cables, combined as conductances from the
far ends inward; self-limiting sources add their limit. What is not known is taken so that the current comes
out too large, never too small: a cable without length or conductor counts as without resistance.
"""

from __future__ import annotations

from specreg.facts.battery_string import links_of, pole, string_of, string_over
from specreg.facts.current_path import CurrentWays, ways_of
from specreg.facts.design_current import edge_ends, edge_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.protection import share_of_piece
from specreg.facts.registry import fact
from specreg.facts.source_voltage import highest_held
from specreg.facts.value_type import TRUTH, number
from specreg.graph.branches import Branches
from specreg.graph.fault import Supply
from specreg.graph.network import Edge
from specreg.model.dc import Battery
from specreg.model.device import ProtectiveDevice
from specreg.model.port import Terminal
from specreg.model.run import DcRun
from specreg.model.solar import SolarPanel
from specreg.tables import conductors, overcurrent
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

SHORT = "E / (R of the battery + R of cables out and back), parallel batteries as conductances, + Σ limits"
FAULT = "Ohm's law: Isc = E0 / Rb (textbook); a battery's management board gets no credit"


@fact(ProtectiveDevice, number(Dimension.current), formula=SHORT, source=FAULT)
def prospective_current(device: Subject) -> float:
    """Greatest current that it may have to break where it sits."""
    facts = device.van
    edge = edge_of(device)
    upper = string_over(facts, edge.owner)
    if upper is not None:
        return _in_link(facts, upper)
    near, far = facts.once(edge_ends)[id(edge)]
    ways = ways_of(facts, "positive")
    return max(_short(facts, ways, near, edge), _short(facts, ways, far, edge))


def _short(facts: Facts, ways: CurrentWays, terminal: Terminal, without: Edge) -> float:
    """Return the current into a dead short at a terminal from all that is joined to it past an edge."""
    behind = _behind(facts, terminal, without)
    sources = [ways.sources[t] for t in behind if t in ways.sources]
    _demand_known(facts, sources)
    batteries = {s.terminal: s for s in sources if _is_battery(facts, s)}
    limits = _limits(facts, sources)
    if not batteries:
        return limits
    highest = max(_voltage(facts, s) for s in batteries.values())
    inner = {t: _conductance(facts, s) for t, s in batteries.items()}
    return highest * _joined(facts, ways.tree, behind, terminal, inner) + limits


def _is_battery(facts: Facts, source: Supply) -> bool:
    return isinstance(facts.build.components[source.component], Battery)


def _limits(facts: Facts, sources: list[Supply]) -> float:
    """Return the sum of what sources that limit themselves give, once it is known of each."""
    return sum((_given(s.feed.fault_current) for s in sources if not _is_battery(facts, s)), 0.0)


def _given(fault_current: float | None) -> float:
    assert fault_current is not None, "`_demand_known` has asked for it"
    return fault_current


def _demand_known(facts: Facts, sources: list[Supply]) -> None:
    """Raise one Missing that names the figure of every source whose fault current is not known."""
    unknown = [
        f"{name}.{feed.missing[0]}"
        for s in sources
        for name in (string_of(facts, s.component) if _is_battery(facts, s) else (s.component,))
        for feed in (facts.build.components[name].feeds() if _is_battery(facts, s) else (s.feed,))
        if not feed.fault_current
    ]
    if unknown:
        raise Missing(*dict.fromkeys(unknown))


def _voltage(facts: Facts, source: Supply) -> float:
    """Return the highest voltage of a battery, with those in series with it."""
    return sum(_highest_of_one(facts, name) for name in string_of(facts, source.component))


def _highest_of_one(facts: Facts, name: str) -> float:
    battery = facts.subject(name)
    highest = battery.get("highest_charge_voltage")
    return float(highest if highest is not None else battery.nominal_voltage)


def _conductance(facts: Facts, source: Supply) -> float:
    """Return the conductance of batteries in series and of the links between them."""
    inner = sum(_resistance_of_one(facts, name) for name in string_of(facts, source.component))
    linking = (facts.subject(run).get("core_resistance") for run in links_of(facts, source.component))
    return 1 / (inner + sum(float(known) for known in linking if known is not None))


def _resistance_of_one(facts: Facts, name: str) -> float:
    """Return a battery's resistance by its short-circuit current at its highest voltage, else as stated."""
    battery = facts.build.components[name]
    assert isinstance(battery, Battery)
    return _highest_of_one(facts, name) / _given(battery.fault_current)


def _in_link(facts: Facts, upper: str) -> float:
    """Return a bound on what a device in a link between batteries in series may have to break.

    Whatever part of the string is shorted, ΣE/ΣR is at most the greatest E/R of one battery; what limits
    itself and charges the string adds.
    """
    ways = ways_of(facts, "positive")
    sources = [ways.sources[t] for t in ways.sources_of(pole(facts, upper))]
    _demand_known(facts, sources)
    members = [n for s in sources if _is_battery(facts, s) for n in string_of(facts, s.component)]
    strongest = max(_highest_of_one(facts, n) / _resistance_of_one(facts, n) for n in members)
    return strongest + _limits(facts, sources)


def _behind(facts: Facts, start: Terminal, without: Edge) -> dict[Terminal, tuple[Terminal, Edge] | None]:
    """Return the terminals past an edge that lead from one to sources, nearest first, each with its step."""
    towards = facts.once(towards_sources)
    found: dict[Terminal, tuple[Terminal, Edge] | None] = {start: None}
    queue = [start]
    for here in queue:
        for other, edge in towards.get(here, ()):
            if other not in found and edge is not without:
                found[other] = (here, edge)
                queue.append(other)
    return found


def towards_sources(facts: Facts) -> dict[Terminal, tuple[tuple[Terminal, Edge], ...]]:
    """Return the steps from each terminal that lead to sources; ask for it by `facts.once`.

    Ends without a source are taken off one after the other; what an end then hangs on is its way inward. What
    remains are the sources and the ways between them.
    """
    ways = ways_of(facts, "positive")
    left = {
        terminal: {id(edge): (other, edge) for other, edge in facts.net.around(terminal) if ways.admits(edge)}
        for terminal in facts.net.neighbours
        if terminal.core == "positive"
    }
    ends = [terminal for terminal, joints in left.items() if len(joints) < 2 and terminal not in ways.sources]
    inward: dict[Terminal, tuple[tuple[Terminal, Edge], ...]] = {}
    for end in ends:
        inward[end] = tuple(left[end].values())
        for other, edge in inward[end]:
            del left[other][id(edge)]
            if len(left[other]) == 1 and other not in ways.sources:
                ends.append(other)
    return {terminal: tuple(joints.values()) for terminal, joints in left.items()} | inward


def _joined(
    facts: Facts,
    tree: Branches,
    behind: dict[Terminal, tuple[Terminal, Edge] | None],
    start: Terminal,
    inner: dict[Terminal, float],
) -> float:
    """Return the conductance seen at `start`, combined from the far ends of the tree inward."""
    seen = {terminal: inner.get(terminal, 0.0) for terminal in behind}
    for terminal in reversed(behind):
        step = behind[terminal]
        if step is None or seen[terminal] == 0.0:
            continue
        towards, edge = step
        # In a ring there are further ways: what is on it counts as without resistance.
        resistance = _cable(facts, edge) if tree.is_bridge(edge) else 0.0
        seen[towards] += 1 / (1 / seen[terminal] + resistance)
    return seen[start]


def _cable(facts: Facts, edge: Edge) -> float:
    """Return the resistance of a piece of a run out and back; 0 where it is not known, which is said."""
    if not edge.is_run:
        return 0.0
    run = facts.subject(edge.owner)
    out = run.get("core_resistance")
    if out is None:
        facts.assume(f"{run.name} counted as without resistance: its length or conductor is not stated")
        return 0.0
    return share_of_piece(run, edge.segment) * (float(out) + _way_back(facts, run))


def _way_back(facts: Facts, run: Subject) -> float:
    assert isinstance(run.model, DcRun)
    returns = run.model.returns
    if returns is None or returns == "chassis":
        return 0.0
    if returns == "same cable":
        size = run.model.return_conductor or run.conductor
        return float(conductors.resistance_per_metre(size) * run.laid_length)
    return float(facts.subject(returns).get("core_resistance") or 0.0)


@fact(
    ProtectiveDevice,
    number(Dimension.current),
    formula="as stated, else the family's at the next tabulated voltage",
    source="the spec; ISO 8820-3 and makers' data by family",
)
def breaking_capacity_there(device: Subject) -> float:
    """Greatest current that it can break at the voltage where it sits."""
    stated = device.get("breaking_capacity")
    if stated is not None:
        return float(stated)
    if device.get("family") is None:
        raise Missing(f"{device.id}.breaking_capacity")
    try:
        found = overcurrent.breaking_capacity(device.family.value, device.highest_voltage)
    except NotTabulatedError:
        raise Missing(f"{device.id}.breaking_capacity") from None
    device.van.assume(
        f"breaking capacity of {device.name} taken as that of its family, {device.family.value}: "
        f"{found.value:g} A {found.note} ({found.source}, {found.basis})"
    )
    return found.value


@fact(
    ProtectiveDevice,
    number(Dimension.voltage),
    formula="highest charging voltage of the sources joined to it; of panels their cold open-circuit voltage",
    source="the spec",
)
def highest_voltage(device: Subject) -> float:
    """Highest voltage that stands across it when it opens."""
    facts = device.van
    edge = edge_of(device)
    upper = string_over(facts, edge.owner)
    near = pole(facts, upper) if upper is not None else facts.once(edge_ends)[id(edge)][0]
    ways = ways_of(facts, "positive")
    sources = [ways.sources[t] for t in ways.sources_of(near)]
    panels = [s.component for s in sources if isinstance(facts.build.components[s.component], SolarPanel)]
    if panels:
        return max(float(facts.subject(name).string_cold_voltage) for name in panels)
    found = highest_held(facts, sources)
    if found is None:
        names = [f"{s.component}.highest_charge_voltage" for s in sources if _is_battery(facts, s)]
        raise Missing(*names, reason="" if names else f"no source of {device.name} states its voltage")
    return found


@fact(
    ProtectiveDevice,
    TRUTH,
    formula="the rating is in the series of its family",
    source="NEC 240.6(A); fuse series by family, partly from memory",
)
def standard_rating(device: Subject) -> bool:
    """Whether its rating is one that is made."""
    family = device.family.value
    try:
        series = overcurrent.ratings(family)
    except NotTabulatedError:
        raise Missing(reason=f"no series of ratings for the family `{family}` is on file") from None
    if overcurrent.ratings_basis(family) == "memory":
        device.van.assume(f"ratings of the family {family} are from memory")
    return any(abs(rating - device.rated_current) < 1e-9 for rating in series)


@fact(
    ProtectiveDevice,
    number(Dimension.voltage),
    formula="as stated, else the highest voltage with a known d.c. breaking capacity of the family",
    source="the spec; ISO 8820-3 and makers' data by family",
)
def voltage_rating(device: Subject) -> float:
    """Voltage up to which it may be used."""
    stated = device.get("rated_voltage")
    if stated is not None:
        return float(stated)
    family = device.get("family")
    try:
        known = overcurrent.greatest_voltage(family.value) if family else None
    except NotTabulatedError:
        known = None
    if known is None:
        raise Missing(f"{device.id}.rated_voltage")
    device.van.assume(f"voltage rating of {device.name} taken as that of its family: {known.value:g} V d.c.")
    return known.value
