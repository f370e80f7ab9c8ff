"""Results as JUnit XML, for servers that show tests: a suite for each van, a case for each result.

Only what stops the check counts as a failure there; what waits is skipped, with what it waits for, and so is
what the accepted record knows. What it knows and is no longer found stands in the suite's output.
"""

from __future__ import annotations

from collections.abc import Iterator
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from specreg.accepted import Standing
from specreg.model.field import Reader
from specreg.output import words
from specreg.output.by_van import Ended
from specreg.report import Report
from specreg.rules.result import Answer, Result
from specreg.source import Problem


class InJunit:
    """JUnit XML; `everything` keeps rules that do not apply, too."""

    between = "\n  "

    def __init__(self, *, everything: bool = False) -> None:
        self._everything = everything
        self._totals = dict.fromkeys(COUNTED, 0)

    def pieces(self, report: Report) -> Iterator[str]:
        """Yield a van's suite."""
        kept = (one for one in report.results if self._everything or one.answer is not Answer.not_applicable)
        suite = _suite(report.build.name, [_case(report, result) for result in kept])
        if report.gone:
            lines = [f"no longer found: {known.rule} {known.subject}: {known.says}" for known in report.gone]
            SubElement(suite, "system-out").text = _clean("\n".join(lines))
        yield self._counted(suite)

    def last(self, ended: Ended) -> Iterator[str]:
        """Yield a suite of what could not be read, where there is any."""
        if ended.problems:
            yield self._counted(_suite("spec", [_unreadable(problem) for problem in ended.problems]))

    def around(self, ended: Ended, *, some: bool) -> tuple[str, str]:
        """Return what stands around the suites."""
        root = Element("testsuites", name=words.TITLE)
        root.attrib.update({key: str(number) for key, number in self._totals.items()})
        root.extend([Element(HERE)] if some else [])
        indent(root)
        text = '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, encoding="unicode") + "\n"
        before, _, after = text.partition(f"<{HERE} />")
        return before, after

    def _counted(self, suite: Element) -> str:
        for key in COUNTED:
            self._totals[key] += int(suite.get(key, "0"))
        indent(suite, level=1)
        return tostring(suite, encoding="unicode").rstrip()


HERE = "here"
"""Stands for the suites while what is around them is made."""
COUNTED = ("tests", "failures", "errors", "skipped")
INSIDE = {"failures": "failure", "errors": "error", "skipped": "skipped"}


def _suite(name: str, cases: list[Element]) -> Element:
    suite = Element("testsuite", name=name, tests=str(len(cases)))
    for key, tag in INSIDE.items():
        suite.set(key, str(sum(case.find(tag) is not None for case in cases)))
    suite.extend(cases)
    return suite


def _case(report: Report, result: Result) -> Element:
    within = [part for part in (result.case, (result.jurisdiction or "").upper()) if part]
    name = " ".join([result.subject or report.build.name, *(f"[{part}]" for part in within)])
    group = f"{report.build.name}.{result.rule.replace('/', '.')}"
    case = Element("testcase", classname=_clean(group), name=_clean(name))
    said = _clean(f"{words.answer_words(result)}: {words.statement(result)}")
    if report.standing(result) in (Standing.unchanged, Standing.updated):
        SubElement(case, "skipped", message=f"in the accepted record: {said}")
    elif report.stops(result):
        failure = SubElement(case, "failure", type=result.level.value, message=said)
        failure.text = _clean(f"{result.place}: {said}\n{result.remedy}".strip())
    elif result.waiting or result.answer is Answer.not_applicable or result.concession is not None:
        SubElement(case, "skipped", message=said)
    elif result.answer is not Answer.passes:
        more = f"\n{words.sign_off_words(result.sign_off, Reader.public)}" if result.sign_off else ""
        SubElement(case, "system-out").text = _clean(f"{result.place}: {said}{more}")
    return case


def _unreadable(problem: Problem) -> Element:
    case = Element("testcase", classname="spec", name=_clean(str(problem.place or "request")))
    SubElement(case, "error", type="problem", message=_clean(problem.text()))
    return case


def _clean(text: str) -> str:
    """Return a text without the control characters that XML 1.0 cannot hold."""
    return "".join(c if c in "\t\n" or (ord(c) >= 0x20 and not _surrogate(c)) else "\ufffd" for c in text)


def _surrogate(character: str) -> bool:
    return 0xD800 <= ord(character) <= 0xDFFF or character in "\ufffe\uffff"
