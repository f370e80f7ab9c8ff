"""The first sheet of a van's book: what it is, its figures, the contents, what to do first."""

from __future__ import annotations

from specreg.model.use import Use
from specreg.pages.content import Block, Entries, Entry, Listing, Page, Paragraph, Section, cell
from specreg.pages.van import Van, words_of

DIMENSIONS = ("overall_length", "overall_width", "overall_height", "wheelbase")


def start_page(van: Van, pages: tuple[Page, ...]) -> Page:
    """Return the first sheet; `pages` are the others."""
    header = van.build.header
    blocks: list[Block] = [Paragraph(words_of(header.summary))] if header.summary else []
    contents = Listing(
        tuple(
            (*cell(page.title, page.file, strong=True), *cell(f" – {page.lead}"))
            for page in pages
            if not page.within
        ),
        numbered=True,
        first=2,
    )
    file = f"{van.build.name}.html"
    whole = Paragraph(van.texts.say("book.one_file", file=cell(file, file)), small=True)
    blocks.append(Section("contents", van.texts("start.contents"), (contents, whole)))
    blocks.append(Section("van", van.texts("start.van"), (Entries(tuple(_van(van))),)))
    blocks.append(
        Section(
            "figures",
            van.texts("start.figures"),
            (Paragraph(words_of(van.texts("frame.kinds")), small=True),),
        )
    )
    return Page("index", header.title, header.vehicle.description or "", tuple(blocks))


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
