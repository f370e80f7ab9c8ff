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
        ("components: {rear-door: {where: side, size: ~}}", ("side door", "rear door"), 1),
        ("components: {rear-door: {opening_width: 432 mm, opening_height: 610 mm}}", ("side door", "rear door"), 2),
        ("components: {rear-door: {opening_width: 610 mm, opening_height: 432 mm}}", ("side door", "rear door"), 2),
        ("components: {rear-door: {opening_width: 1.7 m, opening_height: 431 mm}}", ("side door",), 1),
        (HATCH.replace("600 mm", "432 mm").replace("700 mm", "610 mm"), ("side door", "rear door", "hatch"), 3),
        (HATCH.replace("clear_width: 600 mm, ", ""), ("side door", "rear door"), 2),
        (HATCH.replace("clear_height: 700 mm, ", ""), ("side door", "rear door"), 2),
        (HATCH.replace("worked_from_inside: hand", ""), ("side door", "rear door"), 2),
        (HATCH.replace("hand}", "hand, blocked_by: [rack]}, rack: {kind: roof-rack}"), ("side door", "rear door"), 2),
        (HATCH.replace("roof-hatch, surface: roof", "opening-window, surface: rear doors"),
         ("side door", "rear door", "hatch"), 2),
        (HATCH.replace("roof-hatch, surface: roof", "opening-window, surface: left wall"),
         ("side door", "rear door", "hatch"), 2),
        (HATCH.replace("roof-hatch, surface: roof", "opening-window, surface: right wall"),
         ("side door", "rear door", "hatch"), 2),
        (HATCH.replace("roof-hatch, surface: roof", "opening-window, surface: side door"),
         ("side door", "rear door", "hatch"), 2),
        (HATCH, ("side door", "rear door", "hatch"), 3),
        (HATCH.replace("hand", "motor"), ("side door", "rear door"), 2),
        (HATCH.replace("700 mm", "600 mm"), ("side door", "rear door"), 2),
        (WARDROBE.replace("WIDTH", "0.76 m"), ("side door",), 1),
        (WARDROBE.replace("WIDTH", "0.74 m"), ("side door", "rear door"), 2),
        (WARDROBE.replace("WIDTH", "0.76 m").replace("components: {", HATCH[:-1] + ", "), ("side door", "hatch"), 2),
        ("components: {wall: {kind: partition, parts: [cab, living]}, side-door: {where: cab}}",
         ("rear door",), 1),
        ("components: {wall: {kind: partition, parts: [cab, living], opening_width: 500 mm}, "
         "side-door: {where: cab}}", ("side door", "rear door"), 2),
        ("components: {wall: {kind: partition, parts: [cab, living]}}", ("side door", "rear door"), 2),
        ("components: {wall: {kind: partition, parts: [living, rear]}, side-door: {where: cab}}",
         ("side door", "rear door"), 2),
    ],
)  # fmt: skip
def test_ways_out(over: str, out: tuple[str, ...], count: int) -> None:
    """Each datum just inside and just outside what makes a way out."""
    found = bed(over)
    assert found.ways_out == out
    assert found.independent_ways_out == count


@pytest.mark.parametrize(
    ("thing", "shut"),
    [
        ("kind: cabinet", True),
        ("kind: cabinet, fixed_to: rear-door", False),
        ("kind: cabinet, fixed_to: side-door", True),
        ("kind: curtain", False),
        ("kind: pop-top", False),
        ("kind: awning", False),
        ("kind: bike-carrier", False),
    ],
)
def test_what_lets_people_pass_shuts_nothing(thing: str, shut: bool) -> None:
    """Before the whole rear door: a curtain is drawn aside, what is fixed to the door moves with it, awnings are outside."""
    there = f"components: {{it: {{{thing}, at: [4.95 m, -0.75 m, 0 m], size: [50 mm, 1.5 m, 1.8 m]}}}}"
    assert bed(there).ways_shut == (("rear door by it",) if shut else ())


CUSHIONS = "components: {cushions: {kind: bench, places: 2, at: [4.9 m, -0.9 m, 0 m], size: [0.1 m, 1.8 m, 1.2 m]}%s}"


@pytest.mark.parametrize(
    ("over", "by", "shut"),
    [
        (
            "components: {bed: {shapes: {made: {at: [3 m, -0.9 m, 0 m], size: [2 m, 1.8 m, 1.2 m]}}}}",
            "bed",
            False,
        ),
        (CUSHIONS % "", "cushions", False),
        (CUSHIONS % ", bed: {made_from: []}", "cushions", True),
    ],
)
def test_a_bed_does_not_shut_its_own_ways(over: str, by: str, shut: bool) -> None:
    """Neither it nor the cushions that it is made from, though both stand before the rear door; other cushions do."""
    assert (f"rear door by {by}" in bed(over).ways_shut) is shut


def test_everything_that_shuts_an_exit_is_named() -> None:
    """What the spec says, the wall before the cab, what stands before it: of all exits that are shut."""
    over = (
        "components: {carrier: {kind: bike-carrier}, wall: {kind: partition, parts: [cab, living]}, side-door: {where: cab}, "
        "rear-door: {shut_by: [carrier]}}"
    )
    assert bed(over, WARDROBE.replace("WIDTH", "1.5 m")).ways_shut == (
        "side door by wall",
        "rear door by carrier, wardrobe",
    )


@pytest.mark.parametrize(("shape", "shut"), [("open", ()), ("shut", ("rear door by grille",))])
def test_what_is_put_aside_by_night_shuts_nothing(shape: str, shut: tuple[str, ...]) -> None:
    """A grille named as shutting the door does so in the shape that blocks, and not in the one that lets pass."""
    grille = (
        "components: {grille: {kind: partition, shapes: {open: {blocks: false}, shut: {blocks: true}}}, "
        "rear-door: {shut_by: [grille]}}"
    )
    assert bed(grille, f"modes: {{night: {{grille: {shape}}}}}").ways_shut == shut


