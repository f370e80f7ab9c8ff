"""Nights, trip and year on one small van: order of weathers and ends, charging, cold, profile, what is asked."""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import pytest
from building import build
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg import workshop
from specreg.facts import energy_year, nights, state_of_charge
from specreg.facts.axes import cases
from specreg.facts.engine import Fact, Facts
from specreg.facts.missing import Missing
from specreg.facts.registry import kinds_for
from specreg.facts.state_of_charge import Course, Store, course
from specreg.facts.sun import standings
from specreg.rules.judge import judge
from specreg.rules.pack import load_pack

ROOT = Path(__file__).parents[2]
DEMOS = {b.header.build: b for b in workshop.load(ROOT / "builds").sound}

VAN = """
use:
  nights_off_grid: 4
  shore_nights: {shore}
  driving_per_day: {drive}
  reserve: 20 %
  evening_loads: [{evening}]
  places:
    - {{latitude: 52 deg, months: [3, 4, 10], clearness: {clear} %, poor_week_clearness: 20 %, night_temperature: {night} °C{day}}}
components:
  battery: {{kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12.8 V, capacity: {ah} Ah, usable: 80 %, charge_current: 100 A, discharge_current: 100 A, least_charging_temperature: 0 °C{battery}}}
  starter: {{kind: battery, role: starter, chemistry: agm, nominal_voltage: 12 V, capacity: 70 Ah}}
  alternator: {{kind: alternator, nominal_voltage: 12 V, rated_current: 150 A, present_draw: {draw} A, charging_voltage: 14.4 V}}
  charger: {{kind: dc-charger, input_voltage: 12 V, output_voltage: 12 V, output_current: 30 A, efficiency: 90 %}}
  shore: {{kind: shore-charger, charge_current: 20 A, output_voltage: 12 V}}
  inlet: {{kind: shore-inlet, rated_current: 16 A}}
  panels: {{kind: solar-panel, count: 2, peak_power: {watt} W, power_coefficient: -0.35 %/K, nominal_cell_temperature: 45 °C, shade: 0 %, tilt: {tilt}, peak_voltage: 18 V}}
  controller: {{kind: solar-controller, type: {type}, rated_current: {limit} A, battery_voltage: 12 V, efficiency: 96 %}}
  box: {{kind: fuse-box, ways: {{a: {{fuse: 10 A}}, b: {{fuse: 10 A}}}}}}
  light: {{kind: ceiling-light, power: {load} W, hours_per_day: 5 h}}
  fridge: {{kind: fridge, power: 50 W, daily_energy: 400 Wh, rated_ambient: 25 °C, setting: 5 °C}}
runs:
  plus: {{medium: dc, from: battery/positive, to: box/feed, return: minus, conductor: 16 mm²}}
  minus: {{medium: dc, from: battery/negative, to: box/feed, conductor: 16 mm²}}
  a: {{medium: dc, from: box/a, to: light, return: same cable, conductor: 1.5 mm²}}
  b: {{medium: dc, from: box/b, to: fridge, return: same cable, conductor: 2.5 mm²}}
  sun-in: {{medium: dc, from: panels, to: controller/panel, return: same cable, conductor: 4 mm²}}
  sun-out: {{medium: dc, from: controller/battery, to: box/feed, return: same cable, conductor: 6 mm²}}
  engine: {{medium: dc, from: alternator/positive, to: starter/positive, return: chassis, conductor: 25 mm²}}
  engine-charge: {{medium: dc, from: starter/positive, to: charger/input, return: chassis, conductor: 10 mm²}}
  charge: {{medium: dc, from: charger/output, to: box/feed, return: same cable, conductor: 6 mm²}}
  mains: {{medium: ac, from: inlet, to: shore/mains}}
  shore-plus: {{medium: dc, from: shore/positive, to: battery/positive, return: shore-minus, conductor: 6 mm²}}
  shore-minus: {{medium: dc, from: shore/negative, to: battery/negative, conductor: 6 mm²}}
"""
USUAL = {
    "shore": "1", "drive": "1 h", "evening": "", "clear": "40", "night": "5", "day": ", day_temperature: 12 °C",
    "ah": "100", "battery": "", "draw": "60", "watt": "100", "tilt": "0°", "type": "mppt", "limit": "30",
    "load": "20",
}  # fmt: skip


