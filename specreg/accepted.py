"""The record of findings that a workshop knows of: what is in it is shown, but stops nothing.

It is a file of the register, one line for each finding, told by what it is about and not by its line number.
It is no concession: nothing is permitted by it, and pages and sheets do not know it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from pydantic import ValidationError

from specreg.model.build import Build
from specreg.model.explain import explain
from specreg.model.field import Spec, Word, must, told
from specreg.model.read import data_of
from specreg.rules.document import Level
from specreg.rules.pack import Pack
from specreg.rules.result import Result
from specreg.source import Mapping as Tree
from specreg.source import Place, Problem, read_yaml

Key = tuple[str, str, str, str, str]
"""Build, rule, subject, case, jurisdiction: what tells a finding from another when lines move."""


class Standing(Word):
    """How a finding stands against the record (SARIF 2.1.0 `baselineState`)."""

    new = "new"
    unchanged = "unchanged"
    updated = "updated"
    absent = "absent"


class Known(Spec):
    """A finding in the record."""

    build: str = must("The van.", example="heron")
    rule: str = must("Identity of the rule.", example="dc/positive-run-protected")
    subject: str = told("Component, run or device; empty for the van itself.", default="")
    case: str = told("The case that it was judged in.", default="")
    jurisdiction: str = told("The jurisdiction whose limit it broke.", default="")
    level: Level = must("How much it weighed; one that weighs more today is new.")
    reason: str = told("Why it failed: `missing`, `not signed`; another reason today is new.", default="")
    says: str = must("What the finding said when it was recorded.")

    @property
    def key(self) -> Key:
        """Return what tells this finding from another."""
        return self.build, self.rule, self.subject, self.case, self.jurisdiction


class RecordFile(Spec):
    """What the file of a record holds."""

    format: Literal[1] = must("The form of the file.")
    findings: tuple[Known, ...] = told("The findings, by build, rule and subject.", default=())


@dataclass(frozen=True)
class Record:
    """A record as it was read; `file` is how it is called."""

    file: str
    findings: tuple[Known, ...] = ()

    def of(self, build: Build, pack: Pack) -> Mapping[Key, Known]:
        """Return what is known of a build, by what it would be called today: rules and ids get new names."""
        rules, renamed = pack.by_identity(), build.header.renamed
        found = {}
        for known in self.findings:
            if known.build == build.name:
                rule = rules[known.rule].identity if known.rule in rules else known.rule
                subject = renamed.get(known.subject, known.subject)
                found[known.build, rule, subject, known.case, known.jurisdiction] = known
        return found


def key_of(build: str, result: Result) -> Key:
    """Return what tells a result from another: it stays the same when lines move."""
    return build, result.rule, result.subject, result.case or "", result.jurisdiction or ""


def known_of(build: str, result: Result) -> Known:
    """Return a result as the record holds it."""
    said = result.message or result.title
    name, rule, subject, case, jurisdiction = key_of(build, result)
    return Known(
        build=name,
        rule=rule,
        subject=subject,
        case=case,
        jurisdiction=jurisdiction,
        level=result.level,
        reason=result.reason,
        says=said,
    )


def read_record(data: bytes, file: str) -> tuple[Record | None, list[Problem]]:
    """Read a record, or say with places what is wrong with it."""
    tree, problems = read_yaml(data, file)
    if not isinstance(tree, Tree):
        message = "a record of accepted findings begins with `format: 1`"
        return None, problems or [Problem(Place(file, 1, 1), message)]
    if problems:
        return None, problems
    try:
        return Record(file, RecordFile.model_validate(data_of(tree)).findings), []
    except ValidationError as error:
        return None, explain(error, RecordFile, tree, ())


HEAD = """\
# Findings that were there when this was written. `specreg inspect --accepted` shows them, and only what is
# not among them stops it. No concession: nothing here is permitted. `specreg accept --shrink` takes out what
# is mended.
format: 1
"""


def record_text(findings: Iterable[Known]) -> str:
    """Return the file of a record: one line for each finding, in the order of what they are about."""
    lines = [f"  - {_line(one)}\n" for one in sorted(findings, key=lambda one: one.key)]
    return HEAD + ("findings:\n" + "".join(lines) if lines else "findings: []\n")


def _line(known: Known) -> str:
    stated = {name: value for name, value in known.model_dump(mode="json").items() if value}
    inner = ", ".join(f"{name}: {json.dumps(value, ensure_ascii=False)}" for name, value in stated.items())
    return "{" + inner + "}"
