"""The plan of a van: what follows from its graph, what is stated, days, bookings, shared hands."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from building import read
from hypothesis import given
from hypothesis import strategies as st
from works_van import SMALL, STARTS, small

from specreg.facts.engine import Facts
from specreg.model.works import Skill
from specreg.works.calendar import Calendar
from specreg.works.cpm import critical_path
from specreg.works.hands import first_free, shared_schedule
from specreg.works.ordering import order_of
from specreg.works.plan import Plan, activities, plan_of, works_of
from specreg.workshop import load


def planned(more: str = "", stage: str = "design", on: date | None = None) -> Plan:
    """The plan of the small van."""
    plan, problems = plan_of(small(more, stage), on)
    assert plan is not None, problems
    assert problems == ()
    return plan


def waits(plan: Plan, late: str, early: str) -> bool:
    """Whether a task begins only when another is finished, by any way."""
    after = {one.work.name: one.work.after for one in plan.tasks}
    seen, left = set(), [late]
    while left:
        for name in after[left.pop()]:
            if name not in seen:
                seen.add(name)
                left.append(name)
    return early in seen


ORDER = [
    ("panels-close", "first-fix-dc"),
    ("linings", "panels-close"),
    ("furniture", "linings"),
    ("second-fix-dc", "first-fix-dc"),
    ("energise", "second-fix-dc"),
    ("commission-electrics", "energise"),
    ("hand-over", "commission-electrics"),
    ("hand-over", "weighing"),
]


@pytest.mark.parametrize(("late", "early"), ORDER)
def test_the_graph_gives_the_order(late: str, early: str) -> None:
    """First fix before the panels close over it, before second fix, before energising, before hand-over."""
    assert waits(planned(), late, early)


SAFE = [
    ("panels-close", "first-fix-gas"),
    ("energise", "test-mains"),
    ("gas-on", "test-gas"),
    ("test-gas", "second-fix-gas"),
    ("test-gas", "second-fix-heat"),
    ("commission-gas", "gas-on"),
    ("commission-gas", "energise"),
    ("test-water", "second-fix-waste"),
    ("hand-over", "sign-seats"),
    ("hand-over", "trial-night"),
    ("furniture", "make-drying-locker"),
]


@pytest.fixture(scope="module")
def fieldwork() -> Plan:
    """The plan of a demonstration van with mains and gas."""
    (build,) = load("builds/fieldwork").sound
    plan, problems = plan_of(build)
    assert plan is not None and problems == ()
    return plan


@pytest.mark.parametrize(("late", "early"), SAFE)
def test_tests_come_before_what_they_let_go_on(fieldwork: Plan, late: str, early: str) -> None:
    """Dead tests before energising, tightness before gas, sign-offs before hand-over."""
    assert waits(fieldwork, late, early)


def test_a_run_that_is_not_hidden_holds_up_no_panel() -> None:
    """Where every run is stated to stay open, panels do not wait for the first fix."""
    build = small()
    runs = {name: run.model_copy(update={"hidden": False}) for name, run in build.runs.items()}
    plan, _ = plan_of(replace(build, runs=runs))
    assert plan is not None
    assert not waits(plan, "panels-close", "first-fix-dc")
    assert waits(planned(), "panels-close", "first-fix-dc")


def test_a_stated_task_says_more_about_a_derived_one() -> None:
    """Hours and skill are those stated; what it waited for stays."""
    plan = planned("works: {tasks: {linings: {hours: 12 h, skill: fitter, hands: 2}}}\n")
    work = next(one.work for one in plan.tasks if one.work.name == "linings")
    assert (work.minutes, work.duration, work.skill) == (720, 360, Skill.fitter)
    assert "panels-close" in work.after


def test_what_a_stated_task_fits_is_taken_out_of_the_derived_one() -> None:
    """Each component is fitted by one task."""
    plan = planned("works: {tasks: {hang-fan: {hours: 2 h, fits: [fan]}}}\n")
    fitted = [thing for one in plan.tasks for thing in one.work.fits]
    assert sorted(fitted) == sorted(set(fitted))
    assert "fan" in next(one.work.fits for one in plan.tasks if one.work.name == "hang-fan")


@pytest.mark.parametrize(
    ("tasks", "said"),
    [
        (
            "{paint: {after: [lining]}}",
            'names no task: read "lining", expected the id of a task, nearest is "linings"',
        ),
        (
            "{paint: {fits: [fann]}}",
            'names no component: read "fann", expected the id of a component, nearest is "fan"',
        ),
        ("{a: {after: [b]}, b: {after: [a]}}", "tasks wait for each other"),
        ("{early: {after: [hand-over], before: [linings]}}", "tasks wait for each other"),
    ],
)
def test_a_slip_in_a_task_is_told(tasks: str, said: str) -> None:
    """With its place and the nearest right word."""
    _, problems = plan_of(small(f"works: {{tasks: {tasks}}}\n"))
    assert len(problems) == 1
    assert said in problems[0].text()
    assert problems[0].place is not None


def test_days_are_working_days() -> None:
    """No task begins or ends on a week-end or a closed day, and none before the first day."""
    plan = planned("works: {starts: 2026-02-27, closed: [2026-03-03]}\n")
    days = [day for one in plan.tasks for day in (one.starts, one.ends, one.latest_start, one.latest_end)]
    assert all(day is not None and day.weekday() < 5 and day != date(2026, 3, 3) for day in days)
    assert min(day for day in days if day) == date(2026, 2, 27)


def test_a_task_waits_for_its_day() -> None:
    """`earliest` moves it and what follows."""
    plan = planned("works: {starts: 2026-03-02, tasks: {linings: {earliest: 2026-04-13}}}\n")
    starts = {one.work.name: one.starts for one in plan.tasks}
    assert starts["linings"] == date(2026, 4, 13)
    assert (starts["furniture"] or date.min) >= date(2026, 4, 13)


def test_what_is_done_is_left_behind() -> None:
    """From a day on only the rest is planned, and nothing is needed for what is done."""
    plan = planned(STARTS, "energise", date(2026, 5, 4))
    done = {one.work.name for one in plan.tasks if one.work.done}
    assert {"first-fix-dc", "panels-close"} <= done
    assert "energise" not in done
    assert plan.minutes < planned(STARTS).minutes
    assert all(one.starts is None or one.starts >= date(2026, 5, 4) for one in plan.tasks)


def test_licensed_people_are_booked(fieldwork: Plan) -> None:
    """Every task of a licensed person lies within one visit of that person."""
    for one in fieldwork.tasks:
        if one.work.skill in (Skill.electrician, Skill.gas_engineer) and one.work.duration:
            visits = [b for b in fieldwork.bookings if b.skill is one.work.skill and one.work.name in b.tasks]
            assert len(visits) == 1
            assert visits[0].start is not None and visits[0].end is not None
            assert one.starts is not None and one.ends is not None
            assert visits[0].start <= one.starts <= one.ends <= visits[0].end


@given(st.integers(0, 20_000), st.integers(1, 3000), st.sets(st.integers(0, 60), max_size=20))
def test_a_calendar_counts_working_time(start: int, duration: int, closed: set[int]) -> None:
    """Between the first and the last day of a task lie as many working days as its minutes need."""
    first = date(2026, 1, 5)
    calendar = Calendar(first, 450, frozenset(range(5)), frozenset(first + timedelta(days=n) for n in closed))
    begins, ends = calendar.span(start, start + duration)
    assert begins is not None and ends is not None
    days = [d for n in range((ends - begins).days + 1) if calendar.works(d := begins + timedelta(days=n))]
    assert days[0] == begins and days[-1] == ends
    assert len(days) == (start + duration - 1) // 450 - start // 450 + 1
    assert calendar.minute_of(begins) <= start < calendar.minute_of(begins) + 450


def two_vans(hands: str) -> tuple[list[Plan], list[tuple[str, int, int, int, Skill]]]:
    """Two equal vans on some hands: their plans, and where each task was placed."""
    first = small(f"works: {{starts: 2026-03-02, hands: {hands}}}\n")
    works = first.header.works.model_copy(update={"priority": 2})
    second = replace(first, header=first.header.model_copy(update={"build": "later", "works": works}))
    plans = {one.name: plan_of(one)[0] for one in (second, first)}
    sound = {name: plan for name, plan in plans.items() if plan is not None}
    shared = shared_schedule([second, first], sound)
    placed = [(p.build, p.start, p.finish, p.work.hands, p.work.skill) for p in shared.placed]
    return list(sound.values()), placed


def test_no_more_hands_are_used_than_there_are() -> None:
    """At every moment at which a task begins, the hands at work are within those stated."""
    _, placed = two_vans("{fitter: 1, joiner: 1}")
    for skill in (Skill.fitter, Skill.joiner):
        mine = [p for p in placed if p[4] is skill and p[2] > p[1]]
        assert mine
        for _, moment, *_ in mine:
            assert sum(n for _, a, b, n, _ in mine if a <= moment < b) <= 1


def test_the_van_with_priority_goes_as_if_alone() -> None:
    """With hands enough for one van at its critical path, the first is not held up; the second waits."""
    plans, placed = two_vans("{fitter: 1, joiner: 1}")
    ends = {name: max(b for n, _, b, _, _ in placed if n == name) for name in ("test", "later")}
    alone = {one.build: one.minutes for one in plans}
    assert ends["later"] > ends["test"] >= alone["test"]


def test_hands_without_end_give_the_critical_path() -> None:
    """Where nobody is short, the shared schedule is each van's own."""
    plans, placed = two_vans("{}")
    assert {name: max(b for n, _, b, _, _ in placed if n == name) for name in ("test", "later")} == {
        one.build: one.minutes for one in plans
    }


