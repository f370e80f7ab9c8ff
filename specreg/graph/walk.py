"""Walking the graph from a terminal, with a say at every edge."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable

from specreg.graph.network import Edge, Network
from specreg.model.port import Terminal

Passes = Callable[[Edge, Terminal, Terminal], bool]
"""Whether the walk goes over an edge, from the second terminal's neighbour (second) to the third."""


def reached(net: Network, starts: Iterable[Terminal], passes: Passes) -> set[Terminal]:
    """Return every terminal that the walk comes to, the starts included (breadth first)."""
    seen = set(starts)
    queue = deque(seen)
    while queue:
        here = queue.popleft()
        for other, edge in net.around(here):
            if other not in seen and passes(edge, here, other):
                seen.add(other)
                queue.append(other)
    return seen


def against(edge: Edge, here: Terminal, other: Terminal) -> bool:
    """Tell whether a walk upstream may leave `here` over an edge: not where flow leaves `here` by it."""
    return edge.one_way_from != here
