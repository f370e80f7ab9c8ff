"""What panels give the battery: peak power × radiation × what is kept, by hand from FAO-56's radiation."""

import csv
from math import acos, radians, tan
from pathlib import Path

import pytest
from dc_van import dc_facts

from specreg.facts.engine import Subject
from specreg.facts.irradiation import panel_by_hour
from specreg.facts.missing import Missing
from specreg.facts.sun import (
    cell_temperature,
    heat_factor,
    monthly_radiation,
    standings,
    sun_hours_of,
)

PUBLISHED = Path(__file__).parents[1] / "published"
WH = 3600.0
MONTH_DAYS = {"1": 31, "2": 28, "4": 30, "7": 31, "12": 31}

SUN = """
use: {places: [{latitude: 50°, months: [1, 2, 4, 7, 12], clearness: 50 %}]}
components:
  panel: {kind: solar-panel, peak_power: 100 W, power_coefficient: -0.4 %/K, shade: 10 %, tilt: 0°, peak_voltage: 18 V}
  sun: {kind: solar-controller, type: mppt, rated_current: 30 A, battery_voltage: 12 V, efficiency: 90 %}
runs:
  in: {medium: dc, from: panel, to: sun/panel, return: same cable}
  out: {medium: dc, from: sun/battery, to: box/feed, return: ground}
"""


def panel(more: str = "{}", month: str = "7", *others: str) -> Subject:
    return dc_facts(SUN, more, *others).subject("panel", month)


def with_panel(stated: str) -> str:
    return f"components: {{panel: {{{stated}}}}}"


JULY = 0.5 * 40.2e6 / 3.6e6
"""kWh/m² on level ground: half of FAO-56 table 2.6's 40.2 MJ/m² above 50° N in the middle of July."""


def test_days_in_the_middle_of_months() -> None:
    """As FAO-56 table 2.6 takes them."""
    with (PUBLISHED / "fao56-extraterrestrial-radiation.csv").open(encoding="utf-8") as file:
        printed = {int(row["month"]): int(row["J"]) for row in csv.DictReader(file)}
    facts = dc_facts(f"use: {{places: [{{latitude: 50°, months: {list(printed)}}}]}}")
    assert {one.month: one.day for one in standings(facts)} == printed


def test_a_month_on_level_ground() -> None:
    """Clearness × what stands in FAO-56 table 2.6: 40.2 MJ/m² in July at 50° N, 8.9 in January."""
    assert monthly_radiation(radians(50), 7, 0.5) / 3.6e6 == pytest.approx(JULY, rel=0.005)
    assert monthly_radiation(radians(50), 1, 0.4) / 1e6 == pytest.approx(0.4 * 8.9, rel=0.005)


YIELDS = [
    # over the panel, over the controller, Wh of a 100 W panel in July by hand; cells at 45 °C: 1 − 0.004 × 20 K
    ("", "", 100 * JULY * 0.9 * 0.97 * 0.9 * 0.92),
    ("count: 3", "", 300 * JULY * 0.9 * 0.97 * 0.9 * 0.92),
    ("shade: 0 %", "", 100 * JULY * 0.97 * 0.9 * 0.92),
    ("power_coefficient: 0 %/K", "", 100 * JULY * 0.9 * 0.97 * 0.9),
    ("", "efficiency: ~", 100 * JULY * 0.9 * 0.97 * 0.95 * 0.92),
    ("", "type: pwm", 100 * JULY * 0.9 * 0.97 * 0.9 * 0.92 * 12 / 18),
    ("count: 2, in_series: 2", "type: pwm", 200 * JULY * 0.9 * 0.97 * 0.9 * 0.92 * 12 / 36),
    ("peak_voltage: 10 V", "type: pwm", 100 * JULY * 0.9 * 0.97 * 0.9 * 0.92),  # it gives no more than all
    ("faces: 90°", "", 100 * JULY * 0.9 * 0.97 * 0.9 * 0.92),  # level, whichever way
]


