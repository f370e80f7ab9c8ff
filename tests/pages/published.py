"""Published sites for tests: built once, read as links, anchors and text."""

from __future__ import annotations

import os
import re
from dataclasses import dataclass, field
from functools import cache, lru_cache
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from textwrap import dedent

from building import build as read
from run_folder import RUN

from specreg import shipped, workshop
from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.pages.content import Caution, Listing, Page, Section, Words
from specreg.pages.gate import Gate, seen_by
from specreg.pages.publish import publish
from specreg.pages.texts import read_texts
from specreg.pages.van import Van
from specreg.rules.pack import Pack
from specreg.writing import alone_in

VOID = {"meta", "link", "br", "img", "input", "path", "rect", "circle"}
"""Elements without an end tag, and those of drawings that close themselves."""

BLOCKS = {
    "p",
    "div",
    "section",
    "table",
    "ul",
    "ol",
    "dl",
    "figure",
    "details",
    "h1",
    "h2",
    "h3",
    "blockquote",
}
"""Elements before which a browser closes an open paragraph by itself."""

KEPT = 500
"""Pages that are kept as read: more than the largest edition has, as tests go from one edition to the next."""

REGISTER = Path(__file__).parents[2] / "builds"

MADE_HERE: set[Reader] = set()
"""Whose editions of the demonstration register this process published itself."""


@cache
def register_site(reader: Reader) -> Path:
    """Return the folder of the demonstration register as published for a reader, once for all tests.

    A process that wants a site while another publishes it waits; where there are no locks, each has its own. No
    test changes what lies there.
    """
    assert RUN.path is not None, "a test runs"
    home = RUN.path / f"site-{reader.value}"
    home.mkdir(exist_ok=True)
    with alone_in(home) as alone:
        into = home / ("site" if alone else f"site-{os.getpid()}")
        if not into.exists():
            assert publish(REGISTER, reader, into).problems == ()
            MADE_HERE.add(reader)
    return into


def text_of(file: Path) -> str:
    """Return a file's text as a person reads it: without tags, in single spaces."""
    return _words_of(file.read_text(encoding="utf-8"))


@lru_cache(maxsize=KEPT)
def _words_of(markup: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", unbroken(markup))).split())


def unbroken(markup: str) -> str:
    """Return markup without what keeps a mark or a day on one line."""
    return re.sub(r'<span class="n">(.*?)</span>', r"\1", markup)


@dataclass
class Sheet(HTMLParser):
    """One page, parsed: what it links to, what it can be linked at, whether its tags match.

    `named` holds the anchors that labels and descriptions point to within the page.
    """

    ids: list[str] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    header_links: list[str] = field(default_factory=list)
    named: list[str] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    open: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if len(told) != len(attrs):
            self.wrong.append(f"{tag} has an attribute twice")
        self.ids += [value for key, value in attrs if key == "id" and value]
        links = [value for key, value in attrs if key == "href" and value and tag == "a"]
        self.links += links
        self.header_links += links if "header" in self.open else []
        self.named += [n for k, v in attrs if v and k in ("aria-labelledby", "for") for n in v.split()]
        self._misplaced(tag)
        self.sources += [
            v for k, v in attrs if v and (k == "src" or (k == "href" and tag in ("link", "image", "use")))
        ]
        if tag not in VOID:
            self.open.append(tag)

    def _misplaced(self, tag: str) -> None:
        if (tag in BLOCKS and "p" in self.open) or (tag == "a" and "a" in self.open):
            self.wrong.append(f"<{tag}> within {self.open[-1]} at {self.getpos()}")

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        if not self.open or self.open.pop() != tag:
            self.wrong.append(f"</{tag}> at {self.getpos()}")


def parsed(path: Path) -> Sheet:
    """Read one page; the same text is read once, and what is found in it is not to be changed."""
    return _read(path.read_text(encoding="utf-8"))


@lru_cache(maxsize=KEPT)
def _read(markup: str) -> Sheet:
    sheet = Sheet()
    sheet.feed(markup)
    sheet.close()
    return sheet


def van_of(build: Build, reader: Reader = Reader.owner, pack: Pack | None = None) -> Van:
    """Return a build as its pages see it; without a pack no rule is asked."""
    report = workshop.inspect(build, pack or Pack(()))
    gate, seen = Gate(report.facts, reader), seen_by(build, reader)
    results = gate.results(report.results)
    texts = read_texts(shipped.site_folder() / "texts")
    return Van(seen, Facts(seen), results, report, reader, texts, Path("nowhere"), "nowhere", report.on)


def van(text: str) -> Van:
    """Return a small spec as its pages see it."""
    return van_of(read(dedent(text)))


def section(page: Page, anchor: str) -> Section | None:
    """Return a section of a page."""
    return next((b for b in page.blocks if isinstance(b, Section) and b.anchor == anchor), None)


def steps(found: Section | None) -> list[str]:
    """Return the numbered steps of a section as plain text."""
    assert found is not None
    listing = next(b for b in found.blocks if isinstance(b, Listing) and b.numbered)
    return ["".join(piece.text for piece in item if isinstance(piece, Words)) for item in listing.items]


def signal(found: Section | None) -> str:
    """Return the signal word of a section."""
    assert found is not None
    return next(b.signal.value for b in found.blocks if isinstance(b, Caution))
