"""Sun position, hourly radiation, tilt and cell temperature against pvlib, a general solar library.

Its series for declination and distance are Spencer's; FAO-56 has shorter ones: the differences that are
allowed are those of the series.
"""

from math import acos, cos, degrees, pi, radians

import pvlib  # type: ignore[import-untyped]
import pytest

from specreg.facts.irradiation import level_by_hour, panel_by_hour
from specreg.facts.sun import cell_temperature
from specreg.facts.sun_position import (
    declination,
    extraterrestrial_radiation,
    incidence,
    nearness,
    sun_vector,
    sunset_angle,
)

DAYS = (15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349)
LATITUDES = (-34, 0, 28, 44, 56, 65)


@pytest.mark.parametrize("day", DAYS)
def test_declination_and_distance(day: int) -> None:
    """Within 1.5° of Spencer's series (FAO-56 has one term, which is early by days in October); distance within 0.3 %."""
    assert degrees(declination(day)) == pytest.approx(
        degrees(pvlib.solarposition.declination_spencer71(day)), abs=1.5
    )
    spencer = pvlib.irradiance.get_extra_radiation(day, solar_constant=1.0)
    assert nearness(day) == pytest.approx(float(spencer), rel=0.003)


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("day", DAYS)
def test_where_the_sun_stands(latitude: int, day: int) -> None:
    """Zenith and azimuth by hour angle, from the same declination."""
    for hour_angle in (-1.4, -0.6, 0.3, 1.1):
        east, north, up = sun_vector(radians(latitude), day, hour_angle)
        zenith = pvlib.solarposition.solar_zenith_analytical(radians(latitude), hour_angle, declination(day))
        azimuth = pvlib.solarposition.solar_azimuth_analytical(
            radians(latitude), hour_angle, declination(day), zenith
        )
        assert acos(up) == pytest.approx(float(zenith), abs=1e-9)
        found = pvlib.irradiance.aoi_projection(
            35, 200, degrees(float(zenith)), degrees(float(azimuth)) % 360
        )
        own = incidence(radians(latitude), day, hour_angle, radians(35), radians(200))
        assert own == pytest.approx(float(found), abs=1e-6)
        assert east**2 + north**2 + up**2 == pytest.approx(1)


@pytest.mark.parametrize("latitude", LATITUDES)
@pytest.mark.parametrize("day", DAYS)
def test_radiation_above_the_air(latitude: int, day: int) -> None:
    """A day's energy against the library's irradiance × cosine of the zenith, minute by minute."""
    extra = float(pvlib.irradiance.get_extra_radiation(day, solar_constant=0.0820e6 / 60))
    angles = [((n + 0.5) / 60 - 12) * pi / 12 for n in range(24 * 60)]
    zeniths = [
        pvlib.solarposition.solar_zenith_analytical(radians(latitude), a, declination(day)) for a in angles
    ]
    whole = extra * sum(max(0.0, cos(z)) for z in zeniths) * 60
    assert extraterrestrial_radiation(radians(latitude), day) == pytest.approx(whole, rel=0.004)


@pytest.mark.parametrize("latitude", [28, 44, 56])
@pytest.mark.parametrize("day", DAYS)
def test_rise_and_set(latitude: int, day: int) -> None:
    """Half the day's length against the library's, found by where the zenith is 90°."""
    sunset = sunset_angle(radians(latitude), day)
    zenith = pvlib.solarposition.solar_zenith_analytical(radians(latitude), sunset, declination(day))
    assert float(zenith) == pytest.approx(pi / 2, abs=1e-9)


@pytest.mark.parametrize("tilt", [0, 15, 60])
@pytest.mark.parametrize("bearing", [90, 180, 300])
@pytest.mark.parametrize("day", [46, 166, 319])
def test_tilted_panel(tilt: int, bearing: int, day: int) -> None:
    """The hour after noon on a tilted panel: the library's incidence by the minute, isotropic sky and ground."""
    latitude, hour = radians(44), 12
    beam, diffuse = level_by_hour(latitude, day, 0.5)[hour]
    on_panel = on_level = 0.0
    for minute in range(60):
        angle = (minute + 0.5) / 60 * pi / 12
        zenith = float(pvlib.solarposition.solar_zenith_analytical(latitude, angle, declination(day)))
        azimuth = pvlib.solarposition.solar_azimuth_analytical(latitude, angle, declination(day), zenith)
        turned = degrees(float(azimuth)) % 360
        on_panel += max(0.0, float(pvlib.irradiance.aoi_projection(tilt, bearing, degrees(zenith), turned)))
        on_level += cos(zenith)
    found = (
        beam * on_panel / on_level
        + float(pvlib.irradiance.isotropic(tilt, diffuse))
        + float(pvlib.irradiance.get_ground_diffuse(tilt, beam + diffuse, albedo=0.2))
    )
    own = panel_by_hour(latitude, day, 0.5, radians(tilt), radians(bearing))[hour]
    assert own == pytest.approx(found, rel=0.005)


def test_cell_temperature() -> None:
    """The linear model against the library's for a panel in free air that turns nothing into current."""
    found = pvlib.temperature.ross(800, 18, noct=45)
    assert cell_temperature(291.15, 800, 318.15) - 273.15 == pytest.approx(float(found))
