"""The plan of one van: derived and stated tasks, when each can begin and must end, whom to book."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from specreg.model.build import Build, Stage
from specreg.model.works import BOOKED, Skill, Task, Works
from specreg.source import Problem, at, nearest_word
from specreg.works.calendar import Calendar, calendar_of, minutes
from specreg.works.cpm import Activity, Circle, Times, critical_path, length
from specreg.works.derived import HAND_OVER, MINUTES_PER_RUN, MINUTES_PER_THING, Derived, derive

ANY_DAY = date(2000, 1, 3)
"""A day to count from where no day of beginning is stated; no date is shown then."""


class Work(NamedTuple):
    """A task as it goes into the plan. `minutes` of its hands at work; none where it is done."""

    name: str
    title: str
    skill: Skill
    minutes: int
    hands: int = 1
    after: tuple[str, ...] = ()
    fits: tuple[str, ...] = ()
    runs: tuple[str, ...] = ()
    hold: bool = False
    derived: bool = True
    earliest: date | None = None
    who: str = ""
    done: bool = False

    @property
    def duration(self) -> int:
        """Return how long it takes, in minutes of the working day."""
        return 0 if self.done else -(-self.minutes // self.hands)


class Planned(NamedTuple):
    """A task with its times, and the days on which it begins and ends at the earliest and at the latest."""

    work: Work
    times: Times
    starts: date | None = None
    ends: date | None = None
    latest_start: date | None = None
    latest_end: date | None = None


class Booking(NamedTuple):
    """Days on which a licensed person must be there, and for what."""

    skill: Skill
    start: date | None
    end: date | None
    tasks: tuple[str, ...]


class Plan(NamedTuple):
    """The plan of one van; without a calendar it has times and no days. Times are minutes of work."""

    build: str
    title: str
    tasks: tuple[Planned, ...]
    minutes: int
    per_day: int
    calendar: Calendar | None
    assumptions: tuple[str, ...]
    due: date | None = None

    @property
    def ends(self) -> date | None:
        """Return the day on which all is done."""
        return max((one.ends for one in self.tasks if one.ends), default=None)

    @property
    def critical(self) -> tuple[str, ...]:
        """Return the tasks of which none may slip, in order, without those that are done."""
        return tuple(one.work.name for one in self.tasks if one.times.critical and not one.work.done)

    @property
    def bookings(self) -> tuple[Booking, ...]:
        """Return the visits of licensed people: tasks of one person on neighbouring working days are one."""
        return bookings(self)

    def needed(self) -> Mapping[str, date]:
        """Return the day on which each component and run must be here: when its task begins."""
        return {
            thing: one.starts
            for one in self.tasks
            if one.starts and not one.work.done
            for thing in (*one.work.fits, *one.work.runs)
        }


def plan_of(build: Build, on: date | None = None) -> tuple[Plan | None, tuple[Problem, ...]]:
    """Return a van's plan with every problem in its stated tasks; None where they wait for each other.

    With `on`, what is done is left behind and the rest begins on that day; else the whole is planned from the
    day that the works state.
    """
    works = build.header.works
    found, assumptions, problems = works_of(build)
    begin = on or works.starts
    calendar = calendar_of(works, begin) if begin else None
    axis = calendar or calendar_of(works, ANY_DAY)
    if on is None:
        found = tuple(one._replace(done=False) for one in found)
    try:
        times = critical_path(activities(found, calendar))
    except Circle as circle:
        return None, (*problems, _circle(build, circle))
    by_name = {one.name: one for one in found}
    tasks = tuple(_planned(by_name[name], one, calendar) for name, one in times.items())
    plan = Plan(build.name, build.header.title, tasks, length(times), axis.per_day, calendar,
                assumptions, works.due)  # fmt: skip
    return plan, problems


def activities(works: Iterable[Work], calendar: Calendar | None) -> list[Activity]:
    """Return tasks as activities; days before which they cannot begin count where there is a calendar."""
    return [
        Activity(
            one.name,
            one.duration,
            one.after,
            calendar.minute_of(one.earliest) if calendar and one.earliest and not one.done else 0,
        )
        for one in works
    ]


def _planned(work: Work, times: Times, calendar: Calendar | None) -> Planned:
    if calendar is None:
        return Planned(work, times)
    earliest = calendar.span(times.earliest_start, times.earliest_finish)
    latest = calendar.span(times.latest_start, times.latest_finish)
    return Planned(work, times, *earliest, *latest)


def works_of(build: Build) -> tuple[tuple[Work, ...], tuple[str, ...], tuple[Problem, ...]]:
    """Return the tasks of a van, what was taken for granted, and what is wrong with those that are stated."""
    works = build.header.works
    stated = works.tasks
    elsewhere = frozenset(thing for task in stated.values() for thing in task.fits)
    derived = derive(build, _per(works.hours_per_run, MINUTES_PER_RUN),
                     _per(works.hours_per_thing, MINUTES_PER_THING), elsewhere)  # fmt: skip
    problems = _problems(build, stated, derived.tasks)
    waits = _before(stated)
    names = list(dict.fromkeys((*derived.tasks, *stated)))
    found = [_work(build, name, derived.tasks.get(name), stated.get(name), waits, names) for name in names]
    assumptions = (*derived.assumptions, *_guessed(works, derived.tasks, stated))
    return _before_hand_over(found), assumptions, problems


def _per(stated: float | None, otherwise: int) -> int:
    return otherwise if stated is None else minutes(stated)


def _guessed(works: Works, derived: Mapping[str, Derived], stated: Mapping[str, Task]) -> list[str]:
    """Return how the hours of tasks that state none came about."""
    open_tasks = [n for n, t in derived.items() if t.minutes and not (n in stated and stated[n].hours)]
    said = []
    if open_tasks and (works.hours_per_run is None or works.hours_per_thing is None):
        said.append(
            f"tasks that state no hours: {MINUTES_PER_RUN} min for a run, {MINUTES_PER_THING} min for a "
            "component, 1 to 4 h for a test (common practice, no source)"
        )
    none = [n for n, t in stated.items() if n not in derived and t.hours is None]
    if none:
        said.append(f"no hours are stated for {', '.join(none)}: counted as none")
    return said


def _before(stated: Mapping[str, Task]) -> dict[str, tuple[str, ...]]:
    """Return what each task must wait for because that one says so."""
    found: dict[str, tuple[str, ...]] = {}
    for name, task in stated.items():
        for other in task.before:
            found[other] = (*found.get(other, ()), name)
    return found


def _work(
    build: Build,
    name: str,
    derived: Derived | None,
    stated: Task | None,
    waits: Mapping[str, tuple[str, ...]],
    names: list[str],
) -> Work:
    """Return one task: what is stated over what follows from the van."""
    task = stated or Task()
    base = derived or Derived(name, name.replace("-", " "), Skill.fitter, Stage.in_service)
    after = (*sorted(base.after, key=names.index), *task.after, *waits.get(name, ()))
    past = derived is not None and build.header.stage is not base.upto
    return Work(
        name,
        task.title or base.title,
        task.skill or base.skill,
        base.minutes if task.hours is None else minutes(task.hours),
        task.hands,
        tuple(dict.fromkeys(one for one in after if one in names and one != name)),
        (*base.fits, *(thing for thing in task.fits if thing in build.components)),
        base.runs,
        base.hold,
        derived is not None,
        task.earliest,
        task.who or "",
        task.done is not None or (past and build.header.stage.reached(base.upto)),
    )


def _before_hand_over(works: list[Work]) -> tuple[Work, ...]:
    """Let hand-over wait for every task for which nothing else waits."""
    waited = {name for one in works for name in one.after}
    loose = tuple(one.name for one in works if one.name not in waited and one.name != HAND_OVER)
    return tuple(
        one._replace(after=(*one.after, *(n for n in loose if n not in one.after)))
        if one.name == HAND_OVER
        else one
        for one in works
    )


def _problems(
    build: Build, stated: Mapping[str, Task], derived: Mapping[str, Derived]
) -> tuple[Problem, ...]:
    known = {*stated, *derived}
    found: list[Problem] = []
    for name, task in stated.items():
        for key, names, among, what in (
            ("after", task.after, known, "task"),
            ("before", task.before, known, "task"),
            ("fits", task.fits, set(build.components), "component"),
        ):
            for index, one in enumerate(names):
                if one not in among:
                    node = at(build.tree, ("works", "tasks", name, key, index))
                    found.append(
                        Problem(
                            node.place if node else None,
                            f"`{key}` of task `{name}` names no {what}",
                            one,
                            f"the id of a {what}",
                            nearest_word(one, among),
                        )
                    )
    return tuple(found)


def _circle(build: Build, circle: Circle) -> Problem:
    names = [name for name in circle.names if name in build.header.works.tasks]
    node = at(build.tree, ("works", "tasks", names[0])) if names else None
    return Problem(
        node.place if node else None,
        f"tasks wait for each other: {' waits for '.join(circle.names)}",
        remedy="take one of these out of `after` or `before`",
    )


def bookings(plan: Plan) -> tuple[Booking, ...]:
    """Return the visits of licensed people by the earliest dates, in order of days."""
    found: list[Booking] = []
    for skill in BOOKED:
        mine = [p for p in plan.tasks if p.work.skill is skill and not p.work.done and p.work.duration]
        visit: list[Planned] = []
        for one in sorted(mine, key=lambda p: (p.times.earliest_start, p.work.name)):
            if visit and not _near(
                plan, max(v.times.earliest_finish for v in visit), one.times.earliest_start
            ):
                found.append(_booking(skill, visit))
                visit = []
            visit.append(one)
        if visit:
            found.append(_booking(skill, visit))
    return tuple(sorted(found, key=lambda b: (b.start or date.min, BOOKED.index(b.skill))))


def _near(plan: Plan, end: int, start: int) -> bool:
    """Tell whether work that begins follows on within the same or the next working day."""
    return start // plan.per_day - max(end - 1, 0) // plan.per_day <= 1


def _booking(skill: Skill, visit: list[Planned]) -> Booking:
    starts = [one.starts for one in visit if one.starts]
    ends = [one.ends for one in visit if one.ends]
    return Booking(skill, min(starts, default=None), max(ends, default=None),
                   tuple(one.work.name for one in visit))  # fmt: skip
