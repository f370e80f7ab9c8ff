"""The stated trip and the year of named months, hour by hour: what is met and what is left."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from specreg.facts.energy_by_hour import (
    WEEK,
    Hours,
    Weather,
    chargeable,
    driving_of_day,
    let_in,
    loads_by_hour,
    shore_of_day,
    sun_of_day,
    total,
)
from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.nights import aged_bank, stay
from specreg.facts.registry import Axis, fact
from specreg.facts.state_of_charge import Course, Store, course
from specreg.facts.sun import DAYS, Standing, standings
from specreg.facts.value_type import list_of, number, view
from specreg.model.build import Header
from specreg.units import Dimension


@dataclass(frozen=True)
class MonthOfEnergy:
    """One month of the year that was simulated: joules, and the least state of charge as a share."""

    month: int
    asked: float
    offered: float
    unmet: float
    turned_away: float
    least_charge: float


MONTH = view(
    "month of energy",
    {
        "month": number(),
        "asked": number(Dimension.energy),
        "offered": number(Dimension.energy),
        "unmet": number(Dimension.energy),
        "turned_away": number(Dimension.energy),
        "least_charge": number(Dimension.share),
    },
)


@dataclass(frozen=True)
class Days:
    """The sorts of day in a month: joules by hour that loads ask and that each weather offers."""

    loads: Hours
    rest: Hours
    poor: Hours
    warm: tuple[bool, ...]
    driving: Hours
    shore: Hours


def _days(build: Subject, standing: Standing, *, most: bool, used: bool) -> Days:
    poor = Weather.mean if standing.place.poor_week_clearness is None else Weather.poor
    nothing = (0.0,) * 24
    shore = used and int(build.use.shore_nights) > 0
    return Days(
        total(loads_by_hour(build, standing, most=most)),
        sun_of_day(build, standing, Weather.mean if poor is Weather.mean else Weather.rest),
        sun_of_day(build, standing, poor),
        chargeable(build, standing, most=most),
        driving_of_day(build) if used else nothing,
        shore_of_day(build) if shore else nothing,
    )


def _dimmest(build: Subject, month: int) -> Standing:
    """Return the place named for a month where the panels give least."""
    return min(standings(build.van, month), key=lambda one: sum(sun_of_day(build, one, Weather.mean)))


def _month(days: Days, number_: int, hooked: list[bool]) -> tuple[Hours, Hours]:
    """Return loads and sources of a month's hours; its poor week is in the middle."""
    first = (number_ - WEEK) // 2
    offered: list[float] = []
    for day, on_shore in enumerate(hooked):
        sun = days.poor if first <= day < first + WEEK else days.rest
        offered += let_in([sun, days.shore if on_shore else days.driving], days.warm)
    return days.loads * number_, tuple(offered)


def _hooked(build: Subject, *, used: bool) -> list[bool]:
    """Return the pattern of a trip and the nights on hook-up after it."""
    if not used:
        return [False]
    build.van.assume("times off grid follow each other at once, with the nights on hook-up between them")
    nights = [False] * int(build.use.nights_off_grid) + [True] * int(build.use.shore_nights)
    return nights or [False]


def year(build: Subject, *, most: bool, used: bool) -> tuple[MonthOfEnergy, ...]:
    """Return the named months one after the other, full at the start and after months that are not named.

    `used` counts driving and hook-up as stated; otherwise the van stands and has its sun only.
    """
    build.van.assume(
        "each named month: equal days, seven in its middle with the poor week's sun, the others so clear "
        "that the mean is the stated one; the battery is full at the start and after months not named"
    )
    store, pattern = aged_bank(build, most=most), _hooked(build, used=used)
    found: list[MonthOfEnergy] = []
    named = sorted({standing.month for standing in standings(build.van)})
    for month in named:
        if month - 1 not in named:
            content, day = store.full, 0
        days = _days(build, _dimmest(build, month), most=most, used=used)
        hooked = [pattern[(day + n) % len(pattern)] for n in range(DAYS[month - 1])]
        run = course(store, content, *_month(days, DAYS[month - 1], hooked))
        found.append(_told(month, run, store))
        content, day = run.contents[-1], day + DAYS[month - 1]
    return tuple(found)


def _told(month: int, run: Course, store: Store) -> MonthOfEnergy:
    asked = run.used + run.unserved
    return MonthOfEnergy(
        month, asked, run.offered, run.unserved, run.turned_away, min(run.contents) / store.full
    )


