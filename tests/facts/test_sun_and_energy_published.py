"""Sun, panels and battery against worked figures (tests/published/sun-and-energy.csv)."""

import csv
import json
from collections.abc import Callable
from math import cos, pi, radians
from pathlib import Path

import pytest

from specreg.facts.energy_by_hour import fridge_factor
from specreg.facts.irradiation import (
    diffuse_ratio,
    diffuse_share,
    level_by_hour,
    panel_by_hour,
    total_ratio,
)
from specreg.facts.nights import stay
from specreg.facts.state_of_charge import Store
from specreg.facts.sun import cell_temperature, heat_factor
from specreg.facts.sun_position import (
    clear_sky,
    declination,
    extraterrestrial_radiation,
    incidence,
    nearness,
    sun_hours,
    sunset_angle,
)

PUBLISHED = Path(__file__).parents[1] / "published"
KWH = 3.6e6
Given = dict[str, float]


def rows(name: str) -> list[dict[str, str]]:
    with (PUBLISHED / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def daylight(given: Given) -> float:
    rise, fall = sun_hours(radians(given["latitude"]), int(given["day"]))
    return fall - rise


def above(given: Given) -> float:
    return extraterrestrial_radiation(radians(given["latitude"]), int(given["day"])) / 1e6


def days(given: Given) -> float:
    """Days until the reserve, hour by hour without any charge."""
    full = given["kWh"] * KWH
    store = Store(full, full * (1 - given["usable"]), 1e3, 0.95)
    hours = stay(store, (given["use"] * KWH / 24,) * 24, (0.0,) * 24, 5).hours(store.reserve)
    assert hours is not None
    return hours / 24


def beam_ratio(given: Given) -> float:
    """Beam on a panel to the south / on the level over a day without air."""
    latitude, day = radians(given["latitude"]), int(given["day"])
    sunset = sunset_angle(latitude, day)
    angles = [sunset * (2 * (n + 0.5) / 2000 - 1) for n in range(2000)]
    tilted = sum(max(0.0, incidence(latitude, day, a, radians(given["tilt"]), pi)) for a in angles)
    return tilted / sum(incidence(latitude, day, a, 0.0, 0.0) for a in angles)


def flat(given: Given) -> float:
    latitude, day = radians(given["latitude"]), int(given["day"])
    clearness = given["MJ"] * 1e6 / extraterrestrial_radiation(latitude, day)
    return sum(panel_by_hour(latitude, day, clearness)) / 1e6


CHECKS: dict[str, Callable[[Given], float]] = {
    "C6.15": above,
    "C6.15a": lambda g: nearness(int(g["day"])),
    "C6.15b": lambda g: declination(int(g["day"])),
    "C6.15c": lambda g: sunset_angle(radians(g["latitude"]), int(g["day"])),
    "C6.16": daylight,
    "C6.18": lambda g: g["MJ"] * clear_sky(g["altitude"]),
    "C6.19": lambda g: declination(int(g["day"])) * 180 / pi,
    "C6.20": above,
    "C6.23": lambda g: cell_temperature(g["air"], g["irradiance"], g["nominal"] + 273.15),
    "C6.24": lambda g: g["watt"] * heat_factor(g["coefficient"], g["cell"] + 273.15),
    "C6.31": days,
    "C6.35": beam_ratio,
    "C6.36": flat,
    "D6.01": lambda g: diffuse_share(g["clearness"], radians(g["sunset_deg"])),
    "D6.02": lambda g: diffuse_share(g["clearness"], radians(g["sunset_deg"])),
    "D6.03": lambda g: total_ratio(radians(g["angle_deg"]), radians(g["sunset_deg"])),
    "D6.04": lambda g: diffuse_ratio(radians(g["angle_deg"]), radians(g["sunset_deg"])),
    "D6.05": lambda g: fridge_factor(g["inside"], g["setting"], g["rated"]),
    "D6.06": lambda g: (
        Store(g["full"] * KWH, 0, 1e9, g["kept"]).charged(0.0, g["kW"] * 1e3, g["hours"] * 3600) / KWH
    ),
    "D6.07": lambda g: (
        Store(g["full"] * KWH, 0, 1e3, 1.0, g["taper"]).charged(g["start"] * KWH, 1e3, g["hours"] * 3600)
        / KWH
    ),
}


@pytest.mark.parametrize("row", rows("sun-and-energy.csv"), ids=lambda row: row["id"])
def test_worked_figures(row: dict[str, str]) -> None:
    """Every row is computed by the code that the facts use."""
    found = CHECKS[row["id"]](json.loads(row["inputs"]))
    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))


MEASURED = rows("monthly-clearness.csv")


@pytest.mark.parametrize("place", sorted({row["place"] for row in MEASURED}))
def test_the_diffuse_share_of_typical_years(place: str) -> None:
    """Erbs' monthly relation against measured and modelled typical years: the year's mean within 0.07."""
    off = [
        diffuse_share(float(row["KT"]), sunset_angle(radians(float(row["lat"])), day))
        - float(row["Hd_over_H"])
        for row, day in zip(
            (row for row in MEASURED if row["place"] == place),
            (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349),
            strict=True,
        )
    ]
    assert abs(sum(off) / len(off)) < 0.07, off


def test_hours_add_up_to_the_day() -> None:
    """Beam and diffuse of all hours are clearness × radiation above the air."""
    total = sum(beam + diffuse for beam, diffuse in level_by_hour(radians(52), 105, 0.45))
    assert total == pytest.approx(0.45 * extraterrestrial_radiation(radians(52), 105))
    assert cos(sunset_angle(radians(80), 349)) == 1.0  # the polar night has no hours
    assert sum(map(sum, level_by_hour(radians(80), 349, 0.45))) == 0.0
