"""A typical day by hour: when loads run, when sun, driving and hook-up give, when a battery may take it."""

from collections.abc import Callable

import pytest
from dc_van import dc_facts

from specreg.facts.energy_by_hour import (
    Load,
    Weather,
    chargeable,
    driving_of_day,
    fridge_factor,
    let_in,
    loads_by_hour,
    shore_of_day,
    sun_of_day,
    total,
)
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.sun import Standing, standings

WH = 3600.0
QUIET = "components: {lamp: {hours_per_day: 0 h}, pump: {hours_per_day: 0 h}}"
EVENING = range(17, 22)
NIGHT = (22, 23, 0, 1, 2, 3, 4, 5, 6)
WAKING = range(7, 22)
RUNS = [
    ("", "", range(24)),
    ("runs_in: [night]", "", NIGHT),
    ("runs_in: [night, shore]", "", NIGHT),
    ("runs_in: [night, day]", "", range(24)),
    ("runs_in: [night, driving]", "", range(24)),
    ("runs_in: [day]", "", WAKING),
    ("runs_in: [driving]", "", WAKING),
    ("runs_in: [day, shore]", "", WAKING),
    ("", "use: {evening_loads: [lamp]}", EVENING),
    ("runs_in: [night]", "use: {evening_loads: [lamp]}", EVENING),
    ("runs_in: [night]", "use: {evening_loads: [pump]}", NIGHT),
]


@pytest.mark.parametrize(("stated", "use", "hours"), RUNS)
def test_a_load_runs_in_its_hours(stated: str, use: str, hours: list[int]) -> None:
    """240 Wh in equal parts: evening 17 to 22 h, night 22 to 7 h, by day between; not said, all day."""
    facts = dc_facts(QUIET, f"components: {{lamp: {{hours_per_day: 5 h, {stated}}}}}", use or "{}")
    with facts.recording() as frame:
        lamp, pump = loads_by_hour(facts.whole, None, most=False)
    expected = [240 * WH / len(hours) if hour in hours else 0.0 for hour in range(24)]
    assert lamp.name == "lamp"
    assert list(lamp.hours) == pytest.approx(expected)
    assert not any(pump.hours)
    (said,) = (one for one in frame.assumptions if one.startswith("loads not said to run"))
    assert said.endswith("evenly over 24 h; evening is 17 to 22 h, night 22 to 7 h")


def test_a_mains_appliance_in_the_evening() -> None:
    """What hangs on the inverter runs as it is said, too."""
    facts = dc_facts(
        QUIET,
        """
        use: {evening_loads: [kettle]}
        components:
          inverter: {kind: inverter, efficiency: 75 %, idle_power: 0 W, hours_per_day: 0 h}
          kettle: {kind: mains-appliance, mains_power: 900 W, mains_hours_per_day: 20 min}
        runs:
          up: {medium: dc, from: battery/positive, to: inverter/positive, return: ground}
          out: {medium: ac, from: inverter/ac-out, to: kettle}
        """,
    )
    kettle = next(one for one in loads_by_hour(facts.whole, None, most=False) if one.name == "kettle")
    assert kettle.hours[16:23] == pytest.approx((0.0, *[300 / 0.75 / 5 * WH] * 5, 0.0))


def test_what_is_absent_is_named_for_every_load() -> None:
    """Nothing is guessed, and no load hides another."""
    with pytest.raises(Missing) as absent:
        loads_by_hour(dc_facts().whole, None, most=False)
    assert absent.value.fields == ("lamp.hours_per_day", "pump.hours_per_day")


@pytest.mark.parametrize(
    ("inside", "setting", "rated", "factor"),
    [(15, 5, 25, 0.5), (35, 5, 25, 1.5), (5, 5, 25, 0), (0, 5, 25, 0), (20, 5, 5, 1), (20, 10, 5, 1)],
)
def test_a_fridge_by_its_air(inside: float, setting: float, rated: float, factor: float) -> None:
    """(air − setting) / (rated − setting), never below nothing; 1 where it is rated no warmer than set."""
    assert fridge_factor(inside, setting, rated) == pytest.approx(factor)


