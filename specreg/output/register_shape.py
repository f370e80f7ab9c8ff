"""The shapes of the JSON about many builds: what `find` and `compare` print."""

from __future__ import annotations

from typing import Literal

from typing_extensions import TypedDict

from specreg.output.shape import PlaceData, ProblemData


class HitData(TypedDict):
    """A thing that was found, null where its spec does not say; of a whole van all but the first three are.

    `at` is where it is as its spec writes it, `zone` the named zone. Of a recall, `state` is how far the van
    is dealt with, `since` the day of that, and `unsure` why it cannot be told whether the thing is affected.
    """

    build: str
    van: str
    stage: str
    component: str | None
    kind: str | None
    title: str | None
    label: str | None
    designation: str | None
    zone: str | None
    at: str | None
    part: str | None
    maker: str | None
    model: str | None
    serial: str | None
    made: str | None
    fitted: str | None
    note: str | None
    place: PlaceData | None
    state: Literal["to tell", "told", "booked", "done", "ruled out"] | None
    since: str | None
    unsure: str | None


class RecallData(TypedDict):
    """A recall as its file states it."""

    name: str
    title: str
    source: str
    date: str
    do: str


class FoundData(TypedDict):
    """What `specreg find --format json` prints."""

    format: Literal[1]
    specreg: str
    recall: RecallData | None
    builds: int
    hits: list[HitData]
    unread: list[str]
    problems: list[ProblemData]


class FieldChangeData(TypedDict):
    """A field as it was written on either side; null where it is not stated."""

    field: str
    before: str | None
    after: str | None


class ChangeData(TypedDict):
    """What happened to a component, a run or the spec's header."""

    what: Literal[
        "fitted", "removed", "renamed", "replaced", "moved", "re-rated", "described anew", "said anew"
    ]
    section: Literal["component", "run", "spec"]
    subject: str
    formerly: str | None
    designation: str | None
    fields: list[FieldChangeData]


class FigureChangeData(TypedDict):
    """A figure of the whole van in SI on either side; null where it is not known, for want of `missing`."""

    name: str
    case: str | None
    unit: str
    before: float | str | None
    after: float | str | None
    missing: list[str]


class CostChangeData(TypedDict):
    """The sum of the prices that the spec states in one currency."""

    currency: str
    before: str
    after: str


class FindingData(TypedDict):
    """A finding that comes, goes, or is a signed matter open again."""

    rule: str
    title: str
    level: Literal["error", "warning", "note"]
    answer: Literal["fail", "open", "review"]
    subject: str
    case: str | None
    jurisdiction: str | None
    message: str


class FindingsData(TypedDict):
    """Findings that one side has and the other has not."""

    come: list[FindingData]
    go: list[FindingData]


ComparisonData = TypedDict(
    "ComparisonData",
    {
        "build": str,
        "title": str,
        "from": str,
        "to": str,
        "same": bool,
        "changes": list[ChangeData],
        "figures": list[FigureChangeData],
        "costs": list[CostChangeData],
        "findings": FindingsData,
        "reopened": list[FindingData],
    },
)
"""One van on either side; a table of its own, since `from` is a word of Python."""


class ComparedData(TypedDict):
    """What `specreg compare --format json` prints."""

    format: Literal[1]
    specreg: str
    comparisons: list[ComparisonData]
    left_out: list[str]
    problems: list[ProblemData]
