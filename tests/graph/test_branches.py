"""Listing few of many terminals by side gives what listing all and choosing gives, on any tree and any ring."""

from hypothesis import given
from hypothesis import strategies as st

from specreg.graph.branches import Branches, branches
from specreg.graph.network import Edge, Network
from specreg.model.port import Medium, Terminal

Pairs = list[tuple[int, int]]


def stud(number: int) -> Terminal:
    return Terminal(f"stud-{number}", "", "positive")


def joined(pairs: Pairs) -> tuple[Network, Branches]:
    joints = tuple(
        (stud(a), stud(b), Edge(stud(a), f"run-{n}", Medium.dc, "positive", True))
        for n, (a, b) in enumerate(pairs)
        if a != b
    )
    neighbours: dict[Terminal, tuple[tuple[Terminal, Edge], ...]] = {stud(n): () for n in range(9)}
    for one, other, edge in joints:
        neighbours[one] = (*neighbours[one], (other, edge))
        neighbours[other] = (*neighbours[other], (one, edge))
    net = Network(joints, neighbours, {})
    return net, branches(net, "positive", lambda _: True)


def reached(net: Network, start: Terminal, without: Edge) -> set[Terminal]:
    seen, queue = {start}, [start]
    for here in queue:
        for other, edge in net.around(here):
            if edge is not without and other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


@given(
    st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=1, max_size=12),
    st.sets(st.integers(0, 8)),
)
def test_sides_are_those_of_a_search(pairs: Pairs, few: set[int]) -> None:
    """A plain search with the edge left out says which are on which side, and whether it is in a ring."""
    net, tree = joined(pairs)
    listed = tree.listed({stud(n) for n in few})
    for one, other, edge in net.joints:
        near, far = reached(net, one, edge), reached(net, other, edge)
        sides = tree.sides(one, other, edge)
        assert (sides is None) == (other in near)
        assert set(listed.part(one)) == {stud(n) for n in few} & (near | far)
        if sides is not None:
            on_near, on_far = map(listed.within, sides)
            assert set(on_near) == {stud(n) for n in few} & near
            assert set(on_far) == {stud(n) for n in few} & far
            assert len(on_near) + len(on_far) == len({*on_near, *on_far})
