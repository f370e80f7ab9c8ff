"""Heights, what may still be added where, pipes by geometry, tickets in a row: by hand and by brute force."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from van import van_facts

from specreg.facts.axle_loads import on_rear, total
from specreg.facts.loading import Load
from specreg.facts.missing import Missing
from specreg.facts.payload_places import Limits, room_at
from specreg.facts.run_mass import weigh_run
from specreg.tables.pipes import mass_per_metre, stuff_of, tube_mass

HIGH = """
vehicle: {centre_of_gravity_height: 0.7 m, interior: {floor_height: 0.6 m}}
components:
  rack: {kind: roof-rack, mass: 30 kg, mass_status: weighed, at: [2 m, -0.5 m, 2 m], size: [2 m, 1 m, 0.1 m]}
  box: {kind: cabinet, mass: 40 kg, mass_status: weighed, zone: rear-left}
"""


def test_height_of_the_centre_of_gravity_by_a_plain_sum() -> None:
    """Base 2000 kg at 0.7 m; fuel 90 % of 83.2 kg at the floor; driver at his seat's corner, 0.5 m up."""
    build = van_facts(HIGH).whole.in_case("as converted")
    rows = [(2000, 0.7), (-83.2, 0.6), (0.9 * 83.2, 0.6), (30, 2.65), (40, 1.1), (75, 1.1)]
    assert build.centre_of_gravity_height_laden == pytest.approx(
        sum(m * z for m, z in rows) / sum(m for m, _ in rows)
    )
    assert build.height_of_what_was_fitted == pytest.approx((30 * 2.05 + 40 * 0.5) / 70)


def test_half_a_zone_of_height_is_carried_into_the_doubt() -> None:
    """A cabinet anywhere in a zone 1 m high moves the height by 40 kg × 0.5 m over the whole, and masses 1 %."""
    build = van_facts(HIGH).whole.in_case("as converted")
    middle = build.centre_of_gravity_height_laden
    by_mass = 0.3 * abs(2.65 - middle) + 0.4 * abs(1.1 - middle)
    assert build.centre_of_gravity_height_doubt == pytest.approx((40 * 0.5 + by_mass) / build.laden_mass)


def test_without_the_makers_height_nothing_is_guessed() -> None:
    """The base vehicle's own height is named as missing."""
    with pytest.raises(Missing) as raised:
        _ = van_facts().whole.in_case("as converted").centre_of_gravity_height_laden
    assert raised.value.fields == ("vehicle.centre_of_gravity_height",)


LEFT = st.floats(0, 2000)


@given(LEFT, LEFT, LEFT, st.floats(2.5, 5), st.floats(-1, 7))
def test_what_may_be_added_meets_a_limit_and_passes_none(
    all_: float, front: float, rear: float, wheelbase: float, x: float
) -> None:
    """Put there, it leaves total and both axles within their limits; a kilogram more does not."""
    room = room_at(x, Limits(all_, front, rear, wheelbase))

    def over(mass: float) -> float:
        put = (Load("put", "", mass, 0.0, x, 0.0, 0.0, 0.0),)
        on = on_rear(put, wheelbase)
        return max(total(put) - all_, on - rear, total(put) - on - front)

    assert over(room.mass) <= 1e-6 * (1 + room.mass)
    assert over(room.mass + 1 + 1e-6 * room.mass) > 0


@pytest.mark.parametrize(
    ("x", "mass", "limit"),
    [
        (0, 300, "front axle"), (4, 200, "rear axle"), (5, 160, "rear axle"), (2, 400, "rear axle"),
        (1, 400, "front axle"), (1.5, 450, "total"), (-1, 240, "front axle"),
    ],
)  # fmt: skip
def test_room_by_hand(x: float, mass: float, limit: str) -> None:
    """300 kg left in front, 200 kg behind, 450 kg in all, wheelbase 4 m."""
    assert room_at(x, Limits(450, 300, 200, 4)) == pytest.approx((mass, limit)) or (
        room_at(x, Limits(450, 300, 200, 4)).mass == pytest.approx(mass)
        and room_at(x, Limits(450, 300, 200, 4)).limit == limit
    )


def test_where_a_limit_is_passed_nothing_may_be_added() -> None:
    """Not even where it would lighten the axle that is over."""
    assert room_at(4, Limits(100, -1, 100, 4)) == (0.0, "front axle")


