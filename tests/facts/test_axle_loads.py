"""Axle loads of a whole van: ticket corrected, everything fitted, fluids, people, belongings."""

from typing import Any

import pytest
from building import read
from hypothesis import given, settings
from hypothesis import strategies as st
from van import van_facts

from specreg.facts.axes import LOADING_CASES
from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import US, convention
from specreg.facts.missing import Missing

FULL = """
use: {personal_effects: 60 kg}
components:
  passenger-seat:
    {kind: seat, used_under_way: true, origin: base vehicle, belts: [three-point], at: [1 m, 0.6 m, 0.5 m]}
  bench:
    {kind: bench, places: 2, used_under_way: true, origin: retrofitted, belts: [lap, lap], mass: 40 kg,
     mass_status: weighed, at: [2 m, -0.9 m, 0 m], size: [1 m, 0.9 m, 1 m], contents: 5 kg}
  tank: {kind: fresh-tank, volume: 100 L, mass: 10 kg, mass_status: weighed, at: [4.5 m, 0.2 m, 0 m]}
  grey: {kind: grey-tank, volume: 70 L, mass: 8 kg, mass_status: weighed, at: [3 m, 0 m, -0.3 m]}
  boiler: {kind: water-heater, volume: 10 L, mass: 12 kg, mass_status: weighed, at: [4 m, 0.5 m, 0 m]}
  cylinder: {kind: gas-cylinder, content: 6 kg, tare: 7.5 kg, count: 2, at: [5 m, 0.6 m, 0 m]}
  cabinet: {kind: cabinet, zone: rear-left, contents: 15 kg, fittings_mass: 2 kg,
    sheets: [{material: poplar plywood, area: 2 m², thickness: 15 mm, density: 500 kg/m³}]}
  rear-box: {kind: luggage, mass: 20 kg, at: [5.2 m, 0 m, 0 m]}
  old-bulkhead: {kind: removed-item, mass: 25 kg, mass_status: weighed, at: [1.2 m, 0 m, 0.9 m]}
"""


def case(facts: Facts, name: str) -> Subject:
    """The build in one loading case."""
    return facts.whole.in_case(name)


def by_hand(rows: list[tuple[float, float]]) -> tuple[float, float]:
    """Mass and rear axle load by a plain sum over (mass, place), wheelbase 4 m."""
    return sum(m for m, _ in rows), sum(m * x for m, x in rows) / 4


DIESEL = 83.2
"""100 L of diesel at 832 kg/m³, at 2 m."""

DRY: list[tuple[float, float]] = [
    (2000, 4 * 800 / 2000), (-DIESEL, 2), (40, 2.5), (10, 4.5), (8, 3), (12, 4), (15, 5), (17, 4), (-25, 1.2),
]  # fmt: skip
SEATS = [(75, 1.0), (75, 1.0), (75, 2.5), (75, 2.5)]
KEPT = [(5, 2.5), (15, 4), (20, 5.2), (20, 3)]
"""In the bench, in the cabinet, the luggage, and what is left of 60 kg in the middle of the interior."""

EXPECTED = {
    "as converted": [*DRY, (0.9 * DIESEL, 2), (75, 1), (100, 4.5), (10, 4), (12, 5)],
    "full tanks": [*DRY, (DIESEL, 2), (75, 1), (100, 4.5), (10, 4), (12, 5)],
    "all seats": [*DRY, (DIESEL, 2), *SEATS, (100, 4.5), (10, 4), (12, 5)],
    "everything": [*DRY, (DIESEL, 2), *SEATS, (100, 4.5), (10, 4), (12, 5), *KEPT],
    "grey full, fresh empty": [*DRY, (DIESEL, 2), *SEATS, (70, 3), (10, 4), (12, 5), *KEPT],
}


