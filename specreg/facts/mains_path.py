"""Mains: what stands between each socket or appliance and what feeds it, in each source mode."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.mains_network import live, mains_terminal, residuals
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.walk import reached
from specreg.model.component import Component
from specreg.model.inverting import InverterCharger
from specreg.model.mains import BondingPoint, ShoreInlet
from specreg.model.port import Terminal
from specreg.units import Dimension

GRAPH = "the mains part of the graph, contacts as they stand in the source mode"
CUT = "the device without which no source reaches it"
MODE = Axis.source_mode


def _feeds(component: Subject, without: frozenset[str] = frozenset()) -> tuple[str, ...]:
    terminal = mains_terminal(component.van, component.id)
    if terminal is None:
        return ()
    found = live(component.van, component.case).feeds(terminal, without)
    return tuple(sorted({supply.component for supply in found}))


@fact(Component, TRUTH, formula="it is a socket or has a mains port", source="the spec")
def takes_mains(component: Subject) -> bool:
    """Whether it takes or hands out mains."""
    return mains_terminal(component.van, component.id) is not None


@fact(Component, list_of(text()), formula=GRAPH, source="the graph", axis=MODE)
def mains_sources(component: Subject) -> tuple[str, ...]:
    """Sources that feed it in the source mode."""
    return _feeds(component)


@fact(Component, list_of(text()), formula=CUT, source="the graph", axis=MODE)
def residual_devices(component: Subject) -> tuple[str, ...]:
    """Residual-current devices, each of which alone cuts it off in the source mode."""
    found = residuals(component.van)
    if not _feeds(component):
        return ()
    return tuple(sorted(r.name for r in found if not _feeds(component, frozenset({r.name}))))


@fact(
    Component, TRUTH, formula="no source reaches it once all of them are open", source="the graph", axis=MODE
)
def residual_protected(component: Subject) -> bool | None:
    """Whether every way from a source to it passes a residual-current device."""
    if not _feeds(component):
        return None
    return not _feeds(component, frozenset(r.name for r in residuals(component.van)))


@fact(
    Component,
    number(Dimension.current),
    formula="least residual current I such that the devices of at most I cut every way from a source",
    source="the graph",
    axis=MODE,
)
def residual_trip_current(component: Subject) -> float | None:
    """Rated residual current by which everything that feeds it is cut off."""
    if not _feeds(component):
        return None
    found = residuals(component.van)
    known = sorted({r.current for r in found if r.current is not None})
    for current in known:
        names = frozenset(r.name for r in found if r.current is not None and r.current <= current)
        if not _feeds(component, names):
            return current
    if not _feeds(component, frozenset(r.name for r in found)):
        raise Missing(*(r.field for r in found if r.current is None))
    raise Missing(reason="a way from a source to it passes no residual-current device")


def residual_types_at(facts: Facts, terminal: Terminal, mode: str | None) -> tuple[str, ...]:
    """Return the types of the residual-current devices that alone cut a terminal off; Missing if unknown."""
    here = live(facts, mode)
    if not here.feeds(terminal):
        return ()
    found = [r for r in residuals(facts) if not here.feeds(terminal, frozenset({r.name}))]
    untyped = [r for r in found if r.kind is None]
    if untyped:
        raise Missing(*(r.field.replace("_current", "_type") for r in untyped))
    return tuple(sorted({str(r.kind) for r in found}))


@fact(Component, list_of(text()), formula=CUT, source="the graph", axis=MODE)
def residual_types(component: Subject) -> tuple[str, ...]:
    """Types of the residual-current devices that stand before it in the source mode."""
    terminal = mains_terminal(component.van, component.id)
    return residual_types_at(component.van, terminal, component.case) if terminal else ()


@fact(InverterCharger, list_of(text()), formula=CUT, source="the graph", axis=MODE)
def input_residual_types(inverter: Subject) -> tuple[str, ...]:
    """Types of the residual-current devices that stand before its mains input."""
    return residual_types_at(inverter.van, Terminal(inverter.id, "ac-in", "line"), inverter.case)


@fact(Component, list_of(text()), formula=CUT, source="the graph", axis=MODE)
def overcurrent_devices(component: Subject) -> tuple[str, ...]:
    """Fuses and breakers, each of which alone cuts it off in the source mode."""
    if not _feeds(component):
        return ()
    names = component.van.net.devices
    return tuple(sorted(name for name in names if not _feeds(component, frozenset({name}))))


@fact(
    Component,
    list_of(text()),
    formula="sources without a limit that reach it with every fuse and breaker open",
    source="the graph",
    axis=MODE,
)
def unbroken_sources(component: Subject) -> tuple[str, ...]:
    """Sources that reach it through no fuse or breaker in the van and have no limit of their own."""
    here = live(component.van, component.case)
    unlimited = {s.component for s in here.sources if s.feed.limit is None}
    names = frozenset(component.van.net.devices)
    return tuple(name for name in _feeds(component, names) if name in unlimited)


def earth_island(facts: Facts, terminal: Terminal) -> set[Terminal]:
    """Return what the protective conductor joins to a terminal, in every mode."""
    return reached(facts.net, [terminal], lambda edge, *_: edge.core == "earth")


def bodies(facts: Facts) -> dict[Terminal, str]:
    """Return the earth terminals of the bonding points that name the body or chassis among their metal."""
    found = {}
    for name, component in facts.build.components.items():
        if isinstance(component, BondingPoint) and {"body", "chassis"} & set(component.bonds):
            found[Terminal(name, "stud", "earth")] = name
    return found


@fact(
    Component, TRUTH, formula="earth cores without a break to a bonding point on the body", source="the graph"
)
def earthed(component: Subject) -> bool | None:
    """Whether its protective conductor reaches the bonding point of the body."""
    terminal = mains_terminal(component.van, component.id)
    if terminal is None:
        return None
    island = earth_island(component.van, terminal._replace(core="earth"))
    return bool(island & bodies(component.van).keys())


@fact(ShoreInlet, list_of(text()), formula="earth cores joined without a break", source="the graph")
def body_bonds(inlet: Subject) -> tuple[str, ...]:
    """Bonding points of the body that the earth pin of the inlet reaches."""
    found = bodies(inlet.van)
    island = earth_island(inlet.van, Terminal(inlet.id, "out", "earth"))
    return tuple(sorted(found[terminal] for terminal in island & found.keys()))


@fact(ShoreInlet, TRUTH, formula="the pattern names IEC or EN 60309", source="the spec")
def industrial_pattern(inlet: Subject) -> bool:
    """Whether the inlet is of the industrial pattern that sites use."""
    return "60309" in str(inlet.pattern)
