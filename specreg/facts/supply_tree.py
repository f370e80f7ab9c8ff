"""The shortest way from each source to each load on one core, and the loads that lie beyond each conductor.

Where a ring offers several ways, the shortest is taken as if the others were cut: the drop computed with it
is that of the van with its other ways broken. The chassis is a way only where no cable is.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heappop, heappush

from specreg.facts.battery_string import pole
from specreg.facts.current_path import CurrentWays, terminal_of, ways_of
from specreg.facts.engine import Facts
from specreg.graph.network import CHASSIS, Edge
from specreg.model.build import Build
from specreg.model.dc import Battery
from specreg.model.port import Terminal

CHASSIS_FAR = 1000.0
"""Metres that a step onto the chassis counts, so that a cable is always nearer."""
UNKNOWN = 1.0
"""Metres that a run without a length counts, for the choice of the way only."""

Step = tuple[Terminal, Edge, Terminal]


@dataclass(frozen=True)
class SupplyTree:
    """The steps towards a source by terminal, and the loads beyond each edge by the edge's identity."""

    source: Terminal
    above: dict[Terminal, tuple[Terminal, Edge]]
    beyond: dict[int, tuple[str, ...]]

    def way(self, load: Terminal) -> tuple[Step, ...] | None:
        """Return the steps from the source to a load; None where none leads there."""
        steps: list[Step] = []
        while load != self.source:
            if load not in self.above:
                return None
            before, edge = self.above[load]
            steps.append((before, edge, load))
            load = before
        return tuple(reversed(steps))


def supply_trees(facts: Facts) -> dict[Terminal, SupplyTree]:
    """Return a tree for every source on either core; ask for it by `facts.once`."""
    found = {}
    live = ways_of(facts, "positive")
    for source in live.sources:
        found[source] = _tree(facts, live, source, frozenset(live.loads.values()))
        joined = frozenset(live.loads[t] for t in live.tree.part(source) if t in live.loads)
        ground = negative_of(facts, source)
        found[ground] = _tree(facts, ways_of(facts, "negative"), ground, joined)
    return found


def supplied_loads(facts: Facts) -> dict[str, tuple[str, ...]]:
    """Return the loads behind each run, as seen from the first source that supplies any through it."""
    owners = {
        id(edge): edge.owner for around in facts.net.neighbours.values() for _, edge in around if edge.is_run
    }
    found: dict[str, tuple[str, ...]] = {}
    for tree in facts.once(supply_trees).values():
        for key, names in tree.beyond.items():
            if key in owners:
                found.setdefault(owners[key], names)
    return found


def negative_of(facts: Facts, source: Terminal) -> Terminal:
    """Return the negative terminal that belongs to a source's positive one."""
    component = facts.build.components[source.component]
    if isinstance(component, Battery):
        return pole(facts, source.component, "negative")
    return terminal_of(component, source.component, source.port, "negative")


def _tree(facts: Facts, ways: CurrentWays, source: Terminal, loads: frozenset[str]) -> SupplyTree:
    """Return the shortest ways from a source (Dijkstra); only `loads`, its own circuit's, load the tree."""
    above: dict[Terminal, tuple[Terminal, Edge]] = {}
    done: set[Terminal] = set()
    queue: list[tuple[float, Terminal, Terminal | None, int]] = [(0.0, source, None, 0)]
    edges: dict[int, Edge] = {}
    while queue:
        far, here, before, key = heappop(queue)
        if here in done:
            continue
        done.add(here)
        if before is not None:
            above[here] = (before, edges[key])
        for other, edge in facts.net.around(here):
            if other not in done and ways.admits(edge):
                edges[id(edge)] = edge
                heappush(queue, (far + _length(facts.build, edge, here, other), other, here, id(edge)))
    tree = SupplyTree(source, above, {})
    beyond: dict[int, list[str]] = {}
    for terminal, name in ways.loads.items():
        for _, edge, _ in (tree.way(terminal) or ()) if name in loads else ():
            beyond.setdefault(id(edge), []).append(name)
    tree.beyond.update((key, tuple(names)) for key, names in beyond.items())
    return tree


def _length(build: Build, edge: Edge, here: Terminal, other: Terminal) -> float:
    if CHASSIS in (here, other):
        return CHASSIS_FAR
    if not edge.is_run or edge.segment:
        return 0.0
    stated = build.runs[edge.owner].length
    return UNKNOWN if stated is None else stated
