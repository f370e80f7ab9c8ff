"""Sheets of the hold points, to be printed and filled in at the van; the workshop's edition only."""

from __future__ import annotations

from specreg.model.field import Reader
from specreg.output.going_on import against
from specreg.pages.content import Block, Cell, Listing, Page, Paragraph, Row, Section, Table, Words, cell
from specreg.pages.van import Van
from specreg.pages.where import place_of
from specreg.rules.judge import judge
from specreg.rules.result import Result
from specreg.trade.hold_points import POINTS, HoldLine, hold_lines

BLANK: Cell = ()
ASKED = {
    "panels-close": ("length", "photo", "remark"),
    "energise": ("device", "reading", "photo"),
    "gas-on": ("length", "serial", "reading", "photo"),
    "hand-over": ("serial", "fitted_on", "photo"),
}
"""What is filled in by hand at each; readings go on as tests, by the trade's sheet."""


def hold_pages(van: Van) -> tuple[Page, ...]:
    """Return the list of sheets and a page for each hold point of this van that has a line."""
    if van.reader is not Reader.workshop:
        return ()
    found = {point: lines for point in POINTS if (lines := hold_lines(van.facts, point))}
    if not found:
        return ()
    links = tuple(
        (
            *cell(van.texts(f"page.hold-{point}"), f"hold-{point}.html", strong=True),
            Words(f" – {van.texts('hold.lines', count=len(lines))}"),
        )
        for point, lines in found.items()
    )
    blocks = (Paragraph(cell(van.texts("hold.back"))), Listing(links))
    front = Page("hold", van.texts("page.hold"), van.texts("hold.lead"), blocks)
    return (front, *(_page(van, point, lines) for point, lines in found.items()))


def _page(van: Van, point: str, lines: tuple[HoldLine, ...]) -> Page:
    blocks: list[Block] = [_who(van), *_standing_against(van, point)]
    names = ("mark", "thing", *ASKED[point])
    columns = tuple(van.texts(f"hold.column.{name}") for name in names)
    rows = tuple(_row(van, line, len(ASKED[point])) for line in lines)
    table = Table(van.texts(f"hold.caption.{point}"), columns, rows)
    blocks.append(Section("lines", van.texts("hold.things"), (table,)))
    lead = van.texts("hold.lines", count=len(lines))
    return Page(f"hold-{point}", van.texts(f"page.hold-{point}"), lead, tuple(blocks), within="hold")


def _who(van: Van) -> Section:
    columns = tuple(van.texts(f"hold.{name}") for name in ("person", "day", "signature"))
    return Section(
        "who", van.texts("hold.who"), (Table(van.texts("hold.who_caption"), columns, (Row((BLANK,) * 3),)),)
    )


def _row(van: Van, line: HoldLine, blanks: int) -> Row:
    owner = line.id.partition("/")[0]
    place = place_of(van, owner) if owner in van.build.components else line.where
    planned = van.texts("hold.planned", what=line.planned) if line.planned else ""
    told = "; ".join(part for part in (place or line.where, planned) if part)
    thing = (*cell(van.name(line.id), strong=True), Words(f", {told}" if told else ""))
    return Row((cell(line.mark or "–", strong=True), thing, *((BLANK,) * blanks)))


def _standing_against(van: Van, point: str) -> list[Section]:
    """Return what stands against going on, by what is written today."""
    from specreg.model.build import Stage  # noqa: PLC0415 - a word only

    results = judge(van.report.pack, van.report.facts, Stage(point))
    found = tuple(_matter(van, one) for one in against(results))
    blocks = (Listing(found),) if found else (Paragraph(cell(van.texts("hold.nothing_against"))),)
    return [Section("against", van.texts("hold.against"), blocks)]


def _matter(van: Van, result: Result) -> Cell:
    about = f"{van.name(result.subject)}: " if result.subject else ""
    return (*cell(about + result.title, strong=True), Words(f" – {result.message or result.reason}"))