def cool(stated: str, place: str, use: str = "") -> tuple[Facts, Standing]:
    facts = dc_facts(
        QUIET,
        f"components: {{lamp: {{kind: fridge, load: ~, daily_energy: 400 Wh, {stated}}}}}",
        f"use: {{places: [{{latitude: 50°, months: [7]{place}}}]{use}}}",
    )
    return facts, standings(facts)[0]


FRIDGES = [
    # what the fridge states, the place, the use, factors at the better and at the worse end
    ("rated_ambient: 25 °C, setting: 5 °C", ", day_temperature: 30 °C", "", 1.25, 1.25),
    ("rated_ambient: 25 °C, setting: 5 °C", ", day_temperature: 20 °C", "", 0.75, 1.0),
    ("rated_ambient: 25 °C", ", day_temperature: 20 °C", "", 0.75, 1.0),  # set to 5 °C
    ("rated_ambient: 25 °C, setting: -15 °C", ", day_temperature: 20 °C", "", 35 / 40, 1.0),
    ("rated_ambient: 25 °C", ", day_temperature: -10 °C", "", 13 / 20, 1.0),  # 18 °C inside
    ("rated_ambient: 25 °C", ", day_temperature: -10 °C", ", inside_temperature: 15 °C", 0.5, 1.0),
    ("rated_ambient: 25 °C", ", day_temperature: 17 °C", ", inside_temperature: 15 °C", 0.6, 1.0),
    ("rated_ambient: 25 °C", "", "", 1.0, 1.0),
    ("", ", day_temperature: 30 °C", "", 1.0, 1.0),
]


@pytest.mark.parametrize(("stated", "place", "use", "better", "worse"), FRIDGES)
def test_a_fridge_in_its_place(stated: str, place: str, use: str, better: float, worse: float) -> None:
    """400 Wh × the factor; cooler air than its maker's helps at the better end only, warmer counts at both."""
    facts, standing = cool(stated, place, use)
    for most, factor in ((True, better), (False, worse)):
        with facts.recording() as frame:
            fridge = loads_by_hour(facts.whole, standing, most=most)[0]
        assert sum(fridge.hours) == pytest.approx(400 * factor * WH)
        told = "energy in proportion" if stated and place else "its stated energy taken at every temperature"
        assert sum(one.startswith(f"lamp: {told}") for one in frame.assumptions) == 1


def test_a_lamp_asks_nothing_of_the_air() -> None:
    """Only fridges follow it, and only of these is it said."""
    facts = dc_facts("components: {lamp: {hours_per_day: 5 h}, pump: {hours_per_day: 1 h}}")
    with facts.recording() as frame:
        loads_by_hour(facts.whole, None, most=True)
    assert not any("temperature" in one for one in frame.assumptions)


def test_the_sum_of_loads() -> None:
    """Hour by hour; of none it is nothing, in 24 hours."""
    ramp, flat = tuple(map(float, range(24))), (2.0,) * 24
    assert total([Load("a", ramp), Load("b", flat)]) == tuple(hour + 2.0 for hour in range(24))
    assert total([]) == (0.0,) * 24


@pytest.mark.parametrize(
    "sums",
    [
        lambda: total([Load("a", (1.0,)), Load("b", (1.0, 2.0))]),
        lambda: let_in([(1.0,), (1.0, 2.0)], (True,)),
        lambda: let_in([(1.0, 2.0)], (True,)),
    ],
)
def test_hours_that_do_not_match_are_never_added(sums: Callable[[], object]) -> None:
    """A day of fewer hours is a fault of whoever asks, not a smaller sum."""
    with pytest.raises(ValueError, match="zip"):
        sums()


SUNNY = """
use: {{places: [{{latitude: 45°, months: [{month}]{place}}}]}}
components: {{panel: {{kind: solar-panel, peak_power: 100 W, power_coefficient: 0 %/K, shade: 0 %, tilt: 0°}}}}
"""
CLEARNESS = [
    # month, mean, poor week, what else is said of the place, the rest of the month by hand
    (1, 40, 20, "", (31 * 0.40 - 7 * 0.20) / 24),
    (2, 40, 20, "", (28 * 0.40 - 7 * 0.20) / 21),
    (4, 40, 20, "", (30 * 0.40 - 7 * 0.20) / 23),
    (12, 40, 20, "", (31 * 0.40 - 7 * 0.20) / 24),
    (7, 70, 10, "", 0.75),  # no clearer than a cloudless day: FAO-56 eq. 37
    (7, 70, 10, ", altitude: 1000 m", 0.77),
    (7, 79, 78, ", altitude: 1000 m", 0.79),  # as clear as stated, all the same
    (7, 10, 70, "", 0.0),
]