def test_a_zone_counts_at_its_worse_end() -> None:
    """The zone from 3 to 5 m: the rear axle's limit at 5 m holds, not that of its middle."""
    build = van_facts("vehicle: {permitted: {rear_axle: 900 kg}}").whole.in_case("as converted")
    (zone,) = (p for p in build.room_for_more if p.name == "rear left")
    assert zone.mass == pytest.approx(build.rear_axle_left / (5 / 4))
    assert zone.limit == "rear axle"
    assert build.room_at_the_rear == pytest.approx(zone.mass)


def test_every_place_is_asked_about() -> None:
    """Axles, both ends of the room, the roof with its own limit, the zone and the tow ball with its own."""
    bar = "components: {bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, load_limit: 80 kg, overhang: 1 m, carried: 30 kg}}"
    places = {p.name: p for p in van_facts(bar).whole.in_case("as converted").room_for_more}
    assert {name: round(place.x, 6) for name, place in places.items()} == {
        "over the front axle": 0, "over the rear axle": 4, "front end of the room": 1, "rear end of the room": 5,
        "on the roof": 3, "rear left": 4, "on the tow ball": 5,
    }  # fmt: skip
    assert (places["on the roof"].mass, places["on the roof"].limit) == (150, "roof")
    assert (places["on the tow ball"].mass, places["on the tow ball"].limit) == (50, "tow ball")


@pytest.mark.parametrize(
    "over", ["vehicle: {permitted: {roof: 40 kg}}", "vehicle: {permitted: {tow_ball: 20 kg}}"]
)
def test_a_place_that_is_full_takes_nothing_more(over: str) -> None:
    """50 kg on a roof for 40 kg, 30 kg on a ball for 20 kg: no room, and no negative one."""
    full = (
        "components: {bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, load_limit: 80 kg, overhang: 1 m, carried: 30 kg}, "
        "rack: {kind: roof-rack, mass: 50 kg, at: [2 m, 0 m, 2 m]}}"
    )
    places = {p.name: p for p in van_facts(full, over).whole.in_case("as converted").room_for_more}
    assert places["on the roof" if "roof" in over else "on the tow ball"].mass == 0


@given(st.floats(0, 300), st.floats(1, 5), st.sampled_from(["full tanks", "everything"]))
def test_adding_a_mass_never_raises_what_is_left(mass: float, x: float, case: str) -> None:
    """Neither in all nor at any place ahead of the rear axle; and the axles add up to the whole."""
    before = van_facts().whole.in_case(case)
    thing = f"components: {{box: {{kind: cabinet, mass: {mass:.3f} kg, at: [{x:.3f} m, 0 m, 0 m]}}}}"
    after = van_facts(thing).whole.in_case(case)
    assert after.payload_left <= before.payload_left + 1e-9
    assert after.front_axle_load + after.rear_axle_load == pytest.approx(after.laden_mass)
    if x <= 4:
        assert after.front_axle_left <= before.front_axle_left + 1e-9
    assert after.rear_axle_left <= before.rear_axle_left + 1e-9


@pytest.mark.parametrize("shape", ["stowed", "made"])
def test_a_mode_never_changes_the_mass(shape: str) -> None:
    """A bed weighs the same in each of its shapes, whatever a mode says."""
    text = """
    components:
      bed: {kind: bed, mass: 35 kg, at: [3 m, 0 m, 0 m], size: [2 m, 1 m, 0.2 m], usual_shape: stowed,
        shapes: {stowed: {at: [4 m, 0 m, 1.5 m]}, made: {at: [3 m, 0 m, 0.5 m]}}}
    """
    whole = van_facts(text, f"modes: {{night: {{bed: {shape}}}}}").whole
    assert whole.in_case("everything").laden_mass == pytest.approx(
        van_facts(text).whole.in_case("everything").laden_mass
    )
    assert whole.fitted_mass == pytest.approx(35)


