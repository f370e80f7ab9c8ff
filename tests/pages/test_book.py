"""Finding without a network, the book in one file, and a site that opens again without a network."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from published import parsed, register_site
from test_browser import browser  # noqa: F401 - a fixture

from specreg.model.field import Reader
from specreg.pages.offline import offline_script

if TYPE_CHECKING:
    from playwright.sync_api import Browser

VANS = ("fieldwork", "winter-tourer", "pocket", "second-hand")


def home(van: str) -> Path:
    """The folder of one van in the owner's edition."""
    return register_site(Reader.owner) / van


def listed(van: str) -> list[list[str]]:
    """The list of what can be found."""
    text = (home(van) / "search.js").read_text()
    found: list[list[str]] = json.loads(text.removeprefix("window.BOOK = ").removesuffix(";\n"))
    return found


@pytest.mark.parametrize("van", VANS)
def test_all_that_can_be_found_is_there(van: str) -> None:
    """Every place of the list is a page, and every anchor in it exists."""
    found = listed(van)
    assert len(found) > 50
    anchors = {path.name: set(parsed(path).ids) for path in home(van).glob("*.html")}
    for href, _page, title, _words in found:
        file, _, anchor = href.partition("#")
        assert file in anchors, href
        assert not anchor or anchor in anchors[file], href
        assert title


def test_no_page_of_the_book_is_left_out_of_the_list() -> None:
    """Each page can be found; the page of the field itself need not be."""
    pages = {path.name for path in home("fieldwork").glob("*.html")} - {"fieldwork.html", "find.html"}
    assert {href.partition("#")[0] for href, *_ in listed("fieldwork")} == pages


@pytest.mark.parametrize("van", VANS)
def test_the_one_file_leads_nowhere_else(van: str) -> None:
    """Every link holds within the file, every anchor is there once, and nothing is fetched."""
    sheet = parsed(home(van) / f"{van}.html")
    assert sheet.wrong == []
    assert len(sheet.ids) == len(set(sheet.ids))
    assert [link for link in sheet.links if not link.startswith("#")] == []
    assert {link.removeprefix("#") for link in sheet.links} <= set(sheet.ids)
    assert set(sheet.named) <= set(sheet.ids)
    assert [source for source in sheet.sources if source != "data:,"] == []


@pytest.mark.parametrize("van", VANS)
def test_the_one_file_holds_every_page(van: str) -> None:
    """As many sheets as the folder has pages, but for the field that finds."""
    text = (home(van) / f"{van}.html").read_text()
    sheets = set(re.findall(r'<article id="([^"]+)"', text))
    assert sheets == {path.stem for path in home(van).glob("*.html")} - {van, "find"}


@pytest.mark.parametrize("reader", [Reader.public, Reader.owner, Reader.workshop])
def test_the_first_page_leads_to_the_one_file(reader: Reader) -> None:
    """A reader on a telephone finds it without being told."""
    assert "fieldwork.html" in parsed(register_site(reader) / "fieldwork" / "index.html").links


def test_other_files_give_another_mark() -> None:
    """A new edition replaces what the browser kept; the same edition stays."""
    template = "const mark = 'book-MARK'; const files = FILES;"
    one = offline_script({"a.html": "x"}, template)
    assert one == offline_script({"a.html": "x"}, template)
    assert (
        len({one, offline_script({"a.html": "y"}, template), offline_script({"b.html": "x"}, template)}) == 3
    )
    assert '["a.html"]' in one


@pytest.fixture(scope="module")
def served() -> Iterator[str]:
    """The register's site as a web server gives it."""

    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, *_told: Any) -> None:
            """Say nothing of each request."""

    handler = partial(Quiet, directory=str(register_site(Reader.owner)))
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()


@pytest.mark.browser
def test_a_site_that_was_visited_opens_without_a_network(browser: Browser, served: str) -> None:  # noqa: F811
    """After the first page every other one opens, with the network gone."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{served}/fieldwork/index.html")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_function("navigator.serviceWorker.controller !== null")
    context.set_offline(True)
    page.goto(f"{served}/fieldwork/emergency.html")
    assert page.locator("h1").inner_text() == "In an emergency"
    page.goto(f"{served}/pocket/find.html")
    page.fill("#book-find", "pump")
    assert page.locator("#book-found li").count() > 0
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize(
    ("words", "title"), [("water pump", "Water pump"), ("-F4", None), ("GAS smell", None)]
)
def test_what_is_typed_is_found_from_a_folder(browser: Browser, words: str, title: str | None) -> None:  # noqa: F811
    """Opened as a file, without a server."""
    page = browser.new_page()
    page.goto((home("fieldwork") / "find.html").as_uri())
    page.fill("#book-find", words)
    results = page.locator("#book-found li a")
    assert results.count() > 0
    if title:
        assert title in results.first.inner_text()
    href = results.first.get_attribute("href") or ""
    results.first.click()
    assert href.partition("#")[0] in page.url
    page.close()


@pytest.mark.browser
def test_what_is_nowhere_is_said_to_be_nowhere(browser: Browser) -> None:  # noqa: F811
    """An empty answer is an answer."""
    page = browser.new_page()
    page.goto((home("fieldwork") / "find.html").as_uri())
    page.fill("#book-find", "zzzqqq")
    assert page.locator("#book-found").inner_text() == "Nothing here says that."
    page.close()


@pytest.mark.browser
def test_ticks_stay_in_the_browser_and_can_be_cleared(browser: Browser, served: str) -> None:  # noqa: F811
    """A ticked line is ticked again when the page is opened again, until it is cleared."""
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{served}/fieldwork/lists.html")
    box = page.locator("ul.ticks input").first
    box.check()
    page.reload()
    assert page.locator("ul.ticks input").first.is_checked()
    page.locator("button.clear").first.click()
    page.reload()
    assert not page.locator("ul.ticks input").first.is_checked()
    context.close()
