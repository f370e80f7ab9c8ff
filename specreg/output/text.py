"""The check of a written specification as text for people, each finding led by its place."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.model.build import Stage
from specreg.model.component import System
from specreg.output import standing, words
from specreg.output.evidence import figures
from specreg.output.going_on import asked_for, going_on
from specreg.output.joined import joined
from specreg.output.source import sources_words
from specreg.output.style import INDENT, Style
from specreg.output.value import shortened
from specreg.report import Inspection, Report, count, sort_of
from specreg.rules.result import Answer, Result

ORDER = ("errors", "warnings", "notes", "conceded", "open", "review", "answered", "passes", "not_applicable")
"""In which order results stand within a system."""

FEW = 6
"""How many figures are shown beside a finding unless all are asked for."""


LONGEST = 400
"""Characters after which the figures of a finding are cut."""

SAID_AGAIN = 2
"""How many assumptions are said again with each finding; longer lists are said once."""


def text(inspection: Inspection, style: Style | None = None, *, everything: bool = False) -> str:
    """Return the whole inspection as text; `everything` shows passes and what does not apply, too.

    What the accepted record knows takes one line each, unless everything is shown.
    """
    style = style or Style()
    parts = [one_report(report, style, everything=everything) for report in inspection.reports]
    return joined(parts, [one_line(report) for report in inspection.reports], inspection.unread, style)


def one_line(report: Report) -> str:
    """Return what came of one van in a line."""
    return f"{report.build.name}: {words.tally(report.counts)}"


def one_report(report: Report, style: Style, *, everything: bool = False) -> str:
    """Return the check of one van as text."""
    blocks = ["\n".join(_head(report, style))]
    said: set[str] = set()
    for system, results in report.by_system().items():
        blocks.append("\n".join(_system(report, system, results, style, everything, said)))
    if _early(report) and report.counts.open:
        blocks.append("\n".join(_wanted(report, style)))
    blocks.append("\n".join(_end(report, style)))
    return "\n\n".join(blocks)


def _head(report: Report, style: Style) -> Iterator[str]:
    yield style.tint(style.wrap(words.heading(report), after=""), "title")
    yield style.wrap(words.circumstances(report), after="")


def _early(report: Report) -> bool:
    return report.stage is Stage.enquiry


def _system(
    report: Report,
    system: System,
    results: tuple[Result, ...],
    style: Style,
    everything: bool,
    said: set[str],
) -> Iterator[str]:
    yield style.tint(style.wrap(f"{system.value}: {words.tally(count(results))}"), "title")
    for result in sorted(results, key=lambda result: ORDER.index(sort_of(result))):
        if everything or _shown(report, result):
            yield "\n".join(_finding(report, result, style, everything, said))


def _shown(report: Report, result: Result) -> bool:
    """Tell whether a result is shown when not all are asked for: at enquiry, most questions are open."""
    if result.answer is Answer.open:
        return not _early(report)
    return result.answer not in (Answer.passes, Answer.not_applicable)


def _finding(report: Report, result: Result, style: Style, everything: bool, said: set[str]) -> Iterator[str]:
    mark = standing.marked(report, result)
    lead = f"{result.place}: {words.answer_words(result)}{mark}: "
    line = style.wrap(lead + words.statement(result))
    coloured = style.tint(words.answer_words(result), _role(result))
    yield line.replace(words.answer_words(result), coloured, 1) if style.colour else line
    if mark and not everything:
        return
    for label, detail in _details(report, result, everything, said):
        yield style.wrap(f"{label}: {detail}", INDENT, INDENT * 2)


def _role(result: Result) -> str:
    if result.answer is Answer.fails:
        return result.level.value
    return "wait" if result.waiting else "quiet"


def _details(report: Report, result: Result, everything: bool, said: set[str]) -> Iterator[tuple[str, str]]:
    shown = figures(report.build, result.evidence)
    kept = shown if everything else shown[:FEW]
    more = f"; {len(shown) - len(kept)} more" if len(kept) < len(shown) else ""
    if shown and result.answer is not Answer.open:
        yield "Figures", shortened("; ".join(map(str, kept)), LONGEST) + more
    if result.assumptions:
        yield "Assumed", _assumed(result.assumptions, set() if everything else said)
    if result.concession is not None:
        yield "Concession", words.concession_words(result.concession)
    if result.sign_off is not None:
        yield "Sign-off", words.sign_off_words(result.sign_off)
    elif result.decides:
        yield "Who decides", result.decides
    if result.remedy and result.concession is None and result.answer is not Answer.passes:
        yield "Remedy", result.remedy
    if result.origin and result.answer not in (Answer.passes, Answer.not_applicable):
        yield "Taken from", ", ".join(map(str, result.origin))
    yield "Rule", _rule(report, result)


def _assumed(assumptions: tuple[str, ...], said: set[str]) -> str:
    """Say assumptions; of a long list only those that no finding above said, with how many it did."""
    before = said if len(assumptions) > SAID_AGAIN else set()
    again = [one for one in assumptions if one in before]
    fresh = [one for one in assumptions if one not in before]
    said.update(assumptions)
    return "; ".join([*fresh, *([f"{len(again)} more, said above"] if again and fresh else [])]) or (
        f"{len(again)} things, said above"
    )


def _rule(report: Report, result: Result) -> str:
    rule = report.rules.get(result.rule)
    return f"{result.rule}, after {sources_words(rule)}" if rule else result.rule


def _wanted(report: Report, style: Style) -> Iterator[str]:
    wanted = report.wanted()
    shown = wanted[: words.MOST_WANTED]
    yield style.tint(f"What would decide most: {len(shown)} of {len(wanted)} missing fields", "title")
    for one in shown:
        errors, whole = one.weight
        at_error = f", {errors} of them at level error" if errors else ""
        titles = "; ".join(one.titles[:2])
        yield style.wrap(
            f"`{one.field}` would help to decide {words.plural(whole, 'question')}{at_error}: {titles}",
            INDENT,
            INDENT * 2,
        )


def _end(report: Report, style: Style) -> Iterator[str]:
    yield style.tint(style.wrap(words.summary(report)), "title")
    for sentence in (standing.against(report), *standing.mended(report), standing.stopping(report)):
        if sentence:
            yield style.wrap(sentence)
    if asked_for(report):
        yield from (style.wrap(line, INDENT) for line in going_on(report))
    yield style.wrap(words.LIMITS, after="")
    yield style.wrap("Not looked at: " + " ".join(report.not_looked_at()), after="")
