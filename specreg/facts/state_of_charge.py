"""State of charge hour by hour: pure, in joules; the facts that ask it are elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain
from math import exp, inf

HOUR = 3600.0


@dataclass(frozen=True)
class Store:
    """A battery: full content, content at the reserve, greatest charging power, share kept in charging.

    Over the last part of the full content, the share `taper`, charging power falls off in a straight line to
    nothing, as at constant voltage. `greatest_draw` bounds what it gives.
    """

    full: float
    reserve: float
    greatest_power: float
    efficiency: float
    taper: float = 0.0
    greatest_draw: float = inf

    def times(self, factor: float) -> Store:
        """Return so many of it side by side."""
        return replace(
            self,
            full=self.full * factor,
            reserve=self.reserve * factor,
            greatest_power=self.greatest_power * factor,
            greatest_draw=self.greatest_draw * factor,
        )

    def charged(self, content: float, power: float, time: float = HOUR) -> float:
        """Return the content after a time in which a power is offered, exactly, through the taper."""
        rise = min(power, self.greatest_power) * self.efficiency
        if rise <= 0 or content >= self.full:
            return content
        if self.taper <= 0:
            return min(self.full, content + rise * time)
        decay = self.greatest_power * self.efficiency / (self.full * self.taper)
        corner = self.full - rise / decay  # from here on the battery asks for less than is offered
        until = max(0.0, (corner - content) / rise)
        if until >= time:
            return content + rise * time
        return self.full - (self.full - max(content, corner)) * exp(-decay * (time - until))


@dataclass(frozen=True)
class Course:
    """What became of the energy: contents after each hour, and the sums in joules."""

    contents: tuple[float, ...]
    offered: float
    turned_away: float
    lost: float
    used: float
    unserved: float

    def nights(self, reserve: float) -> float | None:
        """Return days until the content is at the reserve, down to halves; None if that never happens."""
        hours = self.hours(reserve)
        return None if hours is None else hours // 12 / 2

    def hours(self, reserve: float) -> int | None:
        """Return hours until the content is at the reserve; None if that never happens."""
        return next((h + 1 for h, content in enumerate(self.contents) if content <= reserve + 1e-6), None)


def course(store: Store, start: float, loads: Sequence[float], sources: Sequence[float]) -> Course:
    """Return the course from a start, by joules asked and offered in each hour; loads stop at the reserve."""
    content = start
    contents: list[float] = []
    away = lost = used = unserved = 0.0
    draw = store.greatest_draw * HOUR
    for load, source in zip(loads, sources, strict=True):
        if source < load:
            asked = load - source
            given = min(asked, draw, max(0.0, content - store.reserve))
            content -= given
            used, unserved = used + source + given, unserved + asked - given
        else:
            used, spare = used + load, source - load
            after = store.charged(content, spare / HOUR)
            taken = (after - content) / store.efficiency
            away, lost = away + spare - taken, lost + taken - (after - content)
            content = after
        contents.append(content)
    return Course(tuple(contents), sum(sources), away, lost, used, unserved)


def course_of_days(
    store: Store, start: float, loads: Sequence[float], sources: Sequence[float], days: int
) -> Course:
    """Return the course of equal days; once one ends as it began, all that follow are like it."""
    found: list[Course] = []
    content = start
    while len(found) < days:
        day = course(store, content, loads, sources)
        alike = day.contents[-1] == content
        found += [day] * (days - len(found) if alike else 1)
        content = day.contents[-1]
    return Course(
        tuple(chain.from_iterable(day.contents for day in found)),
        sum(day.offered for day in found),
        sum(day.turned_away for day in found),
        sum(day.lost for day in found),
        sum(day.used for day in found),
        sum(day.unserved for day in found),
    )
