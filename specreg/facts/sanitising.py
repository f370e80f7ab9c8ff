"""Keeping drinking water wholesome: bleach for the tank, age of the cartridge, how long water stands."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.model.water import FreshTank, WaterFilter
from specreg.tables import environment
from specreg.units import Dimension

PER_SHARE = 1000.0
"""A bleach of 5.25 % holds 52.5 kg of chlorine per cubic metre: mass by volume (from memory)."""
DAY = 86_400.0


@fact(
    Header,
    number(Dimension.density),
    formula="strength of the bleach × 1000 kg/m³; 5.25 % where none is stated",
    source="strength as mass by volume, from memory",
)
def bleach_chlorine(build: Subject) -> float:
    """Chlorine in the bleach that the owner sanitises with."""
    strength = build.van.build.header.use.bleach
    if strength is None:
        build.van.assume("plain unscented bleach of 5.25 %, fresh: state `use.bleach` for another")
        return environment.constant("bleach-chlorine").value
    return float(strength * PER_SHARE)


@fact(
    FreshTank,
    number(Dimension.volume),
    formula="volume × 50 mg/L ÷ chlorine of the bleach",
    source="trade procedure, citing ANSI A119.2: 50 mg/L for four hours at least",
)
def sanitising_bleach(tank: Subject) -> float:
    """Bleach that sanitises the full tank."""
    chlorine = tank.van.whole.bleach_chlorine
    return float(environment.bleach_volume(tank.volume * tank.count, chlorine).value)


@fact(
    WaterFilter,
    number(Dimension.time),
    formula="from the day it was renewed to the day of judgement",
    source="the spec",
)
def cartridge_age(water_filter: Subject) -> float:
    """Age of its cartridge."""
    return float((water_filter.van.on - water_filter.renewed_on).days * DAY)


@fact(Header, number(Dimension.time), formula="days until the fresh water is used up", source="mass balance")
def water_stands(build: Subject) -> float:
    """How long water stands in the fresh tanks when they are filled once and then used as planned."""
    return float(build.fresh_days * DAY)
