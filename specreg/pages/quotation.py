"""The client's quotation: what is paid for what, and nothing of what the workshop pays.

It is the one page that is made from what its reader may not see: prices, rates and margin go into sums by
system, and only those reach the page. It is there only where the works state a `quote`.
"""

from __future__ import annotations

from specreg.facts.engine import Facts
from specreg.model.field import Reader
from specreg.pages.content import Block, Entries, Entry, Page, Paragraph, Row, Section, Table, cell
from specreg.pages.van import Van
from specreg.works.bill import bill_of
from specreg.works.cost import LABOUR, Quotation, QuoteLine, quotation
from specreg.works.plan import plan_of


def quotation_page(van: Van) -> Page | None:
    """Return the page for the owner's and the workshop's edition; None where nothing is quoted."""
    build = van.report.build
    if build.header.works.quote is None or not van.reader.may_read(Reader.owner):
        return None
    plan, _ = plan_of(build)
    found = quotation(bill_of(Facts(build)), plan, build.header.works) if plan else None
    if found is None:
        return None
    blocks = (*_head(van, found), _section(van, found, build.header.works.quote.tax))
    return Page("quotation", van.texts("page.quotation"), van.texts("quote.lead"), blocks)


def _head(van: Van, found: Quotation) -> list[Block]:
    told = (("number", found.number), ("date", found.made_on), ("until", found.until))
    items = tuple(Entry(van.texts(f"quote.{name}"), cell(str(value))) for name, value in told if value)
    return [Entries(items)] if items else []


def _section(van: Van, found: Quotation, share: float | None) -> Section:
    columns = tuple(van.texts(f"quote.{name}") for name in ("what", "things", "price"))
    rows = [_row(van, one) for one in found.lines]
    rows += [_sum(van.texts("quote.sum"), one) for one in found.sum]
    if share is not None:
        tax = van.texts("quote.tax", called=found.tax_name, share=f"{100 * share:g} %")
        rows += [_sum(tax, one) for one in found.tax]
        rows += [_sum(van.texts("quote.total"), one) for one in found.total]
    blocks: list[Block] = [Table(van.texts("quote.caption"), columns, tuple(rows))]
    if found.to_be_priced:
        blocks.append(Paragraph(cell(van.texts("quote.open", count=found.to_be_priced))))
    return Section("quoted", van.texts("quote.title"), tuple(blocks))


def _row(van: Van, line: QuoteLine) -> Row:
    name = van.texts("quote.labour" if line.name == LABOUR else f"system.{line.name}")
    return Row((cell(name), cell(str(line.things) if line.things else ""), cell(str(line.price or ""))))


def _sum(name: str, money: object) -> Row:
    return Row((cell(name, strong=True), (), cell(str(money), strong=True)))