@pytest.mark.parametrize(("stated", "controller", "wh"), YIELDS)
def test_a_day_of_a_level_panel(stated: str, controller: str, wh: float) -> None:
    """Watt peak × kWh/m² × what shade, wiring, controller and heat leave; where no air is said, at 45 °C."""
    found = panel(f"components: {{panel: {{{stated}}}, sun: {{{controller}}}}}")
    with found.van.recording() as frame:
        assert found.daily_solar_yield / WH == pytest.approx(wh, rel=0.005)
    said = set(frame.assumptions)
    assert "solar cells at work taken at 45 °C (common practice, no source)" in said
    assert "solar wiring taken to hand on 97% (common practice, no source)" in said
    unsaid = "solar controller taken at 95% (common practice, no source)" in said
    assert unsaid is (controller == "efficiency: ~")
    assert not any("level" in one or "reflect" in one for one in said)
    assert found.van.whole.in_case("7").daily_sun == pytest.approx(found.daily_solar_yield)


def test_a_panel_on_no_controller_counts_as_on_a_usual_one() -> None:
    """And nothing bounds it."""
    found = panel("runs: {in: ~}")
    assert found.daily_solar_yield / WH == pytest.approx(100 * JULY * 0.9 * 0.97 * 0.95 * 0.92, rel=0.005)
    assert found.van.whole.in_case("7").daily_sun == pytest.approx(found.daily_solar_yield)


def test_a_controller_beside_a_panel_on_the_battery_is_not_its_own() -> None:
    """The panel hangs on the bus to which the controller gives: the controller neither bounds nor lessens it."""
    found = panel("components: {sun: {rated_current: 1 A, efficiency: 50 %}}\nruns: {in: {to: box/feed}}")
    assert found.daily_solar_yield / WH == pytest.approx(100 * JULY * 0.9 * 0.97 * 0.95 * 0.92, rel=0.005)


def test_a_controller_that_only_switches_is_asked_for_the_panels_voltage() -> None:
    """0 V is a slip of the pen."""
    with pytest.raises(Missing) as absent:
        _ = panel("components: {panel: {peak_voltage: 0 V}, sun: {type: pwm}}").daily_solar_yield
    assert absent.value.fields == ("panel.peak_voltage",)


@pytest.mark.parametrize("month", sorted(MONTH_DAYS))
def test_a_month_has_its_days(month: str) -> None:
    """28 to 31 times the mean day."""
    found = panel(month=month)
    assert found.monthly_solar_yield == pytest.approx(MONTH_DAYS[month] * found.daily_solar_yield)


AIR = "use: {places: [{latitude: 50°, months: [7], clearness: 50 %, day_temperature: 25 °C}]}"


@pytest.mark.parametrize(
    ("stated", "rise", "assumed"), [("nominal_cell_temperature: 47 °C", 27, False), ("", 25, True)]
)
def test_cells_grow_warm_in_the_sun(stated: str, rise: int, assumed: bool) -> None:
    """At 800 W/m² and 20 °C they are so much warmer than the air, in proportion to the sun of each hour."""
    found = panel(AIR, "7", with_panel(stated))
    # in an hour of G W/m² a cell is 25 °C + rise × G / 800 warm: 1 − 0.004 × rise × G / 800 of its power is left
    falling = [joules / 3600 for joules in panel_by_hour(radians(50), 196, 0.5)]
    watts = [100 * g / 1000 * (1 - 0.004 * rise * g / 800) * 0.9 * 0.97 * 0.9 for g in falling]
    with found.van.recording() as frame:
        assert found.van.whole.in_case("7").sun_by_hour == pytest.approx([one * WH for one in watts])
    told = "panel: cells taken at 45 °C at 800 W/m² and 20 °C (common practice)"
    assert (told in frame.assumptions) is assumed


@pytest.mark.parametrize(
    ("air", "sun", "nominal", "cell"),
    [(300.0, 0, 320.0, 300.0), (300.0, 800, 320.0, 326.85), (280.0, 400, 313.15, 290.0)],
)
def test_temperature_of_a_cell(air: float, sun: float, nominal: float, cell: float) -> None:
    """Air + (nominal − 20 °C) × G / 800 W/m²."""
    assert cell_temperature(air, sun, nominal) == pytest.approx(cell)


