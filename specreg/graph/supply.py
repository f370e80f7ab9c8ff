"""What supplies a thing, what it supplies, what isolates it, and what stops with it, over all media.

A component works while every port that it needs is live. Live terminals are found from the sources outward:
along runs, through links, and through conversions (a charger, a pump, a heater) only while the component
that converts works itself. Switches and valves count as closed and open to flow: the question is what
could work, not what is switched on.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from itertools import chain
from typing import NamedTuple

from specreg.graph.network import Edge, Network
from specreg.graph.walk import reached
from specreg.model.build import Build
from specreg.model.port import LinkKind, Medium, Port, Terminal, Way

SOURCES = frozenset(
    {
        "battery",
        "alternator",
        "solar-panel",
        "shore-inlet",
        "generator",
        "fresh-tank",
        "filler",
        "gas-cylinder",
        "gas-tank",
        "fuel-tank",
        "fuel-takeoff",
        "air-intake",
        "engine-coolant-takeoff",
    }
)
"""Kinds at which a supply begins."""


@dataclass(frozen=True, slots=True)
class Step:
    """One thing on the way from a component back to its source, nearest first.

    `form` is `run`, `device`, `switch`, `valve`, `component` or `source`; `id` names it as findings do.
    """

    form: str
    id: str


@dataclass(frozen=True, slots=True)
class Trail:
    """The way by which one needed port of a component is supplied; no steps where nothing reaches it."""

    port: str
    medium: Medium
    steps: tuple[Step, ...]

    @property
    def source(self) -> str | None:
        """Return the component at which the supply begins, if one reaches the port."""
        return self.steps[-1].id if self.steps and self.steps[-1].form == "source" else None


class WayOn(NamedTuple):
    """A way on for supply: to which terminals, the nearest first, and which things cut it when missing."""

    to: tuple[Terminal, ...]
    cut_by: frozenset[str]


WaysOn = dict[Terminal, tuple[WayOn, ...]]
"""The ways on from each terminal; a terminal without any has no entry."""


@dataclass(frozen=True)
class Supplied:
    """A build with its graph, ready for questions of supply."""

    build: Build
    net: Network
    ports: dict[str, tuple[Port, ...]]

    @cached_property
    def _needed(self) -> dict[str, tuple[Port, ...]]:
        return {name: tuple(port for port in ports if port.needed) for name, ports in self.ports.items()}

    def needed(self, component: str) -> tuple[Port, ...]:
        """Return the ports without which a component is dead."""
        return self._needed[component]

    @cached_property
    def needs(self) -> dict[str, frozenset[Terminal]]:
        """Return the terminals that must be live for each component to work."""
        return {
            name: frozenset(chain.from_iterable(_feeding(name, port) for port in ports))
            for name, ports in self._needed.items()
        }

    @cached_property
    def sources(self) -> tuple[Terminal, ...]:
        """Return the terminals at which supply begins."""
        kinds = self.build.components.items()
        return tuple(t for name, c in kinds if c.kind in SOURCES for t in self.net.terminals(name))

    @cached_property
    def along(self) -> WaysOn:
        """Return the ways on along runs: whatever is live leads on by them."""
        return _ways_on(self, runs=True)

    @cached_property
    def through(self) -> WaysOn:
        """Return the ways on inside components: only one that works leads on by them."""
        return _ways_on(self, runs=False)

    _lives: dict[frozenset[str], dict[Terminal, Terminal | None]] = field(default_factory=dict, repr=False)

    def live_without(self, things: frozenset[str]) -> dict[Terminal, Terminal | None]:
        """Return every terminal that is live without some things, with the one that it is fed from.

        It is worked out once for each of them: the pages of a van ask again and again what a switch stops.
        """
        if things not in self._lives:
            self._lives[things] = _live(self, things)
        return self._lives[things]

    _working: dict[frozenset[str], frozenset[str]] = field(default_factory=dict, repr=False)

    def working_without(self, things: frozenset[str]) -> frozenset[str]:
        """Return the components that could work without some things, worked out once for each of them."""
        if things not in self._working:
            live = self.live_without(things)
            self._working[things] = frozenset(
                name for name, needs in self.needs.items() if name not in things and live.keys() >= needs
            )
        return self._working[things]

    @property
    def live(self) -> dict[Terminal, Terminal | None]:
        """Return every live terminal of the whole van with the one that it is fed from."""
        return self.live_without(frozenset())

    @property
    def works(self) -> frozenset[str]:
        """Return the components that work while nothing is missing."""
        return self.working_without(frozenset())


def supplied(build: Build, net: Network) -> Supplied:
    """Prepare a build for questions of supply."""
    return Supplied(build, net, {name: c.ports() for name, c in build.components.items()})


def working(of: Supplied, without: frozenset[str] = frozenset()) -> frozenset[str]:
    """Return the components that could work when the named components, runs or devices are missing."""
    return of.working_without(without)


def stops_with(of: Supplied, thing: str) -> tuple[str, ...]:
    """Return what stops when a component, a run or a device fails, in the order of the spec."""
    stopped = of.works - working(of, frozenset({thing}))
    return tuple(name for name in of.build.components if name in stopped and name != thing)


def isolated_by(of: Supplied, component: str) -> tuple[Step, ...]:
    """Return the switches, valves and devices that each by itself cut a supply off, nearest first."""
    return tuple(
        dict.fromkeys(
            step
            for port in of.needed(component)
            for step in trail_to(of, component, port).steps
            if step.form in ("switch", "valve", "device")
            and not _fed(component, port, of.live_without(frozenset({step.id})))
        )
    )


def downstream(of: Supplied, component: str) -> tuple[str, ...]:
    """Return what can be reached from a component's outgoing side, in the order of the spec."""
    outgoing = [t for t in of.net.terminals(component) if _outgoing(of, component, t)]

    def onward(edge: Edge, here: Terminal, other: Terminal) -> bool:
        away = other.component != component and _passes(edge, here)
        return away and not (edge.is_run and _gives(of, other))

    behind = {terminal.component for terminal in reached(of.net, outgoing, onward)} - {component}
    return tuple(name for name in of.build.components if name in behind)