@pytest.mark.parametrize("name", LOADING_CASES)
def test_every_case_by_a_plain_sum_of_moments(name: str) -> None:
    """A second derivation, written out by hand for the small van."""
    build = case(van_facts(FULL), name)
    mass, rear = by_hand(EXPECTED[name])
    assert build.laden_mass == pytest.approx(mass)
    assert build.rear_axle_load == pytest.approx(rear)
    assert build.front_axle_load == pytest.approx(mass - rear)
    assert build.centre_of_gravity == pytest.approx(4 * rear / mass)
    assert build.payload_left == pytest.approx(3500 - mass)
    assert build.rear_axle_left == pytest.approx(2250 - rear)


def test_the_us_counts_unladen_without_driver_and_water() -> None:
    """Unladen vehicle mass: full fuel; water, people and goods are cargo; a person is 150 lb."""
    facts = van_facts(FULL, "jurisdictions: [us]")
    mass, _ = by_hand([*DRY, (DIESEL, 2)])
    assert case(facts, "as converted").laden_mass == pytest.approx(mass)
    people = case(facts, "all seats").laden_mass - mass
    assert people == pytest.approx(4 * 150 * 0.45359237)
    assert facts.whole.occupant_and_cargo_capacity == pytest.approx(3500 - mass - 12)


def test_what_was_aboard_when_weighed_is_taken_off() -> None:
    """The same van weighed with a driver and half the fuel is the same van."""
    lighter = van_facts(FULL)
    ticket = "vehicle: {as_received: {driver: true, fuel: 50 %, front_axle: %s kg, rear_axle: %s kg}}"
    front, rear = 1200 + 75 * 0.75 - DIESEL / 4, 800 + 75 * 0.25 - DIESEL / 4
    heavier = van_facts(FULL, ticket.replace("%s", str(front), 1).replace("%s", str(rear), 1))
    for name in LOADING_CASES:
        assert case(heavier, name).rear_axle_load == pytest.approx(case(lighter, name).rear_axle_load)
        assert case(heavier, name).laden_mass == pytest.approx(case(lighter, name).laden_mass)


@pytest.mark.parametrize(
    ("over", "fields"),
    [
        ("vehicle: {as_received: ~}", ("vehicle.as_received",)),
        ("vehicle: {as_received: {front_axle: ~}}", ("vehicle.as_received.front_axle",)),
        ("vehicle: {as_received: {rear_axle: ~}}", ("vehicle.as_received.rear_axle",)),
        ("vehicle: {as_received: {front_axle: ~, rear_axle: ~}}",
         ("vehicle.as_received.front_axle", "vehicle.as_received.rear_axle")),
        ("vehicle: {as_received: {driver: ~}}", ("vehicle.as_received.driver",)),
        ("vehicle: {as_received: {fuel: ~}}", ("vehicle.as_received.fuel",)),
        ("vehicle: {fuel_tank: {volume: ~}}", ("vehicle.fuel_tank.volume",)),
        ("vehicle: {wheelbase: ~}", ("vehicle.wheelbase",)),
        ("components: {tank: {volume: ~}, grey: {volume: ~}}", ("tank.volume",)),
        ("components: {passenger-seat: {used_under_way: ~}}", ("passenger-seat.used_under_way",)),
        ("components: {spare: {kind: spare-wheel, origin: base vehicle}}",
         ("vehicle.as_received.spare_wheel",)),
    ],
)  # fmt: skip
def test_what_is_not_stated_is_named(over: str, fields: tuple[str, ...]) -> None:
    """Nothing that the sum needs is guessed."""
    with pytest.raises(Missing) as raised:
        _ = case(van_facts(FULL, over), "everything").laden_mass
    assert raised.value.fields == fields


def said(facts: Facts) -> tuple[float, str]:
    """How far the mass of the van as converted may be off, and what was assumed on the way."""
    with facts.recording() as frame:
        off = case(facts, "as converted").laden_mass_doubt
    return off, "; ".join(frame.assumptions)


