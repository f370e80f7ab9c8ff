"""The load flow in each way of using the van, by hand and by its laws."""

import pytest
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.facts.axes import OPERATIONS

TIMES = "components: {lamp: {runs_in: [night]}, pump: {runs_in: [day, driving]}}"
CURRENTS = st.floats(0.1, 20).map(lambda x: round(x, 2))
MOMENTS = st.lists(st.sampled_from(OPERATIONS[:-1]), max_size=4, unique=True)
QUICK = settings(max_examples=25, deadline=None)


@pytest.mark.parametrize(
    ("operation", "main", "lamp"),
    [("night", 4, 11.65024), ("day", 6, 11.95416), ("shore", 0, 12), ("everything on", 10, 11.6044)],
)
def test_worked_by_hand(operation: str, main: float, lamp: float) -> None:
    """IEC 60228 class 5, Ω/km at 20 °C: 1.91 for 10 mm² (2 × 2 m), 13.3 for 1.5 mm² (2 × 3 m).

    Night: 4 A × (4 m × 1.91 + 6 m × 13.3) mΩ/m = 0.34976 V. By day the lamp is off: 6 A × 4 m × 1.91 mΩ/m.
    """
    facts = dc_facts(TIMES)
    assert facts.subject("main", operation).flow == pytest.approx(main)
    assert facts.subject("lamp", operation).voltage_at_load == pytest.approx(lamp, abs=1e-9)


@QUICK
@given(CURRENTS, CURRENTS, MOMENTS, st.integers(2, 5), st.sampled_from(OPERATIONS))
def test_flow_is_linear_and_sums(one: float, other: float, when: list[str], factor: int, now: str) -> None:
    """The battery gives what the loads that run take; n times the loads are n times current and drop."""

    def van(times: int) -> str:
        return (
            f"components: {{lamp: {{current: {one} A, count: {times}, runs_in: [{', '.join(when)}]}}, "
            f"pump: {{current: {other} A, count: {times}}}}}"
        )

    a, b = dc_facts(van(1)), dc_facts(van(factor))
    lamp = one if now in when or now == "everything on" else 0.0
    assert a.subject("main", now).flow == pytest.approx(lamp + other)
    assert b.subject("main", now).flow == pytest.approx(factor * a.subject("main", now).flow)
    drops = [12 - van.subject("pump", now).voltage_at_load for van in (a, b)]
    assert drops[1] == pytest.approx(factor * drops[0])


def test_everything_on_agrees_with_the_drop() -> None:
    """With every load on, the voltage left is what the supply drop leaves."""
    facts = dc_facts(TIMES)
    for name in ("lamp", "pump"):
        left = facts.subject(name, "everything on").voltage_at_load
        assert left == pytest.approx(12 - facts.subject(name).supply_drop)


def test_worst_case_is_the_least_over_operations() -> None:
    """The worst is the least of all voltages, and named: the pump with everything on."""
    facts = dc_facts(TIMES)
    (worst,) = facts.whole.worst_load_voltage
    every = [facts.subject(x, o).voltage_at_load for x in ("lamp", "pump") for o in OPERATIONS]
    assert worst.voltage == min(every)
    assert (worst.load, worst.operation) == (facts.name_of("pump"), "everything on")


def test_the_worst_is_by_share_of_what_each_is_made_for() -> None:
    """A pump for 24 V keeps more volts than the lamp, and loses more of its own: 2 V of 24 against 0.4 V of 12.

    Its cable of 20 m: 6 A × 40 m × 7.98 mΩ/m = 1.9152 V, with 10 A × 4 m × 1.91 mΩ/m of the main.
    """
    facts = dc_facts("{components: {pump: {supply_voltage: 24 V}}, runs: {pump-feed: {length: 20 m}}}")
    (worst,) = facts.whole.worst_load_voltage
    assert worst.load == "pump"
    assert worst.voltage == pytest.approx(24 - 1.9152 - 0.0764)


