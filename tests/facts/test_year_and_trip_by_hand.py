"""The named months and the stated trip, hour by hour, on a van so plain that a sum on paper tells the end."""

import pytest
from dc_van import dc_facts

from specreg.facts.energy_year import Days, MonthOfEnergy, _days, _month
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.sun import standings

WH = 3600.0
PLAIN = """
use: {places: [{latitude: 50°, months: [4], clearness: 40 %}]}
components:
  battery: {chemistry: lithium iron phosphate, capacity: 100 Ah, usable: 80 %}
  lamp: {current: ~, power: 10 W, hours_per_day: 24 h}
  pump: {hours_per_day: 0 h}
"""
"""1200 Wh new and 960 Wh worn, of which a fifth is kept; 240 Wh a day, 10 Wh in each hour."""


def months(listed: str) -> str:
    return f"use: {{places: [{{latitude: 50°, months: {listed}, clearness: 40 %}}]}}"


def told(found: tuple[MonthOfEnergy, ...]) -> list[tuple[float, ...]]:
    """Months with what is asked, offered, unmet and turned away in Wh, and the least state of charge."""
    return [
        (one.month, one.asked / WH, one.offered / WH, one.unmet / WH, one.turned_away / WH, one.least_charge)
        for one in found
    ]


STANDING = [
    ("[4]", [(4, 7200, 0, 7200 - 768, 0, 0.2)]),
    ("[3, 4]", [(3, 7440, 0, 7440 - 768, 0, 0.2), (4, 7200, 0, 7200, 0, 0.2)]),  # it goes on as March ended
    ("[4, 3]", [(3, 7440, 0, 7440 - 768, 0, 0.2), (4, 7200, 0, 7200, 0, 0.2)]),
    ("[2, 4]", [(2, 6720, 0, 6720 - 768, 0, 0.2), (4, 7200, 0, 7200 - 768, 0, 0.2)]),  # full after March
    ("[12, 1]", [(1, 7440, 0, 7440 - 768, 0, 0.2), (12, 7440, 0, 7440 - 768, 0, 0.2)]),
]


@pytest.mark.parametrize(("listed", "expected"), STANDING)
def test_months_without_any_charge(listed: str, expected: list[tuple[float, ...]]) -> None:
    """A worn battery gives 768 Wh once; full at the start and after a month that is not named."""
    whole = dc_facts(PLAIN, months(listed)).whole
    assert told(whole.year_without_shore) == [pytest.approx(one) for one in expected]
    asked = sum(one[1] for one in expected)
    times = sum(one[3] < one[1] for one in expected)
    assert whole.least_met_without_shore == pytest.approx(times * 768 / asked)
    assert whole.most_met_without_shore == pytest.approx(times * 960 / asked)


DRIVING = """
use: {driving_per_day: 1 h, nights_off_grid: %s, shore_nights: %s}
components:
  alternator: {kind: alternator, rated_current: 100 A, present_draw: 40 A, charging_voltage: 14 V}
  charger: {kind: dc-charger, output_current: %s A, efficiency: 80 %%}
runs:
  in: {medium: dc, from: alternator/positive, to: charger/input, return: chassis}
  out: {medium: dc, from: charger/output, to: box/feed, return: ground}
"""
SHORE = """
components: {shore: {kind: shore-charger, charge_current: 20 A}}
runs: {hooked: {medium: dc, from: shore/positive, to: box/feed, return: chassis}}
"""


def test_a_month_of_driving() -> None:
    """360 W from 10 h to 11 h: 10 W of it to the lamp, of 350 Wh 92 % stay where there is room for them.

    Worn and full at midnight, 100 Wh are gone by 10 h, 230 Wh by 10 h of every later day: 100 / 0.92 and 250 Wh
    are taken. Least is 960 − 230 Wh.
    """
    whole = dc_facts(PLAIN, DRIVING % (6, 0, 30)).whole
    away = 350 - 100 / 0.92 + 29 * 100
    assert told(whole.year_as_used) == [pytest.approx((4, 7200, 30 * 360, 0, away, 730 / 960))]
    assert (whole.least_met_as_used, whole.most_met_as_used) == (1.0, 1.0)
    assert told(whole.year_without_shore) == [pytest.approx((4, 7200, 0, 7200 - 768, 0, 0.2))]