@pytest.mark.parametrize(("month", "mean", "poor", "place", "rest"), CLEARNESS)
def test_the_rest_of_a_month(month: int, mean: int, poor: int, place: str, rest: float) -> None:
    """With seven poor days its mean is the stated one: what a level panel gives is in proportion."""
    stated = f", clearness: {mean} %, poor_week_clearness: {poor} %{place}"
    facts = dc_facts(SUNNY.format(month=month, place=stated))
    standing = standings(facts)[0]
    of = {one: sum(sun_of_day(facts.whole, standing, one)) for one in Weather}
    assert of[Weather.none] == 0 < of[Weather.mean]
    assert of[Weather.poor] / of[Weather.mean] == pytest.approx(poor / mean)
    assert of[Weather.rest] / of[Weather.mean] == pytest.approx(rest / (mean / 100))


def test_sun_that_is_not_known() -> None:
    """Without a place, or without its clearness; without panels nothing is asked."""
    assert sun_of_day(dc_facts().whole, None, Weather.mean) == (0.0,) * 24
    facts = dc_facts(SUNNY.format(month=1, place=""))
    assert sun_of_day(facts.whole, None, Weather.none) == (0.0,) * 24
    for standing, weather, field in (
        (None, Weather.mean, "use.places"),
        (standings(facts)[0], Weather.mean, "use.places[0].clearness"),
        (standings(facts)[0], Weather.poor, "use.places[0].poor_week_clearness"),
        (standings(facts)[0], Weather.rest, "use.places[0].clearness"),
    ):
        with pytest.raises(Missing) as absent:
            sun_of_day(facts.whole, standing, weather)
        assert absent.value.fields == (field,)
    only_poor = dc_facts(SUNNY.format(month=1, place=", poor_week_clearness: 20 %"))
    assert sum(sun_of_day(only_poor.whole, standings(only_poor)[0], Weather.poor)) > 0


DRIVEN = """
use: {driving_per_day: %s}
components:
  alternator: {kind: alternator, rated_current: 100 A, present_draw: 40 A, charging_voltage: 14 V}
  charger: {kind: dc-charger, output_current: 30 A, efficiency: 80 %%}
runs:
  in: {medium: dc, from: alternator/positive, to: charger/input, return: chassis}
  out: {medium: dc, from: charger/output, to: box/feed, return: ground}
"""


@pytest.mark.parametrize(
    ("time", "hours"),
    [
        ("0 h", {}),
        ("15 min", {10: 0.25}),
        ("1 h", {10: 1}),
        ("2.5 h", {10: 1, 11: 1, 12: 0.5}),
        ("14 h", dict.fromkeys(range(10, 24), 1)),
    ],
)
def test_driving_from_ten_on(time: str, hours: dict[int, float]) -> None:
    """30 A at 12 V in the hours driven; said where there are any."""
    facts = dc_facts(DRIVEN % time)
    with facts.recording() as frame:
        found = driving_of_day(facts.whole)
    assert found == pytest.approx([360 * WH * hours.get(hour, 0) for hour in range(24)])
    assert ("driven every day of a trip, from 10 h on" in frame.assumptions) is bool(hours)


def test_standing_still_asks_nothing_of_the_alternator() -> None:
    """No charger needs to be known where nobody drives."""
    facts = dc_facts("use: {driving_per_day: 0 h}\ncomponents: {battery: {role: starter}}")
    assert driving_of_day(facts.whole) == (0.0,) * 24


