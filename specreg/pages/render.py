"""Pages to HTML by the templates, with every text escaped."""

from __future__ import annotations

import json
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from markupsafe import Markup

from specreg.pages.content import Cell, Page, Words
from specreg.pages.frame import Frame
from specreg.pages.texts import Texts, Untranslated
from specreg.pages.written import Writer, marked

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

        from specreg.pages.kept_templates import KeptTemplates  # noqa: PLC0415

        environment = Environment(
            loader=FileSystemLoader(self._folder),
            autoescape=True,
            undefined=StrictUndefined,
            finalize=marked,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            bytecode_cache=KeptTemplates(Path(__file__)),
        )
        environment.globals["text"] = self._texts
        writer = Writer(self._texts)
        environment.globals["cell"] = writer.cell
        environment.globals["row"] = writer.row
        environment.filters["short"] = short
        environment.filters["plain"] = str
        environment.tests["untranslated"] = untranslated
        return environment

    def page(self, page: Page, frame: Frame, sheet: str | None = None) -> str:
        """Return one page as HTML; `sheet` is what it says, where that was made already."""
        inner = Markup(self.sheet(page, frame) if sheet is None else sheet)
        return self._environment.get_template("page.html").render(page=page, frame=frame, sheet=inner)

    def sheet(self, page: Page, frame: Frame) -> str:
        """Return what a page says, without what stands around it: the same within any frame of its van."""
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


def untranslated(cell: Cell) -> bool:
    """Tell whether a standard text in a cell is not translated."""
    return any(isinstance(piece, Words) and isinstance(piece.text, Untranslated) for piece in cell)


def short(number: float) -> str:
    """Return a coordinate with at most one decimal place."""
    return f"{round(number, 1):g}"
