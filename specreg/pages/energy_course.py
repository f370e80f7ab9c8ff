"""The state of charge over a trip, hour by hour in each month, and the year month by month."""

from __future__ import annotations

from math import ceil
from typing import Any, NamedTuple

from specreg.facts.axes import cases
from specreg.facts.engine import Fact
from specreg.facts.registry import Axis as Cases
from specreg.facts.value_type import number
from specreg.model.solar import SolarPanel
from specreg.pages.chart_bars import Bar, Part, barred
from specreg.pages.chart_lines import Curve, Level, lined
from specreg.pages.charted import chart_of, folded, not_drawn
from specreg.pages.charts import Axis, Drawn, Key, Point, measure, ticks
from specreg.pages.content import (
    Block,
    Cell,
    Entries,
    Entry,
    Figure,
    Fold,
    Known,
    Paragraph,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.figures import of_whole, without_assumptions
from specreg.pages.van import Van
from specreg.units import Dimension

SHARE, ENERGY = number(Dimension.share), number(Dimension.energy)
ARRIVAL, DAY = 18, 24
FINEST = 160
"""A line has at most about so many points; a longer trip has one for several hours."""
HALF_DAY, ROWS = 12, 12
"""A table of a month tells evening and morning; a longer trip has so many rows, further apart."""
ALL = 100.0
UNMET = ("unmet_on_trip", "unmet_in_a_poor_week")


class Month(NamedTuple):
    """The trip in one month: its number, and the state of charge by hour in both suns."""

    number: str
    mean: Fact
    poor: Fact

    @property
    def lowest(self) -> tuple[float, float]:
        """Return how low it comes and, among equals, how low it is on the whole."""
        hours = [hour for one in (self.mean, self.poor) if one.known for hour in one.value]
        return min(hours), sum(hours)


def percent(van: Van, share: float) -> str:
    """Return a share in whole percents."""
    return van.value(round(share, 2), SHARE)


def month_name(van: Van, month: object) -> str:
    """Return the name of a month by its number."""
    return van.texts(f"energy.named.{month}")


def courses(van: Van) -> list[Fact]:
    """Return the state of charge over the trip in every month and both suns."""
    return [
        of_whole(van, name, case)
        for case in cases(Cases.month, van.facts)
        for name in ("state_of_charge_on_trip", "state_of_charge_in_a_poor_week")
    ]


def trip_section(van: Van) -> Section:
    """Return the trip in each month, the one in which the battery is lowest first."""
    nights = van.build.header.use.nights_off_grid
    title = (
        van.texts("energy.trip.untold")
        if nights is None
        else van.texts("energy.trip.title", nights=f"{nights:g}")
    )
    months = [
        Month(
            str(case),
            of_whole(van, "state_of_charge_on_trip", case),
            of_whole(van, "state_of_charge_in_a_poor_week", case),
        )
        for case in cases(Cases.month, van.facts)
    ]
    kept, known = of_whole(van, "charge_kept"), [month for month in months if month.mean.known]
    if not known or not kept.known:
        lacking = months[0].mean if months and not known else kept
        if not months:
            lacking = of_whole(van, "year_without_shore")
        return Section("trip", title, (not_drawn(van, title, lacking),))
    first, *others = [_month(van, month, kept.value) for month in _different(known)]
    rest = tuple(block for blocks in others for block in blocks)
    fold = [Fold(van.texts("energy.trip.others", count=len(others)), rest)] if rest else []
    note = Paragraph(cell(_note(van, several=bool(rest))), small=True)
    return Section("trip", title, (note, *first, *fold, _months(van, known)))


def _note(van: Van, *, several: bool) -> str:
    note = van.texts("energy.trip.note")
    return f"{note} {van.texts('energy.trip.first')}" if several else note


def _different(months: list[Month]) -> list[Month]:
    """Return the months, the lowest first; where all are alike, one that stands for all and has no number."""
    first = months[0]
    courses_of = {(month.mean.value, month.poor.value) for month in months}
    if len(months) > 1 and len(courses_of) == 1:
        return [first._replace(number="")]
    return sorted(months, key=lambda month: month.lowest)


def _month(van: Van, month: Month, kept: float) -> list[Block]:
    words = "chart" if month.number else "every_month"
    title = van.texts(f"energy.trip.{words}", month=month_name(van, month.number) if month.number else "")
    curves = curves_of(van, month)
    level = Level(van.texts("energy.trip.reserve", share=percent(van, kept)), kept * ALL)
    told = [*(curve.words for curve in curves), level.words]
    drawn = charge_chart(van, curves, level)
    beside = van.texts("energy.trip.beside")
    blocks: list[Block] = [chart_of(van, f"chart-trip-{month.number or 'all'}", title, drawn, told, beside)]
    if not month.poor.known:
        blocks.append(not_drawn(van, van.texts("energy.trip.poor_column"), month.poor))
    return [*blocks, folded(van, _hours(van, title, month))]


def curves_of(van: Van, month: Month) -> list[Curve]:
    """Return the lines of a month: one where both suns come to the same, as without panels."""
    if month.poor.known and month.poor.value == month.mean.value:
        return [_curve(van, "alike" if van.of(SolarPanel) else "sunless", "solid", month.mean.value)]
    curves = [_curve(van, "mean", "dashed", month.mean.value)]
    return curves + ([_curve(van, "poor", "solid", month.poor.value)] if month.poor.known else [])


def _curve(van: Van, words: str, style: str, hours: tuple[float, ...]) -> Curve:
    every = ceil(len(hours) / FINEST)
    points: tuple[Point, ...] = tuple((n / DAY, hours[n] * ALL) for n in range(0, len(hours), every))
    return Curve(van.texts(f"energy.trip.{words}", least=percent(van, min(hours))), style, points)


def charge_chart(van: Van, curves: list[Curve], level: Level) -> Drawn:
    """Return the lines over the nights, from nothing to full, with the reserve."""
    nights = max(x for curve in curves for x, _ in curve.points)
    x = Axis(van.texts("energy.trip.across"), ticks(0, nights))
    return lined(x, Axis(van.texts("energy.trip.upright"), ticks(0, ALL)), curves, levels=(level,))


def _hours(van: Van, title: str, month: Month) -> Table:
    count = len(month.mean.value)
    every = HALF_DAY * ceil(count / (HALF_DAY * ROWS))
    shown = [month.mean, *([month.poor] if month.poor.known else [])]
    rows = tuple(
        Row((cell(_clock(van, hour)), *(cell(percent(van, one.value[hour])) for one in shown)))
        for hour in range(0, count, every)
    )
    names = ("time", "mean_column", "poor_column")[: 1 + len(shown)]
    columns = tuple(van.texts(f"energy.trip.{name}") for name in names)
    return Table(van.texts("energy.trip.caption", title=title), columns, rows, tight=True)


def _clock(van: Van, hour: int) -> str:
    day, clock = divmod(hour + ARRIVAL, DAY)
    return van.texts("energy.trip.clock", day=day + 1, hour=clock)


def _months(van: Van, months: list[Month]) -> Fold:
    names = ("month", "least_mean", "least_poor", "unmet_mean", "unmet_poor")
    columns = tuple(van.texts(f"energy.trip.{name}") for name in names)
    rows = tuple(
        Row(
            (
                cell(month_name(van, month.number), strong=True),
                _least(van, month.mean),
                _least(van, month.poor),
                *(without_assumptions(van.fact("", name, month.number)) for name in UNMET),
            )
        )
        for month in months
    )
    table = Table(van.texts("energy.trip.months_caption"), columns, rows)
    return Fold(van.texts("energy.trip.months"), (table,))


def _least(van: Van, fact: Fact) -> Cell:
    return cell(percent(van, min(fact.value))) if fact.known else van.told(fact)


def year_section(van: Van) -> Section:
    """Return the year standing and as used: energy met and wanting in each month."""
    blocks: list[Block] = [Paragraph(cell(van.texts("energy.year.note")), small=True)]
    for name in ("without_shore", "as_used"):
        blocks += _year(van, name, of_whole(van, f"year_{name}"))
    return Section("year", van.texts("energy.year.title"), tuple(blocks))


def _year(van: Van, name: str, found: Fact) -> list[Block]:
    sunless = name == "without_shore" and not van.of(SolarPanel)
    title = van.texts(f"energy.year.{'without_panels' if sunless else name}")
    if not found.known:
        return [not_drawn(van, title, found)]
    months = [month for month in found.value if month.asked > 0]
    if not months:
        return []
    told = [f"{month_name(van, m.month)} {met_words(van, m)}" for m in months]
    beside = van.texts("energy.year.beside")
    heading = van.texts("energy.year.months", title=title)
    chart = chart_of(van, f"chart-{name.replace('_', '-')}", heading, year_chart(van, months), told, beside)
    return [_shares(van, name, title), chart, folded(van, _year_table(van, months))]


def _shares(van: Van, name: str, title: str) -> Entries:
    least, most = of_whole(van, f"least_met_{name}"), of_whole(van, f"most_met_{name}")
    if not least.known:
        return Entries((Entry(title, van.told(least)),))
    words = van.texts("energy.year.share", share=met_percent(van, least.value))
    remark = (
        van.texts("energy.year.at_most", share=met_percent(van, most.value))
        if most.known and met_percent(van, most.value) != met_percent(van, least.value)
        else ""
    )
    return Entries((Entry(title, (Figure(words, Known.computed),), remark),), large=True)


def met_percent(van: Van, share: float) -> str:
    """Return a share that is met in whole percents; all of it only where nothing is wanting."""
    return percent(van, 1.0 if share >= 1 - 1e-9 else min(share, 0.99) if share > 0.99 else share)


def met_words(van: Van, month: Any) -> str:
    """Return the share of a month's energy that is met."""
    return van.texts("energy.year.met_of", share=met_percent(van, 1 - month.unmet / month.asked))


def year_chart(van: Van, months: list[Any]) -> Drawn:
    """Return for each month the energy that is met and, hatched, what is wanting."""
    greatest = max(month.asked for month in months)
    unit = measure(Dimension.energy, van.units, greatest)
    axis = Axis(van.texts("energy.year.across", unit=unit.unit), ticks(0, unit.number(greatest)))
    bars = []
    for month in months:
        met, asked = unit.number(month.asked - month.unmet), unit.number(month.asked)
        parts = (Part("bar", 0, met), Part("hatch", met, asked))
        bars.append(Bar(month_name(van, month.month), met_words(van, month), parts))
    keys = (Key("bar", van.texts("energy.year.met")), Key("hatch", van.texts("energy.year.unmet")))
    return barred(axis, bars, keys if any(month.unmet > 0 for month in months) else keys[:1])


def _year_table(van: Van, months: list[Any]) -> Table:
    names = ("asked", "offered", "missing", "turned_away")
    fields = ("asked", "offered", "unmet", "turned_away")
    columns = tuple(van.texts(f"energy.year.{name}") for name in ("month", *names, "least"))
    rows = tuple(
        Row(
            (
                cell(month_name(van, month.month), strong=True),
                *(cell(_joules(van, getattr(month, field))) for field in fields),
                cell(percent(van, month.least_charge)),
            )
        )
        for month in months
    )
    return Table(van.texts("energy.year.caption"), columns, rows)


def _joules(van: Van, energy: float) -> str:
    """Return an energy in words; what rounding left of nothing is nothing."""
    return van.value(energy if abs(energy) >= 1 else 0.0, ENERGY)
