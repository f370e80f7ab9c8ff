"""Children, papers, swivel bases, tyres, labels, extinguishers: small vans by hand."""

import pytest
from van import van_facts

from specreg.facts.missing import Missing
from specreg.tables.tyres import LOAD_INDEX, tyre_load

BENCH = """
vehicle: {category: CATEGORY}
components:
  bench: {kind: bench, places: 2, used_under_way: true, origin: retrofitted, belts: [three-point, lap],
    tested_for: TESTED, isofix_places: 1, child_places: [{place: 1, held_by: isofix}, {place: 2, held_by: belt}]}
"""


@pytest.mark.parametrize(
    ("tested", "category", "enough"),
    [("M1", "M1", True), ("N1", "M1", True), ("M1", "M2", True), ("M2", "M1", False), ("M3", "N2", False)],
)
def test_a_report_covers_a_category_that_asks_for_no_more(tested: str, category: str, enough: bool) -> None:
    """20, 10 and 6.6 times the seat's weight (UN R14 6.4.4, from memory)."""
    bench = van_facts(BENCH.replace("TESTED", tested).replace("CATEGORY", category)).subject("bench")
    assert bench.report_covers_category is enough


def test_child_places_are_counted_and_held() -> None:
    """One by ISOFIX, one by its belt; the driver's seat has none."""
    facts = van_facts(BENCH.replace("TESTED", "M1").replace("CATEGORY", "M1"))
    assert facts.whole.child_places_under_way == 2
    assert facts.subject("bench").child_places_unheld == ()
    assert facts.subject("bench").lap_belts == 1


def test_a_bench_that_is_not_for_travel_is_named() -> None:
    """And a notice counts only where it is about seats."""
    whole = van_facts(
        "components: {side: {kind: bench, used_under_way: false, origin: retrofitted, mass: 9 kg},"
        " sign: {kind: notice, purpose: not a travel seat}, other: {kind: notice, purpose: tyres}}"
    ).whole
    assert (whole.seats_not_for_travel, whole.seat_notices) == (("side",), ("sign",))


def test_what_a_turning_seat_has_of_leads() -> None:
    """Airbag and tensioner, no sensor."""
    base = van_facts(
        "components: {driver-seat: {side_airbag: true, belt_tensioner: true},"
        " base: {kind: swivel-base, under: driver-seat, origin: retrofitted, mass: 9 kg, test_report: r}}"
    ).subject("base")
    assert base.wired_parts == ("side airbag", "belt tensioner")
    assert base.papers == ("test report",)


@pytest.mark.parametrize(
    ("size", "single", "paired"),
    [
        ("225/75 R16 C 121/120R", 1450, 1400),
        ("LT215/85 R16 115/112Q", 1215, 1120),
        ("195/65 R15 91H", 615, None),
        ("215/65 R16C 109/107 T", 1030, 975),
    ],
)
def test_load_index_of_a_designation(size: str, single: float, paired: float | None) -> None:
    """As tyre tables list them (tests/published/tyre-load-index.csv)."""
    assert tyre_load(size) == (single, paired)


@pytest.mark.parametrize("size", ["225/75 R16 C", "", "full size"])
def test_without_an_index_nothing_is_guessed(size: str) -> None:
    """No figure from the width of a tyre."""
    assert tyre_load(size) is None


def test_loads_grow_with_the_index() -> None:
    """Preferred numbers: twenty steps are a factor of 10^(1/4), rounded by at most 2 %."""
    loads = list(LOAD_INDEX.values())
    assert loads == sorted(set(loads))
    for n in range(70, 111):
        assert LOAD_INDEX[n + 20] / LOAD_INDEX[n] == pytest.approx(10**0.25, rel=0.02)