@pytest.mark.parametrize(("mode", "x"), [("driving", 5.0), ("night", 4.0)])
def test_what_changes_its_shape_counts_as_it_stands_under_way(mode: str, x: float) -> None:
    """A bed stowed at 4 to 6 m while driving, made at 3 to 5 m; a mode of the night changes nothing."""
    text = """
    components:
      bed: {kind: bed, mass: 40 kg, mass_status: weighed, size: [2 m, 1 m, 0.2 m], usual_shape: made,
        shapes: {stowed: {at: [4 m, 0 m, 1.5 m]}, made: {at: [3 m, 0 m, 0.5 m]}}}
    """
    whole = van_facts(text, f"modes: {{{mode}: {{bed: stowed}}}}").whole
    (bed,) = (entry for entry in whole.in_case("everything").loads if entry.subject == "bed")
    assert (bed.x, bed.x_doubt) == (x, 0.0)


def test_both_sides_add_up() -> None:
    """Left and right wheels carry the whole; a box on the right loads the right ones."""
    box = "components: {box: {kind: cabinet, mass: 90 kg, at: [3 m, 0.6 m, 0 m]}}"
    before, after = (van_facts(*over).whole.in_case("full tanks") for over in ((), (box,)))
    assert after.left_wheels_load + after.right_wheels_load == pytest.approx(after.laden_mass)
    # by hand: 90 kg, 0.6 m right of the middle, wheels 0.9 m from it: 75 kg right, 15 kg left
    assert after.right_wheels_load - before.right_wheels_load == pytest.approx(75)
    assert after.left_wheels_load - before.left_wheels_load == pytest.approx(15)


@pytest.mark.parametrize(
    ("outer", "wall", "expected"),
    [(10, 1.0, 0.252), (12, 1.0, 0.308), (15, 1.0, 0.391), (22, 1.0, 0.587), (8, 0.8, 0.161)],
)
def test_copper_tube(outer: float, wall: float, expected: float) -> None:
    """Masses of copper tube in kg/m as makers' tables of EN 1057 print them (from memory)."""
    assert tube_mass((outer - 2 * wall) / 1000, wall / 1000, stuff_of("copper").density) == pytest.approx(
        expected, abs=0.001
    )


@pytest.mark.parametrize("material", [None, "copper", "stainless steel", "aluminium", "polyethylene"])
def test_a_pipe_has_a_bracket(material: str | None) -> None:
    """The thin wall weighs less than the thick one."""
    least, most = mass_per_metre(0.012, material)
    assert 0 < least < most


HOSE = """
defaults: {routing_factor: 1.5}
components:
  tank: {kind: fresh-tank, mass: 9 kg, volume: 70 L, at: [4 m, 0 m, 0 m]}
  pump: {kind: pump, mass: 2 kg, at: [2 m, 0 m, 0 m]}
runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet, bore: 12 mm}}
"""


def test_a_length_from_places_carries_its_bracket() -> None:
    """2 m apart, × 1.5: 3 m ± 1 m, from straight to as far round again; the mass follows."""
    run = van_facts(HOSE).subject("hose")
    assert (run.laid_length, run.length_doubt) == pytest.approx((3.0, 1.0))
    assert weigh_run(run).known.endswith(", length from places")
    assert not weigh_run(van_facts(HOSE, "runs: {hose: {length: 3 m}}").subject("hose")).known.endswith(
        "places"
    )
    least, most = mass_per_metre(0.012, None)
    assert run.run_mass == pytest.approx(3 * (least + most) / 2)
    assert run.run_mass_doubt == pytest.approx(3 * (most - least) / 2 + (least + most) / 2)


@pytest.mark.parametrize(
    ("zone", "doubt"),
    [
        ("size: [2 m, 0 m, 0 m]", 1.0),
        ("size: [0 m, 0.8 m, 0 m]", 0.4),
        ("size: [0 m, 0 m, 1 m]", 0.5),
        ("size: [2 m, 0.8 m, 1 m]", 1.9),
    ],
)
def test_a_pipe_into_a_zone_may_end_anywhere_in_it(zone: str, doubt: float) -> None:
    """Half of the zone along, across and up, each × the routing factor, on top of what the factor adds."""
    there = "components: {pump: {at: ~, zone: rear-left}}"
    small = van_facts(
        HOSE, f"vehicle: {{zones: {{rear-left: {{at: [3 m, -0.9 m, 0 m], {zone}}}}}}}", there
    ).subject("hose")
    factor = small.van.build.header.defaults.routing_factor
    assert small.length_doubt - small.laid_length * (factor - 1) / factor == pytest.approx(doubt * factor)


