"""The sheet that each licensed person takes along, with a form for what comes back as the record."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from specreg.model.field import Reader
from specreg.model.records import Test
from specreg.output.trade_sheet import bound_words, expected_words, sources_words
from specreg.pages.chapters import cell_of_sign_off
from specreg.pages.content import (
    Block,
    Break,
    Cell,
    Figure,
    Known,
    Listing,
    Page,
    Paragraph,
    Row,
    Section,
    Table,
    Unknown,
    Words,
    cell,
)
from specreg.pages.texts import joined
from specreg.pages.van import Van, label, words_of
from specreg.pages.where import place_of
from specreg.rules.result import Answer, Result
from specreg.trade.fitted import Fitted
from specreg.trade.sheet import Line, Matter, State, TradeSheet, trade_sheets
from specreg.trade.weighing import Weighed
from specreg.units import write

BLANK: Cell = ()
LETTERS = ("A", "B", "C")
AGAIN = (State.again, State.outside, State.sign_again, State.refused)
NAMED = 6
"""So many things are named that pass a rule; the others are counted."""


def trade_pages(van: Van) -> tuple[Page, ...]:
    """Return the list of sheets and a page for each trade; none in the edition for the open web."""
    if van.reader is Reader.public:
        return ()
    sheets = trade_sheets(van.report, van.results)
    return (_front(van, sheets), *(_page(van, sheet) for sheet in sheets)) if sheets else ()


def _name(sheet: TradeSheet) -> str:
    return f"sheet-{sheet.trade.value}"


def _front(van: Van, sheets: tuple[TradeSheet, ...]) -> Page:
    links = tuple(
        (
            *cell(van.texts(f"page.{_name(sheet)}"), f"{_name(sheet)}.html", strong=True),
            Words(f" – {_due(van, sheet)}"),
        )
        for sheet in sheets
    )
    blocks = (Paragraph(cell(van.texts("sheet.decides"))), Listing(links))
    return Page("sheet", van.texts("page.sheet"), van.texts("sheet.lead"), blocks)


def _due(van: Van, sheet: TradeSheet) -> str:
    signed = [matter for matter in sheet.matters if matter.to_sign]
    return van.texts(
        "sheet.due",
        tests=sum(line.due for line in sheet.lines),
        all=len(sheet.lines),
        signs=sum(matter.state is not State.answered for matter in signed),
        matters=len(signed),
    )


def _page(van: Van, sheet: TradeSheet) -> Page:
    blocks: list[Block] = [Paragraph(cell(van.texts("sheet.decides")), small=True)]
    blocks += [*_who(van), *_again(van, sheet), *_look(van, sheet), *_sign(van, sheet)]
    blocks += [*_tests(van, sheet), *_weighing(van, sheet), *_written(van, sheet)]
    name = _name(sheet)
    return Page(name, van.texts(f"page.{name}"), _due(van, sheet), tuple(blocks), within="sheet")


def _columns(van: Van, *names: str) -> tuple[str, ...]:
    return tuple(van.texts(f"sheet.column.{name}") for name in names)


def _who(van: Van) -> list[Section]:
    say = van.texts
    person = Table(
        say("sheet.who_caption"),
        (say("sheet.person"), say("sheet.scheme"), say("sheet.signature")),
        (Row((BLANK, BLANK, BLANK)),),
    )
    columns = tuple(say("sheet.instrument", letter=letter) for letter in LETTERS)
    both = tuple(text for column in columns for text in (column, say("sheet.calibrated")))
    instruments = Table(say("sheet.instruments"), both, (Row((BLANK,) * len(both)),))
    return [Section("who", say("sheet.who"), (person, instruments))]


def _again(van: Van, sheet: TradeSheet) -> list[Section]:
    """Return what a later change, or a reading outside its limit, makes due again."""
    lines = [
        (
            *cell(f"{_test(van, line.test)}: ", strong=True),
            *_thing(van, line),
            Words(f" – {line.state.value}"),
        )
        for line in sheet.lines
        if line.state in AGAIN
    ]
    matters = [
        (*cell(f"{matter.result.title}: ", strong=True), Words(matter.state.value if matter.state else ""))
        for matter in sheet.matters
        if matter.state in AGAIN
    ]
    if not lines and not matters:
        return []
    blocks = (Paragraph(cell(van.texts("sheet.again_lead"))), Listing((*lines, *matters)))
    return [Section("again", van.texts("sheet.again"), blocks)]


def _look(van: Van, sheet: TradeSheet) -> list[Section]:
    if not sheet.fitted:
        return []
    rows = tuple(
        Row((van.thing(one.id), cell(_place(van, one.id)), cell(_figures(van, one)))) for one in sheet.fitted
    )
    table = Table(van.texts("sheet.look_caption"), _columns(van, "thing", "place", "written"), rows)
    return [Section("look", van.texts("sheet.look"), (table,))]


def _figures(van: Van, one: Fitted) -> str:
    """Return what is written of a thing, as far as the reader may read it."""
    model = van.build.components.get(one.id) or van.build.runs.get(one.id)
    if model is None:
        return ""
    told = ((label(name), van.field(model, name)) for name in one.fields)
    return "; ".join(f"{name} {value}" for name, value in told if value)


def _place(van: Van, thing: str) -> str:
    return place_of(van, thing)


def _sign(van: Van, sheet: TradeSheet) -> list[Section]:
    rows = tuple(_sign_row(van, matter) for matter in sheet.matters if matter.to_sign)
    if not rows:
        return []
    columns = _columns(van, "matter", "state", "result", "reference")
    return [
        Section("sign", van.texts("sheet.sign"), (Table(van.texts("sheet.sign_caption"), columns, rows),))
    ]


def _sign_row(van: Van, matter: Matter) -> Row:
    result = matter.result
    about = (*van.thing(result.subject), Words(": ")) if result.subject else ()
    signed = matter.result.sign_off
    state = matter.state.value if matter.state else ""
    so_far = cell_of_sign_off(van, signed) if signed else (Unknown(state),)
    return Row(((*about, Words(result.message or result.title)), so_far, BLANK, BLANK))


def _written(van: Van, sheet: TradeSheet) -> list[Section]:
    """Return the written figures that have a limit, a line for each rule."""
    found = [matter for matter in sheet.matters if not matter.to_sign]
    rows = tuple(_rule_row(van, list(group)) for _, group in groupby(found, key=lambda one: one.result.rule))
    if not rows:
        return []
    columns = _columns(van, "rule", "limit", "answer")
    return [
        Section(
            "written", van.texts("sheet.written"), (Table(van.texts("sheet.written_caption"), columns, rows),)
        )
    ]


def _rule_row(van: Van, matters: list[Matter]) -> Row:
    first = matters[0]
    limits = dict.fromkeys(bound_words(limit, van.units) for one in matters for limit in one.limits)
    source = van.texts("sheet.after", sources=sources_words(first.sources))
    rule = (*cell(first.result.title, strong=True), Words(f", {source}"))
    return Row((rule, cell("; ".join(limits) or van.texts("sheet.no_limit")), _answers(van, matters)))


def _answers(van: Van, matters: list[Matter]) -> Cell:
    """Return what passes, each with its figure, then what does not.

    The first that does not is told in the words of its finding; the others are named, and the page
    of the check tells of each. So a van of many defects has room on its sheet for what is to be tested.
    """
    passing = {one.result.subject: one for one in matters if one.result.answer is Answer.passes}
    said = [_others(van, found) for answer in OTHERS if (found := _answered(matters, answer))]
    if passing:
        shown = [_passing(van, one) for one in list(passing.values())[:NAMED]]
        rest = [cell(van.texts("sheet.more", count=len(passing) - NAMED))] if len(passing) > NAMED else []
        said.insert(0, van.texts.say("sheet.passes", things=joined([*shown, *rest], ", ")))
    return tuple(piece for index, one in enumerate(said) for piece in ((Words("; "),) if index else ()) + one)


def _answered(matters: list[Matter], answer: Answer) -> list[Result]:
    return [one.result for one in matters if one.result.answer is answer]


def _others(van: Van, found: list[Result]) -> Cell:
    first, subjects = found[0], dict.fromkeys(one.subject for one in found[1:])
    subjects.pop(first.subject, None)
    told = words_of(first.message) or _target(van, first.subject)
    names = [_target(van, subject) for subject in list(subjects)[:NAMED]]
    if len(subjects) > NAMED:
        names.append(cell(van.texts("sheet.more", count=len(subjects) - NAMED)))
    likewise = (Words("; "), *van.texts.say("sheet.likewise", things=joined(names, ", "))) if names else ()
    return (Words(f"{OTHERS[first.answer]}: "), *told, *likewise)


OTHERS = {Answer.fails: "fails", Answer.open: "open", Answer.review: "for review"}


def _passing(van: Van, matter: Matter) -> Cell:
    figures = [van.input(one)[0] for one in matter.figures[:1]]
    return (
        *_target(van, matter.result.subject),
        *(piece for figure in figures for piece in (Words(" "), figure)),
    )


def _target(van: Van, subject: str) -> Cell:
    return cell(van.designation(subject) or van.name(subject)) if subject else cell(van.texts("sheet.whole"))


def _test(van: Van, name: str) -> str:
    return van.texts(f"sheet.test.{name}")


def _tests(van: Van, sheet: TradeSheet) -> list[Section]:
    groups = [(name, list(lines)) for name, lines in groupby(sheet.lines, key=lambda line: line.test)]
    if not groups:
        return []
    tables = tuple(_table(van, name, lines) for name, lines in groups)
    return [Section("tests", van.texts("sheet.tests"), tables)]


def _table(van: Van, name: str, lines: list[Line]) -> Table:
    """Return the lines of one test; what is right for all of them stands in the caption."""
    expected = dict.fromkeys(expected_words(line, van.units) for line in lines)
    same = next(iter(expected)) if len(expected) == 1 else ""
    after = van.texts("sheet.after", sources=sources_words(lines[0].sources))
    caption = "; ".join(
        part for part in (f"{_test(van, name)}: {same}".rstrip(": "), lines[0].how, after) if part
    )
    rows = tuple(_row(van, line, "" if same else expected_words(line, van.units)) for line in lines)
    return Table(caption, _columns(van, "thing", "recorded", "reading", "within", "instrument", "day"), rows)


def _row(van: Van, line: Line, expected: str) -> Row:
    place = _place(van, line.thing.id)
    told = [part for part in (line.thing.detail, place, expected) if part]
    thing = (*_thing(van, line), *((Words(f", {'; '.join(told)}"),) if told else ()))
    return Row((thing, tuple(_recorded(van, line)), BLANK, BLANK, BLANK, BLANK))


def _thing(van: Van, line: Line) -> Cell:
    known = line.thing.id.partition("/")[0] in van.build.components
    return van.thing(line.thing.id) if known else cell(line.name, strong=True)


def _recorded(van: Van, line: Line) -> Iterator[Words | Figure | Unknown | Break]:
    """Yield how it stands: the last reading as measured, and in words when it is due again."""
    record: Test | None = line.record
    if record is not None:
        day = record.date.isoformat() if record.date else ""
        value = record.value or record.result or ""
        about = f" ({record.on})" if line.wider else ""
        yield Figure(f"{value}{about}", Known.measured, day)
    if line.state is not State.done:
        yield from (Break(),) if record is not None else ()
        yield Unknown(line.state.value)


def _weighing(van: Van, sheet: TradeSheet) -> list[Section]:
    if not sheet.weighings:
        return []
    rows = tuple(Row(tuple(_weighed(van, one))) for one in sheet.weighings)
    columns = _columns(van, "thing", "permitted", "ticket", "reading")
    return [
        Section(
            "weighing",
            van.texts("sheet.weighing"),
            (Table(van.texts("sheet.weighing_caption"), columns, rows),),
        )
    ]


def _weighed(van: Van, one: Weighed) -> Iterable[Cell]:
    known = one.permitted is not None and one.dimension is not None
    permitted = write(one.permitted or 0.0, one.dimension, van.units) if known and one.dimension else ""
    last = van.field(one.record, one.field) if one.record else ""
    yield cell(label(one.field), strong=True)
    yield cell(van.texts("sheet.at_most", value=permitted)) if permitted else BLANK
    yield (Figure(last, Known.measured),) if last else BLANK
    yield BLANK
