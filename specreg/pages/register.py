"""The register's front page: every van with its stage, its findings and what is still open."""

from __future__ import annotations

from datetime import date
from urllib.parse import quote

from specreg.care.due import Due, care_of
from specreg.model.build import Stage
from specreg.model.component import SupplyState
from specreg.model.field import Reader
from specreg.output.going_on import against
from specreg.pages.content import Block, Cell, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.texts import Texts
from specreg.pages.van import Van
from specreg.report import count

MOST = 6
"""So many matters of a build are named; the others are counted."""

SOONEST = 3
"""So many duties of a build are named."""

WAITING = (SupplyState.to_order, SupplyState.ordered)


def register_page(texts: Texts, vans: tuple[Van, ...], unread: tuple[str, ...], reader: Reader) -> Page:
    """Return the page; `unread` names the builds that could not be read."""
    names = ("build", "findings", "open", "people") + (("order",) if reader is Reader.workshop else ())
    columns = tuple(texts(f"register.{name}") for name in names)
    by_stage = [(stage, [van for van in vans if van.build.header.stage is stage]) for stage in Stage]
    tables = tuple(
        Table(
            texts("register.at_stage", stage=stage.value.replace("-", " ")),
            columns,
            tuple(_row(van) for van in found),
        )
        for stage, found in by_stage
        if found
    )
    blocks: list[Block] = [Section("builds", texts("register.builds"), tables)]
    if reader is not Reader.public:
        blocks += [*_matters(texts, vans), *_care(texts, vans)]
    if reader is Reader.workshop:
        blocks += _to_order(texts, vans)
    if unread:
        said = Paragraph(cell(texts("register.unread", names=", ".join(unread))))
        blocks.append(Section("unread", texts("register.unread_title"), (said,)))
    return Page("index", texts("frame.register"), texts("register.lead", count=len(vans)), tuple(blocks))


def _matters(texts: Texts, vans: tuple[Van, ...]) -> list[Section]:
    """Return what stands against going on, the first matters of each build; its check names them all."""
    columns = (texts("register.system"), texts("register.matter"))
    tables = tuple(Table(van.build.header.title, columns, rows) for van in vans if (rows := _against(van)))
    blocks = tables or (Paragraph(cell(texts("register.none_against"))),)
    return [Section("matters", texts("register.matters"), blocks)]


def _against(van: Van) -> tuple[Row, ...]:
    found = against(van.results)
    rows = [
        Row(
            (
                cell(van.texts(f"system.{one.system}"), _href(van, f"check-{one.system}.html")),
                cell(f"{one.title}: {one.message}".rstrip(": ")),
            )
        )
        for one in found[:MOST]
    ]
    if len(found) > MOST:
        more = van.texts("register.more", count=len(found) - MOST)
        rows.append(Row((cell(van.texts("page.check"), _href(van, "check.html")), cell(more))))
    return tuple(rows)


def _care(texts: Texts, vans: tuple[Van, ...]) -> list[Section]:
    """Return what is due next, the soonest of each build that has a day to count from."""
    found = [
        (due, van)
        for van in vans
        for due in [one for one in care_of(van.facts) if one.next is not None][:SOONEST]
    ]
    rows = tuple(
        Row((_link(van, "care.html"), cell(van.texts(f"care.duty.{due.duty}")), _when(van, due)))
        for due, van in sorted(found, key=lambda one: (one[0].next or date.max, one[1].build.name))
    )
    columns = tuple(texts(f"register.{name}") for name in ("build", "duty", "next"))
    table = Table(texts("register.care_caption"), columns, rows)
    return [Section("care", texts("register.care"), (table,))] if rows else []


def _when(van: Van, due: Due) -> Cell:
    day = due.next.isoformat() if due.next else ""
    return (*cell(day, strong=due.overdue(van.on)), *_late(van, due))


def _late(van: Van, due: Due) -> Cell:
    return cell(f" {van.texts('register.overdue')}") if due.overdue(van.on) else ()


def _to_order(texts: Texts, vans: tuple[Van, ...]) -> list[Section]:
    rows = tuple(
        Row((_link(van, f"parts.html#{name}"), cell(van.name(name)), cell(part.state.value)))
        for van in vans
        for name, part in van.build.components.items()
        if part.state is not None and part.state in WAITING
    )
    columns = tuple(texts(f"register.{name}") for name in ("build", "thing", "state"))
    table = Table(texts("register.to_order_caption"), columns, rows)
    return [Section("to-order", texts("register.to_order"), (table,))] if rows else []


def _link(van: Van, page: str) -> Cell:
    return cell(van.build.header.title, _href(van, page))


def _href(van: Van, page: str) -> str:
    """Return the link to a page of a van; its folder may be called what a link means otherwise, as `a#b`."""
    return f"{quote(van.build.name, safe='')}/{page}"


def _row(van: Van) -> Row:
    counts, texts = count(van.results), van.texts
    levels = [
        texts(f"register.{name}", count=getattr(counts, name)) for name in ("errors", "warnings", "notes")
    ]
    cells = [
        (*cell(van.build.header.title, _href(van, "index.html"), strong=True), *cell(_about(van))),
        cell(", ".join(levels)),
        cell(str(counts.open)),
        cell(str(counts.review)),
    ]
    if van.reader is Reader.workshop:
        cells.append(cell(str(sum(one.state in WAITING for one in van.build.components.values()))))
    return Row(tuple(cells), quote(van.build.name, safe=""))


def _about(van: Van) -> str:
    told = van.build.header.summary or van.build.header.vehicle.description or ""
    return f" {told}"