def test_a_load_of_which_not_all_is_known_is_left_out_and_said() -> None:
    """The lamp's cable has no length: the pump is the worst of what is known. A light in a drawer is no question."""
    facts = dc_facts("{components: {spare: {kind: strip-light}}, runs: {lamp-feed: {length: ~}}}")
    with facts.recording() as frame:
        (worst,) = facts.whole.worst_load_voltage
    assert worst.load == "pump"
    said = [sentence for sentence in frame.assumptions if "left out of the worst case" in sentence]
    assert said == ["lamp left out of the worst case: lamp-feed.length"]


@pytest.mark.parametrize("when", ["night", "shore"])
def test_a_load_known_at_some_times_only_is_left_out(when: str) -> None:
    """What the pump takes is not stated, and it runs at one time only: for none of both is the worst time known."""
    facts = dc_facts(f"components: {{pump: {{current: ~, runs_in: [{when}]}}, lamp: {{runs_in: [day]}}}}")
    assert facts.subject("lamp", "day").voltage_at_load < 12
    assert facts.whole.worst_load_voltage == ()


def test_without_a_wired_load_there_is_no_worst() -> None:
    """Nothing is said of a van whose cables are not written yet."""
    assert dc_facts(base="components: {lamp: {kind: strip-light}}").whole.worst_load_voltage == ()


def test_what_converts_runs_at_all_times() -> None:
    """`runs_in` is said of consumers: an inverter that takes 50 A is reckoned with by night, too."""
    inverter = """
    components: {inverter: {kind: inverter, input_current: 50 A}}
    runs: {feed: {medium: dc, from: box/b, to: inverter/positive, return: chassis}, pump-feed: ~}
    """
    assert dc_facts(TIMES, inverter).subject("main", "night").flow == pytest.approx(54)


def test_unstated_time_is_said() -> None:
    """A load without `runs_in` is taken to run always, and that is written as an assumption."""
    facts = dc_facts()
    with facts.recording() as frame:
        assert facts.subject("main", "night").flow == pytest.approx(10)
    assert any("runs_in" in sentence for sentence in frame.assumptions)


def test_voltage_to_spare_by_hand() -> None:
    """10 A × 4 m × 1.91 mΩ/m + 4 A × 6 m × 13.3 mΩ/m = 0.3956 V; a lamp that works down to 11 V."""
    lamp = dc_facts("components: {lamp: {least_voltage: 11 V}}").subject("lamp")
    assert lamp.battery_voltage_needed == pytest.approx(11.3956)
    assert lamp.voltage_to_spare == pytest.approx(0.6044)


def test_unstated_least_voltage_is_said() -> None:
    """10.5 V of 12 V is common practice: assumed, and said beside the figure."""
    facts = dc_facts()
    with facts.recording() as frame:
        assert facts.subject("lamp").works_down_to == 10.5
    assert any("10.5 V" in sentence for sentence in frame.assumptions)


CONTROLLER = """
components: {{sun: {{kind: solar-controller, rated_current: {current} A, absorption_voltage: 14.2 V}}}}
runs: {{out: {{medium: dc, from: sun/battery, to: box/feed, return: same cable, conductor: 6 mm², length: {length} m}}}}
"""


def test_charging_drop_by_hand() -> None:
    """20 A × (2 × 1 m × 3.30 mΩ/m + 4 m × 1.91 mΩ/m) = 0.2848 V of 14.2 V, IEC 60228 class 5 at 20 °C."""
    sun = dc_facts(CONTROLLER.format(current=20, length=1)).subject("sun")
    assert sun.charges_a_battery
    assert sun.charging_drop_share == pytest.approx(0.2848 / 14.2)


@QUICK
@given(CURRENTS, st.floats(0.1, 9), st.floats(0.1, 9))
def test_charging_drop_grows(current: float, one: float, other: float) -> None:
    """A longer cable never loses less, and twice the current twice as much."""
    short, long = sorted((one, other))
    drops = [
        dc_facts(CONTROLLER.format(current=amps, length=length)).subject("sun").charging_drop_share
        for amps, length in ((current, short), (current, long), (2 * current, long))
    ]
    assert drops[0] <= drops[1]
    assert drops[2] == pytest.approx(2 * drops[1])
