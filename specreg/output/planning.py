"""Plans of works: as text, as one table for spreadsheets, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from specreg import __version__
from specreg.output.rows import as_csv, in_columns, visible
from specreg.output.shape import FORMAT
from specreg.output.style import Style
from specreg.works.hands import Placed, Shared
from specreg.works.plan import Booking, Plan, Planned

SHOWN = ("task", "what", "skill", "hours", "starts", "ends", "float", "after")
COLUMNS = (
    *("build", "task", "title", "skill", "who", "hours", "hands", "after", "starts", "ends"),
    *("latest start", "latest end", "total float h", "free float h", "critical", "done", "derived", "fits"),
)
METHOD = (
    "Vans share hands by a serial schedule: vans by priority, tasks by their latest start, each at the first "
    "time at which hands are free; nothing placed is moved again."
)


@dataclass(frozen=True)
class Plans:
    """The plans of one or more vans, and the schedule on shared hands where there is more than one."""

    plans: tuple[Plan, ...]
    shared: Shared | None = None


def plans_text(plans: Plans, style: Style) -> str:
    """Return each van's plan, then the schedule that shares hands."""
    parts = [plan_text(one, style) for one in plans.plans]
    return "\n".join([*parts, *([_shared_text(plans.shared, style)] if plans.shared else [])])


def plan_text(plan: Plan, style: Style) -> str:
    """Return a plan in columns, with the critical path, whom to book, and what was taken for granted."""
    parts = [
        style.tint(f"Plan of works: {plan.build}, {plan.title}", "title"),
        _span(plan),
        "\n".join(_columns(SHOWN, [_shown(plan, one) for one in plan.tasks])),
        style.wrap(f"None of these may slip: {', '.join(plan.critical)}.")
        if plan.critical
        else "All is done.",
    ]
    if plan.bookings:
        parts.append("\n".join(["To book:", *(f"    {_booked(plan, one)}" for one in plan.bookings)]))
    if plan.assumptions:
        parts.append("\n".join(f"Taken for granted: {text}." for text in plan.assumptions))
    return "\n\n".join(parts) + "\n"


def _span(plan: Plan) -> str:
    hours = f"{hours_words(plan.minutes)} h of work on the longest way, days of {hours_words(plan.per_day)} h"
    if plan.calendar is None:
        return f"{hours}. No days: state `works: starts:`, or ask with --on."
    ends = plan.ends.isoformat() if plan.ends else "no day that could be found"
    late = plan.due is not None and plan.ends is not None and plan.ends > plan.due
    promised = (
        f", {'after' if late else 'promised for'} {'the promised ' if late else ''}{plan.due}"
        if plan.due
        else ""
    )
    return f"{hours}: from {plan.calendar.first} to {ends}{promised}."


def hours_words(minutes: int) -> str:
    """Return minutes as hours."""
    return f"{minutes / 60:.2f}".rstrip("0").rstrip(".")


