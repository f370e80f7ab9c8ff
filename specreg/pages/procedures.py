"""How to: the build's procedures, written as Markdown by the workshop, with links to what they speak of.

A procedure is for the owner. Raw markup in it is shown as text. `[pump](component:water-pump)` becomes a
link to the pump; a quotation that begins with a signal word becomes a safety message.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from markupsafe import Markup

from specreg.model.field import Reader
from specreg.pages.content import Block, Listing, Page, Prose, Section, Signal, cell
from specreg.pages.van import Van
from specreg.source import Place, Problem, nearest_word
from specreg.source.inside import contents, linked_out
from specreg.source.listing import PROCEDURES
from specreg.source.listing import documents as documents_in

if TYPE_CHECKING:
    from markdown_it.token import Token

LONGEST = 100_000
"""Bytes of one procedure: some texts take the square of their length to be parted."""

COMPONENT = "component:"
LINKED = ("http://", "https://", "//", "/", "javascript:", "data:", "file:")
"""How links begin that lead out of the site, which has to work without a network."""


class Procedure(NamedTuple):
    """One procedure: the anchor from its file's name, its title, its text as markup."""

    anchor: str
    title: str
    markup: Markup


def how_to_page(van: Van) -> tuple[Page | None, list[Problem]]:
    """Return the page with every problem in the procedures; no page for the public, or without procedures."""
    files = documents_in(van.folder / PROCEDURES)
    if not files or not van.reader.may_read(Reader.owner):
        return None, []
    problems: list[Problem] = []
    found = [one for path in files if (one := _procedure(van, path, problems)) is not None]
    found = list(_apart(found))
    contents = Listing(tuple(cell(one.title, f"#{one.anchor}") for one in found))
    sections = tuple(Section(one.anchor, one.title, (Prose(one.markup),)) for one in found)
    blocks: tuple[Block, ...] = (contents, *sections)
    return Page("how-to", van.texts("page.how-to"), van.texts("how-to.lead"), blocks), problems


def _apart(found: list[Procedure]) -> Iterator[Procedure]:
    """Yield procedures each with an anchor of its own: files may differ in what an anchor cannot hold."""
    seen: Counter[str] = Counter()
    for one in found:
        seen[one.anchor] += 1
        more = f"-{seen[one.anchor]}" if seen[one.anchor] > 1 else ""
        yield one._replace(anchor=f"{one.anchor}{more}")


def _anchor(name: str) -> str:
    """Return the anchor for the name of a file; a blank in it would make two of it."""
    return re.sub(r"[^\w.-]+", "-", name).strip("-") or "procedure"


def _procedure(van: Van, path: Path, problems: list[Problem]) -> Procedure | None:
    from markdown_it import MarkdownIt  # noqa: PLC0415 - slow to import

    shown = f"{van.shown}/{PROCEDURES}/{path.name}"
    homes = (van.folder, van.folder.parent)
    data = linked_out(path.parent, shown, homes[1]) or contents(path, shown, *homes, most=LONGEST)
    if isinstance(data, Problem):
        problems.append(data)
        return None
    text = data.decode("utf-8", "replace")
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table").disable("image")
    tokens = markdown.parse(text)
    title = _title(tokens) or path.stem.replace("-", " ").capitalize()
    _lower_headings(tokens)
    _link(van, tokens, shown, problems)
    _signals(tokens)
    return Procedure(
        _anchor(path.stem), title, Markup(markdown.renderer.render(tokens, markdown.options, {}))
    )


def _title(tokens: list[Token]) -> str:
    """Take the first heading out of the text and return it."""
    if len(tokens) > 2 and tokens[0].type == "heading_open" and tokens[0].tag == "h1":
        title = tokens[1].content
        del tokens[:3]
        return title
    return ""


def _lower_headings(tokens: list[Token]) -> None:
    """Put headings below the section's own."""
    for token in tokens:
        if token.type in ("heading_open", "heading_close"):
            token.tag = f"h{min(6, int(token.tag[1]) + 1)}" if token.tag != "h1" else "h3"


def _inline(tokens: list[Token]) -> Iterator[tuple[Token, int]]:
    """Yield the pieces inside lines of text, with the line that each stands on."""
    for token in tokens:
        line = token.map[0] + 1 if token.map else 1
        for child in token.children or ():
            yield child, line


def _link(van: Van, tokens: list[Token], shown: str, problems: list[Problem]) -> None:
    for token, line in _inline(tokens):
        if token.type != "link_open":
            continue
        href = str(token.attrGet("href") or "")
        if href.startswith(COMPONENT):
            name = href.removeprefix(COMPONENT)
            token.attrSet("href", f"parts.html#{name}")
            if name not in van.build.components:
                token.attrSet("href", "parts.html")
                problems.append(_lost(van, name, Place(shown, line, 1)))
        elif href.lower().startswith(LINKED) or ":" in href:
            token.attrSet("href", "how-to.html")
            problems.append(
                Problem(
                    Place(shown, line, 1),
                    "a procedure links out of the site, which has to work without a network",
                    href,
                    "`component:` and the id of a component",
                )
            )


def _lost(van: Van, name: str, place: Place) -> Problem:
    return Problem(
        place,
        "a procedure speaks of a component that is not there",
        name,
        "the id of a component",
        nearest_word(name, van.build.components),
    )


SIGNAL = re.compile(rf"^({'|'.join(word.value for word in Signal)})\b[:.]?\s*")


def _signals(tokens: list[Token]) -> None:
    """Make a quotation that begins with a signal word a safety message."""
    opened: list[Token] = []
    for token in tokens:
        if token.type == "blockquote_open":
            opened.append(token)
        elif token.type == "blockquote_close":
            opened.pop()
        elif token.type == "inline" and opened and token.children:
            _signal(token.children, opened[-1])


def _signal(children: list[Token], quotation: Token) -> None:
    first: Any = next((child for child in children if child.type == "text" and child.content), None)
    found = SIGNAL.match(first.content) if first is not None else None
    if found is not None and quotation.attrGet("class") is None:
        quotation.attrSet("class", f"caution {found[1].lower()}")