@cache
def _van(changes: frozenset[tuple[str, str]]) -> Facts:
    return Facts(build(VAN.format(**USUAL | dict(changes))))


def van(**changes: str) -> Facts:
    return _van(frozenset(changes.items()))


NIGHTS = tuple(
    f"{end}_nights_{weather}"
    for end in ("least", "most")
    for weather in ("without_sun", "in_a_poor_week", "with_mean_sun")
)


@pytest.mark.parametrize("name", ["fieldwork", "winter-tourer", "pocket", "the small van"])
def test_order_of_nights(name: str) -> None:
    """No sun, a poor week and mean sun are in this order; the worse end is never the longer; all in halves."""
    whole = (Facts(DEMOS[name]) if name in DEMOS else van()).whole
    found = [getattr(whole, fact) for fact in NIGHTS]
    assert found[:3] == sorted(found[:3]) and found[3:] == sorted(found[3:])
    assert all(least <= most for least, most in zip(found[:3], found[3:], strict=True))
    assert all(0 < one * 2 == int(one * 2) <= 2 * nights.NIGHTS for one in found)


@pytest.mark.parametrize("name", sorted(DEMOS))
def test_without_sun_it_is_nearly_the_division(name: str) -> None:
    """Hour by hour from the evening and usable energy / daily use differ by at most a night."""
    whole = Facts(DEMOS[name]).whole
    assert whole.least_nights_without_sun == pytest.approx(whole.least_days_without_charge, abs=1.0)


STILL = """
use: {{evening_loads: [{evening}]}}
components:
  battery: {{kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12 V, capacity: 100 Ah, usable: 80 %}}
  lamp: {{kind: dc-appliance, supply_voltage: 12 V, power: {watt} W, hours_per_day: {hours} h}}
runs:
  feed: {{medium: dc, from: battery/positive, to: lamp, return: back}}
  back: {{medium: dc, from: battery/negative, to: lamp}}
"""


@pytest.mark.parametrize(
    ("watt", "hours", "evening", "most", "least"),
    [
        (10, 24, "", 4.0, 3.0),  # 960 Wh: 96 h; worn 768 Wh: 76.8 h
        (40, 24, "", 1.0, 0.5),  # 24 h; 19.2 h
        (41, 24, "", 1.0, 0.5),  # 23.4 h, which end with the 24th; 18.7 h
        (44, 24, "", 0.5, 0.5),  # 21.8 h; 17.5 h
        (0.6, 24, "", 60.0, 53.0),  # 66.7 days; worn 1280 h are 53.3
        (0.1, 24, "", 60.0, 60.0),
        # 240 Wh an hour from 17 to 22 h: four hours of the first evening take 960 Wh
        (240, 5, "lamp", 0.0, 0.0),
        # 230 Wh an hour: 920 Wh on the first evening, the rest from 17 h of the next day on, 24 hours later
        (230, 5, "lamp", 1.0, 0.0),
    ],
)
def test_nights_without_sun_by_hand(watt: float, hours: int, evening: str, most: float, least: float) -> None:
    """From a full battery at 18 h until the hour that ends at the reserve; down to halves; 60 is the longest."""
    whole = Facts(build(STILL.format(watt=watt, hours=hours, evening=evening))).whole
    assert (whole.most_nights_without_sun, whole.least_nights_without_sun) == (most, least)
    assert whole.least_nights_in_a_poor_week == least  # a van without panels has no other nights
    assert whole.most_nights_with_mean_sun == most


