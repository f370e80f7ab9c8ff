"""Openings of the shut van, how high and how large: by hand from boxes, else from surface and position."""

from math import hypot, sqrt

import pytest
from van import van_facts

from specreg.facts.air_stream import caught_openings, fixed_openings, leakage
from specreg.facts.sleepers import water_of_all
from specreg.facts.vent_stream import Opening, halves, stack_flow, wind_flow


def openings(found: list[Opening]) -> list[tuple[float, float]]:
    """Height in m and area in cm² of each, rounded for comparison."""
    return [(round(opening.height, 6), round(opening.area * 1e4, 6)) for opening in found]


@pytest.mark.parametrize(
    ("vent", "expected"),
    [
        ("surface: roof, count: 2", [(1.9, 20)]),
        ("surface: floor", [(0, 10)]),
        ("surface: left wall, position: low", [(0.095, 10)]),
        ("surface: left wall, position: high", [(1.71, 10)]),
        ("surface: left wall, position: high, size: [10 cm, 1 cm, 20 cm]", [(1.71, 10)]),
        ("surface: left wall, position: high, at: [1 m, 0 m, 1 m]", [(1.71, 10)]),
        ("surface: left wall, at: [1 m, 0 m, 1 m], size: [10 cm, 1 cm, 20 cm]", [(1.05, 5), (1.15, 5)]),
    ],
)
def test_where_a_fixed_vent_lets_air_through(vent: str, expected: list[tuple[float, float]]) -> None:
    """In a room 1.9 m high: roof and floor; 5 % and 90 % of the height for a wall; else two halves of its box."""
    van = van_facts(f"components: {{v: {{kind: vent, closable: false, free_area: 10 cm², {vent}}}}}")
    assert openings(fixed_openings(van)) == expected


def test_hatches_and_fans_that_stay_open_are_one_opening_in_the_roof() -> None:
    """2 × 4 cm² and 2 × 3 cm², or twice as much of one size; one that stays shut, and none at all, are no opening."""
    van = van_facts(
        "components: {h: {kind: roof-hatch, fixed_area: 4 cm², count: 2}, f: {kind: roof-fan, free_area_closed: 3 cm², count: 2}, "
        "shut: {kind: roof-hatch}, still: {kind: roof-fan}}"
    )
    assert openings(fixed_openings(van)) == [(1.9, 14)]
    assert fixed_openings(van_facts("components: {shut: {kind: roof-hatch}}")) == []
    alike = van_facts(
        "components: {h: {kind: roof-hatch, fixed_area: 4 cm²}, f: {kind: roof-fan, free_area_closed: 4 cm²}}"
    )
    assert openings(fixed_openings(alike)) == [(1.9, 8)]


@pytest.mark.parametrize(
    ("pane", "expected"),
    [
        ("kind: roof-hatch, night_area: 30 cm²", [(1.9, 30)]),
        (
            "kind: roof-hatch, night_area: 30 cm², at: [2 m, 0 m, 1.9 m], size: [50 cm, 50 cm, 5 cm]",
            [(1.9, 30)],
        ),
        ("kind: opening-window, night_area: 30 cm², count: 2", [(1.14, 60)]),
        ("kind: opening-window, night_area: 30 cm², at: [2 m, 0 m, 1 m]", [(1.14, 30)]),
        ("kind: opening-window, night_area: 30 cm², size: [80 cm, 2 cm, 40 cm]", [(1.14, 30)]),
        (
            "kind: opening-window, night_area: 30 cm², at: [2 m, 0 m, 1 m], size: [80 cm, 2 cm, 40 cm]",
            [(1.1, 15), (1.3, 15)],
        ),
        ("kind: opening-window", []),
    ],
)
def test_where_a_window_on_its_catch_lets_air_through(pane: str, expected: list[tuple[float, float]]) -> None:
    """A hatch at the roof; a window at 60 % of the height, or in two halves of its box; without a catch not at all."""
    assert openings(caught_openings(van_facts(f"components: {{p: {{{pane}}}}}"))) == expected


def test_a_window_without_a_catch_hides_none_that_has_one() -> None:
    """Whichever is listed first."""
    van = van_facts(
        "components: {shut: {kind: opening-window}, hatch: {kind: roof-hatch, night_area: 30 cm²}, still: {kind: opening-window}}"
    )
    assert openings(caught_openings(van)) == [(1.9, 30)]


