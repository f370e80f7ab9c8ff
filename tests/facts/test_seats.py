"""Travel seats: who may sit where under way, which papers are named, what the bolts pass through."""

import pytest
from van import van_facts

from specreg.facts.missing import Missing

BENCH = """
components:
  bench: {kind: bench, places: 2, used_under_way: true, origin: retrofitted, belts: [three-point, lap],
    belt_approval: E4 16R-000000, test_report: report 0000, tested_in: "panel van, high roof"}
  sofa: {kind: bench, places: 3, used_under_way: false, origin: retrofitted, faces: sideways}
  bolts: {kind: anchorage, holds: [bench], purpose: seat and belt, substrate: reinforced floor}
"""


@pytest.mark.parametrize(
    ("over", "seats", "unbelted"),
    [
        ("{}", 3, 0),
        ("components: {bench: {belts: [three-point, none]}}", 2, 1),
        ("components: {bench: {used_under_way: false}}", 1, 0),
        ("components: {sofa: {used_under_way: true, belts: [none, none, none]}}", 3, 0),
        ("components: {sofa: {used_under_way: true, belts: [lap, lap, lap]}}", 6, 0),
        ("components: {bench: {count: 2}}", 5, 0),
        ("components: {bench: {count: 2, belts: [none, lap]}}", 3, 2),
        ("components: {driver-seat: {used_under_way: false}}", 3, 0),
    ],
)
def test_belted_places_offered_under_way(over: str, seats: int, unbelted: int) -> None:
    """A seat without a belt, or not offered, carries nobody; the driver's seat counts."""
    facts = van_facts(BENCH, over)
    assert facts.whole.travel_seats == seats
    assert facts.subject("bench").unbelted_places == unbelted


@pytest.mark.parametrize("field", ["used_under_way", "belts"])
def test_what_is_not_said_of_a_bench_leaves_the_count_open(field: str) -> None:
    """No bench is taken for a travel seat, or for none, in silence."""
    with pytest.raises(Missing) as raised:
        _ = van_facts(BENCH, f"components: {{bench: {{{field}: ~}}}}").whole.travel_seats
    assert raised.value.fields == (f"bench.{field}",)


@pytest.mark.parametrize(
    ("over", "wanting"),
    [
        ("{}", ()),
        ("components: {bench: {test_report: ~}}", ("type approval or test report",)),
        ("components: {bench: {test_report: ~, type_approval: e1*17R*0000}}", ()),
        ("components: {bench: {tested_in: ~}}", ("the body that the report was made for",)),
        ("components: {bench: {belt_approval: ~}}", ("belt approval",)),
        ("{jurisdictions: [us], components: {bench: {belt_approval: ~}}}", ()),
        ("{jurisdictions: [us, uk], components: {bench: {belt_approval: ~}}}", ("belt approval",)),
    ],
)
def test_papers_of_a_seat_that_a_converter_fitted(over: str, wanting: tuple[str, ...]) -> None:
    """A report counts only with the body that it was made for; belts carry their mark outside America."""
    assert van_facts(BENCH, over).subject("bench").evidence_wanting == wanting


@pytest.mark.parametrize(
    ("bolts", "weak"),
    [
        ("{substrate: reinforced floor}", ()),
        ("{substrate: floor sheet}", ("bolts",)),
        ("{substrate: floor sheet, plate: [100 mm, 100 mm, 6 mm]}", ()),
        ("{substrate: wood}", ("bolts",)),
    ],
)
def test_anchorages_through_sheet_alone(bolts: str, weak: tuple[str, ...]) -> None:
    """A backing plate, or a structure, is what a spec can show; strength it cannot."""
    assert van_facts(BENCH, f"components: {{bolts: {bolts}}}").subject("bench").weak_anchorages == weak


def test_a_seat_on_a_swivel_base_is_held_by_the_base_s_anchorages() -> None:
    """What holds the base holds the seat, and no other seat."""
    over = "components: {base: {kind: swivel-base, under: bench}, bolts: {holds: [base]}}"
    assert van_facts(BENCH, over).subject("bench").anchorages == ("bolts",)
    assert van_facts(BENCH, over).subject("sofa").anchorages == ()
    other = "components: {base: {kind: swivel-base, under: sofa}, bolts: {holds: [base]}}"
    assert van_facts(BENCH, other).subject("bench").anchorages == ()


@pytest.mark.parametrize("over", ["components: {bolts: {holds: [sofa]}}", "components: {bolts: ~}"])
def test_without_an_anchorage_nothing_is_said_of_what_it_passes_through(over: str) -> None:
    """A seat that no anchorage names is no well-anchored one."""
    with pytest.raises(Missing) as raised:
        _ = van_facts(BENCH, over).subject("bench").weak_anchorages
    assert (raised.value.fields, raised.value.reason) == ((), "no anchorage names bench under `holds`")


def test_every_weak_anchorage_is_named() -> None:
    """Of three the two through sheet and furniture, in the order of the spec; one with an unknown substrate is asked for."""
    over = (
        "components: {a: {kind: anchorage, holds: [bench], substrate: furniture}, "
        "b: {kind: anchorage, holds: [sofa, bench], substrate: floor sheet}}"
    )
    assert van_facts(BENCH, over).subject("bench").weak_anchorages == ("a", "b")
    with pytest.raises(Missing) as raised:
        _ = van_facts(BENCH, "components: {bolts: {substrate: ~}}").subject("bench").weak_anchorages
    assert raised.value.fields == ("bolts.substrate",)