def test_a_worn_bank() -> None:
    """1200 Wh of which a fifth is kept; 80 % of both when worn, and only then it is said."""
    whole = Facts(build(STILL.format(watt=10, hours=24, evening=""))).whole
    for most, share in ((True, 1.0), (False, 0.8)):
        with whole.van.recording() as frame:
            found = nights.aged_bank(whole, most=most)
        assert (found.full, found.reserve) == pytest.approx((share * 1200 * 3600, share * 240 * 3600))
        said = "worn battery taken at 80 % of its capacity (common practice, no source)"
        assert (said in frame.assumptions) is not most
        assert nights.RANGE in frame.assumptions and nights.NOT_MODELLED in frame.assumptions


PANEL = "components: {panel: {kind: solar-panel}}"
PLACE = "use: {places: [{latitude: 50°, months: [2, 1]}]}"


@pytest.mark.parametrize(
    ("panel", "place", "months"),
    [("{}", "{}", None), ("{}", PLACE, [1, 2]), (PANEL, PLACE, [1, 2]), (PANEL, "{}", "use.places")],
)
def test_months_that_are_looked_at(panel: str, place: str, months: list[int] | str | None) -> None:
    """Those of the places; a van without panels needs none, one with panels is asked for one."""
    facts = dc_facts(panel, place)
    if isinstance(months, str):
        with pytest.raises(Missing) as absent:
            nights.places_of(facts)
        assert absent.value.fields == (months,)
        return
    found = [None if standing is None else standing.month for standing in nights.places_of(facts)]
    assert found == ([None] if months is None else months)


def test_the_fewest_nights_count() -> None:
    """Of several places and months; one that never ends counts as 60."""
    ending = [Course((300.0,) * hours + (200.0,), 0.0, 0.0, 0.0, 0.0, 0.0) for hours in (47, 35, 59)]
    endless = Course((300.0,) * 99, 0.0, 0.0, 0.0, 0.0, 0.0)
    assert nights.least_nights([*ending, endless], 200.0) == 1.5
    assert nights.least_nights([endless], 200.0) == 60.0


@settings(max_examples=12, deadline=None)
@given(st.sampled_from(NIGHTS), st.integers(1, 6), st.integers(1, 6))
def test_laws_through_the_facts(name: str, one: int, other: int) -> None:
    """More panel, more battery, clearer and less load never give fewer nights."""
    low, high = sorted((one, other))
    for key, unit in (("watt", 50), ("ah", 50)):
        assert getattr(van(**{key: str(low * unit)}).whole, name) <= getattr(
            van(**{key: str(high * unit)}).whole, name
        )
    assert getattr(van(load=str(low * 10)).whole, name) >= getattr(van(load=str(high * 10)).whole, name)
    clearer = [getattr(van(clear=str(25 + 5 * step)).whole, name) for step in (low, high)]
    assert clearer[0] <= clearer[1]


def test_charging_by_the_engine() -> None:
    """30 A at 12.8 V is what the charger gives; 90 A spare at 14.4 V and 90 % would be more."""
    usual, weak = van(), van(draw="140")
    assert usual.subject("charger").charging_power == pytest.approx(384)
    assert usual.subject("charger").charge_per_driving_hour == pytest.approx(384 * 3600)
    # 60 A of its own and 384 W / 90 % / 14.4 V = 29.6 A, of 150 A
    assert usual.subject("alternator").share_taken == pytest.approx((60 + 384 / 0.9 / 14.4) / 150)
    # 10 A spare × 14.4 V × 90 %
    assert weak.whole.charging_power_driving == pytest.approx(129.6)
    assert usual.whole.charging_power_on_shore == pytest.approx(256)


def test_a_controller_gives_no_more_than_its_rating() -> None:
    """1 A at 12 V is 12 W whatever the panels could do."""
    assert max(van(limit="1").whole.in_case("4").sun_by_hour) == pytest.approx(12 * 3600)


