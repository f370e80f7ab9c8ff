"""Which way current goes: the loads, sources and accumulators on the two sides of a conductor.

What is here is worked out once for a build from its graph: the branches of the positive and of the negative
core, and which components take, give or store current at which terminal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property
from math import inf

from specreg.facts.battery_string import pole, string_of
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.protection import dc_supplies
from specreg.graph.branches import Branches, Listed, Stretches, branches
from specreg.graph.fault import CONDUCTING, Supply
from specreg.graph.network import Edge
from specreg.model.charging import Alternator
from specreg.model.component import Component
from specreg.model.conversion import DcConversion
from specreg.model.dc import Battery
from specreg.model.inverting import Inverting
from specreg.model.loads import DcOutlet
from specreg.model.port import Terminal
from specreg.model.solar import SolarController

Measure = Callable[[str], float]
"""From a load's id to its current in ampere."""


@dataclass(frozen=True)
class Side:
    """What stands on one side of a cut; each sort is listed when it is asked for: most ask for few.

    `within` picks what stands there out of the terminals of a sort.
    """

    ways: CurrentWays
    within: Callable[[Listed], tuple[Terminal, ...]]

    @cached_property
    def sources(self) -> tuple[Terminal, ...]:
        """Return what gives current."""
        return self.within(self.ways.listed_sources)

    @cached_property
    def outlets(self) -> tuple[Terminal, ...]:
        """Return the outlets that others plug into."""
        return self.within(self.ways.listed_outlets)

    @cached_property
    def stores(self) -> tuple[Terminal, ...]:
        """Return what stores energy."""
        return self.within(self.ways.listed_stores)

    @cached_property
    def loads(self) -> tuple[Terminal, ...]:
        """Return what takes current."""
        return self.within(self.ways.listed_loads)


@dataclass(frozen=True)
class CurrentWays:
    """One core of the direct-current graph with what stands at its terminals."""

    tree: Branches
    loads: dict[Terminal, str]
    sources: dict[Terminal, Supply]
    stores: dict[Terminal, str]
    outlets: frozenset[Terminal]
    admits: Callable[[Edge], bool]
    circuits: dict[Terminal, int]
    """Which positive network a load, source or store belongs to: on a common return they must not mix."""

    @cached_property
    def listed_sources(self) -> Listed:
        """Return the sources, ready to be listed."""
        return self.tree.listed(self.sources)

    @cached_property
    def listed_outlets(self) -> Listed:
        """Return the outlets, ready to be listed."""
        return self.tree.listed(self.outlets)

    @cached_property
    def listed_stores(self) -> Listed:
        """Return what stores energy, ready to be listed."""
        return self.tree.listed(self.stores)

    @cached_property
    def listed_loads(self) -> Listed:
        """Return the loads, ready to be listed."""
        return self.tree.listed(self.loads)

    @cached_property
    def taken_at(self) -> dict[str, Terminal]:
        """Return the terminal at which each load takes its current."""
        return {name: terminal for terminal, name in self.loads.items()}

    def sources_of(self, terminal: Terminal) -> tuple[Terminal, ...]:
        """Return the sources that are joined to a terminal."""
        return self.listed_sources.part(terminal)

    def side(self, terminals: Iterable[Terminal]) -> Side:
        """Return what stands at some terminals."""
        among = frozenset(terminals)
        return Side(self, lambda listed: tuple(t for t in listed.order if t in among))

    def sides(self, near: Terminal, far: Terminal, edge: Edge) -> tuple[Side, Side] | None:
        """Return what stands on the sides of `near` and of `far` once an edge is cut; None in a ring."""
        found = self.tree.sides(near, far, edge)
        return None if found is None else (self._side_in(found[0]), self._side_in(found[1]))

    def _side_in(self, stretches: Stretches) -> Side:
        return Side(self, lambda listed: listed.within(stretches))


@dataclass(frozen=True)
class Cut:
    """What a conductor may carry: `onward` from its near to its far terminal, `back` the other way."""

    onward: float
    back: float

    @property
    def greatest(self) -> float:
        """Return the greater of both, in ampere."""
        return max(self.onward, self.back)


def positive_ways(facts: Facts) -> CurrentWays:
    """Return the positive core with its loads and sources; ask for it by `facts.once`."""
    return _ways(facts, "positive")


def negative_ways(facts: Facts) -> CurrentWays:
    """Return the negative core with its loads and sources; ask for it by `facts.once`."""
    return _ways(facts, "negative")


def ways_of(facts: Facts, core: str) -> CurrentWays:
    """Return the positive or the negative core, worked out once."""
    return facts.once(positive_ways if core == "positive" else negative_ways)


def _ways(facts: Facts, core: str) -> CurrentWays:
    components = facts.build.components

    def admits(edge: Edge) -> bool:
        return (
            edge.core == core
            and edge.kind in CONDUCTING
            and not isinstance(components.get(edge.owner), DcOutlet)
        )

    loads: dict[Terminal, str] = {}
    stores: dict[Terminal, str] = {}
    outlets: set[Terminal] = set()
    for name, component in components.items():
        port = supply_port(component)
        if port is not None:
            loads[terminal_of(component, name, port, core)] = name
        if isinstance(component, Battery):
            stores[pole(facts, name, core)] = string_of(facts, name)[0]
        if isinstance(component, SolarController):
            stores[Terminal(name, "panel", core)] = name
        if isinstance(component, DcOutlet):
            outlets.add(Terminal(name, "outlet", core))
    circuits: dict[Terminal, int] = {}
    if core == "negative":
        live = facts.once(positive_ways)
        for terminal in (*live.loads, *live.sources, *live.stores, *live.outlets):
            component = components[terminal.component]
            own = _own(facts, component, terminal.component, terminal.port, core)
            circuits[own] = live.tree.place[live.tree.roots[terminal]]
    found = {
        _own(facts, components[s.component], s.component, s.terminal.port, core): s
        for s in facts.once(dc_supplies)
        if not isinstance(components[s.component], Battery) or string_of(facts, s.component)[0] == s.component
    }
    tree = branches(facts.net, core, admits)
    return CurrentWays(tree, loads, found, stores, frozenset(outlets), admits, circuits)


