"""Who can feed a short on a run, and how much gets through: topologies by hand, and an oracle."""

from math import inf

import networkx
import pytest
from building import build
from hypothesis import given, settings
from hypothesis import strategies as st
from large_build import large_build

from specreg.graph.fault import all_pieces, let_through, supplies
from specreg.graph.feeding import feed_pieces
from specreg.graph.network import network

TWO_BATTERIES = """
components:
  left: {{kind: battery, nominal_voltage: 12.8 V}}
  right: {{kind: battery, nominal_voltage: 12.8 V}}
  bar: {{kind: bus-bar, studs: 4}}
  ground: {{kind: bus-bar, polarity: negative, studs: 4}}
  inverter: {{kind: inverter, rated_power: 800 W}}
runs:
  left-feed: {{medium: dc, from: left/positive, to: bar/1, conductor: 25 mm², length: 1 m, protection: [{left}]}}
  right-feed: {{medium: dc, from: right/positive, to: bar/2, conductor: 25 mm², length: 1 m, protection: [{right}]}}
  onward: {{medium: dc, from: bar/3, to: inverter/positive, conductor: 16 mm², length: 1 m, protection: [{onward}]}}
"""


def through(text: str, run: str, end: str = "start") -> tuple[float, tuple[str, ...], tuple[str, ...]]:
    """The current, the sources and the devices at one end of the last piece of a run."""
    made = build(text)
    net = network(made)
    piece = all_pieces(net)[run][-1]
    terminal = piece.start if end == "start" else piece.finish
    found = let_through(net, supplies(made), terminal, piece.edge)
    return found.current, found.sources, found.devices


def fuse(amperes: int) -> str:
    return f"{{fuse: {amperes} A, distance: 100 mm}}"


@pytest.mark.parametrize(
    ("left", "right", "onward", "current", "devices"),
    [
        (fuse(80), fuse(60), "", 140.0, ("left-feed/1", "right-feed/1")),
        (fuse(80), fuse(60), fuse(100), 100.0, ("onward/1",)),
        (fuse(80), fuse(60), fuse(200), 140.0, ("left-feed/1", "right-feed/1")),
        (fuse(80), "", "", inf, ()),
        (fuse(80), "", fuse(50), 50.0, ("onward/1",)),
    ],
    ids=["two add", "one at the head", "the head is larger", "one is bare", "the head carries all"],
)
def test_devices_bound_a_fault(
    left: str, right: str, onward: str, current: float, devices: tuple[str, ...]
) -> None:
    """Two devices of 80 A and 60 A do not protect a 90 A run; one at its head does (decision by addition)."""
    text = TWO_BATTERIES.format(left=left, right=right, onward=onward)
    assert through(text, "onward") == (current, ("left", "right"), devices)


def test_a_self_limiting_source_gives_its_limit() -> None:
    """A solar controller of 20 A with a battery behind 30 A lets 50 A through together."""
    text = """
    components:
      battery: {kind: battery, nominal_voltage: 12.8 V}
      solar: {kind: solar-controller, rated_current: 20 A, battery_voltage: 12 V}
      bar: {kind: bus-bar, studs: 4}
      light: {kind: strip-light, power: 10 W}
      box: {kind: fuse-box, ways: {lights: {}}}
    runs:
      main: {medium: dc, from: battery/positive, to: bar/1, protection: [{fuse: 30 A, distance: 0.1 m}]}
      charge: {medium: dc, from: solar/battery, to: bar/2, return: chassis}
      onward: {medium: dc, from: bar/3, to: box/feed, return: chassis}
      lights: {medium: dc, from: box/lights, to: light, return: same cable}
    """
    assert through(text, "onward") == (50.0, ("battery", "solar"), ("main/1",))
    assert through(text, "charge") == (20.0, ("solar",), ())
    assert through(text, "charge", "finish") == (30.0, ("battery",), ("main/1",))


def test_a_load_feeds_nothing() -> None:
    """From the load's end nothing is pushed into its run."""
    text = TWO_BATTERIES.format(left="", right="", onward="")
    assert through(text, "onward", "finish") == (0.0, (), ())


RATINGS = st.sampled_from([None, 10, 20, 30, 50, 80])


@st.composite
def networks(draw: st.DrawFn) -> tuple[str, list[tuple[int, int, int | None]], list[int], int]:
    """A random net of bus-bars, joined by runs with or without a fuse, and batteries on some of them."""
    bars = draw(st.integers(2, 5))
    pair = st.tuples(st.integers(0, bars - 1), st.integers(0, bars - 1)).filter(lambda p: p[0] != p[1])
    joints = [(*draw(pair), draw(RATINGS)) for _ in range(draw(st.integers(1, 7)))]
    fed = draw(st.lists(st.integers(0, bars - 1), min_size=1, max_size=3))
    lines = ["components:"]
    lines += [f"  bar-{n}: {{kind: bus-bar, studs: 24}}" for n in range(bars)]
    lines += [f"  battery-{n}: {{kind: battery, nominal_voltage: 12.8 V}}" for n in range(len(fed))]
    lines += ["runs:"]
    stud = iter(range(1, 100))
    for n, (a, b, rating) in enumerate(joints):
        device = "" if rating is None else f", protection: [{{fuse: {rating} A, distance: 0.1 m}}]"
        at = next(stud)
        lines.append(f"  joint-{n}: {{medium: dc, from: bar-{a}/{at}, to: bar-{b}/{at}{device}}}")
    for n, bar in enumerate(fed):
        lines.append(f"  lead-{n}: {{medium: dc, from: battery-{n}/positive, to: bar-{bar}/{next(stud)}}}")
    return "\n".join(lines), joints, fed, draw(st.integers(0, len(joints) - 1))


