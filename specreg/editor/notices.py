"""Problems and findings as an editor shows them: where, how grave, by which rule, and what goes with them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import IntEnum
from pathlib import Path

from specreg.editor.outline import Span
from specreg.editor.reading import Reading
from specreg.rules.document import Level
from specreg.rules.result import Answer, Result
from specreg.source import Place, Problem
from specreg.source.problem import quoted


class Severity(IntEnum):
    """How an editor sets a notice (LSP 3.17, `DiagnosticSeverity`)."""

    error = 1
    warning = 2
    information = 3
    hint = 4


LEVELS = {
    Level.error: Severity.error,
    Level.warning: Severity.warning,
    Level.note: Severity.information,
}


@dataclass(frozen=True)
class Notice:
    """One problem or finding at a piece of a file; `related` are further places, each with a word."""

    file: Path
    span: Span
    severity: Severity
    message: str
    rule: str = ""
    related: tuple[tuple[Path, Span, str], ...] = ()
    text: tuple[str, ...] = field(default=(), repr=False, compare=False)
    """The lines of the file as they were read."""
    problem: Problem | None = field(default=None, compare=False)
    result: Result | None = field(default=None, compare=False)


def notices(reading: Reading) -> tuple[Notice, ...]:
    """Return everything that there is to say about a reading: problems first, then findings by the van."""
    shared = [_of_problem(reading, problem) for problem in reading.problems]
    own = [_of_problem(reading, one) for van in reading.vans.values() for one in van.problems]
    found = [
        _of_result(reading, result)
        for report in reading.reports.values()
        for result in report.results
        if _worth_saying(result)
    ]
    return tuple(dict.fromkeys((*shared, *own, *found)))


def _worth_saying(result: Result) -> bool:
    return result.answer is Answer.fails or result.waiting


def _of_problem(reading: Reading, problem: Problem) -> Notice:
    place = problem.place or Place(reading.shown(reading.home / "register.yaml"), 1, 1)
    return Notice(
        reading.file(place),
        span_of(reading, place),
        Severity.error,
        _worded(problem),
        text=reading.outline(reading.file(place)).lines,
        problem=problem,
    )


def _worded(problem: Problem) -> str:
    """Return a problem without its place, which the editor shows itself."""
    said = [problem.message]
    said += [f"read {quoted(problem.read)}"] if problem.read is not None else []
    said += [f"expected {problem.expected}"] if problem.expected else []
    said += [f"nearest is {quoted(problem.nearest)}"] if problem.nearest else []
    return "\n".join([*said, *([problem.remedy] if problem.remedy else [])])


def _of_result(reading: Reading, result: Result) -> Notice:
    lines = [result.message or result.title]
    if result.case:
        lines[0] += f" ({result.case})"
    if result.concession:
        lines.append(f"Conceded: {result.concession.reason}")
    elif result.remedy:
        lines.append(result.remedy)
    return Notice(
        reading.file(result.place),
        span_of(reading, result.place),
        _severity(result),
        "\n".join(lines),
        result.rule,
        tuple(_related(reading, result)),
        text=reading.outline(reading.file(result.place)).lines,
        result=result,
    )


def _severity(result: Result) -> Severity:
    """Return the level's severity; what is conceded informs, what waits is a hint."""
    if result.answer is not Answer.fails:
        return Severity.hint
    return Severity.information if result.concession else LEVELS[result.level]


def _related(reading: Reading, result: Result) -> Iterator[tuple[Path, Span, str]]:
    """Yield the places behind what was judged: its part, its assembly, where that was asked for."""
    for place in dict.fromkeys(result.origin):
        if place != result.place:
            yield reading.file(place), span_of(reading, place), _whence(place)


def _whence(place: Place) -> str:
    folder = Path(place.file).parent.name
    words = {"parts": "from this part of the catalogue", "assemblies": "from this assembly"}
    return words.get(folder, "asked for here")


def span_of(reading: Reading, place: Place) -> Span:
    """Return the piece of text that a place points at, counted from 0."""
    return reading.outline(reading.file(place)).span_at(place.line - 1, place.column - 1)