def test_a_scale_is_off_by_its_step() -> None:
    """50 kg where the ticket says so; 20 kg, and that it was assumed, where it does not."""
    stated, told = said(van_facts(FULL, "vehicle: {as_received: {scale_step: 50 kg}}"))
    assumed, told_so = said(van_facts(FULL, "vehicle: {as_received: {scale_step: ~}}"))
    assert stated - assumed == pytest.approx(50 - 20)
    assert "scale step" not in told and "scale step not stated, taken as 20 kg" in told_so


def test_water_when_weighed_is_taken_off() -> None:
    """Half of the 100 L were aboard; where nothing is said of water, none was, and that is assumed."""
    dry, told_so = (
        van_facts(FULL, "vehicle: {as_received: {fresh_water: ~}}"),
        "fresh water when weighed not stated",
    )
    wet = van_facts(FULL, "vehicle: {as_received: {fresh_water: 50 %}}")
    lighter = case(dry, "as converted").laden_mass - case(wet, "as converted").laden_mass
    assert lighter == pytest.approx(50, rel=0.003)
    assert told_so in said(dry)[1] and told_so not in said(wet)[1]


@pytest.mark.parametrize(("weighed_with", "added"), [("true", 0), ("false", 25)])
def test_the_spare_wheel_counts_once(weighed_with: str, added: float) -> None:
    """25 kg are added only where the ticket says that the wheel was not in the vehicle."""
    wheel = "components: {spare: {kind: spare-wheel, origin: base vehicle, mass: 25 kg, mass_status: weighed, at: [4 m, 0 m, 0 m]}}"
    facts = van_facts(FULL, wheel, f"vehicle: {{as_received: {{spare_wheel: {weighed_with}}}}}")
    without = case(van_facts(FULL), "as converted").laden_mass
    assert case(facts, "as converted").laden_mass - without == pytest.approx(added)


def test_what_has_no_mass_is_named() -> None:
    """A thing without a mass is left out of the sum, and its name stands beside it; others are not named."""
    facts = van_facts(FULL, "components: {tank: {mass: ~, mass_status: ~}}")
    _, told = said(facts)
    assert f"not counted, for want of a mass: {facts.name_of('tank')}" in told
    assert case(van_facts(FULL), "as converted").laden_mass - case(
        facts, "as converted"
    ).laden_mass == pytest.approx(10)
    assert "for want of a mass" not in said(van_facts(FULL))[1]


def test_a_zone_brings_half_its_length_as_doubt() -> None:
    """17 kg of cabinet and 15 kg in it stand in a zone 2 m long: ± 1 m on a wheelbase of 4 m."""
    placed = van_facts(FULL, "components: {cabinet: {at: [4 m, -0.5 m, 0.5 m]}}")
    zoned = van_facts(FULL)
    more = case(zoned, "everything").rear_axle_doubt - case(placed, "everything").rear_axle_doubt
    assert more == pytest.approx((17 + 15) / 4)


def test_left_and_right_by_moments_about_the_centre_line() -> None:
    """100 kg of water 0.45 m right of the centre line on a track of 1.8 m: a quarter of it changes sides."""
    over = "components: {tank: {kind: fresh-tank, volume: 100 L, mass: 0 kg, at: [4 m, 0.45 m, 0 m]}}"
    facts = van_facts("vehicle: {as_received: {driver: true, fuel: 90 %}}", over)
    mass = 2000 + 100
    left = 1010 + 100 * (0.5 - 0.45 / 1.8)
    assert case(facts, "as converted").left_share == pytest.approx(left / mass)


@settings(max_examples=25, deadline=None)
@given(mass=st.integers(1, 400), x=st.integers(-500, 6000))
@pytest.mark.parametrize("name", ["as converted", "everything"])
def test_adding_mass_never_raises_payload(name: str, mass: int, x: int) -> None:
    """Wherever it is added; the axles together carry exactly as much more."""
    shelf = f"{{kind: shelf, mass: {mass} kg, mass_status: weighed, at: [{x} mm, 0 m, 0 m]}}"
    extra = f"components: {{shelf: {shelf}}}"
    before, after = case(PLAIN, name), case(van_facts(extra), name)
    assert after.payload_left == pytest.approx(before.payload_left - mass)
    assert after.payload_left_least < before.payload_left_least
    lost: Any = before.front_axle_left + before.rear_axle_left - after.front_axle_left - after.rear_axle_left
    assert lost == pytest.approx(mass)


