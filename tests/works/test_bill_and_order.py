"""The bill of parts and what is to be ordered: one line for each thing, lengths and numbers added up."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from works_van import STARTS, small

from specreg.facts.engine import Facts
from specreg.model.component import SupplyState
from specreg.works.bill import bill_of
from specreg.works.calendar import Calendar
from specreg.works.money import read_money
from specreg.works.ordering import OrderLine, order_of


def lines(more: str = "", stage: str = "design") -> dict[str, OrderLine]:
    """The lines of an order for the small van by what they are."""
    return {one.item: one for one in order_of([Facts(small(more, stage))]).lines}


@pytest.mark.parametrize(
    ("item", "to_order", "ordered", "here", "unit"),
    [
        ("cable 16 mm²", "2.75", "0", "0", "m"),  # 1.25 + 1.5
        ("two-core cable 1.5 mm²", "7.3", "0", "0", "m"),  # 4.2 + 3.1
        ("fan", "1", "1", "0", ""),
        ("spot", "0", "0", "3", ""),
        ("fuse 5 A blade", "2", "0", "0", ""),
        ("cell-100", "1", "0", "0", ""),
    ],
)
def test_what_is_alike_is_one_line(item: str, to_order: str, ordered: str, here: str, unit: str) -> None:
    """Numbers of one thing are added by their state."""
    line = lines()[item]
    assert [line.numbers[state] for state in SupplyState] == [
        Decimal(n) for n in (to_order, ordered, here, "0")
    ]
    assert line.unit == unit


def test_one_state_at_hand_over() -> None:
    """What states no state is taken as fitted from commissioning on; what states one keeps it."""
    assert lines(stage="commissioning")["cell-100"].numbers[SupplyState.fitted] == 1
    assert lines(stage="commissioning")["spot"].numbers[SupplyState.here] == 3
    assert not lines(stage="commissioning")["cell-100"].missing


@pytest.mark.parametrize(
    ("stage", "state"), [("design", SupplyState.here), ("commissioning", SupplyState.fitted)]
)
def test_what_lies_in_the_store_is_here_until_it_is_fitted(stage: str, state: SupplyState) -> None:
    """The state of a material is that of the store: in a van that is built it is fitted."""
    line = lines("works: {materials: {fuse 5 A blade: {state: here}}}\n", stage)["fuse 5 A blade"]
    assert line.numbers[state] == 2


def test_materials_give_price_and_supplier_to_what_has_no_entry() -> None:
    """Cable by the metre: price × length, to the cent."""
    line = lines("works: {materials: {cable 16 mm²: {price: 4.27 GBP/m, supplier: wholesaler}}}\n")[
        "cable 16 mm²"
    ]
    assert (line.supplier, str(line.sum)) == ("wholesaler", "11.74 GBP")  # 4.27 × 2.75 = 11.7425


def test_a_length_is_estimated_with_the_routing_and_said() -> None:
    """Without a length the places of both ends and the routing factor give one."""
    text = "renamed: {}\n"
    build = small(text)
    cell = build.components["cell"].model_copy(update={"at": (0.0, 0.0, 0.0), "size": (0.2, 0.2, 0.2)})
    box = build.components["box"].model_copy(update={"at": (1.0, 0.5, 0.0), "size": (0.2, 0.2, 0.2)})
    runs = {**build.runs, "main": build.runs["main"].model_copy(update={"length": None})}
    from dataclasses import replace

    changed = replace(build, components={**build.components, "cell": cell, "box": box}, runs=runs)
    bill = bill_of(Facts(changed))
    line = next(one for one in bill.lines if one.item == "cable 16 mm²")
    assert line.number == Decimal("3.3")  # 1.2 × (1 + 0.5) + 1.5
    assert any("estimated" in text for text in bill.assumptions)


def test_needed_when_its_task_begins_and_ordered_before() -> None:
    """The battery is needed when the second fix begins; two weeks before that it must be ordered."""
    line = lines(STARTS)["cell-100"]
    assert line.needed is not None and line.order_by is not None
    assert (line.needed - line.order_by).days >= 14
    assert line.needed >= date(2026, 3, 2)


@pytest.mark.parametrize(
    ("needed", "lead", "by"),
    [
        (date(2026, 3, 20), 14, date(2026, 3, 6)),
        (date(2026, 3, 22), 14, date(2026, 3, 6)),  # a Sunday less 14 days is a Sunday: the Friday before
        (date(2026, 3, 20), 13, date(2026, 3, 6)),  # the 7th is a Saturday
        (date(2026, 3, 20), 4, date(2026, 3, 13)),  # the 16th is closed, and a week-end before it
        (date(2026, 3, 20), None, None),
    ],
)
def test_the_last_day_of_ordering_is_a_working_day(needed: date, lead: int | None, by: date | None) -> None:
    """Lead times are calendar days; nobody orders on a closed day."""
    calendar = Calendar(date(2026, 3, 2), 480, frozenset(range(5)), frozenset({date(2026, 3, 16)}))
    assert calendar.order_day(needed, None if lead is None else lead * 86400) == by


def test_a_price_that_is_none_is_named() -> None:
    """It is not counted as nothing in silence."""
    order = order_of([Facts(small())])
    assert order.unknown == ()
    build = small()
    wrong = build.components["cell"].model_copy(update={"price": "about 400"})
    from dataclasses import replace

    told = order_of([Facts(replace(build, components={**build.components, "cell": wrong}))])
    assert "test: cell.price" in told.unknown[0]


@pytest.mark.parametrize(
    "text", ["129", "GBP 129", "129 gbp", "12,90 GBP", "1e3 GBP", "", None, "129 GBP/fortnight"]
)
def test_what_is_no_price(text: str | None) -> None:
    """An amount without a currency is no price."""
    assert read_money(text) is None


def test_two_vans_are_one_order() -> None:
    """The same part for two vans is one line; what has no entry in the catalogue stays its van's own."""
    from dataclasses import replace

    first = small()
    other = replace(first, header=first.header.model_copy(update={"build": "other"}))
    order = order_of([Facts(first), Facts(other)], whole=True)
    fans = [one for one in order.lines if one.item == "fan"]
    assert [(one.builds, one.numbers[SupplyState.to_order]) for one in fans] == [
        (("test", "other"), Decimal(2))
    ]
    assert [one.builds for one in order.lines if one.item == "shelf"] == [("other",), ("test",)]