def _columns(header: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    return [visible(line) for line in in_columns(header, rows)]


def _shown(plan: Plan, one: Planned) -> tuple[str, ...]:
    work, times = one.work, one.times
    slack = "critical" if times.critical else f"{hours_words(times.total_float)} h"
    hands = f" × {work.hands}" if work.hands > 1 else ""
    return (
        work.name,
        work.title,
        work.skill.value,
        "" if work.hold else f"{hours_words(-(-work.minutes // work.hands))}{hands}",
        _start(plan, one),
        _end(plan, one),
        "done" if work.done else slack,
        ", ".join(work.after),
    )


def _start(plan: Plan, one: Planned) -> str:
    if plan.calendar is None:
        return f"{hours_words(one.times.earliest_start)} h"
    return _day(one.starts) if not one.work.done else ""


def _end(plan: Plan, one: Planned) -> str:
    if plan.calendar is None:
        return f"{hours_words(one.times.earliest_finish)} h"
    return _day(one.ends) if not one.work.done else ""


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _booked(plan: Plan, one: Booking) -> str:
    days = f"{_day(one.start)} to {_day(one.end)}" if one.start != one.end else _day(one.start)
    return f"{one.skill.value}{f', {days}' if days else ''}: {', '.join(one.tasks)}"


def _shared_text(shared: Shared, style: Style) -> str:
    hands = ", ".join(f"{count} {skill.value}" for skill, count in shared.hands.items())
    header = ("build", "task", "skill", "starts", "ends")
    rows = [
        (one.build, one.work.name, one.work.skill.value, _day(one.starts), _day(one.ends))
        for one in _by_day(shared.placed)
    ]
    parts = [style.tint(f"All vans on the same hands: {hands or 'none stated'}", "title"), style.wrap(METHOD)]
    parts.append("\n".join(_columns(header, rows)))
    parts += [f"Taken for granted: {text}." for text in shared.assumptions]
    return "\n\n".join(parts) + "\n"


def _by_day(placed: Iterable[Placed]) -> list[Placed]:
    return sorted((one for one in placed if not one.work.done), key=lambda one: (one.start, one.finish))


def plans_csv(plans: Plans) -> str:
    """Return one table with every task of every van."""
    return as_csv(COLUMNS, [_row(plan, one) for plan in plans.plans for one in plan.tasks])


def _row(plan: Plan, one: Planned) -> tuple[str, ...]:
    work, times = one.work, one.times
    days = [_day(day) for day in (one.starts, one.ends, one.latest_start, one.latest_end)]
    yes = [("yes" if said else "no") for said in (times.critical, work.done, work.derived)]
    return (plan.build, work.name, work.title, work.skill.value, work.who, hours_words(work.minutes),
            str(work.hands), ", ".join(work.after), *days, hours_words(times.total_float),
            hours_words(times.free_float), *yes, ", ".join(work.fits))  # fmt: skip


def plans_data(plans: Plans) -> dict[str, Any]:
    """Return plans as plain data; times in minutes of work from the beginning of each plan."""
    return {
        "format": FORMAT,
        "specreg": __version__,
        "builds": [_plan_data(one) for one in plans.plans],
        "shared": _shared_data(plans.shared) if plans.shared else None,
    }


def _plan_data(plan: Plan) -> dict[str, Any]:
    return {
        "build": plan.build,
        "starts": _day(plan.calendar.first) if plan.calendar else None,
        "ends": _day(plan.ends) or None,
        "due": _day(plan.due) or None,
        "minutes": plan.minutes,
        "minutes_per_day": plan.per_day,
        "critical": list(plan.critical),
        "tasks": [_task_data(one) for one in plan.tasks],
        "bookings": [
            {
                "skill": b.skill.value,
                "start": _day(b.start) or None,
                "end": _day(b.end) or None,
                "tasks": list(b.tasks),
            }
            for b in plan.bookings
        ],
        "needed": {thing: day.isoformat() for thing, day in plan.needed().items()},
        "assumptions": list(plan.assumptions),
    }


def _task_data(one: Planned) -> dict[str, Any]:
    work, times = one.work, one.times
    days: Mapping[str, date | None] = {
        "starts": one.starts,
        "ends": one.ends,
        "latest_start_day": one.latest_start,
        "latest_end_day": one.latest_end,
    }
    return {
        "task": work.name,
        "title": work.title,
        "skill": work.skill.value,
        "who": work.who or None,
        "minutes": work.minutes,
        "hands": work.hands,
        "after": list(work.after),
        "fits": list(work.fits),
        "hold": work.hold,
        "derived": work.derived,
        "done": work.done,
        "earliest_start": times.earliest_start,
        "earliest_finish": times.earliest_finish,
        "latest_start": times.latest_start,
        "latest_finish": times.latest_finish,
        "total_float": times.total_float,
        "free_float": times.free_float,
        "critical": times.critical,
        **{name: _day(day) or None for name, day in days.items()},
    }


def _shared_data(shared: Shared) -> dict[str, Any]:
    placed = [
        {
            "build": one.build,
            "task": one.work.name,
            "skill": one.work.skill.value,
            "starts": _day(one.starts) or None,
            "ends": _day(one.ends) or None,
        }
        for one in shared.placed
    ]
    hands = {skill.value: count for skill, count in shared.hands.items()}
    return {"method": METHOD, "hands": hands, "tasks": placed, "assumptions": list(shared.assumptions)}
