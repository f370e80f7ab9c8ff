"""The whole book in one file: for a telephone, which cannot open a folder, and for the printer.

The sheets are those of the site. What links from one to the other is made to lead within the file: the anchor
`pump` of the page `parts` becomes `parts--pump`.
"""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from markupsafe import Markup, escape

from specreg.pages.content import Page
from specreg.pages.frame import Frame
from specreg.pages.render import Renderer

TAG = re.compile(r'<[a-zA-Z][^>]* (?:id|for|aria-labelledby|aria-describedby|href)="[^>]*>')
"""A tag that names or links; no attribute holds a bare `>`, for every text is escaped."""
NAMES = re.compile(r' (id|for|aria-labelledby|aria-describedby)="([^"]*)"')
LINK = re.compile(r' href="([^"]*)"')

PHOTOGRAPH = re.compile(r'<a class="photo"[^>]*>(<img src=")([^"]*)("[^>]*>)</a>')
MOST = 8_000_000
"""Bytes that the file may weigh with photographs in it; a heavier one is sent and opened with trouble."""

LEFT_OUT = ("find",)
"""Pages that are no use in one file: its reader searches it as any page."""


def file_of_book(build: str, pages: Iterable[Page]) -> str:
    """Return the name of the file: the van's, unless one of its pages is called so, in capitals or not."""
    taken = {"index", "questions", *(page.name for page in pages)}
    return f"{build}.html" if build.lower() not in taken else f"{build}-book.html"


class Sheet(NamedTuple):
    """One page within the file; `number` says which of how many."""

    name: str
    number: str
    markup: Markup


class Photographs(NamedTuple):
    """The photographs of the pages by their file; `left_out` is said for each where they are too heavy."""

    files: Mapping[str, bytes]
    left_out: str


def whole_book(
    renderer: Renderer,
    said: Mapping[str, str],
    frame: Frame,
    style: str,
    script: str,
    photographs: Photographs,
) -> str:
    """Return the file of all pages, with their style, script and photographs in it.

    `said` is what each page says, by its name.
    """
    kept = {name: sheet for name, sheet in said.items() if name not in LEFT_OUT}
    names = frozenset(kept)
    sheets = tuple(
        Sheet(name, f"{number} / {len(kept)}", Markup(_within(sheet, name, names)))
        for number, (name, sheet) in enumerate(kept.items(), 1)
    )
    return renderer.book(frame._replace(title=frame.book), _with(photographs, sheets), style, script)


def _with(photographs: Photographs, sheets: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """Return the sheets with each photograph in them, or without any where the file would be too heavy."""
    texts = {name: b64encode(data).decode("ascii") for name, data in photographs.files.items()}
    shown = (found[2] for sheet in sheets for found in PHOTOGRAPH.finditer(sheet.markup))
    heavy = sum(len(sheet.markup) for sheet in sheets) + sum(len(texts[name]) for name in shown) > MOST
    words = f'<span class="unknown">{escape(photographs.left_out)}</span>'

    def put(found: re.Match[str]) -> str:
        return words if heavy else f"{found[1]}data:image/jpeg;base64,{texts[found[2]]}{found[3]}"

    return tuple(sheet._replace(markup=Markup(PHOTOGRAPH.sub(put, sheet.markup))) for sheet in sheets)


def labels_alone(renderer: Renderer, pages: tuple[Page, ...], frame: Frame, style: str) -> str:
    """Return the sheets of labels as one file: without a script, and with no link but its codes."""
    names = frozenset[str]()
    sheets = tuple(
        Sheet(page.name, "", Markup(_within(renderer.sheet(page, frame), page.name, names))) for page in pages
    )
    return renderer.alone(frame, sheets, style)


def _within(markup: str, page: str, names: frozenset[str]) -> str:
    """Return a sheet's markup with every anchor and link made to hold within the file."""

    def named(found: re.Match[str]) -> str:
        parts = " ".join(f"{page}--{one}" for one in found[2].split())
        return f' {found[1]}="{parts}"'

    def linked(found: re.Match[str]) -> str:
        target = _target(found[1], page, names)
        return f' href="{target}"' if target else ""

    return TAG.sub(lambda tag: LINK.sub(linked, NAMES.sub(named, tag[0])), markup)


def _target(href: str, page: str, names: frozenset[str]) -> str:
    """Return where a link leads within the file, nothing where it leads to a file beside it."""
    file, _, anchor = href.partition("#")
    name = file.removesuffix(".html") if file else page
    if name not in names or (file and not file.endswith(".html")):
        return ""
    return f"#{name}--{anchor}" if anchor else f"#{name}"
