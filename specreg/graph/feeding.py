"""What can be pushed into every piece of conductor, for a whole build in one pass.

Most pieces are bridges of the graph: cut one, and the graph falls apart. What one side can push through a
bridge is then a sum over the parts of that side, each bounded by the device on its own bridge, so that two
sweeps over the tree of bridges give every answer: from the leaves to the root, and back. Pieces that lie on a
loop, and sides that hold a device on a loop, go through the general flow computation.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import inf

from specreg.graph.fault import LetThrough, Piece, Supply, conducts, let_through
from specreg.graph.network import Edge, Network
from specreg.model.port import Terminal

NOTHING = LetThrough(0.0)
Joint = tuple[Terminal, Terminal, Edge]


@dataclass(frozen=True)
class Fed:
    """A piece with what the sources behind each of its ends can push into it."""

    piece: Piece
    from_start: LetThrough
    from_finish: LetThrough


@dataclass
class _Block:
    """Terminals that hang together although any one edge be cut, with the bridges that lead away."""

    supplies: list[Supply] = field(default_factory=list)
    simple: bool = True
    bridges: list[Joint] = field(default_factory=list)
    incoming: dict[int, LetThrough] = field(default_factory=dict)


def feed_pieces(net: Network, sources: tuple[Supply, ...], core: str = "positive") -> tuple[Fed, ...]:
    """Return every piece of a core with what can be pushed into it from each of its ends."""
    joints = _joints(net, core)
    bridges = _bridges(joints)
    sides = _Sides(net, sources, joints, bridges)
    return tuple(
        Fed(piece, sides.at(piece.start, piece.edge), sides.at(piece.finish, piece.edge))
        for piece in _pieces(net, core)
    )


def _pieces(net: Network, core: str) -> Iterator[Piece]:
    for one, other, edge in net.joints:
        if edge.is_run and edge.core == core:
            finish = other if one == edge.tail else one
            yield Piece(edge.owner, edge.segment, edge.tail, finish, edge)


def _joints(net: Network, core: str) -> dict[Terminal, list[Joint]]:
    """Return the conducting edges at each terminal of a core, from that terminal outwards."""
    found: dict[Terminal, list[Joint]] = {}
    for terminal, around in net.neighbours.items():
        if terminal.core == core:
            found[terminal] = [
                (terminal, other, edge)
                for other, edge in around
                if conducts(edge, other, core) or conducts(edge, terminal, core)
            ]
    return found


def _bridges(joints: dict[Terminal, list[Joint]]) -> set[int]:
    """Return the edges whose removal parts the graph (Tarjan 1974), without recursion."""
    order: dict[Terminal, int] = {}
    lowest: dict[Terminal, int] = {}
    bridges: set[int] = set()
    for root, around in joints.items():
        if root in order:
            continue
        order[root] = lowest[root] = len(order)
        stack: list[tuple[Terminal, Edge | None, Iterator[Joint]]] = [(root, None, iter(around))]
        while stack:
            here, came_by, onward = stack[-1]
            step = next(onward, None)
            if step is None:
                stack.pop()
                if stack:
                    before = stack[-1][0]
                    lowest[before] = min(lowest[before], lowest[here])
                    if lowest[here] > order[before]:
                        bridges.add(id(came_by))
                continue
            _, other, edge = step
            if edge is came_by:
                continue
            if other in order:
                lowest[here] = min(lowest[here], order[other])
            else:
                order[other] = lowest[other] = len(order)
                stack.append((other, edge, iter(joints[other])))
    return bridges


def ends_at_device(net: Network, piece: Piece, end: Terminal) -> bool:
    """Tell whether whatever goes on behind one end of a piece goes through a device."""
    found, seen, queue = False, {end}, [end]
    while queue:
        here = queue.pop()
        for other, edge in net.around(here):
            if edge is piece.edge or other in seen or not conducts(edge, other, end.core):
                continue
            if edge.is_run:
                return False
            if edge.device is not None:
                found = True
            else:
                seen.add(other)
                queue.append(other)
    return found


class _Sides:
    """What each end of each bridge can be fed with, by two sweeps over the tree of bridges."""

    def __init__(
        self,
        net: Network,
        sources: tuple[Supply, ...],
        joints: dict[Terminal, list[Joint]],
        bridges: set[int],
    ) -> None:
        self.net = net
        self.sources = sources
        self.bridges = bridges
        self.block_of: dict[Terminal, int] = {}
        self.blocks: list[_Block] = []
        self.found: dict[tuple[int, Terminal], LetThrough] = {}
        self._gather_blocks(joints)
        self._sweep()

    def at(self, terminal: Terminal, edge: Edge) -> LetThrough:
        """Return what can be pushed to a terminal while an edge at it is cut."""
        known = self.found.get((id(edge), terminal))
        return known if known is not None else let_through(self.net, self.sources, terminal, edge)

    def _gather_blocks(self, joints: dict[Terminal, list[Joint]]) -> None:
        for root in joints:
            if root not in self.block_of:
                self._gather_block(root, joints)
        for supply in self.sources:
            self.blocks[self.block_of[supply.terminal]].supplies.append(supply)

    def _gather_block(self, root: Terminal, joints: dict[Terminal, list[Joint]]) -> None:
        block, number = _Block(), len(self.blocks)
        self.blocks.append(block)
        self.block_of[root] = number
        queue = [root]
        while queue:
            here = queue.pop()
            for joint in joints[here]:
                _, other, edge = joint
                if id(edge) in self.bridges:
                    block.bridges.append(joint)
                    continue
                block.simple = block.simple and edge.device is None and not edge.one_way
                if other not in self.block_of:
                    self.block_of[other] = number
                    queue.append(other)

    def _sweep(self) -> None:
        """Go from the leaves to the roots with what they give, and back with what they get."""
        order, parents = self._ordered()
        for number in reversed(order):
            bridge = parents.get(number)
            if bridge is not None:
                self._hand_over(number, bridge)
        for number in order:
            for bridge in self.blocks[number].bridges:
                if self.block_of[bridge[1]] in parents and parents[self.block_of[bridge[1]]][2] is bridge[2]:
                    self._hand_over(number, bridge)

    def _ordered(self) -> tuple[list[int], dict[int, Joint]]:
        """Return the blocks, parents first, and for each but the roots the bridge to its parent."""
        order: list[int] = []
        parents: dict[int, Joint] = {}
        seen: set[int] = set()
        for root in range(len(self.blocks)):
            queue = [] if root in seen else [root]
            seen.add(root)
            while queue:
                number = queue.pop()
                order.append(number)
                for here, other, edge in self.blocks[number].bridges:
                    beyond = self.block_of[other]
                    if beyond not in seen:
                        seen.add(beyond)
                        parents[beyond] = (other, here, edge)
                        queue.append(beyond)
        return order, parents

    def _hand_over(self, number: int, bridge: Joint) -> None:
        """Work out what a block pushes through one of its bridges, and hand it to the block beyond."""
        here, other, edge = bridge
        block = self.blocks[number]
        if block.simple:
            inner = (fed for key, fed in block.incoming.items() if key != id(edge))
            pushed = _together((*map(_given, block.supplies), *inner))
        else:
            pushed = let_through(self.net, self.sources, here, edge)
        self.found[id(edge), here] = pushed
        passed = _through(pushed, edge, other)
        if passed.sources:
            self.blocks[self.block_of[other]].incoming[id(edge)] = passed


def _given(supply: Supply) -> LetThrough:
    """Return what one source gives by itself."""
    names = (supply.component,)
    if supply.feed.limit is None:
        return LetThrough(inf, names, names)
    return LetThrough(supply.feed.limit, names, limiting=names)


def _through(fed: LetThrough, edge: Edge, towards: Terminal) -> LetThrough:
    """Return what is left of a feed behind an edge: nothing against a diode, a device's rating at most."""
    if not conducts(edge, towards, towards.core):
        return NOTHING
    if edge.device is None:
        return fed
    if fed.current <= edge.device.rating:
        return LetThrough(fed.current, fed.sources, (), fed.devices, fed.limiting)
    return LetThrough(edge.device.rating, fed.sources, (), (edge.device_id,))


def _together(feeds: Iterable[LetThrough]) -> LetThrough:
    """Return what several feeds give at once."""
    parts = [fed for fed in feeds if fed.sources]
    if len(parts) <= 1:
        return parts[0] if parts else NOTHING
    current = sum(fed.current for fed in parts)
    bounded = current < inf
    return LetThrough(
        current,
        _named(fed.sources for fed in parts),
        _named(fed.unlimited for fed in parts),
        _named(fed.devices for fed in parts) if bounded else (),
        _named(fed.limiting for fed in parts) if bounded else (),
    )


def _named(groups: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(sorted({name for group in groups for name in group}))
