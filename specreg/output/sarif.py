"""Results as SARIF 2.1.0 (OASIS), for tools that show findings beside the lines they speak of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any
from urllib.parse import quote

from specreg import __version__
from specreg.accepted import Key, Known, Standing, key_of
from specreg.model.field import Reader
from specreg.output import words
from specreg.output.as_json import HERE, around, member
from specreg.output.by_van import Ended
from specreg.output.evidence import figures
from specreg.output.source import sources_words
from specreg.report import Inspection, Report
from specreg.rules.pack import Pack, Rule
from specreg.rules.result import Answer, Result
from specreg.source import Place, Problem

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
ROOT = "%SRCROOT%"
"""The base that file names are relative to; whoever reads the log says where it lies."""

FINGERPRINT = "ruleSubjectCase/v1"
"""The name of our mark of a finding."""

Data = dict[str, Any]


class InSarif:
    """A SARIF log with one run; `everything` keeps passes and what does not apply.

    People's names stay out of it unless the reader may know them: such logs are sent to services.
    """

    _inner = "\n        "
    between = "," + _inner

    def __init__(self, *, everything: bool = False, reader: Reader = Reader.public) -> None:
        self._everything = everything
        self._reader = reader
        self._pack = Pack(())
        self._index: dict[str, int] = {}
        self._gone: list[Known] = []

    def pieces(self, report: Report) -> Iterator[str]:
        """Yield a van's results."""
        yield from (member(data, self._inner) for data in self.results(report))

    def last(self, ended: Ended) -> Iterator[str]:
        """Yield what the record knows and the check no longer finds."""
        yield from (member(data, self._inner) for data in self.absent())

    def around(self, ended: Ended, *, some: bool) -> tuple[str, str]:
        """Return what stands around the results."""
        return around(self.log([HERE] if some else [], ended))

    def results(self, report: Report) -> Iterator[Data]:
        """Yield a van's results as data."""
        if report.pack is not self._pack:
            self._pack = report.pack
            self._index = {rule.identity: number for number, rule in enumerate(report.pack.rules)}
        self._gone += report.gone
        for result in report.results:
            if self._everything or result.answer not in (Answer.passes, Answer.not_applicable):
                yield _result(report, result, self._index, self._reader)

    def absent(self) -> Iterator[Data]:
        """Yield what is no longer found, as data."""
        yield from (_absent(known, self._index) for known in self._gone)

    def log(self, results: list[Any], ended: Ended) -> Data:
        """Return the log of some results."""
        driver = {
            "name": "specreg",
            "semanticVersion": __version__,
            "shortDescription": {"text": words.TITLE},
            "rules": [_rule(rule) for rule in self._pack.rules],
        }
        run = {
            "tool": {"driver": driver},
            "columnKind": "unicodeCodePoints",
            "originalUriBaseIds": {ROOT: {"description": {"text": "The folder that specreg was run in."}}},
            "invocations": [_invocation(ended)],
            "results": results,
        }
        return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def sarif(inspection: Inspection, *, everything: bool = False, reader: Reader = Reader.public) -> Data:
    """Return an inspection as a SARIF log, as data."""
    form = InSarif(everything=everything, reader=reader)
    results = [data for report in inspection.reports for data in form.results(report)]
    ended = Ended(inspection.unread, inspection.problems, inspection.exit_code)
    return form.log([*results, *form.absent()], ended)


def _rule(rule: Rule) -> Data:
    prose = rule.document.prose
    sources = sources_words(rule)
    return {
        "id": rule.identity,
        "shortDescription": {"text": _sentence(rule.header.title)},
        "fullDescription": {"text": _sentence(rule.header.title)},
        "help": {"text": f"{prose}\n\nSource: {sources}", "markdown": f"{prose}\n\n*Source: {sources}*"},
        "defaultConfiguration": {"level": rule.header.level.value},
        "properties": {"tags": [rule.header.system.value]},
    }


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _invocation(ended: Ended) -> Data:
    notes = [_notification(problem) for problem in ended.problems]
    return {
        "executionSuccessful": not notes,
        "exitCode": ended.exit_code,
        **({"toolExecutionNotifications": notes} if notes else {}),
    }