def test_hooked_up_from_evening_to_morning() -> None:
    """20 A at 12 V from 18 h to 8 h."""
    facts = dc_facts(
        """
        components: {shore: {kind: shore-charger, charge_current: 20 A}}
        runs: {one: {medium: dc, from: shore/positive, to: box/feed, return: chassis}}
        """
    )
    with facts.recording() as frame:
        found = shore_of_day(facts.whole)
    assert found == pytest.approx([240 * WH] * 8 + [0] * 10 + [240 * WH] * 6)
    assert any(said.startswith("hooked up from 18 h to 8 h") for said in frame.assumptions)


COLD = """
components: {{battery: {{chemistry: lithium iron phosphate, least_charging_temperature: 0 °C, kept_above: -40 °C}}}}
use: {{places: [{{latitude: {latitude}°, months: [10]{place}}}]}}
"""
LIGHT, DARK = range(6, 18), (*range(6), *range(18, 24))
"""Sunrise at 6 h and sunset at 18 h at the equator."""
WARM = [
    # latitude, night and day, hours in which it may be charged at the better and at the worse end
    (0, -5, 5, LIGHT, LIGHT),
    (0, -5, -5, (), ()),
    (0, 5, 5, range(24), range(24)),
    (0, 5, -5, DARK, DARK),
    # half a day in October at 38.49° N by FAO-56 eq. 24, 25: declination 0.409 sin(2π 288 / 365 − 1.39) =
    # −0.1691, acos(tan 38.49° × tan 0.1691) = 1.4347 = 5.48 h: sunrise 6.52 h, after the middle of the hour
    (38.49, -5, 5, range(7, 17), range(7, 17)),
    (37.30, -5, 5, range(6, 18), range(6, 18)),  # likewise 5.502 h
    (0, -5, None, range(24), ()),
    (0, 5, None, range(24), range(24)),
]  # fmt: skip


@pytest.mark.parametrize(("latitude", "night", "day", "better", "worse"), WARM)
def test_hours_in_which_a_battery_may_be_charged(
    latitude: float, night: int, day: int | None, better: list[int], worse: list[int]
) -> None:
    """As cold as by night from sunset to sunrise; without a temperature by day the ends differ."""
    stated = f", night_temperature: {night} °C" + ("" if day is None else f", day_temperature: {day} °C")
    facts = dc_facts(COLD.format(latitude=latitude, place=stated))
    for most, hours in ((True, better), (False, worse)):
        with facts.recording() as frame:
            found = chargeable(facts.whole, standings(facts)[0], most=most)
        assert [hour for hour in range(24) if found[hour]] == sorted(hours)
        assert len(found) == 24
        told = "at the worse end all day as by night" if day is None else "from sunset to sunrise"
        assert any(told in said for said in frame.assumptions)


@pytest.mark.parametrize("place", [None, "", ", day_temperature: -20 °C"])
def test_without_a_temperature_by_night_cold_is_not_counted(place: str | None) -> None:
    """And that is said, with or without a place."""
    facts = dc_facts(COLD.format(latitude=0, place=place or ""))
    with facts.recording() as frame:
        found = chargeable(facts.whole, None if place is None else standings(facts)[0], most=False)
    assert found == (True,) * 24
    (said,) = frame.assumptions
    assert said == "whether batteries are too cold for charging is not counted: no temperature is stated"


def test_what_is_let_in() -> None:
    """The sum of all sources, in hours in which the battery may be charged."""
    assert let_in([(1.0, 2.0, 3.0), (10.0, 20.0, 30.0)], (True, False, True)) == (11.0, 0.0, 33.0)


def test_where_the_energy_goes() -> None:
    """The greatest first, what is alike by name, what takes nothing not at all; by its title."""
    facts = dc_facts(
        """
        components:
          lamp: {hours_per_day: 1 h, title: Work light}
          pump: {hours_per_day: 2 h}
          zone: {kind: dc-appliance, power: 48 W, hours_per_day: 1 h}
          asleep: {kind: dc-appliance, power: 48 W, hours_per_day: 0 h}
        runs:
          z: {medium: dc, from: battery/positive, to: zone, return: ground}
          s: {medium: dc, from: battery/positive, to: asleep, return: ground}
        """
    )
    found = [(share.load, share.energy / WH) for share in facts.whole.daily_energy_by_load]
    assert found == [
        ("pump", pytest.approx(144)),
        ("Work light", pytest.approx(48)),
        ("zone", pytest.approx(48)),
    ]
