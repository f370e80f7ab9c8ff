"""The gas part of the graph: which stores feed an appliance, and which valves stand between."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, text
from specreg.graph.network import Edge
from specreg.graph.walk import against, reached
from specreg.model.component import CombustionAppliance
from specreg.model.gas import GasDropOut, GasManifold, GasOutlet, GasStore
from specreg.model.port import Medium, Terminal

CUT = "valves without which no store reaches it"


def downstream_of(facts: Facts, terminal: Terminal) -> tuple[str, ...]:
    """Return the components that gas from a terminal reaches, in the order of the spec."""

    def passes(edge: Edge, here: Terminal, other: Terminal) -> bool:
        return edge.medium is Medium.gas and edge.one_way_from in (None, here)

    seen = {found.component for found in reached(facts.net, [terminal], passes)}
    return tuple(name for name in facts.build.components if name in seen)


def stores_of(facts: Facts, name: str, shut: str = "") -> tuple[str, ...]:
    """Return the stores whose gas reaches a component, with one valve shut."""

    def passes(edge: Edge, here: Terminal, other: Terminal) -> bool:
        shut_here = bool(shut) and edge.valve == shut
        return edge.medium is Medium.gas and not shut_here and against(edge, here, other)

    seen = {found.component for found in reached(facts.net, facts.net.terminals(name), passes)}
    components = facts.build.components
    return tuple(s for s in components if s in seen and isinstance(components[s], GasStore))


def valves(facts: Facts) -> tuple[str, ...]:
    """Return every shut-off valve for gas on the graph."""
    return tuple(sorted({e.valve for _, _, e in facts.net.joints if e.valve and e.medium is Medium.gas}))


def users(facts: Facts) -> tuple[str, ...]:
    """Return what can take gas: appliances, whatever they burn, and outlets."""
    components = facts.build.components
    return tuple(name for name in components if isinstance(components[name], CombustionAppliance | GasOutlet))


def cut_off_by(facts: Facts) -> dict[str, frozenset[str]]:
    """Return for every valve the users of gas that it alone cuts off."""
    fed = [name for name in users(facts) if stores_of(facts, name)]
    return {v: frozenset(n for n in fed if not stores_of(facts, n, v)) for v in valves(facts)}


@fact(
    CombustionAppliance,
    list_of(text()),
    formula="followed against the flow from its fuel port",
    source="the graph",
)
def gas_stores(appliance: Subject) -> tuple[str, ...]:
    """Cylinders and tanks that feed it."""
    return stores_of(appliance.van, appliance.id)


@fact(CombustionAppliance, list_of(text()), formula=CUT, source="the graph")
def shut_offs(appliance: Subject) -> tuple[str, ...]:
    """Valves, each of which alone cuts its gas off."""
    cut = appliance.van.once(cut_off_by)
    return tuple(appliance.van.name_of(valve) for valve, names in cut.items() if appliance.id in names)


@fact(
    CombustionAppliance, list_of(text()), formula=f"{CUT}, and that cut off nothing else", source="the graph"
)
def own_shut_offs(appliance: Subject) -> tuple[str, ...]:
    """Valves that cut off its gas and nothing else's."""
    cut = appliance.van.once(cut_off_by)
    return tuple(appliance.van.name_of(valve) for valve, names in cut.items() if names == {appliance.id})


@fact(CombustionAppliance, list_of(text()), formula="drain openings that name it", source="the spec")
def drop_outs(appliance: Subject) -> tuple[str, ...]:
    """Openings in the floor below it through which leaked gas falls out, open at all times."""
    return tuple(
        opening.name
        for opening in appliance.van.of_class(GasDropOut)
        if appliance.id in opening.below
        and not opening.closable
        and opening.get("covered_by") in (None, "none")
    )


@fact(GasManifold, list_of(text()), formula="its ways without a valve", source="the spec")
def ways_without_valve(manifold: Subject) -> tuple[str, ...]:
    """Ways of the manifold that cannot be shut."""
    return tuple(name for name, way in manifold.ways.items() if not way.shut_off)
