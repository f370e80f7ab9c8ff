"""Where keys and values stand in a text that is being written, whether or not it can be read yet.

Lines and columns count from 0, columns in code points. What cannot be told is passed over: an outline is for
finding one's way, never for judging.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from specreg.source import Path


class Span(NamedTuple):
    """A piece of one line, from a column up to but not with another."""

    line: int
    start: int
    end: int

    def holds(self, line: int, column: int) -> bool:
        """Tell whether a cursor stands in it or at its end."""
        return line == self.line and self.start <= column <= self.end


@dataclass(frozen=True, slots=True)
class Item:
    """A key or an item of a list: where its key stands, and where its value, if that is a single one."""

    path: Path
    key: Span | None
    value: Span | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Cursor:
    """What is being written: a key below `path`, or the value of `path`; `word` is there already."""

    path: Path
    is_value: bool
    word: str
    span: Span


@dataclass(frozen=True)
class Outline:
    """Every key and single value of a text, in the order of the text."""

    lines: tuple[str, ...]
    items: tuple[Item, ...]

    @cached_property
    def by_path(self) -> dict[Path, Item]:
        """Return the items by path."""
        return {item.path: item for item in self.items}

    def text(self, path: Path) -> str:
        """Return the single value at a path; empty where there is none."""
        item = self.by_path.get(path)
        return item.text if item else ""

    def keys(self, path: Path) -> tuple[str, ...]:
        """Return the keys that stand below a path."""
        depth = len(path)
        return tuple(
            str(item.path[-1])
            for item in self.items
            if len(item.path) == depth + 1 and item.path[:depth] == path and item.key is not None
        )

    def item_at(self, line: int, column: int) -> Item | None:
        """Return the item whose key or value stands at a place."""
        return next(
            (
                item
                for item in self.items
                if (item.key and item.key.holds(line, column))
                or (item.value and item.value.holds(line, column))
            ),
            None,
        )

    def span_at(self, line: int, column: int) -> Span:
        """Return the piece of text that begins at a place: a key, a value, else a word."""
        for item in self.items:
            for span in (item.key, item.value):
                if span is not None and span.line == line and span.start <= column < max(span.end, 1):
                    return span
        text = self.lines[line] if line < len(self.lines) else ""
        start = min(column, len(text))
        word = re.match(r"[^\s,:{}\[\]]+", text[start:])
        return Span(line, start, start + (word.end() if word else 0))
