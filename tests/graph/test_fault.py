"""Who can feed a short on a run, and how much gets through: topologies by hand, and an oracle."""

from itertools import product
from math import inf

import networkx
import pytest
from building import build
from hypothesis import given, settings
from hypothesis import strategies as st
from large_build import large_build

from specreg.graph.fault import LetThrough, Supply, all_pieces, let_through, supplies
from specreg.graph.feeding import ends_at_device, feed_pieces
from specreg.graph.network import Edge, Network, network
from specreg.model.device import ProtectiveDevice
from specreg.model.port import Feed, LinkKind, Medium, Terminal

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


CONDUCTING = (LinkKind.plain, LinkKind.switch, LinkKind.contact, LinkKind.cell)
OTHER = (LinkKind.conversion, LinkKind.valve)
FUSES = {rating: ProtectiveDevice.model_validate({"fuse": f"{rating} A"}) for rating in (1, 10, 20, 30, 50)}
Made = tuple[Network, tuple[Supply, ...], Edge]


def stud(number: int, core: str = "positive") -> Terminal:
    return Terminal(f"stud-{number}", "", core)


def at_stud(number: int) -> Terminal:
    """A stud of a net made by hand: of those from 8 on it is the live core of mains."""
    return stud(number, "positive" if number < 8 else "line")


def made_by_hand(joints: list[tuple[int, int, Edge]]) -> Network:
    """A net of studs, without a spec: what no kind of component makes today can be joined, too."""
    ends = [(at_stud(a), at_stud(b), edge) for a, b, edge in joints]
    around: dict[Terminal, list[tuple[Terminal, Edge]]] = {
        stud(n, core): [] for n in range(8) for core in ("positive", "negative")
    }
    around |= {stud(n, "line"): [] for n in (8, 9)}
    for one, other, edge in ends:
        around[one].append((other, edge))
        around[other].append((one, edge))
    return Network(tuple(ends), {terminal: tuple(found) for terminal, found in around.items()}, {})


def wire(number: int, a: int, core: str = "positive", segment: int = 0) -> Edge:
    return Edge(stud(a), f"run-{number}", Medium.dc, core, True, segment=segment)


def link(
    number: int,
    a: int,
    kind: LinkKind,
    rating: int | None = None,
    one_way: bool = False,
    core: str = "positive",
) -> Edge:
    """A link inside a component, with a device where it has a rating."""
    device = None if rating is None else FUSES[rating]
    name = f"device-{number}" if device else ""
    return Edge(stud(a), f"thing-{number}", Medium.dc, core, False, kind, device, name, one_way=one_way)


@st.composite
def nets_by_hand(draw: st.DrawFn) -> Made:
    """Runs, devices, switches, diodes and conversions between five studs; sources with and without a limit."""
    pair = st.tuples(st.integers(0, 4), st.integers(0, 4)).filter(lambda p: p[0] != p[1])
    tested = draw(pair)
    joints = [(*tested, wire(0, tested[0]))]
    for n in range(1, draw(st.integers(1, 8)) + 1):
        a, b = draw(pair)
        what = draw(st.sampled_from(["wire", "device", "device", "link", "diode", "other", "return"]))
        one_way = draw(st.sampled_from([False, False, True]))
        match what:
            case "wire":
                edge = wire(n, a)
            case "device":
                edge = link(n, a, LinkKind.device, draw(st.sampled_from(sorted(FUSES))), one_way)
            case "diode":
                edge = link(n, a, LinkKind.plain, one_way=True)
            case "other":
                edge = link(n, a, draw(st.sampled_from(OTHER)))
            case "return":
                edge = link(n, a, LinkKind.plain, core="negative")
            case _:
                edge = link(n, a, draw(st.sampled_from(CONDUCTING)))
        joints.append((a, b, edge))
    places = draw(st.lists(st.integers(0, 4), min_size=1, max_size=3, unique=True))
    sources = tuple(
        Supply(f"source-{n}", stud(n), Feed("", draw(st.sampled_from([None, 15.0, 25.0])), None))
        for n in places
    )
    return made_by_hand(joints), sources, joints[0][2]


def passes(edge: Edge, towards: Terminal) -> bool:
    """Whether fault current can pass: the positive core, no conversion or valve, no diode against its way."""
    kinds = (None, LinkKind.device, *CONDUCTING)
    return edge.core == "positive" and edge.kind in kinds and not (edge.one_way and edge.tail == towards)


