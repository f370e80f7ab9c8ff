"""What a van costs the workshop, and what is quoted to the client: never both in one."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from specreg.model.works import Works
from specreg.works.bill import Bill, Line
from specreg.works.money import Money, read_money, sums, with_share
from specreg.works.plan import Plan

LABOUR = "labour"


class Cost(NamedTuple):
    """What a van costs and brings, by currency; `unpriced` are things without a price. Time is in minutes."""

    parts: tuple[Money, ...]
    minutes: int
    labour: Money | None
    total: tuple[Money, ...]
    sale: tuple[Money, ...]
    unpriced: tuple[str, ...]

    @property
    def margin(self) -> tuple[Money, ...]:
        """Return what is left of the sale, for currencies in which both are known."""
        cost = {one.currency: one.amount for one in self.total}
        return tuple(
            Money(one.amount - cost[one.currency], one.currency) for one in self.sale if one.currency in cost
        )


class QuoteLine(NamedTuple):
    """A line of the quotation: what, how many things, and the price that the client pays."""

    name: str
    things: int
    price: Money | None


class Quotation(NamedTuple):
    """What the client is quoted: nothing in it tells what the workshop pays."""

    number: str
    made_on: date | None
    until: date | None
    lines: tuple[QuoteLine, ...]
    sum: tuple[Money, ...]
    tax_name: str
    tax: tuple[Money, ...]
    total: tuple[Money, ...]
    to_be_priced: int


def hours_worked(plan: Plan) -> int:
    """Return the minutes of work of all hands, done or not."""
    return sum(one.work.minutes for one in plan.tasks)


def cost_of(bill: Bill, plan: Plan, works: Works) -> Cost:
    """Return cost = Σ price × number + hours × rate, and the sale of the same things.

    Amounts are exact, to the cent in each line; what has no price is named, not passed over.
    """
    minutes = hours_worked(plan)
    parts = sums(line.cost for line in bill.lines if line.cost)
    labour = _labour(minutes, read_money(works.rate))
    unpriced = tuple(dict.fromkeys(line.item for line in bill.lines if line.cost is None))
    sold = [line.sale(works.margin) for line in bill.lines]
    sale = sums([*(one for one in sold if one), *_some(labour_sale(minutes, works))])
    return Cost(parts, minutes, labour, sums([*parts, *_some(labour)]), sale, unpriced)


def _some(money: Money | None) -> Iterable[Money]:
    return () if money is None else (money,)


def _labour(minutes: int, rate: Money | None) -> Money | None:
    return rate.times(Decimal(minutes) / 60) if rate else None


def labour_sale(minutes: int, works: Works) -> Money | None:
    """Return what the client pays for the work: hours × the sale rate, else cost and margin."""
    stated = _labour(minutes, read_money(works.sale_rate))
    cost = _labour(minutes, read_money(works.rate))
    if stated is not None or cost is None or works.margin is None:
        return stated
    return with_share(cost, works.margin)


def quotation(bill: Bill, plan: Plan, works: Works) -> Quotation | None:
    """Return the quotation by systems and labour; None where the works state no `quote`."""
    quote = works.quote
    if quote is None:
        return None
    lines = [*_by_system(bill.lines, works.margin), *_work(plan, works)]
    total = sums(line.price for line in lines if line.price)
    tax = tuple(one.times(Decimal(repr(quote.tax))) for one in total) if quote.tax is not None else ()
    unpriced = sum(line.sale(works.margin) is None for line in bill.lines)
    return Quotation(quote.number or "", quote.date, quote.until, tuple(lines), total,
                     quote.tax_name or "tax", tax, sums([*total, *tax]), unpriced)  # fmt: skip


def _by_system(lines: Iterable[Line], margin: float | None) -> Iterable[QuoteLine]:
    """Yield a line for each system and currency."""
    found: dict[tuple[str, str], list[tuple[Line, Money]]] = {}
    for line in lines:
        sale = line.sale(margin)
        if sale is not None:
            found.setdefault((line.system, sale.currency), []).append((line, sale))
    for (system, _), sold in found.items():
        (price,) = sums(sale for _, sale in sold)
        yield QuoteLine(system, sum(len(line.things) for line, _ in sold), price)


def _work(plan: Plan, works: Works) -> Iterable[QuoteLine]:
    price = labour_sale(hours_worked(plan), works)
    if price is not None:
        yield QuoteLine(LABOUR, 0, price)