def _gives(of: Supplied, terminal: Terminal) -> bool:
    """Tell whether a port only gives: a second charger on the same bar is not supplied by the first.

    Nor does water go back to where a pipe comes from: every pipe begins at such a port.
    """
    return any(p.key == terminal.port and p.way is Way.out for p in of.ports.get(terminal.component, ()))


def _outgoing(of: Supplied, component: str, terminal: Terminal) -> bool:
    ports = {port.key: port for port in of.ports[component]}
    return ports[terminal.port].way is not Way.into and terminal.core not in ("negative", "neutral", "earth")


def upstream(of: Supplied, component: str) -> tuple[Trail, ...]:
    """Return the way back to the nearest source for every port that a component needs."""
    return tuple(trail_to(of, component, port) for port in of.needed(component))


def trail_to(of: Supplied, component: str, port: Port, core: str = "") -> Trail:
    """Return the way back to the nearest source for one core of a port (the leading one without a name).

    It is asked of any port, whether the component needs it or not.
    """
    steps = _steps(of, Terminal(component, port.key, core or port.cores[0]), of.live)
    return Trail(port.name, port.medium, steps)


def _steps(of: Supplied, target: Terminal, live: dict[Terminal, Terminal | None]) -> tuple[Step, ...]:
    """Follow the parents of a live terminal back to its source."""
    steps: list[Step] = []
    here = target
    if here not in live:
        return ()
    while (before := live[here]) is not None:
        _add(steps, of, before, here)
        here = before
    return (*steps, Step("source", here.component))


