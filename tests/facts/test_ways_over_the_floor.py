"""Where a way begins, how near it must come, how long and how wide it is: counted on the grid by hand."""

import pytest
from van import van_facts

from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.ways import Passage, modes_of, passage, room_known, start_of, too_narrow, worded
from specreg.space.grid import Rows, either
from specreg.space.polygon import rectangle
from specreg.space.walkway import Walkway

ROOM = """
vehicle: {interior: {starts: 1.2 m, length: 3.6 m, width: 1.8 m, height: 1.9 m}}
modes: {driving: {}, night: {}}
components:
  driver-seat: ~
  bench: {kind: bench, places: 1, used_under_way: true, seat_height: 450 mm, at: [3.2 m, -0.9 m, 0 m], size: [0.5 m, 0.6 m, 0.9 m]}
  side-door: {kind: exit, form: sliding door, where: side, opens_from_inside: true, opening_width: 1 m,
    opening_height: 1.6 m, at: [1.4 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}
"""
WALL = "components: {wall: {kind: cabinet, at: [%s m, %s m, 0 m], size: [%s m, %s m, 1.2 m]}}"


def van(*over: str) -> Facts:
    """A room with a bench at the left and a door at the right, farther ahead."""
    return van_facts(ROOM, *over)


def way(*over: str) -> Passage:
    """The way from the bench to the door."""
    found = passage(van(*over).subject("bench"), "side-door", "driving")
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("over", "width", "moves"),
    [
        # Cells of 20 mm, a person of 20 × 20. The first row of the bench is the 100th, of the door's reach the last is the
        # 64th: from the 81st to the 64th are 17 moves ahead. The bench ends at the 29th column, the reach begins at the
        # 85th: from the 29th to the 66th are 37 moves across.
        ("{}", 1.0, 17 + 37),
        # Through 0.3 m by the right wall a person of 15 × 15, past a cabinet that ends at the 89th row: from the 90th row on
        # 26 moves ahead, and to the gap, which begins at the 75th column, 46 across.
        (WALL % (2.6, -0.9, 0.4, 1.5), 0.3, 26 + 46),
        # Through 0.46 m at the same place still one of 20 × 20, from the 90th row on; the gap begins at the 67th column.
        (WALL % (2.6, -0.9, 0.4, 1.34), 0.46, 26 + 38),
        (WALL % (2.6, -0.9, 0.4, 1.8), 0.0, 0),
    ],
)  # fmt: skip
def test_width_and_length_of_a_way(over: str, width: float, moves: int) -> None:
    """As wide as its narrowest place, up to 1 m; as long as a person of 0.4 m walks, or as wide a one as passes."""
    found = way(over)
    assert found.width == pytest.approx(width)
    assert found.length == pytest.approx(moves * 0.02)
    assert found.usable is (width >= 0.4)
    assert (found.narrowest is None) is (width in (0.0, 1.0))
    assert found.over == ()


def test_of_two_places_as_narrow_the_one_nearer_the_door_is_named() -> None:
    """0.4 m between either cabinet and the right wall: from the bench the middle of both begins with the second."""
    found = way(
        "components: {bench: {at: [4.3 m, -0.9 m, 0 m]}, side-door: {size: [0.8 m, 20 mm, 1.6 m]}, "
        "first: {kind: cabinet, at: [3.7 m, -0.9 m, 0 m], size: [0.1 m, 1.4 m, 1.2 m]}, "
        "second: {kind: cabinet, at: [2.9 m, -0.9 m, 0 m], size: [0.1 m, 1.4 m, 1.2 m]}}"
    )
    assert found.width == pytest.approx(0.4)
    assert found.narrowest is not None
    behind, beside = found.narrowest
    assert beside == ("second",)
    # A person of 0.4 m stands beside it with the middle from 2.7 m to 3.2 m behind the front axle.
    assert behind == pytest.approx(2.95, abs=0.25)


def test_a_way_through_a_slit_is_walked_by_somebody_as_thin() -> None:
    """20 mm are one cell: still a width, and a length."""
    found = way(WALL % (2.6, -0.9, 0.4, 1.78))
    assert found.width == pytest.approx(0.02)
    assert found.length > 0


