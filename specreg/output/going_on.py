"""May we go on? The answer for the stage that an inspection was asked for, with what is missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.output import words
from specreg.report import Report
from specreg.rules.document import Level
from specreg.rules.result import Result

MOST = 12
"""How many matters are named; the findings above say all of them."""

ASKS = {
    "panels-close": "May the panels close",
    "energise": "May it be energised",
    "gas-on": "May the gas be turned on",
    "commissioning": "May commissioning begin",
    "hand-over": "May it be handed over",
}
"""What is asked at a hold point; at other stages, whether the build may go on to them."""


def asked_for(report: Report) -> bool:
    """Tell whether a report answers the question: at a hold point, or for another stage than the build's."""
    return report.stage.value in ASKS or report.stage is not report.build.header.stage


def against(results: Iterable[Result]) -> list[Result]:
    """Return what stands against going on: failures at level error that no concession covers."""
    return [result for result in results if result.failed and result.level is Level.error]


def going_on(report: Report) -> Iterator[str]:
    """Yield the question, the answer by what is written, and one line for each matter that stands against.

    No record of what the workshop knows already makes a matter lighter here.
    """
    asked = ASKS.get(report.stage.value, f"May it go on to {report.stage.value}")
    found = against(report.results)
    if not found:
        yield f"{asked}? By what is written, yes: nothing is missing or fails at level error.{_rest(report)}"
        return
    yield f"{asked}? No: {_reasons(found)}."
    for result in found[:MOST]:
        yield f"{_reason(result)}: {words.statement(result)} ({result.rule})"
    if len(found) > MOST:
        yield f"and {len(found) - MOST} more"


def _reasons(found: list[Result]) -> str:
    counted = {
        word: sum(_reason(one) == word for one in found) for word in ("missing", "not signed", "fails")
    }
    return ", ".join(f"{number} {_said(word, number)}" for word, number in counted.items() if number)


def _said(word: str, number: int) -> str:
    if word == "fails":
        return "fails at level error" if number == 1 else "fail at level error"
    return f"{'is' if number == 1 else 'are'} {word}"


def _reason(result: Result) -> str:
    return result.reason if result.reason in ("missing", "not signed") else "fails"


def _rest(report: Report) -> str:
    counts = report.counts
    said = [
        f"{number} {text}"
        for number, text in (
            (counts.warnings, "at level warning"),
            (counts.notes, "at level note"),
            (counts.conceded, "under a concession"),
        )
        if number
    ]
    return f" Still failing: {', '.join(said)}." if said else ""
