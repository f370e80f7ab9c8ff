"""Where the sun stands and what it sends above the air, by latitude, day and solar hour; angles in rad."""

from __future__ import annotations

from math import acos, cos, pi, sin, tan

SOLAR_CONSTANT = 0.0820e6 / 60
"""W/m²; 0.0820 MJ/(m²·min) of FAO-56 eq. 21."""
HOUR_ANGLE = pi / 12
"""Angle by which the sun moves on in an hour."""


def nearness(day: int) -> float:
    """Return (mean distance / distance)² of the sun on a day of the year (FAO-56 eq. 23)."""
    return 1 + 0.033 * cos(2 * pi * day / 365)


def declination(day: int) -> float:
    """Return the sun's declination on a day of the year (FAO-56 eq. 24)."""
    return 0.409 * sin(2 * pi * day / 365 - 1.39)


def sunset_angle(latitude: float, day: int) -> float:
    """Return the hour angle of sunset: 0 in the polar night, π under the midnight sun (FAO-56 eq. 25)."""
    return acos(max(-1.0, min(1.0, -tan(latitude) * tan(declination(day)))))


def sun_hours(latitude: float, day: int) -> tuple[float, float]:
    """Return sunrise and sunset in hours of solar time; no refraction, level horizon (FAO-56 eq. 34)."""
    half = sunset_angle(latitude, day) / HOUR_ANGLE
    return 12 - half, 12 + half


def extraterrestrial_radiation(latitude: float, day: int) -> float:
    """Return J/m² in a day on a level plane above the air (FAO-56 eq. 21)."""
    fallen, sunset = declination(day), sunset_angle(latitude, day)
    up = sunset * sin(latitude) * sin(fallen) + cos(latitude) * cos(fallen) * sin(sunset)
    return max(0.0, 86_400 / pi * SOLAR_CONSTANT * nearness(day) * up)


def daylit(hour: int, sunset: float) -> tuple[float, float] | None:
    """Return the hour angles between which the sun is up within an hour; None where it is not."""
    start = max((hour - 12) * HOUR_ANGLE, -sunset)
    end = min((hour - 11) * HOUR_ANGLE, sunset)
    return (start, end) if end > start else None


def clear_sky(altitude: float) -> float:
    """Return the clearness of a cloudless day by the height above the sea in m (FAO-56 eq. 37)."""
    return 0.75 + 2e-5 * altitude


def sun_vector(latitude: float, day: int, hour_angle: float) -> tuple[float, float, float]:
    """Return the unit vector to the sun: east, north, up (spherical astronomy)."""
    fallen, turned = declination(day), cos(declination(day)) * cos(hour_angle)
    return (
        -cos(fallen) * sin(hour_angle),
        cos(latitude) * sin(fallen) - sin(latitude) * turned,
        sin(latitude) * sin(fallen) + cos(latitude) * turned,
    )


def incidence(latitude: float, day: int, hour_angle: float, tilt: float, bearing: float) -> float:
    """Return the cosine of the angle between sun and a panel's normal; `bearing` clockwise from north."""
    east, north, up = sun_vector(latitude, day, hour_angle)
    return sin(tilt) * (sin(bearing) * east + cos(bearing) * north) + cos(tilt) * up