@pytest.mark.parametrize(
    ("opening", "depth", "leads"),
    [
        ("kind: exit, form: sliding door", 0.08, True),
        ("kind: exit, form: sliding door", 0.12, False),
        ("kind: exit, form: hinged door", 0.08, True),
        ("kind: exit, form: hinged door", 0.12, False),
        ("kind: exit, form: window", 0.28, True),
        ("kind: exit, form: window", 0.32, False),
        ("kind: exit", 0.28, True),
        ("kind: opening-window", 0.28, True),
        ("kind: opening-window", 0.32, False),
    ],
)
def test_how_near_a_way_must_come(opening: str, depth: float, leads: bool) -> None:
    """To a door within 0.1 m, to a window within 0.3 m: a cabinet along the whole opening is as deep as that, or deeper."""
    over = (
        f"components: {{side-door: ~, way: {{{opening}, at: [1.4 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}}}}",
        WALL % (1.2, 0.9 - depth, 1.6, depth),
    )
    found = passage(van(*over).subject("bench"), "way", "driving")
    assert found is not None
    assert (found.width > 0) is leads


BUNK = (
    "components: {bunk: {kind: bed, SIDES at: [2.4 m, -0.3 m, 1.3 m], size: [1.2 m, 0.6 m, 0.1 m]}, bench: ~}"
)
FRONT, REAR = (2.0, -0.3, 0.4, 0.6), (3.6, -0.3, 0.4, 0.6)
LEFT, RIGHT, BELOW = (2.4, -0.7, 1.2, 0.4), (2.4, 0.3, 1.2, 0.4), (2.4, -0.3, 1.2, 0.6)


@pytest.mark.parametrize(
    ("sides", "boxes"),
    [
        ("open_sides: [front],", [FRONT]),
        ("open_sides: [rear],", [REAR]),
        ("open_sides: [left],", [LEFT]),
        ("open_sides: [right],", [RIGHT]),
        ("open_sides: [below],", [BELOW]),
        ("open_sides: [front, left],", [FRONT, LEFT]),
        ("", [FRONT, REAR, LEFT, RIGHT]),
    ],
)
def test_where_one_sets_foot_from_a_high_bed(
    sides: str, boxes: list[tuple[float, float, float, float]]
) -> None:
    """Within 0.4 m of its open sides, as long as these are; over all four where nothing is said."""
    there = van(BUNK.replace("SIDES", sides))
    walk, solid = modes_of(there).walk("night"), modes_of(there).solid("night", "bunk")
    assert walk is not None and solid is not None
    expected = walk.grid.none
    for x, y, along, across in boxes:
        expected = either(expected, walk.grid.covered(rectangle(x, y, along, across)))
    assert start_of(walk, there.subject("bunk"), solid) == expected


def cells(walk: Walkway, box: tuple[float, float, float, float]) -> Rows:
    """The cells of a box in an empty room."""
    return walk.grid.covered(rectangle(*box))


def test_where_one_sets_out_from_a_low_bed() -> None:
    """From the bed itself: what one crawls over is part of the floor."""
    there = van(BUNK.replace("SIDES", "surface_height: 500 mm,").replace("1.3 m]", "0.4 m]"))
    walk, solid = modes_of(there).walk("night"), modes_of(there).solid("night", "bunk")
    assert walk is not None and solid is not None
    assert start_of(walk, there.subject("bunk"), solid) == cells(walk, BELOW)


BED = "kind: bed, surface_height: 600 mm, at: [3.8 m, -0.6 m, 0 m], size: [0.5 m, 0.7 m, 0.6 m]"
HATCH = "kind: exit, form: hatch, at: [%s m, %s m, %s m], size: [0.4 m, 0.4 m, 50 mm]"


