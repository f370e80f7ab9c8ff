"""The limits of tests and matters, taken from the rules that judge them."""

from __future__ import annotations

import re
from typing import Literal, NamedTuple

from specreg.facts.recorded_tests import KNOWN
from specreg.model.build import Build
from specreg.rules.document import RuleSource
from specreg.rules.pack import Pack, Rule
from specreg.units import Dimension

Bound = Literal[">=", "<="]


class Limit(NamedTuple):
    """A limit of a rule: its name there, its value in SI, the jurisdiction whose value it is."""

    rule: str
    name: str
    value: float
    dimension: Dimension
    jurisdiction: str | None = None
    bound: Bound | None = None

    def kept_by(self, value: float) -> bool:
        """Tell whether a reading keeps it; without a bound nothing can be told, so it does."""
        if self.bound is None:
            return True
        return value >= self.value if self.bound == ">=" else value <= self.value


def held(build: Build) -> tuple[str, ...]:
    """Return the jurisdictions that a van is judged for."""
    return tuple(word.value for word in build.header.jurisdictions)


def limits_of(rule: Rule, jurisdiction: str | None) -> tuple[Limit, ...]:
    """Return every limit of a rule as it holds in a jurisdiction."""
    return tuple(
        Limit(
            rule.identity,
            name,
            value,
            rule.dimensions[name],
            _own(rule, name, jurisdiction),
            _bound(rule, name),
        )
        for name, value in rule.limits_in(jurisdiction).items()
    )


def _own(rule: Rule, name: str, jurisdiction: str | None) -> str | None:
    """Return the jurisdiction where the limit is its own; None where it is the same everywhere."""
    return jurisdiction if jurisdiction in rule.limits[name] else None


def _bound(rule: Rule, name: str) -> Bound | None:
    """Return on which side of a limit the judged figure must lie, where the condition says it plainly."""
    found = re.search(rf"(>=|<=) \(?limits\.{re.escape(name)}\b", rule.header.passes or "")
    return (">=" if found[1] == ">=" else "<=") if found else None


class Judges:
    """The rules of a pack by what a line of a sheet asks of them, looked through once."""

    def __init__(self, pack: Pack) -> None:
        self._named = pack.by_identity()
        self._reading: dict[str, Rule] = {}
        for rule in pack.rules:
            for fact in FACT_OF_BUILD.findall(rule.header.passes or ""):
                self._reading.setdefault(fact, rule)

    def named(self, identity: str) -> Rule | None:
        """Return the rule of an identity, an earlier one included; None where the pack has none."""
        return self._named.get(identity)

    def of_test(self, test: str) -> Rule | None:
        """Return the first rule that reads the records of a test; None where no rule does."""
        return self._reading.get(KNOWN[test].fact)


FACT_OF_BUILD = re.compile(r"\bbuild\.(\w+)")
"""A fact of the whole van within a condition."""


def strictest(rule: Rule, build: Build, name: str | None = None) -> Limit | None:
    """Return the limit of a rule, the strictest of the jurisdictions that the van is judged for.

    `name` chooses among several; without it the rule must have a single one.
    """
    if name is None and len(rule.limits) != 1:
        return None
    name = name or next(iter(rule.limits))
    found = [limit for where in held(build) for limit in limits_of(rule, where) if limit.name == name]
    if not found:
        return None
    choose = max if found[0].bound == ">=" else min
    return choose(found, key=lambda limit: limit.value)


def source_words(source: RuleSource) -> str:
    """Return a source with clause, edition and how its authors know."""
    where = ", ".join(part for part in (source.document, source.clause, source.edition) if part)
    return f"{where} ({source.how})" if where else source.how