def test_a_month_of_too_little_driving() -> None:
    """5 A give 60 Wh a day: 10 to the lamp, of 50 Wh 92 % stay, 98 % at the better end.

    There is always room for these, and after the last drive the lamp takes all that is left.
    """
    whole = dc_facts(PLAIN, DRIVING % (6, 0, 5)).whole
    assert whole.least_met_as_used == pytest.approx((768 + 30 * (10 + 50 * 0.92)) / 7200)
    assert whole.most_met_as_used == pytest.approx((960 + 30 * (10 + 50 * 0.98)) / 7200)


ON, OFF = 14 * 240, 360
"""Wh that hook-up offers from 18 h to 8 h, and an hour's drive."""
PATTERNS = [
    # nights off grid, on hook-up, months, days on hook-up in each
    (2, 1, "[4]", [10]),
    (1, 2, "[4]", [20]),
    # the fourth day of four: days 3 to 27 of March, counted from 0; April begins with it, as day 31 of all
    (3, 1, "[3, 4]", [7, 8]),
    (1, 1, "[1]", [15]),
    (1, 1, "[3]", [15]),  # 31 days begin and end off grid
    (1, 1, "[3, 4, 5]", [15, 15, 16]),  # April and May go on where March and April ended
    (1, 1, "[3, 5]", [15, 15]),  # it begins anew after April, which is not named
    (0, 1, "[4]", [30]),
    (1, 0, "[4]", [0]),
    (0, 0, "[4]", [0]),
]


@pytest.mark.parametrize(("away", "hooked", "listed", "days"), PATTERNS)
def test_nights_on_hook_up_between_times_off_grid(
    away: int, hooked: int, listed: str, days: list[int]
) -> None:
    """On a day on hook-up nobody drives; the pattern runs through months that follow each other."""
    whole = dc_facts(PLAIN, months(listed), DRIVING % (away, hooked, 30), SHORE).whole
    found = whole.year_as_used
    length = {1: 31, 3: 31, 4: 30, 5: 31}
    expected = [on * ON + (length[one.month] - on) * OFF for one, on in zip(found, days, strict=True)]
    assert [one.offered / WH for one in found] == pytest.approx(expected)


def test_what_a_year_takes_for_granted() -> None:
    """How months and trips follow each other is said; a van that stands has no trips."""
    whole = dc_facts(PLAIN, DRIVING % (6, 0, 30)).whole
    trips = "times off grid follow each other at once, with the nights on hook-up between them"
    for fact, told_ in (("year_as_used", True), ("year_without_shore", False)):
        with whole.van.recording() as frame:
            getattr(whole, fact)
        assert (
            sum(
                one.startswith("each named month: equal days, seven in its middle")
                for one in frame.assumptions
            )
            == 1
        )
        assert (trips in frame.assumptions) is told_


def test_a_van_that_never_hooks_up_needs_no_charger_on_mains() -> None:
    """Nor its current, where one is fitted."""
    unknown = SHORE.replace(", charge_current: 20 A", "")
    assert dc_facts(PLAIN, DRIVING % (6, 0, 30), unknown).whole.least_met_as_used == 1.0
    with pytest.raises(Missing) as absent:
        _ = dc_facts(PLAIN, DRIVING % (6, 1, 30), unknown).whole.least_met_as_used
    assert absent.value.fields == ("shore.charge_current",)


@pytest.mark.parametrize(("days", "first"), [(28, 10), (30, 11), (31, 12)])
def test_the_poor_week_is_in_the_middle_of_a_month(days: int, first: int) -> None:
    """Seven days, as many before as after, or one more after; driving adds to the sun, hook-up takes its place."""
    each = {"loads": 1.0, "rest": 10.0, "poor": 3.0, "driving": 100.0, "shore": 1000.0}
    day = Days(**{name: (value,) * 24 for name, value in each.items()}, warm=(True,) * 24)
    hooked = [n % 5 == 4 for n in range(days)]
    asked, offered = _month(day, days, hooked)
    assert asked == (1.0,) * 24 * days
    sun = [3.0 if first <= n < first + 7 else 10.0 for n in range(days)]
    expected = [one + (1000.0 if on else 100.0) for one, on in zip(sun, hooked, strict=True)]
    assert offered[::24] == offered[23::24] == tuple(expected)


