"""Openings of the shut van, how high and how large: by hand from boxes, else from surface and position."""

import pytest
from van import van_facts

from specreg.facts.air_stream import caught_openings, fixed_openings, leakage
from specreg.facts.sleepers import water_of_all
from specreg.facts.vent_stream import Opening


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
    """2 × 4 cm² and 2 × 3 cm²; one that stays shut, and none at all, are no opening."""
    van = van_facts(
        "components: {h: {kind: roof-hatch, fixed_area: 4 cm², count: 2}, f: {kind: roof-fan, free_area_closed: 3 cm², count: 2}, "
        "shut: {kind: roof-hatch}, still: {kind: roof-fan}}"
    )
    assert openings(fixed_openings(van)) == [(1.9, 14)]
    assert fixed_openings(van_facts("components: {shut: {kind: roof-hatch}}")) == []


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
