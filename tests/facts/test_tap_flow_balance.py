"""Flow at a tap put back into the balance that it solves: pressure of the pump, friction of the pipes, height.

Friction is written out here a second time: Darcy and Weisbach, 64/Re or Haaland's factor, water of 998.21 kg/m³
and 1.307 mPa·s, pipes as rough as 1.5 µm. The pump gives 2.1 bar against a shut tap, 10 L/min against nothing.
"""

from math import log10, pi

import pytest
from water_system import water_system

from specreg.facts.missing import Missing
from specreg.facts.tap_flow import _between

LITRE = 1e-3 / 60
GREATEST = 10 * LITRE
METRE = 998.21 * 9.80665
"""Pressure in Pa that lifts water by a metre."""


def lost(flow: float, length: float, bore: float = 0.010) -> float:
    """Pressure in Pa lost in a pipe."""
    speed = flow / (pi / 4 * bore**2)
    reynolds = 998.21 * speed * bore / 1.307e-3
    haaland = (1.8 * log10((1.5e-6 / bore / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    factor = 64 / reynolds if reynolds <= 2300 else max(haaland, 64 / reynolds)
    return factor * length / bore * 998.21 * speed**2 / 2


def line(flow: float) -> float:
    """Pressure of the pump in Pa, straight between its ends."""
    return 2.1e5 * (1 - flow / GREATEST)


def parabola(flow: float) -> float:
    """Pressure of the pump in Pa, by the parabola through its ends."""
    return float(2.1e5 * (1 - (flow / GREATEST) ** 2))


PLACED = "{{components: {{tap: {{zone: ~, at: [2 m, 0 m, {tap} m]}}, fresh-tank: {{zone: ~, at: [2 m, 0 m, {tank} m], size: [1 m, 1 m, 200 mm]}}}}}}"


@pytest.mark.parametrize(
    ("change", "most", "least"),
    [
        # Both in one zone; a metre and two above the tank's middle, or below it; places unknown: 1.5 m and none.
        ("{}", 0.0, 0.0),
        (PLACED.format(tap=1.1, tank=0), 1.0, 1.0),
        (PLACED.format(tap=2.1, tank=0), 2.0, 2.0),
        (PLACED.format(tap=0, tank=0.9), -1.0, -1.0),
        ("{components: {tap: {zone: ~}}}", 1.5, 0.0),
        ("{components: {fresh-tank: {zone: ~}}}", 1.5, 0.0),
    ],
)
def test_both_ends_of_the_range_balance(change: str, most: float, least: float) -> None:
    """A straight curve, twice the friction and the most height; the parabola, friction alone and the least."""
    tap = water_system(change).subject("tap")
    low, high = tap.tap_flow_least, tap.tap_flow_greatest
    assert line(low) == pytest.approx(2 * lost(low, 3) + METRE * most, rel=1e-6)
    assert parabola(high) == pytest.approx(lost(high, 3) + METRE * least, rel=1e-6)


def test_pipes_of_unlike_bore_and_length_each_lose_their_own() -> None:
    """A metre of 8 mm, four of 12 and one of 10."""
    tap = water_system("{runs: {suction: {bore: 8 mm}, delivery: {bore: 12 mm, length: 4 m}}}").subject("tap")
    flow = tap.tap_flow_least
    assert line(flow) == pytest.approx(
        2 * (lost(flow, 1, 0.008) + lost(flow, 4, 0.012) + lost(flow, 1)), rel=1e-6
    )


def test_what_is_assumed_of_a_tap_is_said() -> None:
    """Places, the shape of the curve, fittings, and how many taps run."""
    van = water_system(TWO.replace("tap: {zone: ~, at: [2 m, 0 m, 1.1 m]}", "tap: {zone: ~}") % 1)
    with van.recording() as frame:
        _ = van.subject("tap").tap_flow_least
        _ = van.subject("tap").shared_flow_least
    said = " | ".join(frame.assumptions)
    for words in (
        "tap stands 0 to 1.5 m above the tank: their places are not stated",
        "between a straight line and a parabola",
        "one tap runs; fittings take nothing to as much again",
        "two taps run; fittings take nothing to as much again",
    ):
        assert words in said


@pytest.mark.parametrize(
    ("points", "flow", "pressure"),
    [
        ([(0, 8), (2, 6), (4, 0)], 0, 8),
        ([(0, 8), (2, 6), (4, 0)], 1, 7),
        ([(0, 8), (2, 6), (4, 0)], 2, 6),
        ([(0, 8), (2, 6), (4, 0)], 3, 3),
        ([(0, 8), (2, 6), (4, 0)], 4, 0),
        ([(1, 8), (4, 2)], 0.5, 8),
        ([(1, 8), (4, 2)], 1, 8),
        ([(1, 8), (4, 2)], 2, 6),
        ([(0, 8), (2, 6), (4, 0)], 5, 0),
        ([(2, 8), (2, 6), (4, 0)], 3, 3),
        ([(2, 8), (2, 6), (4, 0)], 1, 8),
        # At a step the lower of both counts.
        ([(2, 8), (2, 6), (4, 0)], 2, 6),
        ([(0, 8), (2, 6), (2, 5), (4, 1)], 2, 5),
        ([(0, 8), (2, 6), (2, 5), (4, 1)], 5, 1),
    ],
)
def test_a_curve_is_straight_between_its_points(
    points: list[tuple[float, float]], flow: float, pressure: float
) -> None:
    """And level before the first and after the last."""
    assert _between(points, flow) == pytest.approx(pressure)


def test_a_stated_curve_ends_at_its_last_point() -> None:
    """The pump's own figures give way to its points: 1 bar throughout, to 4 L/min."""
    points = "[{flow: 4 L/min, pressure: 1 bar}, {flow: 0 L/min, pressure: 1 bar}]"
    tap = water_system(f"{{components: {{water-pump: {{curve: {points}}}}}}}").subject("tap")
    assert tap.tap_flow_greatest == pytest.approx(4 * LITRE)
    one = water_system("{components: {water-pump: {curve: [{flow: 4 L/min, pressure: 1 bar}]}}}").subject(
        "tap"
    )
    assert one.tap_flow_greatest == pytest.approx(water_system().subject("tap").tap_flow_greatest)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ("{runs: {delivery: ~}}", "no tank reaches it"),
        ("{runs: {cold-tap: ~, cold-mixer: ~, hot-mixer: ~}}", "no tank reaches it"),
        (
            "{components: {second: {kind: pump}}, runs: {delivery: {to: second/inlet}, b: {medium: water, from:"
            " second/outlet, to: tee/in, length: 1 m, bore: 10 mm}}}",
            "2 pumps stand in its way",
        ),
        ("{runs: {suction: {to: tee/in}, delivery: ~}}", "0 pumps stand in its way"),
    ],
)
def test_where_no_flow_can_be_told(change: str, reason: str) -> None:
    """Without a way, or without exactly one pump on it."""
    with pytest.raises(Missing) as caught:
        _ = water_system(change).subject("tap").tap_flow_least
    assert reason in str(caught.value.reason)


def test_water_comes_no_way_that_a_check_valve_shuts() -> None:
    """A circulation back to the tee would be the shorter way: two filters and a second tee lie on the other."""
    van = water_system(
        """
        components: {tee: {outlets: 4}, f1: {kind: water-filter}, f2: {kind: water-filter},
          fork: {kind: water-manifold}, back: {kind: check-valve}, far: {kind: tap, form: cold}}
        runs:
          a: {medium: water, from: tee/4, to: f1/in}
          b: {medium: water, from: f1/out, to: f2/in}
          c: {medium: water, from: f2/out, to: fork/in}
          d: {medium: water, from: fork/1, to: back/in}
          e: {medium: water, from: back/out, to: tee/in}
          f: {medium: water, from: fork/2, to: far}
        """
    )
    assert van.subject("far").pipes_on_the_way == ("suction", "delivery", "a", "b", "c", "f")


TWO = """
components: {second: {kind: tap, form: cold, potable: true, zone: ~, at: [2 m, 0 m, %s m]}, tee: {outlets: 4},
  tap: {zone: ~, at: [2 m, 0 m, 1.1 m]}, fresh-tank: {zone: ~, at: [2 m, 0 m, 0 m], size: [1 m, 1 m, 200 mm]}}
runs: {cold-tap: {length: 2 m}, second-pipe: {medium: water, from: tee/4, to: second, length: 5 m, bore: 12 mm, lowest: 100 mm}}
"""


@pytest.mark.parametrize("height", [1.1, 3.1])
def test_two_taps_share_what_the_pump_gives(height: float) -> None:
    """At either end all balances: of the pump at the sum of both flows, and of each tap's own pipe and height."""
    van = water_system(TWO % height)
    one, other = van.subject("tap"), van.subject("second")
    mine, its = one.shared_flow_least, other.shared_flow_greatest
    # Of the first tap the least is at the straight curve and the full friction; what the second has then:
    fork = 2 * lost(mine, 2) + METRE * 1.0
    low, high = 0.0, GREATEST
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (
            (middle, high) if 2 * lost(middle, 5, 0.012) + METRE * (height - 0.1) < fork else (low, middle)
        )
    assert line(mine + low) - 2 * lost(mine + low, 2) == pytest.approx(fork, rel=1e-5)
    assert its >= low


def test_a_tap_on_a_pump_of_its_own_hinders_nobody() -> None:
    """Only those on the same pump are looked at, and of several the one that hinders most."""
    apart = """
        components: {second: {kind: tap, form: cold, zone: bay}, other: {kind: pump, greatest_flow: 10 L/min, cut_off_pressure: 2 bar}}
        runs: {a: {medium: water, from: fresh-tank/outlet, to: other/inlet, length: 1 m, bore: 10 mm},
          b: {medium: water, from: other/outlet, to: second, length: 1 m, bore: 10 mm}}
        """
    assert water_system(apart).subject("tap").get("shared_flow_least") is None
    assert water_system(apart).subject("tap").get("shared_flow_greatest") is None

    def beside(*pipes: str) -> tuple[float, float]:
        taps = ", ".join(f"t{n}: {{kind: tap, form: cold, zone: bay}}" for n, _ in enumerate(pipes))
        runs = ", ".join(
            f"p{n}: {{medium: water, from: tee/{n + 4}, to: t{n}, {pipe}}}" for n, pipe in enumerate(pipes)
        )
        tap = water_system(
            f"{{components: {{tee: {{outlets: {3 + len(pipes)}}}, {taps}}}, runs: {{{runs}}}}}"
        ).subject("tap")
        return tap.shared_flow_least, tap.shared_flow_greatest

    wide, narrow = "length: 1 m, bore: 12 mm", "length: 9 m, bore: 6 mm"
    assert beside(wide)[0] < beside(narrow)[0]
    assert beside(wide)[1] < beside(narrow)[1]
    assert beside(wide, narrow) == beside(narrow, wide) == beside(wide)
