"""Nights that a full battery lasts without driving and hook-up: no sun, a month's mean sun, a poor week."""

from __future__ import annotations

from collections.abc import Iterable

from specreg.facts.charging_power import bank
from specreg.facts.energy import AGED
from specreg.facts.energy_by_hour import (
    Hours,
    Weather,
    chargeable,
    let_in,
    loads_by_hour,
    sun_of_day,
    total,
)
from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.state_of_charge import Course, Store, course_of_days
from specreg.facts.sun import Standing, standings
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.model.solar import SolarPanel

NIGHTS = 60
"""Longest stay that is followed: an answer of 60 says that no end came in that time."""
ARRIVAL = 18
"""The hour at which a stay begins with a full battery."""
NOT_MODELLED = (
    "not counted: snow and trees over panels, shade on part of a string, capacity lost in the cold and in "
    "fast discharge, warming of batteries, start current of heater and compressors, own consumption of solar "
    "controllers, hours of heater and lights by season, wind and air gap at panels, peaks within an hour"
)
RANGE = (
    "least and most differ by a worn or new battery, by the share of the charge that comes back, by the air "
    "that the fridge stands in and, where no temperature by day is stated, by the cold; hours are solar time"
)

FORMULA = "hour by hour from a full battery at 18 h, the least of all months and places; at most 60"
SOURCE = "energy balance; sun as for `sun_by_hour`; shares kept and taken are named as assumptions"


def places_of(van: Facts) -> list[Standing | None]:
    """Return the months and places; a van without panels may name none. Raises Missing otherwise."""
    if not van.build.header.use.places and not any(van.of_class(SolarPanel)):
        return [None]
    return list(standings(van))


def stay(store: Store, loads: Hours, sources: Hours, days: int = NIGHTS) -> Course:
    """Return the course of equal days from a full battery at 18 h."""
    asked, offered = (hours[ARRIVAL:] + hours[:ARRIVAL] for hours in (loads, sources))
    return course_of_days(store, store.full, asked, offered, days)


def stay_at(build: Subject, standing: Standing | None, weather: Weather, *, most: bool) -> Course:
    """Return the course of a stay without driving or hook-up, battery new at the better end, else worn."""
    loads = total(loads_by_hour(build, standing, most=most))
    sun = let_in([sun_of_day(build, standing, weather)], chargeable(build, standing, most=most))
    return stay(aged_bank(build, most=most), loads, sun)


def aged_bank(build: Subject, *, most: bool) -> Store:
    """Return the house batteries, new at the better end and worn at the worse."""
    build.van.assume(RANGE)
    build.van.assume(NOT_MODELLED)
    if not most:
        build.van.assume("worn battery taken at 80 % of its capacity (common practice, no source)")
    return bank(build, most=most, aged=1.0 if most else AGED)


def _nights(build: Subject, weather: Weather, *, most: bool) -> float:
    reserve = aged_bank(build, most=most).reserve
    courses = (stay_at(build, standing, weather, most=most) for standing in places_of(build.van))
    return least_nights(courses, reserve)


def least_nights(courses: Iterable[Course], reserve: float) -> float:
    """Return the fewest nights of some courses, in halves; 60 where none ends."""
    found = (one.nights(reserve) for one in courses)
    return min(float(NIGHTS) if one is None else one for one in found)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def most_nights_without_sun(build: Subject) -> float:
    """Nights until the reserve without any sun, battery new (60: no end seen)."""
    return _nights(build, Weather.none, most=True)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def least_nights_without_sun(build: Subject) -> float:
    """Nights until the reserve without any sun, battery worn (60: no end seen)."""
    return _nights(build, Weather.none, most=False)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def most_nights_with_mean_sun(build: Subject) -> float:
    """Nights until the reserve with mean sun in the least sunny month, battery new (60: no end seen)."""
    return _nights(build, Weather.mean, most=True)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def least_nights_with_mean_sun(build: Subject) -> float:
    """Nights until the reserve with mean sun in the least sunny month, battery worn (60: no end seen)."""
    return _nights(build, Weather.mean, most=False)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def most_nights_in_a_poor_week(build: Subject) -> float:
    """Nights until the reserve in a poor week's sun, battery new (60: no end seen)."""
    return _nights(build, Weather.poor, most=True)


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def least_nights_in_a_poor_week(build: Subject) -> float:
    """Nights until the reserve in a poor week's sun, battery worn (60: no end seen)."""
    return _nights(build, Weather.poor, most=False)