def test_paired_wheels_carry_by_the_second_index() -> None:
    """4 × 1120 kg; single 2 × 1215 kg."""
    tyres = "vehicle: {tyres: {size: LT215/85 R16 115/112Q, paired_rear: PAIRED}}"
    assert van_facts(tyres.replace("PAIRED", "true")).whole.rear_tyres_carry == 4480
    assert van_facts(tyres.replace("PAIRED", "false")).whole.rear_tyres_carry == 2430
    assert van_facts(tyres.replace("PAIRED", "true")).whole.front_tyres_carry == 2430


@pytest.mark.parametrize(
    ("words", "mass"),
    [("never exceed 450 kg or 992 lbs", 450.0), ("never exceed 1000 lb", 453.59237), ("12,5 kg", 12.5)],
)
def test_the_mass_that_a_label_says(words: str, mass: float) -> None:
    """The first one, in kilograms."""
    label = van_facts(f'components: {{label: {{kind: notice, text: "{words}"}}}}').subject("label")
    assert label.mass_said == pytest.approx(mass)


def test_a_label_without_a_mass_is_not_read_as_zero() -> None:
    """It is not known."""
    label = van_facts("components: {label: {kind: notice, text: see the plate}}").subject("label")
    with pytest.raises(Missing):
        _ = label.mass_said


@pytest.mark.parametrize(
    ("stove", "classes", "wanting"),
    [("", "[A]", ()), ("", "[B]", ("A",)), ("hob: {kind: hob, burns: propane, mass: 3 kg}, ", "[A]", ("B",))],
)
def test_classes_of_fire(stove: str, classes: str, wanting: tuple[str, ...]) -> None:
    """Solids always, liquids and gases where something burns."""
    facts = van_facts(
        f"components: {{{stove}extinguisher: {{kind: extinguisher, mass: 1 kg, classes: {classes}}}}}"
    )
    assert facts.subject("extinguisher").classes_wanting == wanting


@pytest.mark.parametrize(
    ("place", "below"),
    [
        ("mounted: ceiling", 0.0),
        ("below_ceiling: 250 mm", 0.25),
        ("at: [2 m, 0 m, 1.7 m], size: [0.1 m, 0.1 m, 50 mm]", 0.15),
    ],
)
def test_how_far_a_smoke_alarm_is_below_the_ceiling(place: str, below: float) -> None:
    """The room is 1.9 m high."""
    alarm = van_facts(f"components: {{alarm: {{kind: smoke-alarm, {place}}}}}").subject("alarm")
    assert alarm.below_the_ceiling == pytest.approx(below)


@pytest.mark.parametrize(
    ("shapes", "stowed"),
    [("{made: {}, stowed: {}}", True), ("{made: {}}", False), ("{up: {}, down: {}}", False)],
)
def test_a_bed_can_be_stowed_when_it_is_made_and_something_else(shapes: str, stowed: bool) -> None:
    """A fixed bed is made always; what has no shape to lie in is made never."""
    usual = shapes.strip("{").partition(":")[0]
    shapes = shapes.replace("{}", "{at: [3 m, 0 m, 0.5 m], size: [1.9 m, 0.7 m, 0.2 m]}")
    facts = van_facts(f"components: {{bed: {{kind: bed, usual_shape: {usual}, shapes: {shapes}}}}}")
    assert facts.subject("bed").can_be_stowed is stowed


