"""Radiation on a level or tilted panel by the hour, from a day's clearness: pure, textbook relations.

Hourly shares of the day's total: Collares-Pereira and Rabl 1979 (Duffie & Beckman eq. 2.13.2); of the
diffuse: Liu and Jordan 1960 (eq. 2.13.4); the month's diffuse share: Erbs, Klein and Duffie 1982 (eq.
2.12.1); tilt: isotropic sky, Liu and Jordan 1963 (eq. 2.15.1). Coefficients as quoted by secondary sources.
"""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin

from specreg.facts.sun_position import (
    daylit,
    extraterrestrial_radiation,
    incidence,
    sun_vector,
    sunset_angle,
)

GROUND = 0.2
"""Share that the ground reflects: the usual figure for bare ground and grass, from memory."""
STEPS = 6
"""Into so many parts an hour is divided for the angle between the beam and a tilted panel."""
WINTER = 81.4 * pi / 180
"""Sunset hour angle up to which the winter relation of Erbs holds."""


def diffuse_share(clearness: float, sunset: float) -> float:
    """Return the diffuse share of a month's radiation (Erbs); all of it below its range, 0.3 to 0.8."""
    if clearness < 0.3:
        return 1.0
    k = min(clearness, 0.8)
    if sunset <= WINTER:
        return 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    return 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3


def total_ratio(hour_angle: float, sunset: float) -> float:
    """Return an hour's share of the day's total radiation, by the hour's middle (Collares-Pereira, Rabl)."""
    a = 0.409 + 0.5016 * sin(sunset - pi / 3)
    b = 0.6609 - 0.4767 * sin(sunset - pi / 3)
    return (a + b * cos(hour_angle)) * diffuse_ratio(hour_angle, sunset)


def diffuse_ratio(hour_angle: float, sunset: float) -> float:
    """Return an hour's share of the day's diffuse radiation, by the hour's middle (Liu, Jordan)."""
    around = sin(sunset) - sunset * cos(sunset)
    if around <= 0:
        return 0.0
    return pi / 24 * (cos(hour_angle) - cos(sunset)) / around


@cache
def level_by_hour(latitude: float, day: int, clearness: float) -> tuple[tuple[float, float], ...]:
    """Return J/m² on level ground in each solar hour: of the beam and diffuse; they add up to the day's."""
    sunset = sunset_angle(latitude, day)
    total = clearness * extraterrestrial_radiation(latitude, day)
    spans = [daylit(hour, sunset) for hour in range(24)]
    totals = _spread(total, spans, sunset, total_ratio)
    diffuses = _spread(total * diffuse_share(clearness, sunset), spans, sunset, diffuse_ratio)
    return tuple(
        (max(0.0, all_ - soft), min(all_, soft)) for all_, soft in zip(totals, diffuses, strict=True)
    )


def _spread(
    total: float, spans: list[tuple[float, float] | None], sunset: float, ratio: object
) -> list[float]:
    assert callable(ratio)
    raw = [0.0 if s is None else ratio((s[0] + s[1]) / 2, sunset) * (s[1] - s[0]) for s in spans]
    whole = sum(raw)
    return [total * one / whole if whole > 0 else 0.0 for one in raw]


@cache
def panel_by_hour(
    latitude: float, day: int, clearness: float, tilt: float = 0.0, bearing: float = pi
) -> tuple[float, ...]:
    """Return J/m² on a panel in each solar hour; `bearing` is where it faces, clockwise from north."""
    level = level_by_hour(latitude, day, clearness)
    sunset = sunset_angle(latitude, day)
    sky, ground = (1 + cos(tilt)) / 2, GROUND * (1 - cos(tilt)) / 2
    factors = (_beam_factor(latitude, day, daylit(h, sunset), tilt, bearing) for h in range(24))
    return tuple(
        beam * factor + diffuse * sky + (beam + diffuse) * ground
        for (beam, diffuse), factor in zip(level, factors, strict=True)
    )


def _beam_factor(
    latitude: float, day: int, span: tuple[float, float] | None, tilt: float, bearing: float
) -> float:
    """Return beam on the panel / beam on the level, both over an hour's daylight (D. & B. eq. 2.14.6)."""
    if span is None:
        return 0.0
    step = (span[1] - span[0]) / STEPS
    middles = [span[0] + step * (n + 0.5) for n in range(STEPS)]
    on_panel = sum(max(0.0, incidence(latitude, day, angle, tilt, bearing)) for angle in middles)
    on_level = sum(max(0.0, sun_vector(latitude, day, angle)[2]) for angle in middles)
    return on_panel / on_level if on_level > 0 else 0.0