def test_a_thing_that_blocks_nothing_by_night_stands_before_no_door() -> None:
    """A wardrobe that is drawn aside, or whose place or size nobody tells, covers nothing."""
    whole = WARDROBE.replace("WIDTH", "1.5 m")
    assert bed(whole).ways_shut == ("rear door by wardrobe",)
    for over in ("at: ~", "size: ~", "shapes: {away: {blocks: false}}, usual_shape: away"):
        assert bed(whole, f"components: {{wardrobe: {{{over}}}}}").ways_shut == ()


@pytest.mark.parametrize(
    ("at", "size", "share"),
    [
        ((0.5, 0.0, 0.25), (1.0, 0.1, 1.0), 0.5 * 0.75),
        ((-0.5, 0.0, 0.0), (1.0, 0.1, 1.0), 0.5),
        ((0.0, 0.0, 0.0), (2.0, 0.1, 2.0), 1.0),
        ((0.25, 0.11, 0.25), (0.5, 0.1, 0.5), 0.25),
        ((0.25, 0.13, 0.25), (0.5, 0.1, 0.5), 0.0),
        ((0.25, 0.02 + 0.1, 0.25), (0.5, 0.1, 0.5), 0.0),
        ((0.25, -0.19, 0.25), (0.5, 0.1, 0.5), 0.25),
        ((0.25, -0.21, 0.25), (0.5, 0.1, 0.5), 0.0),
        ((1.0, 0.0, 0.0), (1.0, 0.1, 1.0), 0.0),
        ((0.0, 0.0, 1.01), (1.0, 0.1, 1.0), 0.0),
    ],
)
def test_share_of_an_opening_by_hand(at: tuple[float, ...], size: tuple[float, ...], share: float) -> None:
    """An opening of 1 × 1 m and 20 mm thick in a side wall; a thing counts up to 0.1 m before and behind it."""
    x, y, z = at
    along, across, up = size
    opening = Box((0.0, 0.0, 0.0), (1.0, 0.02, 1.0))
    assert covered_share(opening, Box((x, y, z), (along, across, up))) == pytest.approx(share)


def test_sides_of_windows() -> None:
    """A window in the left wall is beside the side door: without places one; on the roof, or where nothing is said, it is another."""
    window = HATCH.replace("roof-hatch, surface: roof", "opening-window, surface: left wall")
    assert bed(window, "components: {rear-door: ~}").independent_ways_out == 1
    assert (
        bed(window.replace("left wall", "right wall"), "components: {rear-door: ~}").independent_ways_out == 1
    )
    assert (
        bed(window.replace("left wall", "side door"), "components: {rear-door: ~}").independent_ways_out == 1
    )
    assert (
        bed(window.replace("left wall", "rear doors"), "components: {side-door: ~}").independent_ways_out == 1
    )
    assert (
        bed(window.replace(", surface: left wall", ""), "components: {rear-door: ~}").independent_ways_out
        == 2
    )


@pytest.mark.parametrize(
    ("window", "own", "out"),
    [
        ("450 mm", "", True),
        ("400 mm", "", False),
        ("400 mm", ", opening_width: 900 mm, opening_height: 440 mm", True),
        ("450 mm", ", opening_width: 900 mm, opening_height: 400 mm", False),
    ],
)
def test_an_exit_that_is_a_window_takes_its_size_where_it_states_none(
    window: str, own: str, out: bool
) -> None:
    """The window's clear 900 × 450 mm, or 900 × 400 mm; its own opening where it has one."""
    over = (
        f"components: {{window: {{kind: opening-window, surface: left wall, clear_width: 900 mm, clear_height: {window}, "
        f"worked_from_inside: hand}}, way: {{kind: exit, form: window, where: side, opens_from_inside: true, is_part: window{own}}}}}"
    )
    assert ("way" in bed(over).ways_out) is out


def test_an_exit_that_is_part_of_nothing_that_is_listed_states_its_own_size() -> None:
    """Else it is asked for."""
    lost = "components: {side-door: ~, way: {kind: exit, opens_from_inside: true, is_part: elsewhere}}"
    with pytest.raises(Missing) as raised:
        _ = bed(lost).independent_ways_out
    assert raised.value.fields == ("way.opening_width",)


def test_all_that_cannot_be_judged_is_asked_for() -> None:
    """Of both doors, in their order; one that is known and no other is an open question, two that are known are none."""
    over = "components: {side-door: {opening_width: ~}, rear-door: {opens_from_inside: ~}}"
    with pytest.raises(Missing) as raised:
        _ = bed(over).independent_ways_out
    assert raised.value.fields == ("side-door.opening_width", "rear-door.opens_from_inside")
    assert bed("components: {side-door: ~}").independent_ways_out == 1
    assert bed("components: {side-door: ~, rear-door: {opens_from_inside: false}}").independent_ways_out == 0


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
    nowhere = Way("b", "b", "side", None, ())
    assert independent([first, nowhere]) == independent([nowhere, first]) == 1


def test_exits_are_as_far_apart_as_their_middles() -> None:
    """One from 0 to 1 m, one from −3 to 4 m: both have their middle at 0.5 m, however far their corners are apart."""
    first = Way("a", "a", "side", Box((0, 0, 0), (1, 0, 1)), ())
    wide = Way("b", "b", "side", Box((-3, 0, 0), (7, 0, 1)), ())
    assert independent([first, wide]) == 1
    assert Box((1, 2, 3), (2, 4, 6)).middle == (2, 4, 6)


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
