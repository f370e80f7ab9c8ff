"""State of charge hour by hour: pure, in joules; the facts that ask it are elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sin

HOUR = 3600.0


@dataclass(frozen=True)
class Store:
    """A battery: full content, content at the reserve, greatest charging power, share kept in charging."""

    full: float
    reserve: float
    greatest_power: float
    efficiency: float


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
        hours = next((h for h, content in enumerate(self.contents) if content <= reserve + 1e-6), None)
        return None if hours is None else (hours + 1) // 12 / 2


def course(store: Store, start: float, loads: Sequence[float], sources: Sequence[float]) -> Course:
    """Return the course from a start, by joules asked and offered in each hour; loads stop at the reserve."""
    content = start
    contents: list[float] = []
    away = lost = used = unserved = 0.0
    for load, source in zip(loads, sources, strict=True):
        direct = min(load, source)
        asked, spare = load - direct, source - direct
        room = (store.full - content) / store.efficiency
        taken = min(spare, room, store.greatest_power * HOUR)
        given = min(asked, max(0.0, content - store.reserve))
        content += taken * store.efficiency - given
        contents.append(content)
        away, lost = away + spare - taken, lost + taken * (1 - store.efficiency)
        used, unserved = used + direct + given, unserved + asked - given
    return Course(tuple(contents), sum(sources), away, lost, used, unserved)


def sun_by_hour(daily: float, rise: int = 6, fall: int = 18) -> tuple[float, ...]:
    """Return a day's joules by hour as a half sine between two whole hours."""
    raw = [sin(pi * (h + 0.5 - rise) / (fall - rise)) if rise <= h < fall else 0.0 for h in range(24)]
    return tuple(daily * r / sum(raw) for r in raw)
