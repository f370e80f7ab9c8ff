"""A trade's sheet as text to read and as CSV to fill in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from specreg.facts.engine import Facts
from specreg.facts.field_type import type_of_field
from specreg.model.component import Component
from specreg.model.records import Test
from specreg.output.rows import as_csv, in_columns
from specreg.output.style import INDENT, Style
from specreg.output.value import worded
from specreg.output.words import sign_off_words
from specreg.rules.document import RuleSource
from specreg.trade.fitted import Fitted
from specreg.trade.limits import Limit, source_words
from specreg.trade.sheet import Line, Matter, State, TradeSheet
from specreg.trade.signed import SIGN_OFF
from specreg.trade.weighing import WEIGHING, Weighed
from specreg.units import System

COLUMNS = (
    "build", "trade", "test", "matter", "on", "mark", "thing", "place", "method", "expected", "source",
    "state", "recorded", "value", "pressure", "held", "result", "instrument", "calibrated_on", "by", "name",
    "licence", "date", "covers",
)  # fmt: skip
"""Columns of a sheet as CSV; those from `value` to `date` are filled in."""

DECIDES = (
    "The person's own scheme and forms decide what is tested and what counts; limits stand here as the rules "
    "have them. Licensed practice and the local code come first. A filled sheet is a record of readings: it "
    "does not say that the vehicle is safe, certified or approved."
)


def bound_words(limit: Limit, system: System) -> str:
    """Return a limit as a tester reads it."""
    word = {">=": "at least ", "<=": "at most "}.get(limit.bound or "", "")
    return f"{word}{worded(limit.value, limit.dimension, system)}"


def limit_words(limit: Limit, system: System) -> str:
    """Return a limit with the jurisdiction whose value it is."""
    where = f" [{limit.jurisdiction.upper()}]" if limit.jurisdiction else ""
    return f"{bound_words(limit, system)}{where}"


def expected_words(line: Line, system: System) -> str:
    """Return what is right for a line: its own words, or the limit of the rule; then how it is to be done."""
    right = line.expects or (limit_words(line.limit, system) if line.limit else "")
    stated = (f"{column} {limit_words(limit, system)}" for column, limit in line.stated)
    return "; ".join(part for part in (right, *stated) if part)


def sources_words(sources: Iterable[RuleSource]) -> str:
    """Return where limits come from, each with its edition and how it is known."""
    return "; ".join(dict.fromkeys(source_words(source) for source in sources))


def place_words(facts: Facts, thing: str) -> str:
    """Return where a thing is: how a hand gets to it, its zone, or what it is fixed to."""
    owner: Component | None = facts.build.components.get(thing.partition("/")[0])
    if owner is None:
        return ""
    reach = getattr(owner, "reachable", None)
    zone = facts.build.header.vehicle.zones.get(owner.zone or "")
    titled = (zone.title or owner.zone or "").replace("-", " ") if zone else ""
    base = owner.fixed_to or ""
    on = f"on {facts.name_of(base)}" if base in facts.build.components else ""
    return str(reach or titled or on)


def record_words(record: Test | None) -> str:
    """Return a recorded reading in a few words, without persons."""
    if record is None:
        return ""
    said = (record.value, record.result if record.result == State.outside.value else None)
    day = record.date.isoformat() if record.date else None
    return ", ".join(part for part in (*said, day, f"on {record.on}" if record.on else None) if part)


def _titled(sheet: TradeSheet) -> str:
    header = sheet.facts.build.header
    where = ", ".join(word.value.upper() for word in header.jurisdictions)
    on = header.as_of.isoformat() if header.as_of else "no stated day"
    trade = sheet.trade.value.replace("-", " ")
    revision = f", revision {header.revision}" if header.revision else ""
    return f"Sheet for the {trade}: {header.build}, {header.title}{revision}, as of {on}, {where}"


def sheet_text(sheet: TradeSheet, style: Style) -> str:
    """Return a sheet to read: what to look at, what to sign, what to test."""
    system = System(sheet.facts.build.header.units)
    parts = [style.tint(style.wrap(_titled(sheet)), "title"), style.wrap(DECIDES)]
    parts += _part("To look at", (_fitted(sheet.facts, one, style, system) for one in sheet.fitted), style)
    signed = (matter for matter in sheet.matters if matter.to_sign)
    parts += _part("To sign", (_signed(one, style) for one in signed), style)
    written = (matter for matter in sheet.matters if not matter.to_sign)
    parts += _part(
        "Written figures beside their limits", (_written(one, style, system) for one in written), style
    )
    parts += _part("Tests", _tests(sheet, style, system), style)
    parts += _part("Weighing", (_weighed(sheet.weighings, system) for _ in sheet.weighings[:1]), style)
    return "\n\n".join(parts) + "\n"


def _part(title: str, lines: Iterable[str], style: Style) -> list[str]:
    found = list(lines)
    return ["\n".join([style.tint(title, "title"), *found])] if found else []


def _called(facts: Facts, thing: str) -> str:
    mark = facts.build.designations.get(thing, "")
    return " ".join(part for part in (mark, facts.name_of(thing)) if part)


def figures_words(one: Fitted, system: System) -> str:
    """Return the stated figures of a thing that is looked at."""

    def said(field: str) -> str:
        kind = type_of_field(type(one.model), field)
        value = worded(getattr(one.model, field), kind.dimension if kind else None, system)
        return f"{field.replace('_', ' ')} {value}"

    return ", ".join(said(field) for field in one.fields)


def _fitted(facts: Facts, one: Fitted, style: Style, system: System) -> str:
    said = (_called(facts, one.id), place_words(facts, one.id), figures_words(one, system))
    return style.wrap("; ".join(part for part in said if part), INDENT, INDENT * 2)


def _signed(matter: Matter, style: Style) -> str:
    result = matter.result
    about = f"{matter.designation} {result.subject_name}".strip() if result.subject else ""
    told = sign_off_words(result.sign_off) if result.sign_off else result.message
    state = matter.state.value if matter.state else ""
    text = ": ".join(part for part in (result.rule, about, state, told) if part)
    covers = f" (covers {result.fingerprint})" if result.fingerprint else ""
    return style.wrap(text + covers, INDENT, INDENT * 2)


def _written(matter: Matter, style: Style, system: System) -> str:
    result = matter.result
    about = f"{matter.designation} {result.subject_name}".strip() if result.subject else "the whole van"
    limits = ", ".join(limit_words(limit, system) for limit in matter.limits)
    source = sources_words(matter.sources)
    case = f" [{result.case}]" if result.case else ""
    found = ", ".join(worded(one.value, one.dimension, system) for one in matter.figures)
    answer = f"{result.answer.value}{f' with {found}' if found else ''}"
    text = f"{about}{case}: {result.title}: {answer}; {limits or 'no limit in figures'}; {source}"
    return style.wrap(text, INDENT, INDENT * 2)


LINES = ("mark", "thing", "place", "figure", "expected", "state", "recorded", "reading", "instrument")
BLANK = "________"


def _tests(sheet: TradeSheet, style: Style, system: System) -> Iterator[str]:
    for name, group in groupby(sheet.lines, key=lambda line: line.test):
        lines = list(group)
        yield style.wrap(f"{name}: {lines[0].how}", INDENT, INDENT * 2)
        yield style.wrap(f"after {sources_words(lines[0].sources)}", INDENT * 2, INDENT * 2)
        room = style.width - len(INDENT * 2) if style.width else None
        for row in in_columns(LINES, [_line(sheet.facts, line, system) for line in lines], width=room):
            yield INDENT * 2 + row


def _line(facts: Facts, line: Line, system: System) -> tuple[str, ...]:
    blank = BLANK if line.due else ""
    return (
        line.designation,
        line.name,
        place_words(facts, line.thing.id),
        line.thing.detail,
        expected_words(line, system),
        line.state.value,
        record_words(line.record),
        blank,
        blank,
    )


def _weighed(weighings: tuple[Weighed, ...], system: System) -> str:
    rows = [(one.on, _permitted(one, system), _weighed_before(one, system), BLANK) for one in weighings]
    return "\n".join(
        INDENT + row for row in in_columns(("what", "permitted", "last ticket", "reading"), rows)
    )


def _permitted(one: Weighed, system: System) -> str:
    return (
        ""
        if one.permitted is None
        else f"at most {worded(one.permitted, one.dimension, system)}, by the plate"
    )


def _weighed_before(one: Weighed, system: System) -> str:
    known = getattr(one.record, one.field, None) if one.record else None
    return "" if known is None else worded(known, one.dimension, system)


def sheets_csv(sheets: Iterable[TradeSheet]) -> str:
    """Return the lines of sheets as a table to fill in on a phone or in a spreadsheet."""
    return as_csv(COLUMNS, (row for sheet in sheets for row in _rows(sheet)))


def _rows(sheet: TradeSheet) -> Iterator[tuple[str, ...]]:
    system = System(sheet.facts.build.header.units)
    start = (sheet.facts.build.name, sheet.trade.value)
    yield from ((*start, *_to_sign(sheet.facts, one)) for one in sheet.matters if one.to_sign)
    for line in sheet.lines:
        yield (
            *start,
            line.test,
            "",
            line.thing.id,
            line.designation,
            ", ".join(part for part in (line.name, line.thing.detail) if part),
            place_words(sheet.facts, line.thing.id),
            line.how,
            expected_words(line, system),
            sources_words(line.sources),
            line.state.value,
            record_words(line.record),
            *BLANKS,
            line.mark,
        )
    for one in sheet.weighings:
        before = _weighed_before(one, system)
        told = (WEIGHING, "", one.on, "", one.on.replace("-", " "), "", TICKET, _permitted(one, system))
        yield (
            *start,
            *told,
            "the vehicle's plate",
            State.done.value if before else State.to_do.value,
            before,
            *BLANKS,
            "",
        )


def _to_sign(facts: Facts, matter: Matter) -> tuple[str, ...]:
    result = matter.result
    return (
        SIGN_OFF,
        result.rule,
        result.subject,
        matter.designation,
        result.subject_name if result.subject else "the whole van",
        place_words(facts, result.subject),
        result.message,
        "accepted or refused; value is the number of the certificate",
        sources_words(matter.sources),
        matter.state.value if matter.state else "",
        sign_off_words(result.sign_off) if result.sign_off else "",
        *BLANKS,
        result.fingerprint,
    )


BLANKS = ("",) * 10
TICKET = "finished van on the weighbridge; instrument is the number of the ticket"
