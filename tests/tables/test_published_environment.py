"""Look-ups against worked checks of gas, ventilation, heat and water (tests/published/environment.csv).

The kinds of check are those named in the electrical tests of this folder.
"""

import csv
import math
from collections.abc import Callable
from pathlib import Path

import pytest

from specreg.tables import environment, materials

PUBLISHED = Path(__file__).parents[1] / "published"
BTU = 1055.05585262
POUND = 0.45359237
GALLON = 0.003785411784
FOOT = 0.3048
INCH = 0.0254
KILOWATT_HOUR = 3.6e6


def read(name: str) -> list[dict[str, str]]:
    """All rows of a file in tests/published."""
    with (PUBLISHED / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def value(name: str) -> float:
    """A constant's value."""
    return environment.constant(name).value


def gross() -> float:
    """Gross heating value of vaporised propane in J/kg."""
    return value("propane-gross-heating-value-vaporised")


def vents(floor: float, open_combustion: bool) -> str:
    """Roof and low vents as the table prints them."""
    found = environment.fixed_vents(floor, open_combustion=open_combustion)
    return f"{found.roof * 1e6:.0f}, {found.low * 1e6:.0f}"


def pipe_suffices(outside_inches: float) -> bool:
    """Whether 20 ft of copper pipe carry 35 000 BTU/h."""
    capacity = environment.copper_pipe_capacity(outside_inches * INCH, 20 * FOOT)
    return capacity.value >= 35_000 * BTU / 3600


CASES: dict[str, Callable[[], float | str | bool]] = {
    "C1.01": lambda: environment.locker_vent_area(0.4 * 0.5).value * 1e6,
    "C1.02": lambda: environment.locker_vent_area(0.8 * 0.8).value * 1e6,
    "C1.03": lambda: environment.locker_vent_area_split(0.64).value * 1e6,
    "C1.05": lambda: math.pi / 4 * 0.113**2 >= environment.locker_vent_area(0.4).value,
    "C1.06": lambda: environment.locker_vent_area_us(0.2).value / 2 * 1e6,
    "C1.10": lambda: gross() / KILOWATT_HOUR,
    "C1.11": lambda: value("propane-gross-heating-value-liquid") / KILOWATT_HOUR / 1000,
    "C1.13": lambda: 30_000 * BTU / gross() * 1000,
    "C1.14": lambda: 20 * POUND * gross() / (30_000 * BTU),
    "C1.15": lambda: 1000 * 3600 / gross() * 1000,
    "C1.22": lambda: pipe_suffices(3 / 8),
    "C1.23": lambda: pipe_suffices(1 / 2),
    "C2.02": lambda: 80_000 * environment.altitude_factor(5000 * FOOT),
    "C2.04": lambda: environment.altitude_factor(1500 * FOOT),
    "C2.15": lambda: value("diesel-net-heating-value") / KILOWATT_HOUR / 1000,
    "C2.17": lambda: 2000 / 0.8 * 3600 / value("diesel-net-heating-value") * 1000,
    "C2.18": lambda: environment.alarm_distance_admissible(0.8, 0.200),
    "C2.19": lambda: environment.alarm_distance_admissible(2.0, 0.200),
    "C2.20": lambda: environment.ceiling_alarm_admissible(2.0, 0.250),
    "C3.01": lambda: vents(4.5, True),
    "C3.02": lambda: vents(8, True),
    "C3.03": lambda: vents(8, False),
    "C3.05": lambda: environment.total_vent_area_au(29e6 / 3600, 2).value * 1e6,
    "C3.06": lambda: environment.total_vent_area_au(0, 2).value * 1e6,
    "C3.08": lambda: environment.carbon_dioxide_generation("M", 35, 1.2).value * 1000,
    "C3.09": lambda: environment.carbon_dioxide_generation("F", 35, 2.0).value * 1000,
    "C5.04": lambda: 25 * GALLON * value("water-density"),
    "C5.05": lambda: 10 * value("water-heat-capacity") * 50 / KILOWATT_HOUR,
    "C5.12": lambda: environment.bleach_volume(0.100).value * 1e6,
    "C5.13": lambda: GALLON / 64 * value("bleach-chlorine") / (15 * GALLON) * 1000,
}
ROWS = read("environment.csv")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['id']}-{row['kind']}")
def test_worked_check(row: dict[str, str]) -> None:
    """The look-up gives the expected figure of the worked check within its stated tolerance."""
    found, expected = CASES[row["id"]](), row["expected"]
    if isinstance(found, bool | str):
        assert str(found) == expected
    else:
        assert found == pytest.approx(float(expected), abs=float(row["tolerance"]) + 1e-9, rel=0)


def test_every_case_is_in_the_file() -> None:
    """No case lacks its published row."""
    assert set(CASES) == {row["id"] for row in ROWS}


@pytest.mark.parametrize(
    "row", read("co2-generation.csv"), ids=lambda row: f"{row['sex']}-{row['least_age']}-{row['met']}met"
)
def test_carbon_dioxide_table(row: dict[str, str]) -> None:
    """Basal rate and metabolic rate give the printed generation within its last digit (0.0001 L/s)."""
    found = environment.carbon_dioxide_generation(row["sex"], float(row["least_age"]), float(row["met"]))
    assert found.value * 1000 == pytest.approx(float(row["litres_per_second"]), abs=1e-4, rel=0)


@pytest.mark.parametrize("bore", [0.305, 0.402, 0.527, 0.652, 0.745])
@pytest.mark.parametrize("feet", [10, 20, 30, 40])
def test_pipe_table_follows_the_sizing_equation(bore: float, feet: int) -> None:
    """Each cell lies within 3 % of NFPA 54's low-pressure equation (the equation is from memory)."""
    outside = {0.305: 3 / 8, 0.402: 1 / 2, 0.527: 5 / 8, 0.652: 3 / 4, 0.745: 7 / 8}[bore]
    cubic_feet = (bore * 19.17 * (0.5 / (1.2462 * feet)) ** 0.206) ** (1 / 0.381)
    found = environment.copper_pipe_capacity(outside * INCH, feet * FOOT).value
    assert found == pytest.approx(cubic_feet * 2516 * BTU / 3600, rel=0.03)


def test_propane_heating_values_agree() -> None:
    """The computed gross value is within 1.5 % of the American and the Canadian table (49.70 MJ/kg)."""
    computed = value("propane-gross-heating-value")
    assert gross() == pytest.approx(computed, rel=0.015)
    assert computed == pytest.approx(49.70e6, rel=0.015)


def test_cork_tile_is_an_insulator() -> None:
    """The misprinted 65 W/(m·K) of cork tile is corrected and marked; cork underlay is its neighbour."""
    tile = materials.material("cork tile")
    assert tile.basis == "corrected"
    assert tile.conductivity == pytest.approx(materials.material("cork underlay").conductivity, rel=0.5)
