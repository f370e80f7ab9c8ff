"""What a reader can find: every section and every listed thing by its words, without a network.

The list is made from the pages of one edition, so that it holds nothing that the pages do not.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from typing import NamedTuple

from markupsafe import Markup

from specreg.pages.content import (
    Block,
    Caution,
    Cell,
    Checklist,
    Entries,
    Figure,
    Finder,
    Fold,
    Listing,
    Page,
    Paragraph,
    Prose,
    Section,
    Table,
    Unknown,
    Words,
)
from specreg.pages.texts import Texts

FILE = "search.js"
WORD = re.compile(r"[^\W_]+(?:[.\-/][^\W_]+)*")
"""A word, a number, a designation's letters and digits."""


class Found(NamedTuple):
    """One place that can be found: where it is, on which page, what it is called; `said` gives its texts."""

    href: str
    page: str
    title: str
    said: Callable[[], Iterable[str]]

    @property
    def words(self) -> str:
        """Return its different words, in small letters, in the order in which they first come."""
        return " ".join(dict.fromkeys(WORD.findall("\n".join(self.said()).lower())))


def find_page(texts: Texts) -> Page:
    """Return the page with the field; results come from the list beside it."""
    block = Finder(texts("find.field"), texts("find.none"), texts("find.script"))
    return Page("find", texts("page.find"), texts("find.lead"), (block,))


def search_list(pages: tuple[Page, ...]) -> str:
    """Return the list as a script: a page opened from a folder may load no other form of data."""
    found = [
        [one.href, one.page, one.title, one.words]
        for page in pages
        for one in places(page)
        if page.name != "find"
    ]
    text = json.dumps(found, ensure_ascii=False, separators=(",", ":")).replace("<", "\\u003c")
    return f"window.BOOK = {text};\n"


def places(page: Page) -> Iterator[Found]:
    """Yield what can be found on a page: the page itself, its sections, the rows that links lead to."""
    loose = [block for block in page.blocks if not isinstance(block, Section)]
    yield Found(page.file, page.title, page.title, lambda: (page.lead, *_texts(loose)))
    for section in page.blocks:
        if isinstance(section, Section):
            href = f"{page.file}#{section.anchor}"
            yield Found(href, page.title, section.title, partial(_texts, section.blocks))
            yield from _rows(page, section.blocks)


def _rows(page: Page, blocks: Sequence[Block]) -> Iterator[Found]:
    for block in blocks:
        if isinstance(block, Table):
            for row in block.rows:
                if row.anchor:
                    said = partial(map, _plain, row.cells[1:])
                    yield Found(f"{page.file}#{row.anchor}", page.title, _plain(row.cells[0]), said)
        elif isinstance(block, Fold | Section):
            yield from _rows(page, block.blocks)


def _texts(blocks: Sequence[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Paragraph | Caution):
            yield _plain(block.text)
        elif isinstance(block, Listing | Checklist):
            yield from (_plain(item) for item in block.items)
        elif isinstance(block, Entries):
            yield from (f"{item.label} {_plain(item.value)} {item.remark}" for item in block.items)
        elif isinstance(block, Table):
            yield block.caption
            yield from (_plain(one) for row in block.rows for one in row.cells)
        elif isinstance(block, Prose):
            yield Markup(block.markup).striptags()
        elif isinstance(block, Fold | Section):
            yield block.summary if isinstance(block, Fold) else block.title
            yield from _texts(block.blocks)


def _plain(cell: Cell) -> str:
    said = []
    for piece in cell:
        if isinstance(piece, Words | Unknown):
            said.append(piece.text)
        elif isinstance(piece, Figure):
            said.append(f"{piece.value} {piece.beside}")
    return "".join(said)
