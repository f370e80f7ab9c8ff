"""Checks, figures and rules as JSON; the shapes are in `specreg.output.shape`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import asdict
from datetime import date
from typing import Any, cast

from specreg import __version__
from specreg.facts.engine import Fact
from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.model.records import Concession, SignOff
from specreg.output import words
from specreg.output.by_van import Ended
from specreg.output.evidence import as_data, least_reader
from specreg.output.shape import (
    FORMAT,
    BuildFiguresData,
    ConcessionData,
    FactData,
    FigureData,
    FiguresData,
    InspectionData,
    KnownData,
    PlaceData,
    ProblemData,
    ReportData,
    ResultData,
    RuleData,
    RulesData,
    SignOffData,
    SourceData,
)
from specreg.output.value import machine, unit_name, worded
from specreg.report import Inspection, Report
from specreg.rules.pack import Pack, Rule
from specreg.rules.result import Result
from specreg.source import Place, Problem
from specreg.units import System


def dumps(data: Any) -> str:
    """Return JSON as it is written: keys in the order of their shape, no escapes for letters, no NaN."""
    return json.dumps(data, ensure_ascii=False, allow_nan=False, indent=2) + "\n"


HERE = "\0"
"""Stands for the members of a list while what is around them is made; no text of a spec holds it."""


def member(data: Any, inner: str) -> str:
    """Return a member of a list as it is written there; `inner` is the line's end with its indentation."""
    return dumps(data).rstrip("\n").replace("\n", inner)


def around(data: Any) -> tuple[str, str]:
    """Return what is written before and after the members of the list that holds HERE."""
    before, _, after = dumps(data).partition(json.dumps(HERE))
    return before, after


class InJson:
    """An inspection with every result, as far as a reader may see its figures."""

    _inner = "\n    "
    between = "," + _inner

    def __init__(self, reader: Reader = Reader.workshop) -> None:
        self._reader = reader

    def pieces(self, report: Report) -> Iterator[str]:
        """Yield a van's report."""
        yield member(report_data(report, self._reader), self._inner)

    def last(self, ended: Ended) -> Iterator[str]:
        """Yield nothing: problems are told after the vans."""
        yield from ()

    def around(self, ended: Ended, *, some: bool) -> tuple[str, str]:
        """Return what stands around the vans."""
        return around(_inspection_data([HERE] if some else [], ended))


def inspection_data(inspection: Inspection, reader: Reader = Reader.workshop) -> InspectionData:
    """Return an inspection with every result, as far as a reader may see its figures."""
    ended = Ended(inspection.unread, inspection.problems, inspection.exit_code)
    return _inspection_data([report_data(report, reader) for report in inspection.reports], ended)


def _inspection_data(builds: list[Any], ended: Ended) -> InspectionData:
    return InspectionData(
        format=FORMAT,
        specreg=__version__,
        title=words.TITLE,
        builds=builds,
        unread=list(ended.unread),
        problems=problems_data(ended.problems),
        exit_code=ended.exit_code,
    )


def report_data(report: Report, reader: Reader = Reader.workshop) -> ReportData:
    """Return the check of one van."""
    header = report.build.header
    data = ReportData(
        build=header.build,
        title=header.title,
        stage=header.stage.value,
        judged_for=report.stage.value,
        on=_day(report.on),
        revision=header.revision,
        jurisdictions=[word.value for word in header.jurisdictions],
        rules=len(report.pack.rules),
        counts=asdict(report.counts),
        summary=words.summary(report),
        results=[_standing(report, result, reader) for result in report.results],
        wanted=[
            {"field": one.field, "questions": one.weight[1], "at_error": one.weight[0]}
            for one in report.wanted()
        ],
        not_looked_at=list(report.not_looked_at()),
        stop_at=report.stop_at.value,
    )
    if report.record is not None:
        data["no_longer_found"] = [cast(KnownData, one.model_dump(mode="json")) for one in report.gone]
    return data


def _standing(report: Report, result: Result, reader: Reader) -> ResultData:
    data, standing = result_data(report.build, result, reader), report.standing(result)
    if standing is not None:
        data["standing"] = standing.value
    return data