def test_a_controller_that_only_switches_pulls_the_panel_down() -> None:
    """12 V / 18 V of what one that follows the panel gives."""
    share = van(type="pwm").whole.in_case("4").daily_sun / van().whole.in_case("4").daily_sun
    assert share == pytest.approx(12 / 18)


def test_tilt_without_a_bearing_is_counted_as_level_and_said() -> None:
    """Nothing is guessed of which way it faces."""
    tilted, level = (van(tilt=t).subject("panels", "10") for t in ("30°", "0°"))
    assert tilted.daily_solar_yield == level.daily_solar_yield
    faced = van(tilt="30°, faces: 180°").subject("panels", "10")
    assert faced.daily_solar_yield > level.daily_solar_yield * 1.2
    assert faced.monthly_solar_yield == pytest.approx(31 * faced.daily_solar_yield)


COLD = {"night": "-8", "day": ", day_temperature: -2 °C"}


@pytest.mark.parametrize(
    ("changes", "charged"),
    [
        ({}, True),
        (COLD, False),
        (COLD | {"battery": ", heated: true"}, True),
        (COLD | {"battery": ", kept_above: 5 °C"}, True),
        (COLD | {"battery": ", kept_above: -1 °C"}, False),
        ({"night": "-8"}, True),  # the day is warm enough
    ],
)
def test_a_cold_lithium_battery_is_not_charged(changes: dict[str, str], charged: bool) -> None:
    """Below its least charging temperature panels add nothing, unless it is warmed or kept warm."""
    whole = van(**changes).whole
    gained = whole.least_nights_with_mean_sun - whole.least_nights_without_sun
    assert (gained > 0) == charged


@settings(max_examples=10, deadline=None)
@given(st.integers(-10, 15), st.integers(-10, 15))
def test_colder_is_never_more_charge(one: int, other: int) -> None:
    """For a battery that nothing warms: offered energy of the year never rises as days grow colder."""
    low, high = sorted((one, other))
    # cold panels give more, so that only whether there is any charge is compared
    offered = [
        any(
            month.offered > 0
            for month in van(night="-12", day=f", day_temperature: {t} °C").whole.year_without_shore
        )
        for t in (low, high)
    ]
    assert offered[0] <= offered[1]


def test_without_a_temperature_by_day_the_ends_differ() -> None:
    """The worse end has it as cold as by night, the better end never too cold; the answer is a range."""
    whole = van(night="-8", day="").whole
    assert whole.least_nights_with_mean_sun == whole.least_nights_without_sun
    assert whole.most_nights_with_mean_sun > whole.most_nights_without_sun


def test_a_fridge_takes_less_in_cool_air_at_the_better_end_only() -> None:
    """At 18 °C inside it takes 13/20 of what is stated for 25 °C; the worse end keeps what is stated."""
    from specreg.facts.energy_by_hour import loads_by_hour

    whole = van().whole
    standing = standings(whole.van)[0]
    better, worse = (
        sum(next(one for one in loads_by_hour(whole, standing, most=most) if one.name == "fridge").hours)
        for most in (True, False)
    )
    assert [better / 3600, worse / 3600] == pytest.approx([400 * 13 / 20, 400])


def test_evening_loads_run_in_the_evening() -> None:
    """100 Wh between 17 and 22 h; spread over the day where nothing is said."""
    from specreg.facts.energy_by_hour import loads_by_hour

    for evening, at_noon in (("light", 0.0), ("", 100 / 24)):
        light = loads_by_hour(van(evening=evening).whole, None, most=True)[0]
        assert light.name == "light" and light.hours[12] / 3600 == pytest.approx(at_noon)
        assert sum(light.hours) / 3600 == pytest.approx(100)


def test_the_trip_is_an_hour_by_hour_list() -> None:
    """Four nights are 97 figures from full on, none below the reserve; unmet energy agrees with them."""
    whole = van(drive="0 h").whole.in_case("10")
    charge = whole.state_of_charge_in_a_poor_week
    assert len(charge) == 97 and charge[0] == 1.0
    assert min(charge) == pytest.approx(0.2) and whole.unmet_in_a_poor_week > 0
    driven = van(drive="2 h").whole.in_case("10")
    assert driven.unmet_in_a_poor_week < whole.unmet_in_a_poor_week


