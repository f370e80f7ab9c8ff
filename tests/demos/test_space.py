"""The rooms of the demo vans: nothing stands in anything, and the figures are those worked out by hand."""

import pytest
from opening import build_of, source

from specreg.facts.engine import Facts
from specreg.model.component import Component
from specreg.model.seating import Seating

SOUND = ("fieldwork", "winter-tourer", "pocket")
"""The demos that are no survey of what somebody else built."""


def facts(name: str) -> Facts:
    """The facts of one demo."""
    tree = source(name).tree
    assert tree is not None
    built, problems = build_of(tree)
    assert not problems
    return Facts(built)


@pytest.mark.parametrize("name", SOUND)
def test_nothing_stands_in_anything_or_sticks_out(name: str) -> None:
    """In no mode do two things share room, and what belongs inside is inside."""
    things = [thing for thing in facts(name).of_class(Component) if thing.placed]
    assert len(things) > 20
    assert {thing.id: thing.shares_room_with for thing in things if thing.shares_room_with} == {}
    out = {thing.id: thing.sticks_out_by for thing in things if thing.belongs_inside}
    assert out and max(out.values()) < 0.001


@pytest.mark.parametrize("name", SOUND)
def test_every_seat_has_a_way_out_in_every_mode(name: str) -> None:
    """Two exits or more from each seat, by day, by night and under way."""
    van = facts(name)
    assert {"day", "night", "driving"} <= set(van.build.header.modes)
    for mode in van.build.header.modes:
        for seat in van.of_class(Seating):
            assert len(seat.in_case(mode).exits_reached) >= 2, (mode, seat.id)


@pytest.mark.parametrize(
    ("name", "mode", "aisle", "between"),
    [
        # −435 mm (galley) to 385 mm (fridge cabinet)
        ("fieldwork", "night", 0.820, ("Galley", "Fridge cabinet")),
        # −13 in (worktop) to 8 in (washroom)
        ("winter-tourer", "day", 21 * 0.0254, ("Galley", "Washroom front wall")),
    ],
)
def test_the_aisle_is_the_gap_in_the_drawing(
    name: str, mode: str, aisle: float, between: tuple[str, ...]
) -> None:
    """The narrowest place lies between the things that the coordinates put there; basis: derived."""
    whole = facts(name).whole.in_case(mode)
    assert whole.aisle_width == pytest.approx(aisle, abs=0.021)
    assert all(thing in whole.aisle_narrowest for thing in between)


def test_the_step_shuts_the_cupboards_by_night_only() -> None:
    """Hung up by day, the step lets galley and toilet cabinet open; standing by night it is in their way."""
    van = facts("fieldwork")
    for name in ("galley-cabinet", "toilet-cabinet"):
        cabinet = van.subject(name)
        assert cabinet.in_case("day").doors_blocked_by == ()
        assert cabinet.in_case("night").doors_blocked_by == ("bed step",)
        assert cabinet.opens_against == ()


def test_the_bunk_is_left_over_the_seats() -> None:
    """From the bunk the side door is reached at once, the rear doors through the aisle and over the bed."""
    ways = {way.name: way for way in facts("winter-tourer").subject("bunk").traced_ways}
    assert ways["Side door"].length < ways["Rear doors"].length
    assert ways["Rear doors"].width == pytest.approx(21 * 0.0254, abs=0.021)
    assert "Rear bed" in ways["Rear doors"].over
