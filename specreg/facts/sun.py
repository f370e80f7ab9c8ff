"""Sun: radiation on level ground by latitude and month, and what the panels give in a day."""

from __future__ import annotations

from math import acos, cos, pi, sin, tan

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.model.solar import SolarPanel
from specreg.units import Dimension

SOLAR_CONSTANT = 0.0820e6 / 60
"""W/m²; 0.0820 MJ/(m²·min) of FAO-56 eq. 21."""
STANDARD_IRRADIANCE = 1000.0
MIDDLE_DAYS = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)
"""Day of the year in the middle of each month, as FAO-56 Annex 2 table 2.6 takes it."""
CELL_EXCESS = 20.0
"""Kelvin that working cells are above 25 °C: common practice, no source."""
CONTROLLER, WIRING = 0.95, 0.97
"""Efficiencies: common practice, no source."""


def extraterrestrial_radiation(latitude: float, day: int) -> float:
    """Return J/m² in a day on a level plane above the air; latitude in radians (FAO-56 eq. 21 to 25)."""
    turn = 2 * pi * day / 365
    nearness = 1 + 0.033 * cos(turn)
    declination = 0.409 * sin(turn - 1.39)
    sunset = acos(max(-1.0, min(1.0, -tan(latitude) * tan(declination))))
    up = sunset * sin(latitude) * sin(declination) + cos(latitude) * cos(declination) * sin(sunset)
    return max(0.0, 86_400 / pi * SOLAR_CONSTANT * nearness * up)


def monthly_radiation(latitude: float, month: int, clearness: float) -> float:
    """Return J/m² in a mean day of a month on level ground."""
    return clearness * extraterrestrial_radiation(latitude, MIDDLE_DAYS[month - 1])


def _radiation(panel: Subject) -> float:
    month = int(str(panel.case))
    places = panel.van.build.header.use.places
    there = [(i, place) for i, place in enumerate(places) if month in place.months]
    if not there:
        raise Missing("use.places")
    unknown = [f"use.places[{i}].clearness" for i, place in there if place.clearness is None]
    if unknown:
        raise Missing(*unknown)
    return min(monthly_radiation(p.latitude, month, p.clearness) for _, p in there if p.clearness is not None)


@fact(
    SolarPanel,
    number(Dimension.energy),
    formula="peak power × count × clearness × Ra / 1000 W/m² × (1 + coefficient × 20 K) × (1 − shade) "
    "× 0.95 × 0.97",
    source="Ra: FAO-56 eq. 21; the rest: the spec; losses and 20 K: common practice, no source",
    axis=Axis.month,
)
def daily_solar_yield(panel: Subject) -> float:
    """Energy that it gives the battery in a mean day of the month, none turned away by a full battery."""
    assume = panel.van.assume
    assume(f"{panel.name}: counted as level, for the spec does not say which way a tilted panel faces")
    assume("solar cells at work taken at 45 °C (common practice, no source)")
    assume("solar controller taken at 95 % and its wiring at 97 % (common practice, no source)")
    kept = (1 + panel.power_coefficient * CELL_EXCESS) * (1 - panel.shade) * CONTROLLER * WIRING
    return float(panel.peak_power * panel.count * _radiation(panel) / STANDARD_IRRADIANCE * kept)


@fact(
    Header,
    number(Dimension.energy),
    formula="Σ over the panels",
    source="addition",
    axis=Axis.month,
)
def daily_sun(build: Subject) -> float:
    """Energy that all panels give in a mean day of the month, at the least sunny place named for it."""
    panels = build.van.of_class(SolarPanel)
    return float(sum(p.in_case(build.case).daily_solar_yield for p in panels))