@settings(max_examples=60, deadline=None)
@given(networks())
def test_against_a_general_flow_solver(
    case: tuple[str, list[tuple[int, int, int | None]], list[int], int],
) -> None:
    """The least cut of a general graph library gives the same current, whatever the topology."""
    text, joints, fed, tested = case
    made = build(text)
    net = network(made)
    piece = all_pieces(net)[f"joint-{tested}"][-1]
    found = let_through(net, supplies(made), piece.finish, piece.edge)
    oracle: networkx.DiGraph[int] = networkx.DiGraph()
    oracle.add_nodes_from(range(-1, 5))
    capacity: dict[tuple[int, int], float] = {}
    for n, (a, b, rating) in enumerate(joints):
        if n != tested:
            for way in ((a, b), (b, a)):
                capacity[way] = capacity.get(way, 0.0) + (1e9 if rating is None else rating)
    for bar in fed:
        capacity[-1, bar] = 1e9
    oracle.add_edges_from((a, b, {"capacity": c}) for (a, b), c in capacity.items())
    expected = networkx.maximum_flow_value(oracle, -1, joints[tested][1])
    assert found.current == (inf if expected >= 1e9 else expected)


@settings(max_examples=40, deadline=None)
@given(networks())
def test_removing_a_source_never_adds_a_fault_path(
    case: tuple[str, list[tuple[int, int, int | None]], list[int], int],
) -> None:
    """With one battery fewer, no more sources reach the run and no more current gets through."""
    text, _, _, tested = case
    made = build(text)
    net = network(made)
    piece = all_pieces(net)[f"joint-{tested}"][-1]
    sources = supplies(made)
    whole = let_through(net, sources, piece.finish, piece.edge)
    fewer = let_through(net, sources[1:], piece.finish, piece.edge)
    assert set(fewer.sources) <= set(whole.sources)
    assert fewer.current <= whole.current


def assert_both_ways_agree(text: str) -> None:
    """The sweep over the tree of bridges says of every piece what the general computation says."""
    made = build(text)
    net = network(made)
    sources = supplies(made)
    fed = feed_pieces(net, sources)
    assert len(fed) == sum(len(found) for found in all_pieces(net).values())
    for piece in fed:
        for terminal, swept in (
            (piece.piece.start, piece.from_start),
            (piece.piece.finish, piece.from_finish),
        ):
            general = let_through(net, sources, terminal, piece.piece.edge)
            assert (swept.current, swept.sources, swept.unlimited) == (
                general.current,
                general.sources,
                general.unlimited,
            )
            assert swept.devices == general.devices
            assert swept.limiting == general.limiting


@settings(max_examples=80, deadline=None)
@given(networks())
def test_the_sweep_agrees_with_the_general_computation(
    case: tuple[str, list[tuple[int, int, int | None]], list[int], int],
) -> None:
    """On random nets with loops and parallel devices."""
    assert_both_ways_agree(case[0])


@pytest.mark.parametrize("boxes", [1, 3])
def test_the_sweep_agrees_on_a_large_van(boxes: int) -> None:
    """On a van with many circuits, two batteries and a controller that limits itself."""
    assert_both_ways_agree(large_build(boxes, 4))


def test_what_limits_itself_is_named_among_what_bounds_a_fault() -> None:
    """Battery behind 30 A and a controller of 20 A: both bound the 50 A; behind a 40 A fuse the fuse alone does."""
    text = """
    components:
      battery: {kind: battery, nominal_voltage: 12.8 V}
      solar: {kind: solar-controller, rated_current: 20 A, battery_voltage: 12 V}
      bar: {kind: bus-bar, studs: 4}
      box: {kind: fuse-box, ways: {lights: {}}}
    runs:
      main: {medium: dc, from: battery/positive, to: bar/1, protection: [{fuse: 30 A, distance: 0.1 m}]}
      charge: {medium: dc, from: solar/battery, to: bar/2, return: chassis}
      onward: {medium: dc, from: bar/3, to: box/feed, return: chassis%s}
    """

    def bounds(more: str) -> tuple[float, tuple[str, ...], tuple[str, ...]]:
        made = build(text % more)
        net = network(made)
        piece = all_pieces(net)["onward"][-1]
        found = let_through(net, supplies(made), piece.start, piece.edge)
        return found.current, found.devices, found.limiting

    assert bounds("") == (50, ("main/1",), ("solar",))
    assert bounds(", protection: [{fuse: 40 A, distance: 0 m}]") == (40, ("onward/1",), ())


@pytest.mark.parametrize(
    ("second", "nominal", "current"),
    [
        ("nominal_voltage: 12 V, short_circuit_current: 1 kA", 24, 24 / (12 / 2000 + 12 / 1000)),
        ("nominal_voltage: 12 V", 24, None),
        ("short_circuit_current: 1 kA", None, None),
        ("highest_charge_voltage: 14 V, short_circuit_current: 1 kA", None, 26 / (12 / 2000 + 14 / 1000)),
    ],
)
def test_a_string_gives_the_sum_of_voltages_over_the_sum_of_resistances(
    second: str, nominal: float | None, current: float | None
) -> None:
    """ΣE ÷ Σ(E ÷ I), E the highest voltage, else the nominal one; unknown as soon as one battery's is."""
    made = build(f"""
    components:
      upper: {{kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}}
      lower: {{kind: battery, {second}}}
    runs: {{link: {{medium: dc, from: upper/negative, to: lower/positive}}}}
    """)
    (upper,) = (supply for supply in supplies(made) if supply.component == "upper")
    assert upper.feed.nominal == nominal
    assert upper.feed.fault_current == (pytest.approx(current) if current else None)
