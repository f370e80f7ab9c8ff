"""The ledger of masses, places for more, pipes and cables, tickets in a row: worked out on paper."""

import pytest
from van import van_facts

from specreg.facts.axes import cases
from specreg.facts.loading import Load
from specreg.facts.mass_height import height_moment, parted
from specreg.facts.mass_ledger import box_bound, of_base_vehicle
from specreg.facts.missing import Missing
from specreg.facts.payload_places import Limits, Room, Spot, room_at, room_in
from specreg.facts.registry import Axis
from specreg.facts.run_mass import volume_in, weigh_run
from specreg.facts.weight import DOUBT, between
from specreg.model.component import MassStatus


@pytest.mark.parametrize(
    ("thing", "mass", "doubt", "known"),
    [
        ("{kind: pump, mass: 2 kg, mass_status: data sheet}", 2.0, 0.06, "data sheet"),
        ("{kind: pump, mass: 2 kg}", 2.0, 0.4, "estimated"),
        ("{kind: gas-cylinder, mass: 8 kg, tare: 7 kg, mass_status: weighed}", 8.0, 0.08, "weighed"),
        ("{kind: gas-cylinder, tare: 7 kg, count: 2, mass_status: weighed}", 14.0, 0.14, "weighed"),
        ("{kind: extinguisher, mass: 1.2 kg, mass_status: weighed}", 1.2, 0.012, "weighed"),
        ("{kind: extinguisher, mass: 1.2 kg, content: 1 kg, count: 2, mass_status: weighed}", 4.4, 0.044, "weighed"),
        ("{kind: removed-item, mass: 20 kg, count: 2, mass_status: weighed}", -40.0, 0.4, "weighed"),
        ("{kind: tap}", 1.0, 1.0, "bounded"),
        ("{kind: tap, count: 2}", 2.0, 2.0, "bounded"),
        ("{kind: tap, mass: 0.4 kg, mass_status: weighed}", 0.4, 0.004, "weighed"),
        ("{kind: fuel-tank, base_vehicle: true}", 0.0, 0.0, "in the ticket as received"),
        ("{kind: fuel-tank, base_vehicle: false, mass: 5 kg, mass_status: weighed}", 5.0, 0.05, "weighed"),
        ("{kind: exit, origin: base vehicle, mass: 30 kg}", 0.0, 0.0, "in the ticket as received"),
        ("{kind: exit, origin: retrofitted, mass: 30 kg, mass_status: weighed}", 30.0, 0.3, "weighed"),
        ("{kind: exit, origin: retrofitted, is_part: pane}", 0.0, 0.0, "counted as what it is"),
        ("{kind: exit, origin: retrofitted, is_part: pane, mass: 3 kg, mass_status: weighed}", 3.0, 0.03, "weighed"),
        ("{kind: luggage, mass: 20 kg}", 0.0, 0.0, "counted in the loaded cases"),
        # 2 m² × 10 mm × 500 kg/m³ × 2 sheets + 1 kg of fittings = 21 kg, of each of 2 cabinets
        ("{kind: cabinet, count: 2, fittings_mass: 1 kg, sheets: [{area: 2 m², thickness: 10 mm, density: 500 kg/m³, "
         "count: 2}]}", 42.0, 4.2, "computed from sheets"),
        ("{kind: insulation-layer, area: 6 m², thickness: 20 mm, density: 30 kg/m³}", 3.6, 0.36, "computed from sheets"),
        ("{kind: insulation-layer, role: skin, area: 6 m², thickness: 1 mm, density: 7850 kg/m³}", 0.0, 0.0,
         "computed from sheets"),
    ],
)  # fmt: skip
def test_what_a_thing_adds(thing: str, mass: float, doubt: float, known: str) -> None:
    """A status says how far it may be off: weighed 1 %, data sheet 3 %, sheets 10 %, estimated 20 %, small ones all of it."""
    facts = van_facts(f"components: {{it: {thing}, pane: {{kind: opening-window, mass: 6 kg}}}}").subject(
        "it"
    )
    assert (facts.whole_mass, facts.whole_mass_doubt) == pytest.approx((mass, doubt))
    assert facts.whole_mass_known == known


