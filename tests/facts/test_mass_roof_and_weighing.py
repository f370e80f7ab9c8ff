"""Roof, tow ball, the weighbridge ticket of the finished van, and what the regulations ask to be left."""

import pytest
from van import van_facts

from specreg.facts.missing import Missing

ROOF = """
components:
  rack: {kind: roof-rack, mass: 30 kg, carried: 20 kg}
  panel: {kind: solar-panel, mass: 10 kg, count: 2, mounting: bonded}
  fan: {kind: roof-fan, mass: 5 kg, at: [3 m, 0 m, 1.9 m]}
  box: {kind: cabinet, mass: 8 kg, fixed_to: rack}
  shelf: {kind: shelf, mass: 4 kg, at: [3 m, 0 m, 1.7 m]}
"""


def test_what_the_roof_carries() -> None:
    """Rack and its load, bonded panels, a box on the rack, and what stands at roof height."""
    whole = van_facts(ROOF).whole
    assert whole.roof_load == pytest.approx(30 + 20 + 20 + 5 + 8)
    assert whole.things_on_roof == ("rack", "panel", "fan", "box")


def test_the_tow_ball_takes_the_smaller_limit() -> None:
    """A carrier on the ball counts with what it carries; bar and plate both limit."""
    whole = van_facts(
        "components: {bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, load_limit: 80 kg}, "
        "bikes: {kind: bike-carrier, mass: 18 kg, mounting: tow-bar, carried: 40 kg}}"
    ).whole
    assert whole.tow_ball_load == pytest.approx(58)
    assert whole.tow_ball_limit == pytest.approx(80)


@pytest.mark.parametrize(
    ("thing", "carried"),
    [
        ("{kind: spare-wheel, mass: 25 kg, place: roof}", 25),
        ("{kind: spare-wheel, mass: 25 kg, place: rear door}", 0),
        ("{kind: solar-panel, mass: 25 kg, mounting: portable}", 0),
        ("{kind: solar-panel, mass: 25 kg, mounting: roof spoilers}", 25),
        ("{kind: cabinet, mass: 25 kg, at: [3 m, 0 m, 1.89 m]}", 0),
        ("{kind: cabinet, mass: 25 kg, at: [3 m, 0 m, 1.9 m]}", 25),
    ],
)
def test_what_counts_on_the_roof(thing: str, carried: float) -> None:
    """By its mounting, its place, or from the room's height of 1.9 m on."""
    assert van_facts(f"components: {{it: {thing}}}").whole.roof_load == pytest.approx(carried)


BAR = "bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, load_limit: %s}"


@pytest.mark.parametrize(
    ("bars", "plate", "limit"),
    [(["120 kg"], "100 kg", 100), (["120 kg"], "~", 120), ([], "100 kg", 100)],
    ids=["plate", "bar", "plate without a bar"],
)
def test_the_least_limit_of_the_tow_ball(bars: list[str], plate: str, limit: float) -> None:
    """The plate's, the bar's, the smaller where both state one."""
    listed = ", ".join(BAR % bar for bar in bars)
    facts = van_facts(f"{{vehicle: {{permitted: {{tow_ball: {plate}}}}}, components: {{{listed}}}}}")
    assert facts.whole.tow_ball_limit == limit


def test_without_any_limit_of_the_tow_ball_it_is_asked_for() -> None:
    """Neither plate nor bar: the plate's field is named."""
    with pytest.raises(Missing, match=r"vehicle\.permitted\.tow_ball"):
        _ = van_facts("vehicle: {permitted: {tow_ball: ~}}").whole.tow_ball_limit


FINAL = """
components: {cabinet: {kind: cabinet, mass: 100 kg, mass_status: weighed, at: [4 m, 0 m, 0 m]}}
records:
  weighings:
    - {stage: final, front_axle: FRONT, rear_axle: REAR, driver: true, fuel: 100 %, scale_step: 10 kg}
"""


def final(front: float, rear: float) -> str:
    """A cabinet of 100 kg on the rear axle and a final ticket."""
    return FINAL.replace("FRONT", f"{front} kg").replace("REAR", f"{rear} kg")


def test_a_ticket_that_agrees_leaves_nothing_unexplained() -> None:
    """2000 kg as received with full fuel, a cabinet of 100 kg, a driver of 75 kg at 1 m."""
    whole = van_facts(final(1200 + 75 * 0.75, 800 + 100 + 75 * 0.25)).whole
    assert whole.expected_mass == pytest.approx(2175)
    assert whole.unexplained_mass == pytest.approx(0)
    assert whole.unexplained_rear == pytest.approx(0)
    assert whole.reconciliation_doubt == pytest.approx(10 + 10 + 1)
    assert whole.discrepancy == 0


def test_what_the_spec_forgot_is_named() -> None:
    """70 kg more on the rear axle than written: 21 kg can be doubt, 49 kg cannot."""
    whole = van_facts(final(1200 + 75 * 0.75, 800 + 170 + 75 * 0.25)).whole
    assert whole.unexplained_mass == pytest.approx(70)
    assert whole.unexplained_rear == pytest.approx(70)
    assert whole.discrepancy == pytest.approx(49)


def test_without_a_final_ticket_nothing_is_reconciled() -> None:
    """The absent record is named."""
    with pytest.raises(Missing) as raised:
        _ = van_facts().whole.unexplained_mass
    assert raised.value.fields == ("records.weighings",)


def test_payload_that_people_need() -> None:
    """Four travel seats in 6 m: 225 kg of passengers (C4-14) and 100 kg of effects (formula of C4-13)."""
    bench = (
        "components: {bench: {kind: bench, mass: 9 kg, origin: retrofitted, places: 3, used_under_way: true,"
        " belts: [lap, lap, lap]}}"
    )
    whole = van_facts(bench).whole
    assert whole.travel_seats == 4
    assert whole.least_user_payload_eu == pytest.approx(225 + 100)
    assert whole.least_capacity_us == pytest.approx(600 * 0.45359237)
    assert whole.relabel_threshold == pytest.approx(100 * 0.45359237)
