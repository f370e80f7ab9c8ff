"""The van from the left, the right and behind, in each mode; the numbers lead to the tables of places."""

from __future__ import annotations

from specreg.pages.content import Page, Section
from specreg.pages.places import SHEETS, drawings, modes_of, numbered
from specreg.pages.van import Van
from specreg.pages.views import VIEWS

SIDES = tuple(view for view in VIEWS if view != "above")


def sides_page(van: Van) -> Page:
    """Return the page with the views from the sides, a section for each sheet."""
    sections = tuple(section for name, systems in SHEETS for section in _sheet(van, name, systems))
    lead = van.texts("sides.lead" if sections else "places.lead_nothing")
    return Page("sides", van.texts("page.sides"), lead, sections)


def _sheet(van: Van, name: str, systems: tuple[str, ...]) -> list[Section]:
    numbers = numbered(van, systems)
    drawn = tuple(one for mode in modes_of(van, name) for one in drawings(van, name, numbers, mode, SIDES))
    return [Section(name, van.texts(f"places.{name}"), drawn)] if drawn else []
