"""How text is set for its reader: width and colour."""

from __future__ import annotations

import os
import re
import shutil
import textwrap
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TextIO

INDENT = "    "
WIDEST = 110
NARROWEST = 40

BEFORE_UNIT = re.compile(r"(?<=[0-9]) (?=[^\W\d]{1,3}[²³]?\b|[%°Ω])")
"""The space between a number and its unit, where no line may end."""

COLOURS = {"error": "31", "warning": "33", "note": "36", "wait": "35", "quiet": "2", "title": "1"}


@dataclass(frozen=True)
class Style:
    """Width to wrap at (None: every line stays whole, as scripts like it), and whether to colour."""

    width: int | None = None
    colour: bool = False

    def tint(self, text: str, role: str) -> str:
        """Colour a text by what it means, where colour is wanted."""
        return f"\x1b[{COLOURS[role]}m{text}\x1b[0m" if self.colour else text

    def wrap(self, text: str, indent: str = "", after: str = INDENT) -> str:
        """Wrap a text; its first line begins with `indent`, the others with `after`."""
        if self.width is None:
            return indent + text
        filled = textwrap.fill(
            BEFORE_UNIT.sub("\u00a0", text),
            self.width,
            initial_indent=indent,
            subsequent_indent=after,
            break_long_words=False,
            break_on_hyphens=False,
        )
        return filled.replace("\u00a0", " ")


def style_for(stream: TextIO, environment: Mapping[str, str] = os.environ) -> Style:
    """Return the style that fits a stream: a terminal's width and colour, else `COLUMNS` or none."""
    on_terminal = stream.isatty()
    colour = on_terminal and not environment.get("NO_COLOR") and environment.get("TERM") != "dumb"
    asked = environment.get("COLUMNS", "")
    if asked.isascii() and asked.isdigit() and int(asked):
        return Style(max(int(asked), NARROWEST), colour)
    if not on_terminal:
        return Style()
    return Style(min(max(shutil.get_terminal_size().columns, NARROWEST), WIDEST), colour)
