"""Pages to HTML by the templates, with every text escaped."""

from __future__ import annotations

import json
import re
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

from specreg.pages.content import Page
from specreg.pages.frame import Frame
from specreg.pages.texts import Texts

if TYPE_CHECKING:
    from jinja2 import Environment

    from specreg.pages.whole import Sheet


class Renderer:
    """The templates of the site."""

    def __init__(self, templates: Path, texts: Texts) -> None:
        self._folder = templates
        self._texts = texts

    @cached_property
    def _environment(self) -> Environment:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined  # noqa: PLC0415 - only publishing needs it

        environment = Environment(
            loader=FileSystemLoader(self._folder),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        environment.globals["text"] = self._texts
        environment.filters["short"] = short
        environment.filters["whole"] = whole
        return environment

    def page(self, page: Page, frame: Frame) -> str:
        """Return one page as HTML."""
        return self._environment.get_template("page.html").render(page=page, frame=frame)

    def sheet(self, page: Page, frame: Frame) -> str:
        """Return what a page says, without what stands around it."""
        return self._environment.get_template("sheet.html").render(page=page, frame=frame)

    def alone(self, frame: Frame, sheets: tuple[Sheet, ...], style: str) -> str:
        """Return sheets as one file to be printed, with its style in it."""
        template = self._environment.get_template("alone.html")
        return template.render(frame=frame, sheets=sheets, style=Markup(style))

    def book(self, frame: Frame, sheets: tuple[Sheet, ...], style: str, script: str) -> str:
        """Return all sheets as one file that needs no other."""
        running = json.dumps(frame.book, ensure_ascii=False).replace("<", "\\3c ")
        return self._environment.get_template("book.html").render(
            frame=frame, sheets=sheets, style=Markup(style), script=Markup(script), running=Markup(running)
        )


KEPT_WHOLE = re.compile(r"\d{4}-\d\d-\d\d|(?<=[^\w-])-[A-Z]{1,2}\d+(?:\.\d+)?\)?")
"""A day; a reference designation within a text, with the bracket that closes after it."""


def whole(text: str) -> Markup:
    """Return a text in which no line ends within a day or a designation; its letters stay as they are."""
    return Markup(KEPT_WHOLE.sub(r'<span class="n">\g<0></span>', str(escape(text))))


def short(number: float) -> str:
    """Return a coordinate with at most one decimal place."""
    return f"{round(number, 1):g}"
