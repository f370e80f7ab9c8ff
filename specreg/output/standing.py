"""How a check stands against the accepted record, in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from specreg.accepted import Known, Standing
from specreg.output.words import plural
from specreg.report import Report
from specreg.rules.document import Level
from specreg.rules.result import Result


def marked(report: Report, result: Result) -> str:
    """Return what stands behind an answer: whether the record knows it."""
    standing = report.standing(result)
    words = {Standing.unchanged: ", known", Standing.updated: ", known but said otherwise"}
    return words.get(standing, "") if standing else ""


def against(report: Report) -> str:
    """Return in a sentence what is new, known and no longer found; empty without a record."""
    if report.record is None:
        return ""
    found = Counter(report.standing(result) for result in report.results)
    known = found[Standing.unchanged] + found[Standing.updated]
    return (
        f"Against {report.record.file}: {plural(found[Standing.new], 'failure')} new, {known} known, "
        f"{len(report.gone)} no longer found. A record is no concession: it permits nothing."
    )


def stopping(report: Report) -> str:
    """Return in a sentence what stops this check, where that is not told by the counts alone."""
    if report.stop_at is Level.error and report.record is None:
        return ""
    stops = sum(map(report.stops, report.results))
    new = "new " if report.record is not None else ""
    above = "" if report.stop_at is Level.error else " or above"
    verb = "stops" if stops == 1 else "stop"
    return f"{plural(stops, f'{new}failure')} at level {report.stop_at.value}{above} {verb} this check."


def mended(report: Report) -> Iterator[str]:
    """Yield a line for each thing that the record knows and is no longer found."""
    for known in report.gone:
        yield f"no longer found: {about(known)}"
    if report.gone and report.record is not None:
        yield f"`specreg accept --shrink --into {report.record.file}` takes out what is no longer found."


def about(known: Known) -> str:
    """Return what an entry of the record is about."""
    within = ", ".join(part for part in (known.case, known.jurisdiction.upper()) if part)
    return f"{known.says}{f' [{within}]' if within else ''} ({known.rule}, {known.build})"
