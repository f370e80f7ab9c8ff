"""For which cases a fact with an axis is asked."""

import pytest
from van import van_facts

from specreg.facts.axes import cases
from specreg.facts.registry import Axis


@pytest.mark.parametrize(
    ("modes", "asked"), [("{}", ("day",)), ("modes: {night: {}, travel: {}}", ("night", "travel"))]
)
def test_the_modes_of_the_van_are_asked_for(modes: str, asked: tuple[str, ...]) -> None:
    """Those that the spec names, in its order; by day where it names none."""
    assert cases(Axis.mode, van_facts(modes)) == asked


def test_months_are_those_of_all_places_once() -> None:
    """In the order of the year."""
    places = "use: {places: [{latitude: 50°, months: [12, 6]}, {latitude: 60°, months: [6, 7]}]}"
    assert cases(Axis.month, van_facts(places)) == ("6", "7", "12")


def test_without_an_axis_there_is_one_case() -> None:
    """And it has no name."""
    assert cases(None, van_facts()) == (None,)


def test_each_axis_has_cases_of_its_own() -> None:
    """Loads, modes of supply and ways of operation are asked for one by one, and are not each other's."""
    van = van_facts()
    asked = [cases(axis, van) for axis in (Axis.loading, Axis.source_mode, Axis.operation)]
    assert "as converted" in asked[0] and "shore" in asked[1] and "everything on" in asked[2]
    assert len(set(asked)) == 3