@pytest.mark.parametrize(
    ("celsius", "coefficient", "factor"),
    [(25, -0.004, 1), (50, -0.004, 0.9), (0, -0.004, 1.1), (300, -0.004, 0)],
)
def test_power_of_a_warm_cell(celsius: float, coefficient: float, factor: float) -> None:
    """1 + coefficient × (cell − 25 °C), never below nothing."""
    assert heat_factor(coefficient, celsius + 273.15) == pytest.approx(factor)


ATTITUDES = [
    # what is said, tilt and bearing that are counted, what is told
    ("tilt: ~", 0, 0, "panel: counted as level, for the spec does not say its tilt"),
    ("tilt: ~, faces: 180°", 0, 0, "panel: counted as level, for the spec does not say its tilt"),
    ("tilt: 30°", 0, 0, "panel: counted as level, for the spec does not say which way it faces when tilted"),
    (
        "tilt: 30°, faces: 180°",
        30,
        180,
        "ground in front of tilted panels taken to reflect 20% (from memory)",
    ),
    ("tilt: 30°, faces: 0°", 30, 0, "ground in front of tilted panels taken to reflect 20% (from memory)"),
]


@pytest.mark.parametrize(("stated", "tilt", "faces", "told"), ATTITUDES)
def test_tilt_and_bearing(stated: str, tilt: int, faces: int, told: str) -> None:
    """Both are needed for a tilted panel; one without is level, and it is said."""
    found = panel(with_panel(stated))
    falling = sum(panel_by_hour(radians(50), 196, 0.5, radians(tilt), radians(faces))) / 3.6e6
    with found.van.recording() as frame:
        assert found.daily_solar_yield / WH == pytest.approx(100 * falling * 0.9 * 0.97 * 0.9 * 0.92)
    assert [one for one in frame.assumptions if "level" in one or "reflect" in one] == [told]


SECOND_PANEL = """
components: {panel-2: {kind: solar-panel, peak_power: 100 W, power_coefficient: -0.4 %/K, shade: 10 %, tilt: 0°}}
runs: {in-2: {medium: dc, from: panel-2, to: sun/panel, return: same cable}}
"""
SECOND_CONTROLLER = """
components: {sun-2: {kind: solar-controller, type: mppt, rated_current: 2 A, battery_voltage: 12 V, efficiency: 90 %}}
runs:
  in-2: {to: sun-2/panel}
  out-2: {medium: dc, from: sun-2/battery, to: box/feed, return: ground}
"""


def bounded(hours: tuple[float, ...], watts: float) -> list[float]:
    return [min(hour, watts * WH) for hour in hours]


def test_a_controller_bounds_what_its_panels_give_together() -> None:
    """Each hour by itself; a second controller lets through its own."""
    one = panel().van.whole.in_case("7").sun_by_hour
    two = tuple(2 * hour for hour in one)
    assert max(one) / WH > 36  # the bounds below, of 36 and 24 W, do bind at noon

    def given(*over: str) -> object:
        return pytest.approx(dc_facts(SUN, *over).whole.in_case("7").sun_by_hour)

    small = "components: {sun: {rated_current: 3 A}}"
    assert bounded(one, 36) == given(small)
    assert list(two) == given(SECOND_PANEL)
    assert bounded(two, 36) == given(small, SECOND_PANEL)
    assert [a + b for a, b in zip(bounded(one, 36), bounded(one, 24), strict=True)] == given(
        small, SECOND_PANEL, SECOND_CONTROLLER
    )


@pytest.mark.parametrize("field", ["rated_current", "battery_voltage"])
def test_a_controller_without_ratings_bounds_nothing_and_it_is_said(field: str) -> None:
    """One of both is not enough."""
    facts = dc_facts(SUN, "components: {sun: {rated_current: 1 A}}", f"components: {{sun: {{{field}: ~}}}}")
    with facts.recording() as frame:
        found = facts.whole.in_case("7").sun_by_hour
    assert found == pytest.approx(panel().van.whole.in_case("7").sun_by_hour)
    assert "sun: its rated current or voltage is not stated and bounds nothing" in frame.assumptions


