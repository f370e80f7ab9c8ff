"""What is reached from seats and beds, what hangs over heads, what a turned seat meets: by hand from coordinates."""

import pytest
from van import van_facts

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing

ROOM = """
vehicle: {interior: {starts: 1.2 m, length: 3.6 m, width: 1.8 m, height: 1.9 m}}
modes: {driving: {}, night: {}}
components:
  driver-seat: ~
  bench: {kind: bench, places: 1, used_under_way: true, seat_height: 450 mm, at: [3.2 m, -0.9 m, 0 m], size: [0.5 m, 0.6 m, 0.9 m]}
  bed: {kind: bed, places: 1, surface_height: 600 mm, at: [3.8 m, -0.9 m, 0 m], size: [0.9 m, 0.9 m, 0.6 m]}
  side-door: {kind: exit, form: sliding door, where: side, opens_from_inside: true, needs_power: false, opening_width: 1 m,
    opening_height: 1.6 m, at: [1.4 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}
  rear-door: {kind: exit, form: hinged door, where: rear, opens_from_inside: true, needs_power: false, opening_width: 1.5 m,
    opening_height: 1.7 m, at: [4.8 m, -0.75 m, 0 m], size: [20 mm, 1.5 m, 1.7 m]}
  bottle: {kind: extinguisher, content: 2 kg, at: [1.2 m, -0.9 m, 0.3 m], size: [0.1 m, 0.1 m, 0.4 m]}
"""
WALL = "components: {wall: {kind: cabinet, at: [%s m, -0.9 m, 0 m], size: [%s m, %s m, 1.2 m]}}"


def there(name: str, *over: str) -> Subject:
    """A thing in the small room."""
    return van_facts(ROOM, *over).subject(name)


@pytest.mark.parametrize(
    ("over", "reached"),
    [
        ("{}", ("side door", "rear door")),
        ("components: {side-door: {opens_from_inside: false}}", ("rear door",)),
        ("components: {side-door: {needs_power: true}}", ("rear door",)),
        ("components: {side-door: {needs_power: ~}}", ("side door", "rear door")),
        ("components: {side-door: {opens_from_inside: ~}}", ("rear door",)),
        ("components: {side-door: {at: ~}}", ("rear door",)),
        (WALL % (2.6, 0.4, 1.38), ("side door", "rear door")),
        (WALL % (2.6, 0.4, 1.42), ("rear door",)),
    ],
)  # fmt: skip
def test_exits_reached_from_a_seat(over: str, reached: tuple[str, ...]) -> None:
    """What opens from inside without current, over a way of 400 mm: 1.8 m less 1.38 m is one, less 1.42 m is none."""
    assert there("bench", over).in_case("driving").exits_reached == reached


def test_a_way_is_looked_for_in_the_mode_that_is_asked_about() -> None:
    """A bed that bars the whole width by night leaves the front of the van open while driving."""
    over = (
        "modes: {driving: {bunk: away}, night: {bunk: made}}\n"
        "components: {bunk: {kind: bed, usual_shape: made, shapes: {away: {at: [2.4 m, -0.9 m, 1.5 m], "
        "size: [0.6 m, 1.8 m, 0.2 m]}, made: {at: [2.4 m, -0.9 m, 0 m], size: [0.6 m, 1.8 m, 1.4 m]}}}}"
    )
    assert there("bench", over).in_case("driving").exits_reached == ("side door", "rear door")
    assert there("bench", over).in_case("night").exits_reached == ("rear door",)