def test_a_month_with_a_poor_week_has_two_sorts_of_day() -> None:
    """20 % of clearness in the poor week, (30 × 50 − 7 × 20) / 23 % in the rest; without one all are alike."""
    whole = dc_facts(PLAIN, PANEL % CLEAR).whole
    days = _days(whole, standings(whole.van)[0], most=False, used=False)
    assert sum(days.poor) / sum(days.rest) == pytest.approx(20 / ((30 * 50 - 7 * 20) / 23))
    whole = dc_facts(PLAIN, PANEL % DIM).whole
    days = _days(whole, standings(whole.van)[0], most=False, used=False)
    assert days.poor == days.rest


PANEL = """
use: {places: [%s]}
components: {panel: {kind: solar-panel, peak_power: 100 W, power_coefficient: 0 %%/K, shade: 0 %%, tilt: 0°}}
"""
CLEAR = "{latitude: 50°, months: [4], clearness: 50 %, poor_week_clearness: 20 %}"
DIM = "{latitude: 50°, months: [4], clearness: 40 %}"


def test_the_sun_of_a_month() -> None:
    """30 mean days of FAO-56's 31.5 MJ/m² above 50° N, with a poor week or without; of two places the dimmer."""
    for places, clearness in ((CLEAR, 0.5), (DIM, 0.4), (f"{CLEAR}, {DIM}", 0.4), (f"{DIM}, {CLEAR}", 0.4)):
        whole = dc_facts(PLAIN, PANEL % places).whole
        (april,) = whole.year_without_shore
        assert april.offered / WH == pytest.approx(30 * 100 * clearness * 31.5 / 3.6 * 0.97 * 0.95, rel=0.01)
        assert april.offered == pytest.approx(30 * whole.in_case("4").daily_sun)


def trip(more: str, *others: str) -> Facts:
    return dc_facts(PLAIN, "components: {lamp: {power: 40 W}}", more, *others)


def test_a_trip_by_hand() -> None:
    """40 Wh an hour of a worn 960 Wh, from 18 h on, down to a fifth: 19.2 hours; 1152 Wh of two days are wanting."""
    facts = trip("use: {nights_off_grid: 2, driving_per_day: 0 h}")
    whole = facts.whole.in_case("4")
    expected = [max(960 - 40 * hour, 192) / 960 for hour in range(49)]
    assert whole.state_of_charge_on_trip == pytest.approx(expected)
    assert whole.unmet_on_trip / WH == pytest.approx(2 * 960 - 768)
    assert facts.whole.charge_kept == pytest.approx(0.2)


def test_a_trip_with_driving() -> None:
    """From 18 h on the drive at 10 h comes in the 17th hour: 40 W to the lamp, of 320 Wh 92 % stay."""
    facts = trip("{}", DRIVING % (1, 0, 30))
    whole = facts.whole.in_case("4")
    expected = [960.0 - 40 * hour for hour in range(17)]
    expected += [expected[16] + 320 * 0.92 - 40 * hour for hour in range(8)]
    assert [one * 960 for one in whole.state_of_charge_on_trip] == pytest.approx(expected)
    assert whole.unmet_on_trip == 0


def test_a_poor_week_on_a_trip() -> None:
    """Mean sun and a poor week each have their own: 0.4 × as much leaves more wanting."""
    facts = trip("use: {nights_off_grid: 3, driving_per_day: 0 h}", PANEL % CLEAR)
    whole = facts.whole.in_case("4")
    assert whole.unmet_in_a_poor_week > whole.unmet_on_trip > 0
    mean, poor = whole.state_of_charge_on_trip, whole.state_of_charge_in_a_poor_week
    assert all(a >= b for a, b in zip(mean, poor, strict=True)) and mean != poor


@pytest.mark.parametrize("usable", [70, 100])
def test_charge_that_is_kept(usable: int) -> None:
    """What is not used of a full battery, worn or new."""
    whole = dc_facts(PLAIN, f"components: {{battery: {{usable: {usable} %}}}}").whole
    assert whole.charge_kept == pytest.approx(1 - usable / 100)


def test_nothing_asked_gives_no_share_met() -> None:
    """No division by nothing: the reason is told."""
    whole = dc_facts(PLAIN, "components: {lamp: {hours_per_day: 0 h}}").whole
    with pytest.raises(Missing) as absent:
        _ = whole.least_met_without_shore
    assert absent.value.reason == "nothing takes energy from the battery"
