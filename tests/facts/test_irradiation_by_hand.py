"""Radiation by the hour, level and tilted, by the published relations worked out by hand."""

from math import cos, pi, radians, sin

import pytest

from specreg.facts.irradiation import (
    WINTER,
    _beam_factor,
    diffuse_ratio,
    diffuse_share,
    level_by_hour,
    panel_by_hour,
    total_ratio,
)
from specreg.facts.sun_position import (
    declination,
    extraterrestrial_radiation,
    incidence,
    nearness,
    sun_vector,
    sunset_angle,
)

ERBS = [
    # clearness, sunset in degrees; 1.391 − 3.560 k + 4.189 k² − 2.137 k³ up to 81.4°,
    # 1.311 − 3.022 k + 3.427 k² − 1.821 k³ above, for 0.3 ≤ k ≤ 0.8
    (0.0, 75, 1.0),
    (0.2, 75, 1.0),
    (0.299, 100, 1.0),
    (0.3, 75, 1.391 - 1.068 + 0.37701 - 0.057699),
    (0.3, 100, 1.311 - 0.9066 + 0.30843 - 0.049167),
    (0.32, 75, 1.391 - 1.1392 + 0.4289536 - 0.0700252),
    (0.5, 75, 1.391 - 1.780 + 1.04725 - 0.267125),
    (0.5, 81.3, 1.391 - 1.780 + 1.04725 - 0.267125),
    (0.5, 81.5, 1.311 - 1.511 + 0.85675 - 0.227625),
    (0.5, 100, 1.311 - 1.511 + 0.85675 - 0.227625),
    (0.8, 75, 1.391 - 2.848 + 2.68096 - 1.094144),
    (0.8, 100, 1.311 - 2.4176 + 2.19328 - 0.932352),
    (0.85, 75, 1.391 - 2.848 + 2.68096 - 1.094144),  # no further than its range
    (1.0, 100, 1.311 - 2.4176 + 2.19328 - 0.932352),
]


@pytest.mark.parametrize(("clearness", "sunset", "share"), ERBS)
def test_diffuse_share_by_hand(clearness: float, sunset: float, share: float) -> None:
    """Erbs, Klein and Duffie 1982 as Duffie & Beckman eq. 2.12.1 has it."""
    assert diffuse_share(clearness, radians(sunset)) == pytest.approx(share, abs=1e-6)


def test_the_winter_relation_holds_up_to_its_end() -> None:
    """For sunset angles of 81.4° or less."""
    assert pytest.approx(radians(81.4)) == WINTER
    assert diffuse_share(0.5, WINTER) == pytest.approx(0.391125)


RATIOS = [
    # sunset and hour in degrees; share of the diffuse: π/24 (cos ω − cos s) / (sin s − s cos s)
    # share of the total: that × (a + b cos ω), a = 0.409 + 0.5016 sin(s − 60°), b = 0.6609 − 0.4767 sin(s − 60°)
    (90, 0, 0.1308997, 0.1308997 * (0.6598 + 0.42255)),
    (120, 45, 0.1308997 * 1.2071068 / 1.9132230, 0.0825888 * (0.8433983 + 0.2480655 * 0.7071068)),
    (75, 30, 0.1308997 * 0.6072064 / 0.6271323, 0.1267407 * (0.5388237 + 0.5375208 * 0.8660254)),
    (75, -30, 0.1308997 * 0.6072064 / 0.6271323, 0.1267407 * (0.5388237 + 0.5375208 * 0.8660254)),
]


@pytest.mark.parametrize(("sunset", "hour", "diffuse", "whole"), RATIOS)
def test_shares_of_an_hour_by_hand(sunset: float, hour: float, diffuse: float, whole: float) -> None:
    """Liu and Jordan 1960, Collares-Pereira and Rabl 1979, as Duffie & Beckman eq. 2.13.2, 2.13.4 have them."""
    assert diffuse_ratio(radians(hour), radians(sunset)) == pytest.approx(diffuse, rel=1e-5)
    assert total_ratio(radians(hour), radians(sunset)) == pytest.approx(whole, rel=1e-5)


def test_a_day_without_light_has_no_shares() -> None:
    """Nor has one that lasts for less than a float can tell."""
    assert [diffuse_ratio(0.0, sunset) for sunset in (0.0, 1e-8)] == [0.0, 0.0]


