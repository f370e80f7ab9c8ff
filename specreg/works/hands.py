"""Several vans that share the workshop's hands: a serial schedule by priority.

Serial schedule generation (Kelley, "The critical-path method: resources planning and scheduling", in Muth
and Thompson, Industrial Scheduling, 1963; memory): tasks are taken one by one, each at the first time at
which all that it waits for is finished and enough hands of its skill are free for as long as it takes. It
never moves what is placed already, and gives a schedule that can be kept, not the shortest there is.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from specreg.model.build import Build
from specreg.model.works import Skill
from specreg.works.calendar import Calendar, calendar_of
from specreg.works.cpm import Times
from specreg.works.plan import Plan, Work, works_of

Slot = tuple[int, int, int]
"""From, to (minutes of work), and how many hands are taken."""


class Placed(NamedTuple):
    """A task of a van with the time and the days that it is given."""

    build: str
    work: Work
    start: int
    finish: int
    starts: date | None
    ends: date | None


class Shared(NamedTuple):
    """The schedule of all vans on the hands that there are; `assumptions` say what was taken for granted."""

    placed: tuple[Placed, ...]
    hands: Mapping[Skill, int]
    assumptions: tuple[str, ...]

    def ends(self, build: str) -> date | None:
        """Return the day on which a van is finished."""
        return max((one.ends for one in self.placed if one.build == build and one.ends), default=None)


def shared_schedule(builds: Sequence[Build], plans: Mapping[str, Plan], on: date | None = None) -> Shared:
    """Return one schedule for vans whose plans have days.

    Vans go by `priority`, then by name; within a van tasks go by their latest start, then by their
    earliest. A skill of which no hands are stated is not short: who is booked comes when called.
    """
    mine = [one for one in builds if one.name in plans and plans[one.name].calendar is not None]
    if not mine:
        return Shared((), {}, ())
    calendar = _common(mine, plans)
    hands = _hands(mine)
    taken: dict[Skill, list[Slot]] = {}
    placed: list[Placed] = []
    for build in sorted(mine, key=lambda one: (one.header.works.priority, one.name)):
        placed += _place(build, plans[build.name], calendar, hands, taken, on)
    return Shared(tuple(placed), hands, tuple(_assumed(mine, hands, placed)))


def _common(builds: Sequence[Build], plans: Mapping[str, Plan]) -> Calendar:
    """Return the calendar of all: from the first day of any, the shortest day, closed when any is."""
    own = [(one, calendar) for one in builds if (calendar := plans[one.name].calendar)]
    first = min(calendar.first for _, calendar in own)
    all_of = [calendar_of(one.header.works, first) for one, _ in own]
    return Calendar(
        first,
        min(one.per_day for one in all_of),
        frozenset.intersection(*(one.weekdays for one in all_of)) or all_of[0].weekdays,
        frozenset().union(*(one.closed for one in all_of)),
    )


def _hands(builds: Sequence[Build]) -> dict[Skill, int]:
    """Return how many of each skill there are: the most that any van states, as they are the same people."""
    found: dict[Skill, int] = {}
    for build in builds:
        for skill, count in build.header.works.hands.items():
            found[skill] = max(count, found.get(skill, 0))
    return {skill: found[skill] for skill in Skill if skill in found}


def _place(
    build: Build,
    plan: Plan,
    calendar: Calendar,
    hands: Mapping[Skill, int],
    taken: dict[Skill, list[Slot]],
    on: date | None,
) -> list[Placed]:
    works, _, _ = works_of(build)
    if on is None:
        works = tuple(one._replace(done=False) for one in works)
    first = calendar.minute_of(plan.calendar.first) if plan.calendar else 0
    times = {one.work.name: one.times for one in plan.tasks}
    finish: dict[str, int] = {}
    found: list[Placed] = []
    for work in _in_turn(works, times):
        earliest = calendar.minute_of(work.earliest) if work.earliest and not work.done else 0
        ready = max([first, earliest, *(finish[name] for name in work.after)])
        need, busy = _need(work, hands), taken.setdefault(work.skill, [])
        start = first_free(busy, ready, work.duration, need, hands.get(work.skill))
        finish[work.name] = start + work.duration
        if work.duration:
            busy.append((start, finish[work.name], need))
        found.append(
            Placed(build.name, work, start, finish[work.name], *calendar.span(start, finish[work.name]))
        )
    return found


def _need(work: Work, hands: Mapping[Skill, int]) -> int:
    """Return how many hands a task takes: never more than there are."""
    return min(work.hands, hands.get(work.skill, work.hands)) or 1


def _in_turn(works: Iterable[Work], times: Mapping[str, Times]) -> list[Work]:
    """Return tasks in the order in which they are placed: of those that wait for none, the most pressing."""
    left = {one.name: one for one in works}
    done: list[Work] = []
    while left:
        free = [name for name, one in left.items() if not any(other in left for other in one.after)]
        done.append(left.pop(min(free, key=lambda n: (times[n].latest_start, times[n].earliest_start, n))))
    return done


def first_free(taken: Sequence[Slot], ready: int, duration: int, need: int, there: int | None) -> int:
    """Return the first minute from `ready` on at which `need` hands of `there` are free for a duration."""
    if there is None or duration == 0:
        return ready
    starts = sorted({ready, *(end for _, end, _ in taken if end > ready)})
    return next(start for start in starts if _peak(taken, start, start + duration) + need <= there)


def _peak(taken: Sequence[Slot], start: int, end: int) -> int:
    """Return the most hands that are taken at once within a time."""
    within = [slot for slot in taken if slot[0] < end and slot[1] > start]
    moments = {start, *(slot[0] for slot in within if slot[0] > start)}
    return max((sum(n for a, b, n in within if a <= moment < b) for moment in moments), default=0)


def _assumed(builds: Sequence[Build], hands: Mapping[Skill, int], placed: Iterable[Placed]) -> list[str]:
    used = {one.work.skill for one in placed if one.work.duration}
    free = [skill.value for skill in Skill if skill in used and skill not in hands]
    said = [f"no hands are stated for {', '.join(free)}: they come when they are called"] if free else []
    more = [f"{one.build}: {one.work.name}" for one in placed if one.work.hands > _need(one.work, hands)]
    if more:
        said.append(f"more hands are planned than there are for {', '.join(more)}")
    if len({one.header.works.hours_per_day for one in builds}) > 1:
        said.append("vans state days of different length: the shortest is taken for all")
    return said