def _add(steps: list[Step], of: Supplied, before: Terminal, here: Terminal) -> None:
    edge = next((e for other, e in of.net.around(here) if other == before), None)
    if edge is None:  # a core that a conversion makes live beside the leading one
        step = Step("component", here.component)
    elif edge.kind is LinkKind.plain and not edge.one_way:
        return
    else:
        step = Step(*_called(edge, here, before))
    if not steps or steps[-1] != step:
        steps.append(step)


def _called(edge: Edge, here: Terminal, before: Terminal) -> tuple[str, str]:
    if edge.is_run:
        return "run", edge.owner
    if edge.kind is LinkKind.device:
        return "device", edge.device_id
    if edge.kind is LinkKind.valve:
        return "valve", edge.valve
    if edge.kind is LinkKind.switch:
        way = here.port.partition(" ")[0]
        numbered = here.port.endswith((" in", " out"))
        return "switch", f"{edge.owner}/{way}" if numbered else edge.owner
    return "component", edge.owner


def _passes(edge: Edge, here: Terminal) -> bool:
    return edge.one_way_from is None or edge.one_way_from == here


def _cut_by(edge: Edge, here: Terminal) -> frozenset[str]:
    """Return what cuts an edge when it is missing: its owner, its device or valve, the way of the switch."""
    found = {edge.owner, edge.device_id, edge.valve}
    if edge.kind is LinkKind.switch:
        found.add(f"{edge.owner}/{here.port.partition(' ')[0]}")
    return frozenset(found)


def _fed(component: str, port: Port, live: dict[Terminal, Terminal | None]) -> bool:
    """Tell whether every core of a port is live; the protective conductor is none that feeds."""
    return all(terminal in live for terminal in _feeding(component, port))


def _feeding(component: str, port: Port) -> Iterator[Terminal]:
    return (Terminal(component, port.key, core) for core in port.cores if core != "earth")


def _ways_on(of: Supplied, *, runs: bool) -> WaysOn:
    """Return the ways on along runs, or through components, from every terminal of a build."""
    found = {
        here: tuple(
            WayOn(_led_to(of, edge, other), _cut_by(edge, here))
            for other, edge in around
            if edge.is_run == runs and _passes(edge, here)
        )
        for here, around in of.net.neighbours.items()
    }
    return {here: ways for here, ways in found.items() if ways}


def _led_to(of: Supplied, edge: Edge, other: Terminal) -> tuple[Terminal, ...]:
    """Return what an edge makes live: its other end, and with a conversion every core of the port there."""
    if edge.is_run or edge.kind is not LinkKind.conversion:
        return (other,)
    port = next(port for port in of.ports[other.component] if port.key == other.port)
    return (other, *(Terminal(other.component, port.key, core) for core in port.cores))


def _live(of: Supplied, without: frozenset[str]) -> dict[Terminal, Terminal | None]:
    """Return every live terminal with the one that it is fed from (None at a source)."""
    live: dict[Terminal, Terminal | None] = {}
    working: set[str] = set()
    queue: deque[tuple[Terminal, Terminal | None]] = deque((terminal, None) for terminal in of.sources)
    while queue:
        here, parent = queue.popleft()
        component = here.component
        if here in live or component in without:
            continue
        live[here] = parent
        queue.extend(_led(of.along.get(here, ()), here, live, without))
        if component in working or component not in of.ports:
            queue.extend(_led(of.through.get(here, ()), here, live, without))
        elif live.keys() >= of.needs[component]:
            # What was live before it worked hands on now; whatever becomes live later does so by itself.
            working.add(component)
            for terminal in of.net.terminals(component):
                if terminal in live:
                    queue.extend(_led(of.through.get(terminal, ()), terminal, live, without))
    return live


def _led(
    ways: tuple[WayOn, ...], here: Terminal, live: dict[Terminal, Terminal | None], without: frozenset[str]
) -> Iterator[tuple[Terminal, Terminal]]:
    """Yield what becomes live from one live terminal, by the ways that nothing missing cuts."""
    for way in ways:
        if way.to[0] not in live and way.cut_by.isdisjoint(without):
            for other in way.to:
                yield other, here
