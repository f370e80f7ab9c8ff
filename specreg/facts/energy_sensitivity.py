"""What would change the nights most: each load, sun, driving, battery: a fifth more, less, or none."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from specreg.facts.energy import halves
from specreg.facts.energy_by_hour import (
    Hours,
    Load,
    Weather,
    chargeable,
    driving_of_day,
    let_in,
    loads_by_hour,
    sun_of_day,
    total,
)
from specreg.facts.engine import Subject
from specreg.facts.nights import NIGHTS, aged_bank, places_of, stay
from specreg.facts.registry import fact
from specreg.facts.state_of_charge import Store
from specreg.facts.sun import Standing
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.units import Dimension

STEP = 0.2


@dataclass(frozen=True)
class Base:
    """A stay: store, loads, what sun and driving offer by hour, and for how many nights it is meant."""

    store: Store
    loads: tuple[Load, ...]
    sources: dict[str, Hours]
    nights: int

    def outcome(self) -> tuple[float, float]:
        """Return days until the reserve, at most 60, and the joules wanting in the nights that are meant."""
        asked, given = total(self.loads), let_in(list(self.sources.values()), (True,) * 24)
        run = stay(self.store, asked, given)
        hours = run.hours(self.store.reserve)
        return NIGHTS if hours is None else hours / 24, stay(self.store, asked, given, self.nights).unserved


@dataclass(frozen=True)
class Change:
    """What a change of one thing does: nights until the reserve in halves, joules wanting in the stay."""

    what: str
    nights_with_less: float
    nights_with_more: float
    nights_without: float
    unmet_with_less: float
    unmet_with_more: float
    unmet_without: float


CHANGE = view(
    "change",
    {
        "what": text(),
        "nights_with_less": number(),
        "nights_with_more": number(),
        "nights_without": number(),
        "unmet_with_less": number(Dimension.energy),
        "unmet_with_more": number(Dimension.energy),
        "unmet_without": number(Dimension.energy),
    },
)


def sensitivity(base: Base, name_of: Callable[[str], str]) -> tuple[Change, ...]:
    """Return what each thing changes, the strongest first: by days, not yet in halves, then by energy."""
    found: list[tuple[tuple[float, float, str], Change]] = []
    for what, vary in _all(base, name_of):
        less, more, without = (vary(factor).outcome() for factor in (1 - STEP, 1 + STEP, 0.0))
        nights = [halves(days) for days, _ in (less, more, without)]
        change = Change(what, nights[0], nights[1], nights[2], less[1], more[1], without[1])
        found.append(((-abs(less[0] - more[0]), -abs(less[1] - more[1]), what), change))
    return tuple(change for _, change in sorted(found, key=lambda pair: pair[0]))


def _all(base: Base, name_of: Callable[[str], str]) -> Iterator[tuple[str, Callable[[float], Base]]]:
    yield "battery capacity", partial(_battery_times, base)
    for source, hours in base.sources.items():
        if any(hours):
            yield source, partial(_source_times, base, source)
    for load in base.loads:
        if any(load.hours):
            yield name_of(load.name), partial(_load_times, base, load.name)


def _battery_times(base: Base, factor: float) -> Base:
    return replace(base, store=base.store.times(factor))


def _times(hours: Hours, factor: float) -> Hours:
    return tuple(hour * factor for hour in hours)


def _source_times(base: Base, source: str, factor: float) -> Base:
    return replace(base, sources={**base.sources, source: _times(base.sources[source], factor)})


def _load_times(base: Base, name: str, factor: float) -> Base:
    changed = (Load(one.name, _times(one.hours, factor)) if one.name == name else one for one in base.loads)
    return replace(base, loads=tuple(changed))


def _base(build: Subject, standing: Standing | None) -> Base:
    known = standing is not None and standing.place.poor_week_clearness is not None
    sun = sun_of_day(build, standing, Weather.poor if known else Weather.mean)
    sources = {"sun": sun}
    if build.van.build.header.use.driving_per_day:
        sources["driving"] = driving_of_day(build)
    warm = chargeable(build, standing, most=False)
    let = {name: let_in([hours], warm) for name, hours in sources.items()}
    loads = tuple(loads_by_hour(build, standing, most=False))
    return Base(aged_bank(build, most=False), loads, let, int(build.use.nights_off_grid))


@fact(
    Header,
    list_of(CHANGE),
    formula="nights until the reserve (60: no end seen) and energy wanting in the stated nights, with each "
    "thing a fifth less, a fifth more, and none of it; sorted by what a fifth does",
    source="the simulation run again; poor week where one is stated, battery worn, driving as stated",
)
def what_would_change_nights(build: Subject) -> tuple[Change, ...]:
    """What would change the nights most, in the month and at the place with the fewest."""
    bases = [_base(build, standing) for standing in places_of(build.van)]
    outcomes = [(base.outcome(), n) for n, base in enumerate(bases)]
    worst = min(outcomes, key=lambda found: (found[0][0], -found[0][1], found[1]))[1]
    return sensitivity(bases[worst], build.van.name_of)
