"""What is recorded beside the rules' answers: concessions, sign-offs, tests, the walk-round."""

from __future__ import annotations

from specreg.pages.chapters import cell_of_sign_off
from specreg.pages.content import Cell, Figure, Known, Paragraph, Row, Section, Table, cell
from specreg.pages.van import Van, words_of


def _table(van: Van, anchor: str, names: tuple[str, ...], rows: list[Row]) -> list[Section]:
    title = van.texts(f"check.{anchor}")
    if not rows:
        return [Section(anchor, title, (Paragraph(cell(van.texts("check.none_recorded"))),))]
    columns = tuple(van.texts(f"check.{name}") for name in names)
    return [Section(anchor, title, (Table(title, columns, tuple(rows)),))]


def _titled(van: Van, identity: str) -> Cell:
    rule = van.report.rules.get(identity)
    return cell(rule.header.title if rule else identity)


def _target(van: Van, target: str | None) -> Cell:
    return van.thing(target) if target else cell(van.texts("check.whole"))


def concessions(van: Van) -> list[Section]:
    """Return what was released in spite of a finding, by whom and until when."""
    rows = [
        Row(
            (
                _titled(van, one.rule),
                _target(van, one.target),
                cell(one.reason),
                cell(one.granted_by + (f", {van.texts('check.outside')}" if one.outside else "")),
                cell(" – ".join(day.isoformat() for day in (one.date, one.until) if day)),
            )
        )
        for one in van.build.header.concessions
    ]
    return _table(van, "concessions", ("rule_title", "target", "why", "who", "when"), rows)


def sign_offs(van: Van) -> list[Section]:
    """Return what competent people signed."""
    rows = [
        Row(
            (
                _titled(van, one.matter),
                _target(van, one.target),
                cell_of_sign_off(van, one),
                words_of(one.note or ""),
            )
        )
        for one in van.build.header.records.sign_offs
    ]
    return _table(van, "sign_offs", ("rule_title", "target", "signed", "remark"), rows)


def tests(van: Van) -> list[Section]:
    """Return the tests with their readings, as measured."""
    rows = []
    for one in van.build.header.records.tests:
        who = ", ".join(part for part in (one.by, one.name, one.licence) if part)
        reading: Cell = (
            (Figure(one.value, Known.measured),) if one.value else cell(van.texts("word.not_written"))
        )
        target = van.thing(one.on) if one.on and one.on in van.build.components else cell(one.on or "")
        day = one.date.isoformat() if one.date else ""
        rows.append(
            Row(
                (
                    cell(one.test.replace("-", " ")),
                    target,
                    reading,
                    cell(one.result or ""),
                    cell(who),
                    cell(day),
                )
            )
        )
    return _table(van, "tests", ("test", "target", "reading", "result", "who", "when"), rows)


def walk_round(van: Van) -> list[Section]:
    """Return what the counted walk-round found."""
    walk = van.build.header.records.walk_round
    rows = (
        [] if walk is None else [Row((cell(what), cell(str(number)))) for what, number in walk.counts.items()]
    )
    return _table(van, "walk_round", ("counted", "found"), rows)
