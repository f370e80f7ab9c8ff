"""Who can feed a short circuit on a conductor, through which devices, and how much these let through.

A short at any point of a conductor is fed from both of its ends, each end separately. What the sources
behind one end can push through it is the greatest flow from all of them at once to that end, where a
protective device carries at most its rating, a self-limiting source gives at most its limit, and
everything else carries anything. By the max-flow min-cut theorem the devices that bound that flow are the
least cut: so one device at the head of a run, and several devices that act together, are judged alike.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import inf

from specreg.graph.network import Edge, Network
from specreg.model.build import Build
from specreg.model.dc import Battery
from specreg.model.port import Feed, LinkKind, Medium, Terminal
from specreg.model.series import strings

SOURCE = Terminal("", "", "")
"""A terminal that stands for all sources at once."""

CONDUCTING = (LinkKind.plain, LinkKind.device, LinkKind.switch, LinkKind.contact, None)
LIVE = ("positive", "line")


@dataclass(frozen=True)
class Supply:
    """One source: a component's feed at one of its terminals."""

    component: str
    terminal: Terminal
    feed: Feed


@dataclass(frozen=True)
class LetThrough:
    """What the sources behind one end of a piece of conductor can push through it.

    `current` in ampere, infinite where a source reaches it through nothing that limits it. `sources`
    names all that reach it, `unlimited` those that do so without a device or a limit of their own.
    `devices` are the devices and `limiting` the self-limiting sources that together bound the current.
    """

    current: float
    sources: tuple[str, ...] = ()
    unlimited: tuple[str, ...] = ()
    devices: tuple[str, ...] = ()
    limiting: tuple[str, ...] = ()


@dataclass(frozen=True)
class Piece:
    """A piece of a run between its ends and its in-line devices, with the terminals at its ends."""

    run: str
    segment: int
    start: Terminal
    finish: Terminal
    edge: Edge


def supplies(build: Build) -> tuple[Supply, ...]:
    """Return every direct-current source of a build."""
    found = []
    for name, component in build.components.items():
        ports = {port.key: port for port in component.ports()}
        for feed in component.feeds():
            port = ports[feed.port]
            if port.medium is Medium.dc and "positive" in port.cores:
                found.append(Supply(name, Terminal(name, feed.port, "positive"), feed))
    chains = strings(build)
    return tuple(_of_string(build, supply, chains.get(supply.component, ())) for supply in found)


def _of_string(build: Build, supply: Supply, chain: tuple[str, ...]) -> Supply:
    """Return the feed of a battery with those below it in series: voltages and resistances add."""
    below = chain[chain.index(supply.component) :] if chain else ()
    if len(below) < 2:
        return supply
    batteries = [battery for name in below if isinstance(battery := build.components[name], Battery)]
    nominal = [battery.nominal_voltage for battery in batteries if battery.nominal_voltage is not None]
    total = sum(nominal) if len(nominal) == len(batteries) else None
    feed = replace(supply.feed, nominal=total, fault_current=_fault_current(batteries))
    return replace(supply, feed=feed)


def _fault_current(batteries: list[Battery]) -> float | None:
    """Return ΣE / ΣR of batteries in series, R = E / I of each; None where one is not known."""
    voltages, resistances = 0.0, 0.0
    for battery in batteries:
        highest = battery.highest_charge_voltage or battery.nominal_voltage
        if not highest or not battery.fault_current:
            return None
        voltages += highest
        resistances += highest / battery.fault_current
    return voltages / resistances


def all_pieces(net: Network, core: str = "positive") -> dict[str, tuple[Piece, ...]]:
    """Return the pieces of every run that has a core of that name, in one pass over the graph."""
    found: dict[str, list[Piece]] = {}
    for one, other, edge in net.joints:
        if edge.is_run and edge.core == core:
            finish = other if one == edge.tail else one
            found.setdefault(edge.owner, []).append(Piece(edge.owner, edge.segment, edge.tail, finish, edge))
    return {run: tuple(sorted(items, key=lambda piece: piece.segment)) for run, items in found.items()}


def let_through(net: Network, sources: Iterable[Supply], target: Terminal, without: Edge) -> LetThrough:
    """Return what all sources at once can push into `target` when the piece `without` is cut out.

    The greatest flow by shortest augmenting paths (Edmonds and Karp 1972); at most one path for each
    device, so that a van's few devices make it quick.
    """
    reached = _reached(net, target, without)
    behind = [supply for supply in sources if supply.terminal in reached]
    if not behind:
        return LetThrough(0.0)
    names = tuple(sorted({supply.component for supply in behind}))
    bare = _reached(net, target, without, through_devices=False)
    unlimited = tuple(sorted({s.component for s in behind if s.feed.limit is None and s.terminal in bare}))
    flow = _Flow(net, behind, target, without)
    current = flow.greatest()
    devices, limiting = flow.cut() if current < inf else ((), ())
    return LetThrough(current, names, unlimited, devices, limiting)