EQUINOX = 81
"""At the equator the sun sets at 90°: six hours before and after noon, with their middles at 7.5° to 82.5°."""
COSINES = (0.9914449, 0.9238795, 0.7933533, 0.6087614, 0.3826834, 0.1305262)


@pytest.mark.parametrize(("clearness", "share"), [(0.2, 1.0), (0.5, 0.429125)])
def test_a_level_day_by_hand(clearness: float, share: float) -> None:
    """Each hour has its share of the total, of which the diffuse is its own share but never more than all."""
    whole = clearness * extraterrestrial_radiation(0.0, EQUINOX)
    shares = [(0.6598 + 0.42255 * one) * one for one in COSINES]
    totals = [whole * one / (2 * sum(shares)) for one in shares]
    softs = [whole * share * one / (2 * sum(COSINES)) for one in COSINES]
    afternoon = [(max(0.0, a - s), min(a, s)) for a, s in zip(totals, softs, strict=True)]
    expected = [(0.0, 0.0)] * 6 + afternoon[::-1] + afternoon + [(0.0, 0.0)] * 6
    for found, hour in zip(level_by_hour(0.0, EQUINOX, clearness), expected, strict=True):
        assert found == pytest.approx(hour, rel=1e-5)


MIDSUMMER, TROPIC = 172, radians(16.757)
"""Declination 0.409: there the sun sets at 97.5°, in the middle of the hour from 18 h to 19 h."""


def test_an_hour_that_is_half_light() -> None:
    """It counts by its middle while the sun is up, 93.75°, for half of an hour."""
    sunset = radians(97.5)
    assert sunset_angle(TROPIC, MIDSUMMER) == pytest.approx(sunset, abs=1e-4)
    a, b = 0.409 + 0.5016 * sin(radians(37.5)), 0.6609 - 0.4767 * sin(radians(37.5))
    angles = [(7.5 + 15 * n, 1.0) for n in range(6)] + [(93.75, 0.5)]
    shares = [(a + b * cos(radians(w))) * (cos(radians(w)) - cos(sunset)) * width for w, width in angles]
    hours = [sum(hour) for hour in level_by_hour(TROPIC, MIDSUMMER, 0.5)]
    for n, share in enumerate(shares):
        expected = sum(hours) * share / (2 * sum(shares))
        assert (hours[12 + n], hours[11 - n]) == pytest.approx((expected, expected), rel=2e-3)
    assert hours[19:] == [0.0] * 5


PANELS = [
    # tilt, bearing; at the equator at equinox a panel to the east has cos(tilt) + sin(tilt) tan(hour) of the beam
    # of the level, one to south or north cos(tilt)
    (0, 180, lambda _: 1.0),
    (30, 180, lambda _: cos(radians(30))),
    (30, 0, lambda _: cos(radians(30))),
    (30, 90, lambda tangent: cos(radians(30)) - 0.5 * tangent),
    (30, 270, lambda tangent: cos(radians(30)) + 0.5 * tangent),
]


@pytest.mark.parametrize(("tilt", "bearing", "beamed"), PANELS)
@pytest.mark.parametrize("hour", [6, 8, 12, 15])
def test_a_tilted_panel_by_hand(tilt: int, bearing: int, beamed: object, hour: int) -> None:
    """Beam × factor + diffuse × (1 + cos) / 2 + a fifth of all × (1 − cos) / 2: Duffie & Beckman eq. 2.15.1.

    Over an hour the factor of a panel to the east follows (cos h1 − cos h2) / (sin h2 − sin h1).
    """
    assert callable(beamed)
    beam, diffuse = level_by_hour(0.0, EQUINOX, 0.6)[hour]
    start, end = ((hour - 12 + n) * pi / 12 for n in (0, 1))
    factor = max(0.0, beamed((cos(start) - cos(end)) / (sin(end) - sin(start))))
    level = cos(radians(tilt))
    expected = beam * factor + diffuse * (1 + level) / 2 + 0.2 * (beam + diffuse) * (1 - level) / 2
    found = panel_by_hour(0.0, EQUINOX, 0.6, radians(tilt), radians(bearing))[hour]
    assert found == pytest.approx(expected, rel=1e-2)