def _notification(problem: Problem) -> Data:
    bare = Problem(None, problem.message, problem.read, problem.expected, problem.nearest, problem.remedy)
    where = {"locations": [_location(problem.place)]} if problem.place else {}
    return {"level": "error", "message": {"text": bare.text().removeprefix("problem: ")}, **where}


def _result(report: Report, result: Result, index: dict[str, int], reader: Reader) -> Data:
    failed = result.answer is Answer.fails
    data: Data = {
        "ruleId": result.rule,
        "ruleIndex": index[result.rule],
        "kind": result.answer.value,
        "level": result.level.value if failed else "none",
        "message": {"text": _message(report, result, reader)},
        "locations": [_location(result.place, report, result)],
        "partialFingerprints": {FINGERPRINT: fingerprint(report.build.name, result)},
        "suppressions": list(_suppressions(result)),
        "properties": dict(_properties(report, result, reader)),
    }
    if result.origin:
        data["relatedLocations"] = [_location(place) for place in dict.fromkeys(result.origin)]
    standing = report.standing(result)
    if standing is not None:
        data["baselineState"] = standing.value
    return data


def _absent(known: Known, index: dict[str, int]) -> Data:
    """Return what the record knows and the check no longer finds: it has no place any more."""
    name = f"{known.build}/{known.subject}" if known.subject else known.build
    return {
        "ruleId": known.rule,
        **({"ruleIndex": index[known.rule]} if known.rule in index else {}),
        "kind": "fail",
        "level": known.level.value,
        "message": {"text": _sentence(known.says)},
        "locations": [{"logicalLocations": [{"fullyQualifiedName": name}]}],
        "partialFingerprints": {FINGERPRINT: _mark(known.key)},
        "baselineState": Standing.absent.value,
    }


def fingerprint(build: str, result: Result) -> str:
    """Return a mark of a finding that stays when lines move: build, rule, subject, case, jurisdiction."""
    return _mark(key_of(build, result))


def _mark(key: Key) -> str:
    return sha256("\x00".join(key).encode()).hexdigest()[:32]


def _message(report: Report, result: Result, reader: Reader) -> str:
    parts = [_sentence(words.statement(result))]
    if result.sign_off is not None:
        parts.append(_sentence(words.sign_off_words(result.sign_off, reader).capitalize()))
    elif result.decides:
        parts.append(f"Who decides: {result.decides}.")
    if result.remedy:
        parts.append(_sentence(result.remedy))
    return " ".join(parts)


def _location(place: Place, report: Report | None = None, result: Result | None = None) -> Data:
    file = place.file.removeprefix("./")
    region = {"startLine": max(place.line, 1), "startColumn": max(place.column, 1)}
    artifact = {"uri": quote(file, safe="/-._~"), "uriBaseId": ROOT}
    data: Data = {"physicalLocation": {"artifactLocation": artifact, "region": region}}
    if report is not None and result is not None:
        name = result.subject or report.build.name
        data["logicalLocations"] = [{"name": name, "fullyQualifiedName": _qualified(report, result)}]
    return data


def _qualified(report: Report, result: Result) -> str:
    return f"{report.build.name}/{result.subject}" if result.subject else report.build.name


def _suppressions(result: Result) -> Iterator[Data]:
    """A concession is a suppression that stands outside the file and was accepted, with its reason."""
    if result.concession is not None:
        said = words.concession_words(result.concession)
        yield {"kind": "external", "status": "accepted", "justification": said}


def _properties(report: Report, result: Result, reader: Reader) -> Iterable[tuple[str, Any]]:
    shown = figures(report.build, result.evidence, reader)
    yield "build", report.build.name
    yield "system", result.system
    if result.reason:
        yield "reason", result.reason
    if shown:
        yield "evidence", [str(figure) for figure in shown]
    if result.missing:
        yield "missing", list(result.missing)