@pytest.mark.parametrize(("paired", "said"), [("", True), (", paired_rear: false", False)])
def test_single_rear_wheels_are_an_assumption(paired: str, said: bool) -> None:
    """Load index 104 is 900 kg: two tyres carry 1800 kg; that they are two is said unless it is stated."""
    facts = van_facts(f"vehicle: {{tyres: {{size: 225/75 R16 C 104/102R{paired}}}}}")
    with facts.recording() as frame:
        assert facts.whole.rear_tyres_carry == 1800
    assert any("not stated, taken as single" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(
    ("thing", "bears", "load", "allowed"),
    [
        ("roof-rack, carried: 20 kg, load_limit: 50 kg", True, 20, 50),
        ("roof-rack, carried: 20 kg", True, 20, None),
        ("roof-rack, load_limit: 50 kg", False, None, 50),
        ("tow-bar, carried: 70 kg, load_limit: 75 kg", False, 70, 75),  # its ball is judged by itself
        ("cabinet, contents: 8 kg, contents_limit: 15 kg", True, 8, 15),
        ("cabinet, contents: 8 kg", False, 8, None),
        ("cabinet, contents_limit: 15 kg", False, None, 15),
        ("sink", False, None, None),
    ],
)
def test_what_bears_a_load_and_how_much(
    thing: str, bears: bool, load: float | None, allowed: float | None
) -> None:
    """A carrier whose load is stated asks for its limit; a cabinet is judged where its maker states one."""
    it = van_facts(f"components: {{it: {{kind: {thing}}}}}").subject("it")
    assert it.bears_a_load is bears
    assert (it.get("load_borne"), it.get("load_allowed")) == (load, allowed)


SHAPES = "{made: {at: [3 m, 0 m, 0.5 m]}, stowed: {at: [3 m, 0 m, 0.5 m]}}"


@pytest.mark.parametrize(
    ("usual", "driving", "made"),
    [
        ("made", "", True),
        ("stowed", "", False),
        ("made", "bed: stowed", False),
        ("stowed", "bed: made", True),
        ("made", "other: stowed", True),
        ("~", "bed: made", True),
    ],
)
def test_how_a_bed_stands_under_way(usual: str, driving: str, made: bool) -> None:
    """As the mode `driving` has it, else as it usually stands."""
    beds = f"bed: {{kind: bed, usual_shape: {usual}, shapes: {SHAPES}}}, other: {{kind: bed, usual_shape: made, shapes: {SHAPES}}}"
    facts = van_facts(f"{{components: {{{beds}}}, modes: {{driving: {{{driving}}}}}}}")
    assert facts.subject("bed").made_under_way is made


def test_a_bed_of_which_nobody_says_how_it_stands() -> None:
    """Neither its usual shape nor that of the road: both would tell, the road's is asked for."""
    bed = van_facts(f"components: {{bed: {{kind: bed, shapes: {SHAPES}}}}}").subject("bed")
    with pytest.raises(Missing) as absent:
        _ = bed.made_under_way
    assert absent.value.fields == ("modes.driving.bed",)


@pytest.mark.parametrize(
    ("thing", "stated", "mass", "height"),
    [
        ("cabinet, mass: 20 kg, contents: 8 kg, at: [3 m, 0 m, 0.5 m], size: [1 m, 1 m, 0.4 m]", True, 28, 0.7),
        ("cabinet, mass: 20 kg, at: [3 m, 0 m, 0.5 m]", True, 20, 0.5),
        ("cabinet, contents: 8 kg", False, None, None),
        ("roof-rack, mass: 30 kg", True, 30, None),
        ("reading-light", False, 1, None),  # a small fitting, taken as 0 to 2 kg: its mass is not known
    ],
)  # fmt: skip
def test_a_heavy_thing_with_what_is_in_it(
    thing: str, stated: bool, mass: float | None, height: float | None
) -> None:
    """Its mass and its contents, and the middle of its box over the load floor."""
    it = van_facts(f"components: {{it: {{kind: {thing}}}}}").subject("it")
    assert (it.mass_stated, it.get("mass_with_contents"), it.get("centre_height")) == (
        stated,
        pytest.approx(mass),
        pytest.approx(height),
    )
    assert it.stands_on_roof is thing.startswith("roof-rack")


def test_a_thing_without_a_place_has_no_height() -> None:
    """Its place is asked for."""
    with pytest.raises(Missing) as absent:
        _ = van_facts("components: {it: {kind: cabinet}}").subject("it").centre_height
    assert absent.value.fields == ("it.at",)
