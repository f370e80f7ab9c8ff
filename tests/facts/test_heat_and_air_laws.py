"""Laws of heat and air that hold for every van."""

from functools import cache
from itertools import pairwise

import pytest
from building import build
from hypothesis import given, settings
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.moist_air import dew_point, saturation_pressure, vapour_inside
from specreg.facts.sleeping_air import concentration
from specreg.facts.vent_stream import Opening, stack_flow, wind_flow
from specreg.tables import environment

EASY = settings(max_examples=25, deadline=None)


@cache
def van(
    thickness: float = 30,
    outside: float = -5,
    adults: int = 2,
    roof: float = 80,
    low: float = 30,
    ribs: float = 8,
    leakage: float = 5,
) -> Facts:
    """A van of one thickness of foam all round (mm), vents in cm², leakage in m³/h, temperatures in °C."""
    sides = ("roof", "left wall", "right wall", "rear doors", "floor", "cab")
    layers = "\n".join(
        f"  foam-{n}: {{kind: insulation-layer, surface: {side}, material: foam, conductivity: 0.036 W/(m·K), "
        f"thickness: {thickness} mm, bridged_by_metal: {ribs} %}}"
        for n, side in enumerate(sides)
    )
    return Facts(
        build(
            f"""
vehicle: {{interior: {{length: 3.5 m, width: 1.8 m, height: 1.9 m}}, shell: {{leakage: {leakage} m³/h}}}}
use: {{people: {{adults: {adults}}}, inside_temperature: 18 °C, night: 8 h, places: [{{latitude: 50 deg, months: [1], night_temperature: {outside} °C}}]}}
components:
  heater: {{kind: air-heater, burns: diesel, output: 4 kW, fuel_flow: 0.48 L/h, power: 30 W}}
  window: {{kind: opening-window, surface: left wall, area: 0.4 m², heat_transfer: 2.9 W/(m²·K), night_area: 20 cm², at: [2 m, -1 m, 1 m], size: [700 mm, 40 mm, 500 mm]}}
  roof-vent: {{kind: vent, surface: roof, free_area: {roof} cm², closable: false}}
  floor-vent: {{kind: vent, surface: floor, free_area: {low} cm², closable: false}}
{layers}
"""
        )
    )


thicknesses = st.integers(5, 80)
temperatures = st.integers(-30, 10)


@given(thicknesses, thicknesses)
@EASY
def test_thicker_insulation_never_loses_more(first: int, second: int) -> None:
    thin, thick = sorted((first, second))
    for name in ("least_heat_loss", "greatest_heat_loss", "greatest_fuel_of_a_night"):
        assert getattr(van(thickness=thick).whole, name) <= getattr(van(thickness=thin).whole, name) + 1e-9


@given(temperatures, temperatures)
@EASY
def test_colder_outside_never_needs_less(first: int, second: int) -> None:
    cold, mild = sorted((first, second))
    for name in ("least_heat_loss", "greatest_heat_loss", "greatest_fuel_of_a_night"):
        assert getattr(van(outside=cold).whole, name) >= getattr(van(outside=mild).whole, name) - 1e-9


@given(st.integers(0, 30), st.integers(0, 30))
@EASY
def test_more_ribs_never_lose_less_and_never_make_the_side_colder_than_outside(
    first: int, second: int
) -> None:
    few, many = sorted((first, second))
    assert van(ribs=many).whole.greatest_heat_loss >= van(ribs=few).whole.greatest_heat_loss - 1e-9
    assert van(ribs=many).whole.least_heat_loss == van(ribs=few).whole.least_heat_loss


@given(st.integers(1, 5), st.integers(1, 5))
@EASY
def test_more_people_never_less_carbon_dioxide(first: int, second: int) -> None:
    few, many = sorted((first, second))
    for name in ("least_morning_co2", "greatest_morning_co2", "aired_morning_co2"):
        assert getattr(van(adults=many).whole, name) >= getattr(van(adults=few).whole, name) - 1e-12


@given(st.integers(5, 200), st.integers(5, 200), st.booleans())
@EASY
def test_more_vent_area_never_more_carbon_dioxide(first: int, second: int, high: bool) -> None:
    small, large = sorted((first, second))
    for name in ("least_morning_co2", "greatest_morning_co2", "greatest_steady_co2"):
        there = van(roof=small).whole if high else van(low=small).whole
        more = van(roof=large).whole if high else van(low=large).whole
        assert getattr(more, name) <= getattr(there, name) + 1e-12


@given(thicknesses, temperatures)
@EASY
def test_every_surface_lies_between_inside_and_outside(thickness: int, outside: int) -> None:
    whole = van(thickness=thickness, outside=outside).whole
    for face in whole.surfaces:
        values = [face.surface, face.skin] + ([face.ribs] if face.ribs is not None else [])
        assert all(whole.design_temperature < one < whole.room_temperature for one in values)
        assert face.ribs is None or face.ribs <= face.surface


