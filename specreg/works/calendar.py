"""Working days: minutes of work counted from a first day, and the days on which they fall."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from itertools import islice

from specreg.model.works import Works

WEEK = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAY = timedelta(days=1)
HOURS_PER_DAY = 8 * 60
FARTHEST = 4000
"""Days after which a search for a working day ends: a workshop that is closed for ten years is closed."""


def minutes(seconds: float) -> int:
    """Return a duration in whole minutes, the unit of plans."""
    return round(seconds / 60)


@dataclass(frozen=True)
class Calendar:
    """Working days from a first day on, and the minutes of work in one."""

    first: date
    per_day: int
    weekdays: frozenset[int]
    closed: frozenset[date]

    def works(self, day: date) -> bool:
        """Tell whether is worked on a day."""
        return day.weekday() in self.weekdays and day not in self.closed

    def days(self) -> Iterator[date]:
        """Yield working days in order."""
        day, idle = self.first, 0
        while idle < FARTHEST:
            if self.works(day):
                idle = 0
                yield day
            if day == date.max:
                return
            day, idle = day + DAY, idle + 1

    def span(self, start: int, finish: int) -> tuple[date | None, date | None]:
        """Return the days on which work begins and ends that takes from one minute to another.

        What takes no time is reached on the day on which the work before it ends.
        """
        ends = self._nth(max(finish - 1, 0) // self.per_day)
        return (self._nth(start // self.per_day) if finish > start else ends), ends

    @cached_property
    def _found(self) -> tuple[list[date], Iterator[date]]:
        """Return the working days looked up so far, and where to go on."""
        return [], self.days()

    def _nth(self, number: int) -> date | None:
        known, more = self._found
        known.extend(islice(more, max(0, number + 1 - len(known))))
        return known[number] if number < len(known) else None

    def minute_of(self, day: date) -> int:
        """Return the minutes of work that lie before a day."""
        known, more = self._found
        while not known or known[-1] < day:
            found = next(more, None)
            if found is None:
                break
            known.append(found)
        return bisect_left(known, day) * self.per_day

    def order_day(self, needed: date, lead_time: float | None) -> date | None:
        """Return the last working day on which what takes `lead_time` seconds may be ordered.

        Lead times are calendar days, rounded up; before the plan's first day the week and the closed days
        count as well. None where the lead time is not known.
        """
        if lead_time is None:
            return None
        number = needed.toordinal() + (-int(lead_time) // 86400)
        earlier = (date.fromordinal(n) for n in range(number, max(number - FARTHEST, 0), -1))
        return next((day for day in earlier if self.works(day)), None)


def calendar_of(works: Works, first: date) -> Calendar:
    """Return the calendar that a van's works state, from a day on."""
    per_day = HOURS_PER_DAY if works.hours_per_day is None else minutes(works.hours_per_day)
    weekdays = frozenset(WEEK.index(word) for word in works.working_days)
    return Calendar(first, max(1, per_day), weekdays, frozenset(works.closed))
