"""What each edge of a build's graph says: which terminals it joins, whose it is, what carries and what it lets pass."""

import pytest
from building import build

from specreg.graph.fault import all_pieces
from specreg.graph.network import CHASSIS, Edge, Network, in_order, network
from specreg.model.port import Terminal
from specreg.model.run import DcRun


def edges(net: Network, owner: str) -> set[str]:
    """The edges of a component or a run, a line for each: `>` where it lets through one way only."""
    return {said(one, other, edge) for one, other, edge in net.joints if edge.owner == owner}


def said(one: Terminal, other: Terminal, edge: Edge) -> str:
    tail, head = (one, other) if edge.tail == one else (other, one)
    what = "run" if edge.is_run else str(edge.kind)
    assert edge.one_way_from == (tail if edge.one_way else None)
    sign = ">" if edge.one_way else "-"
    line = f"{_named(tail)} {sign} {_named(head)}: {edge.medium} {edge.core}, {what} {edge.device_id}".strip()
    assert (edge.device is not None) == bool(edge.device_id), line
    return line


def _named(terminal: Terminal) -> str:
    return "chassis" if terminal == CHASSIS else f"{terminal.component}/{terminal.port} {terminal.core}"


@pytest.mark.parametrize(
    ("component", "expected"),
    [
        ("inverter", ["x/positive positive > x/ac-out line: ac line, conversion"]),
        ("shore-charger", ["x/mains line > x/positive positive: dc positive, conversion"]),
        ("check-valve", ["x/in flow > x/out flow: water flow, plain"]),
        ("valve", ["x/in flow - x/out flow: water flow, valve"]),
        ("low-voltage-disconnect", ["x/battery positive - x/loads positive: dc positive, contact"]),
        ("fuse-holder, device: {fuse: 60 A}", ["x/in positive - x/out positive: dc positive, device x"]),
        (
            "mains-breaker, device: {breaker: 10 A}",
            [
                "x/in line - x/out line: ac line, device x",
                "x/in neutral - x/out neutral: ac neutral, plain",
                "x/in earth - x/out earth: ac earth, plain",
            ],
        ),
        (
            "fuse-box, ways: {1: {fuse: 10 A}, 2: {}}",
            [
                "x/feed positive - x/1 positive: dc positive, device x/1",
                "x/feed positive - x/2 positive: dc positive, plain",
                "x/feed negative - x/1 negative: dc negative, plain",
                "x/feed negative - x/2 negative: dc negative, plain",
            ],
        ),
        (
            "mains-board",
            [
                "x/feed line - x/bar line: ac line, plain",
                "x/feed neutral - x/bar neutral: ac neutral, plain",
                "x/feed earth - x/bar earth: ac earth, plain",
                "x/feed earth - x/earth earth: ac earth, plain",
            ],
        ),
        ("chassis-point", ["x/stud negative - chassis: dc negative, plain"]),
    ],
)
def test_what_is_inside_a_component(component: str, expected: list[str]) -> None:
    """Each core with its like; a conversion the leading cores, one way; a device in the live core only."""
    assert edges(network(build(f"components: {{x: {{kind: {component}}}}}")), "x") == set(expected)


def test_only_what_closes_in_some_modes_is_open_in_others() -> None:
    """An inverter hands on while it inverts; asked whether it ever can, and of what has no modes, the answer is yes."""
    net = network(build("components: {x: {kind: inverter}, y: {kind: disconnect}}"))
    ((_, _, conversion),) = [joint for joint in net.joints if joint[2].owner == "x"]
    assert [conversion.closed(mode) for mode in ("inverter", "shore", None)] == [True, False, True]
    switch = next(edge for _, _, edge in net.joints if edge.owner == "y")
    assert [switch.closed(mode) for mode in ("inverter", None)] == [True, True]


RUNS = """
components:
  upper: {kind: battery, nominal_voltage: 12 V}
  lower: {kind: battery, nominal_voltage: 12 V}
  box: {kind: fuse-box, ways: {1: {fuse: 10 A}}}
  lamp: {kind: ceiling-light}
  starter: {kind: starter-motor}
  inlet: {kind: shore-inlet}
  board: {kind: mains-board}
  tank: {kind: fresh-tank}
  pump: {kind: pump}
"""