def gets_to(net: Network, start: Terminal, without: Edge, bare: bool) -> set[Terminal]:
    """What current from a terminal can get to; past no device where only bare ways count."""
    seen, queue = {start}, [start]
    for here in queue:
        for other, edge in net.around(here):
            stopped = edge is without or (bare and edge.device is not None)
            if not stopped and passes(edge, other) and other not in seen:
                seen.add(other)
                queue.append(other)
    return seen


def least_cut(net: Network, sources: list[Supply], target: Terminal, without: Edge) -> LetThrough:
    """By definition: of all sets of studs without the target, the one whose ways out carry least (the smallest)."""
    studs = [stud(n) for n in range(5) if stud(n) != target]
    found = []
    for chosen in product((False, True), repeat=len(studs)):
        inside = {one for one, taken in zip(studs, chosen, strict=True) if taken}
        out = [
            edge
            for one in inside
            for other, edge in net.around(one)
            if other not in inside and edge is not without and passes(edge, other)
        ]
        left_out = [supply for supply in sources if supply.terminal not in inside]
        carried = sum(inf if edge.device is None else edge.device.rating for edge in out)
        given_ = sum(inf if supply.feed.limit is None else supply.feed.limit for supply in left_out)
        devices = tuple(sorted({edge.device_id for edge in out}))
        limiting = tuple(sorted(supply.component for supply in left_out))
        found.append((carried + given_, len(inside), devices, limiting))
    current, _, devices, limiting = min(found)
    if current == inf:
        return LetThrough(inf)
    return LetThrough(current, devices=devices, limiting=limiting)


@settings(max_examples=150, deadline=None)
@given(nets_by_hand())
def test_against_every_cut(made: Made) -> None:
    """With diodes, limits, switches and what hands on no fault current: the least of all cuts, by trying each."""
    net, sources, tested = made
    ends = net.joints[0][:2]
    for target in ends:
        behind = [s for s in sources if target in gets_to(net, s.terminal, tested, bare=False)]
        found = let_through(net, sources, target, tested)
        expected = least_cut(net, behind, target, tested)
        assert found.sources == tuple(sorted(s.component for s in behind))
        assert found.unlimited == tuple(
            sorted(
                s.component
                for s in behind
                if s.feed.limit is None and target in gets_to(net, s.terminal, tested, bare=True)
            )
        )
        assert found.current == expected.current
        assert (found.devices, found.limiting) == (expected.devices, expected.limiting)


@settings(max_examples=150, deadline=None)
@given(nets_by_hand())
def test_the_sweep_agrees_past_diodes_and_limits(made: Made) -> None:
    """On nets that no kind of component makes today, too."""
    net, sources, _ = made
    fed = feed_pieces(net, sources)
    assert {id(one.piece.edge) for one in fed} == {id(e) for *_, e in net.joints if e.is_run}
    for one in fed:
        assert one.from_start == let_through(net, sources, one.piece.start, one.piece.edge)
        assert one.from_finish == let_through(net, sources, one.piece.finish, one.piece.edge)


def test_what_flows_past_a_diode_is_taken_back_where_a_longer_way_carries_more() -> None:
    """Two sources of 10 A push 20 A, although the first way that is found takes a diode and fills a device.

    The first source, at 1, finds 1 ─diode▶ 2 ─10 A─ 3; the second, at 0, has 0 ── 2 ─10 A─ 3 alone. The first gives
    the diode up for 1 ── 4 ─10 A─ 3, and both get through.
    """
    net = made_by_hand(
        [
            (3, 0, wire(0, 3)),
            (1, 2, link(1, 1, LinkKind.plain, one_way=True)),
            (2, 3, link(2, 2, LinkKind.device, 10)),
            (1, 4, wire(3, 1)),
            (4, 3, link(4, 4, LinkKind.device, 10)),
            (0, 2, wire(5, 0)),
        ]
    )
    sources = (
        Supply("first", stud(1), Feed("", 10.0, None)),
        Supply("second", stud(0), Feed("", 10.0, None)),
    )
    found = let_through(net, sources, stud(3), net.joints[0][2])
    assert found == LetThrough(20, ("first", "second"), (), (), ("first", "second"))


