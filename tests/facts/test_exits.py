"""Ways out of a bed at night: what opens, what is large enough, what shuts it, which are lost together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from van import van_facts

from specreg.facts.engine import Subject
from specreg.facts.exits import Box, Way, covered_share, independent
from specreg.facts.missing import Missing

SLEEP = """
modes: {night: {bed: made}}
components:
  bed: {kind: bed, places: 2, made_from: [cushions], usual_shape: stowed, shapes: {
    stowed: {at: [3 m, -0.9 m, 1.5 m], size: [1.9 m, 1.8 m, 0.2 m]},
    made: {at: [3 m, -0.9 m, 0.6 m], size: [1.9 m, 1.8 m, 0.2 m]}}}
  side-door: {kind: exit, form: sliding door, where: side, opens_from_inside: true, opening_width: 1 m,
    opening_height: 1.6 m, at: [1.5 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}
  rear-door: {kind: exit, form: hinged door, where: rear, opens_from_inside: true, opening_width: 1.5 m,
    opening_height: 1.7 m, at: [5 m, -0.75 m, 0 m], size: [20 mm, 1.5 m, 1.7 m]}
"""
HATCH = (
    "components: {hatch: {kind: roof-hatch, surface: roof, clear_width: 600 mm, clear_height: 700 mm, "
    "worked_from_inside: hand}}"
)
WARDROBE = "components: {wardrobe: {kind: wardrobe, at: [4.9 m, -0.75 m, 0 m], size: [0.1 m, WIDTH, 1.8 m]}}"


def bed(*over: str) -> Subject:
    """The bed of the small van with two doors."""
    return van_facts(SLEEP, *over).subject("bed")


@pytest.mark.parametrize(
    ("over", "out", "count"),
    [
        ("{}", ("side door", "rear door"), 2),
        ("components: {rear-door: {opens_from_inside: false}}", ("side door",), 1),
        ("components: {rear-door: {needs_power: true}}", ("side door",), 1),
        ("components: {rear-door: {opening_width: 431 mm}}", ("side door",), 1),
        ("components: {rear-door: {opening_width: 433 mm}}", ("side door", "rear door"), 2),
        ("components: {rear-door: {opening_width: 433 mm, opening_height: 609 mm}}", ("side door",), 1),
        ("components: {carrier: {kind: bike-carrier}, rear-door: {shut_by: [carrier]}}", ("side door",), 1),
        ("components: {rear-door: {where: side}}", ("side door", "rear door"), 2),
        ("components: {rear-door: {where: side, at: ~}}", ("side door", "rear door"), 1),
        (HATCH, ("side door", "rear door", "hatch"), 3),
        (HATCH.replace("hand", "motor"), ("side door", "rear door"), 2),
        (HATCH.replace("700 mm", "600 mm"), ("side door", "rear door"), 2),
        (WARDROBE.replace("WIDTH", "0.76 m"), ("side door",), 1),
        (WARDROBE.replace("WIDTH", "0.74 m"), ("side door", "rear door"), 2),
        ("components: {wall: {kind: partition, parts: [cab, living]}, side-door: {where: cab}}",
         ("rear door",), 1),
        ("components: {wall: {kind: partition, parts: [cab, living], opening_width: 500 mm}, "
         "side-door: {where: cab}}", ("side door", "rear door"), 2),
    ],
)  # fmt: skip
def test_ways_out(over: str, out: tuple[str, ...], count: int) -> None:
    """Each datum just inside and just outside what makes a way out."""
    found = bed(over)
    assert found.ways_out == out
    assert found.independent_ways_out == count


def test_what_shuts_an_exit_is_named() -> None:
    """By the thing that stands before it."""
    assert bed(WARDROBE.replace("WIDTH", "1.5 m")).ways_shut == ("rear door by wardrobe",)


def test_a_thing_that_folds_away_by_night_shuts_nothing() -> None:
    """Its shape in the mode `night` counts, not the one by day."""
    table = (
        "{modes: {night: {table: down}}, components: {table: {kind: table, shapes: {"
        "up: {at: [4.9 m, -0.75 m, 0 m], size: [0.1 m, 1.5 m, 1.7 m]}, "
        "down: {at: [4.9 m, -0.75 m, 0 m], size: [0.1 m, 1.5 m, 0.1 m]}}}}}"
    )
    assert bed(table).independent_ways_out == 2
    assert bed(table, "modes: {night: {table: up}}").independent_ways_out == 1


def test_an_exit_of_which_nothing_is_said_leaves_the_answer_open() -> None:
    """Unless two others are already known."""
    over = "components: {rear-door: {opens_from_inside: ~}}"
    with pytest.raises(Missing) as raised:
        _ = bed(over).independent_ways_out
    assert raised.value.fields == ("rear-door.opens_from_inside",)
    assert bed(over, HATCH).independent_ways_out == 2


def test_without_a_mode_for_the_night_nothing_is_said() -> None:
    """A bed that is put away by day does not tell how the van stands at night."""
    with pytest.raises(Missing) as raised:
        _ = bed("modes: {night: ~}").independent_ways_out
    assert raised.value.fields == ("modes.night",)


def test_a_window_listed_as_an_exit_counts_once() -> None:
    """The exit takes its clear size from the window that it is."""
    over = (
        "components: {window: {kind: opening-window, surface: left wall, clear_width: 900 mm, "
        "clear_height: 450 mm, worked_from_inside: hand}, "
        "way: {kind: exit, form: window, where: side, opens_from_inside: true,"
        " is_part: window}}"
    )
    assert bed(over).ways_out == ("side door", "rear door", "way")


PLACE = st.tuples(st.floats(0, 5), st.floats(-1, 1), st.floats(0, 2))
SIZE = st.tuples(st.floats(0.05, 1), st.floats(0.05, 1), st.floats(0.05, 1))
BOX = st.builds(Box, PLACE, SIZE)


@given(BOX, BOX)
def test_a_covered_share_is_a_share(opening: Box, thing: Box) -> None:
    """Between nothing and the whole opening; the opening's own box covers all of it."""
    assert 0 <= covered_share(opening, thing) <= 1 + 1e-9
    assert covered_share(opening, opening) == pytest.approx(1)


WAY = st.builds(Way, st.just("x"), st.just("x"), st.sampled_from(["side", "rear", "roof"]), BOX, st.just(()))


@given(st.lists(WAY, max_size=6), WAY)
def test_one_exit_more_adds_at_most_one_way(ways: list[Way], more: Way) -> None:
    """There is one way as soon as there is an exit, and never more ways than exits."""
    assert independent([*ways, more]) <= independent(ways) + 1
    assert 1 <= independent([*ways, more]) <= len(ways) + 1


def test_a_bed_that_never_folds_needs_no_mode_for_the_night() -> None:
    """It stands at night as by day: one shape is the shape."""
    fixed = "components: {bed: {made_from: [], usual_shape: made, shapes: {stowed: ~}}}"
    assert bed(fixed, "modes: {night: ~}").independent_ways_out == 2


@pytest.mark.parametrize(("width", "shut"), [("0.74 m", False), ("0.75 m", True), ("0.76 m", True)])
def test_half_of_an_opening_is_shut(width: str, shut: bool) -> None:
    """A wardrobe before exactly half of the 1.5 m of the rear door shuts it."""
    assert (bed(WARDROBE.replace("WIDTH", width)).ways_shut != ()) is shut


@pytest.mark.parametrize(("x", "by"), [("4.79 m", "too narrow a way"), ("4.81 m", "wardrobe")])
def test_only_what_stands_close_shuts(x: str, by: str) -> None:
    """A wardrobe 0.1 m deep ends 11 cm or 9 cm before the door: within 10 cm it shuts it, else it stands in the way."""
    (shut,) = bed(WARDROBE.replace("WIDTH", "1.5 m").replace("4.9 m", x)).ways_shut
    assert shut.startswith(f"rear door by {by}")


@pytest.mark.parametrize(("apart", "groups"), [(0.99, 1), (1.0, 2), (1.01, 2)])
def test_from_one_metre_apart_two_exits_are_two(apart: float, groups: int) -> None:
    """Middle to middle, on one side; on two sides they are two wherever they are; without a place they are one."""
    first = Way("a", "a", "side", Box((0, 0, 0), (1, 0, 1)), ())
    second = Way("b", "b", "side", Box((apart, 0, 0), (1, 0, 1)), ())
    assert independent([first, second]) == groups
    assert independent([first, Way("b", "b", "rear", second.box, ())]) == 2
    assert independent([first, Way("b", "b", "side", None, ())]) == 1


def test_a_chain_of_near_exits_is_one() -> None:
    """Each 0.9 m from the next: lost together, though the outer ones are 1.8 m apart, in whatever order they come."""
    chain = [Way(str(n), str(n), "side", Box((0.9 * n, 0, 0), (1, 0, 1)), ()) for n in range(3)]
    for order in ([0, 1, 2], [0, 2, 1], [1, 2, 0]):
        assert independent([chain[n] for n in order]) == 1


def test_an_exit_that_cannot_be_judged_is_no_way_out_and_repeats_no_other() -> None:
    """The rear door says nothing of itself; side door and hatch are the ways, each once."""
    assert bed("components: {rear-door: {opens_from_inside: ~}}", HATCH).ways_out == ("side door", "hatch")


def test_one_bed_that_folds_is_enough_to_ask_for_the_night() -> None:
    """Beside a fixed bed, too."""
    fixed = "components: {bunk: {kind: bed, at: [1 m, -0.9 m, 1 m], size: [1.9 m, 0.6 m, 0.2 m]}}"
    with pytest.raises(Missing) as raised:
        _ = bed(fixed, "modes: {night: ~}").independent_ways_out
    assert raised.value.fields == ("modes.night",)


def test_what_has_no_shape_shuts_what_it_is_said_to_shut() -> None:
    """What has no box of its own is taken at the spec's word, at night as by day."""
    shut = "components: {lock: {kind: ignition-signal}, rear-door: {shut_by: [lock]}}"
    assert bed(shut).ways_shut == ("rear door by lock",)
