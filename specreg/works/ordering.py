"""What is still to be ordered for one van or many: by supplier and by the day until which it may wait."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from specreg.facts.engine import Facts
from specreg.model.component import SupplyState
from specreg.source import Problem
from specreg.works.bill import Bill, Line, bill_of, unused_materials
from specreg.works.calendar import Calendar
from specreg.works.money import Money, sums
from specreg.works.plan import Plan, plan_of


class OrderLine(NamedTuple):
    """One thing that is bought from one supplier, for all vans that need it.

    `numbers` say how much of it is in each state; `needed` is the first day on which any van needs what is
    not here yet, `order_by` the last working day on which it may be ordered for that.
    """

    item: str
    title: str
    unit: str
    supplier: str
    builds: tuple[str, ...]
    numbers: Mapping[SupplyState, Decimal]
    price: Money | None
    lead_time: float | None
    needed: date | None
    order_by: date | None

    @property
    def missing(self) -> bool:
        """Tell whether any of it is not here yet."""
        return bool(self.numbers[SupplyState.to_order] or self.numbers[SupplyState.ordered])

    @property
    def sum(self) -> Money | None:
        """Return the price of what is still to be ordered."""
        return self.price.times(self.numbers[SupplyState.to_order]) if self.price else None


class Order(NamedTuple):
    """What is to be ordered for some vans; `lines` hold all that they are made of."""

    builds: tuple[str, ...]
    lines: tuple[OrderLine, ...]
    assumptions: tuple[str, ...]
    unknown: tuple[str, ...]
    unused: tuple[str, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def missing(self) -> tuple[OrderLine, ...]:
        """Return the lines of which something is not here yet."""
        return tuple(one for one in self.lines if one.missing)

    @property
    def sums(self) -> tuple[Money, ...]:
        """Return the sums of what is still to be ordered, by currency."""
        return sums(one.sum for one in self.missing if one.sum)


def order_of(vans: Iterable[Facts], on: date | None = None, *, whole: bool = False) -> Order:
    """Return what some vans need, joined by thing, supplier, price and lead time.

    `whole` says that these are all vans of a register: then materials that none of them uses are named.
    """
    bills: dict[str, Bill] = {}
    plans: dict[str, Plan] = {}
    problems: list[Problem] = []
    works = []
    for facts in vans:
        bills[facts.build.name] = bill_of(facts)
        plan, found = plan_of(facts.build, on)
        problems += found
        works.append(facts.build.header.works)
        if plan is not None:
            plans[facts.build.name] = plan
    groups: dict[tuple[object, ...], list[Line]] = {}
    for bill in bills.values():
        for line in bill.lines:
            groups.setdefault(_key(line), []).append(line)
    lines = sorted((_line(group, plans) for group in groups.values()), key=_turn)
    return Order(
        tuple(bills),
        tuple(lines),
        tuple(dict.fromkeys(text for bill in bills.values() for text in bill.assumptions)),
        tuple(f"{name}: {text}" for name, bill in bills.items() for text in bill.unknown),
        unused_materials(bills, works) if whole else (),
        tuple(problems),
    )


def _key(line: Line) -> tuple[object, ...]:
    return (
        line.item,
        line.build if line.own else "",
        line.title,
        line.unit,
        line.supplier,
        line.price,
        line.lead_time,
    )


def _turn(line: OrderLine) -> tuple[object, ...]:
    last = date.max
    return line.supplier or "\uffff", line.order_by or last, line.needed or last, line.item, line.builds


def _line(group: list[Line], plans: Mapping[str, Plan]) -> OrderLine:
    first = group[0]
    numbers = {
        state: sum((one.number for one in group if one.state is state), Decimal()) for state in SupplyState
    }
    open_lines = [one for one in group if one.state in (SupplyState.to_order, SupplyState.ordered)]
    days = [
        (day, plans[one.build].calendar) for one in open_lines for day in _days(one, plans.get(one.build))
    ]
    needed = min((day for day, _ in days), default=None)
    latest = [by for day, calendar in days if (by := _by(calendar, day, first.lead_time)) is not None]
    builds = tuple(dict.fromkeys(one.build for one in group))
    return OrderLine(first.item, first.title, first.unit, first.supplier, builds, numbers, first.price,
                     first.lead_time, needed, min(latest, default=None))  # fmt: skip


def _by(calendar: Calendar | None, day: date, lead_time: float | None) -> date | None:
    return calendar.order_day(day, lead_time) if calendar else None


def _days(line: Line, plan: Plan | None) -> list[date]:
    """Return the days on which a plan needs what a line is for: a device when what it sits in is fitted."""
    if plan is None:
        return []
    needed = plan.needed()
    found = (needed.get(thing) or needed.get(thing.partition("/")[0]) for thing in line.things)
    return [day for day in found if day is not None]
