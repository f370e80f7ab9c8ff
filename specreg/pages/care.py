"""Care: what is due when, on what, by whom; what was done; and the same as a calendar file."""

from __future__ import annotations

from collections.abc import Iterator
from urllib.parse import quote

from specreg.care.due import Due, care_of
from specreg.care.duties import Basis
from specreg.model.field import Reader
from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Page,
    Paragraph,
    Row,
    Section,
    Signal,
    Table,
    Words,
    cell,
)
from specreg.pages.texts import joined
from specreg.pages.van import Van
from specreg.pages.where import place_of

CALENDAR = "care.ics"
YEAR = 12
NAMED = 4
"""So many things are named in a row; the others are counted."""


def care_page(van: Van) -> Page:
    """Return the calendar of this van, from what is fitted and from its records."""
    found = care_of(van.facts)
    blocks: list[Block] = [Caution(Signal.notice, van.texts.say("care.makers"))]
    for name, rows in (
        ("dated", [d for d in found if d.next]),
        ("counted", [d for d in found if not d.next]),
    ):
        if rows:
            blocks.append(_section(van, name, rows))
    blocks += _done(van)
    return Page("care", van.texts("page.care"), van.texts("care.lead"), tuple(blocks))


def _section(van: Van, name: str, rows: list[Due]) -> Section:
    """Return one table; what is only counted from hand-over has no column of days."""
    names = ("what", "on", "every", *(("next",) if name == "dated" else ()), "who", "source")
    columns = tuple(van.texts(f"care.column.{one}") for one in names)
    lines = tuple(Row(tuple(_cells(van, due)[one] for one in names)) for due in rows)
    link = van.texts.say("care.calendar", file=cell(CALENDAR, CALENDAR))
    more = (Paragraph(link),) if name == "dated" else ()
    return Section(name, van.texts(f"care.{name}"), (*more, Table(van.texts("care.caption"), columns, lines)))


def _cells(van: Van, due: Due) -> dict[str, Cell]:
    return {
        "what": cell(van.texts(f"care.duty.{due.duty}"), strong=True),
        "on": _things(van, due),
        "every": cell(every(van, due)),
        "next": _next(van, due),
        "who": cell(van.texts(f"care.who.{due.who.value.replace(' ', '_')}")),
        "source": cell(source(van, due)),
    }


def _things(van: Van, due: Due) -> Cell:
    named = [_thing(van, thing) for thing in due.things[:NAMED]]
    more = len(due.things) - NAMED
    listed = joined(named)
    return van.texts.say("care.more", things=listed, count=str(more)) if more > 0 else listed


def _thing(van: Van, thing: str) -> Cell:
    if not thing:
        return cell(van.texts("care.whole"))
    place = place_of(van, thing)
    return (*van.thing(thing), Words(f" – {place}")) if place else van.thing(thing)


def every(van: Van, due: Due) -> str:
    """Return how often, in words."""
    if due.months == 0:
        return van.texts("care.once")
    if due.months % YEAR == 0:
        years = due.months // YEAR
        return van.texts("care.year") if years == 1 else van.texts("care.years", count=years)
    return van.texts("care.month") if due.months == 1 else van.texts("care.months", count=due.months)


def _next(van: Van, due: Due) -> Cell:
    if due.next is None:
        return ()
    day = cell(due.next.isoformat(), strong=True)
    return (*day, Words(f" {van.texts('care.overdue')}")) if due.overdue(van.on) else day


def source(van: Van, due: Due) -> str:
    """Return from where an interval is known."""
    said = {
        Basis.maker: van.texts("care.by_maker"),
        Basis.memory: van.texts("care.by_memory", document=due.document),
        Basis.practice: van.texts("care.by_practice"),
    }
    return said[due.basis]


def _done(van: Van) -> list[Section]:
    """Return the record of what was done since hand-over; who did it is not for the public."""
    services = van.build.header.records.services
    if not services:
        return []
    names = ("date", "did", "on", *(("by",) if van.reader.may_read(Reader.owner) else ()))
    rows = []
    for one in services:
        thing = van.thing(one.on) if one.on and one.on in van.build.components else cell(one.on or "")
        cells = (cell(one.date.isoformat() if one.date else ""), cell(one.what), thing, cell(one.by or ""))
        rows.append(Row(cells[: len(names)]))
    columns = tuple(van.texts(f"care.column.{name}") for name in names)
    return [Section("done", van.texts("care.done"), (Table(van.texts("care.done"), columns, tuple(rows)),))]


def calendar(van: Van) -> str:
    """Return what has a day as an iCalendar file (RFC 5545); the same spec gives the same file."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//specreg//care//EN", "CALSCALE:GREGORIAN"]
    for due in care_of(van.facts):
        if due.next is not None:
            lines += _event(van, due)
    return "".join(f"{part}\r\n" for line in (*lines, "END:VCALENDAR") for part in fold(line))


def _event(van: Van, due: Due) -> Iterator[str]:
    assert due.next is not None
    day = due.next.strftime("%Y%m%d")
    stamp = (due.last or van.build.header.records.handed_over_on or due.next).strftime("%Y%m%d")
    things = ", ".join(van.name(thing) if thing else van.texts("care.whole") for thing in due.things)
    who = van.texts(f"care.who.{due.who.value.replace(' ', '_')}")
    said = van.texts("care.event", who=who, source=source(van, due))
    yield "BEGIN:VEVENT"
    home = quote(van.build.name, safe="")
    yield f"UID:{due.duty}.{'.'.join(due.things).replace('/', '-') or 'van'}@{home}.specreg.invalid"
    yield f"DTSTAMP:{stamp}T000000Z"
    yield f"DTSTART;VALUE=DATE:{day}"
    if due.months:
        yield f"RRULE:FREQ=MONTHLY;INTERVAL={due.months}"
    yield f"SUMMARY:{escaped(van.texts(f'care.duty.{due.duty}') + ' – ' + things)}"
    yield f"DESCRIPTION:{escaped(said)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def escaped(text: str) -> str:
    """Return a text as RFC 5545, 3.3.11 wants it."""
    for plain, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        text = text.replace(plain, written)
    return text


LINE = 75
"""Greatest length of a line in octets (RFC 5545, 3.1)."""


def fold(line: str) -> Iterator[str]:
    """Yield a line in parts of at most 75 octets, each after the first begun with a space."""
    part, room = "", LINE
    for sign in line:
        size = len(sign.encode())
        if size > room:
            yield part
            part, room = " ", LINE - 1
        part, room = part + sign, room - size
    yield part
