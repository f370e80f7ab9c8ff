"""The graph of a build: the index that questions use, and the same as a networkx multigraph for its algorithms."""

import networkx
from building import build

from specreg.graph.fault import all_pieces
from specreg.graph.network import CHASSIS, in_order, network
from specreg.model.port import LinkKind, Terminal
from specreg.model.run import DcRun

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


def test_the_multigraph_holds_every_edge_once() -> None:
    """Two cables side by side are two edges, and both ends of each are as the edge says."""
    net = network(build(VAN))
    edges = {id(data["edge"]): {one, other} for one, other, data in net.graph.edges(data=True)}
    assert len(edges) == net.graph.number_of_edges() == len(net.joints)
    assert edges == {id(edge): {one, other} for one, other, edge in net.joints}
    assert all(edge.tail in (one, other) for one, other, edge in net.joints)


def test_the_index_says_what_the_multigraph_says() -> None:
    """Every terminal, unjoined ones included, with the same neighbours by the same edges."""
    net = network(build(VAN))
    assert set(net.graph) == set(net.neighbours)
    for terminal in net.graph:
        expected = {(other, id(data["edge"])) for _, other, data in net.graph.edges(terminal, data=True)}
        assert {(other, id(edge)) for other, edge in net.around(terminal)} == expected
        assert len(net.around(terminal)) == len(expected)


def test_its_parts_are_those_of_a_general_library() -> None:
    """The battery's plus reaches the pump; the spare battery, joined to nothing, is apart."""
    net = network(build(VAN))
    part = networkx.node_connected_component(net.graph, Terminal("battery", "positive", "positive"))
    assert Terminal("water-pump", "supply", "positive") in part
    assert Terminal("spare", "positive", "positive") not in part


def test_only_devices_are_listed_as_devices() -> None:
    """Under the names that findings use, each by the edge that it is."""
    net = network(build(VAN))
    assert set(net.devices) == {"lead/1", "box/pump"}
    assert all(edge.device is not None and edge.device_id == name for name, edge in net.devices.items())


def test_only_a_return_by_the_chassis_meets_the_chassis() -> None:
    """The chassis point of the bond does; cables that return by another cable, or in their own, do not."""
    net = network(build(VAN))
    assert {other.component for other, _ in net.around(CHASSIS)} == {"point"}
    by_chassis = network(
        build(VAN.replace("to: water-pump, return: same cable", "to: water-pump, return: chassis"))
    )
    assert {other.component for other, _ in by_chassis.around(CHASSIS)} == {"point", "water-pump"}


def test_devices_on_a_run_stand_in_the_order_of_the_cable() -> None:
    """Measured from the start nearest first, then those from the end, the farthest from it first."""
    protection = (
        "{c: {fuse: 1 A, distance: 0.2 m, end: to}, b: {fuse: 1 A, distance: 0.9 m}, d: {fuse: 1 A, distance: 0.1 m, end: to}, "
        "empty: {distance: 0 m}, a: {fuse: 1 A, distance: 0.1 m}}"
    )
    made = build(VAN.replace("[{fuse: 80 A, distance: 0.1 m}]", protection))
    run = made.runs["lead"]
    assert isinstance(run, DcRun)
    assert [name for name, _ in in_order(run)] == ["a", "b", "c", "d"]
    pieces = all_pieces(network(made))["lead"]
    assert [piece.segment for piece in pieces] == [0, 1, 2, 3, 4]
    assert (pieces[0].start.component, pieces[-1].finish.component) == ("battery", "box")


def test_a_converter_joins_the_positive_cores_only() -> None:
    """What one side's negative is joined to is no matter of the conversion."""
    made = network(build("components: {charger: {kind: dc-charger, output_current: 10 A}}"))
    inside = {edge.core for _, _, edge in made.joints if edge.kind is LinkKind.conversion}
    assert inside == {"positive"}


def test_a_lone_device_bears_the_name_of_its_holder() -> None:
    """`main-fuse` for a holder, `box/pump` for a way of a box."""
    made = network(build("components: {main-fuse: {kind: fuse-holder, device: {fuse: 60 A}}}"))
    assert set(made.devices) == {"main-fuse"}
