"""The front page of a register and the hold-point sheets: who sees what, and where it leads."""

import re
from pathlib import Path

import pytest
from published import register_site

from specreg.model.field import Reader

SECTIONS = {
    Reader.public: {"builds"},
    Reader.owner: {"builds", "matters", "care"},
    Reader.workshop: {"builds", "matters", "care"},
}
"""Sections that the demos give; none of them states that a component is to order."""


def front(reader: Reader) -> str:
    return (register_site(reader) / "index.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("reader", list(Reader))
def test_each_reader_sees_the_sections_that_are_for_him(reader: Reader) -> None:
    """The open web learns of no matter and no due day."""
    found = set(re.findall(r'<section[^>]* id="([a-z-]+)"', front(reader)))
    assert found & {"builds", "matters", "care", "to-order"} >= SECTIONS[reader]
    if reader is Reader.public:
        assert not found & {"matters", "care", "to-order"}


def test_builds_stand_by_stage() -> None:
    """One table for each stage that a build is at, in the order of the stages."""
    text = front(Reader.workshop)
    stages = [text.index(f"At the stage of {stage}") for stage in ("design", "commissioning")]
    assert stages == sorted(stages)


def test_the_matters_of_the_surveyed_van_are_named() -> None:
    """The first ones with the page that tells them, the others counted."""
    text = front(Reader.workshop)
    assert 'href="second-hand/check-dc.html"' in text
    assert re.search(r"and [0-9]+ more", text)


@pytest.mark.parametrize("reader", list(Reader))
def test_every_link_of_the_front_page_leads_somewhere(reader: Reader) -> None:
    """In each edition."""
    folder = register_site(reader)
    links = [one.partition("#")[0] for one in re.findall(r'href="([a-z0-9/.#-]+\.html[^"]*)"', front(reader))]
    assert links
    assert [one for one in links if not (folder / one).is_file()] == []


def test_the_workshop_has_a_sheet_for_each_hold_point() -> None:
    """A line for each hidden run by its designation, with what stands against going on."""
    folder: Path = register_site(Reader.workshop) / "fieldwork"
    names = {path.name for path in folder.glob("hold-*.html")}
    assert names == {f"hold-{one}.html" for one in ("panels-close", "energise", "gas-on", "hand-over")}
    text = (folder / "hold-panels-close.html").read_text(encoding="utf-8")
    assert "-W5" in text
    assert "What stands against going on" in text
    assert not list((register_site(Reader.owner) / "fieldwork").glob("hold*.html"))
