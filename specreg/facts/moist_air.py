"""Moist air: saturation, dew point and water vapour, by the Magnus formula; pure."""

from __future__ import annotations

from math import exp, log

ICE_POINT = 273.15
VAPOUR_GAS_CONSTANT = 461.5
"""J/(kg·K): 8.314 J/(mol·K) over 18.015 g/mol."""

MAGNUS_PRESSURE, MAGNUS_FACTOR, MAGNUS_OFFSET = 611.2, 17.62, 243.12
"""Pa, 1 and °C, over liquid water: WMO-No. 8 annex 4.B (from memory; checked against ASHRAE's table)."""


def saturation_pressure(temperature: float) -> float:
    """Return the saturation pressure in Pa of water vapour over liquid water at a temperature in K."""
    celsius = temperature - ICE_POINT
    return MAGNUS_PRESSURE * exp(MAGNUS_FACTOR * celsius / (MAGNUS_OFFSET + celsius))


def dew_point(pressure: float) -> float:
    """Return the temperature in K at which vapour of a pressure in Pa begins to condense."""
    ratio = log(pressure / MAGNUS_PRESSURE)
    return ICE_POINT + MAGNUS_OFFSET * ratio / (MAGNUS_FACTOR - ratio)


def vapour_density(pressure: float, temperature: float) -> float:
    """Return kg of vapour in a m³ of air, of a vapour pressure in Pa at a temperature in K (ideal gas)."""
    return pressure / (VAPOUR_GAS_CONSTANT * temperature)


def vapour_pressure(density: float, temperature: float) -> float:
    """Return the vapour pressure in Pa of air that holds `density` kg/m³ of vapour."""
    return density * VAPOUR_GAS_CONSTANT * temperature


def vapour_inside(outside: float, made: float, flow: float, temperature: float) -> float:
    """Return the steady vapour pressure in Pa inside a room, at most saturation.

    `outside` in kg/m³, `made` in kg/s, air `flow` in m³/s, inside `temperature` in K.
    """
    saturated = saturation_pressure(temperature)
    if flow <= 0:
        return saturated
    return min(saturated, vapour_pressure(outside + made / flow, temperature))


def vapour_removed(inside: float, outside: float, flow: float) -> float:
    """Return kg/s of vapour that a flow in m³/s carries off, both densities in kg/m³."""
    return flow * (inside - outside)


def air_to_hold(made: float, inside: float, outside: float) -> float | None:
    """Return the m³/s that keep the vapour at `inside` kg/m³; None where the air outside is as moist."""
    return made / (inside - outside) if inside > outside else None
