"""The graph of a build: the index that questions use, and the same as a networkx multigraph for its algorithms."""

import networkx
import pytest
from building import build

from specreg.graph.network import Network, network
from specreg.model.port import Terminal

VAN = """
components:
  battery: {kind: battery, nominal_voltage: 12.8 V}
  spare: {kind: battery, nominal_voltage: 12.8 V}
  box: {kind: fuse-box, ways: {pump: {fuse: 10 A}}}
  point: {kind: chassis-point}
  water-pump: {kind: pump}
runs:
  lead: {medium: dc, from: battery/positive, to: box/feed, return: minus, protection: [{fuse: 80 A, distance: 0.1 m}]}
  twin: {medium: dc, from: battery/positive, to: box/feed, return: minus}
  minus: {medium: dc, from: battery/negative, to: box/feed}
  bond: {medium: dc, from: battery/negative, to: point/stud}
  pump-feed: {medium: dc, from: box/pump, to: water-pump, return: same cable}
"""


@pytest.fixture(scope="module")
def net() -> Network:
    return network(build(VAN))


def test_the_multigraph_holds_every_edge_once(net: Network) -> None:
    """Two cables side by side are two edges, and both ends of each are as the edge says."""
    edges = {id(data["edge"]): {one, other} for one, other, data in net.graph.edges(data=True)}
    assert len(edges) == net.graph.number_of_edges() == len(net.joints)
    assert edges == {id(edge): {one, other} for one, other, edge in net.joints}
    assert all(edge.tail in (one, other) for one, other, edge in net.joints)


def test_the_index_says_what_the_multigraph_says(net: Network) -> None:
    """Every terminal, unjoined ones included, with the same neighbours by the same edges."""
    assert set(net.graph) == set(net.neighbours)
    for terminal in net.graph:
        expected = {(other, id(data["edge"])) for _, other, data in net.graph.edges(terminal, data=True)}
        assert {(other, id(edge)) for other, edge in net.around(terminal)} == expected
        assert len(net.around(terminal)) == len(expected)


def test_its_parts_are_those_of_a_general_library(net: Network) -> None:
    """The battery's plus reaches the pump; the spare battery, joined to nothing, is apart."""
    part = networkx.node_connected_component(net.graph, Terminal("battery", "positive", "positive"))
    assert Terminal("water-pump", "supply", "positive") in part
    assert Terminal("spare", "positive", "positive") not in part
