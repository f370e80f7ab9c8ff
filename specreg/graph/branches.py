"""One core of the direct-current graph as a tree: which side of a cut holds what, and which way leads where.

One depth-first pass (Tarjan 1974) numbers the terminals and finds the edges without which the graph falls
apart. Behind such a *bridge* lies an unbroken stretch of the numbering; a ring or a pair of parallel cables
has none, and how current divides there is not asked of this module.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from itertools import accumulate, chain

from specreg.graph.network import Edge, Network
from specreg.model.port import Terminal

Admits = Callable[[Edge], bool]


Stretches = tuple[tuple[int, int], ...]
"""Parts of the numbering, each from its first place to before its last."""


@dataclass(frozen=True)
class Branches:
    """The numbering: `order` by first visit, `ends` the end of what lies below each terminal."""

    order: tuple[Terminal, ...]
    place: dict[Terminal, int]
    ends: dict[Terminal, int]
    roots: dict[Terminal, Terminal]
    above: dict[Terminal, tuple[Terminal, Edge]]
    bridges: frozenset[int]

    def is_bridge(self, edge: Edge) -> bool:
        """Tell whether nothing else joins what the edge joins."""
        return id(edge) in self.bridges

    def part(self, terminal: Terminal) -> tuple[Terminal, ...]:
        """Return every terminal joined to one, itself included."""
        return tuple(chain.from_iterable(self.order[first:last] for first, last in self.stretch(terminal)))

    def stretch(self, terminal: Terminal) -> Stretches:
        """Return the places of every terminal joined to one, itself included."""
        root = self.roots.get(terminal)
        return () if root is None else ((self.place[root], self.ends[root]),)

    def joined(self, terminal: Terminal) -> bool:
        """Tell whether anything is joined to a terminal."""
        return any(last - first > 1 for first, last in self.stretch(terminal))

    def sides(self, near: Terminal, far: Terminal, edge: Edge) -> tuple[Stretches, Stretches] | None:
        """Return the places on the sides of `near` and of `far` once the edge is cut; None in a ring."""
        if not self.is_bridge(edge):
            return None
        below = far if self.above.get(far, (None, None))[1] is edge else near
        first, last, root = self.place[below], self.ends[below], self.roots[below]
        inside, outside = ((first, last),), ((self.place[root], first), (last, self.ends[root]))
        return (outside, inside) if below == far else (inside, outside)

    def listed(self, those: Container[Terminal]) -> Listed:
        """Return some of the terminals, ready to be listed by part of the numbering."""
        kept = tuple(terminal for terminal in self.order if terminal in those)
        before = tuple(accumulate((terminal in those for terminal in self.order), initial=0))
        return Listed(self, kept, before)

    def way(self, start: Terminal, finish: Terminal) -> tuple[tuple[Terminal, Edge, Terminal], ...] | None:
        """Return the steps between two terminals along the tree; None where nothing joins them."""
        if start not in self.roots or self.roots.get(finish) != self.roots[start]:
            return None
        up: list[tuple[Terminal, Edge, Terminal]] = []
        down: list[tuple[Terminal, Edge, Terminal]] = []
        while start != finish:
            if self.place[start] > self.place[finish]:
                before, edge = self.above[start]
                up.append((start, edge, before))
                start = before
            else:
                before, edge = self.above[finish]
                down.append((before, edge, finish))
                finish = before
        return (*up, *reversed(down))


@dataclass(frozen=True)
class Listed:
    """Some terminals of a tree in its order; `before` counts those ahead of each place in the numbering.

    What few there are of a sort, such as sources, is listed without a look at all the others.
    """

    tree: Branches
    order: tuple[Terminal, ...]
    before: tuple[int, ...]

    def within(self, stretches: Stretches) -> tuple[Terminal, ...]:
        """Return those that stand in some parts of the numbering."""
        before = self.before
        return tuple(
            chain.from_iterable(self.order[before[first] : before[last]] for first, last in stretches)
        )

    def part(self, terminal: Terminal) -> tuple[Terminal, ...]:
        """Return those that are joined to a terminal, itself included where it is one of them."""
        return self.within(self.tree.stretch(terminal))


def branches(net: Network, core: str, admits: Admits) -> Branches:
    """Number the terminals of one core that the admitted edges join."""
    walk = _Walk(net, admits)
    for terminal in net.neighbours:
        if terminal.core == core and terminal not in walk.place:
            walk.visit(terminal)
    return Branches(tuple(walk.order), walk.place, walk.ends, walk.roots, walk.above, frozenset(walk.bridges))


class _Walk:
    """One depth-first pass without recursion: a chain of cables may be longer than the stack is deep."""

    def __init__(self, net: Network, admits: Admits) -> None:
        self.net = net
        self.admits = admits
        self.order: list[Terminal] = []
        self.place: dict[Terminal, int] = {}
        self.lowest: dict[Terminal, int] = {}
        self.ends: dict[Terminal, int] = {}
        self.roots: dict[Terminal, Terminal] = {}
        self.above: dict[Terminal, tuple[Terminal, Edge]] = {}
        self.bridges: set[int] = set()

    def visit(self, root: Terminal) -> None:
        """Visit all that is joined to a terminal."""
        stack = [(root, self._enter(root, root))]
        while stack:
            here, onward = stack[-1]
            step = next(onward, None)
            if step is None:
                stack.pop()
                self._leave(here)
                continue
            other, edge = step
            if other in self.place:
                self._meet(here, other, edge)
            else:
                self.above[other] = (here, edge)
                stack.append((other, self._enter(other, root)))

    def _enter(self, here: Terminal, root: Terminal) -> Iterator[tuple[Terminal, Edge]]:
        self.place[here] = self.lowest[here] = len(self.order)
        self.order.append(here)
        self.roots[here] = root
        return iter([(other, edge) for other, edge in self.net.around(here) if self.admits(edge)])

    def _meet(self, here: Terminal, other: Terminal, edge: Edge) -> None:
        if self.above.get(here, (None, None))[1] is not edge:
            self.lowest[here] = min(self.lowest[here], self.place[other])

    def _leave(self, here: Terminal) -> None:
        self.ends[here] = len(self.order)
        if here not in self.above:
            return
        before, edge = self.above[here]
        self.lowest[before] = min(self.lowest[before], self.lowest[here])
        if self.lowest[here] > self.place[before]:
            self.bridges.add(id(edge))
