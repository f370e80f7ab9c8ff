"""Folders of vans and files of procedures may be called anything: every link still leads to its page."""

from __future__ import annotations

import json
import os
from pathlib import Path
from urllib.parse import unquote

import pytest
from published import parsed

from specreg.model.field import Reader
from specreg.pages.publish import publish

pytestmark = pytest.mark.skipif(os.name != "posix", reason="names that other systems refuse")

NAMES = ("javascript:alert(1)", "a#b?c%41", "two words", "it's <b>&\"", "water", "Index", "plain")
PROCEDURES = ("empty the tank", "empty-the-tank", "Bett: ü", "%41#b")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A register of such vans as its owners see it, the last with procedures."""
    home = tmp_path_factory.mktemp("names").resolve()
    for name in NAMES:
        folder = home / "vans" / name
        folder.mkdir(parents=True)
        head = f"format: 1\nbuild: {json.dumps(name)}\ntitle: T\nstage: design\njurisdictions: [uk]\n"
        (folder / "spec.yaml").write_text(f"{head}components:\n  bar: {{kind: bus-bar, studs: 4}}\n")
    (home / "vans" / "plain" / "procedures").mkdir()
    for name in PROCEDURES:
        (home / "vans" / "plain" / "procedures" / f"{name}.md").write_text("# How\n\nSo.\n")
    published = publish(home / "vans", Reader.owner, home / "site")
    assert not published.problems
    return home / "site"


def test_the_front_page_leads_to_every_van(site: Path) -> None:
    """A colon made a link run what stood behind it, `#` and `?` cut it short."""
    links = parsed(site / "index.html").links
    assert {f"{name}/index.html" for name in NAMES} <= {unquote(link) for link in links}
    for link in links:
        assert ":" not in link and "?" not in link
        assert (site / unquote(link.partition("#")[0])).exists(), link


@pytest.mark.parametrize(
    ("name", "file"),
    [("water", "water-book.html"), ("Index", "Index-book.html"), ("plain", "plain.html"), ("a#b?c%41", "a#b?c%41.html")],
)  # fmt: skip
def test_the_book_in_one_file_takes_the_place_of_no_page(name: str, file: str, site: Path) -> None:
    """A van called as one of the sheets: its book was laid over the sheet."""
    whole = {page.name for page in (site / name).glob("*.html") if 'class="whole"' in page.read_text()}
    assert whole == {file}
    assert file in {unquote(link) for link in parsed(site / name / "index.html").links}


def test_every_procedure_has_an_anchor_of_its_own(site: Path) -> None:
    """In the pages and in the book, where a blank would part an anchor in two."""
    page = parsed(site / "plain" / "how-to.html")
    anchors = ["empty-the-tank", "empty-the-tank-2", "Bett-ü", "41-b"]
    assert set(anchors) <= set(page.ids)
    assert {f"#{one}" for one in anchors} <= set(page.links)
    book = parsed(site / "plain" / "plain.html")
    assert {f"how-to--{one}" for one in anchors} <= set(book.ids)
    assert {f"#how-to--{one}" for one in anchors} <= set(book.links)