def test_dependencies_hold_in_a_shared_schedule() -> None:
    """No task begins before all that it waits for is finished."""
    build = small("works: {starts: 2026-03-02, hands: {fitter: 1}}\n")
    plan, _ = plan_of(build)
    assert plan is not None
    placed = {p.work.name: p for p in shared_schedule([build, build], {"test": plan}).placed}
    works, _, _ = works_of(build)
    assert all(placed[one.name].start >= placed[early].finish for one in works for early in one.after)
    assert critical_path(activities(works, plan.calendar)).keys() == placed.keys()


@given(
    st.lists(st.tuples(st.integers(0, 50), st.integers(1, 20), st.integers(1, 3)), max_size=8),
    st.integers(1, 3),
)
def test_the_first_free_time_is_free_and_first(wanted: list[tuple[int, int, int]], there: int) -> None:
    """Against trying every minute."""
    taken: list[tuple[int, int, int]] = []
    for ready, duration, need in wanted:
        hands = min(need, there)

        def fits(start: int, duration: int = duration, hands: int = hands) -> bool:
            return all(
                sum(n for a, b, n in taken if a <= moment < b) + hands <= there
                for moment in range(start, start + duration)
            )

        start = first_free(taken, ready, duration, hands, there)
        assert start == next(minute for minute in range(ready, 2000) if fits(minute))
        taken.append((start, start + duration, hands))


