"""The sheets of the trades as pages: who gets them, what stands on them, and that they fit on two leaves."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from published import REGISTER, register_site, text_of, van_of

from specreg import workshop
from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.model.records import Test as Record
from specreg.pages.content import Figure, Listing, Page, Section, Table, Words
from specreg.pages.trade import trade_pages
from specreg.rules.pack import Pack
from specreg.trade.sheet import trade_sheets

if TYPE_CHECKING:
    from playwright.sync_api import Browser

CHROMIUM = "/usr/bin/chromium"


@cache
def pack() -> Pack:
    """The shipped rules."""
    return workshop.rules_for()[0]


@cache
def fieldwork() -> Build:
    """The demonstration van with gas and mains."""
    (build,) = workshop.load(REGISTER / "fieldwork").sound
    return build


def pages(reader: Reader = Reader.workshop, build: Build | None = None) -> dict[str, Page]:
    """The sheets of a van by name."""
    return {page.name: page for page in trade_pages(van_of(build or fieldwork(), reader, pack()))}


def tables(page: Page, anchor: str) -> list[Table]:
    """The tables of a section."""
    found = next((one for one in page.blocks if isinstance(one, Section) and one.anchor == anchor), None)
    return [one for one in found.blocks if isinstance(one, Table)] if found else []


def test_the_open_web_gets_no_sheets() -> None:
    """Owner and workshop have them."""
    assert pages(Reader.public) == {}
    assert list(pages(Reader.owner)) == list(pages(Reader.workshop)) == [
        *("sheet", "sheet-electrician", "sheet-gas-engineer", "sheet-seat-fitter", "sheet-examiner"),
    ]  # fmt: skip


def test_every_line_of_a_sheet_is_a_row_with_room_to_write() -> None:
    """Reading, conclusion, instrument and day are blank in each row, and no row is left out."""
    sheets = {f"sheet-{one.trade.value}": one for one in trade_sheets(workshop.inspect(fieldwork(), pack()))}
    for name, sheet in sheets.items():
        rows = [row for table in tables(pages()[name], "tests") for row in table.rows]
        assert len(rows) == len(sheet.lines)
        assert all(row.cells[2:] == ((), (), (), ()) for row in rows)


def test_limits_stand_in_the_captions_with_their_sources() -> None:
    """A tester sees the limit and whose it is."""
    captions = [table.caption for table in tables(pages()["sheet-gas-engineer"], "tests")]
    assert any("at most 10 mbar" in text and "EN 1949, 4.3, 2011+A1:2013 (read)" in text for text in captions)
    captions = [table.caption for table in tables(pages()["sheet-electrician"], "tests")]
    assert any("at least 1 MΩ" in text and "(memory)" in text for text in captions)


def with_test(build: Build, **changes: object) -> Build:
    """The van with one more recorded test."""
    records = build.header.records
    tests = (*records.tests, Record.model_validate(changes))
    header = build.header.model_copy(update={"records": records.model_copy(update={"tests": tests})})
    return replace(build, header=header)


def test_a_change_after_the_test_is_told_above_the_tables() -> None:
    """A record that covers another state of the socket makes exactly that line due again."""
    stale = {"test": "polarity", "on": "bed-socket", "result": "within the limit", "date": "2026-05-19"}
    page = pages(build=with_test(fieldwork(), **stale, covers="00000000"))["sheet-electrician"]
    section = next(one for one in page.blocks if isinstance(one, Section) and one.anchor == "again")
    listing = next(one for one in section.blocks if isinstance(one, Listing))
    said = ["".join(one.text for one in item if isinstance(one, Words)) for item in listing.items]
    assert [text for text in said if "test again" in text] == ["Polarity: Bed socket (-X10) – test again"]


def test_a_reading_that_is_recorded_stands_beside_its_blank_as_measured() -> None:
    """The last reading is shown with its day, and no name of a person."""
    rows = [row for table in tables(pages(Reader.owner)["sheet-gas-engineer"], "tests") for row in table.rows]
    figures = [piece for row in rows for piece in row.cells[1] if isinstance(piece, Figure)]
    assert [(one.value, one.known.value, one.beside) for one in figures][:1] == [
        ("1 mbar", "measured", "2026-05-13")
    ]


def test_defects_of_one_kind_are_told_once_and_then_named() -> None:
    """The first in the words of its finding, the others by name; the page of the check tells of each."""
    site = register_site(Reader.workshop) / "second-hand"
    said, check = text_of(site / "sheet-electrician.html"), text_of(site / "check-mains.html")
    told = "shares its way with extra-low-voltage cables"
    assert said.count(told) == 1 and check.count(told) >= 3
    assert f"fails: inlet cable {told}; likewise Socket cable, Heater cable" in said


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser; without one the tests are skipped, or fail where skipping is forbidden."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        sync_playwright = None  # type: ignore[assignment]
    if sync_playwright is None or not Path(CHROMIUM).exists():
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail("there is no browser, and nothing may be skipped")
        pytest.skip("there is no browser")
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
        yield opened
        opened.close()


@pytest.mark.browser
def test_a_sheet_prints_on_two_leaves_at_most(browser: Browser) -> None:
    """Every sheet of every demonstration van, as a browser prints it on either paper."""
    files = sorted(register_site(Reader.workshop).glob("*/sheet-*.html"))
    assert len(files) >= 10
    page = browser.new_page()
    leaves = {}
    for file in files:
        page.goto(file.as_uri())
        for paper in ("A4", "Letter"):
            printed = page.pdf(format=paper)
            leaves[f"{file.parent.name}/{file.stem} {paper}"] = len(re.findall(rb"/Type\s*/Page\b", printed))
    page.close()
    assert {name: count for name, count in leaves.items() if not 1 <= count <= 2} == {}


@pytest.mark.browser
def test_a_sheet_has_its_blanks_on_paper_and_its_codes_once(browser: Browser) -> None:
    """Blank cells have a frame to write in; the list of all codes is left to the check."""
    page = browser.new_page()
    page.emulate_media(media="print")
    page.goto((register_site(Reader.workshop) / "fieldwork" / "sheet-electrician.html").as_uri())
    box = page.locator("#tests td:empty").first.bounding_box()
    assert box is not None and box["height"] >= 20 and box["width"] >= 20
    assert not page.locator("footer details").is_visible()
    page.close()


def test_a_page_says_that_the_persons_scheme_decides() -> None:
    """On each sheet, and it claims nothing of the vehicle."""
    for file in register_site(Reader.workshop).glob("*/sheet-*.html"):
        text = text_of(file)
        assert "own scheme and forms decide what is tested" in text
        assert not re.search(r"\b(safe|certified|approved)\b", text.split("Tests")[0], re.I), file
