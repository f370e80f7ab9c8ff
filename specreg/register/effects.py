"""What a change does to a van: masses, energy, cost, findings that come and go, signed matters open again."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import isclose

from specreg.facts.axes import cases
from specreg.facts.engine import Fact, Facts
from specreg.facts.registry import kinds_for
from specreg.model.build import Build, Header
from specreg.rules.result import Answer, Result
from specreg.units import Dimension

FIGURES = (
    "laden_mass",
    "front_axle_load",
    "rear_axle_load",
    "daily_energy_use",
    "usable_energy",
    "least_days_without_charge",
    "most_days_without_charge",
)
"""The figures of the whole van that a change is told by."""

PRICE = re.compile(r"(?P<amount>\d+(?:\.\d+)?)\s*(?P<currency>[A-Z]{3})")
SAME = 1e-9


@dataclass(frozen=True)
class FigureChange:
    """A figure of the whole van on either side, in SI; None where it is not known, with what is missing."""

    name: str
    title: str
    case: str | None
    dimension: Dimension
    before: float | None
    after: float | None
    missing: tuple[str, ...]


@dataclass(frozen=True)
class CostChange:
    """The sum of the prices that components state, in one currency."""

    currency: str
    before: Decimal
    after: Decimal


@dataclass(frozen=True)
class Reopened:
    """A matter that was signed and is open again: who signed, and for what."""

    before: Result
    after: Result


def figure_changes(before: Facts, after: Facts) -> Iterator[FigureChange]:
    """Yield the figures that differ, or that are known on one side only."""
    for name in FIGURES:
        kind = kinds_for(Header)[name]
        for case in cases(kind.axis, after):
            one, two = (facts.ask(facts.whole.in_case(case), kind) for facts in (before, after))
            if not _same(one, two):
                missing = (*one.missing, *two.missing)
                yield FigureChange(name, kind.title, case, kind.gives.dimension or Dimension.plain,
                                   _number(one), _number(two), tuple(dict.fromkeys(missing)))  # fmt: skip


def _number(fact: Fact) -> float | None:
    return float(fact.value) if fact.known and isinstance(fact.value, int | float) else None


def _same(one: Fact, two: Fact) -> bool:
    before, after = _number(one), _number(two)
    if before is None or after is None:
        return before is None and after is None
    return before == after or isclose(before, after, rel_tol=SAME)


def cost_changes(before: Build, after: Build) -> tuple[CostChange, ...]:
    """Return the sums that differ, by currency."""
    one, two = _costs(before), _costs(after)
    found = [CostChange(each, one.get(each, Decimal()), two.get(each, Decimal())) for each in {**one, **two}]
    return tuple(
        sorted((each for each in found if each.before != each.after), key=lambda each: each.currency)
    )


def _costs(build: Build) -> dict[str, Decimal]:
    found: dict[str, Decimal] = {}
    for component in build.components.values():
        price = PRICE.fullmatch((component.price or "").strip())
        if price:
            amount = Decimal(price["amount"]) * component.count
            found[price["currency"]] = found.get(price["currency"], Decimal()) + amount
    return found


Key = tuple[str, str, str | None, str | None]
Standing = tuple[Answer, bool]
QUIET = (Answer.passes, Answer.not_applicable)


def _keyed(results: Sequence[Result], names: Mapping[str, str]) -> dict[Key, Result]:
    """Return results by rule, subject, case and jurisdiction, subjects by their new ids."""
    found = {}
    for one in results:
        owner, slash, inside = one.subject.partition("/")
        subject = f"{names.get(owner, owner)}{slash}{inside}"
        found[one.rule, subject, one.case, one.jurisdiction] = one
    return found


def _standing(result: Result | None) -> Standing | None:
    """Return what counts of an answer; nothing where it asks nothing of anybody."""
    if result is None or result.answer in QUIET or result.sign_off is not None:
        return None
    return result.answer, result.concession is not None


def finding_changes(
    before: Sequence[Result], after: Sequence[Result], names: Mapping[str, str]
) -> tuple[tuple[Result, ...], tuple[Result, ...], tuple[Reopened, ...]]:
    """Return findings that come, findings that go, and signed matters that are open again.

    A finding that changes its answer goes as what it was and comes as what it is.
    """
    one, two = _keyed(before, names), _keyed(after, {})
    come = [key for key, result in two.items() if _standing(result) not in (None, _standing(one.get(key)))]
    go = [key for key, result in one.items() if _standing(result) not in (None, _standing(two.get(key)))]
    again = [key for key in come if key in one and one[key].sign_off is not None]
    return (
        tuple(two[key] for key in come if key not in again),
        tuple(one[key] for key in go),
        tuple(Reopened(one[key], two[key]) for key in again),
    )
