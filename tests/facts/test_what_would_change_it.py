"""What a fifth more, a fifth less or none of each thing does to a stay, by division on paper."""

import pytest
from dc_van import dc_facts

from specreg.facts.energy_by_hour import Load
from specreg.facts.energy_sensitivity import Base, Change, sensitivity
from specreg.facts.state_of_charge import Store

WH = 3600.0
STORE = Store(1200 * WH, 240 * WH, 1e6, 1.0)
"""960 Wh to use; it takes any power and loses nothing."""


def even(wh: float) -> tuple[float, ...]:
    return (wh / 24 * WH,) * 24


def changes(base: Base) -> dict[str, Change]:
    return {one.what: one for one in sensitivity(base, lambda name: name.upper())}


def figures(change: Change) -> list[float]:
    """Nights with less, more and none of it, then Wh wanting likewise."""
    unmet = (change.unmet_with_less, change.unmet_with_more, change.unmet_without)
    return [change.nights_with_less, change.nights_with_more, change.nights_without, *(u / WH for u in unmet)]


def test_each_thing_by_hand() -> None:
    """240 and 120 Wh a day, of which 120 come from the sun as they are asked: 240 Wh a day of 960, in 5 nights."""
    base = Base(STORE, (Load("a", even(240)), Load("b", even(120))), {"sun": even(120)}, 5)
    found = changes(base)
    assert base.outcome() == pytest.approx((4.0, 240 * WH))
    expected = {
        # a day's use, days, and what is wanting of five days
        "battery capacity": [3.0, 4.5, 0, 1200 - 768, 1200 - 1152, 1200],  # 3.2 and 4.8 days
        "sun": [
            3.5,
            4.0,
            2.5,
            5 * 264 - 960,
            5 * 216 - 960,
            5 * 360 - 960,
        ],  # 264, 216, 360 Wh: 3.6, 4.4, 2.7
        "A": [5.0, 3.0, 60, 0, 5 * 288 - 960, 0],  # 192 Wh: all of 960 in five days; 288: 3.3; 0
        "B": [4.0, 3.5, 8.0, 5 * 216 - 960, 5 * 264 - 960, 0],  # 216: 4.4; 264: 3.6; 120: 8
    }
    assert {what: figures(one) for what, one in found.items()} == {
        what: pytest.approx(figures_, abs=1e-6) for what, figures_ in expected.items()
    }
    # by 1.67, 1.6, 0.81 and 0.81 days; of two alike the name decides
    assert list(found) == ["A", "battery capacity", "B", "sun"]


def test_of_two_that_change_no_night_the_energy_decides() -> None:
    """A battery that gives 20 W at most never ends: of 50 W and 30 W asked the greater leaves more wanting."""
    store = Store(1e9, 0.0, 1e6, 1.0, greatest_draw=20.0)
    base = Base(
        store, (Load("a small", even(30 * 24)), Load("the great", even(50 * 24))), {"sun": even(0)}, 2
    )
    found = changes(base)
    assert list(found).index("THE GREAT") < list(found).index("A SMALL")
    assert figures(found["THE GREAT"]) == pytest.approx([60, 60, 60, 50 * 48, 70 * 48, 10 * 48])


def test_things_that_are_not_there_change_nothing() -> None:
    """A source without sun and a load without use are not told."""
    base = Base(
        STORE, (Load("a", even(240)), Load("idle", even(0))), {"sun": even(0), "driving": even(24)}, 5
    )
    assert set(changes(base)) == {"battery capacity", "driving", "A"}


PLAIN = """
use: {nights_off_grid: 5, driving_per_day: 0 h, places: [%s]}
components:
  battery: {chemistry: lithium iron phosphate, capacity: 125 Ah, usable: 80 %%}
  lamp: {current: ~, power: 10 W, hours_per_day: 24 h, title: Work light}
  pump: {hours_per_day: 0 h}
"""


def test_of_a_van() -> None:
    """A worn battery of 960 Wh to use and 240 Wh a day: 4 days, 5 or 3.33 of them with a fifth less or more."""
    found = dc_facts(PLAIN % "").whole.what_would_change_nights
    assert {one.what: figures(one) for one in found} == {
        "Work light": pytest.approx([5.0, 3.0, 60, 0, 5 * 288 - 960, 0], abs=1e-6),
        "battery capacity": pytest.approx([3.0, 4.5, 0, 1200 - 768, 1200 - 1152, 1200], abs=1e-6),
    }


DRIVEN = """
use: {driving_per_day: 1 h}
components:
  alternator: {kind: alternator, rated_current: 100 A, present_draw: 40 A, charging_voltage: 14 V}
  driving: {kind: dc-charger, output_current: 2 A, efficiency: 80 %, title: Box under the seat}
runs:
  in: {medium: dc, from: alternator/positive, to: driving/input, return: chassis}
  out: {medium: dc, from: driving/output, to: box/feed, return: ground}
"""


