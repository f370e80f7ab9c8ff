"""A van with a bed on a motor over a dinette that becomes a bed: clearances, ways out, what runs into what.

Figures beside the checks are worked out by hand from the coordinates: basis `derived`.
"""

from functools import cache

import pytest
from van import van_facts

from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.room_space import runs_into
from specreg.facts.ways import modes_of, passage
from specreg.space.room import room_of

DINETTE = """
use: {people: {adults: 2, children: 2}}
vehicle:
  interior: {starts: 1.2 m, length: 4.0 m, width: 1.8 m, height: 1.95 m, floor_height: 600 mm,
    widths: [{height: 1.0 m, width: 1.8 m}, {height: 2.0 m, width: 1.6 m}],
    wheel_arches: [{at: [3.0 m, 0.65 m, 0 m], size: [0.9 m, 0.25 m, 0.3 m]}]}
modes:
  day: {lift-bed: stowed, table: up, dinette-bed: stowed, table-leg: standing}
  night: {lift-bed: made, table: down, dinette-bed: made, table-leg: stowed}
  driving: {lift-bed: stowed, table: down, dinette-bed: stowed, table-leg: stowed}
components:
  front-bench: {kind: bench, places: 2, used_under_way: true, belts: [three-point, three-point], faces: forward,
    seat_height: 450 mm, volume: 120 l, at: [3.0 m, -0.65 m, 0 m], size: [0.5 m, 1.3 m, 0.45 m]}
  rear-bench: {kind: bench, places: 2, used_under_way: false, belts: [none, none], faces: rearward, seat_height: 450 mm,
    volume: 160 l, at: [4.5 m, -0.85 m, 0 m], size: [0.5 m, 1.7 m, 0.45 m]}
  table: {kind: table, stands_on: table-leg, usual_shape: up, at: [3.6 m, -0.4 m, 0.72 m], size: [0.8 m, 0.8 m, 30 mm],
    shapes: {up: {}, down: {at: [3.6 m, -0.4 m, 0.42 m]}}}
  table-leg: {kind: table-pedestal, form: plug-in leg, usual_shape: standing, at: [3.95 m, -30 mm, 0 m],
    size: [60 mm, 60 mm, 0.7 m], shapes: {standing: {}, stowed: {at: [4.55 m, -30 mm, 30 mm], size: [60 mm, 0.7 m, 60 mm]}}}
  dinette-bed: {kind: bed, form: convertible, places: 2, length: 1.7 m, made_from: [front-bench, rear-bench, table],
    open_sides: [front], surface_height: 550 mm, usual_shape: stowed, shapes: {
    stowed: {at: [4.5 m, -0.65 m, 0.45 m], size: [0.5 m, 1.3 m, 0.3 m]},
    made: {at: [3.0 m, -0.65 m, 0.45 m], size: [2.0 m, 1.3 m, 0.1 m]}}}
  lift-bed: {kind: bed, form: motor-lifted, places: 2, length: 1.9 m, lock: positive, lock_points: 2, lifted_by: lift,
    open_sides: [front], guard_side: [front], guard_height: 180 mm, least_age: 6, surface_height: 1.32 m,
    usual_shape: stowed, shapes: {
    stowed: {at: [3.1 m, -0.8 m, 1.75 m], size: [1.9 m, 1.6 m, 0.12 m], locked: true},
    made: {at: [3.1 m, -0.8 m, 1.2 m], size: [1.9 m, 1.6 m, 0.12 m], locked: true}}}
  lift: {kind: bed-lift, lifts: lift-bed, travel: 550 mm, hold_to_run: true, control_at: both, control_height: 1.1 m,
    upper_control_height: 200 mm, hand_way: crank under the front bench}
  galley: {kind: cabinet, latch: positive latch, open_side: left, hinged_at: front, doors: 1, opens_to: 100°, volume: 90 l,
    at: [2.3 m, 0.4 m, 0 m], size: [0.6 m, 0.5 m, 0.9 m]}
  wardrobe: {kind: wardrobe, latch: positive latch, open_side: right, opens_by: 400 mm, volume: 130 l,
    at: [2.3 m, -0.84 m, 0 m], size: [0.6 m, 0.5 m, 1.6 m]}
  cab-seat: {kind: seat, driver: true, used_under_way: true, belts: [three-point], seat_height: 430 mm,
    at: [0.6 m, 0.2 m, 0 m], size: [0.5 m, 0.5 m, 1.1 m]}
  side-door: {kind: exit, form: sliding door, where: side, opens_from_inside: true, needs_power: false, opening_width: 0.9 m,
    opening_height: 1.6 m, at: [1.3 m, 0.9 m, 0 m], size: [0.9 m, 20 mm, 1.6 m]}
  rear-door: {kind: exit, form: hinged door, where: rear, opens_from_inside: true, needs_power: false, opening_width: 1.5 m,
    opening_height: 1.7 m, at: [5.2 m, -0.75 m, 0 m], size: [20 mm, 1.5 m, 1.7 m]}
  roof-hatch: {kind: exit, form: hatch, where: roof, opens_from_inside: true, needs_power: false, opening_width: 500 mm,
    opening_height: 700 mm, at: [3.5 m, -0.25 m, 1.95 m], size: [0.7 m, 0.5 m, 50 mm]}
  extinguisher: {kind: extinguisher, content: 2 kg, at: [1.3 m, 0.75 m, 0.3 m], size: [0.1 m, 0.1 m, 0.4 m]}
"""


