"""The register's front page: every van with its stage, its findings and what is still open."""

from __future__ import annotations

from specreg.model.component import SupplyState
from specreg.model.field import Reader
from specreg.pages.content import Block, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.texts import Texts
from specreg.pages.van import Van
from specreg.report import count

WAITING = (SupplyState.to_order, SupplyState.ordered)


def register_page(texts: Texts, vans: tuple[Van, ...], unread: tuple[str, ...], reader: Reader) -> Page:
    """Return the page; `unread` names the builds that could not be read."""
    names = ("build", "stage", "findings", "open", "people") + (
        ("order",) if reader is Reader.workshop else ()
    )
    columns = tuple(texts(f"register.{name}") for name in names)
    rows = tuple(_row(van) for van in vans)
    blocks: list[Block] = [
        Section("builds", texts("register.builds"), (Table(texts("register.caption"), columns, rows),))
    ]
    if unread:
        said = Paragraph(cell(texts("register.unread", names=", ".join(unread))))
        blocks.append(Section("unread", texts("register.unread_title"), (said,)))
    return Page("index", texts("frame.register"), texts("register.lead", count=len(vans)), tuple(blocks))


def _row(van: Van) -> Row:
    counts, texts = count(van.results), van.texts
    levels = [
        texts(f"register.{name}", count=getattr(counts, name)) for name in ("errors", "warnings", "notes")
    ]
    cells = [
        (*cell(van.build.header.title, f"{van.build.name}/index.html", strong=True), *cell(_about(van))),
        cell(van.build.header.stage.value.replace("-", " ")),
        cell(", ".join(levels)),
        cell(str(counts.open)),
        cell(str(counts.review)),
    ]
    if van.reader is Reader.workshop:
        cells.append(cell(str(sum(one.state in WAITING for one in van.build.components.values()))))
    return Row(tuple(cells), van.build.name)


def _about(van: Van) -> str:
    told = van.build.header.summary or van.build.header.vehicle.description or ""
    return f" {told}"
