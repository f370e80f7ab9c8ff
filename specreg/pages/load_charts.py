"""Loads against what the plate permits, in each loading case: the load, its doubt, and what is over."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from specreg.facts.axes import cases
from specreg.facts.registry import Axis as Cases
from specreg.pages.chart_bars import Bar, Part, barred
from specreg.pages.charted import chart_of, folded, not_drawn
from specreg.pages.charts import Axis, Drawn, Key, measure, numbered, ticks
from specreg.pages.content import Block, Caution, Paragraph, Row, Section, Signal, Table, Words, cell
from specreg.pages.figures import of_whole
from specreg.pages.van import Van
from specreg.units import Dimension

HEAVY = 100.0
"""Masses are written in the unit of one so heavy, kg: all in one unit."""
LIMITED = {
    "front_axle": ("front_axle_load", "front_axle_doubt"),
    "rear_axle": ("rear_axle_load", "rear_axle_doubt"),
    "total": ("laden_mass", "laden_mass_doubt"),
}
"""What the plate permits, with the fact that is held against it and how far that may be off."""


class Load(NamedTuple):
    """A load in one case, how far it may be off, and the limit: kg."""

    case: str
    load: float
    doubt: float
    limit: float

    @property
    def most(self) -> float:
        """Return the worse end."""
        return self.load + self.doubt


def load_charts(van: Van) -> list[Section]:
    """Return the charts of both axles and of the whole van; words where a figure is not known."""
    blocks: list[Block] = [Paragraph(cell(van.texts("loads.note")), small=True)]
    complete = of_whole(van, "all_masses_known")
    if not complete.known:
        blocks.append(Caution(Signal.notice, (Words(van.texts("loads.incomplete")), *van.told(complete))))
    for name, facts in LIMITED.items():
        blocks += _limited(van, name, *facts, complete=complete.known)
    return [Section("loads", van.texts("loads.title"), tuple(blocks))]


def _limited(van: Van, name: str, load: str, doubt: str, *, complete: bool) -> list[Block]:
    title = van.texts(f"loads.{name}")
    limit = getattr(van.build.header.vehicle.permitted, name)
    if limit is None:
        unknown = van.declared(van.build.header.vehicle.permitted, name)
        return [Paragraph((Words(van.texts("chart.not_drawn", title=title)), *unknown))]
    loads: list[Load] = []
    for case in cases(Cases.loading, van.facts):
        ends = [of_whole(van, fact, case) for fact in (load, doubt)]
        lacking = next((end for end in ends if not end.known), None)
        if lacking is not None:
            return [not_drawn(van, title, lacking)]
        loads.append(Load(str(case), float(ends[0].value), float(ends[1].value), limit))
    return _charted(van, name, title, loads, complete=complete)


def _charted(van: Van, name: str, title: str, loads: list[Load], *, complete: bool) -> list[Block]:
    permitted = van.texts("loads.limit", limit=_mass(van, loads[0].limit))
    told = [permitted, *(f"{one.case}: {figure(van, one, complete=complete)}" for one in loads)]
    drawn = load_chart(van, loads, complete=complete)
    chart = chart_of(van, f"chart-{name.replace('_', '-')}", title, drawn, told, van.texts("loads.beside"))
    return [chart, folded(van, _table(van, title, loads, complete=complete))]


def _mass(van: Van, mass: float) -> str:
    """Return a mass in whole units."""
    unit = measure(Dimension.mass, van.units, max(HEAVY, mass))
    return f"{numbered(round(unit.number(mass)))} {unit.unit}"


def figure(van: Van, load: Load, *, complete: bool) -> str:
    """Return the worse end of a load in words, and how far it is over what is permitted."""
    if not complete:
        return van.texts("loads.about", load=_mass(van, load.load))
    most = _mass(van, load.most)
    if load.most <= load.limit:
        return van.texts("loads.up_to", greatest=most)
    return van.texts("loads.over_by", over=_mass(van, load.most - load.limit))


def load_chart(van: Van, loads: list[Load], *, complete: bool) -> Drawn:
    """Return a bar for each case: what is over the limit hatched, the doubt as a bracket."""
    limit = loads[0].limit
    unit = measure(Dimension.mass, van.units, limit)
    greatest = max([limit, *(load.most for load in loads)])
    axis = Axis(van.texts("loads.across", unit=unit.unit), ticks(0, unit.number(greatest)))
    bars = [_bar(load, unit.number, figure(van, load, complete=complete)) for load in loads]
    keys = [
        Key("bar", van.texts("loads.computed")),
        Key("doubt", van.texts("loads.doubt")),
        Key("limit", van.texts("loads.limit", limit=_mass(van, limit))),
    ]
    if any(load.most > limit for load in loads):
        keys.append(Key("hatch", van.texts("loads.over")))
    return barred(axis, bars, keys, unit.number(limit))


def _bar(load: Load, number_of: Callable[[float], float], words: str) -> Bar:
    most, limit = number_of(load.most), number_of(load.limit)
    parts = [Part("bar", 0.0, min(number_of(load.load), limit))]
    if most > limit:
        parts.append(Part("hatch", limit, most))
    doubt = (max(0.0, number_of(load.load - load.doubt)), max(0.0, most))
    return Bar(load.case, words, tuple(parts), doubt)


def _table(van: Van, title: str, loads: list[Load], *, complete: bool) -> Table:
    names = ("case", "load", "off", *(("most", "left") if complete else ()))
    rows = []
    for load in loads:
        figures = [load.load, load.doubt, *((load.most, load.limit - load.most) if complete else ())]
        rows.append(Row((cell(load.case, strong=True), *(cell(_mass(van, one)) for one in figures))))
    caption = van.texts("loads.caption", title=title, limit=_mass(van, loads[0].limit))
    return Table(caption, tuple(van.texts(f"loads.{name}") for name in names), tuple(rows))