def test_the_year_tells_each_month() -> None:
    """Months asked for in order; what is asked is energy × days; use with driving and hook-up meets more."""
    whole = van().whole
    months = whole.year_without_shore
    assert [month.month for month in months] == [3, 4, 10]
    assert months[1].asked / 3600 == pytest.approx(30 * 500)
    assert whole.least_met_without_shore <= whole.most_met_without_shore <= 1
    assert whole.least_met_without_shore < whole.least_met_as_used


def test_the_mean_of_a_month_is_the_stated_clearness() -> None:
    """Seven poor days and 24 clearer ones offer what 31 mean days do, but for warmer cells: within 1 %."""
    whole = van(limit="100").whole
    march = whole.year_without_shore[0]
    assert march.offered == pytest.approx(31 * whole.in_case("3").daily_sun, rel=0.01)


def test_what_would_change_it_most() -> None:
    """Sorted by what a fifth does; without the fridge it lasts longer, without sun or battery shorter."""
    found = {one.what: one for one in van(drive="0 h").whole.what_would_change_nights}
    assert set(found) == {"battery capacity", "sun", "light", "fridge"}
    assert (
        found["fridge"].nights_without > found["fridge"].nights_with_less >= found["fridge"].nights_with_more
    )
    assert found["sun"].nights_without <= found["sun"].nights_with_less <= found["sun"].nights_with_more
    assert found["battery capacity"].nights_without == 0
    spread = [abs(one.unmet_with_less - one.unmet_with_more) for one in found.values()]
    assert spread[0] > spread[-1]
    assert list(found).index("fridge") < list(found).index("light")


@pytest.mark.parametrize(
    ("fact", "change", "field"),
    [
        ("least_met_as_used", ("driving_per_day: 1 h", ""), "use.driving_per_day"),
        ("least_met_as_used", ("shore_nights: 1", ""), "use.shore_nights"),
        ("least_nights_with_mean_sun", ("clearness: 40 %, poor", "poor"), "use.places[0].clearness"),
        (
            "least_nights_in_a_poor_week",
            (", poor_week_clearness: 20 %", ""),
            "use.places[0].poor_week_clearness",
        ),
        ("charging_power_driving", ("present_draw: 60 A, ", ""), "alternator.present_draw"),
        ("least_nights_with_mean_sun", (", shade: 0 %", ""), "panels.shade"),
    ],
)
def test_what_is_not_stated_is_asked_for(fact: str, change: tuple[str, str], field: str) -> None:
    """Nothing is guessed, and the field is named."""
    text = VAN.format(**USUAL)
    assert change[0] in text
    with pytest.raises(Missing) as raised:
        getattr(Facts(build(text.replace(*change))).whole, fact)
    assert raised.value.fields == (field,)


def test_every_answer_says_what_is_not_counted() -> None:
    """Snow, cold capacity and the rest stand beside each of the nights."""
    whole = van().whole
    answers = (*NIGHTS, "least_met_without_shore", "most_met_as_used", "what_would_change_nights")
    for name in answers:
        said = whole.van.ask(whole, kinds_for(type(whole.model))[name]).assumptions
        assert nights.NOT_MODELLED in said and nights.RANGE in said


def test_a_year_is_followed_once_through_each_of_its_8760_hours(monkeypatch: pytest.MonkeyPatch) -> None:
    """All twelve months as used."""
    followed: list[int] = []

    def counted(store: Store, start: float, loads: Sequence[float], sources: Sequence[float]) -> Course:
        followed.append(len(loads))
        return course(store, start, loads, sources)

    monkeypatch.setattr(energy_year, "course", counted)
    text = VAN.format(**USUAL).replace("[3, 4, 10]", "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]")
    whole = Facts(build(text)).whole
    months = whole.year_as_used
    assert (len(followed), sum(followed)) == (12, 8760)
    assert len(months) == 12 and sum(month.asked for month in months) / 3.6e6 == pytest.approx(365 * 0.5)


