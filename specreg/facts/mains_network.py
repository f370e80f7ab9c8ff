"""The mains part of the graph as it conducts in one source mode, and what feeds it then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from specreg.facts.axes import SOURCE_MODES
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.graph.fault import Supply
from specreg.graph.network import Edge, Network
from specreg.graph.walk import reached
from specreg.model.component import Component
from specreg.model.mains import ShoreInlet, Socket
from specreg.model.mains_device import ResidualProtected
from specreg.model.port import LinkKind, Medium, Terminal

SITE_DEVICE = (
    "the site's device is taken at the inlet's rated current; an adapter to a larger outlet defeats that"
)


@dataclass(frozen=True)
class Live:
    """The mains network in one source mode: what conducts, and the sources that feed it."""

    mode: str
    net: Network
    sources: tuple[Supply, ...]

    def upstream(self, terminal: Terminal, without: frozenset[str] = frozenset()) -> set[Terminal]:
        """Return what a line terminal is joined to when the named devices or residual switches are open."""
        return reached(self.net, [terminal], lambda edge, *_: cut_name(edge) not in without)

    def feeds(self, terminal: Terminal, without: frozenset[str] = frozenset()) -> tuple[Supply, ...]:
        """Return the sources that reach a line terminal."""
        seen = self.upstream(terminal, without)
        return tuple(supply for supply in self.sources if supply.terminal in seen)


def cut_name(edge: Edge) -> str:
    """Name what opens an edge as findings do: a device by its id, a switch by its component."""
    return edge.device_id or (edge.owner if edge.kind is LinkKind.switch else "")


def live_networks(facts: Facts) -> dict[str, Live]:
    """Return the mains network of every source mode."""
    return {mode: _live(facts, mode) for mode in SOURCE_MODES}


def live(facts: Facts, mode: str | None) -> Live:
    """Return the mains network of one source mode; that on shore where none is named."""
    return facts.once(live_networks)[mode or SOURCE_MODES[0]]


def _live(facts: Facts, mode: str) -> Live:
    net = facts.net
    neighbours = {
        terminal: tuple((other, edge) for other, edge in around if _conducts(edge, mode))
        for terminal, around in net.neighbours.items()
    }
    kept = Network(net.joints, neighbours, net.devices)
    return Live(mode, kept, tuple(_sources(facts, kept, mode)))


def _conducts(edge: Edge, mode: str) -> bool:
    """Tell whether mains goes over an edge; a conversion leads to a battery, from which no mains goes on."""
    return edge.medium is Medium.ac and edge.closed(mode)


def _sources(facts: Facts, net: Network, mode: str) -> Iterator[Supply]:
    """Yield the sources of a mode whose output is joined to a cable; a port of direct current has no line."""
    for name, component in facts.build.components.items():
        for feed in component.feeds():
            terminal = Terminal(name, feed.port, "line")
            if mode in feed.modes and any(edge.is_run for _, edge in net.around(terminal)):
                yield Supply(name, terminal, feed)


def limited_sources(facts: Facts, of: Live) -> tuple[Supply, ...]:
    """Return the sources with the site's own device as the limit of the supply on shore.

    Raises Missing where the inlet's rated current is not stated.
    """
    found = []
    for supply in of.sources:
        component = facts.build.components[supply.component]
        if isinstance(component, ShoreInlet):
            if component.rated_current is None:
                raise Missing(f"{supply.component}.rated_current")
            found.append(replace(supply, feed=replace(supply.feed, limit=component.rated_current)))
        else:
            found.append(supply)
    return tuple(found)


def mains_terminal(facts: Facts, name: str) -> Terminal | None:
    """Return the line terminal at which a component takes mains, a socket at its outlet; None without one."""
    component = facts.build.components[name]
    if isinstance(component, Socket):
        return Terminal(name, "outlet", "line")
    ports = [port for port in component.ports() if port.name == "mains"]
    return Terminal(name, ports[0].key, "line") if ports else None


@dataclass(frozen=True)
class Residual:
    """A device that trips on residual current: its id, rated residual current and type, where stated."""

    name: str
    field: str
    current: float | None
    kind: str | None


def residuals(facts: Facts) -> tuple[Residual, ...]:
    """Return everything that trips on residual current, switches and combined breakers."""
    switches = [_switch(name, component) for name, component in facts.build.components.items()]
    breakers = [
        Residual(name, f"{name}.residual_current", device.residual_current, device.residual_type)
        for name, device in facts.devices.items()
        if device.residual_current is not None
    ]
    return (*(found for found in switches if found), *breakers)


def _switch(name: str, component: Component) -> Residual | None:
    if not isinstance(component, ResidualProtected) or component.residual is None:
        return None
    held = component.residual
    return Residual(name, f"{name}.residual.residual_current", held.residual_current, held.residual_type)
