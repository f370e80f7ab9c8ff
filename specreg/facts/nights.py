"""Nights that a full battery lasts with sun, in the least sunny month named for the van's places."""

from __future__ import annotations

from math import inf

from specreg.facts.axes import cases
from specreg.facts.energy import AGED
from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import Axis, fact
from specreg.facts.state_of_charge import Store, course, sun_by_hour
from specreg.facts.sun import monthly_radiation
from specreg.facts.value_type import number
from specreg.model.build import Header

NIGHTS = 60
"""Longest stay that is followed: an answer of 60 says that no end came in that time."""
KEPT = 0.95
"""Share of the charge that comes back: common practice, no source."""

FORMULA = "hour by hour from full, even load, sun as a half sine from 6 to 18; at most 60"
SOURCE = "energy balance; no driving, shore, charging limit, cold or snow is counted; losses: common practice"


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def most_nights_with_mean_sun(build: Subject) -> float:
    """Nights until the reserve with mean sun in the least sunny month, battery new (60: no end seen)."""
    return min(_nights(build, sun, 1.0) for sun in _suns(build, poor=False))


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def least_nights_with_mean_sun(build: Subject) -> float:
    """Nights until the reserve with mean sun in the least sunny month, battery worn (60: no end seen)."""
    return min(_nights(build, sun, AGED) for sun in _suns(build, poor=False))


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def most_nights_in_a_poor_week(build: Subject) -> float:
    """Nights until the reserve in a poor week's sun, battery new (60: no end seen)."""
    return min(_nights(build, sun, 1.0) for sun in _suns(build, poor=True))


@fact(Header, number(), formula=FORMULA, source=SOURCE)
def least_nights_in_a_poor_week(build: Subject) -> float:
    """Nights until the reserve in a poor week's sun, battery worn (60: no end seen)."""
    return min(_nights(build, sun, AGED) for sun in _suns(build, poor=True))


def _suns(build: Subject, *, poor: bool) -> list[float]:
    months = [month for month in cases(Axis.month, build.van) if month is not None]
    if not months:
        raise Missing("use.places")
    return [build.in_case(m).daily_sun * (_poor_share(build, int(m)) if poor else 1.0) for m in months]


def _poor_share(build: Subject, month: int) -> float:
    poor, mean = [], []
    for i, place in enumerate(build.van.build.header.use.places):
        if month in place.months:
            if place.poor_week_clearness is None or place.clearness is None:
                raise Missing(f"use.places[{i}].poor_week_clearness")
            poor.append(monthly_radiation(place.latitude, month, place.poor_week_clearness))
            mean.append(monthly_radiation(place.latitude, month, place.clearness))
    return min(poor) / min(mean) if min(mean) > 0 else 0.0


def _nights(build: Subject, sun: float, share: float) -> float:
    build.van.assume("95 % of what is charged comes back (common practice, no source)")
    build.van.assume("use spread evenly, sun from 6 to 18 h; charging limits and cold not counted")
    store = Store(share * build.usable_energy, 0.0, inf, KEPT)
    loads = [build.daily_energy_use / 24] * 24 * NIGHTS
    found = course(store, store.full, loads, sun_by_hour(sun) * NIGHTS).nights(0.0)
    return float(NIGHTS) if found is None else found
