"""The shapes of the JSON that specreg writes; `specreg schema --of` publishes them.

`format` goes up when a key changes its meaning or goes away; a key that is added leaves it as it is.
"""

from __future__ import annotations

from typing import Any, Literal, NotRequired

from typing_extensions import TypedDict

FORMAT: Literal[1] = 1


class PlaceData(TypedDict):
    """Where something is written; lines and columns count from 1, columns in code points."""

    file: str
    line: int
    column: int


class ProblemData(TypedDict):
    """What is wrong with a spec, a rule or a request."""

    place: PlaceData | None
    message: str
    read: str | None
    expected: str | None
    nearest: str | None
    remedy: str | None


class FigureData(TypedDict):
    """A figure that went into an answer or a fact; `value` in SI, `text` as a person writes it."""

    name: str
    value: Any
    unit: str | None
    text: str
    known_by: Literal["declared", "computed", "measured"]


class SignOffData(TypedDict):
    """Who answered a matter."""

    by: str | None
    date: str | None
    expires_on: str | None
    words: str


class ConcessionData(TypedDict):
    """Permission to release something that does not conform."""

    reason: str
    granted_by: str
    outside: bool
    date: str | None
    until: str | None


class KnownData(TypedDict):
    """A finding of the accepted record."""

    build: str
    rule: str
    subject: str
    case: str
    jurisdiction: str
    level: Literal["error", "warning", "note"]
    reason: str
    says: str


class ResultData(TypedDict):
    """One rule's answer about one subject in one case.

    `standing` is there where a failure was compared with an accepted record.
    """

    rule: str
    title: str
    system: str
    level: Literal["error", "warning", "note"]
    answer: Literal["pass", "fail", "open", "review", "notApplicable"]
    reason: str
    subject: str
    subject_name: str
    designation: str | None
    case: str | None
    jurisdiction: str | None
    message: str
    remedy: str
    evidence: list[FigureData]
    assumptions: list[str]
    missing: list[str]
    decides: str
    covers: str
    sign_off: SignOffData | None
    concession: ConcessionData | None
    place: PlaceData
    origin: list[PlaceData]
    standing: NotRequired[Literal["new", "unchanged", "updated", "absent"]]


class WantedData(TypedDict):
    """A missing field with how many open questions it would help to decide."""

    field: str
    questions: int
    at_error: int


class ReportData(TypedDict):
    """The check of one van; `no_longer_found` is there where an accepted record was given."""

    build: str
    title: str
    stage: str
    judged_for: str
    on: str | None
    revision: str | None
    jurisdictions: list[str]
    rules: int
    counts: dict[str, int]
    summary: str
    results: list[ResultData]
    wanted: list[WantedData]
    not_looked_at: list[str]
    stop_at: Literal["error", "warning", "note"]
    no_longer_found: NotRequired[list[KnownData]]


class InspectionData(TypedDict):
    """What `specreg inspect --format json` prints."""

    format: Literal[1]
    specreg: str
    title: str
    builds: list[ReportData]
    unread: list[str]
    problems: list[ProblemData]
    exit_code: int


class FactData(TypedDict):
    """A fact: `value` in SI (`{value, unit}` inside lists), null with `missing` or `reason` if unknown."""

    name: str
    title: str
    subject: str
    case: str | None
    value: Any
    unit: str | None
    text: str | None
    inputs: list[FigureData]
    formula: str
    source: str
    assumptions: list[str]
    missing: list[str]
    reason: str


class BuildFiguresData(TypedDict):
    """Every fact of one van."""

    build: str
    on: str | None
    figures: list[FactData]


class FiguresData(TypedDict):
    """What `specreg figures --format json` prints."""

    format: Literal[1]
    specreg: str
    builds: list[BuildFiguresData]
    unread: list[str]
    problems: list[ProblemData]


class SourceData(TypedDict):
    """Where a rule comes from and how its authors know."""

    document: str | None
    clause: str | None
    edition: str | None
    says: str | None
    how: Literal["read", "secondary", "memory", "common practice", "physics"]


class RuleData(TypedDict):
    """A rule as its document states it."""

    rule: str
    title: str
    system: str
    level: Literal["error", "warning", "note"]
    judges: str
    cases: str | None
    jurisdictions: list[str]
    decides: str | None
    applies: str | None
    passes: str | None
    limits: dict[str, dict[str, str | int | float]]
    open_from: str
    signed_from: str
    concession: str
    formerly: list[str]
    sources: list[SourceData]
    document: str


class RulesData(TypedDict):
    """What `specreg rules --format json` prints."""

    format: Literal[1]
    specreg: str
    rules: list[RuleData]
    problems: list[ProblemData]
