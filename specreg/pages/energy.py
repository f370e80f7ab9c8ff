"""How long the batteries last: nights, the trip, the year, where the energy goes, what would change it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from specreg.facts.engine import Fact
from specreg.facts.nights import NIGHTS, NOT_MODELLED
from specreg.facts.value_type import number
from specreg.model.dc import Battery
from specreg.model.solar import SolarPanel
from specreg.pages.chart_bars import Bar, Part, barred
from specreg.pages.charted import chart_of, folded, not_drawn
from specreg.pages.charts import Axis, Drawn, Key, measure, ticks
from specreg.pages.content import (
    Block,
    Entries,
    Entry,
    Figure,
    Fold,
    Known,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    cell,
)
from specreg.pages.energy_course import courses, trip_section, year_section
from specreg.pages.figures import assumed, of_whole
from specreg.pages.van import Van
from specreg.units import Dimension

ENERGY = number(Dimension.energy)
SUNS = ("without_sun", "with_mean_sun", "in_a_poor_week")
OTHERS = ("year_without_shore", "year_as_used", "daily_energy_by_load", "what_would_change_nights")
"""The other facts that the page tells, besides the courses of a trip."""
GREATEST_LOADS = 10
"""As many loads have a bar of their own; the others have one together, and the table has each."""
STRONGEST = 8
"""As many things that change the nights are drawn; the table has all."""


def energy_page(van: Van) -> Page:
    """Return the page."""
    batteries = van.of(Battery).values()
    blocks: list[Block] = []
    if any(battery.role == "house" for battery in batteries if isinstance(battery, Battery)):
        blocks = [_nights(van), trip_section(van), year_section(van), _daily(van), _change(van)]
        blocks += _assumed(van)
    lead = van.texts("energy.lead" if blocks else "energy.nothing")
    return Page("energy", van.texts("page.energy"), lead, tuple(blocks))


def _assumed(van: Van) -> list[Section]:
    """Return what all figures of the page take for granted, each sentence once."""
    names = [f"{end}_nights_{sun}" for sun in SUNS for end in ("least", "most")]
    facts = [of_whole(van, name) for name in (*names, *OTHERS)]
    found = assumed(van, [*facts, *courses(van)])
    note = Paragraph(cell(van.texts("energy.assumed_note")), small=True)
    return [Section("assumed", van.texts("energy.assumed"), (note, *found))] if found else []


def nights_of(van: Van, nights: float) -> str:
    """Return nights in words; the longest stay that is followed has no end."""
    if nights >= NIGHTS:
        return van.texts("energy.endless")
    return van.texts("energy.night") if nights == 1 else van.texts("energy.several", count=f"{nights:g}")


def _nights(van: Van) -> Section:
    suns = SUNS if van.of(SolarPanel) else SUNS[:1]
    ends = [(sun, of_whole(van, f"least_nights_{sun}"), of_whole(van, f"most_nights_{sun}")) for sun in suns]
    items = tuple(_sun(van, *end) for end in ends)
    blocks: list[Block] = [Paragraph(cell(van.texts("energy.nights_note")), small=True)]
    blocks.append(Entries(items, large=True))
    if any(one.known and one.value >= NIGHTS for _, *facts in ends for one in facts):
        blocks.append(Paragraph(cell(van.texts("energy.endless_note")), small=True))
    blocks.append(Paragraph(cell(f"{NOT_MODELLED[:1].upper()}{NOT_MODELLED[1:]}."), small=True))
    return Section("nights", van.texts("energy.nights"), tuple(blocks))


def _sun(van: Van, sun: str, least: Fact, most: Fact) -> Entry:
    label = van.texts(f"energy.{sun if van.of(SolarPanel) else 'without_panels'}")
    if not least.known:
        return Entry(label, van.told(least))
    figure = (Figure(nights_of(van, least.value), Known.computed),)
    if not most.known or most.value <= least.value:
        return Entry(label, figure)
    return Entry(label, figure, van.texts("energy.at_most", nights=nights_of(van, most.value)))


def _daily(van: Van) -> Section:
    found, title = of_whole(van, "daily_energy_by_load"), van.texts("energy.daily.title")
    if not found.known:
        return Section("daily", title, (not_drawn(van, title, found),))
    if not found.value:
        return Section("daily", title, (Paragraph(cell(van.texts("energy.daily.nothing"))),))
    loads = [(load.load, load.energy) for load in found.value]
    columns = (van.texts("energy.daily.load"), van.texts("energy.daily.energy"))
    rows = tuple(Row((cell(name), cell(van.value(energy, ENERGY)))) for name, energy in loads)
    table = folded(van, Table(van.texts("energy.daily.caption"), columns, rows, tight=True))
    bars = _greatest(van, loads)
    told = [f"{name} {van.value(energy, ENERGY)}" for name, energy in bars]
    total = van.value(sum(energy for _, energy in loads), ENERGY)
    beside = van.texts("energy.daily.beside", total=total)
    chart = chart_of(
        van, "chart-daily", van.texts("energy.daily.chart"), daily_chart(van, bars), told, beside
    )
    return Section("daily", title, (chart, table))


def _greatest(van: Van, loads: list[tuple[str, float]]) -> list[tuple[str, float]]:
    """Return the loads that have a bar: the greatest, and the sum of the others as the last."""
    if len(loads) <= GREATEST_LOADS + 1:
        return loads
    rest = loads[GREATEST_LOADS:]
    others = van.texts("energy.daily.others", count=len(rest))
    return [*loads[:GREATEST_LOADS], (others, sum(energy for _, energy in rest))]


def daily_chart(van: Van, loads: list[tuple[str, float]]) -> Drawn:
    """Return the bars of some loads by joules, in the order given."""
    unit = measure(Dimension.energy, van.units, max(energy for _, energy in loads))
    axis = Axis(
        van.texts("energy.daily.across", unit=unit.unit),
        ticks(0, max(unit.number(energy) for _, energy in loads)),
    )
    bars = [
        Bar(_capital(name), van.value(energy, ENERGY), (Part("bar", 0, unit.number(energy)),))
        for name, energy in loads
    ]
    return barred(axis, bars)


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]


def _change(van: Van) -> Section:
    found, title = of_whole(van, "what_would_change_nights"), van.texts("energy.change.title")
    if not found.known:
        return Section("change", title, (not_drawn(van, title, found),))
    strongest = [c for c in found.value if c.nights_with_less != c.nights_with_more][:STRONGEST]
    blocks: list[Block] = [Paragraph(cell(van.texts("energy.change.note")), small=True)]
    if strongest:
        told = [f"{change.what}: {between(van, change)}" for change in strongest]
        heading, beside = van.texts("energy.change.chart"), van.texts("energy.change.beside")
        blocks.append(chart_of(van, "chart-change", heading, change_chart(van, strongest), told, beside))
    else:
        blocks.append(Paragraph(cell(van.texts("energy.change.none"))))
    return Section("change", title, (*blocks, _changes(van, found)))


def between(van: Van, change: Any) -> str:
    """Return the fewest and the most nights of a change in words."""
    least, greatest = sorted((change.nights_with_less, change.nights_with_more))
    if greatest >= NIGHTS:
        return f"{nights_of(van, least)} … {nights_of(van, greatest)}"
    return van.texts("energy.change.between", least=f"{least:g}", greatest=f"{greatest:g}")


def change_chart(van: Van, changes: list[Any]) -> Drawn:
    """Return the nights with a fifth less and a fifth more of each thing; no end stands at the axis' end."""
    ends = [n for change in changes for n in (change.nights_with_less, change.nights_with_more) if n < NIGHTS]
    axis = Axis(van.texts("energy.change.across"), ticks(0, max([1.0, *ends])))
    last = axis.ticks[-1]
    keys = (Key("open", van.texts("energy.change.less")), Key("point", van.texts("energy.change.more")))
    bars = []
    for change in changes:
        less, more = (min(n, last) for n in (change.nights_with_less, change.nights_with_more))
        span = Part("range", min(less, more), max(less, more))
        points = (("open", less), ("point", more))
        bars.append(Bar(_capital(change.what), between(van, change), (span,), points=points))
    return barred(axis, bars, keys)


CHANGED = ("with_less", "with_more", "without")


def _changes(van: Van, found: Fact) -> Block:
    nights = _changed(van, "nights", found, partial(nights_of, van))
    return Fold(
        van.texts("chart.table"),
        (nights, _changed(van, "unmet", found, lambda energy: van.value(energy, ENERGY))),
    )


def _changed(van: Van, sort: str, found: Fact, words: Callable[[float], str]) -> Table:
    columns = tuple(van.texts(f"energy.change.{head}") for head in ("what", *CHANGED))
    rows = tuple(
        Row(
            (
                cell(_capital(change.what), strong=True),
                *(cell(words(getattr(change, f"{sort}_{name}"))) for name in CHANGED),
            )
        )
        for change in found.value
    )
    return Table(van.texts(f"energy.change.{sort}"), columns, rows, tight=True)
