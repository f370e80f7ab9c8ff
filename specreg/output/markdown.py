"""The check as a short Markdown summary, to be read beside a change."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.model.field import Reader
from specreg.output import standing, words
from specreg.report import Inspection, Report, sort_of
from specreg.rules.result import Answer, Result

LONGEST = 50
"""How many findings are listed before the rest is only counted."""

SHOWN = ("errors", "warnings", "notes", "conceded", "open", "review", "answered")


def markdown(inspection: Inspection, *, everything: bool = False) -> str:
    """Return an inspection as Markdown; `everything` lists passes and every further finding."""
    parts = [f"# {words.TITLE}", *(_report(report, everything) for report in inspection.reports)]
    if inspection.problems:
        listed = "\n".join(f"- {escaped(problem.text())}" for problem in inspection.problems)
        parts.append(f"## Problems\n\nThese specs are not judged until they can be read.\n\n{listed}")
    return "\n\n".join(parts) + "\n"


def _report(report: Report, everything: bool) -> str:
    header = report.build.header
    lines = [
        f"## {escaped(header.build)}: {escaped(header.title)}",
        escaped(words.circumstances(report)),
        f"**{escaped(words.summary(report))}**",
    ]
    said = " ".join(part for part in (standing.against(report), standing.stopping(report)) if part)
    lines += [escaped(said)] if said else []
    lines += ["\n".join(f"- {escaped(one)}" for one in standing.mended(report))] if report.gone else []
    shown = [*SHOWN, "passes", "not_applicable"] if everything else SHOWN
    found = [result for sort in shown for result in report.results if sort_of(result) == sort]
    kept = found if everything else found[:LONGEST]
    if kept:
        lines.append("\n".join(_table(report, kept)))
    if len(found) > len(kept):
        lines.append(f"{len(found) - len(kept)} more are not listed here.")
    lines.append(f"{words.LIMITS} Not looked at: {escaped(' '.join(report.not_looked_at()))}")
    return "\n\n".join(lines)


def _table(report: Report, results: list[Result]) -> Iterator[str]:
    yield "| Answer | What | Where | Rule |"
    yield "| --- | --- | --- | --- |"
    for result in results:
        answer = words.answer_words(result) + standing.marked(report, result)
        cells = (answer, _what(result), f"`{result.place}`", f"`{result.rule}`")
        yield "| " + " | ".join(cells) + " |"


def _what(result: Result) -> str:
    parts = [words.statement(result)]
    if result.concession is not None:
        parts.append(f"Concession: {words.concession_words(result.concession)}.")
    elif result.sign_off is not None:
        parts.append(f"{words.sign_off_words(result.sign_off, Reader.public).capitalize()}.")
    elif result.remedy and result.answer is not Answer.passes:
        parts.append(result.remedy)
    return escaped(". ".join(part.rstrip(".") for part in parts) + ".")


def escaped(text: str) -> str:
    """Return a text with what Markdown would take for marks made plain, on one line."""
    plain = " ".join(text.split())
    for mark in "\\*_[]<>|#":
        plain = plain.replace(mark, f"\\{mark}")
    return plain
