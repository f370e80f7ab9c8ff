"""The ledger of masses as an owner reads it: every mass, what may be added where, how the van grew."""

from __future__ import annotations

from published import section, van

from specreg.pages.chapters import weights_page
from specreg.pages.content import Figure, Section, Table, Words
from specreg.pages.ledger import ledger_page

SPEC = """
jurisdictions: [eu]
use: {people: {adults: 1}, personal_effects: 0 kg}
vehicle:
  wheelbase: 4 m
  permitted: {total: 3500 kg, front_axle: 1850 kg, rear_axle: 2250 kg, roof: 150 kg}
  as_received: {stage: intake, date: 2026-01-02, front_axle: 1200 kg, rear_axle: 800 kg, driver: false, fuel: 100 %,
    fresh_water: 0 %, scale_step: 10 kg}
  fuel_tank: {volume: 100 L, fuel: diesel, at: [2 m, 0 m, 0 m]}
  interior: {starts: 1 m, length: 4 m, width: 1.8 m, height: 1.9 m}
  zones: {rear-left: {title: "Rear, left", at: [3 m, -0.9 m, 0 m], size: [2 m, 0.8 m, 1 m]}}
components:
  driver-seat: {kind: seat, driver: true, used_under_way: true, origin: base vehicle, belts: [three-point],
    at: [1 m, -0.6 m, 0.5 m]}
  chest: {kind: cabinet, mass: 30 kg, mass_status: weighed, zone: rear-left}
  stove: {kind: air-heater, size: [0.5 m, 0.4 m, 0.3 m]}
"""


def rows(found: Section | None) -> list[list[str]]:
    """The rows of the first table of a section as plain text."""
    assert found is not None
    table = next(block for block in found.blocks if isinstance(block, Table))
    return [["".join(_text(piece) for piece in cell) for cell in row.cells] for row in table.rows]


def _text(piece: object) -> str:
    if isinstance(piece, Words):
        return piece.text
    return piece.value if isinstance(piece, Figure) else ""


def test_every_mass_has_its_place_and_how_it_is_known() -> None:
    """A chest of 30 kg ± 1 % somewhere in its zone; of the weighed van only the distance is known."""
    found = {row[0]: row[1:] for row in rows(section(ledger_page(van(SPEC)), "all"))}
    assert found["chest"] == [
        "30 kg ± 300 g", "weighed", "zone rear-left", "4 m ± 1 m, −500 mm ± 400 mm, 500 mm ± 500 mm",
    ]  # fmt: skip
    assert found["vehicle as weighed"] == ["2000 kg ± 10 kg", "weighed", "its axle loads", "1.6 m"]


def test_what_is_not_known_stands_apart_with_its_bound() -> None:
    """The heater has a box and no mass; nothing is certain while it has none."""
    page = weights_page(van(SPEC))
    assert [row[1:] for row in rows(section(page, "mass-unknown"))] == [
        ["at most 60 kg by its box", "stove.mass"]
    ]
    assert {row[3] for row in rows(section(page, "where-more"))} == {"nothing while a mass is unknown"}


def test_where_more_may_be_loaded() -> None:
    """Every named place once; the zone with its title; in kilograms for certain once all masses are known."""
    known = SPEC.replace("{kind: air-heater,", "{kind: air-heater, mass: 9 kg, mass_status: weighed,")
    found = rows(section(weights_page(van(known)), "where-more"))
    assert [row[0] for row in found] == [
        "over the front axle", "over the rear axle", "front end of the room", "rear end of the room",
        "on the roof", "Rear, left",
    ]  # fmt: skip
    assert all(row[3].endswith("kg") and row[4] for row in found)


def test_the_growth_ends_with_the_specification() -> None:
    """Intake, then what the spec adds up to."""
    found = rows(section(weights_page(van(SPEC)), "growth"))
    assert [(row[0], row[2]) for row in found] == [
        ("intake, 2026-01-02", "0 kg"),
        ("by the spec, as built", "30 kg"),
    ]