@pytest.mark.parametrize(
    ("over", "fields"),
    [
        ("vehicle: {interior: {starts: ~, height: ~}}", ("vehicle.interior.starts", "vehicle.interior.height")),
        ("components: {bench: {at: ~}}", ("bench.at", "bench.size")),
        ("components: {rear-door: ~, side-door: {opens_from_inside: ~}}", ("side-door.opens_from_inside",)),
        ("components: {rear-door: ~, side-door: {at: ~}}", ("side-door.at",)),
        ("components: {rear-door: {opens_from_inside: ~}, side-door: {at: ~, opens_from_inside: ~}}",
         ("side-door.opens_from_inside", "side-door.at", "rear-door.opens_from_inside")),
    ],
)  # fmt: skip
def test_without_places_no_exit_is_said_to_be_reached(over: str, fields: tuple[str, ...]) -> None:
    """Nor to be out of reach: what would tell is named, unless another exit is reached."""
    with pytest.raises(Missing) as raised:
        _ = there("bench", over).in_case("driving").exits_reached
    assert raised.value.fields == fields


def test_a_seat_without_any_way_out_reaches_none() -> None:
    """Both doors are locked, which is known: no exit, and no open question."""
    over = "components: {rear-door: {opens_from_inside: false}, side-door: {opens_from_inside: false}}"
    assert there("bench", over).in_case("driving").exits_reached == ()


@pytest.mark.parametrize(
    ("over", "cut_off"),
    [
        ("{}", ()),
        (WALL % (1.3, 0.56, 1.8), ()),
        (WALL % (1.3, 0.64, 1.8), ("bed",)),
        (WALL % (2.6, 0.4, 1.38), ()),
        (WALL % (2.6, 0.4, 1.42), ("bed",)),
    ],
)
def test_beds_that_do_not_reach_the_extinguisher(over: str, cut_off: tuple[str, ...]) -> None:
    """An arm of 0.6 m reaches over a wall of 0.56 m to a bottle behind it, not over 0.64 m; 400 mm are a way."""
    assert there("bottle", over).beds_cut_off == cut_off


def test_each_bed_is_asked_for_itself() -> None:
    """Of two beds the one behind a wall is cut off, the one before it is not."""
    over = "components: {cot: {kind: bed, surface_height: 300 mm, at: [1.4 m, -0.9 m, 0 m], size: [0.7 m, 0.6 m, 0.3 m]}}"
    assert there("bottle", over, WALL % (2.6, 0.4, 1.8)).beds_cut_off == ("bed",)


@pytest.mark.parametrize(
    ("over", "fields"),
    [
        ("vehicle: {interior: {width: ~}}", ("vehicle.interior.width",)),
        ("components: {bottle: {at: ~}}", ("bottle.at", "bottle.size")),
        ("components: {bed: {size: ~}}", ("bed.at", "bed.size")),
    ],
)
def test_what_is_reached_at_night_asks_for_places(over: str, fields: tuple[str, ...]) -> None:
    """Room, extinguisher, bed: whichever has no place is named."""
    with pytest.raises(Missing) as raised:
        _ = there("bottle", over).beds_cut_off
    assert raised.value.fields == fields


def test_traced_ways_tell_width_length_and_what_is_climbed_over() -> None:
    """A wall 1.2 m wide leaves 0.6 m by the right one; over the bench at the wall's end one climbs; locked doors are none."""
    over = "components: {rear-door: {opens_from_inside: false}}"
    (way,) = there("bed", over, WALL % (2.6, 0.4, 1.2)).traced_ways
    assert (way.name, str(way)) == ("side door", "side door")
    assert way.width == pytest.approx(0.6, abs=0.02)
    # a square of 0.6 m is held by the wall from 2.6 to 3.0 m while its middle is between 2.3 and 3.3 m
    behind, _, beside = way.narrowest.partition(" mm behind the front axle, by ")
    assert 2300 <= float(behind) <= 3300 and beside == "wall"
    # from the bed's front edge at 3.8 m to the door's rear end at 2.4 m, a person of 0.4 m: 1 m at least, 2 m at most
    assert 0.9 < way.length < 2.0
    assert way.over == ()
    seat = "components: {seat: {kind: bench, seat_height: 430 mm, at: [2.6 m, 0.2 m, 0 m], size: [0.4 m, 0.7 m, 0.9 m]}}"
    (climbs,) = there("bed", over, WALL % (2.6, 0.4, 1.1), seat).traced_ways
    assert climbs.over == ("seat",)


