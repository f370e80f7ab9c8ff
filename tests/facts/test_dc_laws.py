"""Laws of the direct-current facts, on systems of any size that hypothesis likes."""

from itertools import pairwise

import pytest
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.facts.current_path import ways_of
from specreg.model.port import Terminal
from specreg.units import METRIC_SIZES

LENGTHS = st.floats(0.1, 30).map(lambda x: round(x, 2))
CURRENTS = st.floats(0.1, 20).map(lambda x: round(x, 2))
SIZES = st.sampled_from([size for size in METRIC_SIZES if 1e-6 <= size.area <= 95e-6])
NOMINAL, CABLE = "supply_voltage: 12 V", "conductor: 2.5 mm², length: 2 m"
QUICK = settings(max_examples=25, deadline=None)


def lamp_feed(**fields: object) -> str:
    """A fragment that sets fields of the lamp's cable."""
    inner = ", ".join(f"{name}: {value}" for name, value in fields.items())
    return f"runs: {{lamp-feed: {{{inner}}}}}"


@QUICK
@given(LENGTHS, LENGTHS)
def test_longer_never_drops_less(one: float, other: float) -> None:
    """The drop grows with the length of the cable."""
    short, long = sorted((one, other))
    drops = [dc_facts(lamp_feed(length=f"{x} m")).subject("lamp").supply_drop for x in (short, long)]
    assert drops[0] <= drops[1]


@QUICK
@given(SIZES, SIZES)
def test_larger_conductor_never_lowers(one: object, other: object) -> None:
    """A larger conductor never lowers the largest device admitted, nor raises the drop."""
    small, large = sorted((one, other), key=lambda size: size.area)  # type: ignore[attr-defined]
    runs = [
        dc_facts("defaults: {insulation: 105 °C}", lamp_feed(conductor=size.label)).subject("lamp-feed")  # type: ignore[attr-defined]
        for size in (small, large)
    ]
    assert runs[0].largest_device <= runs[1].largest_device
    assert runs[0].run_drop >= runs[1].run_drop


@QUICK
@given(st.lists(CURRENTS, min_size=1, max_size=6), st.integers(2, 5))
def test_scaled_loads_scale_currents(loads: list[float], factor: int) -> None:
    """Twice the loads are twice the current of the main, and twice the drop at each load."""
    once, more = (fan(loads, 1), fan(loads, factor))
    a, b = dc_facts(base=once), dc_facts(base=more)
    assert b.subject("main").design_current == _close(factor * a.subject("main").design_current)
    assert b.subject("l0").supply_drop == _close(factor * a.subject("l0").supply_drop)


def _close(value: float) -> object:
    return pytest.approx(value, rel=1e-9)


def fan(loads: list[float], factor: int) -> str:
    """A battery and a box with a branch for each load."""
    numbers = range(len(loads))
    ways = ", ".join(f"w{n}: {{fuse: 30 A}}" for n in numbers)
    parts = "\n".join(
        f"  l{n}: {{kind: dc-appliance, current: {loads[n]} A, count: {factor}, load: motor, {NOMINAL}}}"
        for n in numbers
    )
    runs = "\n".join(
        f"  r{n}: {{medium: dc, from: box/w{n}, to: l{n}, return: same cable, {CABLE}}}" for n in numbers
    )
    return f"""
components:
  battery: {{kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}}
  box: {{kind: fuse-box, ways: {{{ways}}}}}
{parts}
runs:
  main: {{medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: 2 m}}
  ground: {{medium: dc, from: battery/negative, to: box/feed, conductor: 10 mm², length: 2 m}}
{runs}
"""


@QUICK
@given(st.lists(CURRENTS, min_size=1, max_size=6))
def test_main_carries_the_sum(loads: list[float]) -> None:
    """Kirchhoff: what enters the box leaves it through its ways."""
    facts = dc_facts(base=fan(loads, 1))
    branches = sum(facts.subject(f"r{n}").design_current for n in range(len(loads)))
    assert facts.subject("main").design_current == _close(branches)


def sources(count: int) -> str:
    """Controllers in parallel at the box, each with a lead of its own."""
    parts = "\n".join(
        f"  s{n}: {{kind: solar-controller, rated_current: {5 + n} A, battery_voltage: 12 V}}"
        for n in range(count)
    )
    runs = "\n".join(
        f"  o{n}: {{medium: dc, from: s{n}/battery, to: box/feed, return: same cable}}" for n in range(count)
    )
    return f"components:\n{parts}\nruns:\n{runs}\n" if count else "components: {}"


@QUICK
@given(st.integers(0, 4))
def test_removing_a_source_never_adds_a_fault_path(count: int) -> None:
    """One source fewer never raises what feeds a short, nor the prospective current."""
    fewer, more = dc_facts(sources(count)), dc_facts(sources(count + 1))
    for run in ("main", "lamp-feed"):
        assert set(fewer.subject(run).fault_sources) <= set(more.subject(run).fault_sources)
        assert fewer.subject(run).let_through_current <= more.subject(run).let_through_current
    assert fewer.subject("box/a").prospective_current <= more.subject("box/a").prospective_current


@QUICK
@given(st.integers(5, 100), st.integers(5, 100))
def test_let_through_of_parallel_devices_adds(one: int, other: int) -> None:
    """Two batteries behind a device each let both ratings through the cable that they share."""
    facts = dc_facts(
        f"""
        components:
          second: {{kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}}
          bar: {{kind: bus-bar, studs: 3}}
        runs:
          lamp-feed: {{from: bar/3}}
          main: {{to: bar/1, protection: [{{fuse: {one} A, distance: 0 m}}]}}
          main-2:
            medium: dc
            from: second/positive
            to: bar/2
            protection: [{{fuse: {other} A, distance: 0 m}}]
        """
    )
    assert facts.subject("lamp-feed").let_through_current == one + other


@QUICK
@given(st.lists(CURRENTS, min_size=1, max_size=6))
def test_ways_are_chains_of_steps(loads: list[float]) -> None:
    """A way on the tree begins at the source, ends at the load, and each step starts where the last ended."""
    facts = dc_facts(base=fan(loads, 1))
    tree = ways_of(facts, "positive").tree
    start, finish = Terminal("battery", "positive", "positive"), Terminal("l0", "supply", "positive")
    way = tree.way(start, finish)
    assert way is not None and way[0][0] == start and way[-1][2] == finish
    assert all(before[2] == after[0] for before, after in pairwise(way))
    back = tree.way(finish, start)
    assert back is not None and [edge for _, edge, _ in reversed(back)] == [edge for _, edge, _ in way]
