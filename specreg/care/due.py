"""When each duty is due: counted from when it was last done, else from hand-over."""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from specreg.care.duties import DUTIES, Basis, Carer, Duty
from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.component import Component, System
from specreg.model.port import Medium
from specreg.model.run import Run

RENEW = "renew"
"""The duty of what bears a date after which it must be renewed."""
SERVICE = "service"
"""The duty of what its maker wants served in an interval that the spec states."""

DAYS_PER_MONTH = 30.4375
SECONDS_PER_DAY = 86_400.0


class Due(NamedTuple):
    """One duty of one van. `next` is None where nothing tells from when to count.

    `months` is 0 for what is renewed once, by a date on it. `last` is the day on which it was last done.
    """

    duty: str
    things: tuple[str, ...]
    months: int
    who: Carer
    basis: Basis
    document: str
    last: date | None
    next: date | None

    def overdue(self, on: date | None) -> bool:
        """Tell whether it was due before a day."""
        return self.next is not None and on is not None and self.next < on


def care_of(facts: Facts) -> tuple[Due, ...]:
    """Return every duty of a van, the soonest due first, those without a day last."""
    found = [_due(facts.build, one, things) for one in DUTIES if (things := one.on(facts))]
    found += [*_served(facts.build), *_renewed(facts.build)]
    return tuple(sorted(found, key=lambda due: (due.next or date.max, due.months, due.duty, due.things)))


def _due(build: Build, duty: Duty, things: tuple[str, ...]) -> Due:
    months, last = duty.interval(build), last_done(build, duty.name, things)
    first = _counted(build, last, months)
    return Due(duty.name, things, months, duty.who, duty.basis, duty.document, last, first)


def _counted(build: Build, last: date | None, months: int) -> date | None:
    """Return the next day, from when it was last done, else from hand-over."""
    start = last or build.header.records.handed_over_on
    return add_months(start, months) if start else None


def last_done(build: Build, duty: str, things: tuple[str, ...]) -> date | None:
    """Return the day on which a duty was last done on the whole of its things.

    A service that names one thing counts for that thing; the duty is done when all of them are.
    """
    done = [one for one in build.header.records.services if one.duty == duty and one.date]
    whole = [one.date for one in done if one.on is None and one.date]
    each = [[one.date for one in done if one.on == thing and one.date] for thing in things]
    days = [max((*whole, *own), default=None) for own in each]
    return min((day for day in days if day), default=None) if all(days) else None


def _served(build: Build) -> Iterator[Due]:
    """Yield what its maker wants served in an interval that the spec states."""
    for name, one in build.components.items():
        interval = getattr(one, "service_interval", None)
        if interval is not None:
            months = round(interval / SECONDS_PER_DAY / DAYS_PER_MONTH)
            last = last_done(build, SERVICE, (name,)) or getattr(one, "serviced_on", None)
            day = _counted(build, last, months)
            yield Due(SERVICE, (name,), months, Carer.workshop, Basis.maker, "", last, day)


def _renewed(build: Build) -> Iterator[Due]:
    """Yield what bears a day after which it is renewed: components, hoses."""
    things: dict[str, Component | Run] = {**build.components, **build.runs}
    for name, one in things.items():
        day = getattr(one, "expires_on", None)
        if day is not None:
            yield Due(RENEW, (name,), 0, _renews(one), Basis.maker, "", None, day)


def _renews(one: Component | Run) -> Carer:
    """Return who renews a thing: what carries gas is a registered engineer's."""
    carries = one.medium is Medium.gas if isinstance(one, Run) else type(one).system is System.gas
    return Carer.gas_engineer if carries else Carer.owner


def add_months(day: date, months: int) -> date:
    """Return the day so many months later; the month's last day where it has no such day."""
    count = day.year * 12 + day.month - 1 + months
    year, month = count // 12, count % 12 + 1
    return date(year, month, min(day.day, monthrange(year, month)[1]))
