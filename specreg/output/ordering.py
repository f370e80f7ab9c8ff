"""What is to be ordered: as text by supplier, as one table for spreadsheets, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import groupby
from typing import Any

from specreg import __version__
from specreg.model.component import SupplyState
from specreg.output.rows import as_csv, in_columns, visible
from specreg.output.shape import FORMAT
from specreg.output.style import Style
from specreg.works.money import Money
from specreg.works.ordering import Order, OrderLine

DAY = 86400

COLUMNS = ("part", "title", "builds", "to order", "ordered", "here", "fitted", "unit", "price",
           "currency", "sum", "supplier", "lead time", "needed on", "order by")  # fmt: skip
SHOWN = ("part", "what", "to order", "ordered", "price", "sum", "lead time", "needed on", "order by", "for")
NEITHER = "no supplier stated"


def order_text(order: Order, style: Style, *, everything: bool = False) -> str:
    """Return what is not here yet by supplier, or with `everything` all that the vans are made of."""
    lines = order.lines if everything else order.missing
    names = ", ".join(order.builds)
    parts = [style.tint(f"{'Parts' if everything else 'To order'} for {names}", "title")]
    if not lines:
        parts.append("Everything is here or fitted.")
    for supplier, group in groupby(lines, key=lambda one: one.supplier):
        table = _columns(SHOWN, [_shown(one) for one in group])
        parts.append("\n".join([style.tint(visible(supplier or NEITHER), "title"), *table]))
    parts += _remarks(order, lines, everything)
    return "\n\n".join(parts) + "\n"


def _remarks(order: Order, lines: Sequence[OrderLine], everything: bool) -> list[str]:
    said = []
    if not everything and order.sums:
        unpriced = sum(one.price is None and bool(one.numbers[SupplyState.to_order]) for one in lines)
        less = f", without {unpriced} that state no price" if unpriced else ""
        said.append(f"Still to be ordered: {' and '.join(map(str, order.sums))}{less}.")
    notes = [f"Taken for granted: {text}." for text in order.assumptions]
    notes += [f"Not known: {text}." for text in order.unknown]
    notes += [f"`materials` states {name}, which no van here is made of." for name in order.unused]
    return [*said, *(["\n".join(map(visible, notes))] if notes else [])]


def _columns(header: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    return [visible(line) for line in in_columns(header, rows)]


def _shown(one: OrderLine) -> tuple[str, ...]:
    return (
        one.item,
        one.title if one.title != one.item.replace("-", " ") else "",
        _number(one, SupplyState.to_order),
        _number(one, SupplyState.ordered),
        str(one.price or ""),
        str(one.sum or "") if one.numbers[SupplyState.to_order] else "",
        lead_time_words(one.lead_time),
        one.needed.isoformat() if one.needed else "",
        one.order_by.isoformat() if one.order_by else "",
        ", ".join(one.builds),
    )


def _number(one: OrderLine, state: SupplyState) -> str:
    number = one.numbers[state]
    return (decimal_words(number) + (f" {one.unit}" if one.unit else "")) if number else ""


def decimal_words(number: Decimal) -> str:
    """Return a number without noughts at its end."""
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def lead_time_words(seconds: float | None) -> str:
    """Return a lead time in days."""
    if seconds is None:
        return ""
    days = -(-int(seconds) // DAY)
    return f"{days} {'day' if days == 1 else 'days'}"


def order_rows(order: Order, *, everything: bool = False) -> list[tuple[str, ...]]:
    """Return the rows below `COLUMNS`."""
    return [_row(one) for one in (order.lines if everything else order.missing)]


def _row(one: OrderLine) -> tuple[str, ...]:
    numbers = [decimal_words(one.numbers[state]) if one.numbers[state] else "" for state in SupplyState]
    price, unit = one.price, one.unit or "piece"
    total = one.sum if one.numbers[SupplyState.to_order] else None
    return (
        one.item,
        one.title,
        ", ".join(one.builds),
        *numbers,
        unit,
        f"{price.amount:f}" if price else "",
        price.currency if price else "",
        f"{total.amount:f}" if total else "",
        one.supplier,
        lead_time_words(one.lead_time),
        one.needed.isoformat() if one.needed else "",
        one.order_by.isoformat() if one.order_by else "",
    )


def order_csv(order: Order, *, everything: bool = False) -> str:
    """Return one table; no cell of it can be a formula."""
    return as_csv(COLUMNS, order_rows(order, everything=everything))


def order_data(order: Order, *, everything: bool = False) -> dict[str, Any]:
    """Return the order as plain data: amounts as text, exact; lead times in s."""
    lines = order.lines if everything else order.missing
    return {
        "format": FORMAT,
        "specreg": __version__,
        "builds": list(order.builds),
        "lines": [_line_data(one) for one in lines],
        "sums": [money_data(one) for one in order.sums],
        "assumptions": list(order.assumptions),
        "unknown": list(order.unknown),
    }


def money_data(money: Money | None) -> dict[str, str] | None:
    """Return an amount as plain data."""
    return {"amount": f"{money.amount:f}", "currency": money.currency} if money else None


def _line_data(one: OrderLine) -> dict[str, Any]:
    return {
        "part": one.item,
        "title": one.title or None,
        "builds": list(one.builds),
        "unit": one.unit or "piece",
        **{state.value.replace(" ", "_"): float(one.numbers[state]) for state in SupplyState},
        "price": money_data(one.price),
        "sum": money_data(one.sum),
        "supplier": one.supplier or None,
        "lead_time": one.lead_time,
        "needed_on": one.needed.isoformat() if one.needed else None,
        "order_by": one.order_by.isoformat() if one.order_by else None,
    }