@pytest.mark.parametrize(
    ("bed", "hatch", "from_it"),
    [
        (BED, HATCH % (3.9, -0.4, 1.9), True),
        (BED, HATCH % (3.11, -0.4, 1.9), True),
        (BED, HATCH % (3.09, -0.4, 1.9), False),
        (BED, HATCH % (4.59, -0.4, 1.9), True),
        (BED, HATCH % (4.61, -0.4, 1.9), False),
        (BED, HATCH % (3.9, 0.39, 1.9), True),
        (BED, HATCH % (3.9, 0.41, 1.9), False),
        (BED, HATCH % (3.9, -1.29, 1.9), True),
        (BED, HATCH % (3.9, -1.31, 1.9), False),
        (BED, HATCH % (3.9, -0.4, 0.56), True),
        (BED, HATCH % (3.9, -0.4, 0.54), False),
        (BED, HATCH.replace("50 mm", "0.25 m") % (3.9, -0.4, 0.35), False),
        (BED, HATCH % (4.6, -0.4, 1.9), True),
        (BED, HATCH.replace("size: [0.4 m", "size: [0.5 m") % (3.0, -0.4, 1.9), True),
        (BED, HATCH.replace("hatch", "window") % (3.9, -0.4, 1.9), True),
        (BED, HATCH.replace("exit, form: hatch", "roof-hatch") % (3.9, -0.4, 1.9), True),
        (BED, HATCH.replace("hatch", "hinged door") % (3.9, -0.4, 1.9), False),
        (BED, HATCH.replace("hatch", "sliding door") % (3.9, -0.4, 1.9), False),
        (BED.replace("bed, surface_height", "bench, seat_height"), HATCH % (3.9, -0.4, 1.9), False),
    ],
)
def test_a_hatch_over_a_bed_is_reached_from_it(bed: str, hatch: str, from_it: bool) -> None:
    """Up to 0.3 m from the bed, beside it or above, and higher than its top; by a door one walks, from a bench one leans."""
    there = van(f"components: {{bed: {{{bed}}}, hatch: {{{hatch}}}}}")
    found = passage(there.subject("bed"), "hatch", "driving")
    assert found is not None
    assert (found.start == found.goal) is from_it


@pytest.mark.parametrize(
    ("over", "wrong"),
    [
        ("{}", None),
        (WALL % (2.6, -0.9, 0.4, 1.8), "no way to it"),
        (WALL % (2.6, -0.9, 0.4, 1.38), None),
        ("components: {side-door: {at: ~}}", None),
    ],
)
def test_what_is_wrong_with_a_way(over: str, wrong: str | None) -> None:
    """Nothing, or that there is none; of one that cannot be traced it is said that it is taken as free."""
    there = van(over)
    with there.recording() as frame:
        assert too_narrow(there.subject("bench"), "side-door", "driving") == wrong
    assumed = "bench: its way to side door is free; places are wanting"
    assert (assumed in frame.assumptions) is ("at: ~" in over)


def test_a_way_that_is_too_narrow_says_where() -> None:
    """0.38 m between the wall at 2.6 to 3.0 m and the side of the van."""
    told = too_narrow(van(WALL % (2.6, -0.9, 0.4, 1.42)).subject("bench"), "side-door", "driving")
    assert told is not None
    behind, _, beside = told.removeprefix("too narrow a way, ").partition(" mm behind the front axle, by ")
    assert 2400 <= float(behind) <= 3200 and beside == "wall"


def test_a_way_that_is_narrow_at_no_place_of_its_own() -> None:
    """Two slits of 40 mm, the second 20 mm farther right: 20 mm pass, and every cell of the way is within 40 mm."""
    boxes = ((2.2, -0.9, 0.9), (2.2, 0.04, 0.86), (2.6, -0.9, 0.92), (2.6, 0.06, 0.84))
    cabinets = ", ".join(
        f"c{n}: {{kind: cabinet, at: [{x} m, {y} m, 0 m], size: [0.4 m, {across} m, 1.2 m]}}"
        for n, (x, y, across) in enumerate(boxes)
    )
    there = van(f"components: {{{cabinets}, side-door: {{size: [0.5 m, 20 mm, 1.6 m]}}}}")
    assert too_narrow(there.subject("bench"), "side-door", "driving") == "too narrow a way"


