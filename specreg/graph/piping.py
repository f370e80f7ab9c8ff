"""Where water or waste can run: a search along pipes that respects what lets it through one way only."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable

from specreg.graph.network import Edge, Network
from specreg.model.port import Medium, Terminal

Passes = Callable[[Edge], bool]


def at_port(component: str, port: str) -> Terminal:
    """Return the terminal of a pipe's port."""
    return Terminal(component, port, "flow")


def nothing_shut(edge: Edge) -> bool:
    """Let every pipe pass."""
    return True


def reached(
    net: Network, starts: Iterable[Terminal], medium: Medium, passes: Passes = nothing_shut
) -> frozenset[Terminal]:
    """Return the terminals that a medium can reach from some others, through edges that let it pass."""
    queue = deque(terminal for terminal in starts if terminal in net.neighbours)
    found = set(queue)
    while queue:
        here = queue.popleft()
        for other, edge in net.around(here):
            if other not in found and _leads(edge, here, medium) and passes(edge):
                found.add(other)
                queue.append(other)
    return frozenset(found)


def _leads(edge: Edge, here: Terminal, medium: Medium) -> bool:
    return edge.medium is medium and edge.one_way_from in (None, here)
