"""Parts: everything fitted, each with an anchor that labels and other pages point to."""

from __future__ import annotations

from specreg.model.component import Component, System
from specreg.model.field import Reader
from specreg.model.renaming import current_id
from specreg.pages.content import Block, Cell, Page, Row, Section, Table, cell
from specreg.pages.photographs import photographed_runs, photographs_at
from specreg.pages.van import Van
from specreg.pages.where import place_of

TOLD = {
    Reader.public: (),
    Reader.owner: ("maker", "maker_model", "serial", "made_on", "fitted_on", "manual"),
    Reader.workshop: (
        "maker",
        "maker_model",
        "serial",
        "made_on",
        "fitted_on",
        "manual",
        "supplier",
        "price",
        "state",
    ),
}
"""What stands in the column on buying and replacing, by reader."""

WRITTEN = ("size", "mass", "mass_status", "count", "label", "expires_on", "approval", "note")


def parts_page(van: Van) -> Page:
    """Return the page."""
    by_system: dict[System, dict[str, Component]] = {}
    for name, one in van.build.components.items():
        by_system.setdefault(type(one).system, {})[name] = one
    blocks: tuple[Block, ...] = tuple(
        Section(system.value, van.texts(f"system.{system.value}"), (_table(van, by_system[system]),))
        for system in System
        if system in by_system
    )
    lead = van.texts("parts.lead" if blocks else "parts.nothing", count=len(van.build.components))
    return Page("parts", van.texts("page.parts"), lead, (*blocks, *photographed_runs(van)))


def _table(van: Van, found: dict[str, Component]) -> Table:
    names = ("thing", "mark", "kind", "place", "written") + (("bought",) if TOLD[van.reader] else ())
    columns = tuple(van.texts(f"parts.{name}") for name in names)
    return Table(
        van.texts("parts.caption"), columns, tuple(_row(van, *one) for one in found.items()), findable=True
    )


def _row(van: Van, name: str, component: Component) -> Row:
    cells: list[Cell] = [
        cell(van.name(name), strong=True),
        cell(van.designation(name)),
        cell(component.kind.replace("-", " ")),
        cell(place_of(van, name) or van.texts("where.not_written")),
        (*cell(_told(van, component, WRITTEN)), *photographs_at(van, name)),
    ]
    if TOLD[van.reader]:
        cells.append(cell(_told(van, component, TOLD[van.reader])))
    return Row(tuple(cells), name, _formerly(van, name))


def _formerly(van: Van, name: str) -> tuple[str, ...]:
    """Return the ids that were given up for this one, so that a printed code still leads here."""
    renamed = van.build.header.renamed
    return tuple(
        old for old in renamed if old not in van.build.components and current_id(old, renamed) == name
    )


def _told(van: Van, component: Component, names: tuple[str, ...]) -> str:
    stated = [(name, van.field(component, name)) for name in names if name != "count" or component.count != 1]
    keys = {name: field.alias or name for name, field in type(component).model_fields.items()}
    return "; ".join(f"{keys[name].replace('_', ' ')} {text}" for name, text in stated if text)
