"""The check as a short Markdown summary, to be read beside a change."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.model.field import Reader
from specreg.output import standing, words
from specreg.output.by_van import Ended
from specreg.report import Report, sort_of
from specreg.rules.result import Answer, Result

LONGEST = 50
"""How many findings are listed before the rest is only counted."""

SHOWN = ("errors", "warnings", "notes", "conceded", "open", "review", "answered")


class InMarkdown:
    """Markdown; `everything` lists passes and every further finding."""

    between = "\n\n"

    def __init__(self, *, everything: bool = False) -> None:
        self._everything = everything

    def pieces(self, report: Report) -> Iterator[str]:
        """Yield a van's part."""
        yield _report(report, self._everything)

    def last(self, ended: Ended) -> Iterator[str]:
        """Yield the problems, where there are any."""
        if ended.problems:
            listed = "\n".join(f"- {escaped(problem.text())}" for problem in ended.problems)
            yield f"## Problems\n\nThese specs are not judged until they can be read.\n\n{listed}"

    def around(self, ended: Ended, *, some: bool) -> tuple[str, str]:
        """Return the title, and the end of the last line."""
        return f"# {words.TITLE}" + (self.between if some else ""), "\n"


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