def test_a_charger_that_works_both_ways_is_two_sources() -> None:
    """50 A at its output and 10 A back at its input, both joined by a relay, are 60 A into what hangs there."""
    made = build("""
    components:
      charger: {kind: dc-charger, output_current: 50 A, return_charge_current: 10 A, output_voltage: 12 V, input_voltage: 12 V}
      relay: {kind: split-relay}
      bar: {kind: bus-bar, studs: 4}
      box: {kind: fuse-box, ways: {lights: {}}}
    runs:
      one: {medium: dc, from: relay/starter, to: charger/input, return: chassis}
      other: {medium: dc, from: charger/output, to: bar/1, return: chassis}
      across: {medium: dc, from: relay/house, to: bar/2, return: chassis}
      onward: {medium: dc, from: bar/3, to: box/feed, return: chassis}
    """)
    net = network(made)
    piece = all_pieces(net)["onward"][-1]
    found = let_through(net, supplies(made), piece.start, piece.edge)
    assert found == LetThrough(60, ("charger",), (), (), ("charger",))


def test_nothing_bounds_what_has_no_bound() -> None:
    """A controller of 10 A gives its all through a diode; a battery behind a bare cable makes that no bound."""
    net = made_by_hand(
        [
            (2, 4, wire(0, 2)),
            (0, 2, link(1, 0, LinkKind.plain, one_way=True)),
            (1, 3, wire(2, 1)),
            (3, 2, wire(3, 3)),
        ]
    )
    sources = (
        Supply("solar", stud(0), Feed("", 10.0, None)),
        Supply("battery", stud(1), Feed("", None, None)),
    )
    found = let_through(net, sources, stud(2), net.joints[0][2])
    assert found == LetThrough(inf, ("battery", "solar"), ("battery",))


@pytest.mark.parametrize(
    ("limit", "rating", "found"),
    [
        (None, 1, LetThrough(1, ("source",), (), ("device-1",))),
        (0.5, 1, LetThrough(0.5, ("source",), (), (), ("source",))),
        (0.5, None, LetThrough(0.5, ("source",), (), (), ("source",))),
    ],
)
def test_small_currents_get_through_too(limit: float | None, rating: int | None, found: LetThrough) -> None:
    """A fuse of 1 A lets 1 A through, a solar panel of half an ampere gives that."""
    kind = LinkKind.plain if rating is None else LinkKind.device
    net = made_by_hand([(1, 2, wire(0, 1)), (0, 1, link(1, 0, kind, rating))])
    source = Supply("source", stud(0), Feed("", limit, None))
    assert let_through(net, [source], stud(1), net.joints[0][2]) == found


@pytest.mark.parametrize("order", [("a", "b"), ("b", "a")])
def test_a_piece_begins_where_its_run_comes_from(order: tuple[str, str]) -> None:
    """Whichever of the two components is written first."""
    bars = "".join(f"  {name}: {{kind: bus-bar}}\n" for name in order)
    run = "{medium: dc, from: a/1, to: b/1, protection: [{fuse: 10 A, distance: 0 m}]}"
    net = network(build(f"components:\n{bars}runs: {{r: {run}}}"))
    first, second = all_pieces(net)["r"]
    assert (first.start.component, first.finish.component, first.segment) == ("a", "r", 0)
    assert (second.start.component, second.finish.component, second.segment) == ("r", "b", 1)
    assert {fed.piece for fed in feed_pieces(net, ())} == {first, second}


def test_sources_are_those_of_direct_current() -> None:
    """The battery side of an inverter-charger is one; its mains output feeds no direct-current short."""
    made = build("components: {x: {kind: inverter-charger}, y: {kind: inverter}, z: {kind: battery}}")
    assert [(supply.component, supply.terminal.port) for supply in supplies(made)] == [
        ("x", "positive"),
        ("z", "positive"),
    ]


