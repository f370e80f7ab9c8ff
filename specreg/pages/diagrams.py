"""What joins what: a one-line diagram for each medium of the van."""

from __future__ import annotations

from specreg.model.port import Medium
from specreg.pages.content import Diagram, Page, Paragraph, Section, cell
from specreg.pages.oneline import one_line
from specreg.pages.van import Van

DIAGRAMS: dict[str, tuple[tuple[Medium, ...], str]] = {
    "dc": ((Medium.dc,), "electrics.html#cables"),
    "ac": ((Medium.ac,), "electrics.html#cables"),
    "water": ((Medium.water,), "water.html#pipes"),
    "waste": ((Medium.waste,), "water.html#pipes"),
    "gas": ((Medium.gas,), "heat.html#pipes"),
    "heat": ((Medium.fuel, Medium.air, Medium.exhaust), "heat.html#pipes"),
}
"""The diagrams with the media that each shows and where a table says the same."""


def diagrams_page(van: Van) -> Page:
    """Return the page with every diagram of what is fitted."""
    sections = tuple(section for name in DIAGRAMS if (section := _section(van, name)) is not None)
    lead = van.texts("oneline.lead" if sections else "oneline.nothing")
    return Page("diagrams", van.texts("page.diagrams"), lead, sections)


def _section(van: Van, name: str) -> Section | None:
    media, table = DIAGRAMS[name]
    found = one_line(van, *media)
    if found is None:
        return None
    title = van.texts(f"oneline.title.{name}")
    told = van.texts("oneline.description", count=len(found.items))
    note = Paragraph(van.texts.say("oneline.note", table=cell(van.texts("oneline.table"), table)), small=True)
    carried = tuple(medium.value for medium in media if _carries(van, medium))
    return Section(name, title, (Diagram(f"line-{name}", title, told, found), note), carried)


def _carries(van: Van, medium: Medium) -> bool:
    return any(run.medium is medium for run in van.build.runs.values())