PLAIN = van_facts()


@pytest.mark.parametrize(
    ("held", "american"),
    [
        ("[us]", True),
        ("[ca]", True),
        ("[us, ca]", True),
        ("[us, eu]", False),
        ("[uk]", False),
        ("[au, nz]", False),
    ],
)
def test_the_american_count_holds_where_nothing_else_does(held: str, american: bool) -> None:
    """Without driver and water only for a van that stays in the US and Canada; the heavier count everywhere else."""
    assert (convention(van_facts(f"jurisdictions: {held}")) is US) is american


def test_a_van_is_registered_somewhere() -> None:
    """No jurisdiction at all would leave out every rule that is bound to one: it is a problem of the spec."""
    _, problems = read("jurisdictions: []")
    assert [problem.text() for problem in problems] == [
        "spec.yaml:1:16: problem: `jurisdictions` has 0 items: expected one at least"
    ]


def test_an_electric_van_has_no_fuel_to_weigh() -> None:
    """An electric vehicle needs no volume of a tank; without a word on the tank its volume is asked for."""
    assert case(van_facts("vehicle: {fuel_tank: {fuel: electric, volume: ~}}"), "as converted").laden_mass > 0
    with pytest.raises(Missing, match=r"vehicle\.fuel_tank\.volume"):
        _ = case(van_facts("vehicle: {fuel_tank: ~}"), "as converted").laden_mass


def test_doubt_of_the_front_axle() -> None:
    """A bed of 100 kg three quarters back, its mass estimated: a quarter of its doubt is on the front axle, the rest behind."""
    part = "components: {x: {kind: bed, mass: 100 kg, mass_status: estimated, at: [%s, 0 m, 0 m]}}"
    none, there = van_facts(), van_facts(part % "3 m")
    whole = case(there, "everything").laden_mass_doubt - case(none, "everything").laden_mass_doubt
    front = case(there, "everything").front_axle_doubt - case(none, "everything").front_axle_doubt
    rear = case(there, "everything").rear_axle_doubt - case(none, "everything").rear_axle_doubt
    assert whole > 0
    assert (front, rear) == (pytest.approx(whole / 4), pytest.approx(whole * 3 / 4))


@pytest.mark.parametrize(
    ("fuel", "density"), [("fuel: diesel", 832), ("fuel: ~", 832), ("fuel: petrol", 745)]
)
def test_fuel_is_weighed_as_what_it_is(fuel: str, density: float) -> None:
    """90 L of the 100 L in the EU's running order; diesel of 832 kg/m³ unless petrol is stated (EN 228: 720 to 775 kg/m³)."""
    van = van_facts(f"vehicle: {{fuel_tank: {{{fuel}}}, as_received: {{fuel: 0 %}}}}")
    found = [entry.mass for entry in van.whole.in_case("as converted").loads if entry.name == "fuel"]
    assert found == [pytest.approx(90e-3 * density, rel=0.04 if "petrol" in fuel else 1e-6)]


@pytest.mark.parametrize(("stated", "share", "said"), [("~", 0.4, True), ("45 %", 0.45, False)])
def test_least_share_in_front(stated: str, share: float, said: bool) -> None:
    """The maker's figure, else 40 %, which is said."""
    van = van_facts(f"vehicle: {{permitted: {{least_front_share: {stated}}}}}")
    with van.recording() as frame:
        assert van.whole.least_share_in_front == pytest.approx(share)
    assert any("least share on the front axle" in sentence for sentence in frame.assumptions) is said