@pytest.mark.parametrize(
    ("joints", "answer"),
    [
        ([], False),
        ([(1, 2, wire(1, 1))], False),
        ([(1, 2, link(1, 1, LinkKind.device, 10))], True),
        ([(1, 2, link(1, 1, LinkKind.device, 10)), (1, 3, link(2, 1, LinkKind.device, 20))], True),
        ([(1, 2, link(1, 1, LinkKind.device, 10)), (1, 3, wire(2, 1))], False),
        ([(1, 3, wire(2, 1)), (1, 2, link(1, 1, LinkKind.device, 10))], False),
        ([(1, 2, link(1, 1, LinkKind.device, 10)), (2, 3, wire(2, 2))], True),
        ([(1, 2, link(1, 1, LinkKind.switch)), (2, 3, link(2, 2, LinkKind.device, 10))], True),
        ([(1, 2, link(1, 1, LinkKind.switch)), (2, 3, wire(2, 2))], False),
        ([(1, 2, link(1, 1, LinkKind.plain)), (1, 3, link(2, 1, LinkKind.device, 10))], True),
        (
            [
                (1, 2, link(1, 1, LinkKind.plain)),
                (2, 3, link(2, 2, LinkKind.plain)),
                (3, 1, link(3, 3, LinkKind.plain)),
                (3, 4, link(4, 3, LinkKind.device, 10)),
            ],
            True,
        ),
        ([(1, 2, link(1, 1, LinkKind.conversion)), (2, 3, link(2, 2, LinkKind.device, 10))], False),
        ([(1, 2, link(1, 1, LinkKind.conversion)), (2, 3, wire(2, 2))], False),
        ([(1, 2, link(1, 1, LinkKind.conversion)), (1, 3, link(2, 1, LinkKind.device, 10))], True),
        ([(1, 2, wire(1, 1, core="negative")), (1, 3, link(2, 1, LinkKind.device, 10))], True),
    ],
    ids=[
        "nothing there",
        "a bare run",
        "a device",
        "two devices",
        "device then run",
        "run then device",
        "a run behind the device",
        "behind a switch",
        "a run behind a switch",
        "a bar that ends",
        "a ring of bars",
        "behind a conversion",
        "a run behind a conversion",
        "beside a conversion",
        "beside a return",
    ],
)
def test_what_goes_on_behind_an_end(joints: list[tuple[int, int, Edge]], answer: bool) -> None:
    """A device on every way that goes on, past what is joined without one; none goes on where nothing is there."""
    net = made_by_hand([(0, 1, wire(0, 0)), *joints])
    (piece,) = all_pieces(net)["run-0"]
    assert ends_at_device(net, piece, stud(1)) is answer
    assert ends_at_device(net, piece, stud(0)) is False


TREE = [
    (0, 1, link(1, 0, LinkKind.device, 30)),
    (1, 2, wire(2, 1)),
    (3, 1, wire(3, 3)),
    (2, 4, wire(4, 2, core="negative")),
    (2, 4, link(5, 2, LinkKind.conversion)),
]
BATTERY = Supply("battery", stud(0), Feed("", None, None))
SOLAR = Supply("solar", stud(3), Feed("", 20.0, None))
BOTH = LetThrough(50, ("battery", "solar"), (), ("device-1",), ("solar",))
BY_FUSE = LetThrough(30, ("battery",), (), ("device-1",))
BY_ITSELF = LetThrough(20, ("solar",), (), (), ("solar",))
BARE = LetThrough(inf, ("battery",), ("battery",))
BARE_AND_SOLAR = LetThrough(inf, ("battery", "solar"), ("battery",))
WIDER = LetThrough(60, ("battery", "solar"), (), ("device-1", "device-6"), ("solar",))
BY_TWO = LetThrough(40, ("battery",), (), ("device-1", "device-6"))
SPARE = Supply("spare", stud(5), Feed("", None, None))
SPARE_BARE = LetThrough(inf, ("spare",), ("spare",))
NOTHING = LetThrough(0.0)


