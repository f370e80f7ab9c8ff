"""One trade's sheet of one van: what to look at and to sign, which tests to make, what is recorded."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import NamedTuple

from specreg.facts.engine import Facts, Input
from specreg.facts.recorded_tests import KNOWN
from specreg.model.field import Word
from specreg.model.records import Test
from specreg.report import Report
from specreg.rules.document import RuleSource
from specreg.rules.pack import Rule
from specreg.rules.result import Answer, Result
from specreg.trade.fitted import Fitted, fitted
from specreg.trade.limits import Judges, Limit, held, limits_of, strictest
from specreg.trade.tests import TESTS, TradeTest
from specreg.trade.things import Thing
from specreg.trade.trades import SYSTEMS, Trade, trade_of
from specreg.trade.weighing import Weighed, weighed
from specreg.units import Dimension


class State(Word):
    """How it stands with a line or a matter."""

    to_do = "to do"
    done = "recorded"
    again = "test again"
    outside = "outside the limit"
    to_sign = "to be signed"
    answered = "answered"
    sign_again = "sign again"
    refused = "refused"


class Line(NamedTuple):
    """One test on one thing, to be filled in.

    `expects` says in words what is right where `limit` is None; `mark` is what the record will cover;
    `record` is the latest reading there is, `wider` whether it was taken on more than this thing.
    """

    test: str
    thing: Thing
    name: str
    designation: str
    how: str
    expects: str
    limit: Limit | None
    sources: tuple[RuleSource, ...]
    rule: str
    dimension: Dimension | None
    mark: str
    record: Test | None
    wider: bool
    state: State
    stated: tuple[tuple[str, Limit], ...] = ()
    """Figures of how it was done that the record holds besides, by column, each with its limit."""

    @property
    def due(self) -> bool:
        """Tell whether it is still to be made, or to be made again."""
        return self.state is not State.done


class Matter(NamedTuple):
    """A rule with its answer about one target: something to sign, or written figures to compare."""

    result: Result
    designation: str
    limits: tuple[Limit, ...]
    sources: tuple[RuleSource, ...]
    state: State | None

    @property
    def figures(self) -> tuple[Input, ...]:
        """Return the figures of its answer that are of the same sort as its limits."""
        sorts = {limit.dimension for limit in self.limits}
        return tuple(one for one in self.result.evidence if one.dimension in sorts)

    @property
    def to_sign(self) -> bool:
        """Tell whether it waits, or waited, for this person's word."""
        return self.state is not None


class TradeSheet(NamedTuple):
    """What one person takes along to one van."""

    trade: Trade
    facts: Facts
    fitted: tuple[Fitted, ...]
    matters: tuple[Matter, ...]
    lines: tuple[Line, ...]
    weighings: tuple[Weighed, ...] = ()


def trade_sheets(report: Report, results: Iterable[Result] | None = None) -> tuple[TradeSheet, ...]:
    """Return the sheets of every trade that has something to do on a van.

    `results` are the answers as the reader may see them; without them the report's own.
    """
    judges = Judges(report.pack)
    asked = tuple(report.results if results is None else results)
    found = (_sheet(report, judges, trade, asked) for trade in Trade)
    return tuple(sheet for sheet in found if sheet is not None)


def trade_sheet(report: Report, trade: Trade) -> TradeSheet | None:
    """Return one trade's sheet; None where nothing of that trade is fitted."""
    return _sheet(report, Judges(report.pack), trade, report.results)


def _sheet(report: Report, judges: Judges, trade: Trade, asked: tuple[Result, ...]) -> TradeSheet | None:
    facts = report.facts
    sheet = TradeSheet(
        trade,
        facts,
        tuple(fitted(facts, trade)),
        tuple(_matters(report, judges, trade, asked)),
        tuple(_lines(facts, judges, trade)),
        tuple(weighed(facts)) if trade is Trade.examiner else (),
    )
    signed = any(matter.to_sign for matter in sheet.matters)
    return sheet if sheet.fitted or sheet.lines or signed or sheet.weighings else None


def _matters(report: Report, judges: Judges, trade: Trade, results: tuple[Result, ...]) -> Iterator[Matter]:
    on_lines = _on_lines(judges)
    for result in results:
        rule = report.rules[result.rule]
        if result.answer is Answer.not_applicable or not _belongs(rule, result, trade, on_lines):
            continue
        state = _signing(result) if rule.header.decides else None
        yield Matter(
            result,
            report.build.designations.get(result.subject, ""),
            limits_of(rule, result.jurisdiction or next(iter(held(report.build)), None)),
            rule.header.sources,
            state,
        )