def test_leaks_are_nothing_to_one_change_an_hour_until_they_are_measured() -> None:
    """4 m × 1.8 m × 1.9 m = 13.68 m³ an hour at most, and that it is taken so is said; measured is measured."""
    van = van_facts()
    with van.recording() as frame:
        found = leakage(van)
    assert found.least == 0
    assert found.greatest == pytest.approx(13.68 / 3600, rel=1e-9)
    assert any("leaks of the body taken as" in sentence for sentence in frame.assumptions)
    measured = van_facts("vehicle: {shell: {leakage: 5 m³/h}}")
    with measured.recording() as frame:
        found = leakage(measured)
    assert found.least == found.greatest == pytest.approx(5 / 3600)
    assert not any("leaks of the body" in sentence for sentence in frame.assumptions)


def test_a_fan_at_its_speed_for_the_night() -> None:
    """2 × 20 m³/h, where that is more than windows pass; that it moves so much through small vents is said."""
    fan = van_facts("components: {f: {kind: roof-fan, night_flow: 20 m³/h, count: 2}}")
    with fan.recording() as frame:
        assert fan.whole.least_aired_night == pytest.approx(40 / 3600)
    assert any("a fan moves its stated flow at night" in sentence for sentence in frame.assumptions)
    none = van_facts()
    with none.recording() as frame:
        assert none.whole.least_aired_night == 0
    assert not any("a fan moves" in sentence for sentence in frame.assumptions)


@pytest.mark.parametrize(("dogs", "said"), [(0, False), (2, True)])
def test_the_moisture_of_dogs_is_left_out_and_said(dogs: int, said: bool) -> None:
    """There is no source for it: the same water as without them."""
    van = van_facts(f"use: {{people: {{adults: 2, dogs: {dogs}}}}}")
    with van.recording() as frame:
        water = water_of_all(van)
    assert water == water_of_all(van_facts("use: {people: {adults: 2}}"))
    assert any("moisture of dogs" in sentence for sentence in frame.assumptions) is said


TWO_VENTS = (
    "vehicle: {shell: {leakage: 0 m³/h}}",
    "components: {top: {kind: vent, surface: roof, closable: false, free_area: 100 cm²}, "
    "bottom: {kind: vent, surface: left wall, closable: false, free_area: 100 cm², at: [1 m, 0 m, 0.7 m], size: [5 cm, 1 cm, 0 cm]}}",
)
"""Two openings of 0.01 m², 1.2 m one above the other: the lower one between a third and half of the height."""


def test_air_of_a_mild_night_by_hand() -> None:
    """15 °C outside and 17 inside: 0.6 m of draught on each vent; a breeze of 3 m/s with a coefficient of 0.3."""
    van = van_facts(*TWO_VENTS)
    calm = 0.6 * 0.01 * sqrt(2 * 9.80665 * 0.6 * 2 / 290.15)
    breeze = 0.6 * 0.01 / sqrt(2) * 3 * sqrt(0.3)
    assert van.whole.least_night_air == pytest.approx(calm, rel=1e-6)
    assert van.whole.greatest_night_air == pytest.approx(hypot(calm, breeze), rel=1e-6)


def test_air_of_the_coldest_night_by_hand() -> None:
    """−10 °C outside and 20 inside, likewise; windows on their catches are shut then."""
    van = van_facts(
        *TWO_VENTS,
        "components: {hatch: {kind: roof-hatch, night_area: 300 cm²}}",
        "use: {inside_temperature: 20 °C, places: [{latitude: 60 deg, night_temperature: -10 °C}]}",
    )
    calm = 0.6 * 0.01 * sqrt(2 * 9.80665 * 0.6 * 30 / 293.15)
    breeze = 0.6 * 0.01 / sqrt(2) * 3 * sqrt(0.3)
    assert van.whole.least_cold_air == pytest.approx(calm, rel=1e-6)
    assert van.whole.greatest_cold_air == pytest.approx(hypot(calm, breeze), rel=1e-6)


def test_what_a_night_is_taken_to_be_is_said() -> None:
    """The wind, and how warm an unheated van is."""
    van = van_facts(*TWO_VENTS)
    with van.recording() as frame:
        _ = van.whole.least_night_air
    assert any("between calm and a breeze" in sentence for sentence in frame.assumptions)
    assert any("2 K warmer inside" in sentence for sentence in frame.assumptions)