@pytest.mark.parametrize(
    ("over", "held"),
    [
        ("{}", ("test report",)),
        ("components: {bench: {type_approval: e1*17R*0000}}", ("type approval", "test report")),
        ("components: {bench: {test_report: ~, maker_guidance: section 4.7}}", ("vehicle maker's guidance",)),
        ("components: {bench: {test_report: ~}}", ()),
    ],
)
def test_papers_that_are_named(over: str, held: tuple[str, ...]) -> None:
    """Type approval, report, the maker's guidance: each where the spec names it."""
    assert van_facts(BENCH, over).subject("bench").evidence == held


@pytest.mark.parametrize(
    ("over", "travels", "retrofitted"),
    [
        ("{}", True, True),
        ("components: {bench: {origin: base vehicle}}", True, False),
        ("components: {bench: {used_under_way: false}}", False, False),
    ],
)
def test_what_a_converter_fitted_for_the_road(over: str, travels: bool, retrofitted: bool) -> None:
    """Offered under way, and not of the base vehicle."""
    bench = van_facts(BENCH, over).subject("bench")
    assert (bench.travel_seat, bench.retrofitted_travel_seat) == (travels, retrofitted)


@pytest.mark.parametrize(
    ("people", "travel"),
    [("{adults: 2}", 2), ("{adults: 2, children: 3}", 5), ("{adults: 0, children: 1}", 1)],
)
def test_people_under_way(people: str, travel: int) -> None:
    """Adults and children; where there are none they are asked for."""
    assert van_facts(f"use: {{people: {people}}}").whole.people_under_way == travel
    with pytest.raises(Missing) as raised:
        _ = van_facts("use: {people: {adults: 0, dogs: 1}}").whole.people_under_way
    assert raised.value.fields == ("use.people",)


def test_berths_are_the_places_of_beds() -> None:
    """Two bunks of one place that stand as one, and a bed for two; a bench of three places is no bed."""
    beds = "components: {bunks: {kind: bed, places: 1, count: 2}, bed: {kind: bed, places: 2}}"
    assert van_facts(BENCH, beds).whole.berths == 4
    assert van_facts(BENCH).whole.berths == 0


SWIVEL = """
modes: {driving: {base: DRIVING}}
components:
  base: {kind: swivel-base, under: driver-seat, usual_shape: forward,
    shapes: {forward: {turned: 0°}, to-table: {turned: 180°}}}
"""


@pytest.mark.parametrize(("shape", "turned"), [("forward", 0.0), ("to-table", 3.14159)])
def test_a_seat_faces_as_its_base_is_turned_under_way(shape: str, turned: float) -> None:
    """The mode `driving` says which shape holds."""
    base = van_facts(SWIVEL.replace("DRIVING", shape)).subject("base")
    assert base.turned_under_way == pytest.approx(turned, abs=1e-5)


def test_a_base_of_which_no_angle_is_said_is_asked_for() -> None:
    """Without a mode `driving` its usual shape holds; without an angle there the shapes are named."""
    plain = "components: {base: {kind: swivel-base, under: driver-seat, usual_shape: aside, shapes: {aside: {turned: 90°}}}}"
    assert van_facts(plain).subject("base").turned_under_way == pytest.approx(1.5708, abs=1e-4)
    with pytest.raises(Missing) as raised:
        _ = van_facts(plain.replace("turned: 90°", "")).subject("base").turned_under_way
    assert raised.value.fields == ("base.shapes",)


def test_the_driver_always_travels() -> None:
    """Of the driver's seat nobody has to say that it is used; of any other seat somebody has to."""
    driver = van_facts("components: {driver-seat: {used_under_way: ~}}").subject("driver-seat")
    assert driver.travel_seat is True and driver.travel_places == 1
    other = van_facts("components: {driver-seat: {used_under_way: ~, driver: false}}").subject("driver-seat")
    with pytest.raises(Missing, match=r"driver-seat\.used_under_way"):
        _ = other.travel_seat


@pytest.mark.parametrize(
    ("shelf", "heavy"),
    [
        ("at: [2 m, -0.9 m, 1.2 m], contents: 5 kg", True),
        ("at: [2 m, -0.9 m, 1.19 m], contents: 5 kg", False),
        ("at: [2 m, -0.9 m, 1.2 m], contents: 4.9 kg", False),
        ("at: [2 m, -0.9 m, 1.2 m]", False),
        ("at: [1.21 m, -0.9 m, 1.2 m], contents: 5 kg", True),
        ("at: [1.19 m, -0.9 m, 1.2 m], contents: 5 kg", False),
        ("at: [2.99 m, -0.9 m, 1.2 m], contents: 5 kg", True),
        ("at: [3.01 m, -0.9 m, 1.2 m], contents: 5 kg", False),
        ("at: [2 m, -0.01 m, 1.2 m], contents: 5 kg", True),
        ("at: [2 m, 0.01 m, 1.2 m], contents: 5 kg", False),
    ],
)
def test_what_is_heavy_above_a_head(shelf: str, heavy: bool) -> None:
    """5 kg or more, 0.75 m over a cushion at 0.45 m, over the seat from 2 to 3 m or up to 0.3 m before it."""
    facts = van_facts(
        "components: {bench: {kind: bench, places: 2, used_under_way: true, seat_height: 450 mm, at: [2 m, -0.9 m, 0 m], "
        f"size: [1 m, 0.9 m, 1 m]}}, shelf: {{kind: shelf, {shelf}, size: [0.5 m, 0.3 m, 0.2 m]}}}}"
    )
    assert facts.subject("bench").heavy_above == (("shelf",) if heavy else ())
