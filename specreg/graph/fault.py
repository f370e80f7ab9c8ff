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
from typing import NamedTuple

from specreg.graph.network import Edge, Network
from specreg.model.build import Build
from specreg.model.dc import Battery
from specreg.model.port import Feed, LinkKind, Terminal
from specreg.model.series import strings

SOURCE = Terminal("", "", "")
"""A terminal that stands for all sources at once."""

CONDUCTING = (LinkKind.plain, LinkKind.device, LinkKind.switch, LinkKind.contact, None)


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
            if "positive" in ports[feed.port].cores:
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
    return edge.one_way_from != terminal


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


class _Step(NamedTuple):
    """A step over an edge, or from `SOURCE` into a source's terminal, with the room left there in ampere."""

    edge: int
    start: Terminal
    finish: Terminal
    room: float


class _Flow:
    """The residual network of one greatest-flow computation; a source is an edge that comes from `SOURCE`."""

    def __init__(self, net: Network, sources: list[Supply], target: Terminal, without: Edge) -> None:
        self.net = net
        self.target = target
        self.without = without
        self.sources = sources
        self.used: dict[tuple[int, Terminal], float] = {}

    def greatest(self) -> float:
        """Return the greatest flow in ampere, infinite where nothing limits it."""
        total = 0.0
        while path := self._path():
            room = min(step.room for step in path)
            if room == inf:
                return inf
            total += room
            for step in path:
                self.used[step.edge, step.start] = self.used.get((step.edge, step.start), 0.0) + room
                self.used[step.edge, step.finish] = self.used.get((step.edge, step.finish), 0.0) - room
        return total

    def _room(self, edge: Edge, here: Terminal, there: Terminal) -> float:
        """Return how much more can pass an edge; against a diode, what flows already can be taken back."""
        most = inf if edge.device is None else edge.device.rating
        if not conducts(edge, there, self.target.core):
            most = 0.0
        return most - self.used.get((id(edge), here), 0.0)

    def _source_room(self, supply: Supply) -> float:
        limit = inf if supply.feed.limit is None else supply.feed.limit
        return limit - self.used.get((id(supply), SOURCE), 0.0)

    def _path(self) -> list[_Step]:
        """Return the shortest path with room from a source to the target, last step first; empty without."""
        found = self._search()
        path: list[_Step] = []
        here = self.target
        while here in found:
            path.append(found[here])
            here = found[here].start
        return path

    def _search(self) -> dict[Terminal, _Step]:
        """Return the terminals that more can flow to, each with the last step of the shortest way there."""
        found: dict[Terminal, _Step] = {}
        queue: deque[Terminal] = deque()
        for supply in self.sources:
            room = self._source_room(supply)
            if room > 0:
                found[supply.terminal] = _Step(id(supply), SOURCE, supply.terminal, room)
                queue.append(supply.terminal)
        while queue and self.target not in found:
            here = queue.popleft()
            for other, edge in self.net.around(here):
                if other in found or edge is self.without:
                    continue
                room = self._room(edge, here, other)
                if room > 0:
                    found[other] = _Step(id(edge), here, other, room)
                    queue.append(other)
        return found

    def cut(self) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """Return the devices and the self-limiting sources that bound the flow: the least cut."""
        open_side = self._search()
        devices = {
            edge.device_id
            for terminal in open_side
            for other, edge in self.net.around(terminal)
            if other not in open_side and edge.device is not None and conducts(edge, other, self.target.core)
        }
        limiting = {supply.component for supply in self.sources if supply.terminal not in open_side}
        return tuple(sorted(devices)), tuple(sorted(limiting))
