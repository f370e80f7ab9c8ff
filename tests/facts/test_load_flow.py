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


def test_unstated_time_is_said() -> None:
    """A load without `runs_in` is taken to run always, and that is written as an assumption."""
    fact = dc_facts()
    assert fact.subject("main", "night").flow == pytest.approx(10)
    known = fact._known[("main", "flow", "night")]
    assert any("runs_in" in sentence for sentence in known.assumptions)
