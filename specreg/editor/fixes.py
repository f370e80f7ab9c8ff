"""What can be mended by a plain change of the text, where the right text is known."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from specreg.editor.notices import Notice, span_of
from specreg.editor.outline import Span
from specreg.editor.reading import Reading, Van
from specreg.source import at, place_of

BARE_NUMBER = re.compile(r"[-+−]?[0-9]+(\.[0-9]+)?")
UNITS = re.compile(r"a unit such as (.+)")
MOST_UNITS = 4


@dataclass(frozen=True)
class Fix:
    """One change of a text: what it is called, and what is replaced by what."""

    title: str
    file: Path
    span: Span
    text: str
    is_plain: bool = True
    """False where a person has to decide first; an editor never offers such a change as the preferred one."""


def fixes(reading: Reading, notice: Notice) -> tuple[Fix, ...]:
    """Return the changes that would answer a notice."""
    if notice.problem is not None:
        return (*_nearest(reading, notice), *_units(reading, notice))
    return tuple(_signed_again(reading, notice))


def _written(reading: Reading, notice: Notice) -> str:
    lines = reading.outline(notice.file).lines
    line = lines[notice.span.line] if notice.span.line < len(lines) else ""
    return line[notice.span.start : notice.span.end]


def _nearest(reading: Reading, notice: Notice) -> Iterator[Fix]:
    """Yield the change of a word for the nearest right one."""
    problem = notice.problem
    if problem is None or problem.nearest is None or problem.read is None:
        return
    text = _written(reading, notice)
    start = text.find(problem.read)
    if start < 0:
        return
    begin, end = start, start + len(problem.read)
    component, slash, _ = problem.read.partition("/")
    if slash and "/" not in problem.nearest:  # one half of an end: the component, or its port
        if problem.expected == "the id of a component":
            end = start + len(component)
        else:
            begin = start + len(component) + 1
    if problem.expected is not None and UNITS.fullmatch(problem.expected):
        begin += len(re.match(r"[-+−0-9./ ]*", problem.read)[0])  # type: ignore[index]
    span = Span(notice.span.line, notice.span.start + begin, notice.span.start + end)
    if span.start < span.end:
        yield Fix(f"Write `{problem.nearest}`", notice.file, span, problem.nearest)


def _units(reading: Reading, notice: Notice) -> Iterator[Fix]:
    """Yield a choice of units for a number that has none."""
    expected = notice.problem.expected if notice.problem else None
    units = UNITS.fullmatch(expected or "")
    text = _written(reading, notice)
    if units is None or not BARE_NUMBER.fullmatch(text):
        return
    at_end = Span(notice.span.line, notice.span.end, notice.span.end)
    for unit in units[1].split(", ")[:MOST_UNITS]:
        unit_only = re.sub(r"^[0-9./]+ ", "", unit)
        yield Fix(f"Write `{text} {unit_only}`", notice.file, at_end, f" {unit_only}", is_plain=False)


def _signed_again(reading: Reading, notice: Notice) -> Iterator[Fix]:
    """Yield the new mark for a sign-off that no longer covers what is there; a person must have looked."""
    result, van = notice.result, _judged(reading, notice)
    if result is None or not result.fingerprint or van is None or van.build is None or van.tree is None:
        return
    rule = reading.pack.by_identity().get(result.rule) if reading.pack else None
    names = (result.rule, *(rule.header.formerly if rule else ()))
    for index, record in enumerate(van.build.header.records.sign_offs):
        named = record.matter in names and (record.target or "") == result.subject
        if named and record.covers != result.fingerprint:
            yield from _marked(reading, van, index, result.fingerprint)


def _judged(reading: Reading, notice: Notice) -> Van | None:
    """Return the build that a finding is about."""
    for name, report in reading.reports.items():
        if any(one is notice.result for one in report.results):
            return reading.vans[name]
    return None


def _marked(reading: Reading, van: Van, index: int, mark: str) -> Iterator[Fix]:
    assert van.tree is not None
    path = ("records", "sign_offs", index)
    title = f"Sign again after looking: put the mark {mark} into this sign-off"
    if at(van.tree, (*path, "covers")) is not None:
        place = place_of(van.tree, (*path, "covers"))
        yield Fix(title, reading.file(place), span_of(reading, place), mark, is_plain=False)
        return
    place = place_of(van.tree, (*path, "matter"))
    file, span = reading.file(place), span_of(reading, place)
    line = reading.outline(file).lines[span.line]
    in_braces = "{" in line[: span.start]
    column = len(re.match(r"[\s-]*", line)[0])  # type: ignore[index]
    text = f", covers: {mark}" if in_braces else f"\n{' ' * column}covers: {mark}"
    yield Fix(title, file, Span(span.line, span.end, span.end), text, is_plain=False)
