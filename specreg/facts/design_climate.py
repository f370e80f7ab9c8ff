"""The night that heat and air are reckoned for: how cold, how long, how high, how warm inside."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.units import Dimension

WARM = 291.15
"""18 °C inside: common practice, no source."""
UNHEATED = 2.0
"""Kelvin by which people and things keep an unheated van warmer: common practice, no source."""
NIGHT = 8 * 3600.0
"""8 hours asleep: common practice, no source."""


@fact(Header, number(Dimension.temperature), formula="lowest of the stated places", source="the spec")
def design_temperature(build: Subject) -> float:
    """Outside temperature that the heating is reckoned for."""
    places = build.van.build.header.use.places
    stated = [place.night_temperature for place in places if place.night_temperature is not None]
    if not stated:
        raise Missing("use.places.night_temperature")
    return min(stated)


@fact(Header, number(Dimension.temperature), formula="as stated, else 18 °C", source="the spec")
def room_temperature(build: Subject) -> float:
    """Inside temperature that the heating is reckoned for."""
    stated = build.van.build.header.use.inside_temperature
    if stated is None:
        build.van.assume("heated to 18 °C inside (common practice, no source)")
        return WARM
    return float(build.use.inside_temperature)


@fact(
    Header,
    number(Dimension.temperature),
    formula="the heated temperature; without a heater 2 K more than outside",
    source="the spec",
)
def sleeping_temperature(build: Subject) -> float:
    """Temperature inside while people sleep on the coldest night."""
    if build.sleeping_heaters or build.van.build.header.use.inside_temperature is not None:
        return float(build.room_temperature)
    build.van.assume("no heater for the night: 2 K warmer inside than outside (common practice, no source)")
    return float(build.design_temperature) + UNHEATED


@fact(
    Header,
    number(Dimension.temperature_difference),
    formula="inside temperature − outside temperature, not below 0",
    source="subtraction",
)
def design_difference(build: Subject) -> float:
    """How much warmer it is to be inside than outside."""
    return max(0.0, float(build.room_temperature) - float(build.design_temperature))


@fact(Header, number(Dimension.time), formula="as stated, else 8 hours", source="the spec")
def night_length(build: Subject) -> float:
    """Length of a night."""
    if build.van.build.header.use.night is None:
        build.van.assume("a night of 8 hours (common practice, no source)")
        return NIGHT
    return float(build.use.night)


@fact(
    Header,
    number(Dimension.volume),
    formula="interior length × width × height, furniture not taken off",
    source="geometry",
)
def room_volume(build: Subject) -> float:
    """Volume of the living space."""
    interior = build.vehicle.interior
    found = float(f"{interior.length * interior.width * interior.height:.9g}")
    if found <= 0:
        raise Missing("vehicle.interior.length", reason="the interior has no volume")
    return found
