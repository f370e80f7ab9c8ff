"""One multigraph of a whole build: terminals joined by runs and by what is inside components."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from specreg.model.build import Build
from specreg.model.device import End, InlineDevice, ProtectiveDevice, fitted
from specreg.model.port import LinkKind, Medium, Terminal
from specreg.model.run import Cable, DcRun, Run
from specreg.model.series import links

if TYPE_CHECKING:
    import networkx

CHASSIS = Terminal("chassis", "", "negative")
"""The body of the vehicle as a return conductor."""


@dataclass(frozen=True, slots=True)
class Edge:
    """What joins two terminals: a core of a run, or a link inside a component.

    `tail` is the end that it comes from, `owner` the run or component. `device_id` names a protective
    device as findings do: `fuse-box/4` for a way, `battery-main/near` for a device on a run, `main-fuse`
    for a holder. `valve` names a valve in the same way: `gas-manifold/hob` for that of one outlet. `segment`
    counts the pieces into which in-line devices part a run.
    """

    tail: Terminal
    owner: str
    medium: Medium
    core: str
    is_run: bool
    kind: LinkKind | None = None
    device: ProtectiveDevice | None = None
    device_id: str = ""
    valve: str = ""
    segment: int = 0
    modes: frozenset[str] = field(default_factory=frozenset)
    one_way: bool = False

    @property
    def one_way_from(self) -> Terminal | None:
        """Return the terminal from which alone supply passes; None where it passes either way."""
        return self.tail if self.one_way else None

    def closed(self, mode: str | None) -> bool:
        """Tell whether it can conduct in a source mode; None asks whether it ever can."""
        return mode is None or not self.modes or mode in self.modes


@dataclass(frozen=True)
class Network:
    """The graph as an index from each terminal to its neighbours, built once for a build."""

    joints: tuple[tuple[Terminal, Terminal, Edge], ...]
    neighbours: dict[Terminal, tuple[tuple[Terminal, Edge], ...]]
    devices: dict[str, Edge]

    @cached_property
    def graph(self) -> networkx.MultiGraph[Terminal]:
        """Return it as a networkx multigraph, whose algorithms then serve; each edge bears its `edge`."""
        import networkx  # noqa: PLC0415 - 70 ms that no question of the rules needs

        graph: networkx.MultiGraph[Terminal] = networkx.MultiGraph()
        graph.add_nodes_from(self.neighbours)
        for one, other, edge in self.joints:
            graph.add_edge(one, other, edge=edge)
        return graph

    def around(self, terminal: Terminal) -> tuple[tuple[Terminal, Edge], ...]:
        """Return the neighbours of a terminal with the edges that lead to them."""
        return self.neighbours.get(terminal, ())

    @cached_property
    def _of_component(self) -> dict[str, list[Terminal]]:
        found: dict[str, list[Terminal]] = {}
        for terminal in self.neighbours:
            found.setdefault(terminal.component, []).append(terminal)
        return found

    def terminals(self, component: str) -> tuple[Terminal, ...]:
        """Return the terminals of one component."""
        return tuple(self._of_component.get(component, ()))


def network(build: Build) -> Network:
    """Build the graph of a build."""
    joined: dict[Terminal, dict[Terminal, list[Edge]]] = {}
    devices: dict[str, Edge] = {}
    for name, component in build.components.items():
        for port in component.ports():
            joined.update({Terminal(name, port.key, core): {} for core in port.cores})
    for start, finish, edge in (*_inside(build), *_in_series(build), *_along(build)):
        for one, other in {(start, finish): None, (finish, start): None}:
            joined.setdefault(one, {}).setdefault(other, []).append(edge)
        if edge.device is not None:
            devices[edge.device_id] = edge
    neighbours = {
        terminal: tuple((other, edge) for other, edges in around.items() for edge in edges)
        for terminal, around in joined.items()
    }
    return Network(tuple(_joints(neighbours)), neighbours, devices)


def _joints(
    neighbours: dict[Terminal, tuple[tuple[Terminal, Edge], ...]],
) -> Iterator[tuple[Terminal, Terminal, Edge]]:
    """Yield every edge once, from the terminal that comes first."""
    done: set[Terminal] = set()
    for terminal, around in neighbours.items():
        yield from ((terminal, other, edge) for other, edge in around if other not in done)
        done.add(terminal)


def _inside(build: Build) -> Iterator[tuple[Terminal, Terminal, Edge]]:
    """Yield the links inside components, an edge for each core that both ports have."""
    for name, component in build.components.items():
        ports = {port.key: port for port in component.ports()}
        for link in component.links():
            a, b = ports[link.a], ports[link.b]
            shared = [core for core in a.cores if core in b.cores]
            if not shared:  # a conversion from one medium to another joins the leading cores
                pairs = [(a.cores[0], b.cores[0])]
            else:
                pairs = [(core, core) for core in shared if not link.cores or core in link.cores]
            for core_a, core_b in pairs:
                start, finish = Terminal(name, link.a, core_a), Terminal(name, link.b, core_b)
                called = f"{name}/{link.name}" if link.name else name
                yield (
                    start,
                    finish,
                    Edge(
                        start,
                        name,
                        b.medium,
                        core_b,
                        False,
                        link.kind,
                        link.device,
                        called if link.device else "",
                        called if link.kind is LinkKind.valve else "",
                        modes=link.modes,
                        one_way=link.one_way or link.kind is LinkKind.conversion,
                    ),
                )


def _in_series(build: Build) -> Iterator[tuple[Terminal, Terminal, Edge]]:
    """Yield each battery above another as what its string's current passes, from its lower pole to its upper.

    Its lower pole is on the positive core there: the batteries below make it live.
    """
    for name in {upper: None for _, upper, _ in links(build)}:
        low, high = Terminal(name, "negative", "positive"), Terminal(name, "positive", "positive")
        yield low, high, Edge(low, name, Medium.dc, "positive", False, LinkKind.cell)


def _along(build: Build) -> Iterator[tuple[Terminal, Terminal, Edge]]:
    """Yield the runs, an edge for each core, parted by the devices that sit on them."""
    for name, run in build.runs.items():
        ends = build.ends[name]
        for core in ends.cores:
            start = Terminal(ends.start.component, ends.start.port.key, core)
            finish = Terminal(ends.finish.component, ends.finish.port.key, core)
            yield from _core(name, run, core, start, finish)
        if isinstance(run, DcRun) and run.returns == "chassis" and "negative" not in ends.cores:
            end = ends.finish
            if "negative" in end.port.cores:
                bond = Terminal(end.component, end.port.key, "negative")
                yield bond, CHASSIS, Edge(bond, name, Medium.dc, "negative", True)
    for name, component in build.components.items():
        if component.kind == "chassis-point":
            stud = Terminal(name, "stud", "negative")
            yield stud, CHASSIS, Edge(stud, name, Medium.dc, "negative", False, LinkKind.plain)


def _core(
    name: str, run: Run, core: str, start: Terminal, finish: Terminal
) -> Iterator[tuple[Terminal, Terminal, Edge]]:
    protected = core in ("positive", "line")
    devices = in_order(run) if protected and isinstance(run, Cable) else ()
    here = start
    for index, (called, device) in enumerate(devices):
        before = Terminal(name, f"{called} in", core)
        after = Terminal(name, f"{called} out", core)
        yield here, before, Edge(here, name, run.medium, core, True, segment=index)
        yield (
            before,
            after,
            Edge(before, name, run.medium, core, False, LinkKind.device, device, f"{name}/{called}"),
        )
        here = after
    yield here, finish, Edge(here, name, run.medium, core, True, segment=len(devices))


def in_order(run: Cable) -> tuple[tuple[str, InlineDevice], ...]:
    """Return the in-line devices of a run from its start to its end, each with its name.

    Those measured from the start come first, nearest first; those measured from the end come last.
    """
    named = [(name, device) for name, device in run.protection.items() if fitted(device)]
    near = sorted(
        (item for item in named if item[1].end is End.start), key=lambda item: item[1].distance or 0.0
    )
    far = sorted(
        (item for item in named if item[1].end is End.finish), key=lambda item: -(item[1].distance or 0.0)
    )
    return (*near, *far)
