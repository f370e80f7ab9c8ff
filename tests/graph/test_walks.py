"""Where water and waste run, and what a walk with a say at every edge comes to: on nets made by hand."""

import pytest

from specreg.graph import piping, walk
from specreg.graph.network import Edge, Network
from specreg.model.port import Medium, Terminal


def at(name: str) -> Terminal:
    return piping.at_port(name, "")


def net_of(*pipes: tuple[str, str, str, Medium, bool]) -> Network:
    """Pipes by name with the two things that they join, what they carry, and whether one way only."""
    joints = [
        (at(a), at(b), Edge(at(a), name, medium, "flow", True, one_way=one_way))
        for name, a, b, medium, one_way in pipes
    ]
    around: dict[Terminal, list[tuple[Terminal, Edge]]] = {}
    for one, other, edge in joints:
        around.setdefault(one, []).append((other, edge))
        around.setdefault(other, []).append((one, edge))
    return Network(tuple(joints), {terminal: tuple(found) for terminal, found in around.items()}, {})


NET = net_of(
    ("suction", "tank", "pump", Medium.water, False),
    ("check", "pump", "tap", Medium.water, True),
    ("ring-1", "tap", "shower", Medium.water, False),
    ("ring-2", "shower", "heater", Medium.water, False),
    ("ring-3", "heater", "tap", Medium.water, False),
    ("drain", "shower", "waste-tank", Medium.waste, False),
    ("apart", "spare-tank", "spare-tap", Medium.water, False),
)


@pytest.mark.parametrize(
    ("starts", "medium", "closed", "found"),
    [
        ("tank", Medium.water, "", "tank pump tap shower heater"),
        ("pump", Medium.water, "", "pump tank tap shower heater"),
        ("heater", Medium.water, "", "heater tap shower"),
        ("tank", Medium.water, "suction", "tank"),
        ("tank", Medium.water, "ring-1", "tank pump tap heater shower"),
        ("tap", Medium.water, "ring-1 ring-3", "tap"),
        ("shower", Medium.waste, "", "shower waste-tank"),
        ("waste-tank", Medium.waste, "", "waste-tank shower"),
        ("tank", Medium.waste, "", "tank"),
        ("spare-tap tank", Medium.water, "check", "spare-tap spare-tank tank pump"),
        ("nowhere", Medium.water, "", ""),
        ("nowhere spare-tap", Medium.water, "", "spare-tap spare-tank"),
        ("", Medium.water, "", ""),
    ],
)
def test_where_a_medium_can_run(starts: str, medium: Medium, closed: str, found: str) -> None:
    """Along pipes of its own medium, past a check valve with it only, past nothing closed, round a ring once."""
    reached = piping.reached(
        NET, map(at, starts.split()), medium, lambda edge: edge.owner not in closed.split()
    )
    assert reached == {at(name) for name in found.split()}


def test_nothing_is_closed_unless_it_is_said() -> None:
    """Without a say every pipe of the medium lets it pass."""
    found = piping.reached(NET, [at("tank")], Medium.water)
    assert {terminal.component for terminal in found} == {"tank", "pump", "tap", "shower", "heater"}


def test_a_pipe_has_one_core() -> None:
    """What flows is all of the pipe."""
    assert piping.at_port("tank", "outlet") == Terminal("tank", "outlet", "flow")


@pytest.mark.parametrize(
    ("starts", "found"),
    [
        ("tank", "tank pump tap shower heater waste-tank"),
        ("waste-tank", "waste-tank shower tap heater"),
        ("nowhere", "nowhere"),
        ("spare-tap waste-tank", "spare-tap spare-tank waste-tank shower tap heater"),
    ],
)
def test_a_walk_comes_to_all_that_it_may(starts: str, found: str) -> None:
    """The starts included, known or not, whatever is carried; the say is asked with the end that is left and the other."""
    reached = walk.reached(
        NET, map(at, starts.split()), lambda edge, here, _: edge.one_way_from in (None, here)
    )
    assert reached == {at(name) for name in found.split()}


def test_a_walk_is_asked_about_the_far_end() -> None:
    """The third that a say gets is the terminal that the walk would come to."""
    reached = walk.reached(NET, [at("tank")], lambda edge, here, other: other != at("tap"))
    assert reached == {at("tank"), at("pump")}


@pytest.mark.parametrize(
    ("starts", "found"), [("tap", "tap pump tank shower heater waste-tank"), ("pump", "pump tank")]
)
def test_upstream_goes_against_what_lets_through_one_way(starts: str, found: str) -> None:
    """From the tap back past the check valve; from the pump not on over it, where water leaves by it."""
    assert walk.reached(NET, map(at, starts.split()), walk.against) == {at(name) for name in found.split()}