@pytest.mark.parametrize(
    ("more", "fed"),
    [
        ([], {"run-2": (BOTH, NOTHING), "run-3": (BY_ITSELF, BY_FUSE)}),
        (
            [(1, 2, wire(6, 1))],
            {"run-2": (BOTH, BOTH), "run-3": (BY_ITSELF, BY_FUSE), "run-6": (BOTH, BOTH)},
        ),
        (
            [(2, 0, wire(6, 2))],
            {
                "run-2": (BOTH, BARE_AND_SOLAR),
                "run-3": (BY_ITSELF, BARE),
                "run-6": (BOTH, BARE_AND_SOLAR),
            },
        ),
        (
            [(2, 4, wire(6, 2)), (4, 0, wire(7, 4))],
            {
                "run-2": (BOTH, BARE_AND_SOLAR),
                "run-3": (BY_ITSELF, BARE),
                "run-6": (BOTH, BARE_AND_SOLAR),
                "run-7": (BOTH, BARE_AND_SOLAR),
            },
        ),
        (
            [(0, 1, link(6, 0, LinkKind.device, 10))],
            {
                "run-2": (WIDER, NOTHING),
                "run-3": (BY_ITSELF, BY_TWO),
            },
        ),
        (
            [(0, 1, link(6, 0, LinkKind.device, 10)), (1, 2, wire(7, 1))],
            {"run-2": (WIDER, WIDER), "run-3": (BY_ITSELF, BY_TWO), "run-7": (WIDER, WIDER)},
        ),
        (
            [(1, 8, link(6, 1, LinkKind.conversion, one_way=True)), (8, 9, wire(7, 8, core="line"))],
            {"run-2": (BOTH, NOTHING), "run-3": (BY_ITSELF, BY_FUSE)},
        ),
        (
            [(2, 4, link(6, 2, LinkKind.device, 50)), (4, 6, wire(7, 4))],
            {"run-2": (BOTH, NOTHING), "run-3": (BY_ITSELF, BY_FUSE), "run-7": (BOTH, NOTHING)},
        ),
        (
            [(2, 4, link(6, 2, LinkKind.plain, one_way=True)), (4, 5, wire(7, 4))],
            {"run-2": (BOTH, NOTHING), "run-3": (BY_ITSELF, BY_FUSE), "run-7": (BOTH, SPARE_BARE)},
        ),
        (
            [(4, 2, link(6, 4, LinkKind.plain, one_way=True)), (4, 5, wire(7, 4)), (1, 6, wire(8, 1))],
            {
                "run-2": (BOTH, SPARE_BARE),
                "run-3": (BY_ITSELF, LetThrough(inf, ("battery", "spare"), ("spare",))),
                "run-7": (NOTHING, SPARE_BARE),
                "run-8": (LetThrough(inf, ("battery", "solar", "spare"), ("spare",)), NOTHING),
            },
        ),
        (
            [
                (4, 2, link(6, 4, LinkKind.plain, one_way=True)),
                (4, 2, link(8, 4, LinkKind.plain, one_way=True)),
                (4, 6, wire(7, 4)),
            ],
            {"run-2": (BOTH, NOTHING), "run-3": (BY_ITSELF, BY_FUSE), "run-7": (NOTHING, NOTHING)},
        ),
    ],
    ids=[
        "a tree",
        "two cables",
        "a ring with a bare side",
        "a ring of four",
        "two devices",
        "two devices and two cables",
        "an inverter",
        "a device of what is fed",
        "behind a diode",
        "before a diode",
        "before two diodes",
    ],
)
def test_what_is_pushed_into_each_piece(
    more: list[tuple[int, int, Edge]], fed: dict[str, tuple[LetThrough, LetThrough]]
) -> None:
    """A battery behind 30 A and a controller of 20 A meet at 1; from there a cable leads to 2, where nothing feeds.

    Returns are no pieces of the positive core, and a conversion hands nothing on. With a second cable beside it each
    end is fed round by the other; with a bare cable from 2 to the battery its whole current comes that way, and the
    controller's through the device, which bounds nothing then. Two devices side by side let 30 A + 10 A through.
    A spare battery at 5 feeds where a cable leads to it; what it makes infinite nothing bounds.
    """
    net = made_by_hand([*TREE, *more])
    found = {
        one.piece.run: (one.from_start, one.from_finish) for one in feed_pieces(net, (BATTERY, SOLAR, SPARE))
    }
    assert found == fed


def test_a_diode_in_a_ring_feeds_what_lies_behind_it() -> None:
    """From the source at 2 a cable to 1 and one on to 0, and a diode 2 ─▶ 0: either cable is fed from both of its ends.

    Turned round, the diode lets nothing from 2 to 0: the cable to 0 is fed from 1 alone, that to 1 from the source alone.
    """
    sources = (Supply("source", stud(2), Feed("", None, None)),)
    all_of_it = LetThrough(inf, ("source",), ("source",))

    def fed(diode: tuple[int, int, Edge]) -> dict[str, tuple[LetThrough, LetThrough]]:
        net = made_by_hand([(1, 0, wire(0, 1)), (2, 1, wire(1, 2)), diode])
        return {one.piece.run: (one.from_start, one.from_finish) for one in feed_pieces(net, sources)}

    assert fed((2, 0, link(2, 2, LinkKind.plain, one_way=True))) == {
        "run-0": (all_of_it, all_of_it),
        "run-1": (all_of_it, all_of_it),
    }
    assert fed((0, 2, link(2, 0, LinkKind.plain, one_way=True))) == {
        "run-0": (all_of_it, LetThrough(0)),
        "run-1": (all_of_it, LetThrough(0)),
    }