@pytest.mark.parametrize(
    ("thing", "fields"),
    [
        ("{kind: exit, origin: retrofitted}", ("it.mass",)),
        ("{kind: exit, origin: retrofitted, is_part: nobody}", ("it.mass",)),
        ("{kind: fuel-tank}", ("it.base_vehicle",)),
        ("{kind: insulation-layer, material: extruded polystyrene}", ("it.area", "it.thickness")),
        ("{kind: insulation-layer, material: extruded polystyrene, thickness: 20 mm}", ("it.area",)),
        ("{kind: insulation-layer, area: 1 m², thickness: 20 mm}", ("it.density",)),
        ("{kind: floor, layers: [{area: 1 m², thickness: 9 mm, density: 500 kg/m³}, {area: 1 m², density: 500 kg/m³}]}",
         ("it.layers.2.thickness",)),
        ("{kind: spare-wheel, mass: 25 kg}", ("it.origin",)),
    ],
)  # fmt: skip
def test_what_is_wanting_for_a_mass(thing: str, fields: tuple[str, ...]) -> None:
    """What a converter fitted is not taken for the base vehicle's; each wanting field of each sheet is named."""
    with pytest.raises(Missing) as raised:
        _ = van_facts(f"components: {{it: {thing}}}").subject("it").whole_mass
    assert raised.value.fields == fields


