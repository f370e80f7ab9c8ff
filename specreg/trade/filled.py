"""A filled sheet read back: every line becomes the record of a test, or a problem with its place.

Nothing is concluded for the tester: a line without a conclusion is a problem, and so is one that says
`within the limit` beside a reading that is not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from specreg.facts.engine import Facts
from specreg.facts.recorded_tests import KNOWN, leaves_open, reading_in
from specreg.model.records import Test
from specreg.source import Place, Problem, nearest_word
from specreg.trade import signed
from specreg.trade.limits import Limit
from specreg.trade.sheet import Line, TradeSheet
from specreg.trade.signed import SIGN_OFF
from specreg.trade.table import Row, read_table
from specreg.trade.weighing import FIELDS, WEIGHING
from specreg.units import Dimension, NotAQuantity, usual_units

Record = dict[str, str]

SAID = ("value", "result")
"""A line counts as filled in where it has one of these."""

COPIED = (
    *("value", "pressure", "held", "result", "method", "instrument", "calibrated_on"),
    *("by", "name", "licence", "date", "covers"),
)
"""Columns that become fields of the record, in its order."""

FOR_ALL = ("by", "name", "licence", "date", "instrument", "calibrated_on")
"""What may be given once for all lines."""

RESULTS = {
    "within the limit": "within the limit",
    "within": "within the limit",
    "outside the limit": "outside the limit",
    "outside": "outside the limit",
}
"""What the tester may write as conclusion."""

WHOLES = ("mains", "dc", "gas", "water", "waste", "body", "vehicle")
"""Words for what no single id of the spec names."""


@dataclass
class Filled:
    """What a filled sheet says: new records, those that are there already, lines left blank, problems.

    `changed` are tests whose thing has changed since the sheet was printed.
    """

    tests: list[Record] = field(default_factory=list)
    weighings: list[Record] = field(default_factory=list)
    sign_offs: list[Record] = field(default_factory=list)
    known: list[str] = field(default_factory=list)
    changed: list[str] = field(default_factory=list)
    blank: int = 0
    problems: list[Problem] = field(default_factory=list)


def read_filled(
    data: bytes, file: str, facts: Facts, sheets: Iterable[TradeSheet], given: Mapping[str, str]
) -> Filled:
    """Read a filled sheet of one van; `given` stands in empty cells of person, day and instrument."""
    rows, problems = read_table(data, file, ("test", "on", "value", "result"))
    filled = Filled(problems=problems)
    reader = _Reader(facts, tuple(sheets), given, filled)
    for row in rows:
        if any(row[name] for name in SAID):
            reader.take(row)
        else:
            filled.blank += 1
    reader.finish()
    filled.problems.sort()
    return filled


class _Reader:
    """Reads the rows of one table, keeping what it has read of others."""

    def __init__(
        self, facts: Facts, sheets: tuple[TradeSheet, ...], given: Mapping[str, str], filled: Filled
    ) -> None:
        self.facts, self.given, self.filled = facts, given, filled
        lines = [line for sheet in sheets for line in sheet.lines]
        self.lines: dict[tuple[str, str], Line] = {(line.test, line.thing.id): line for line in lines}
        self.limits: dict[str, Limit] = {line.test: line.limit for line in lines if line.limit}
        self.marks = {mark: name for name, mark in facts.build.designations.items()}
        things = (*facts.build.components, *facts.build.runs, *facts.devices)
        self.ids = {*things, *WHOLES, *(line.thing.id for line in lines)}
        self.seen: dict[tuple[str, str, str], Place] = {}
        self.matters = signed.matters(sheets)
        self.tickets: dict[tuple[str, str], Record] = {}

    def problem(
        self, row: Row, column: str, message: str, expected: str | None = None, **more: str | None
    ) -> None:
        """Add a problem at a cell."""
        read = row[column] or None
        self.filled.problems.append(Problem(row.place_of(column), message, read, expected, **more))

    def cell(self, row: Row, column: str) -> str:
        """Return what a cell says, or what was given for all."""
        return row[column] or self.given.get(column, "")

    def take(self, row: Row) -> None:
        """Take one filled row."""
        van = row["build"]
        if van and van != self.facts.build.name:
            self.problem(row, "build", "this line is of another van", f"`{self.facts.build.name}`")
            return
        name = row["test"].lower().replace(" ", "-")
        if name == WEIGHING:
            self._ticket(row)
        elif name == SIGN_OFF:
            self._sign_off(row)
        elif name in KNOWN:
            self._test(row, name)
        else:
            self.problem(
                row, "test", "no test has this name", "a test of the sheet", nearest=nearest_word(name, KNOWN)
            )

    def _test(self, row: Row, name: str) -> None:
        before = len(self.filled.problems)
        on = self._on(row)
        said = {column: self.cell(row, column) for column in COPIED}
        dimension = KNOWN[name].dimension
        said["value"] = self._value(row, dimension)
        said["result"] = self._result(row, name, said["value"], dimension)
        line = self.lines.get((name, on or ""))
        stated = line.stated if line else ()
        for column, limit in stated:
            said[column] = self._value(row, limit.dimension, column) if row[column] else ""
        self._complete(
            row, (*(("instrument", "calibrated_on") if dimension else ()), *(one for one, _ in stated))
        )
        if len(self.filled.problems) > before or on is None:
            return
        said["covers"] = said["covers"] or (line.mark if line else "")
        self._once(row, name, on, said["date"])
        self._add(name, on, {key: value for key, value in said.items() if value}, line)

    def _on(self, row: Row) -> str | None:
        word = row["on"] or row["mark"]
        found = self.marks.get(word, word)
        if found in self.ids:
            return found
        near = nearest_word(word, (*self.ids, *self.marks)) if word else None
        self.problem(
            row,
            "on" if row["on"] else "mark",
            "nothing here is called this",
            "an id or a designation",
            nearest=near,
        )
        return None

    def _value(self, row: Row, dimension: Dimension | None, column: str = "value") -> str:
        value = re.sub(r"(?<=\d),(?=\d)", ".", row[column]) if dimension else row[column]
        if dimension is None:
            return value
        try:
            reading_in(value, dimension)
        except NotAQuantity as error:
            units = ", ".join(usual_units(dimension))
            self.problem(row, column, f"not a reading: {error.reason}", f"a number with its unit: {units}")
        return value

    def _result(self, row: Row, name: str, value: str, dimension: Dimension | None) -> str:
        result = RESULTS.get(row["result"].lower(), "")
        if not result:
            self.problem(
                row,
                "result",
                "what the tester concluded is missing",
                "`within the limit` or `outside the limit`",
            )
        limit = self.limits.get(name)
        if result == "within the limit" and limit is not None and limit.dimension is dimension:
            self._contradiction(row, value, limit)
        return result

    def _contradiction(self, row: Row, value: str, limit: Limit) -> None:
        try:
            kept = limit.kept_by(reading_in(value, limit.dimension))
        except NotAQuantity:
            return  # said already
        remedy = "ask the tester; a reading beyond the limit is `outside the limit`"
        if not kept:
            self.problem(
                row, "value", f"beyond the limit of {limit.rule}, yet called within it", remedy=remedy
            )
        elif limit.bound and leaves_open(value, "least" if limit.bound == ">=" else "greatest"):
            self.problem(row, "value", f"does not show that the limit of {limit.rule} is kept", remedy=remedy)

    def _complete(self, row: Row, more: tuple[str, ...]) -> None:
        missing = [column for column in ("by", "date", *more) if not self.cell(row, column)]
        if missing:
            options = " ".join(f"--{one.replace('_', '-')}" for one in missing if one in FOR_ALL)
            remedy = f"fill it in{f', or give it for all lines with {options}' if options else ''}"
            words = f"the line lacks {', '.join(missing)}"
            self.filled.problems.append(Problem(row.place_of(missing[0]), words, remedy=remedy))
        for column in ("date", "calibrated_on"):
            self._day(row, column)

    def _day(self, row: Row, column: str) -> None:
        text = self.cell(row, column)
        try:
            if text and (len(text) != len("2026-05-11") or date.fromisoformat(text) is None):
                raise ValueError
        except ValueError:
            self.problem(row, column, "not a day", "year-month-day, such as 2026-05-11")

    def _once(self, row: Row, name: str, on: str, day: str) -> None:
        first = self.seen.setdefault((name, on, day), row.place)
        if first is not row.place:
            self.problem(
                row,
                "test",
                f"the same test on the same thing stands on line {first.line}, too",
                remedy="keep one",
            )

    def _add(self, name: str, on: str, said: Record, line: Line | None) -> None:
        record = {"test": name, "on": on, **said}
        known = any(_same(record, test) for test in self.facts.build.header.records.tests)
        if known:
            self.filled.known.append(f"{name} on {on}")
            return
        if line is not None and line.mark and said.get("covers") not in (None, line.mark):
            self.filled.changed.append(f"{name} on {on}")
        self.filled.tests.append(record)

    def _ticket(self, row: Row) -> None:
        name = row["on"].lower().replace("-", "_").replace(" ", "_")
        if name not in FIELDS:
            self.problem(row, "on", "a weighbridge ticket has no such reading", ", ".join(FIELDS))
            return
        before = len(self.filled.problems)
        value = self._value(row, FIELDS[name])
        if FIELDS[name] is None:
            value = {"yes": "true", "no": "false"}.get(value.lower(), "")
            if not value:
                self.problem(row, "value", "neither yes nor no", "`yes` or `no`")
        day, ticket = self.cell(row, "date"), self.cell(row, "instrument")
        if not day:
            self.problem(row, "date", "the day of the ticket is missing", "year-month-day")
        self._day(row, "date")
        self._once(row, WEIGHING, name, day)
        if len(self.filled.problems) == before:
            record = self.tickets.setdefault((day, ticket), {"stage": "final", "date": day})
            record |= {name: value, **({"ticket": ticket} if ticket else {})}

    def _sign_off(self, row: Row) -> None:
        before = len(self.filled.problems)
        target = self.marks.get(row["on"], row["on"])
        matter = self.matters.get((row["matter"], target))
        if matter is None:
            near = nearest_word(row["matter"], {rule for rule, _ in self.matters})
            self.problem(
                row, "matter", "no sheet asks for this to be signed", "a matter of the sheet", nearest=near
            )
        if row["result"].lower() not in signed.RESULTS:
            self.problem(row, "result", "what the person concluded is missing", "`accepted` or `refused`")
        self._complete(row, ("name",))
        if matter is None or len(self.filled.problems) > before:
            return
        record = signed.record_of(row, self.cell, matter)
        about = f"{SIGN_OFF} of {row['matter']} {target}".strip()
        self._once(row, row["matter"], target, record["date"])
        if signed.known(record, self.facts):
            self.filled.known.append(about)
            return
        if record.get("covers") != matter.result.fingerprint:
            self.filled.changed.append(about)
        self.filled.sign_offs.append(record)

    def finish(self) -> None:
        """Add the tickets that are not there yet."""
        there = {(str(one.date), one.ticket or "") for one in self.facts.build.header.records.weighings}
        for (day, ticket), record in self.tickets.items():
            if (day, ticket) in there:
                self.filled.known.append(f"weighbridge ticket {ticket} of {day}".replace("  ", " "))
            else:
                self.filled.weighings.append(record)


SAME = ("test", "on", "value", "result", "instrument", "by", "date")


def _same(record: Record, test: Test) -> bool:
    """Tell whether a record stands in the spec already."""
    return all(record.get(key, "") == str(getattr(test, key) or "") for key in SAME)
