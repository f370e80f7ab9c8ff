"""Flow at a tap: exact laminar loss, Colebrook–White as the turbulent measure, laws, and a small system."""

from math import log10, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from water_system import water_system

from specreg.facts.missing import Missing
from specreg.facts.pipe_friction import balanced_flow, friction_factor, friction_loss

LITRES_PER_MINUTE = 1e-3 / 60


@given(st.floats(min_value=1e-7, max_value=5e-6), st.floats(min_value=0.1, max_value=20))
def test_laminar_flow_is_poiseuilles(flow: float, length: float) -> None:
    """Below the critical Reynolds number the loss is 128·μ·L·Q/(π·d⁴), exactly (physics); water of 1.307 mPa·s."""
    bore = 0.010
    assert friction_loss(flow, length, bore) == pytest.approx(
        128 * 1.307e-3 * length * flow / (pi * bore**4), rel=1e-9
    )


def colebrook(reynolds: float, roughness: float) -> float:
    """The factor of Colebrook and White by fixed-point iteration (equation from memory)."""
    root = 7.0  # 1/√f
    for _ in range(100):
        root = -2 * log10(roughness / 3.7 + 2.51 * root / reynolds)
    return 1 / root**2


@pytest.mark.parametrize("reynolds", [4e3, 1e4, 3e4, 1e5, 1e6])
@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1.5e-4, 1e-3, 1e-2])
def test_turbulent_factor_is_near_colebrooks(reynolds: float, roughness: float) -> None:
    """Haaland's formula stays within 2.5 % of Colebrook–White, whose own error is larger."""
    assert friction_factor(reynolds, roughness) == pytest.approx(colebrook(reynolds, roughness), rel=0.025)


@pytest.mark.parametrize(("reynolds", "factor"), [(100, 0.64), (2300, 0.027826), (2300.5, 0.048487)])
def test_where_flow_ceases_to_be_laminar(reynolds: float, factor: float) -> None:
    """64/Re up to 2300; just beyond it (1.8·log(Re/6.9))⁻² in a smooth pipe: 1/(1.8 · 2.5231)²."""
    assert friction_factor(reynolds, 0.0) == pytest.approx(factor, rel=1e-4)


@pytest.mark.parametrize("flow", [0.0, -1e-5])
def test_what_does_not_flow_loses_nothing(flow: float) -> None:
    """Nor what would flow back."""
    assert friction_loss(flow, 1.0, 0.010) == 0


def test_smooth_pipe_by_prandtl() -> None:
    """A smooth pipe at Re 100 000 has f = 0.0180 (Moody's chart, memory)."""
    assert friction_factor(1e5, 0.0) == pytest.approx(0.0180, abs=0.0003)


FLOW = st.floats(min_value=1e-7, max_value=5e-4)


@given(FLOW, FLOW, st.floats(min_value=0.004, max_value=0.03))
def test_more_flow_never_loses_less(one: float, other: float, bore: float) -> None:
    """Friction grows with flow, and falls with bore."""
    low, high = sorted((one, other))
    assert friction_loss(low, 1.0, bore) <= friction_loss(high, 1.0, bore) * (1 + 1e-12)
    assert friction_loss(high, 1.0, 1.2 * bore) <= friction_loss(high, 1.0, bore)


@given(st.floats(min_value=0.1, max_value=10), st.floats(min_value=0.01, max_value=10))
def test_balance_is_where_the_surplus_ends(pressure: float, slope: float) -> None:
    """A straight surplus p − s·q ends at p/s, or at the greatest flow."""
    assert balanced_flow(lambda q: pressure - slope * q, 5.0) == pytest.approx(min(5.0, pressure / slope))


def test_no_pressure_no_flow() -> None:
    """A tap above what the pump lifts gives nothing."""
    assert balanced_flow(lambda q: -1.0 - q, 5.0) == 0.0
    assert balanced_flow(lambda q: -q, 5.0) == 0.0


def test_the_range_balances_pump_and_friction() -> None:
    """At the flow found, the straight curve of the pump meets twice the friction of its three pipes."""
    tap = water_system().subject("tap")
    assert tap.pipes_on_the_way == ("suction", "delivery", "cold-tap")
    flow, greatest = tap.tap_flow_least, 10 * LITRES_PER_MINUTE
    assert 2.1e5 * (1 - flow / greatest) == pytest.approx(2 * friction_loss(flow, 3.0, 0.010), rel=1e-6)
    assert flow < tap.tap_flow_greatest < greatest


@pytest.mark.parametrize(
    "change",
    [
        "{runs: {delivery: {bore: 8 mm}}}",
        "{runs: {delivery: {length: 9 m}}}",
        "{components: {water-pump: {cut_off_pressure: 1 bar}}}",
        "{components: {tap: {zone: ~, at: [2 m, 0 m, 1 m]}}}",
    ],
)
def test_what_hinders_the_flow(change: str) -> None:
    """A narrower or longer pipe, a weaker pump, a higher tap give less."""
    assert water_system(change).subject("tap").tap_flow_least < water_system().subject("tap").tap_flow_least