@cache
def van(over: str = "{}") -> Facts:
    """The van, with a fragment laid over it."""
    return van_facts("components: {driver-seat: ~}", DINETTE, over)


def test_nothing_stands_in_anything() -> None:
    """In no mode do two things share room: what becomes the bed is part of it."""
    shared = {name: van().subject(name).shares_room_with for name in van().build.components}
    assert not any(shared.values()), shared


def test_everything_stays_inside() -> None:
    """Also the lift bed under the roof, where the walls have leaned in by 75 mm on each side."""
    out = {
        name: van().subject(name).sticks_out_by
        for name in van().build.components
        if van().subject(name).belongs_inside
    }
    assert "lift-bed" in out and not any(out.values()), out


def test_walls_lean_in() -> None:
    """Width at 1.5 m lies half way between 1.8 m at 1.0 m and 1.6 m at 2.0 m."""
    room = room_of(van().build.header.vehicle.interior)
    assert room is not None
    assert [room.width(z) for z in (0.5, 1.0, 1.5, 2.0, 2.5)] == pytest.approx([1.8, 1.8, 1.7, 1.6, 1.6])
    assert room.narrowest(0.2, 1.87) == pytest.approx(1.8 - 0.87 * 0.2)


def test_a_wider_bed_touches_the_wall() -> None:
    """1.7 m wide at 1.87 m up: the wall is at 0.813 m, so 37 mm too much on each side."""
    wide = van(
        "components: {lift-bed: {shapes: {stowed: {at: [3.1 m, -0.85 m, 1.75 m], size: [1.9 m, 1.7 m, 0.12 m]}}}}"
    )
    assert wide.subject("lift-bed").sticks_out_by == pytest.approx(0.85 - (1.8 - 0.87 * 0.2) / 2)
    assert wide.subject("lift-bed").sticks_out_of == "left"


@pytest.mark.parametrize(
    ("over", "clearance", "below", "travel"),
    [
        ("{}", 1.2 - 0.55, ("dinette bed",), ()),
        ("modes: {night: {dinette-bed: stowed, table: up}}", 1.2 - 0.75, ("table", "dinette bed"), ()),
        ("components: {lift-bed: {shapes: {made: {at: [3.1 m, -0.8 m, 0.6 m]}}}}", 0.6 - 0.55, ("dinette bed",), ()),
        ("components: {lift-bed: {shapes: {made: {at: [3.1 m, -0.8 m, 0.5 m]}}}}", None, None, ("dinette bed",)),
        ("components: {shelf: {kind: shelf, at: [4.8 m, -0.8 m, 1.5 m], size: [0.2 m, 0.2 m, 0.2 m]}}", 0.65, ("dinette bed",),
         ("shelf",)),
    ],
)  # fmt: skip
def test_what_the_bed_meets(
    over: str, clearance: float | None, below: tuple[str, ...] | None, travel: tuple[str, ...]
) -> None:
    """Clearance over what stands below by night, and what is in the way between roof and bed."""
    bed = van(over).subject("lift-bed")
    assert bed.in_its_travel == travel
    if clearance is not None:
        assert bed.clearance_below == pytest.approx(clearance)
        assert bed.stands_below == below


def test_the_table_is_cleared_first() -> None:
    """A bed that ends at 0.7 m meets table and cushions as they stand by day, up to 0.75 m; by night they are down."""
    bed = van("components: {lift-bed: {shapes: {made: {at: [3.1 m, -0.8 m, 0.7 m]}}}}").subject("lift-bed")
    assert (bed.in_its_travel, bed.cleared_before) == ((), ("table", "dinette bed"))


def test_figures_of_the_high_bed() -> None:
    """Foundation 1.2 m up, 1.95 − 1.32 m to the roof, guarded where it is open, and its lift stops."""
    bed = van().subject("lift-bed")
    assert bed.foundation_height == pytest.approx(1.2)
    assert bed.free_above == pytest.approx(0.63)
    assert (bed.unguarded_sides, bed.falls_matter, bed.has_lift, bed.lift_stops) == ((), True, True, True)


def test_room_above_the_lower_bed_ends_at_the_upper() -> None:
    """Between the dinette's mattress at 0.55 m and the lift bed at 1.2 m lie 0.65 m."""
    assert van().subject("dinette-bed").free_above == pytest.approx(0.65)


def test_a_lift_that_nobody_described_is_an_open_question() -> None:
    """Without a lift in the spec it cannot be said that it stops."""
    lone = van("components: {lift: {lifts: other}, lift-bed: {lifted_by: ~}}").subject("lift-bed")
    with pytest.raises(Missing, match="lifted_by"):
        _ = lone.lift_stops


