"""A change order in Markdown for the client to approve: items, effects, price lines, signatures.

What only the workshop reads is kept out: prices paid, suppliers, states of orders. The price lines are left
to write in, since what a part cost the workshop is not what the client pays.
"""

from __future__ import annotations

from datetime import date

from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.output.comparison import field_words, figure_cells
from specreg.output.evidence import least_reader
from specreg.register.changes import Change, FieldChange, What
from specreg.register.compare import Comparison
from specreg.rules.document import Level
from specreg.rules.result import Answer, Result
from specreg.units import System

DOING = {
    What.fitted: "Fit",
    What.removed: "Take out",
    What.replaced: "Exchange",
    What.moved: "Move",
    What.rated: "Change",
    What.said: "Change of the order",
}
"""What is done, as the client reads it; a new id or another description is no work."""

CLIENTS = ("vehicle", "use", "systems", "modes", "jurisdictions")
"""What of the header is agreed with the client."""

BLANK = "______________________"


def change_order(one: Comparison, number: str | None, on: date | None) -> str:
    """Return the change order of one van."""
    header = one.after.build.header
    lines = [f"# Change order {_plain(number) if number else BLANK}", ""]
    lines += [
        f"Van: {_plain(header.title)} ({header.build})  ",
        f"Workshop: {_plain(header.workshop or BLANK)}  ",
    ]
    lines += [f"Date: {on.isoformat() if on else BLANK}", "", "## What is to be done", ""]
    items = [item for change in one.changes if (item := _item(one, change))]
    for position, (doing, details) in enumerate(items, 1):
        lines += [f"{position}. {doing}", *(f"   - {detail}" for detail in details)]
    lines += [] if items else ["Nothing at the van."]
    lines += ["", *_effects(one), *_to_settle(one), *_prices(len(items)), *SIGNATURES]
    return "\n".join(lines)


def _item(one: Comparison, change: Change) -> tuple[str, list[str]] | None:
    """Return what is done to a thing and its details for the client; None where that is not the client's."""
    build = one.before.build if change.what is What.removed else one.after.build
    fields = [field for field in change.fields if _client_reads(build, change, field)]
    if change.what not in DOING or (change.fields and not fields):
        return None
    designation = f" ({change.designation})" if change.designation else ""
    name = "" if change.what is What.said else f": {change.name}{designation}"
    return f"{DOING[change.what]}{_plain(name)}", [_plain(field_words(field)) for field in fields]


def _client_reads(build: Build, change: Change, field: FieldChange) -> bool:
    head = field.key.partition(".")[0]
    if change.what is What.said:
        return (
            head in CLIENTS and _may_read(build, field.key) and not field.key.startswith("vehicle.identity")
        )
    return _may_read(build, f"{change.subject}.{field.key}")


def _may_read(build: Build, name: str) -> bool:
    return Reader.owner.may_read(least_reader(build, name))


def _effects(one: Comparison) -> list[str]:
    if not one.figures:
        return []
    system = System(one.after.build.header.units)
    lines = ["## What it does", "", "| figure | before | after | difference |", "|---|---|---|---|"]
    rows = [figure_cells(figure, system) for figure in one.figures]
    return [*lines, *(f"| {' | '.join(cell.removeprefix('→ ') for cell in row)} |" for row in rows), ""]


def _to_settle(one: Comparison) -> list[str]:
    """Say what the written change leaves to settle: by title, without the workshop's figures."""
    found = [_settle(result) for result in one.come if _matters(result)]
    found += [
        f"{again.after.subject_name}: {again.after.title}; to be signed again" for again in one.reopened
    ]
    if not found:
        return []
    unique = dict.fromkeys(_plain(text) for text in found)
    return ["## What is still to be settled", "", *(f"- {text}" for text in unique), ""]


def _matters(result: Result) -> bool:
    return result.answer is Answer.review or (
        result.answer is Answer.fails and result.level is not Level.note and not result.concession
    )


def _settle(result: Result) -> str:
    about = f"{result.subject_name}: " if result.subject else ""
    if result.answer is Answer.review:
        return f"{about}{result.title}; for {result.decides or 'a competent person'} to look at"
    return f"{about}{result.title}; not so as it is written now"


def _prices(items: int) -> list[str]:
    lines = ["## Price", "", "| item | price |", "|---|---|"]
    lines += [f"| {position} | {BLANK} |" for position in range(1, items + 1)]
    return [*lines, f"| in all | {BLANK} |", f"| taxes | {BLANK} |", ""]


SIGNATURES = (
    "## Approval",
    "",
    f"Client: {BLANK}  Date: {BLANK}",
    "",
    f"For the workshop: {BLANK}  Date: {BLANK}",
    "",
    "Computed from the written specification. It does not say that the van keeps any law or standard.",
    "",
)


def _plain(text: str) -> str:
    """Return a text in which no character starts a link, an image, emphasis, a cell or HTML."""
    return "".join(f"\\{one}" if one in "\\`*_[]<>#|" else one for one in text)