def test_all_missing_pipe_data_are_named_at_once() -> None:
    """Every length and bore that is not stated is named."""
    with pytest.raises(Missing) as caught:
        _ = water_system("{runs: {suction: {bore: ~}, cold-tap: {length: ~}}}").subject("tap").tap_flow_least
    assert caught.value.fields == ("suction.bore", "cold-tap.length")


def test_rough_pipe_by_von_karman() -> None:
    """In rough turbulent flow the factor no longer depends on Re: √(1/f) = −2·log(ε/3.7) (von Kármán)."""
    assert sqrt(1 / friction_factor(1e9, 0.01)) == pytest.approx(-2 * log10(0.01 / 3.7), rel=0.01)


TWO = """
components: {{second: {{kind: tap, form: cold, potable: true, zone: bay}}, tee: {{outlets: 4}}}}
runs: {{second-pipe: {{medium: water, from: tee/4, to: second, length: {length} m, bore: {bore} mm, lowest: 100 mm}}}}
"""


@settings(max_examples=15, deadline=None)
@given(st.floats(min_value=0.2, max_value=20), st.integers(min_value=6, max_value=20))
def test_two_open_taps_never_give_more_each(length: float, bore: int) -> None:
    """A second open tap never makes the first give more, at either end of the range."""
    tap = water_system(TWO.format(length=round(length, 2), bore=bore)).subject("tap")
    assert 0 < tap.shared_flow_least <= tap.tap_flow_least * (1 + 1e-8)
    assert tap.shared_flow_least <= tap.shared_flow_greatest <= tap.tap_flow_greatest * (1 + 1e-8)


def test_two_open_taps_balance_the_pump() -> None:
    """Two alike branches part the flow in halves, and the pump meets common pipes and one branch."""
    van = water_system(TWO.format(length=1, bore=10))
    one, other = van.subject("tap").shared_flow_least, van.subject("second").shared_flow_least
    assert one == pytest.approx(other, rel=1e-6)
    both, greatest = one + other, 10 * LITRES_PER_MINUTE
    lost = friction_loss(both, 2.0, 0.010) + friction_loss(one, 1.0, 0.010)
    assert 2.1e5 * (1 - both / greatest) == pytest.approx(2 * lost, rel=1e-4)


@pytest.mark.parametrize("height", [1.1, 2.1])
def test_a_high_tap_starves_beside_a_low_one(height: float) -> None:
    """Above another tap with a short pipe less is left than beside it, and the range stays a range."""
    text = TWO.format(length=0.2, bore=12)
    raised = f"components: {{tap: {{zone: ~, at: [2 m, 0 m, {height} m]}}, "
    high = water_system(text.replace("components: {", raised)).subject("tap")
    assert high.shared_flow_least < water_system(text).subject("tap").shared_flow_least
    assert high.shared_flow_least <= high.shared_flow_greatest


def test_a_lone_tap_shares_with_none() -> None:
    """Where there is no second tap the question does not arise."""
    assert water_system().subject("tap").get("shared_flow_least") is None


@given(st.floats(min_value=0.1, max_value=30), st.floats(min_value=0.1, max_value=30))
def test_a_longer_pipe_never_gives_more(one: float, other: float) -> None:
    """Flow at the tap falls with the length of a pipe on its way."""
    short, long = sorted((round(one, 2), round(other, 2)))
    flows = [
        water_system(f"{{runs: {{delivery: {{length: {length} m}}}}}}").subject("tap").tap_flow_least
        for length in (short, long)
    ]
    assert flows[1] <= flows[0] * (1 + 1e-9)


def test_a_stated_curve_leaves_no_range_of_its_own() -> None:
    """Points on the straight line between the end points give what that line gives."""
    points = "[{flow: 10 L/min, pressure: 0 bar}, {flow: 5 L/min, pressure: 1.05 bar}, {flow: 0 L/min, pressure: 2.1 bar}]"
    stated = water_system(f"{{components: {{water-pump: {{curve: {points}}}}}}}").subject("tap")
    assert stated.tap_flow_least == pytest.approx(water_system().subject("tap").tap_flow_least, rel=1e-6)


def test_a_stated_curve_is_followed_between_its_points() -> None:
    """A pump that holds its pressure longer than a straight line gives more."""
    points = "[{flow: 0 L/min, pressure: 2.1 bar}, {flow: 8 L/min, pressure: 1.6 bar}, {flow: 10 L/min, pressure: 0 bar}]"
    stated = water_system(f"{{components: {{water-pump: {{curve: {points}}}}}}}").subject("tap")
    assert stated.tap_flow_least > water_system().subject("tap").tap_flow_least
