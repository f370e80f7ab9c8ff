"""What regulations and handbooks print about masses, against the functions that count with them."""

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from specreg.facts.axle_loads import on_rear
from specreg.facts.loading import Load
from specreg.tables import vehicle
from specreg.tables.vehicle import POUND, US_GALLON

PUBLISHED = Path(__file__).parents[1] / "published" / "vehicle-mass.csv"


def _gvwr(unladen: float, cargo: float, seats: int) -> float:
    """The least rating, by trying upward: capacity beside the cargo covers the seats."""
    rating = unladen
    while vehicle.occupant_and_cargo_capacity_us(rating, unladen, 0.0) - cargo < vehicle.least_capacity_us(
        seats
    ):
        rating += 0.001
    return rating


def _centre(rear: float, mass: float, wheelbase: float) -> float:
    """The place at which one mass loads the rear axle so, by trying."""
    least, most = 0.0, wheelbase
    for _ in range(60):
        middle = (least + most) / 2
        load = on_rear((Load("body", "", mass, 0.0, middle, 0.0, 0.0, 0.0),), wheelbase)
        least, most = (middle, most) if load < rear else (least, middle)
    return most


COUNTED: dict[str, Callable[..., float]] = {
    "least_capacity_us": vehicle.least_capacity_us,
    "gvwr": _gvwr,
    "person_us": lambda: vehicle.PASSENGER_MASS_US.value,
    "water_gallon": lambda: vehicle.WATER_MASS_US.value * US_GALLON,
    "coolant_litre": lambda: vehicle.COOLANT_MASS.value / 1000,
    "centre": _centre,
    "fuel_share_eu": lambda: vehicle.FUEL_SHARE_EU.value,
}
IN_POUNDS = ("gross_rating", "unladen", "propane", "cargo")


def rows() -> list[Any]:
    """The rows that name what they are about."""
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        found = [row for row in csv.DictReader(file) if "of" in json.loads(row["inputs"])]
    return [pytest.param(row, id=row["id"]) for row in found]


@pytest.mark.parametrize("row", rows())
def test_as_printed(row: dict[str, str]) -> None:
    """In the unit of the source."""
    inputs = json.loads(row["inputs"])
    pounds = POUND if row["unit"] == "lb" else 1.0
    given = {k: v * POUND if k in IN_POUNDS else v for k, v in inputs.items() if k != "of"}
    found = COUNTED[inputs["of"]](**given) / pounds
    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))