@pytest.mark.parametrize(
    ("run", "expected"),
    [
        (
            "from: upper/positive, to: box/feed, return: same cable, protection: {a: {fuse: 80 A, distance: 0.1 m}}",
            [
                "upper/positive positive - r/a in positive: dc positive, run",
                "r/a in positive - r/a out positive: dc positive, device r/a",
                "r/a out positive - box/feed positive: dc positive, run",
            ],
        ),
        (
            "from: box/1, to: lamp, return: same cable, protection: {a: {fuse: 5 A}}",
            [
                "box/1 positive - r/a in positive: dc positive, run",
                "r/a in positive - r/a out positive: dc positive, device r/a",
                "r/a out positive - lamp/supply positive: dc positive, run",
                "box/1 negative - lamp/supply negative: dc negative, run",
            ],
        ),
        (
            "from: box/1, to: lamp, return: chassis",
            [
                "box/1 positive - lamp/supply positive: dc positive, run",
                "lamp/supply negative - chassis: dc negative, run",
            ],
        ),
        (
            "from: box/1, to: starter, return: chassis",
            ["box/1 positive - starter/positive positive: dc positive, run"],
        ),
        (
            "from: lower/negative, to: box/feed, return: chassis",
            ["lower/negative negative - box/feed negative: dc negative, run"],
        ),
        (
            "from: inlet, to: board/feed, medium: ac, protection: {a: {breaker: 16 A}}",
            [
                "inlet/out line - r/a in line: ac line, run",
                "r/a in line - r/a out line: ac line, device r/a",
                "r/a out line - board/feed line: ac line, run",
                "inlet/out neutral - board/feed neutral: ac neutral, run",
                "inlet/out earth - board/feed earth: ac earth, run",
            ],
        ),
        (
            "from: tank/outlet, to: pump, medium: water",
            ["tank/outlet flow - pump/inlet flow: water flow, run"],
        ),
    ],
    ids=["pole to pair", "same cable", "chassis", "no negative there", "a negative cable", "mains", "water"],
)
def test_the_edges_of_a_run(run: str, expected: list[str]) -> None:
    """A core each; devices part the live one only; a return by the chassis joins what is fed to it, if it has a negative."""
    medium = "" if "medium" in run else "medium: dc, "
    assert edges(network(build(f"{RUNS}runs: {{r: {{{medium}{run}}}}}")), "r") == set(expected)


def test_a_battery_above_another_is_passed_from_pole_to_pole() -> None:
    """From its lower pole, which the battery below makes live, to its upper; the lower battery is not passed."""
    net = network(build(f"{RUNS}runs: {{link: {{medium: dc, from: lower/positive, to: upper/negative}}}}"))
    assert edges(net, "upper") == {"upper/negative positive - upper/positive positive: dc positive, cell"}
    assert edges(net, "lower") == set()
    assert edges(net, "link") == {"lower/positive positive - upper/negative positive: dc positive, run"}
    assert set(all_pieces(net)) == {"link"}


def test_terminals_of_a_component_are_its_ports_with_their_cores() -> None:
    """Joined or not; of a thing that is not there, none."""
    net = network(build("components: {x: {kind: low-voltage-disconnect}}"))
    assert set(net.terminals("x")) == {
        Terminal("x", "battery", "positive"),
        Terminal("x", "loads", "positive"),
        Terminal("x", "negative", "negative"),
        Terminal("x", "signal", "flow"),
    }
    assert set(net.graph) == set(net.terminals("x"))
    assert net.terminals("y") == ()
    assert net.around(Terminal("y", "", "positive")) == ()


def test_only_what_has_a_device_is_listed_as_a_device() -> None:
    """Under the name that findings use; a way without a fuse has none."""
    net = network(build("components: {x: {kind: fuse-box, ways: {1: {fuse: 10 A}, 2: {}}}}"))
    assert set(net.devices) == {"x/1"}
    device = net.devices["x/1"].device
    assert device is not None and device.rating == 10


def test_a_device_without_a_distance_sits_at_its_end() -> None:
    """The nearest of all from the start, the last of all towards the end."""
    made = build(
        f"{RUNS}runs: {{r: {{medium: dc, from: upper/positive, to: box/feed, return: chassis, protection: "
        "{far: {fuse: 1 A, end: to}, near: {fuse: 1 A}, second: {fuse: 1 A, distance: 0.5 m}, "
        "last-but-one: {fuse: 1 A, end: to, distance: 0.5 m}}}}"
    )
    run = made.runs["r"]
    assert isinstance(run, DcRun)
    assert [name for name, _ in in_order(run)] == ["near", "second", "last-but-one", "far"]