@pytest.mark.parametrize(
    ("beside", "words"),
    [
        ((), "the walls"),
        (("wall",), "wall"),
        (("wall", "bench"), "wall and bench"),
        (("wall", "shelf"), "wall"),
        (("shelf", "bench"), "shelf and bench"),
        (("lamp", "wall"), "wall"),
    ],
)
def test_a_narrow_place_in_words(beside: tuple[str, ...], words: str) -> None:
    """In millimetres behind the front axle; what is fixed to another thing there, even over a third, is not named."""
    there = van(
        WALL % (2.6, -0.9, 0.4, 1.42),
        "components: {shelf: {kind: shelf, fixed_to: wall}, lamp: {kind: shelf, fixed_to: shelf}}",
    )
    assert worded(there, (2.5, beside)) == f"2500 mm behind the front axle, by {words}"


@pytest.mark.parametrize(
    ("interior", "fields"),
    [
        ("{starts: ~}", ("vehicle.interior.starts",)),
        ("{width: ~, height: ~}", ("vehicle.interior.width", "vehicle.interior.height")),
        ("{length: ~}", ("vehicle.interior.length",)),
    ],
)
def test_a_room_that_is_not_known_is_asked_for(interior: str, fields: tuple[str, ...]) -> None:
    """By what is not stated of it; there is no walkway in it, and no way."""
    there = van(f"vehicle: {{interior: {interior}}}")
    with pytest.raises(Missing) as raised:
        room_known(there)
    assert raised.value.fields == fields
    assert modes_of(there).walk("night") is None
    assert passage(there.subject("bench"), "side-door", "driving") is None


@pytest.mark.parametrize("over", ["components: {bench: {at: ~}}", "components: {side-door: {size: ~}}"])
def test_without_both_places_there_is_no_way_to_trace(over: str) -> None:
    """Of the seat and of the door."""
    assert passage(van(over).subject("bench"), "side-door", "driving") is None


def test_each_mode_has_its_own_solids_and_ways() -> None:
    """A wall that is there by night and away under way; each opening and each seat has a way of its own."""
    there = van(
        "modes: {driving: {wall: away}, night: {wall: there}}\n"
        "components: {wall: {kind: cabinet, shapes: {away: {at: [4 m, -0.9 m, 0 m], size: [0.4 m, 0.4 m, 1.2 m]}, "
        "there: {at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 1.2 m]}}}, "
        "stool: {kind: bench, places: 1, at: [1.4 m, 0.3 m, 0 m], size: [0.4 m, 0.4 m, 0.4 m]}, "
        "rear-door: {kind: exit, form: hinged door, at: [4.8 m, -0.75 m, 0 m], size: [20 mm, 1.5 m, 1.7 m]}}"
    )
    widths = {
        (thing, door, mode): found.width > 0
        for thing in ("bench", "stool")
        for door in ("side-door", "rear-door")
        for mode in ("driving", "night")
        if (found := passage(there.subject(thing), door, mode)) is not None
    }
    assert widths == {
        ("bench", "side-door", "driving"): True, ("bench", "side-door", "night"): False,
        ("bench", "rear-door", "driving"): True, ("bench", "rear-door", "night"): True,
        ("stool", "side-door", "driving"): True, ("stool", "side-door", "night"): True,
        ("stool", "rear-door", "driving"): True, ("stool", "rear-door", "night"): False,
    }  # fmt: skip
    modes = modes_of(there)
    assert modes is modes_of(there)
    for mode, x in (("driving", 4.0), ("night", 2.6)):
        wall = modes.solid(mode, "wall")
        assert wall is not None and wall.span[0] == x
    assert modes.solid("night", "nobody") is None


def test_what_is_climbed_over_is_told_in_the_order_of_the_way() -> None:
    """From the bench first over the nearer of two bunks that fill the whole width, then over the farther."""
    bunk = "kind: bed, surface_height: 500 mm, size: [0.3 m, 1.8 m, 0.5 m], at: [%s m, -0.9 m, 0 m]"
    bunks = f"components: {{far: {{{bunk % 2.6}}}, near: {{{bunk % 2.9}}}}}"
    assert way("components: {side-door: {size: [0.5 m, 20 mm, 1.6 m]}}", bunks).over == ("near", "far")