def test_a_way_that_is_none_and_one_that_is_narrow_nowhere() -> None:
    """A wall from side to side leaves no way, of no width and length; in an empty room nothing is narrow."""
    shut = {way.name: way for way in there("bed", WALL % (2.6, 0.4, 1.8)).traced_ways}
    assert (shut["side door"].width, shut["side door"].length, shut["side door"].narrowest) == (
        0,
        0,
        "no way",
    )
    free = {way.name: way for way in there("bed").traced_ways}
    assert (free["side door"].width, free["side door"].narrowest) == (1.0, "nowhere")


def test_traced_ways_need_the_room_and_leave_out_what_has_no_place() -> None:
    """Without a room nothing is traced; an exit without a place is left out of the list."""
    with pytest.raises(Missing) as raised:
        _ = there("bed", "vehicle: {interior: {length: ~}}").traced_ways
    assert raised.value.fields == ("vehicle.interior.length",)
    assert [way.name for way in there("bed", "components: {side-door: {at: ~}}").traced_ways] == ["rear door"]


SHELF = (
    "components: {shelf: {kind: shelf, contents: 5 kg, at: [%s m, %s m, %s m], size: [0.5 m, 0.3 m, 0.2 m]}}"
)
SEAT = "components: {bench: {kind: bench, places: 2, used_under_way: true, at: [2 m, -0.9 m, %s m], size: [1 m, 0.9 m, 1 m]}}"


@pytest.mark.parametrize(
    ("seat", "shelf", "heavy"),
    [
        (0.0, (2, -0.9, 1.2), True),
        (0.0, (2, -0.9, 1.19), False),
        (0.1, (2, -0.9, 1.3), True),
        (0.1, (2, -0.9, 1.29), False),
        (0.0, (2, -1.19, 1.2), True),
        (0.0, (2, -1.21, 1.2), False),
        (0.0, (2, -0.01, 1.2), True),
        (0.0, (2, 0.0, 1.2), False),
        (0.0, (3.0, -0.9, 1.2), False),
        (0.0, (1.2, -0.9, 1.2), False),
    ],
)
def test_a_cushion_of_unknown_height_is_45_cm_above_the_foot(
    seat: float, shelf: tuple[float, float, float], heavy: bool
) -> None:
    """Heads begin 0.75 m over it; what only touches the outline from beside is not above it."""
    facts = van_facts(SEAT % seat, SHELF % shelf)
    assert facts.subject("bench").heavy_above == (("shelf",) if heavy else ())


@pytest.mark.parametrize(("z", "heavy"), [(1.35, ("shelf",)), (1.34, ())])
def test_a_cushion_is_as_high_as_it_is_said_to_be(z: float, heavy: tuple[str, ...]) -> None:
    """At 0.6 m heads begin at 1.35 m."""
    high = "components: {bench: {seat_height: 600 mm}}"
    assert van_facts(SEAT % 0, high, SHELF % (2, -0.9, z)).subject("bench").heavy_above == heavy


def test_what_hangs_over_heads_is_looked_at_as_it_is_under_way() -> None:
    """A shelf folded down while driving is above nobody, and a bench in its seats' place is what people sit on."""
    folding = (
        "modes: {driving: {shelf: SHAPE}}\ncomponents: {shelf: {kind: shelf, contents: 5 kg, usual_shape: up, shapes: {"
        "up: {at: [2 m, -0.9 m, 1.2 m], size: [0.5 m, 0.3 m, 0.2 m]}, down: {at: [4 m, -0.9 m, 1.2 m], size: [0.5 m, 0.3 m, 0.2 m]}}}}"
    )
    for shape, heavy in (("up", ("shelf",)), ("down", ())):
        assert van_facts(SEAT % 0, folding.replace("SHAPE", shape)).subject("bench").heavy_above == heavy


