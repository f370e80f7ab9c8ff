"""Every page of every edition: where its links lead, whether its markup holds, what it weighs and claims."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import unquote

import pytest
from published import REGISTER, parsed, register_site, text_of

from specreg.model.field import Reader
from specreg.pages.publish import publish

HEAVIEST = 150_000
"""Bytes that a page may weigh without photographs."""

ALONE = "one van alone"

CLAIM = re.compile(
    r"\b(?:safe|safely|certified|approved|roadworthy|compliant|complies|conforms|guaranteed)\b", re.I
)
"""Words by which a book would claim something of the vehicle."""

DECLARED = re.compile(r"frost safe (?:yes|no)")
"""A field of traps and pumps, shown as declared, that has such a word in its name."""


@pytest.fixture(scope="module", params=[*Reader, ALONE])
def site(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each edition of the demonstration register, and one van of it published alone."""
    if isinstance(request.param, Reader):
        return register_site(request.param)
    into = tmp_path_factory.mktemp("alone").resolve() / "site"
    publish(REGISTER / "fieldwork", Reader.owner, into)
    return into


def pages(site: Path) -> list[Path]:
    """Every page of a site; the book in one file is tried by itself."""
    found = sorted(page for page in site.rglob("*.html") if 'class="whole"' not in page.read_text())
    assert len(found) > 10
    return found


def pages_of_vans(site: Path) -> list[Path]:
    """Every page but a register's front page."""
    single = (site / "emergency.html").exists()
    return [page for page in pages(site) if single or page.parent != site]


def test_every_link_leads_to_a_page_and_an_anchor_that_are_there(site: Path) -> None:
    """No link is dead, none leads out, and none is absolute, so that the folder works from a stick."""
    sheets = {page: parsed(page) for page in pages(site)}
    dead = []
    for page, sheet in sheets.items():
        for link in sheet.links:
            target, _, anchor = unquote(link).partition("#")
            other = (page.parent / target).resolve() if target else page
            outside = ":" in link or link.startswith("/") or not other.is_relative_to(site)
            if outside or not other.is_file() or (anchor and anchor not in sheets[other].ids):
                dead.append(f"{page.relative_to(site)}: {link}")
        dead += [f"{page.relative_to(site)}: label of {one}" for one in sheet.named if one not in sheet.ids]
    assert dead == []


def test_every_page_can_be_reached(site: Path) -> None:
    """From the first page a reader comes to every other by links alone."""
    reached, ahead = set(), [site / "index.html"]
    while ahead:
        page = ahead.pop()
        if page.suffix == ".html" and page not in reached:
            reached.add(page)
            ahead += [
                (page.parent / unquote(link).partition("#")[0]).resolve() for link in parsed(page).links
            ]
    assert set(pages(site)) - reached == set()


def test_no_page_asks_for_anything_from_outside(site: Path) -> None:
    """Style and script come from the site's own folder; nothing names a network address."""
    for page in pages(site):
        root = "../" * (len(page.relative_to(site).parts) - 1)
        own = {"search.js"} if page.name == "find.html" else set()
        wanted = {f"{root}{name}" for name in ("book.css", "book.js")} | own
        assert {source for source in parsed(page).sources if not source.startswith("data:,")} == wanted
    for file in site.rglob("*"):
        text = file.read_text() if file.suffix in (".css", ".js", ".html") else ""
        assert "//" not in re.sub(r"^(?:<script>)?// .*$", "", text, flags=re.M), file
        assert "@import" not in text
        assert "url(" not in text


def test_markup_is_well_formed(site: Path) -> None:
    """Every tag is closed where it should be, no attribute stands twice, no anchor is on a page twice."""
    for page in pages(site):
        sheet = parsed(page)
        assert (sheet.wrong, sheet.open) == ([], []), page
        assert len(sheet.ids) == len(set(sheet.ids)), [i for i in sheet.ids if sheet.ids.count(i) > 1]


@pytest.mark.parametrize(
    "markup",
    [
        "<p><b>x</p>",
        "<div><div></div>",
        "</i>",
        '<a href="a" href="b">x</a>',
        "<p><ul></ul></p>",
        "<a><a></a></a>",
    ],
)
def test_the_walk_of_markup_finds_what_is_wrong(tmp_path: Path, markup: str) -> None:
    """The check above can fail."""
    (tmp_path / "page.html").write_text(markup)
    sheet = parsed(tmp_path / "page.html")
    assert sheet.wrong or sheet.open


def test_no_page_is_heavy(site: Path) -> None:
    """A page loads on a phone with a poor signal."""
    weights = {page.relative_to(site).as_posix(): page.stat().st_size for page in pages(site)}
    assert {name: weight for name, weight in weights.items() if weight > HEAVIEST} == {}


def test_the_first_link_of_every_page_of_a_van_is_the_emergency(site: Path) -> None:
    """One tap from everywhere, at the head of the page."""
    for page in pages_of_vans(site):
        sheet = parsed(page)
        assert sheet.links[0] == sheet.header_links[0] == "emergency.html", page


def test_every_page_says_what_it_is_and_claims_nothing(site: Path) -> None:
    """Revision, day, rules and the sentence on what this record is stand on each; no word of approval."""
    for page in pages(site):
        text = page.read_text()
        assert "This is a record of the written specification" in text
        assert CLAIM.findall(DECLARED.sub("", text_of(page))) == [], page
    for page in pages_of_vans(site):
        text = page.read_text()
        words = ("Revision", "As of", "Judged for", "Rule pack", "Edition")
        assert [word for word in words if f"<dt>{word}</dt>" not in text] == []


def test_nothing_is_left_to_the_reader_to_find_out(site: Path) -> None:
    """A book of one van knows what is fitted in it."""
    hedged = re.compile(
        r"\b(?:if|where|when|unless) (?:it is |one is )?(?:fitted|installed|present|equipped)\b", re.I
    )
    found = {
        page.name: hedged.findall(text_of(page)) for page in pages(site) if not page.name.startswith("check")
    }
    assert {name: words for name, words in found.items() if words} == {}


def test_carbon_dioxide_is_never_taken_for_carbon_monoxide(site: Path) -> None:
    """Wherever a page tells of carbon dioxide, it says which of the two it is not."""
    for page in pages(site):
        text = text_of(page)
        assert re.findall(r"carbon dioxide(?! \(not carbon monoxide\))", text, re.I) == [], page
        assert re.findall(r"\bCO[2₂]\b", text) == [], page