@given(thicknesses, temperatures, st.integers(1, 5))
@EASY
def test_least_never_exceeds_greatest(thickness: int, outside: int, adults: int) -> None:
    whole = van(thickness=thickness, outside=outside, adults=adults).whole
    for name in ("heat_loss", "morning_co2", "steady_co2", "dew_point", "night_air", "cold_air"):
        assert getattr(whole, f"least_{name}") <= getattr(whole, f"greatest_{name}")
    assert all(part.u_least <= part.u_greatest + 1e-12 for part in whole.shell_parts)


@given(thicknesses, temperatures, st.integers(0, 60))
@EASY
def test_a_side_is_wet_just_when_more_water_is_made_than_the_air_carries_off(
    thickness: int, outside: int, leakage: int
) -> None:
    """Two ways to the same answer: by dew point and by mass of water."""
    whole = van(thickness=thickness, outside=outside, leakage=leakage).whole
    made, carried = whole.water_of_a_night, whole.water_carried_off
    if abs(made - carried) > 1e-6:
        assert (made > carried) == bool(whole.wet_sides)


@given(st.integers(0, 40))
@EASY
def test_leakage_never_counts_as_a_vent(leakage: int) -> None:
    """Leaks lose heat, yet neither the fixed vents nor the air of a flame's room grow by them."""
    tight, leaky = van(leakage=0).whole, van(leakage=leakage).whole
    assert leaky.low_vent_ratio == tight.low_vent_ratio
    assert leaky.high_vent_ratio == tight.high_vent_ratio
    assert leaky.greatest_heat_loss >= tight.greatest_heat_loss


@given(
    st.lists(st.tuples(st.floats(0, 2), st.floats(1e-4, 0.05)), min_size=2, max_size=6),
    st.floats(0, 2),
    st.floats(1e-4, 0.05),
)
@EASY
def test_one_more_opening_never_passes_less(
    there: list[tuple[float, float]], height: float, area: float
) -> None:
    openings = [Opening(*one) for one in there]
    more = [*openings, Opening(height, area)]
    assert stack_flow(more, 293.15, 280) >= stack_flow(openings, 293.15, 280) - 1e-9
    assert wind_flow(more, 1.0, 3.0) >= wind_flow(openings, 1.0, 3.0) - 1e-12


@given(st.floats(1e-7, 1e-5), st.floats(0, 0.05), st.floats(0.0004, 0.02), st.floats(2, 20))
@EASY
def test_carbon_dioxide_never_passes_its_steady_value(
    made: float, flow: float, start: float, volume: float
) -> None:
    """From below it rises towards the steady value, from above it falls, and it starts where it starts."""
    assert abs(concentration(made, flow, volume, start, 0) - start) < 1e-12
    if flow > 1e-6:
        steady = concentration(made, flow, volume, start, 1e12)
        low, high = sorted((start, steady))
        assert low - 1e-12 <= concentration(made, flow, volume, start, 3600) <= high + 1e-12


@given(st.floats(263, 313), st.floats(0.05, 1))
@EASY
def test_dew_point_is_where_the_air_is_saturated(temperature: float, humidity: float) -> None:
    found = dew_point(humidity * saturation_pressure(temperature))
    assert abs(saturation_pressure(found) - humidity * saturation_pressure(temperature)) < 1e-6
    assert found <= temperature + 1e-9


@given(st.floats(0, 1e-4), st.floats(0, 0.05))
@EASY
def test_air_inside_is_never_more_than_saturated(made: float, flow: float) -> None:
    assert vapour_inside(0.004, made, flow, 291.15) <= saturation_pressure(291.15)


def test_the_night_is_told_hour_by_hour() -> None:
    """Nine figures for eight hours: carbon dioxide rises, a van without a heater cools."""
    course = van().whole.night_course
    assert [hour.hour for hour in course] == list(range(9))
    assert course[-1].co2_greatest == van().whole.greatest_morning_co2
    for before, after in pairwise(course):
        assert after.co2_greatest >= before.co2_greatest
        assert after.temperature_least <= before.temperature_least


def test_without_vents_and_leaks_all_that_is_breathed_out_stays() -> None:
    """420 ppm and eight hours of two men's breath in the smallest room."""
    whole = Facts(
        build(
            """
vehicle: {interior: {length: 3.5 m, width: 1.8 m, height: 1.9 m}, shell: {leakage: 0 m³/h}}
use: {people: {adults: 2}}
components: {lamp: {kind: strip-light}}
"""
        )
    ).whole
    assert whole.least_night_air == 0
    assert whole.greatest_morning_co2 > 0.02
    assert whole.get("greatest_steady_co2") is None


def test_the_last_hour_of_a_night_is_its_morning() -> None:
    """The course by hours ends, after 8 h, in the three figures that are worked out for the morning; it begins outdoors."""
    whole = van().whole
    first, last = whole.night_course[0], whole.night_course[-1]
    assert last.co2_least == pytest.approx(whole.least_morning_co2)
    assert last.co2_greatest == pytest.approx(whole.greatest_morning_co2)
    assert last.co2_aired == pytest.approx(whole.aired_morning_co2)
    assert first.co2_least == first.co2_greatest == first.co2_aired
    assert first.co2_least == pytest.approx(environment.constant("co2-outdoors").value)
