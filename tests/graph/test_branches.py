"""Listing few of many terminals by side gives what listing all and choosing gives, on any tree and any ring."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.graph.branches import Branches, branches
from specreg.graph.network import Edge, Network
from specreg.model.port import Medium, Terminal

Pairs = list[tuple[int, int]]
PAIRS = st.lists(st.tuples(st.integers(0, 8), st.integers(0, 8)), min_size=1, max_size=12)
RETURN = Terminal("stud-0", "", "negative")
"""A terminal of another core, which no tree of the positive one holds."""


def stud(number: int) -> Terminal:
    return Terminal(f"stud-{number}", "", "positive")


def joined(pairs: Pairs) -> tuple[Network, Branches]:
    joints = tuple(
        (stud(a), stud(b), Edge(stud(a), f"run-{n}", Medium.dc, "positive", True))
        for n, (a, b) in enumerate(pairs)
        if a != b
    )
    neighbours: dict[Terminal, tuple[tuple[Terminal, Edge], ...]] = {stud(n): () for n in range(9)}
    neighbours[RETURN] = ()
    for one, other, edge in joints:
        neighbours[one] = (*neighbours[one], (other, edge))
        neighbours[other] = (*neighbours[other], (one, edge))
    net = Network(joints, neighbours, {})
    return net, branches(net, "positive", lambda _: True)


def reached(net: Network, start: Terminal, without: Edge | None = None) -> set[Terminal]:
    seen, queue = {start}, [start]
    for here in queue:
        for other, edge in net.around(here):
            if edge is not without and other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


@given(PAIRS, st.sets(st.integers(0, 8)))
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


@given(PAIRS)
def test_a_part_is_what_a_search_reaches(pairs: Pairs) -> None:
    """Each terminal of the core stands once in the order; what is joined to one, and what is a bridge, a search tells."""
    net, tree = joined(pairs)
    studs = [stud(n) for n in range(9)]
    assert sorted(tree.order, key=str) == sorted(studs, key=str)
    for one in studs:
        assert set(tree.part(one)) == reached(net, one)
        assert len(tree.part(one)) == len(set(tree.part(one)))
    for one, other, edge in net.joints:
        assert tree.is_bridge(edge) is (other not in reached(net, one, edge))


@given(PAIRS, st.integers(0, 8), st.integers(0, 8))
def test_a_way_leads_step_by_step(pairs: Pairs, first: int, last: int) -> None:
    """From the one to the other over edges that are there, past no terminal twice; none where a search finds none."""
    net, tree = joined(pairs)
    start, finish = stud(first), stud(last)
    way = tree.way(start, finish)
    if finish not in reached(net, start):
        assert way is None
        return
    assert way is not None
    assert [start, *(after for _, _, after in way)] == [*(before for before, _, _ in way), finish]
    assert all((after, edge) in net.around(before) for before, edge, after in way)
    passed = [before for before, _, _ in way]
    assert len(passed) == len(set(passed)) and finish not in passed


def test_another_core_is_in_no_part() -> None:
    """A terminal that the tree does not number is joined to nothing in it, not even to itself."""
    _, tree = joined([(0, 1)])
    assert tree.part(RETURN) == ()
    assert tree.listed({stud(0), RETURN}).part(RETURN) == ()
    assert tree.way(RETURN, stud(0)) is None
    assert tree.way(stud(0), RETURN) is None
    assert tree.way(RETURN, RETURN) is None


def test_an_edge_that_is_not_admitted_parts_the_tree() -> None:
    """Of a chain of three, the second joint left out: the third stud is by itself."""
    net, _ = joined([(0, 1), (1, 2)])
    tree = branches(net, "positive", lambda edge: edge.owner != "run-1")
    assert set(tree.part(stud(0))) == {stud(0), stud(1)}
    assert tree.part(stud(2)) == (stud(2),)
    assert tree.way(stud(0), stud(2)) is None


@pytest.mark.parametrize("size", [2, 3, 4, 5, 8])
def test_a_ring_has_no_bridge(size: int) -> None:
    """Nor have two cables side by side; the cable that leads off from the ring is one."""
    net, tree = joined([*((n, (n + 1) % size) for n in range(size)), (0, 8)])
    assert [tree.is_bridge(edge) for *_, edge in net.joints] == [False] * size + [True]
