"""What changed: fitted, removed, moved, re-rated since an earlier revision, in words, and what that does."""

from __future__ import annotations

from specreg.model.build import Build
from specreg.output.comparison import field_words, figure_cells
from specreg.output.evidence import least_reader
from specreg.pages.content import Block, Listing, Page, Paragraph, Row, Section, Table, Words, cell
from specreg.pages.van import Van
from specreg.register.changes import Change, FieldChange, What
from specreg.register.compare import Comparison

SHOWN = (What.fitted, What.removed, What.replaced, What.moved, What.rated, What.renamed)
"""What is told: another description of the same thing is no change of the van."""


def changed_page(van: Van, one: Comparison) -> Page:
    """Return the page of what changed since the other side of a comparison."""
    start, end = one.called
    lead = van.texts("changed.lead", start=start, end=end)
    blocks: list[Block] = []
    for what in SHOWN:
        blocks += _section(van, one, what)
    blocks += _effects(van, one)
    if not blocks:
        blocks = [Paragraph(cell(van.texts("changed.nothing")))]
    return Page("changed", van.texts("page.changed"), lead, tuple(blocks))


def _section(van: Van, one: Comparison, what: What) -> list[Block]:
    items = [item for change in one.changes if change.what is what and (item := _item(van, one, change))]
    if not items:
        return []
    anchor = what.value.replace(" ", "-")
    return [Section(anchor, van.texts(f"changed.{anchor}"), (Listing(tuple(items)),))]


def _item(van: Van, one: Comparison, change: Change) -> tuple[Words, ...]:
    """Return one change in words; empty where nothing of it is for this reader."""
    build = one.before.build if change.what is What.removed else one.after.build
    fields = [field_words(field) for field in change.fields if _may_read(van, build, change, field)]
    if change.fields and not fields:
        return ()
    there = change.subject in van.build.components
    name = change.name[:1].upper() + change.name[1:]
    mark = f" ({change.designation})" if change.designation else ""
    said = Words(name, f"parts.html#{change.subject}" if there else "", strong=not there)
    more = f": {'; '.join(fields)}" if fields else ""
    was = van.texts("changed.was", was=change.was) if change.was != change.subject else ""
    return (said, Words(f"{mark}{was}{more}"))


def _may_read(van: Van, build: Build, change: Change, field: FieldChange) -> bool:
    return van.reader.may_read(least_reader(build, f"{change.subject}.{field.key}"))


def _effects(van: Van, one: Comparison) -> list[Block]:
    rows = tuple(
        Row(tuple(cell(text.removeprefix("→ ")) for text in figure_cells(figure, van.units)))
        for figure in one.figures
    )
    if not rows:
        return []
    names = ("figure", "before", "after", "difference")
    columns = tuple(van.texts(f"changed.column.{name}") for name in names)
    table = Table(van.texts("changed.effects_caption"), columns, rows)
    return [Section("effects", van.texts("changed.effects"), (table,))]