@pytest.mark.parametrize(
    ("thing", "door", "mode", "usable", "over"),
    [
        ("dinette-bed", "side-door", "night", True, None),
        ("dinette-bed", "rear-door", "night", True, "rear-bench"),
        ("lift-bed", "side-door", "night", True, None),
        ("front-bench", "side-door", "driving", True, None),
        ("rear-bench", "rear-door", "driving", True, "rear-bench"),
        ("rear-bench", "side-door", "day", True, None),
        ("cab-seat", "side-door", "driving", True, "cab-seat"),
    ],
)  # fmt: skip
def test_ways_out(thing: str, door: str, mode: str, usable: bool, over: str | None) -> None:
    """From each bed and seat the way to a door, and what one climbs over."""
    found = passage(van().subject(thing), door, mode)
    assert found is not None
    assert found.usable is usable
    assert over is None or over in found.over


def test_the_aisle_is_the_gap_between_wardrobe_and_galley() -> None:
    """−0.34 m to 0.40 m: 0.74 m, to the step of the grid, where both stand."""
    night = van().whole.in_case("night")
    assert night.aisle_width == pytest.approx(0.74, abs=0.021)
    assert "wardrobe" in night.aisle_narrowest and "galley" in night.aisle_narrowest


def test_a_blocked_aisle_shuts_in_the_beds() -> None:
    """With a crate between wardrobe and galley only the rear door and the hatch are left."""
    shut = van(
        "components: {crate: {kind: luggage, title: Crate, at: [2.4 m, -0.35 m, 0 m], size: [0.4 m, 0.75 m, 0.5 m]}}"
    )
    assert shut.subject("dinette-bed").ways_out == ("rear door", "roof hatch")
    assert shut.subject("dinette-bed").ways_shut[0].startswith("side door by too narrow a way, 2")
    assert shut.subject("extinguisher").beds_cut_off == ("dinette bed", "lift bed")
    assert shut.subject("rear-bench").in_case("driving").exits_reached == ("rear door", "roof hatch")
    assert van().subject("extinguisher").beds_cut_off == ()


def test_the_ways_of_a_bed_with_their_figures() -> None:
    """From the lift bed to the side door through the aisle, from 2.3 m to 2.9 m behind the front axle."""
    ways = {way.name: way for way in van().subject("lift-bed").traced_ways}
    assert set(ways) == {"side door", "rear door", "roof hatch"}
    side = ways["side door"]
    assert side.width == pytest.approx(0.74, abs=0.021)
    assert 0.1 < side.length < 1.5
    assert "wardrobe" in side.narrowest


@pytest.mark.parametrize(
    ("over", "thing", "mode", "into"),
    [
        ("{}", "galley", "day", ()),
        ("components: {galley: {at: [2.3 m, 0.2 m, 0 m], size: [0.6 m, 0.7 m, 0.9 m]}}", "galley", "day", ("wardrobe",)),
        ("components: {galley: {at: [2.3 m, 0.2 m, 0 m], size: [0.6 m, 0.7 m, 0.9 m], opens_to: 60°}}", "galley", "day", ()),
        ("components: {galley: {at: [2.3 m, 0.2 m, 0 m], size: [0.6 m, 0.7 m, 0.9 m], doors: 2}}", "galley", "day", ()),
        ("{}", "wardrobe", "day", ()),
        ("components: {wardrobe: {opens_by: 800 mm}}", "wardrobe", "day", ("galley",)),
        ("components: {galley: {open_side: rear, opens_by: 400 mm, hinged_at: ~}}", "galley", "day",
         ("front bench", "wheel arch 1")),
    ],
)  # fmt: skip
def test_what_doors_run_into(over: str, thing: str, mode: str, into: tuple[str, ...]) -> None:
    """A leaf of 0.6 m is free in 0.74 m; from 0.2 m it meets −0.34 m, at 60° only −0.32 m, as two leaves −0.1 m."""
    assert runs_into(van(over).subject(thing), mode) == into


def test_storage_for_each_person() -> None:
    """(120 + 160 + 90 + 130) l for four people; the rest states none."""
    assert van().whole.storage_per_person == pytest.approx(0.125)


def test_heavy_things_above_the_belted_bench() -> None:
    """A locker with 6 kg over the front bench is found, one with 4 kg or ahead of it is not."""
    locker = "components: {locker: {kind: cabinet, contents: KG kg, at: [X m, -0.85 m, 1.4 m], size: [0.5 m, 0.3 m, 0.3 m]}}"
    for mass, x, found in (("6", "2.9", ("locker",)), ("4", "2.9", ()), ("6", "2.1", ())):
        there = van(locker.replace("KG", mass).replace("X", x))
        assert there.subject("front-bench").heavy_above == found


def test_each_mode_has_the_same_things() -> None:
    """A mode moves things; none comes or goes."""
    ids = {mode: tuple(one.id for one in modes_of(van()).solids(mode)) for mode in van().build.header.modes}
    assert len(set(ids.values())) == 1 and len(ids) == 3