def _own(facts: Facts, component: Component, name: str, port: str, core: str) -> Terminal:
    """Return the terminal of a core that belongs to a port; of batteries in series their outer pole."""
    if isinstance(component, Battery):
        return pole(facts, name, core)
    return terminal_of(component, name, port, core)


def supply_port(component: Component) -> str | None:
    """Return the port at which a component takes direct current; None where it takes none."""
    if isinstance(component, DcConversion):
        return "input"
    if isinstance(component, Inverting):
        return "positive"
    return next((port.key for port in component.ports() if port.name == "supply"), None)


def terminal_of(component: Component, name: str, port: str, core: str) -> Terminal:
    """Return the terminal of a core that belongs to a port: its own, else the component's negative port."""
    cores = next((p.cores for p in component.ports() if p.key == port), (core,))
    return Terminal(name, port if core in cores else core, core)


def cut(facts: Facts, near: Terminal, far: Terminal, edge: Edge, measure: Measure) -> Cut:
    """Return what an edge may carry either way with every load on.

    To a side flows what its loads take and, where it has a battery or a controller's panel side, what
    charging sources opposite give; but no more than self-limiting sources opposite can give. Raises
    Missing in a ring, or where a load on the side away from a source is not known; all such fields are
    named.
    """
    ways = ways_of(facts, edge.core)
    near_side, far_side = _parted(facts, ways, near, far, edge)
    onward = flow_between(facts, ways, near_side, far_side, measure)
    return Cut(onward, flow_between(facts, ways, far_side, near_side, measure))


def cut_by_circuit(
    facts: Facts, near: Terminal, far: Terminal, edge: Edge, measure: Measure
) -> dict[int, Cut]:
    """Return what an edge may carry of each positive network, as `cut` does of them together."""
    ways = ways_of(facts, edge.core)
    near_side, far_side = _parted(facts, ways, near, far, edge)
    onward = flows_between(facts, ways, near_side, far_side, measure)
    back = flows_between(facts, ways, far_side, near_side, measure)
    return {one: Cut(onward.get(one, 0.0), back.get(one, 0.0)) for one in sorted({*onward, *back})}


def _parted(facts: Facts, ways: CurrentWays, near: Terminal, far: Terminal, edge: Edge) -> tuple[Side, Side]:
    sides = ways.sides(near, far, edge)
    if sides is None:
        name = facts.name_of(edge.owner)
        raise Missing(reason=f"{name} lies in a ring or beside a parallel cable: how current divides is open")
    return sides


def flow_between(facts: Facts, ways: CurrentWays, giving: Side, taking: Side, measure: Measure) -> float:
    """Return the sum over the positive networks on both sides; there is one, but on a common return."""
    return sum(flows_between(facts, ways, giving, taking, measure).values(), 0.0)


def flows_between(
    facts: Facts, ways: CurrentWays, giving: Side, taking: Side, measure: Measure
) -> dict[int, float]:
    """Return what flows from one side to the other of each positive network; of the only one as of 0."""
    circuits = ways.circuits
    if not circuits:
        return {0: _flow_of_one(facts, ways, giving, taking, measure)}
    shared = {circuits[t] for t in (*giving.sources, *giving.outlets)}
    return {
        one: _flow_of_one(
            facts, ways, _of_circuit(giving, circuits, one), _of_circuit(taking, circuits, one), measure
        )
        for one in sorted(shared)
    }


def _of_circuit(side: Side, circuits: dict[Terminal, int], one: int) -> Side:
    return Side(side.ways, lambda listed: tuple(t for t in side.within(listed) if circuits[t] == one))


def _flow_of_one(facts: Facts, ways: CurrentWays, giving: Side, taking: Side, measure: Measure) -> float:
    sources = [ways.sources[t] for t in giving.sources]
    if not sources and not giving.outlets:
        return 0.0
    charging = charge_of(facts, sources if taking.stores else ())
    wanted = total((ways.loads[t] for t in taking.loads), measure) + charging
    if giving.outlets:
        return wanted
    return min(wanted, sum(inf if s.feed.limit is None else s.feed.limit for s in sources))


def charge_of(facts: Facts, sources: Iterable[Supply]) -> float:
    """Return the sum of what charging sources give: their limits, or an alternator's rated current."""
    found = 0.0
    missing: list[str] = []
    for source in sources:
        component = facts.build.components[source.component]
        if isinstance(component, Battery):
            continue
        given = source.feed.limit
        if isinstance(component, Alternator):
            given, field = component.rated_current, "rated_current"
        else:
            field = next(iter(source.feed.missing), "")
        if given is None:
            missing.append(f"{source.component}.{field}")
        else:
            found += given
    if missing:
        raise Missing(*missing)
    return found


def total(names: Iterable[str], measure: Measure) -> float:
    """Return the sum over loads; raises one Missing that names every field that is absent."""
    found = 0.0
    missing: list[str] = []
    reasons: list[str] = []
    for name in names:
        try:
            found += measure(name)
        except Missing as absent:
            missing += absent.fields
            reasons.append(absent.reason)
    if reasons:
        raise Missing(*dict.fromkeys(missing), reason="" if missing else reasons[0])
    return found