def test_demonstration_vans_have_a_plan() -> None:
    """Every van of the register can be planned, and every task comes after what it waits for."""
    for build in load("builds").sound:
        plan, problems = plan_of(build)
        assert plan is not None and problems == ()
        at = {one.work.name: one.times for one in plan.tasks}
        assert all(
            at[n].earliest_finish <= at[o.work.name].earliest_start for o in plan.tasks for n in o.work.after
        )
        critical = [at[name] for name in plan.critical]
        assert critical and critical[-1].earliest_finish == plan.minutes
        assert all(a.earliest_start <= b.earliest_start for a, b in pairwise(critical))


@pytest.mark.parametrize(
    "works",
    [
        "hands: {fitter: 0}",
        "hours_per_day: 0 h",
        "tasks: {paint: {hours: -2 h}}",
        "tasks: {paint: {hands: 0}}",
        "working_days: []",
        "rate: forty",
        "tasks: {paint: {skill: wizard}}",
    ],
)
def test_works_that_cannot_be_are_refused(works: str) -> None:
    """With a problem at their place, never with a traceback."""
    _, problems = read(SMALL + f"works: {{{works}}}\n")
    assert len(problems) == 1
    assert problems[0].place is not None


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-30"])
def test_days_at_the_ends_of_the_calendar(day: str) -> None:
    """A slip in a year gives odd days or none, and no traceback."""
    text = f"works: {{starts: {day}, closed: [2026-01-01], materials: {{cable 16 mm²: {{lead_time: 90 years}}}}}}\n"
    plan, problems = plan_of(small(text))
    assert plan is not None and problems == ()
    order = order_of([Facts(small(text))])
    assert (
        any(one.lead_time and one.order_by is None for one in order.lines if one.item == "cable 16 mm²")
        or day > "9"
    )
