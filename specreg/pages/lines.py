"""What joins what on one medium, as a tree that grows downward from its sources: one row for each thing.

The ways of a box hang together; those of a switch panel do not, so that each switch stands in its own
circuit. A run that comes back to a thing already drawn ends in a reference to it, as one-line diagrams do.
Every thing takes a row of its own and its words stand to the right of it: no two texts can meet.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import NamedTuple

from specreg.graph.network import Network
from specreg.model.build import Build
from specreg.model.dc import SwitchPanel
from specreg.model.port import Medium, Terminal
from specreg.model.water import Draw

LEADING = {Medium.dc: ("positive", "negative"), Medium.ac: ("line",)}
"""The cores by which a medium is followed, best first; the others run beside them."""


class Branch(NamedTuple):
    """What leads to a thing: the run, and the way or device on it as findings name it."""

    run: str
    devices: tuple[str, ...] = ()


@dataclass(slots=True)
class Knot:
    """A thing in the tree: a component, or one way of a panel (`panel/3`).

    `again` says that the thing is drawn elsewhere and only named here. `branch` leads to it.
    """

    thing: str
    branch: Branch | None = None
    again: bool = False
    children: list[Knot] = field(default_factory=list)

    def rows(self) -> Iterator[tuple[int, Knot]]:
        """Yield the knots from above to below with their depth."""
        waiting: list[tuple[int, Knot]] = [(0, self)]
        while waiting:
            depth, knot = waiting.pop()
            yield depth, knot
            waiting += [(depth + 1, child) for child in reversed(knot.children)]


def trees(build: Build, net: Network, media: tuple[Medium, ...], roots: Iterable[str]) -> list[Knot]:
    """Return the trees of what is joined on some media, begun at the roots, then at what is left over.

    A tap ends its branch: its cold and hot sides meet in it, but nothing comes through.
    """
    joints = _joints(build, net, media)
    drawn: set[str] = set()
    used: set[str] = set()
    found = []
    for root in (*roots, *joints):
        if root in joints and root not in drawn:
            found.append(_grown(build, root, joints, drawn, used))
    return [tree for tree in found if tree.children]


Joints = dict[str, list[tuple[str, Branch]]]
"""For every thing what it is joined to, in the order of the spec."""


def _joints(build: Build, net: Network, media: tuple[Medium, ...]) -> Joints:
    found: Joints = {}
    for name, run in build.runs.items():
        if run.medium not in media:
            continue
        ends = build.ends[name]
        core = next((c for c in LEADING.get(run.medium, ()) if c in ends.cores), ends.cores[0])
        if core == "negative":
            continue
        one, other = (Terminal(j.component, j.port.key, core) for j in (ends.start, ends.finish))
        if "chassis" in (one.component, other.component):
            continue
        a, b = _knot(build, one), _knot(build, other)
        devices = tuple(_ways(net, one, other, name))
        found.setdefault(a, []).append((b, Branch(name, devices)))
        found.setdefault(b, []).append((a, Branch(name, tuple(reversed(devices)))))
    return found


def _knot(build: Build, terminal: Terminal) -> str:
    """Return the thing at a terminal: the component, or the way of a panel whose switches stand apart."""
    component = build.components[terminal.component]
    way = terminal.port.partition(" ")[0]
    apart = isinstance(component, SwitchPanel) and way in component.ways
    return f"{terminal.component}/{way}" if apart else terminal.component


def _ways(net: Network, one: Terminal, other: Terminal, run: str) -> Iterator[str]:
    """Yield the fuses and breakers from one end of a run to the other: in its ways and in line."""
    yield from _way(net, one)
    yield from (edge.device_id for edge in net.devices.values() if edge.owner == run)
    yield from _way(net, other)


def _way(net: Network, terminal: Terminal) -> Iterator[str]:
    """Yield the device of the way at which a run ends, where a box holds it."""
    way = terminal.port.partition(" ")[0]
    for _, edge in net.around(terminal):
        if not edge.is_run and edge.device is not None and edge.device_id == f"{edge.owner}/{way}":
            yield edge.device_id


def _grown(build: Build, root: str, joints: Joints, drawn: set[str], used: set[str]) -> Knot:
    """Grow one tree, the nearest things first, so that no way is longer than it must be."""
    top = Knot(root)
    drawn.add(root)
    waiting = deque([top])
    while waiting:
        knot = waiting.popleft()
        for thing, branch in joints[knot.thing]:
            if branch.run in used:
                continue
            used.add(branch.run)
            child = Knot(thing, branch, again=thing in drawn)
            knot.children.append(child)
            if not child.again:
                drawn.add(thing)
                waiting += () if isinstance(build.components.get(thing), Draw) else (child,)
    return top