def result_data(build: Build, result: Result, reader: Reader = Reader.workshop) -> ResultData:
    """Return one result."""
    return ResultData(
        rule=result.rule,
        title=result.title,
        system=result.system,
        level=result.level.value,
        answer=result.answer.value,
        reason=result.reason,
        subject=result.subject,
        subject_name=result.subject_name,
        designation=build.designations.get(result.subject),
        case=result.case,
        jurisdiction=result.jurisdiction,
        message=result.message,
        remedy=result.remedy,
        evidence=cast(list[FigureData], as_data(build, result.evidence, reader)),
        assumptions=list(result.assumptions),
        missing=list(result.missing),
        decides=result.decides,
        covers=result.fingerprint,
        sign_off=_sign_off(result.sign_off, reader) if result.sign_off else None,
        concession=_concession(result.concession) if result.concession else None,
        place=place_data(result.place),
        origin=[place_data(place) for place in result.origin],
    )


def _sign_off(signed: SignOff, reader: Reader) -> SignOffData:
    said = words.sign_off_words(signed, reader)
    return SignOffData(by=signed.by, date=_day(signed.date), expires_on=_day(signed.expires_on), words=said)


def _concession(given: Concession) -> ConcessionData:
    return ConcessionData(
        reason=given.reason,
        granted_by=given.granted_by,
        outside=given.outside,
        date=_day(given.date),
        until=_day(given.until),
    )


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


def place_data(place: Place) -> PlaceData:
    """Return a place."""
    return PlaceData(file=place.file, line=place.line, column=place.column)


def problems_data(problems: Iterable[Problem]) -> list[ProblemData]:
    """Return problems, each with its place."""
    return [
        ProblemData(
            place=place_data(one.place) if one.place else None,
            message=one.message,
            read=one.read,
            expected=one.expected,
            nearest=one.nearest,
            remedy=one.remedy,
        )
        for one in problems
    ]


def figures_data(
    builds: Iterable[tuple[Build, date | None, Iterable[Fact]]],
    unread: Iterable[str] = (),
    problems: Iterable[Problem] = (),
    reader: Reader = Reader.workshop,
) -> FiguresData:
    """Return the facts of vans."""
    return FiguresData(
        format=FORMAT,
        specreg=__version__,
        builds=[
            BuildFiguresData(
                build=build.name, on=_day(on), figures=[fact_data(build, fact, reader) for fact in facts]
            )
            for build, on, facts in builds
        ],
        unread=list(unread),
        problems=problems_data(problems),
    )


def fact_data(build: Build, fact: Fact, reader: Reader = Reader.workshop) -> FactData:
    """Return one fact with what it was computed from."""
    dimension = fact.kind.gives.dimension
    hidden = any(not reader.may_read(least_reader(build, one.name)) for one in fact.inputs)
    known = fact.known and not hidden
    return FactData(
        name=fact.kind.name,
        title=fact.kind.title,
        subject=fact.subject,
        case=fact.case,
        value=machine(fact.value, fact.kind.gives) if known else None,
        unit=unit_name(dimension),
        text=worded(fact.value, dimension, System(build.header.units)) if known else None,
        inputs=cast(list[FigureData], as_data(build, fact.inputs, reader)),
        formula=fact.kind.formula,
        source=fact.kind.source,
        assumptions=list(fact.assumptions),
        missing=list(fact.missing),
        reason="not for this reader" if hidden else fact.reason,
    )


def rules_data(pack: Pack, problems: Iterable[Problem] = ()) -> RulesData:
    """Return the rules of a pack."""
    return RulesData(
        format=FORMAT,
        specreg=__version__,
        rules=[rule_data(rule) for rule in pack.rules],
        problems=problems_data(problems),
    )


def rule_data(rule: Rule) -> RuleData:
    """Return one rule as its document states it."""
    header = rule.header
    return RuleData(
        rule=rule.identity,
        title=header.title,
        system=header.system.value,
        level=header.level.value,
        judges=header.judges,
        cases=header.cases.value if header.cases else None,
        jurisdictions=[word.value for word in header.jurisdictions],
        decides=header.decides,
        applies=header.applies,
        passes=header.passes,
        limits={name: dict(values) for name, values in header.limits.items()},
        open_from=header.open_from.value,
        signed_from=header.signed_from.value,
        concession=header.concession,
        formerly=list(header.formerly),
        sources=[
            SourceData(
                document=one.document, clause=one.clause, edition=one.edition, says=one.says, how=one.how
            )
            for one in header.sources
        ],
        document=rule.document.prose,
    )
