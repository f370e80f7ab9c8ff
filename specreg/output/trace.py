"""What supplies a component, what it supplies, what isolates it and what stops with it, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from specreg import __version__
from specreg.facts.engine import Facts
from specreg.facts.schedule import supply_of
from specreg.graph.supply import Step, Trail, downstream, isolated_by, stops_with, upstream
from specreg.output.shape import FORMAT
from specreg.output.style import INDENT, Style


@dataclass(frozen=True)
class Trace:
    """The answers about one component, run or device; a run or a device only stops things."""

    subject: str
    trails: tuple[Trail, ...]
    isolated_by: tuple[Step, ...]
    supplies: tuple[str, ...]
    stops: tuple[str, ...]


def trace(facts: Facts, subject: str) -> Trace:
    """Return the answers about a component, a run, or a fuse or breaker."""
    of = facts.once(supply_of)
    if subject not in facts.build.components:
        return Trace(subject, (), (), (), stops_with(of, subject))
    return Trace(
        subject,
        upstream(of, subject),
        isolated_by(of, subject),
        downstream(of, subject),
        stops_with(of, subject),
    )


def traceable(facts: Facts) -> tuple[str, ...]:
    """Return every id that can be traced, in the order of the spec."""
    return (*facts.build.components, *facts.build.runs, *facts.devices)


def trace_text(facts: Facts, found: Trace, style: Style) -> str:
    """Return the answers as text."""
    return "\n".join(_lines(facts, found, style)) + "\n"


def _lines(facts: Facts, found: Trace, style: Style) -> Iterator[str]:
    place = facts.build.key_place(found.subject.partition("/")[0])
    called = facts.name_of(found.subject)
    yield style.tint(style.wrap(f"{place}: {found.subject} ({called})"), "title")
    if found.subject in facts.build.components:
        for trail in found.trails:
            said = f"Supplied at {trail.port} ({trail.medium.value}) {_way(trail)}"
            yield style.wrap(said, INDENT, INDENT * 2)
        if not found.trails:
            yield f"{INDENT}Needs no supply."
        yield style.wrap(f"Isolated by: {_steps(found.isolated_by)}", INDENT, INDENT * 2)
        yield style.wrap(f"Supplies: {_names(found.supplies)}", INDENT, INDENT * 2)
    yield style.wrap(f"Stops with it: {_names(found.stops)}", INDENT, INDENT * 2)


def _way(trail: Trail) -> str:
    if not trail.steps:
        return "by nothing: no source reaches it"
    return "by " + _steps(trail.steps, ", then ")


def _steps(steps: Iterable[Step], between: str = ", ") -> str:
    return between.join(dict.fromkeys(f"{step.form} {step.id}" for step in steps)) or "nothing"


def _names(names: tuple[str, ...]) -> str:
    return ", ".join(names) or "nothing"


def trace_data(traces: Iterable[tuple[Facts, Trace]]) -> dict[str, Any]:
    """Return the answers about one id in one or more vans as plain data."""
    builds = [_one(facts, found) for facts, found in traces]
    return {"format": FORMAT, "specreg": __version__, "builds": builds}


def _one(facts: Facts, found: Trace) -> dict[str, Any]:
    supplied = [
        {"port": one.port, "medium": one.medium.value, "source": one.source, "steps": _data(one.steps)}
        for one in found.trails
    ]
    return {
        "build": facts.build.name,
        "subject": found.subject,
        "supplied": supplied,
        "isolated_by": _data(found.isolated_by),
        "supplies": list(found.supplies),
        "stops": list(found.stops),
    }


def _data(steps: Iterable[Step]) -> list[dict[str, str]]:
    return [{"form": step.form, "id": step.id} for step in steps]
