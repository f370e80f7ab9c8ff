"""The ledger of masses: where more may be loaded, how the van grew, what weighs what, and how it is known."""

from __future__ import annotations

from typing import Any

from specreg.facts.axle_loads import AS_WEIGHED
from specreg.facts.registry import kinds_for
from specreg.facts.value_type import ValueType, number
from specreg.pages.content import Block, Cell, Figure, Known, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.figures import assumed
from specreg.pages.van import LENGTH, Van
from specreg.units import Dimension

MASS = number(Dimension.mass)
HEAVIEST = "everything"


def _ask(van: Van, name: str, case: str | None = None) -> Any:
    """Return a fact about the whole van with its value, or with what is missing."""
    return van.facts.ask(van.facts.subject("", case), kinds_for(type(van.build.header))[name])


def _mass(van: Van, mass: float) -> Cell:
    return (Figure(van.value(mass, MASS), Known.computed),)


def _table(
    van: Van, name: str, columns: tuple[str, ...], rows: tuple[Row, ...], *, findable: bool = False
) -> Table:
    said = tuple(van.texts(f"ledger.column.{column}") for column in columns)
    return Table(van.texts(f"ledger.{name}_caption"), said, rows, findable=findable)


def load_sections(van: Van) -> list[Block]:
    """Return where more may be loaded, how the van grew, and what is not known, where the spec tells it."""
    more: list[Block] = [Paragraph(cell(van.texts("ledger.more"), "ledger.html"))]
    return [*_places(van), *_growth(van), *_unknown(van), *more]


def ledger_page(van: Van) -> Page:
    """Return every mass of the heaviest case with its doubt, its place, and how both are known."""
    blocks = tuple(_ledger(van))
    lead = van.texts("ledger.lead" if blocks else "weights.nothing")
    return Page("ledger", van.texts("page.ledger"), lead, blocks)


def _places(van: Van) -> list[Section]:
    """Return what may still be added where in the heaviest case, by the figures and for certain."""
    by_figures, least = _ask(van, "room_for_more", HEAVIEST), _ask(van, "room_for_more_least", HEAVIEST)
    if not by_figures.known:
        return []
    sure = {place.name: place for place in least.value} if least.known else {}
    rows = tuple(
        Row(
            (
                cell(place.name, strong=True),
                cell(van.value(round(place.x, 2), LENGTH)),
                _mass(van, place.mass),
                _mass(van, sure[place.name].mass) if sure else cell(van.texts("ledger.uncertain")),
                cell(sure[place.name].limit if sure else place.limit),
            )
        )
        for place in by_figures.value
    )
    table = _table(van, "places", ("place", "behind", "figures", "certain", "limit"), rows)
    return [Section("where-more", van.texts("ledger.places"), (table, *assumed(van, [by_figures])))]


def _growth(van: Van) -> list[Section]:
    """Return the tickets in a row, and each against what was fitted by its day."""
    grown, against = _ask(van, "mass_by_stage"), _ask(van, "tickets_against_spec")
    if not grown.known:
        return []
    rows = tuple(
        Row(
            (
                cell(one.stage, strong=True),
                *(_mass(van, m) for m in (one.mass, one.gained, one.rear, one.gained_rear)),
            )
        )
        for one in grown.value
    )
    blocks: list[Block] = [_table(van, "growth", ("stage", "empty", "gained", "rear", "gained_rear"), rows)]
    if against.known and against.value:
        rows = tuple(
            Row(
                (
                    cell(one.stage, strong=True),
                    *(_mass(van, m) for m in (one.weighed, one.expected, one.doubt, one.unexplained)),
                )
            )
            for one in against.value
        )
        blocks.append(_table(van, "against", ("stage", "weighed", "expected", "doubt", "unexplained"), rows))
    return [Section("growth", van.texts("ledger.growth"), tuple(blocks))]


def _unknown(van: Van) -> list[Section]:
    found = _ask(van, "masses_unknown")
    if not found.known or not found.value:
        return []
    rows = tuple(Row((van.thing(one.subject), cell(one.bound), cell(one.needs))) for one in found.value)
    table = _table(van, "unknown", ("thing", "bound", "needs"), rows)
    return [Section("mass-unknown", van.texts("ledger.unknown"), (table,))]


def _ledger(van: Van) -> list[Section]:
    found, known = _ask(van, "loads", HEAVIEST), _ask(van, "masses_by_how_known")
    sections: list[Section] = []
    if known.known and known.value:
        rows = tuple(
            Row(
                (
                    cell(one.known, strong=True),
                    cell(str(one.count)),
                    *(_mass(van, m) for m in (one.mass, one.doubt)),
                )
            )
            for one in known.value
        )
        table = _table(van, "known", ("known", "count", "mass", "doubt"), rows)
        sections.append(Section("known", van.texts("ledger.known"), (table,)))
    if found.known:
        heaviest_first = sorted(found.value, key=lambda load: (-abs(load.mass), load.name))
        rows = tuple(_entry(van, load) for load in heaviest_first)
        table = _table(van, "all", ("thing", "mass", "known", "place", "at"), rows, findable=True)
        sections.append(Section("all", van.texts("ledger.all"), (table, *assumed(van, [found]))))
    return sections


def _entry(van: Van, load: Any) -> Row:
    listed = load.subject in van.build.components
    named = cell(load.name, f"parts.html#{load.subject}") if listed else cell(load.name)
    places = [(load.x, load.x_doubt), (load.y, load.y_doubt), (load.z, load.z_doubt)]
    if load.name == AS_WEIGHED:
        places = places[:1]  # a weighbridge shows nothing else
    at = ", ".join(_give_or_take(van, middle, doubt, LENGTH) for middle, doubt in places)
    mass = _give_or_take(van, load.mass, load.mass_doubt, MASS)
    return Row((named, cell(mass), cell(load.known), cell(load.place), cell(at)))


def _give_or_take(van: Van, middle: float, doubt: float, kind: ValueType) -> str:
    """Return a figure with its doubt, to the centimetre and to ten grams."""
    said = van.value(round(middle, 2), kind)
    return f"{said} ± {van.value(round(doubt, 2), kind)}" if round(doubt, 2) else said