def test_a_van_without_panels_has_no_sun() -> None:
    """And is not asked for a place."""
    facts = dc_facts()
    assert facts.whole.in_case("7").sun_by_hour == (0.0,) * 24
    assert facts.whole.in_case("7").daily_sun == 0
    places = dc_facts("use: {places: [{latitude: 50°, months: [7], clearness: 50 %}]}")
    assert sun_hours_of(places.whole, standings(places)[0], 0.5) == (0.0,) * 24


PLACES = """
use:
  places:
    - {latitude: 50°, months: [7, 1], clearness: 50 %}
    - {latitude: 44°, months: [1], clearness: 40 %}
    - {latitude: 60°, months: [7], clearness: 45 %, poor_week_clearness: 20 %}
"""


def test_months_and_their_places() -> None:
    """By month, then in the order of the spec; of one month only its own; none is asked for."""
    facts = dc_facts(PLACES)
    assert [(one.month, one.index) for one in standings(facts)] == [(1, 0), (1, 1), (7, 0), (7, 2)]
    assert [(one.month, one.index) for one in standings(facts, 7)] == [(7, 0), (7, 2)]
    assert [one.day for one in standings(facts, 7)] == [196, 196]
    with pytest.raises(Missing) as absent:
        standings(facts, 2)
    assert absent.value.fields == ("use.places",)
    there = standings(facts)[3]
    assert (there.clearness(poor=False), there.clearness(poor=True)) == (0.45, 0.20)
    with pytest.raises(Missing) as absent:
        standings(facts)[1].clearness(poor=True)
    assert absent.value.fields == ("use.places[1].poor_week_clearness",)


@pytest.mark.parametrize(
    ("month", "radiation"),
    [
        # the least of the places of the month: clearness × FAO-56 table 2.6
        ("7", min(0.50 * 40.2, 0.45 * 39.2)),
        ("1", min(0.50 * 8.9, 0.40 * 12.5)),
    ],
)
def test_the_least_sunny_place_of_a_month(month: str, radiation: float) -> None:
    """For the panel, for the van and hour by hour."""
    found = panel(PLACES, month)
    expected = 100 * radiation / 3.6 * 0.9 * 0.97 * 0.9 * 0.92
    assert found.daily_solar_yield / WH == pytest.approx(expected, rel=0.01)
    whole = found.van.whole.in_case(month)
    assert (whole.daily_sun / WH, sum(whole.sun_by_hour) / WH) == pytest.approx(
        (expected, expected), rel=0.01
    )


@pytest.mark.parametrize(
    ("month", "latitude", "north"),
    # FAO-56 eq. 24 and 34: declination 0.409 sin(2π J / 365 − 1.39), 24 h / π × acos(−tan φ tan δ)
    [("7", 50, 0.409 * 0.915845), ("1", 50, 0.409 * -0.905173)],
)
def test_daylight_where_it_is_least(month: str, latitude: int, north: float) -> None:
    """In July at the southern of both places, in January at the northern."""
    hours = 24 / 3.14159265 * acos(-tan(radians(latitude)) * tan(north))
    assert dc_facts(PLACES).whole.in_case(month).daylight / 3600 == pytest.approx(hours, abs=1e-4)


def test_a_panel_through_a_combiner_and_a_switch_finds_its_controller() -> None:
    """Behind fuse and contact it is the same controller, whose 1 A bounds it."""
    between = """
    components:
      sun: {rated_current: 1 A}
      gather: {kind: solar-combiner, ways: {1: {fuse: 15 A}}}
      switch: {kind: solar-disconnect, poles: 2}
    runs:
      in: {to: gather/1}
      on: {medium: dc, from: gather/out, to: switch/panel, return: same cable}
      off: {medium: dc, from: switch/controller, to: sun/panel, return: same cable}
    """
    whole = dc_facts(SUN, between).whole.in_case("7")
    assert max(whole.sun_by_hour) / WH == pytest.approx(12)