def test_driving_that_is_not_stated_is_none() -> None:
    """It is no one's question how the engine charges."""
    whole = dc_facts(PLAIN % "", "use: {driving_per_day: ~}").whole
    assert {one.what for one in whole.what_would_change_nights} == {"Work light", "battery capacity"}


def test_a_battery_that_is_too_cold_is_not_charged_by_driving() -> None:
    """Colder than 0 °C by night and not known by day: at the worse end driving gives nothing."""
    cold = "{latitude: 50°, months: [1], night_temperature: -10 °C}"
    found = {one.what: one for one in dc_facts(PLAIN % cold, DRIVEN).whole.what_would_change_nights}
    assert set(found) == {"Work light", "battery capacity"}
    assert figures(found["Work light"])[:3] == [5.0, 3.0, 60]


def test_driving_is_one_of_the_things() -> None:
    """24 Wh a day, 10 of them to the lamp at once and 92 % of 14 kept; without it 240 Wh a day are taken.

    It keeps its name though a component has the same word as its id.
    """
    found = {one.what: one for one in dc_facts(PLAIN % "", DRIVEN).whole.what_would_change_nights}
    assert set(found) == {"Work light", "battery capacity", "driving"}
    assert found["driving"].nights_without == 4.0
    assert found["driving"].unmet_without / WH == pytest.approx(240)
    assert found["driving"].unmet_with_more < found["driving"].unmet_with_less < 240 * WH


FRIDGE = """
components: {pump: {kind: fridge, current: ~, load: ~, daily_energy: 200 Wh, rated_ambient: 25 °C}}
"""
COOL, HOT = (
    f"{{latitude: 50°, months: [{month}], day_temperature: {warm} °C}}" for month, warm in ((1, 10), (7, 35))
)


@pytest.mark.parametrize("places", [f"{COOL}, {HOT}", f"{HOT}, {COOL}"])
def test_the_month_with_the_fewest_nights(places: str) -> None:
    """At 35 °C the fridge takes 200 × 30 / 20 = 300 Wh: 960 / 540 = 1.78 days; without it 4."""
    found = {one.what: one for one in dc_facts(PLAIN % places, FRIDGE).whole.what_would_change_nights}
    assert found["pump"].nights_without == 4.0
    assert found["pump"].unmet_with_more / WH == pytest.approx(5 * (240 + 360) - 960)


def test_a_fridge_in_the_cool_takes_what_is_stated() -> None:
    """At the worse end: 200 Wh, a fifth more is 240 Wh."""
    found = {one.what: one for one in dc_facts(PLAIN % COOL, FRIDGE).whole.what_would_change_nights}
    assert found["pump"].unmet_with_more / WH == pytest.approx(5 * (240 + 240) - 960)


def test_of_months_that_end_in_the_same_hour_the_one_that_leaves_more_wanting_counts() -> None:
    """200 and 201 Wh for the fridge: 960 Wh end in the 53rd hour of both."""
    places = ", ".join(
        f"{{latitude: 50°, months: [{month}], day_temperature: {warm} °C}}"
        for month, warm in ((1, 25), (7, 25.1))
    )
    found = {one.what: one for one in dc_facts(PLAIN % places, FRIDGE).whole.what_would_change_nights}
    assert found["Work light"].unmet_with_more / WH == pytest.approx(5 * (288 + 201) - 960)


PANEL = """
components: {panel: {kind: solar-panel, peak_power: 20 W, power_coefficient: 0 %/K, shade: 0 %, tilt: 0°}}
"""
SUNNY = "{latitude: 50°, months: [4], clearness: 40 %%%s}"


def test_the_poor_week_where_one_is_stated() -> None:
    """Half the clearness of a mean day leaves more wanting than the mean; where none is stated the mean is taken."""
    mean, poor = (
        next(
            one
            for one in dc_facts(PLAIN % (SUNNY % stated), PANEL).whole.what_would_change_nights
            if one.what == "battery capacity"
        )
        for stated in ("", ", poor_week_clearness: 20 %")
    )
    # 20 W × 31.5 MJ/m² × 0.4 / 3.6 × 0.97 × 0.95 = 64.5 Wh a day at the mean, half in a poor week; of five days'
    # 1200 Wh none is stored below the reserve and 92 % of what is not used at once is kept
    assert poor.unmet_without > mean.unmet_without
    assert mean.unmet_with_less / WH == pytest.approx(1200 - 768 - 5 * 64.5, abs=25)
    assert poor.unmet_with_less / WH == pytest.approx(1200 - 768 - 5 * 32.3, abs=15)