def conducts(edge: Edge, terminal: Terminal, core: str) -> bool:
    """Tell whether an edge carries current of a core towards a terminal from its other end."""
    if edge.core != core or (edge.kind not in CONDUCTING and edge.kind is not LinkKind.cell):
        return False
    return edge.one_way_from is None or edge.one_way_from != terminal


def _reached(net: Network, target: Terminal, without: Edge, through_devices: bool = True) -> set[Terminal]:
    """Return every terminal from which current can get to `target`, going backwards from it."""
    seen, queue = {target}, deque([target])
    while queue:
        here = queue.popleft()
        for other, edge in net.around(here):
            if other in seen or edge is without or not conducts(edge, here, target.core):
                continue
            if edge.device is not None and not through_devices:
                continue
            seen.add(other)
            queue.append(other)
    return seen


class _Flow:
    """The residual network of one greatest-flow computation."""

    def __init__(self, net: Network, sources: list[Supply], target: Terminal, without: Edge) -> None:
        self.net = net
        self.target = target
        self.without = without
        self.sources = sources
        self.used: dict[tuple[int, Terminal], float] = {}
        self.given: dict[str, float] = {}

    def greatest(self) -> float:
        """Return the greatest flow in ampere, infinite where nothing limits it."""
        total = 0.0
        while True:
            path = self._path()
            if path is None:
                return total
            room = min(room for _, room in path)
            if room == inf:
                return inf
            total += room
            for key, _ in path:
                self._use(key, room)

    def _use(self, key: tuple[int, Terminal, Terminal] | str, room: float) -> None:
        if isinstance(key, str):
            self.given[key] = self.given.get(key, 0.0) + room
            return
        edge, here, there = key
        self.used[edge, here] = self.used.get((edge, here), 0.0) + room
        self.used[edge, there] = self.used.get((edge, there), 0.0) - room

    def _room(self, edge: Edge, here: Terminal) -> float:
        """Return how much more can pass an edge away from `here`."""
        if edge.device is None:
            return inf
        return edge.device.rating - self.used.get((id(edge), here), 0.0)

    def _source_room(self, supply: Supply) -> float:
        limit = inf if supply.feed.limit is None else supply.feed.limit
        return limit - self.given.get(supply.component, 0.0)

    def _path(self) -> list[tuple[tuple[int, Terminal, Terminal] | str, float]] | None:
        """Return the shortest path with room from a source to the target, as steps with their room."""
        parents = self._search()
        if self.target not in parents:
            return None
        steps: list[tuple[tuple[int, Terminal, Terminal] | str, float]] = []
        here = self.target
        while True:
            before, edge, room = parents[here]
            if before == SOURCE:
                steps.append((self._supply_at(here).component, room))
                return steps
            steps.append(((id(edge), before, here), room))
            here = before

    def _supply_at(self, terminal: Terminal) -> Supply:
        return next(supply for supply in self.sources if supply.terminal == terminal)

    def _search(self) -> dict[Terminal, tuple[Terminal, Edge | None, float]]:
        parents: dict[Terminal, tuple[Terminal, Edge | None, float]] = {}
        queue: deque[Terminal] = deque()
        for supply in self.sources:
            room = self._source_room(supply)
            if room > 0 and supply.terminal not in parents:
                parents[supply.terminal] = (SOURCE, None, room)
                queue.append(supply.terminal)
        while queue:
            here = queue.popleft()
            if here == self.target:
                break
            for other, edge in self.net.around(here):
                if other in parents or edge is self.without or not conducts(edge, other, self.target.core):
                    continue
                room = self._room(edge, here)
                if room > 0:
                    parents[other] = (here, edge, room)
                    queue.append(other)
        return parents

    def cut(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Return the devices and the self-limiting sources that bound the flow: the least cut."""
        open_side = self._search()
        devices = {
            edge.device_id
            for terminal in open_side
            for other, edge in self.net.around(terminal)
            if other not in open_side
            and edge.device is not None
            and edge is not self.without
            and conducts(edge, other, self.target.core)
        }
        limiting = {
            supply.component
            for supply in self.sources
            if self._source_room(supply) <= 0 and supply.terminal not in open_side
        }
        return tuple(sorted(devices)), tuple(sorted(limiting))
