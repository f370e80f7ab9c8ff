"""The workshop's page on the works: plan with its bars, whom to book, bill of parts, cost."""

from __future__ import annotations

from datetime import date

from specreg.model.field import Reader
from specreg.output.ordering import decimal_words, lead_time_words
from specreg.output.planning import hours_words
from specreg.pages.chart_bars import Bar, Part, barred
from specreg.pages.charted import chart_of, folded
from specreg.pages.charts import Axis, Drawn, Key, ticks
from specreg.pages.content import (
    Block,
    Entries,
    Entry,
    Fold,
    Listing,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.quotation import quotation_page
from specreg.pages.van import Van
from specreg.works.bill import Bill, Line, bill_of
from specreg.works.cost import Cost, cost_of
from specreg.works.money import Money
from specreg.works.plan import Plan, Planned, plan_of

MINUTES = 60


def works_pages(van: Van) -> tuple[Page, ...]:
    """Return the client's quotation for whoever may see it, and the works for the workshop."""
    quoted = quotation_page(van)
    own = (works_page(van),) if van.reader is Reader.workshop else ()
    return (*((quoted,) if quoted else ()), *own)


def works_page(van: Van) -> Page:
    """Return the page; it is composed for the workshop's edition alone."""
    plan, _ = plan_of(van.build)
    bill = bill_of(van.facts)
    blocks: list[Block] = []
    if plan is None:
        blocks.append(Paragraph(cell(van.texts("works.circle"))))
    else:
        blocks += [_planned(van, plan), *_booked(van, plan), _cost(van, bill, plan)]
    blocks.append(_bill(van, bill, plan))
    return Page("works", van.texts("page.works"), van.texts("works.lead"), tuple(blocks))


def _planned(van: Van, plan: Plan) -> Section:
    note = van.texts("works.plan_note" if plan.calendar else "works.no_days")
    hours = van.texts("works.hours_of", hours=hours_words(plan.minutes))
    items = [Entry(van.texts("works.length"), cell(hours))]
    for name, day in (("ends", plan.ends), ("due", plan.due)):
        if day is not None:
            items.append(Entry(van.texts(f"works.{name}"), cell(day.isoformat())))
    blocks: list[Block] = [Entries(tuple(items), large=True), Paragraph(cell(note), small=True)]
    shown = [one for one in plan.tasks if one.work.duration]
    if shown:
        blocks.append(_chart(van, plan, shown))
    blocks.append(folded(van, _tasks(van, plan)))
    if plan.assumptions:
        blocks.append(Fold(van.texts("works.assumed"), (Listing(tuple(map(cell, plan.assumptions))),)))
    return Section("plan", van.texts("works.plan"), tuple(blocks))


def _chart(van: Van, plan: Plan, shown: list[Planned]) -> Block:
    days = plan.calendar is not None
    title = van.texts("works.chart" if days else "works.chart_hours")
    told = [f"{one.work.title}, {_figure(van, one)}" for one in shown]
    return chart_of(van, "bars", title, _drawn(van, plan, shown), told, van.texts("works.chart_computed"))


def _drawn(van: Van, plan: Plan, shown: list[Planned]) -> Drawn:
    """Return a bar for each task from its earliest start to its earliest finish, and its float as a line."""
    unit = plan.per_day if plan.calendar else MINUTES
    words = (
        van.texts("works.axis", day=plan.calendar.first.isoformat())
        if plan.calendar
        else van.texts("works.axis_hours")
    )
    axis = Axis(words, ticks(0.0, plan.minutes / unit))
    bars = [_bar(van, one, unit) for one in shown]
    keys = [Key("bar", van.texts("works.key_critical")), Key("hatch", van.texts("works.key_free"))]
    keys.append(Key("outline", van.texts("works.key_float")))
    return barred(axis, bars, keys[: 2 + any(len(bar.parts) > 1 for bar in bars)])


def _bar(van: Van, one: Planned, unit: int) -> Bar:
    times = one.times
    start, finish, latest = (
        t / unit for t in (times.earliest_start, times.earliest_finish, times.latest_finish)
    )
    parts = [Part("bar" if times.critical else "hatch", start, finish)]
    if times.total_float:
        parts.append(Part("outline", finish, latest))
    return Bar(one.work.title, _figure(van, one), tuple(parts))


def _figure(van: Van, one: Planned) -> str:
    if one.starts is None or one.ends is None:
        return van.texts("works.bar_hours", hours=hours_words(one.work.duration))
    if one.starts == one.ends:
        return one.starts.strftime("%m-%d")
    return van.texts("works.bar", start=one.starts.strftime("%m-%d"), end=one.ends.strftime("%m-%d"))


def _tasks(van: Van, plan: Plan) -> Table:
    names = ("task", "skill", "who", "hours", "starts", "ends", "float")
    rows = tuple(Row(tuple(map(cell, _task(one)))) for one in plan.tasks)
    return Table(van.texts("works.tasks"), _columns(van, names), rows)


def _columns(van: Van, names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(van.texts(f"works.column.{name}") for name in names)


def _task(one: Planned) -> tuple[str, ...]:
    work = one.work
    hours = "" if work.hold else hours_words(work.minutes)
    return (work.title, work.skill.value, work.who, hours, _day(one.starts), _day(one.ends),
            f"{hours_words(one.times.total_float)} h")  # fmt: skip


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _booked(van: Van, plan: Plan) -> list[Section]:
    if not plan.bookings:
        return []
    titles = {one.work.name: one.work.title for one in plan.tasks}
    rows = []
    for one in plan.bookings:
        days = " – ".join(dict.fromkeys((_day(one.start), _day(one.end))))
        what = "; ".join(titles[name] for name in one.tasks)
        rows.append(Row((cell(one.skill.value, strong=True), cell(days), cell(what))))
    table = Table(van.texts("works.book_caption"), _columns(van, ("who", "days", "for")), tuple(rows))
    return [Section("book", van.texts("works.book"), (table,))]


def _cost(van: Van, bill: Bill, plan: Plan) -> Section:
    cost = cost_of(bill, plan, van.build.header.works)
    rate = van.build.header.works.rate
    key = "works.labour_cost" if cost.labour else "works.labour_unknown"
    labour = van.texts(key, hours=hours_words(cost.minutes), rate=rate)
    items = (
        Entry(van.texts("works.parts_cost"), cell(_sums(van, cost.parts))),
        Entry(labour, cell(_sums(van, (cost.labour,) if cost.labour else ()))),
        Entry(van.texts("works.total"), cell(_sums(van, cost.total), strong=True)),
        Entry(van.texts("works.sale"), cell(_sums(van, cost.sale))),
        Entry(van.texts("works.margin"), cell(_sums(van, cost.margin))),
    )
    return Section("cost", van.texts("works.cost"), (Entries(items), *_unpriced(van, bill, cost)))


def _sums(van: Van, amounts: tuple[Money, ...]) -> str:
    return " + ".join(map(str, amounts)) or van.texts("works.none")


def _unpriced(van: Van, bill: Bill, cost: Cost) -> list[Block]:
    count = sum(line.cost is None for line in bill.lines)
    said = van.texts("works.unpriced", count=count, all=len(bill.lines))
    return [Paragraph(cell(said))] if cost.unpriced else []


def _bill(van: Van, bill: Bill, plan: Plan | None) -> Section:
    names = ("part", "number", "state", "price", "sum", "supplier", "needed", "order_by")
    lines = sorted(bill.lines, key=lambda one: (one.supplier or "\uffff", one.item))
    rows = tuple(Row(tuple(map(cell, _line(one, plan)))) for one in lines)
    blocks: list[Block] = [Table(van.texts("works.bill_caption"), _columns(van, names), rows, findable=True)]
    if bill.assumptions:
        blocks.append(Fold(van.texts("works.assumed"), (Listing(tuple(map(cell, bill.assumptions))),)))
    return Section("bill", van.texts("works.bill"), tuple(blocks))


def _line(one: Line, plan: Plan | None) -> tuple[str, ...]:
    needed = _needed(one, plan)
    by = plan.calendar.order_day(needed, one.lead_time) if plan and plan.calendar and needed else None
    waiting = one.state.value in ("to order", "ordered")
    lead = lead_time_words(one.lead_time)
    supplier = f"{one.supplier}, {lead}" if one.supplier and lead else one.supplier
    number = decimal_words(one.number) + (f" {one.unit}" if one.unit else "")
    days = (_day(needed), _day(by)) if waiting else ("", "")
    return one.item, number, one.state.value, str(one.price or ""), str(one.cost or ""), supplier, *days


def _needed(one: Line, plan: Plan | None) -> date | None:
    found = plan.needed() if plan else {}
    return min((found[thing] for thing in one.things if thing in found), default=None)
