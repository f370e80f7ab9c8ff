"""The first sheet of a van's book: what it is, its figures, the contents, what to do first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from urllib.parse import quote

from specreg.model.use import Use
from specreg.pages.content import Block, Cell, Entries, Entry, Listing, Page, Paragraph, Section, cell
from specreg.pages.van import Van, words_of
from specreg.pages.whole import file_of_book

DIMENSIONS = ("overall_length", "overall_width", "overall_height", "wheelbase")


GROUPS = {
    "hurry": ("emergency", "fault", "find"),
    "day": ("lists", "how-to", "questions", "places", "sides", "beds"),
    "systems": ("water", "heat", "electrics", "diagrams", "flow", "energy"),
    "masses": ("weights", "ledger"),
    "years": ("care", "parts", "labels", "changed"),
    "papers": ("quote", "plan", "sheet", "hold", "check"),
}
"""The contents in order of hurry; a page that is not named here is among the papers."""


def in_order(pages: Iterable[Page]) -> tuple[Page, ...]:
    """Return the pages as the contents name them, each with those within it behind it."""
    names = [name for group in GROUPS.values() for name in group]

    def place(page: Page) -> int:
        name = page.within or page.name
        return names.index(name) if name in names else len(names)

    return tuple(sorted(pages, key=place))


def start_page(van: Van, pages: tuple[Page, ...]) -> Page:
    """Return the first sheet; `pages` are the others, in order."""
    header = van.build.header
    blocks: list[Block] = [Paragraph(words_of(header.summary))] if header.summary else []
    blocks += _contents(van, pages)
    blocks.append(Section("van", van.texts("start.van"), (Entries(tuple(_van(van))),)))
    kinds = Paragraph(words_of(van.texts("frame.kinds")), small=True)
    blocks.append(Section("figures", van.texts("start.figures"), (kinds,)))
    return Page("index", header.title, header.vehicle.description or "", tuple(blocks))


def _contents(van: Van, pages: tuple[Page, ...]) -> Iterator[Section]:
    """Yield the contents by groups; the last also leads to the book in one file."""
    named = {name: group for group, names in GROUPS.items() for name in names}
    file = file_of_book(van.build.name, pages)
    whole = Paragraph(van.texts.say("book.one_file", file=cell(file, quote(file))), small=True)
    for group in GROUPS:
        found = [page for page in pages if not page.within and named.get(page.name, "papers") == group]
        if found:
            listed = Listing(tuple(_line(page) for page in found))
            more = (whole,) if group == "papers" else ()
            yield Section(group, van.texts(f"start.group.{group}"), (listed, *more))


def _line(page: Page) -> Cell:
    """Return a page's title as a link, with the first sentence of what it says of itself."""
    first, dot, _ = page.lead.partition(". ")
    return (*cell(page.title, page.file, strong=True), *cell(f" – {first}{'.' if dot else ''}"))


def _van(van: Van) -> list[Entry]:
    header = van.build.header
    vehicle, identity, use = header.vehicle, header.vehicle.identity, header.use
    entries = [Entry(van.texts(f"start.{name}"), van.declared(vehicle, name)) for name in DIMENSIONS]
    people = _people(van, use)
    entries += [Entry(van.texts("start.people"), cell(people))] if people else []
    if header.workshop:
        entries.append(
            Entry(van.texts("start.workshop"), cell(header.workshop), header.workshop_contact or "")
        )
    told = ("plate", "vin", "first_registered", "owner", "keys", "contact")
    entries += [
        Entry(van.texts(f"start.{name}"), cell(van.field(identity, name)))
        for name in told
        if van.field(identity, name)
    ]
    return entries


def _people(van: Van, use: Use) -> str:
    counted = [(name, getattr(use.people, name)) for name in ("adults", "children", "dogs")]
    return ", ".join(van.texts(f"start.{name}", count=count) for name, count in counted if count)
