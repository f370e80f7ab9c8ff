"""What each thing adds to the vehicle as received, how that is known, and what is not known."""

import pytest
from van import van_facts

from specreg.facts.mass_ledger import of_base_vehicle
from specreg.facts.missing import Missing


@pytest.mark.parametrize(
    ("thing", "mass", "doubt"),
    [
        ("{kind: pump, mass: 1.9 kg, mass_status: data sheet, count: 2}", 3.8, 0.114),
        ("{kind: pump, mass: 2 kg, mass_status: weighed}", 2.0, 0.02),
        ("{kind: pump, mass: 2 kg}", 2.0, 0.4),
        ("{kind: removed-item, mass: 25 kg, mass_status: estimated}", -25.0, 5.0),
        ("{kind: tow-bar, mass: 22 kg, origin: base vehicle}", 0.0, 0.0),
        ("{kind: tow-bar, mass: 22 kg, origin: retrofitted, mass_status: weighed}", 22.0, 0.22),
        ("{kind: luggage, mass: 20 kg}", 0.0, 0.0),
        ("{kind: exit, form: sliding door}", 0.0, 0.0),
        ("{kind: gas-cylinder, tare: 7 kg, content: 6 kg, mass_status: weighed}", 7.0, 0.07),
        ("{kind: extinguisher, mass: 1.2 kg, content: 1 kg, mass_status: weighed}", 2.2, 0.022),
        ("{kind: tap, count: 3}", 3.0, 3.0),
        # by hand: 1.8 m² × 0.015 m × 460 kg/m³ × 2 + 1.2 kg = 26.04 kg
        ("{kind: cabinet, fittings_mass: 1.2 kg, sheets: [{area: 1.8 m², thickness: 15 mm, "
         "density: 460 kg/m³, count: 2}]}", 26.04, 2.604),
        # by hand: 6 m² × 0.02 m × 32.5 kg/m³ + 6 m² × 0.009 m × 700 kg/m³ = 41.7 kg
        ("{kind: floor, layers: [{material: extruded polystyrene, area: 6 m², thickness: 20 mm}, "
         "{material: birch plywood, area: 6 m², thickness: 9 mm}]}", 41.7, 4.17),
        # a density that is stated comes before the table's: 2 m² × 0.01 m × 500 kg/m³ = 10 kg
        ("{kind: floor, layers: [{material: birch plywood, area: 2 m², thickness: 10 mm, density: 500 kg/m³}]}",
         10.0, 1.0),
        ("{kind: insulation-layer, role: air gap, area: 6 m², thickness: 20 mm}", 0.0, 0.0),
    ],
)  # fmt: skip
def test_mass_of_a_component(thing: str, mass: float, doubt: float) -> None:
    """Stated, from sheets, taken out, or already in the ticket."""
    subject = van_facts(f"components: {{thing: {thing}}}").subject("thing")
    assert subject.whole_mass == pytest.approx(mass)
    assert subject.whole_mass_doubt == pytest.approx(doubt)


@pytest.mark.parametrize(
    ("thing", "fields"),
    [
        ("{kind: battery}", ("thing.mass",)),
        ("{kind: bench, mass: 40 kg, used_under_way: false}", ("thing.origin",)),
        ("{kind: cabinet, sheets: [{material: moon rock, area: 1 m²}]}",
         ("thing.sheets.1.thickness", "thing.sheets.1.density")),
    ],
)  # fmt: skip
def test_a_mass_that_is_not_known_is_named_and_bounds_nothing(thing: str, fields: tuple[str, ...]) -> None:
    """It is listed, and the least payload stays unknown until it is stated."""
    facts = van_facts(f"components: {{thing: {thing}}}")
    with pytest.raises(Missing) as raised:
        _ = facts.subject("thing").whole_mass
    assert raised.value.fields == fields
    assert [(entry.subject, entry.needs) for entry in facts.whole.masses_unknown] == [
        ("thing", ", ".join(fields))
    ]
    build = facts.whole.in_case("as converted")
    assert build.payload_left > 0
    with pytest.raises(Missing) as raised:
        _ = build.payload_left_least
    assert raised.value.fields == fields


RUNS = """
components:
  battery: {kind: battery, mass: 12 kg, at: [2 m, 0 m, 0 m]}
  box: {kind: fuse-box, at: [3 m, 0 m, 0 m], ways: {1: {fuse: 5 A}}}
  tank: {kind: fresh-tank, mass: 9 kg, volume: 70 L}
  pump: {kind: pump, mass: 2 kg}
runs:
  lead: {medium: dc, from: battery/positive, to: box/feed, return: chassis, conductor: 25 mm², length: 2 m}
  hose: {medium: water, from: tank/outlet, to: pump/inlet, length: 3 m}
"""


def test_mass_of_runs() -> None:
    """Copper of 25 mm² alone weighs 0.445 kg for 2 m (8,890 kg/m³); a hose is bounded by its length."""
    facts = van_facts(RUNS)
    assert 0.445 < facts.subject("lead").run_mass < 0.445 * 1.5
    assert facts.subject("hose").run_mass == pytest.approx(0.6)
    assert facts.whole.fitted_mass == pytest.approx(
        12 + 9 + 2 + 1 + facts.subject("lead").run_mass + facts.subject("hose").run_mass
    )


@pytest.mark.parametrize(
    ("thing", "own"),
    [
        ("{kind: battery, role: starter}", True),
        ("{kind: battery, role: starter, mass: 20 kg}", False),
        ("{kind: battery, role: house}", False),
        ("{kind: exit}", True),
        ("{kind: alternator}", True),
        ("{kind: fuel-tank, base_vehicle: false}", False),
    ],
)
def test_what_the_vehicle_came_with_is_in_its_ticket(thing: str, own: bool) -> None:
    """Starter battery, doors and alternator without a mass of their own; that is taken for granted, and said."""
    facts = van_facts(f"components: {{thing: {thing}}}")
    with facts.recording() as frame:
        assert of_base_vehicle(facts.subject("thing")) is own
    assert any("taken as part of the base vehicle" in sentence for sentence in frame.assumptions) is own


def test_masses_are_told_apart_by_how_they_are_known() -> None:
    """Two are weighed, one is from a data sheet, what has no mass is in no group: 30 kg, 5 kg."""
    facts = van_facts(
        "components: {a: {kind: bed, mass: 10 kg, mass_status: weighed}, b: {kind: bed, mass: 20 kg, mass_status: weighed}, "
        "c: {kind: bed, mass: 5 kg, mass_status: data sheet}, d: {kind: fridge}}"
    )
    groups = {group.known: (group.count, group.mass) for group in facts.whole.masses_by_how_known}
    assert groups == {"weighed": (2, pytest.approx(30)), "data sheet": (1, pytest.approx(5))}
