"""Batteries in series as one source: their voltages and resistances add, their current is the same."""

from __future__ import annotations

from specreg.facts.engine import Facts
from specreg.model.port import Terminal
from specreg.model.series import links, strings


def _strings(facts: Facts) -> dict[str, tuple[str, ...]]:
    return strings(facts.build)


def _links(facts: Facts) -> dict[str, str]:
    return {run: upper for run, upper, _ in links(facts.build)}


def string_of(facts: Facts, battery: str) -> tuple[str, ...]:
    """Return the batteries in series with one, from the top pole to the bottom one, itself included."""
    return facts.once(_strings)[battery]


def pole(facts: Facts, battery: str, core: str = "positive") -> Terminal:
    """Return the outer pole of a battery's string on a core."""
    found = facts.once(_strings)[battery]
    return Terminal(found[0 if core == "positive" else -1], core, core)


def string_over(facts: Facts, run: str) -> str | None:
    """Return the battery above a link in series; None for any other run."""
    return facts.once(_links).get(run)


def links_of(facts: Facts, battery: str) -> tuple[str, ...]:
    """Return the runs that link a battery's string."""
    members = string_of(facts, battery)
    return tuple(run for run, upper in facts.once(_links).items() if upper in members)