@pytest.mark.parametrize(
    ("thing", "own", "said"),
    [
        ("{kind: starter-motor}", True, True),
        ("{kind: ignition-signal}", True, True),
        ("{kind: alternator, mass: 9 kg}", False, False),
        ("{kind: exit, origin: retrofitted}", False, False),
        ("{kind: exit, origin: base vehicle}", True, True),
        ("{kind: tow-bar, origin: base vehicle}", True, False),
        ("{kind: tow-bar, origin: retrofitted}", False, False),
        ("{kind: fuel-tank, base_vehicle: true}", True, False),
        ("{kind: pump}", False, False),
    ],
)
def test_what_is_in_the_ticket_as_received(thing: str, own: bool, said: bool) -> None:
    """What the spec says so of, and what every van comes with unless it is said to be fitted."""
    van = van_facts(f"components: {{it: {thing}}}")
    with van.recording() as frame:
        assert of_base_vehicle(van.subject("it")) is own
    assert any("taken as part of the base vehicle" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(
    ("thing", "told"),
    [
        (
            "{kind: pump, mass: 2 kg}",
            ["masses of which nothing says how they are known: taken as estimated, ± 20 %"],
        ),
        ("{kind: pump, mass: 2 kg, mass_status: weighed}", []),
        ("{kind: tap}", ["small fittings without a mass: taken as 0 to 2 kg each"]),
    ],
)
def test_what_is_assumed_of_a_mass(thing: str, told: list[str]) -> None:
    """How it is known, or that a small fitting weighs at most 2 kg; nothing where it is stated."""
    van = van_facts(f"components: {{it: {thing}}}")
    with van.recording() as frame:
        _ = van.subject("it").whole_mass
    assert list(frame.assumptions) == told


@pytest.mark.parametrize(
    ("thing", "bound"),
    [
        ("{kind: air-heater, size: [0.5 m, 0.4 m, 0.3 m]}", 60),
        ("{kind: air-heater, size: [0.5 m, 0.4 m, 0.3 m], count: 2}", 120),
        ("{kind: battery, size: [0.3 m, 0.2 m, 0.2 m]}", 0.012 * 2800),
        ("{kind: tow-bar, size: [0.5 m, 0.2 m, 0.1 m]}", 0.01 * 2500),
        ("{kind: air-heater}", None),
    ],
)
def test_a_box_bounds_a_mass(thing: str, bound: float | None) -> None:
    """1000 kg/m³ with the air in it; batteries 2800, tow bars 2500; of several alike each has its box."""
    assert box_bound(van_facts(f"components: {{it: {thing}}}").subject("it")) == (
        None if bound is None else pytest.approx(bound)
    )


def test_what_is_not_known_is_listed_with_its_bound() -> None:
    """Two with a box, one without, a cable without a conductor; the sum is open while one of them has none."""
    things = (
        "components: {a: {kind: air-heater, size: [0.5 m, 0.4 m, 0.3 m]}, b: {kind: fridge, size: [0.5 m, 0.4 m, 0.5 m]}, "
        "tap: {kind: tap}}"
    )
    whole = van_facts(things).whole
    assert [(u.name, u.subject, u.needs, u.bound) for u in whole.masses_unknown] == [
        ("a", "a", "a.mass", "at most 60 kg by its box"), ("b", "b", "b.mass", "at most 100 kg by its box"),
    ]  # fmt: skip
    assert whole.unknown_mass_bound == pytest.approx(160)
    assert whole.fitted_mass == pytest.approx(1.0)
    run = (
        "components: {battery: {kind: battery, mass: 12 kg, at: [2 m, 0 m, 0 m]}, c: {kind: air-heater}, "
        "box: {kind: fuse-box, at: [3 m, 0 m, 0 m], ways: {1: {fuse: 5 A}}}}\n"
        "runs: {lead: {medium: dc, from: battery/positive, to: box/feed, return: chassis, length: 2 m}}"
    )
    open_ = van_facts(things, run).whole
    assert [(u.subject, u.bound) for u in open_.masses_unknown][-2:] == [
        ("c", "nothing bounds it"), ("lead", "nothing bounds it"),
    ]  # fmt: skip
    with pytest.raises(Missing) as raised:
        _ = open_.unknown_mass_bound
    assert raised.value.fields == ("c.size", "lead.size")


def test_how_masses_are_known_in_groups() -> None:
    """By name: how many, how much, how far off; what is nothing at all is in no group, what may be something is."""
    groups = van_facts(
        "components: {a: {kind: bed, mass: 10 kg, mass_status: weighed}, b: {kind: bed, mass: 20 kg, mass_status: weighed}, "
        "out: {kind: removed-item, mass: 4 kg, mass_status: weighed}, c: {kind: bed, mass: 5 kg}, tap: {kind: tap}, "
        "bag: {kind: luggage, mass: 9 kg}, zero: {kind: bed, mass: 0 kg, mass_status: data sheet}, d: {kind: fridge}}"
    ).whole.masses_by_how_known
    assert [(g.known, g.count) for g in groups] == [("bounded", 1), ("estimated", 1), ("weighed", 3)]
    assert [(g.mass, g.doubt) for g in groups] == [
        pytest.approx((1.0, 1.0)), pytest.approx((5.0, 1.0)), pytest.approx((26.0, 0.34)),
    ]  # fmt: skip


def test_what_may_weigh_something_is_in_a_group() -> None:
    """A pipe that is drawn without a length between two things in a zone: 0 kg, and as much as it may be off."""
    pipe = (
        "components: {tank: {kind: fresh-tank, mass: 5 kg, zone: rear-left}, pump: {kind: pump, mass: 2 kg, zone: rear-left}}",
        "runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet}}",
    )
    bounded, estimated = van_facts(*pipe).whole.masses_by_how_known
    assert (bounded.known, bounded.count, bounded.mass) == ("bounded, length from places", 1, 0)
    assert bounded.doubt == pytest.approx(van_facts(*pipe).subject("hose").run_mass_doubt)
    assert (estimated.count, estimated.mass) == (2, 7)


def test_what_was_taken_out() -> None:
    """By its count; what was put in is not among it."""
    whole = van_facts(
        "components: {seat: {kind: removed-item, mass: 20 kg, count: 2}, wall: {kind: removed-item, mass: 15 kg}, "
        "bed: {kind: bed, mass: 30 kg}}"
    ).whole
    assert whole.removed_mass == pytest.approx(55)
    assert whole.removed_things == ("2 × seat", "1 × wall")


def test_shares_of_doubt() -> None:
    """Common practice: a scale 1 %, a data sheet 3 %, an estimate 20 %; between two bounds it is half of their distance."""
    assert {MassStatus.weighed: 0.01, MassStatus.data_sheet: 0.03, MassStatus.estimated: 0.2} == DOUBT
    assert between(1.0, 4.0, "x") == (2.5, 1.5, "x")


@pytest.mark.parametrize(
    ("x", "left", "room"),
    [
        (2, (100, 0, 100), (0, "front axle")),
        (2, (100, 100, 0), (0, "rear axle")),
        (2, (0, 100, 100), (0, "total")),
        (2, (-1, 100, 100), (0, "total")),
        (2, (100, 100, -1), (0, "rear axle")),
        (2, (-1, -1, -1), (0, "total")),
        (2, (100, -1, -1), (0, "front axle")),
        (2, (0, -1, 100), (0, "front axle")),
        (2, (0, 0, -1), (0, "rear axle")),
        (4, (500, 1, 300), (300, "rear axle")),
        (6, (500, 1, 300), (200, "rear axle")),
        (0, (500, 300, 1), (300, "front axle")),
        (-2, (500, 300, 1), (200, "front axle")),
    ],
)
def test_room_at_limits(x: float, left: tuple[float, float, float], room: tuple[float, str]) -> None:
    """Wheelbase 4 m: over an axle the other one has no say, beyond it the nearer one has more."""
    found = room_at(x, Limits(*left, 4.0))
    assert found.mass == pytest.approx(room[0])
    assert found.limit == room[1]


def test_a_spot_is_as_good_as_its_worst_end_and_its_own_limit() -> None:
    """From 1 to 5 m with 300 kg left in front, 200 kg behind, 450 kg in all: 160 kg at its rear end; 90 kg of its own."""
    left = Limits(450, 300, 200, 4)
    for spot, mass, limit in (
        (Spot("zone", 1.0, 5.0), 160, "rear axle"),
        (Spot("zone", 5.0, 1.0), 160, "rear axle"),
        (Spot("roof", 1.0, 5.0, Room(90, "roof")), 90, "roof"),
        (Spot("roof", 1.0, 5.0, Room(170, "roof")), 160, "rear axle"),
    ):
        assert room_in(spot, left).mass == pytest.approx(mass)
        assert room_in(spot, left).limit == limit


TOW = "components: {bar: {kind: tow-bar, origin: retrofitted, mass: 20 kg, mass_status: weighed, load_limit: 80 kg, OVER}}"


@pytest.mark.parametrize(
    ("over", "names"),
    [
        ("vehicle: {interior: {starts: ~}}", ["over the front axle", "over the rear axle", "rear left"]),
        ("vehicle: {interior: {length: ~}}", ["over the front axle", "over the rear axle", "rear left"]),
        ("vehicle: {permitted: {roof: ~}}",
         ["over the front axle", "over the rear axle", "front end of the room", "rear end of the room", "rear left"]),
        ("vehicle: {zones: {rear-left: {title: Garage}}}",
         ["over the front axle", "over the rear axle", "front end of the room", "rear end of the room", "on the roof", "Garage"]),
        (TOW.replace(", OVER", ""),
         ["over the front axle", "over the rear axle", "front end of the room", "rear end of the room", "on the roof",
          "rear left"]),
    ],
)  # fmt: skip
def test_places_that_are_asked_about(over: str, names: list[str]) -> None:
    """Those that the spec tells of; without an overhang nobody knows where the ball is."""
    assert [p.name for p in van_facts(over).whole.in_case("as converted").room_for_more] == names


def test_places_with_what_may_stand_there() -> None:
    """Of 3500, 1850 and 2250 kg: as converted 2066.68 kg, 814.59 kg behind; for certain 10 kg of the scale less.

    Over the rear axle 1433.32 kg are left in all, 1435.41 kg behind.
    """
    build = van_facts().whole.in_case("as converted")
    mass, rear = 2000 - 8.32 + 75, 800 - 4.16 + 18.75
    front = mass - rear
    places = {p.name: p for p in build.room_for_more}
    assert [(p.name, round(p.x, 9)) for p in places.values()] == [
        ("over the front axle", 0), ("over the rear axle", 4), ("front end of the room", 1), ("rear end of the room", 5),
        ("on the roof", 3), ("rear left", 4),
    ]  # fmt: skip
    expected = {
        "over the front axle": (1850 - front, "front axle"),
        "over the rear axle": (3500 - mass, "total"),
        "front end of the room": ((1850 - front) / 0.75, "front axle"),
        "rear end of the room": ((2250 - rear) / 1.25, "rear axle"),
        "on the roof": (150, "roof"),
        "rear left": ((2250 - rear) / 1.25, "rear axle"),
    }
    assert {name: p.limit for name, p in places.items()} == {
        name: limit for name, (_, limit) in expected.items()
    }
    assert {name: p.mass for name, p in places.items()} == pytest.approx(
        {n: m for n, (m, _) in expected.items()}
    )
    least = {p.name: p.mass for p in build.room_for_more_least}
    assert least["over the front axle"] == pytest.approx(1850 - front - 6)
    assert least["over the rear axle"] == pytest.approx(3500 - mass - 10)
    assert least["rear end of the room"] == pytest.approx((2250 - rear - 4) / 1.25)
    assert build.room_at_the_rear == pytest.approx((2250 - rear) / 1.25)


def test_what_the_roof_already_carries_is_off_its_room() -> None:
    """A rack of 30 kg on a roof for 150 kg."""
    rack = "components: {rack: {kind: roof-rack, mass: 30 kg, at: [2 m, 0 m, 2 m]}}"
    places = {p.name: p for p in van_facts(rack).whole.in_case("as converted").room_for_more}
    assert (places["on the roof"].mass, places["on the roof"].limit) == (120, "roof")


LEADS = """
defaults: {routing_factor: 1.5}
components:
  battery: {kind: battery, mass: 12 kg, at: [2 m, 0 m, 0 m]}
  box: {kind: fuse-box, at: [3 m, 0 m, 0 m], ways: {1: {fuse: 5 A}}}
  pump: {kind: pump, mass: 2 kg, at: [3 m, 0 m, 0 m]}
runs:
  lead: {medium: dc, from: battery/positive, to: box/feed, return: chassis, conductor: 25 mm², length: 2 m}
  pair: {medium: dc, from: box/1, to: pump/supply, return: same cable, conductor: 25 mm², length: 2 m}
"""


@pytest.mark.parametrize(("name", "cores"), [("lead", 1), ("pair", 2)])
def test_a_cable_weighs_its_cores(name: str, cores: int) -> None:
    """By hand: copper 25 mm² × 1.02 × 8890 kg/m³ = 0.2267 kg/m; d = √(4·25/(π·0.78)) = 6.388 mm, wall 12 % = 0.767 mm,
    PVC π·7.155·0.767 mm² × 1390 kg/m³ = 0.0240 kg/m; a second core doubles it and a sheath adds a fifth; ± 20 %."""
    run = van_facts(LEADS).subject(name)
    each = (0.2267 + 0.0240) * cores * (1.2 if cores > 1 else 1.0)
    found = weigh_run(run)
    assert (found.mass, found.doubt) == pytest.approx((2 * each, 0.2 * 2 * each), rel=1e-3)
    assert found.known == "computed from the conductor"
    assert (run.run_mass, run.run_mass_doubt) == (found.mass, found.doubt)


PIPES = """
defaults: {routing_factor: 1.5}
components:
  tank: {kind: fresh-tank, mass: 9 kg, volume: 70 L, at: [4 m, 0 m, 0 m]}
  pump: {kind: pump, mass: 2 kg, at: [2 m, 0 m, 0 m]}
runs: {hose: {medium: water, from: tank/outlet, to: pump/inlet, length: 3 m}}
"""


@pytest.mark.parametrize(
    ("over", "mass", "doubt", "known"),
    [
        ("{}", 0.6, 0.45, "bounded"),
        ("runs: {hose: {mass: 2 kg}}", 2.0, 0.02, "weighed"),
        # 2 m × 1.5 are 3 m ± 1 m: 0.2 kg/m × 1 m on top of 0.15 kg/m × 3 m
        ("runs: {hose: {length: ~}}", 0.6, 0.45 + 0.2, "bounded, length from places"),
    ],
)
def test_a_pipe_of_unknown_bore(over: str, mass: float, doubt: float, known: str) -> None:
    """0.2 ± 0.15 kg/m, unless its mass is stated, which counts as weighed; a length from places has a doubt of its own."""
    van = van_facts(PIPES, over)
    with van.recording() as frame:
        found = weigh_run(van.subject("hose"))
    assert (found.mass, found.doubt) == pytest.approx((mass, doubt))
    assert found.known == known
    assert any("of unknown bore" in sentence for sentence in frame.assumptions) is ("mass" not in over)


def test_what_is_assumed_of_a_pipe_of_known_bore() -> None:
    """That its walls are the usual ones."""
    van = van_facts(PIPES, "runs: {hose: {bore: 12 mm}}")
    with van.recording() as frame:
        assert weigh_run(van.subject("hose")).known == "computed from bore and material"
    assert any("over the walls that are usual" in sentence for sentence in frame.assumptions)


HEATER = """
components:
  heater: {kind: air-heater, burns: diesel, flue_type: room-sealed, mass: 3 kg, at: [2 m, 0 m, 0 m]}
  terminal: {kind: flue-terminal, at: [2 m, 0 m, 0 m]}
  intake: {kind: air-intake, at: [2 m, 0 m, 0 m]}
runs:
  flue: {medium: exhaust, from: heater/exhaust, to: terminal, bore: 24 mm, length: 2 m}
  duct: {medium: air, from: intake, to: heater/combustion-air, bore: 60 mm, length: 2 m}
"""


@pytest.mark.parametrize(
    ("text", "run", "least", "most"),
    [
        # steel of 7900 kg/m³, walls 0.3 and 1.5 mm: π × 24.3 × 0.3 and π × 25.5 × 1.5 mm²
        (HEATER, "flue", 22.902e-6 * 7900, 120.166e-6 * 7900),
        # paper and foil of 1100 kg/m³, 0.1 and 1.2 mm: π × 60.1 × 0.1 and π × 61.2 × 1.2 mm²
        (HEATER, "duct", 18.881e-6 * 1100, 230.719e-6 * 1100),
        # polymer of 1100 kg/m³, 1 and 3.5 mm: π × 13 × 1 and π × 15.5 × 3.5 mm²
        (PIPES.replace("length: 3 m", "length: 2 m, bore: 12 mm"), "hose", 40.841e-6 * 1100, 170.431e-6 * 1100),
        # copper of 8900 kg/m³, 0.6 and 1 mm: π × 10.6 × 0.6 and π × 11 × 1 mm²
        (PIPES.replace("length: 3 m", "length: 2 m, bore: 10 mm, material: copper"), "hose", 19.981e-6 * 8900,
         34.558e-6 * 8900),
    ],
)  # fmt: skip
def test_a_pipe_of_known_bore_lies_between_its_walls(text: str, run: str, least: float, most: float) -> None:
    """2 m of it, in the middle of the thinnest and the thickest usual wall, and half of what is between as doubt."""
    found = weigh_run(van_facts(text).subject(run))
    assert (found.mass, found.doubt) == pytest.approx((least + most, most - least), rel=1e-4)


def test_a_control_cable_weighs_little() -> None:
    """0.05 ± 0.04 kg/m."""
    van = van_facts(
        "components: {heater: {kind: air-heater, mass: 3 kg}, pump: {kind: fuel-pump, mass: 1 kg}}",
        "runs: {lead: {medium: control, from: heater/control, to: pump/control, length: 4 m}}",
    )
    found = weigh_run(van.subject("lead"))
    assert (found.mass, found.doubt) == pytest.approx((0.2, 0.16))
    assert found.known == "bounded"


@pytest.mark.parametrize(
    ("over", "mass"),
    [("bore: 20 mm", 0.94248), ("bore: ~", 0.0), ("bore: 20 mm, length: ~", 0.0)],
)
def test_water_that_fills_a_pipe(over: str, mass: float) -> None:
    """π/4 × (20 mm)² × 3 m × 1000 kg/m³; nothing is counted of a pipe without bore or length."""
    van = van_facts(PIPES, f"runs: {{hose: {{{over}}}}}", "components: {pump: {at: ~}}")
    assert volume_in(van.subject("hose")) * 1000 == pytest.approx(mass, abs=1e-5)


def test_heights_are_above_the_ground() -> None:
    """10 kg 0.5 m over a load floor at 0.6 m, and 4 kg taken from 1 m over it."""
    entries = (
        Load("vehicle as weighed", "", 2000.0, 10.0, 1.6, 0.0, 0.0, 0.0),
        Load("a", "a", 10.0, 0.0, 0.0, 0.0, 0.0, 0.0, z=0.5),
        Load("b", "b", -4.0, 0.0, 0.0, 0.0, 0.0, 0.0, z=1.0),
    )
    weighed, others = parted(entries)
    assert (weighed, others) == (entries[0], entries[1:])
    assert height_moment(others, 0.6) == pytest.approx(10 * 1.1 - 4 * 1.6)


def test_each_axis_has_its_cases() -> None:
    """The README names them; a van without modes is asked about by day."""
    van = van_facts()
    assert cases(Axis.loading, van) == (
        "as converted", "full tanks", "all seats", "everything", "grey full, fresh empty",
    )  # fmt: skip
    assert cases(Axis.source_mode, van) == ("shore", "inverter", "generator")
    assert cases(Axis.operation, van) == ("night", "day", "driving", "shore", "everything on")
    assert cases(Axis.mode, van) == ("day",)
    assert cases(Axis.month, van) == ()
