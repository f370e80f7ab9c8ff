"""The critical path method: earliest and latest times, total and free float.

Kelley and Walker, "Critical-Path Planning and Scheduling", Proceedings of the Eastern Joint Computer
Conference, 1959, pp. 160-173 (memory). Times are whole numbers of any unit: a float of nothing is exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from graphlib import CycleError, TopologicalSorter
from typing import NamedTuple


class Activity(NamedTuple):
    """A piece of work with its duration, what it waits for, and the time before which it cannot begin."""

    name: str
    duration: int
    after: tuple[str, ...] = ()
    earliest: int = 0


class Times(NamedTuple):
    """When an activity may begin and end without delaying the whole; floats are how much it may slip."""

    earliest_start: int
    earliest_finish: int
    latest_start: int
    latest_finish: int
    free_float: int

    @property
    def total_float(self) -> int:
        """Return by how much it may slip before the whole is late."""
        return self.latest_start - self.earliest_start

    @property
    def critical(self) -> bool:
        """Tell whether any slip delays the whole."""
        return self.total_float == 0


class Circle(Exception):  # noqa: N818 - said to a person
    """Activities that wait for each other; `names` go round, the first again at the end."""

    def __init__(self, names: tuple[str, ...]) -> None:
        self.names = names
        super().__init__(" → ".join(names))


def in_order(activities: Iterable[Activity]) -> list[Activity]:
    """Return activities so that each stands after all that it waits for; raise Circle where none is first.

    Raises KeyError for an activity that is waited for and not there.
    """
    known = {one.name: one for one in activities}
    try:
        return [
            known[name] for name in TopologicalSorter({n: a.after for n, a in known.items()}).static_order()
        ]
    except CycleError as error:
        # graphlib names predecessors before successors; a person reads "waits for" the other way round
        raise Circle(tuple(reversed(error.args[1]))) from None


def length(times: Mapping[str, Times]) -> int:
    """Return when the last activity ends."""
    return max((one.earliest_finish for one in times.values()), default=0)


def critical_path(activities: Iterable[Activity]) -> dict[str, Times]:
    """Return the times of every activity, in topological order.

    Forward: ES = max(EF of what it waits for, its earliest), EF = ES + duration. Backward: LF = least LS of
    what waits for it, or the end of the whole; LS = LF - duration. Free float = least ES of what waits for
    it, or the end of the whole, less EF. Raises Circle and KeyError as `in_order`.
    """
    ordered = in_order(activities)
    start: dict[str, int] = {}
    finish: dict[str, int] = {}
    for one in ordered:
        start[one.name] = max([one.earliest, *(finish[name] for name in one.after)])
        finish[one.name] = start[one.name] + one.duration
    return _backward(ordered, start)


def _backward(ordered: list[Activity], start: Mapping[str, int]) -> dict[str, Times]:
    end = max((start[one.name] + one.duration for one in ordered), default=0)
    next_latest = dict.fromkeys(start, end)
    next_earliest = dict.fromkeys(start, end)
    found: dict[str, Times] = {}
    for one in reversed(ordered):
        begun, latest = start[one.name], next_latest[one.name]
        finish = begun + one.duration
        found[one.name] = Times(
            begun, finish, latest - one.duration, latest, next_earliest[one.name] - finish
        )
        for name in one.after:
            next_latest[name] = min(next_latest[name], latest - one.duration)
            next_earliest[name] = min(next_earliest[name], begun)
    return {one.name: found[one.name] for one in ordered}