def test_the_water_in_a_pipe_counts_where_the_tanks_are_filled() -> None:
    """π/4 × (12 mm)² × 3 m holds 0.339 kg; empty in the case without water."""
    build = van_facts(HOSE).whole
    (water,) = (e for e in build.in_case("full tanks").loads if e.name.startswith("water in hose"))
    assert water.mass == pytest.approx(0.3393, abs=1e-4)
    assert (water.x, water.x_doubt, water.known) == (3.0, 1.0, "computed from its volume")
    home = build.in_case("grey full, fresh empty").loads
    assert not any(e.name.startswith("water in hose") for e in home)


def test_every_load_says_how_its_mass_and_place_are_known() -> None:
    """Nothing on the axles without a word on both."""
    for entry in van_facts(HIGH, HOSE).whole.in_case("everything").loads:
        assert entry.known and entry.place, entry


def test_what_is_not_known_is_bounded_by_its_box() -> None:
    """0.5 × 0.4 × 0.3 m³ at 1000 kg/m³ is 60 kg; without a box nothing bounds it, and the field is named."""
    whole = van_facts("components: {heater: {kind: air-heater, size: [0.5 m, 0.4 m, 0.3 m]}}").whole
    assert [u.bound for u in whole.masses_unknown] == ["at most 60 kg by its box"]
    assert whole.unknown_mass_bound == pytest.approx(60)
    with pytest.raises(Missing) as raised:
        _ = van_facts("components: {heater: {kind: air-heater}}").whole.unknown_mass_bound
    assert raised.value.fields == ("heater.size",)


def test_removed_things_are_counted_and_negative() -> None:
    """Two seats of 20 kg out of the ticket."""
    out = "components: {seats: {kind: removed-item, mass: 20 kg, count: 2, at: [2 m, 0 m, 0 m]}}"
    whole = van_facts(out).whole
    assert (whole.removed_mass, whole.fitted_mass) == pytest.approx((40, -40))
    assert whole.removed_things == ("2 × seats",)


SERIES = """
components:
  cabinet: {kind: cabinet, mass: 100 kg, mass_status: weighed, at: [4 m, 0 m, 0 m], fitted_on: 2026-02-01}
  bed: {kind: bed, mass: 50 kg, mass_status: weighed, at: [4 m, 0 m, 0 m], fitted_on: 2026-04-01}
  shelf: {kind: shelf, mass: 10 kg, mass_status: weighed, at: [4 m, 0 m, 0 m]}
records:
  planned_mass: 120 kg
  weighings:
    - {stage: mid-build, date: 2026-03-01, front_axle: 1200 kg, rear_axle: REAR, driver: false, fuel: 100 %,
       scale_step: 10 kg}
    - {stage: final, date: 2026-05-01, front_axle: 1200 kg, rear_axle: 960 kg, driver: false, fuel: 100 %,
       scale_step: 10 kg}
"""


def series(rear: float) -> Any:
    """The small van with three tickets."""
    return van_facts(SERIES.replace("REAR", f"{rear} kg")).whole


def test_tickets_in_a_row_show_the_growth() -> None:
    """Without 83.2 kg of fuel each: 105 kg gained by March, 55 kg by May, all behind; then the spec's sum."""
    rows = [(s.mass, s.gained, s.gained_rear) for s in series(905).mass_by_stage]
    assert rows == [
        pytest.approx((2000 - 83.2, 0, 0)),
        pytest.approx((2105 - 83.2, 105, 105)),
        pytest.approx((2160 - 83.2, 55, 55)),
        pytest.approx((2160 - 83.2, 0, 0)),
    ]


def test_a_ticket_of_mid_build_counts_what_was_fitted_by_then() -> None:
    """The cabinet was in, the bed was not, of the shelf nothing says it: 105 ± 5 kg, scales 20 kg, cabinet 1 kg."""
    mid, final = series(905).tickets_against_spec
    assert (mid.weighed, mid.expected, mid.doubt) == pytest.approx((2021.8, 2021.8, 26))
    assert (final.expected, final.doubt) == pytest.approx((2076.8, 20 + 1.6))
    assert series(905).tickets_unexplained == ()
    (told,) = series(940).tickets_unexplained
    assert told.startswith("mid-build")


def test_the_conversion_against_what_was_planned() -> None:
    """160 kg fitted, 120 kg planned."""
    assert series(905).mass_creep == pytest.approx(40)