def test_a_shelf_without_a_place_is_above_nobody_and_a_seat_without_one_is_an_open_question() -> None:
    """What has no place cannot be above; without the seat's place nothing can be said, and others are still found."""
    lone = "components: {crate: {kind: cabinet, contents: 9 kg}}"
    assert van_facts(SEAT % 0, lone, SHELF % (2, -0.9, 1.2)).subject("bench").heavy_above == ("shelf",)
    with pytest.raises(Missing) as raised:
        _ = van_facts(SEAT % 0, "components: {bench: {size: ~}}").subject("bench").heavy_above
    assert raised.value.fields == ("bench.at", "bench.size")


@pytest.mark.parametrize(
    ("over", "placed"),
    [
        ("{}", True),
        ("components: {bench: {used_under_way: false}}", False),
        ("components: {bench: {at: ~}}", False),
        ("components: {bench: {size: ~}}", False),
    ],
)
def test_a_placed_travel_seat(over: str, placed: bool) -> None:
    """Offered under way, and drawn."""
    assert van_facts(SEAT % 0, over).subject("bench").placed_travel_seat is placed


SWIVEL = """
modes: {day: {box: near}, night: {box: NIGHT}, driving: {box: far}}
components:
  driver-seat: ~
  seat: {kind: seat, used_under_way: true, at: [1 m, -0.8 m, 0.3 m], size: [0.5 m, 0.5 m, 0.9 m]}
  base: {kind: swivel-base, under: seat, at: [1.05 m, -0.75 m, 0.2 m], size: [0.4 m, 0.4 m, 0.1 m]}
  box: {kind: cabinet, usual_shape: near, shapes: {near: {at: [NEAR m, -0.8 m, 0 m], size: [0.3 m, 0.5 m, TOP m]},
    far: {at: [3 m, -0.8 m, 0 m], size: [0.3 m, 0.5 m, 0.5 m]}}}
"""


@pytest.mark.parametrize(
    ("near", "top", "night", "against"),
    [
        # the middle of the base is at 1.25 m, the seat's corners 0.25·√2 = 0.354 m from it: the circle ends at 1.604 m
        (1.59, 0.5, "near", ("box",)),
        (1.61, 0.5, "near", ()),
        (1.59, 0.29, "near", ()),
        (1.59, 0.31, "near", ("box",)),
        (1.59, 0.5, "far", ()),
    ],
)
def test_what_a_seat_meets_when_it_turns(
    near: float, top: float, night: str, against: tuple[str, ...]
) -> None:
    """In the mode at a stand in which it meets least; under way it does not turn."""
    text = SWIVEL.replace("NEAR", str(near)).replace("TOP", str(top)).replace("NIGHT", night)
    assert van_facts(text).subject("base").turns_against == against


def test_what_lets_others_into_its_room_is_not_in_the_way_of_a_turn() -> None:
    """A cabinet whose shape blocks nothing, and the exit beside the seat, which is no body."""
    text = SWIVEL.replace("NEAR", "1.59").replace("TOP", "0.5").replace("NIGHT", "near")
    soft = "components: {box: {shapes: {near: {blocks: false}}}}"
    door = "components: {door: {kind: exit, at: [1 m, -1 m, 0 m], size: [0.5 m, 0.3 m, 1.5 m]}}"
    assert van_facts(text, soft, door).subject("base").turns_against == ()


@pytest.mark.parametrize("over", ["components: {seat: {at: ~}}", "components: {base: {at: ~}}"])
def test_a_turn_needs_both_places(over: str) -> None:
    """Of the seat and of the plate below it."""
    text = SWIVEL.replace("NEAR", "1.59").replace("TOP", "0.5").replace("NIGHT", "near")
    with pytest.raises(Missing) as raised:
        _ = van_facts(text, over).subject("base").turns_against
    assert raised.value.fields == ("base.at", "seat.at")
