"""Facts as text for people and as rows for spreadsheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from specreg.facts.engine import Fact, Facts
from specreg.output.evidence import known_by
from specreg.output.rows import as_csv
from specreg.output.style import INDENT, Style
from specreg.output.value import machine, unit_name, worded
from specreg.units import System

COLUMNS = (
    "build", "subject", "case", "name", "value", "unit", "text", "formula", "source", "assumptions", "missing"
)  # fmt: skip


def figures_text(facts: Facts, found: Iterable[Fact], style: Style) -> str:
    """Return facts by subject, each with its value, formula and source; the unknown say what is missing."""
    header = facts.build.header
    lines = [style.tint(style.wrap(f"Figures of {header.build}, {header.title}"), "title")]
    for subject, group in groupby(found, key=lambda fact: fact.subject):
        called = f"{subject} ({facts.name_of(subject)})" if subject else "The whole build"
        lines += ["", style.tint(style.wrap(called), "title")]
        for fact in group:
            lines += _fact(facts, fact, style)
    return "\n".join(lines) + "\n"


def _fact(facts: Facts, fact: Fact, style: Style) -> Iterator[str]:
    build, deeper = facts.build, INDENT * 2
    yield style.wrap(f"{_titled(fact)}: {value_words(facts, fact)}", INDENT, deeper)
    if not fact.known:
        return
    if fact.inputs:
        system = System(build.header.units)
        used = (
            f"{one.name} {worded(one.value, one.dimension, system)} ({known_by(build, one.name)})"
            for one in fact.inputs
        )
        yield style.wrap(f"from {'; '.join(used)}", deeper, deeper)
    yield style.wrap(f"by {fact.kind.formula}; {fact.kind.source}", deeper, deeper)
    if fact.assumptions:
        yield style.wrap(f"assumed: {'; '.join(fact.assumptions)}", deeper, deeper)


def _titled(fact: Fact) -> str:
    return f"{fact.kind.title} ({fact.kind.name}{f', {fact.case}' if fact.case else ''})"


def value_words(facts: Facts, fact: Fact) -> str:
    """Return a fact's value for a person, or why there is none."""
    if fact.missing:
        return "not known: " + ", ".join(f"`{name}`" for name in fact.missing) + " not stated"
    if not fact.known:
        return f"not known: {fact.reason}"
    return worded(fact.value, fact.kind.gives.dimension, System(facts.build.header.units))


def figures_csv(builds: Iterable[tuple[Facts, Iterable[Fact]]]) -> str:
    """Return facts as CSV, values in SI."""
    return as_csv(COLUMNS, (_row(facts, fact) for facts, found in builds for fact in found))


def _row(facts: Facts, fact: Fact) -> tuple[str, ...]:
    value = machine(fact.value, fact.kind.gives) if fact.known else None
    text = value_words(facts, fact) if fact.known else ""
    return (
        facts.build.name,
        fact.subject,
        fact.case or "",
        fact.kind.name,
        "" if value is None else str(value) if isinstance(value, int | float | str) else text,
        unit_name(fact.kind.gives.dimension) or "",
        text,
        fact.kind.formula,
        fact.kind.source,
        "; ".join(fact.assumptions),
        "; ".join(fact.missing) or fact.reason,
    )