def test_inspection_never_simulates(monkeypatch: pytest.MonkeyPatch) -> None:
    """Judging every rule on a demonstration van runs no course of the battery."""

    def never(*_: object) -> None:
        raise AssertionError("a rule asked for the simulation")

    for module in (state_of_charge, energy_year):
        monkeypatch.setattr(module, "course", never)
    pack, _ = load_pack(ROOT / "rules")
    assert judge(pack, Facts(DEMOS["fieldwork"]), DEMOS["fieldwork"].header.stage)
    with pytest.raises(AssertionError, match="asked for the simulation"):
        _ = Facts(DEMOS["fieldwork"]).whole.least_nights_with_mean_sun


def test_an_evening_load_that_is_not_there_is_a_problem() -> None:
    """A misspelt id is named with the nearest right one."""
    from building import read

    _, problems = read(VAN.format(**USUAL | {"evening": "lihgt"}))
    assert any("lihgt" in problem.text() and "light" in problem.text() for problem in problems)


def all_about_energy(facts: Facts) -> list[Fact]:
    """Every fact of these modules about the whole van, in every case."""
    return [
        facts.ask(facts.whole.in_case(case), kind)
        for kind in kinds_for(type(facts.whole.model)).values()
        if kind.compute.__module__.rpartition(".")[2] in MODULES
        for case in cases(kind.axis, facts)
    ]


MODULES = ("sun", "charging_power", "energy", "energy_by_hour", "energy_sensitivity", "energy_year", "nights")


@pytest.mark.parametrize(
    "change",
    [
        ("nights_off_grid: 4", "nights_off_grid: 0"),
        ("capacity: 100 Ah", "capacity: 0 Ah"),
        ("rated_current: 150 A", "rated_current: 0 A"),
        ("efficiency: 90 %", "efficiency: 0 %"),
        ("type: mppt, rated", "type: pwm, rated"),
        ("peak_voltage: 18 V", "peak_voltage: 0 V"),
        ("clearness: 40 %, poor_week_clearness: 20 %", "clearness: 5 %, poor_week_clearness: 70 %"),
        ("latitude: 52 deg", "latitude: 90 deg"),
        ("latitude: 52 deg", "latitude: -85 deg"),
        ("charge_current: 100 A, discharge", "charge_current: 0 A, discharge"),
        ("setting: 5 °C", "setting: 25 °C"),
        ("tilt: 0°", "tilt: 90°, faces: 0°"),
    ],
)
def test_odd_figures_are_answered_or_asked_about(change: tuple[str, str]) -> None:
    """A zero or an impossible figure never ends in a fault of the program's own; shares stay shares."""
    text = VAN.format(**USUAL | {"shore": "0"})
    assert change[0] in text
    asked = all_about_energy(Facts(build(text.replace(*change))))
    assert len(asked) > 20
    for fact in asked:
        if fact.known and fact.kind.name.startswith(("least_met", "most_met")):
            assert 0 <= fact.value <= 1


def test_a_thirteenth_month_is_a_problem() -> None:
    """It is named, with what months are."""
    from building import read

    _, problems = read(VAN.format(**USUAL).replace("[3, 4, 10]", "[3, 13]"))
    assert any("13 is no month" in problem.text() for problem in problems)


def test_lists_are_told_with_their_units() -> None:
    """What people read of a list has units within each thing, in their own system."""
    from specreg.output.figures import figures_text
    from specreg.output.style import Style

    facts = van()
    by_load = [one for one in all_about_energy(facts) if one.kind.name == "daily_energy_by_load"]
    told = figures_text(facts, by_load, Style())
    assert "load fridge, energy 400 Wh; load light, energy 100 Wh" in " ".join(told.split())
