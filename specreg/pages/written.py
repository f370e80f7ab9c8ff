"""Cells and rows as markup, every text escaped.

A site has ten thousand cells: written here, not by a template, they take a third of the time.
"""

from __future__ import annotations

import re
from functools import lru_cache

from markupsafe import Markup, escape

from specreg.pages.content import Break, Cell, Figure, Inline, Known, Picture, Row, Words
from specreg.pages.texts import Texts, Untranslated

KEPT_WHOLE = re.compile(r"\d{4}-\d\d-\d\d|(?<=[^\w-])-[A-Z]{1,2}\d+(?:\.\d+)?\)?")
"""A day; a reference designation within a text, with the bracket that closes after it."""


@lru_cache(maxsize=4096, typed=True)
def whole(text: str) -> Markup:
    """Return a text in which no line ends within a day or a designation; its letters stay as they are."""
    kept = Markup(KEPT_WHOLE.sub(r'<span class="n">\g<0></span>', str(escape(str(text)))))
    return _english(kept) if isinstance(text, Untranslated) else kept


def marked(value: object) -> object:
    """Return what is printed: a text that is not translated says in its markup that it is English."""
    return _english(escape(str(value))) if isinstance(value, Untranslated) else value


def _english(markup: Markup) -> Markup:
    return Markup('<span lang="en">{}</span>').format(markup)


class Writer:
    """Writes cells and rows in one language."""

    def __init__(self, texts: Texts) -> None:
        self._known = {known: _shown(texts(f"known.{known.value}")) for known in Known}

    def cell(self, cell: Cell) -> Markup:
        """Return what stands in a cell."""
        return Markup("".join(map(self._piece, cell)))

    def row(self, row: Row, columns: tuple[str, ...]) -> Markup:
        """Return the cells of a row, each with the name of its column, by which a narrow screen calls it."""
        said: list[str] = []
        formerly = "".join(f'<span id="{escape(anchor)}"></span>' for anchor in row.formerly)
        for column, cell in zip(columns, row.cells, strict=True):
            said += (f'<td data-of="{_attribute(column)}">', formerly, *map(self._piece, cell), "</td>")
            formerly = ""
        return Markup("".join(said))

    def _piece(self, piece: Inline) -> str:
        if isinstance(piece, Words):
            return _words(piece)
        if isinstance(piece, Figure):
            return self._figure(piece)
        if isinstance(piece, Break):
            return "<br>"
        if isinstance(piece, Picture):
            return _picture(piece)
        return f'<span class="unknown">{_shown(piece.text)}</span>'

    def _figure(self, figure: Figure) -> str:
        value = f"<b>{_shown(figure.value)}</b>" if figure.value else ""
        between = " " if figure.known is Known.seen else ": "
        beside = f"{between}{whole(figure.beside)}" if figure.beside else ""
        return f'<span class="figure">{value} <i>{self._known[figure.known]}{beside}</i></span>'


def _words(words: Words) -> str:
    text = whole(words.text)
    if words.href:
        return f'<a href="{_shown(words.href)}">{text}</a>'
    return f"<b>{text}</b>" if words.strong else text


def _picture(picture: Picture) -> str:
    file = _shown(picture.file)
    size = f'width="{picture.width}" height="{picture.height}"'
    image = f'<img src="{file}" alt="{_attribute(picture.alt)}" {size} loading="lazy">'
    return f'<a class="photo" href="{file}">{image}</a>'


def _shown(text: str) -> Markup:
    return escape(marked(text))


@lru_cache(maxsize=512)
def _attribute(text: str) -> Markup:
    """Return a text for an attribute, in which no markup may stand."""
    return escape(str(text))
