"""What came of checking one van, or several: results, counts, and what the caller is told at the end."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from specreg.accepted import Key, Known, Record, Standing, key_of
from specreg.facts.engine import Facts
from specreg.model.build import SYSTEMS, Build, Stage
from specreg.model.component import System
from specreg.rules.document import Level
from specreg.rules.pack import Pack, Rule
from specreg.rules.result import Answer, Result
from specreg.source import Problem

FINE, FAILS, UNREADABLE = 0, 1, 2
"""Exit codes: nothing fails at error; something does; the request or a spec cannot be read."""

LEVELS = (Level.error, Level.warning, Level.note)


@dataclass(frozen=True)
class Counts:
    """How many results there are of each sort; every result is in exactly one of them."""

    errors: int
    """Failures at level error that no concession covers; the other two levels likewise."""
    warnings: int
    notes: int
    conceded: int
    open: int
    review: int
    """Matters that wait for a competent person."""
    answered: int
    """Matters that a sign-off answers."""
    passes: int
    not_applicable: int

    @property
    def fails(self) -> int:
        """Return the failures at any level that no concession covers."""
        return self.errors + self.warnings + self.notes


def sort_of(result: Result) -> str:
    """Return the name of the count that a result belongs to."""
    if result.answer is Answer.fails:
        return "conceded" if result.concession else f"{result.level.value}s"
    if result.answer is Answer.review:
        return "answered" if result.sign_off else "review"
    return _SORTS[result.answer]


_SORTS = {Answer.open: "open", Answer.passes: "passes", Answer.not_applicable: "not_applicable"}


def count(results: Iterable[Result]) -> Counts:
    """Count results by their sort."""
    found = Counter(sort_of(result) for result in results)
    return Counts(**{name: found[name] for name in Counts.__dataclass_fields__})


@dataclass(frozen=True)
class Wanted:
    """A field that is not stated, with the open questions that it would help to decide."""

    field: str
    results: tuple[Result, ...]

    @property
    def rank(self) -> tuple[int, ...]:
        """Return how many questions it would decide at level error, warning and note."""
        return tuple(sum(result.level is level for result in self.results) for level in LEVELS)

    @property
    def titles(self) -> tuple[str, ...]:
        """Return what it would help to decide, each once, the gravest first."""
        gravest = sorted(self.results, key=lambda result: LEVELS.index(result.level))
        return tuple(dict.fromkeys(result.title for result in gravest))

    @property
    def weight(self) -> tuple[int, int]:
        """Return how much it would decide: questions at level error, then questions in all."""
        return sum(result.level is Level.error for result in self.results), len(self.results)


@dataclass(frozen=True)
class Report:
    """The check of one van's written specification.

    `stage` is the stage that it was judged for, `on` the day; `pack` holds the rules that were asked.
    `stop_at` is the level from which a failure counts at the end, `record` what the workshop knows already.
    """

    build: Build
    results: tuple[Result, ...]
    facts: Facts
    pack: Pack
    stage: Stage
    on: date | None
    stop_at: Level = Level.error
    record: Record | None = None

    @cached_property
    def counts(self) -> Counts:
        """Return how many results there are of each sort."""
        return count(self.results)

    @cached_property
    def rules(self) -> dict[str, Rule]:
        """Return the rules by identity."""
        return self.pack.by_identity()

    def by_system(self) -> dict[System, tuple[Result, ...]]:
        """Return the results of each system that has any, in the fixed order of systems."""
        found = {system: tuple(r for r in self.results if r.system == system.value) for system in System}
        return {system: results for system, results in found.items() if results}

    def wanted(self) -> tuple[Wanted, ...]:
        """Return the fields that are missing, those that would decide most first.

        At enquiry nothing is built: what only a record of the finished van says comes last.
        """
        early = self.stage is Stage.enquiry
        waiting: dict[str, list[Result]] = {}
        for result in self.results:
            for name in dict.fromkeys(result.missing):
                waiting.setdefault(name, []).append(result)
        fields = [Wanted(name, tuple(results)) for name, results in waiting.items()]
        return tuple(
            sorted(
                fields,
                key=lambda one: (
                    early and one.field.startswith("records."),
                    tuple(-part for part in one.rank),
                    one.field,
                ),
            )
        )

    def not_looked_at(self) -> tuple[str, ...]:
        """Return what this check has not looked at, in sentences."""
        declared = self.build.header.systems
        unsaid = [name for name in SYSTEMS if name not in (*declared.present, *declared.none)]
        judged = {rule.header.system for rule in self.pack.rules}
        unjudged = [system.value for system in System if system not in judged]
        said = ["The vehicle itself: joints, crimps, torques, tightness, fastenings, what panels hide."]
        if unsaid:
            said.append(f"Systems that the spec declares neither present nor absent: {', '.join(unsaid)}.")
        if unjudged:
            said.append(f"Systems that no rule here speaks of: {', '.join(unjudged)}.")
        return tuple(said)

    @cached_property
    def known(self) -> Mapping[Key, Known]:
        """Return what the record knows of this van; nothing where there is no record."""
        return self.record.of(self.build, self.pack) if self.record else {}

    def standing(self, result: Result) -> Standing | None:
        """Return how a failure stands against the record; None without one, and for what is no failure."""
        if self.record is None or not result.failed:
            return None
        known = self.known.get(key_of(self.build.name, result))
        if known is None or known.reason != result.reason:
            return Standing.new
        if LEVELS.index(result.level) < LEVELS.index(known.level):
            return Standing.new
        return Standing.unchanged if known.says == (result.message or result.title) else Standing.updated

    def stops(self, result: Result) -> bool:
        """Tell whether a result counts at the end: a failure of that weight that the record does not know."""
        heavy = LEVELS.index(result.level) <= LEVELS.index(self.stop_at)
        return result.failed and heavy and self.standing(result) in (None, Standing.new)

    @cached_property
    def gone(self) -> tuple[Known, ...]:
        """Return what the record knows and this check no longer finds."""
        found = {key_of(self.build.name, result) for result in self.results if result.failed}
        return tuple(known for key, known in self.known.items() if key not in found)

    @property
    def exit_code(self) -> int:
        """Return 1 where something stops: by default a failure at level error that no concession covers."""
        return FAILS if any(map(self.stops, self.results)) else FINE


@dataclass(frozen=True)
class Inspection:
    """The checks of every build that was asked for, with the problems of those that could not be read."""

    reports: tuple[Report, ...]
    unread: tuple[str, ...]
    problems: tuple[Problem, ...]

    @property
    def exit_code(self) -> int:
        """Return 2 where anything could not be read, else the highest of the reports'."""
        if self.problems or self.unread:
            return UNREADABLE
        return max((report.exit_code for report in self.reports), default=FINE)
