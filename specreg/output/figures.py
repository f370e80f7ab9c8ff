"""Facts as text for people and as rows for spreadsheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from specreg.facts.engine import Fact, Facts
from specreg.output.evidence import known_by
from specreg.output.rows import as_csv
from specreg.output.style import INDENT, Style
from specreg.output.value import machine, shortened, unit_name, worded, worded_as
from specreg.units import System

COLUMNS = (
    "build", "subject", "case", "name", "value", "unit", "text", "formula", "source", "assumptions", "missing"
)  # fmt: skip

FEW = 8
"""How many inputs of a figure are shown to people; JSON has them all."""

LONGEST = 200
"""Characters after which a list is cut for people."""


def figures_text(facts: Facts, found: Iterable[Fact], style: Style, about: str | None = None) -> str:
    """Return facts by subject, each with its value, formula and source; the unknown say what is missing.

    What does not arise for a subject is left out, unless it is asked about by its id.
    """
    header = facts.build.header
    lines = [style.tint(style.wrap(f"Figures of {header.build}, {header.title}"), "title")]
    for subject, group in groupby(found, key=lambda fact: fact.subject):
        called = f"{subject} ({facts.name_of(subject)})" if subject else "The whole build"
        lines += ["", style.tint(style.wrap(called), "title")]
        for fact in group:
            if fact.known or fact.missing or about is not None:
                lines += _fact(facts, fact, style)
    return "\n".join(lines) + "\n"


def _fact(facts: Facts, fact: Fact, style: Style) -> Iterator[str]:
    build, deeper = facts.build, INDENT * 2
    said = shortened(value_words(facts, fact), LONGEST)
    yield style.wrap(f"{_titled(fact)}: {said}", INDENT, deeper)
    if not fact.known:
        return
    if fact.inputs:
        system = System(build.header.units)
        used = [
            f"{one.name} {shortened(worded(one.value, one.dimension, system), LONGEST)}"
            f" ({known_by(build, one.name)})"
            for one in fact.inputs[:FEW]
        ]
        more = f"; {len(fact.inputs) - FEW} more" if len(fact.inputs) > FEW else ""
        yield style.wrap(f"from {'; '.join(used)}{more}", deeper, deeper)
    yield style.wrap(f"by {fact.kind.formula}; {fact.kind.source}", deeper, deeper)
    if fact.assumptions:
        yield style.wrap(shortened(f"assumed: {'; '.join(fact.assumptions)}", 4 * LONGEST), deeper, deeper)


def _titled(fact: Fact) -> str:
    return f"{fact.kind.title} ({fact.kind.name}{f', {fact.case}' if fact.case else ''})"


def value_words(facts: Facts, fact: Fact) -> str:
    """Return a fact's value for a person, or why there is none."""
    if fact.missing:
        return "not known: " + ", ".join(f"`{name}`" for name in fact.missing) + " not stated"
    if not fact.known:
        return f"not known: {fact.reason}"
    return worded_as(fact.value, fact.kind.gives, System(facts.build.header.units))


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