def test_changes_of_air() -> None:
    """Ten times the 13.68 m³ of the room in an hour; two fans that stand as one change it twice as often."""
    van = van_facts("components: {f: {kind: roof-fan, greatest_flow: 136.8 m³/h}}")
    assert van.subject("f").air_changes == pytest.approx(10, rel=1e-6)
    van = van_facts("components: {f: {kind: roof-fan, greatest_flow: 136.8 m³/h, count: 2}}")
    assert van.subject("f").air_changes == pytest.approx(20, rel=1e-6)


def test_the_greater_of_windows_and_fan_airs_a_night() -> None:
    """100 cm² in the floor and a hatch of 100 cm² on its catch pass more than a fan of 1 m³/h, and less than one of 900."""
    low = (
        "vehicle: {shell: {leakage: 0 m³/h}}",
        "components: {v: {kind: vent, surface: floor, closable: false, free_area: 100 cm²}, "
        "h: {kind: roof-hatch, night_area: 100 cm²}, slow: {kind: roof-fan, night_flow: 1 m³/h}, still: {kind: roof-fan}}",
    )
    natural = 0.6 * 0.01 * sqrt(2 * 9.80665 * 0.95 * 2 / 290.15)
    assert van_facts(*low).whole.least_aired_night == pytest.approx(natural, rel=1e-6)
    fast = van_facts(*low, "components: {fast: {kind: duct-fan, night_flow: 900 m³/h}}")
    assert fast.whole.least_aired_night == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("low", "high"), [(0.01, 0.01), (0.01, 0.03), (0.02, 0.005)], ids=["alike", "wide above", "wide below"]
)
def test_warmth_through_two_openings_in_series(low: float, high: float) -> None:
    """0.6·A·√(2·g·h·ΔT/T) with both areas in series, 1/A² = 1/A₁² + 1/A₂²; it does not matter where heights begin."""
    area = low * high / hypot(low, high)
    expected = 0.6 * area * sqrt(2 * 9.80665 * 1.5 * 20 / 293.15)
    for floor in (0.0, 0.4, -2.0):
        openings = (Opening(floor, low), Opening(floor + 1.5, high))
        assert stack_flow(openings, 293.15, 273.15) == pytest.approx(expected, rel=1e-9)
        assert stack_flow(openings, 273.15, 293.15) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("openings", [(), (Opening(1.0, 0.01),), (Opening(1.0, 0.01), Opening(1.0, 0.02))])
def test_warmth_needs_two_levels(openings: tuple[Opening, ...]) -> None:
    """No opening, one, and two at one height pass nothing; neither do two heights without a difference of warmth."""
    assert stack_flow(openings, 293.15, 273.15) == 0
    assert stack_flow((Opening(0.0, 0.01), Opening(2.0, 0.01)), 288.0, 288.0) == 0


@pytest.mark.parametrize(
    ("openings", "below", "above"),
    [
        ((), 0, 0),
        (((0.5, 0.01),), 0.01, 0),
        (((1.5, 0.01),), 0, 0.01),
        (((0.5, 0.01), (1.5, 0.02)), 0.01, 0.02),
        (((1.0, 0.01), (1.5, 0.02)), 0.01, 0.02),
        (((0.2, 0.01), (0.9, 0.02), (1.1, 0.04)), 0.03, 0.04),
        (((0.5, 0), (1.5, 0)), 0, 0),
    ],
)
def test_wind_drives_from_below_the_middle_to_above_it(
    openings: tuple[tuple[float, float], ...], below: float, above: float
) -> None:
    """0.6·A·v·√0.3, both groups in series; what lies just at the middle counts below, and one group alone passes none."""
    area = below * above / hypot(below, above) if below and above else 0
    found = wind_flow([Opening(*one) for one in openings], 1.0, 4.0)
    assert found == pytest.approx(0.6 * area * 4 * sqrt(0.3), rel=1e-9)


def test_the_halves_of_an_opening() -> None:
    """Their middles lie a quarter of its height below and above its own; one without height is one opening."""
    assert halves(1.0, 0.4, 0.02) == (Opening(0.9, 0.01), Opening(1.1, 0.01))
    assert halves(1.0, 0.0, 0.02) == (Opening(1.0, 0.02),)
