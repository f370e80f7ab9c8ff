"""What a field means, and what is known of a component or a run, as Markdown."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from specreg.editor.fields import units_for, words
from specreg.editor.outline import Item, Span
from specreg.editor.reading import Reading
from specreg.editor.spot import Spot, spot
from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import kinds_for
from specreg.model.join import split_end
from specreg.model.kinds import kinds
from specreg.model.run import RUNS
from specreg.output.value import shortened, worded_as
from specreg.units import System

FIGURES = (
    "nominal_voltage", "running_current", "greatest_current", "energy_per_day", "supply_drop",
    "supply_drop_share", "whole_mass", "design_current", "ampacity", "derated_ampacity", "largest_device",
    "run_drop", "laid_length", "run_mass",
)  # fmt: skip
"""The figures of a component or a run that a person asks for most, in the order in which they are shown."""

LONGEST = 160


def hover(reading: Reading, file: Path, line: int, column: int) -> tuple[str, Span] | None:
    """Return what there is to say about the word at a place, as Markdown, and the piece it is about."""
    item = reading.outline(file).item_at(line, column)
    if item is None:
        return None
    about = spot(reading, file, item.path)
    on_key = item.key is not None and item.key.holds(line, column)
    span = item.key if on_key else item.value
    text = _of_key(reading, about) if on_key else _of_value(reading, about, item)
    return (text, span) if text and span else None


def _of_key(reading: Reading, about: Spot) -> str:
    if about.path[:1] == ("circuits",) and len(about.path) == 2:
        return of_subject(reading, about.file, str(about.path[1]))
    if about.entry and not about.rest:
        return of_subject(reading, about.file, about.subject) or _of_kind(about)
    return of_field(about)


def _of_value(reading: Reading, about: Spot, item: Item) -> str:
    key = about.path[-1]
    if key == "kind" and item.text in kinds():
        return _doc(kinds()[item.text], item.text)
    if key == "medium" and item.text in RUNS:
        return _doc(RUNS[item.text], item.text)
    if key == "part":
        return _of_part(reading, item.text)
    rule = reading.pack.by_identity().get(item.text) if reading.pack else None
    if rule is not None:
        return f"**{rule.identity}**: {rule.header.title}"
    named = of_subject(reading, about.file, split_end(item.text)[0]) if about.model else ""
    return named or of_field(about)


def of_field(about: Spot) -> str:
    """Return what a field means: its sentence, the units or words that it may have, an example."""
    found = about.meaning
    if found is None or found.field is None:
        return ""
    lines = [f"**{about.path[-1]}**: {found.field.description}"]
    if units := units_for(found.kind):
        lines.append(f"With a unit: {', '.join(units)}.")
    if listed := words(found.kind):
        lines.append(f"One of: {', '.join(listed)}.")
    if found.field.examples:
        lines.append(f"Example: `{found.field.examples[0]}`")
    return "\n\n".join(lines)


def _of_kind(about: Spot) -> str:
    return _doc(about.model, about.subject) if about.model else ""


def _doc(model: type, name: str) -> str:
    return f"**{name}**: {(model.__doc__ or '').strip()}"


def _of_part(reading: Reading, name: str) -> str:
    entry = reading.part(name)
    if entry is None:
        return ""
    lines = [f"**{name}**, from {entry.place.file}"]
    for key, inner in entry.entries.items():
        value = getattr(inner.node, "text", "")
        if value:
            lines.append(f"- {key}: {value}")
    return "\n".join([lines[0], "", *lines[1:]])


def of_subject(reading: Reading, file: Path, subject: str) -> str:
    """Return the main facts of a component or run; what is not known, or not asked yet, is left out."""
    van = reading.van_of(file)
    report = reading.reports.get(van.name) if van else None
    if van is None or van.build is None:
        return ""
    build = van.build
    model = build.components.get(subject) or build.runs.get(subject)
    if model is None:
        return ""
    word = getattr(model, "kind", None) or getattr(model, "medium", None)
    mark = build.designations.get(subject)
    title = f"**{subject}**, {word}" + (f", {mark}" if mark else "")
    lines = [title, *([model.title] if model.title else [])]
    facts = report.facts if report else None
    if facts is not None:
        lines += ["\n".join(_figures(facts, facts.subject(subject)))]
        lines += ["\n".join(_supplied(facts, subject))]
    elif van.problems:
        lines.append("Its figures are computed once the spec can be read without a problem.")
    return "\n\n".join(line for line in lines if line)


def _figures(facts: Facts, subject: Subject) -> Iterator[str]:
    known = kinds_for(type(subject.model))
    system = System(facts.build.header.units)
    for name in FIGURES:
        kind = known.get(name)
        if kind is None or kind.axis is not None:
            continue
        fact = facts.ask(subject, kind)
        if fact.known:
            said = shortened(worded_as(fact.value, kind.gives, system), LONGEST)
            yield f"- {kind.title}: {said}"


def _supplied(facts: Facts, subject: str) -> Iterator[str]:
    """Yield what a component is supplied from, and what it supplies."""
    from specreg.output.trace import trace  # noqa: PLC0415 - the graph library is slow to import

    found = trace(facts, subject)
    if subject in facts.build.components and found.trails:
        sources = dict.fromkeys(facts.name_of(trail.source) for trail in found.trails if trail.source)
        if sources:
            yield f"- Supplied from: {', '.join(sources)}"
    if found.supplies:
        listed = ", ".join(facts.name_of(one) for one in found.supplies)
        yield f"- Supplies: {shortened(listed, LONGEST)}"