def _belongs(rule: Rule, result: Result, trade: Trade, on_lines: set[str]) -> bool:
    """Tell whether a matter is the trade's to sign, or a figure or finding of its systems."""
    if rule.header.decides:
        return trade_of(rule.header.decides) is trade
    if rule.header.system not in SYSTEMS[trade] or rule.identity in on_lines:
        return False
    return bool(rule.limits) or result.answer is not Answer.passes


def _on_lines(judges: Judges) -> set[str]:
    """Return the rules that judge recorded tests: their limits stand on the lines."""
    reading = (judges.of_test(name) for name in KNOWN)
    stated = (identity for test in TESTS for _, identity, _ in test.states)
    return {*(rule.identity for rule in reading if rule), *stated}


def _signing(result: Result) -> State:
    if result.reason == "refused":
        return State.refused
    if result.answer is Answer.review and result.sign_off is not None:
        return State.answered
    changed = "changed since" in result.message or "expired" in result.message
    return State.sign_again if changed else State.to_sign


def _lines(facts: Facts, judges: Judges, trade: Trade) -> Iterator[Line]:
    places = set(held(facts.build))
    for test in TESTS:
        if test.trade is trade and (not test.jurisdictions or places & set(test.jurisdictions)):
            things = tuple(test.on(facts))
            marks = {thing.id: thing.mark(facts) for thing in things}
            yield from (_line(facts, judges, test, thing, marks) for thing in things)


def _line(facts: Facts, judges: Judges, test: TradeTest, thing: Thing, marks: dict[str, str]) -> Line:
    build = facts.build
    rule = judges.of_test(test.name) or judges.named(test.rule)
    limit = strictest(rule, build, test.limit or None) if rule else None
    record, wider = recorded(build.header.records.tests, test.name, thing, build.designations.get(thing.id))
    words = thing.expects or ("" if limit else test.expects)
    return Line(
        test.name,
        thing,
        facts.name_of(thing.id) if _has(facts, thing.id) else f"{thing.id}, the whole",
        build.designations.get(thing.id, ""),
        test.how,
        words,
        None if thing.expects else limit,
        rule.header.sources if rule else test.sources,
        rule.identity if rule else "",
        KNOWN[test.name].dimension,
        marks[thing.id],
        record,
        wider,
        _state(record, marks.get((record.on if wider else thing.id) or "") if record else None),
        tuple(_stated(facts, judges, test)),
    )


def _stated(facts: Facts, judges: Judges, test: TradeTest) -> Iterator[tuple[str, Limit]]:
    for column, identity, name in test.states:
        rule = judges.named(identity)
        limit = strictest(rule, facts.build, name) if rule else None
        if limit is not None:
            yield column, limit


def _has(facts: Facts, name: str) -> bool:
    """Tell whether an id is that of a component, a run or a device, and not of a whole."""
    return name in facts.build.components or name in facts.build.runs or name in facts.devices


def _state(record: Test | None, mark: str | None) -> State:
    """Tell how it stands with a line; a record that does not say what it covers cannot go stale."""
    if record is None:
        return State.to_do
    if record.result == "outside the limit":
        return State.outside
    changed = record.covers is not None and mark is not None and record.covers != mark
    return State.again if changed else State.done


def recorded(
    tests: tuple[Test, ...], name: str, thing: Thing, designation: str | None
) -> tuple[Test | None, bool]:
    """Return the latest record of a test on a thing, and whether it speaks of more than this thing.

    A record on the thing itself, by id or designation, goes before one on its box or system.
    """
    fitting = [test for test in tests if test.test.strip().lower().replace(" ", "-") == name]
    own = (thing.id, *((designation,) if designation else ()))
    ladder: list[tuple[tuple[str, ...], bool]] = [(own, False), *(((other,), True) for other in thing.wider)]
    for among, wider in ladder:
        found = [test for test in fitting if test.on in among]
        if found:
            # Of two on one day the later line of the record counts.
            return max(enumerate(found), key=lambda one: (one[1].date or date.min, one[0]))[1], wider
    return None, False