def _met(months: tuple[MonthOfEnergy, ...]) -> float:
    asked = sum(month.asked for month in months)
    if not asked:
        raise Missing(reason="nothing takes energy from the battery")
    return 1 - sum(month.unmet for month in months) / asked


SOURCE = (
    "energy balance hour by hour; sun as for `sun_by_hour`; shares kept and taken are named as assumptions"
)
year_fact = partial(fact, Header, source=SOURCE)


@year_fact(number(Dimension.share), formula="energy met / energy asked, the van standing, sun only")
def most_met_without_shore(build: Subject) -> float:
    """Share of the named months' energy that sun alone meets without shore power, battery new."""
    return _met(year(build, most=True, used=False))


@year_fact(number(Dimension.share), formula="energy met / energy asked, the van standing, sun only")
def least_met_without_shore(build: Subject) -> float:
    """Share of the named months' energy that sun alone meets without shore power, battery worn."""
    return _met(build.year_without_shore)


@year_fact(number(Dimension.share), formula="energy met / energy asked, with driving and hook-up as stated")
def most_met_as_used(build: Subject) -> float:
    """Share of the named months' energy that is met as the van is used, battery new."""
    return _met(year(build, most=True, used=True))


@year_fact(number(Dimension.share), formula="energy met / energy asked, with driving and hook-up as stated")
def least_met_as_used(build: Subject) -> float:
    """Share of the named months' energy that is met as the van is used, battery worn."""
    return _met(build.year_as_used)


@year_fact(number(Dimension.share), formula="1 − usable energy / full content of the house batteries")
def charge_kept(build: Subject) -> float:
    """State of charge at which loads are taken to stop."""
    store = aged_bank(build, most=False)
    return store.reserve / store.full


@year_fact(list_of(MONTH), formula="Σ over the hours of each named month, the van standing, sun only")
def year_without_shore(build: Subject) -> tuple[MonthOfEnergy, ...]:
    """The named months without driving and shore power, battery worn."""
    return year(build, most=False, used=False)


@year_fact(list_of(MONTH), formula="Σ over the hours of each named month, with driving and hook-up as stated")
def year_as_used(build: Subject) -> tuple[MonthOfEnergy, ...]:
    """The named months as the van is used, battery worn."""
    return year(build, most=False, used=True)


def trip(build: Subject, month: int, weather: Weather, *, most: bool) -> tuple[Course, Store]:
    """Return the course of the stated trip in a month, from a full battery at 18 h, driving as stated."""
    standing = _dimmest(build, month)
    sources = [sun_of_day(build, standing, weather), driving_of_day(build)]
    offered = let_in(sources, chargeable(build, standing, most=most))
    store = aged_bank(build, most=most)
    loads = total(loads_by_hour(build, standing, most=most))
    return stay(store, loads, offered, int(build.use.nights_off_grid)), store


def _charge(build: Subject, weather: Weather) -> tuple[float, ...]:
    run, store = trip(build, int(str(build.case)), weather, most=False)
    return tuple(content / store.full for content in (store.full, *run.contents))


TRIP = "content / full content after each hour from 18 h on, full at first, driving as stated"


@year_fact(list_of(number(Dimension.share)), formula=TRIP, axis=Axis.month)
def state_of_charge_on_trip(build: Subject) -> tuple[float, ...]:
    """State of charge by hour over the stated nights with the month's mean sun, battery worn."""
    return _charge(build, Weather.mean)


@year_fact(list_of(number(Dimension.share)), formula=TRIP, axis=Axis.month)
def state_of_charge_in_a_poor_week(build: Subject) -> tuple[float, ...]:
    """State of charge by hour over the stated nights in a poor week's sun, battery worn."""
    return _charge(build, Weather.poor)


@year_fact(number(Dimension.energy), formula="Σ asked and not given, driving as stated", axis=Axis.month)
def unmet_on_trip(build: Subject) -> float:
    """Energy that is wanting over the stated nights with the month's mean sun, battery worn."""
    return trip(build, int(str(build.case)), Weather.mean, most=False)[0].unserved


@year_fact(number(Dimension.energy), formula="Σ asked and not given, driving as stated", axis=Axis.month)
def unmet_in_a_poor_week(build: Subject) -> float:
    """Energy that is wanting over the stated nights in a poor week's sun, battery worn."""
    return trip(build, int(str(build.case)), Weather.poor, most=False)[0].unserved