def test_a_wall_that_the_sun_is_behind_has_no_beam() -> None:
    """To the west in the morning it sees half of the sky and half of the ground."""
    beam, diffuse = level_by_hour(0.0, EQUINOX, 0.6)[8]
    found = panel_by_hour(0.0, EQUINOX, 0.6, pi / 2, 3 * pi / 2)[8]
    assert found == pytest.approx(diffuse / 2 + 0.2 * (beam + diffuse) / 2)
    assert panel_by_hour(0.0, EQUINOX, 0.6, pi / 2, 3 * pi / 2)[20] == 0.0


def test_a_sun_below_the_horizon_gives_no_beam() -> None:
    """Rounding may leave it there at the edge of the polar night; a panel that leans over sees it all the same."""
    assert _beam_factor(pi / 2, 355, (-0.1, 0.1), 0.5, pi) == 0.0


def test_a_panel_of_which_nothing_is_said_lies_level() -> None:
    """And where only its tilt is said, it faces south."""
    level = [beam + diffuse for beam, diffuse in level_by_hour(0.9, 15, 0.5)]
    assert panel_by_hour(0.9, 15, 0.5) == pytest.approx(level)
    assert panel_by_hour(0.9, 15, 0.5, 0.7) == pytest.approx(panel_by_hour(0.9, 15, 0.5, 0.7, pi))


NEAR = [
    # day of the year, 1 + 0.033 cos(2π day / 365), 0.409 sin(2π day / 365 − 1.39)
    (1, 1 + 0.033 * 0.9998518, 0.409 * -0.9804599),
    (81, 1 + 0.033 * 0.1755315, 0.409 * 0.0043507),
    (172, 1 + 0.033 * -0.9837093, 0.409 * 1.0),
    (274, 1 + 0.033 * 0.0043035, 0.409 * -0.1840447),
    (355, 1 + 0.033 * 0.9852201, 0.409 * -0.9999626),
]


@pytest.mark.parametrize(("day", "near", "north"), NEAR)
def test_distance_and_declination_by_hand(day: int, near: float, north: float) -> None:
    """FAO-56 eq. 23 and 24."""
    assert nearness(day) == pytest.approx(near, abs=1e-7)
    assert declination(day) == pytest.approx(north, abs=1e-7)


def test_polar_night_and_midnight_sun() -> None:
    """No sunset angle, or all of the half day; no radiation, or that of a sun that never sets."""
    high = radians(80)
    assert (sunset_angle(high, 355), sunset_angle(high, 172)) == (0.0, pi)
    assert extraterrestrial_radiation(high, 355) == 0.0
    # over a whole day the cosine of the hour angle is nothing in the mean: 24 h × Gsc × nearness × sin φ sin δ
    still = 86_400 * 0.0820e6 / 60 * (1 - 0.033 * 0.9837093) * sin(high) * sin(0.409)
    assert extraterrestrial_radiation(high, 172) == pytest.approx(still, rel=1e-6)


STANDS = [
    # Duffie & Beckman, example 1.6.2, 43° N: day, solar hour, zenith, azimuth west of south, in degrees
    (44, 9.5, 66.5, -40.0),
    (182, 18.5, 79.6, 112.0),
]


@pytest.mark.parametrize(("day", "hour", "zenith", "azimuth"), STANDS)
def test_where_the_sun_stands_as_printed(day: int, hour: float, zenith: float, azimuth: float) -> None:
    """From memory of the book; its series for the declination differs by a fifth of a degree."""
    east, north, up = sun_vector(radians(43), day, (hour - 12) * pi / 12)
    aside, above = radians(azimuth), radians(90 - zenith)
    expected = (-cos(above) * sin(aside), -cos(above) * cos(aside), sin(above))
    assert (east, north, up) == pytest.approx(expected, abs=0.005)


def test_incidence_as_printed() -> None:
    """Duffie & Beckman, example 1.6.1, from memory: 43° N, 13 February, 10:30, 45° tilt, 15° west of south: 35°."""
    found = incidence(radians(43), 44, -1.5 * pi / 12, radians(45), radians(195))
    assert found == pytest.approx(cos(radians(35.0)), abs=0.003)
