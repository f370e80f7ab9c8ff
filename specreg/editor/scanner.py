"""Reading where keys and values stand, line by line, in a text that need not be right."""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, field
from typing import NamedTuple

from specreg.editor.outline import Cursor, Item, Outline, Span
from specreg.source import Path

LINE_END = re.compile(r"\r\n|\n|\r")
KEY = re.compile(
    r"""("[^"]*"|'[^']*'|[^\s\[\]{},#"'\-?&*!|>%@`][^:#\[\]{},]*?|-[^\s:#\[\]{},]+)\s*:(?=\s|$)"""
)
BLOCK_TEXT = re.compile(r"[|>][-+0-9]*\s*(#.*)?$")
COMMENT = re.compile(r"(^|\s)#")


def outline(text: str) -> Outline:
    """Return where the keys and values of a text stand."""
    scanner = _Scanner()
    lines = tuple(LINE_END.split(text))
    for line in lines:
        scanner.take(line)
    return Outline(lines, tuple(scanner.items))


def cursor(lines: tuple[str, ...], line: int, column: int) -> Cursor | None:
    """Return what is being written at a place; None in a comment or a longer text."""
    scanner = _Scanner()
    for before in lines[:line]:
        scanner.take(before)
    return scanner.pending((lines[line] if line < len(lines) else "")[:column])


class _Level(NamedTuple):
    """A key or list item of the block style that is open, by the column where it begins."""

    column: int
    step: str | int


@dataclass(slots=True)
class _Brace:
    """A list or mapping in brackets that is open."""

    path: Path
    is_list: bool
    index: int = 0
    key: str | None = None

    def inner(self) -> Path:
        """Return the path of the value that comes next."""
        step = self.index if self.is_list else self.key
        return self.path if step is None else (*self.path, step)


@dataclass(slots=True)
class _Scanner:
    items: list[Item] = field(default_factory=list)
    levels: list[_Level] = field(default_factory=list)
    braces: list[_Brace] = field(default_factory=list)
    counts: dict[Path, int] = field(default_factory=lambda: defaultdict(int))
    text_below: int | None = None
    """The column of the key that a text in block style (`|`, `>`) stands under, while it lasts."""
    number: int = -1
    word: Span | None = None
    """The last word of a line in brackets, while nothing has ended it."""

    def path(self) -> Path:
        return tuple(level.step for level in self.levels)

    def take(self, line: str) -> None:
        """Read one line."""
        self.number += 1
        self.word = None
        indent = len(line) - len(line.lstrip(" "))
        blank = not line.strip()
        if self.text_below is not None:
            if blank or indent > self.text_below:
                return
            self.text_below = None
        if self.braces and not blank and self._left_brackets(line, indent):
            self.braces.clear()
        if self.braces:
            self._flow(line, 0)
        elif not blank and line[indent] != "#":
            self._block(line, indent)

    def _left_brackets(self, line: str, indent: int) -> bool:
        """Tell whether a bracket was never closed: a new key stands no deeper than the one that opened it."""
        began = next((level.column for level in reversed(self.levels) if isinstance(level.step, str)), 0)
        return indent <= began and bool(KEY.match(line, indent))

    def _block(self, line: str, column: int) -> None:
        column = self._dashes(line, column)
        found = KEY.match(line, column)
        if found:
            self._close(column)
            self.levels.append(_Level(column, _unquoted(found[1])))
            path, key = self.path(), Span(self.number, column, column + len(found[1]))
            begin = _skip(line, found.end())
            self._value(line, begin, path, key, column)
        elif self.levels and column < len(line):
            self._bare_value(line, column)

    def _bare_value(self, line: str, column: int) -> None:
        """Read a value on a line without a key: an item of a list, or brackets below their key."""
        last = self.levels[-1]
        if isinstance(last.step, int):
            self._value(line, column, self.path(), None, last.column)
        elif line[column] in "{[" and column > last.column:
            self.braces = [_Brace(self.path(), line[column] == "[")]
            self._flow(line, column + 1)

    def _dashes(self, line: str, column: int) -> int:
        """Take the dashes of list items at the head of a line; return where what they hold begins."""
        while line.startswith("-", column) and (column + 1 == len(line) or line[column + 1] == " "):
            while self.levels and (
                self.levels[-1].column > column
                or (self.levels[-1].column == column and isinstance(self.levels[-1].step, int))
            ):
                self.levels.pop()
            parent = self.path()
            self.levels.append(_Level(column, self.counts[parent]))
            self.counts[parent] += 1
            column = _skip(line, column + 1)
        return column

    def _close(self, column: int) -> None:
        while self.levels and self.levels[-1].column >= column:
            self.levels.pop()

    def _value(self, line: str, begin: int, path: Path, key: Span | None, column: int) -> None:
        rest = line[begin:]
        if rest[:1] in ("{", "["):
            self.items.append(Item(path, key))
            self.braces = [_Brace(path, rest[0] == "[")]
            self._flow(line, begin + 1)
        elif BLOCK_TEXT.match(rest):
            self.items.append(Item(path, key))
            self.text_below = column
        else:
            span, text = _plain(line, begin, self.number)
            self.items.append(Item(path, key, span, text))

    def _flow(self, line: str, column: int) -> None:
        """Read what stands in brackets from a column on."""
        while self.braces and column < len(line):
            sign = line[column]
            brace = self.braces[-1]
            if sign in " \t":
                column += 1
                continue
            if sign == "#" and (column == 0 or line[column - 1] in " \t"):
                return
            column += 1
            if sign in "{[":
                self.word = None
                self.braces.append(_Brace(brace.inner(), sign == "["))
            elif sign in "}]":
                self.word = None
                self.braces.pop()
            elif sign == ",":
                self.word = None
                brace.index, brace.key = brace.index + 1, None
            elif sign == ":":
                self.word = None
            else:
                column = self._flow_word(line, column - 1, brace)

    def _flow_word(self, line: str, start: int, brace: _Brace) -> int:
        """Take a key or a value in brackets; return where it ends."""
        end = _word_end(line, start)
        text = line[start:end].rstrip()
        span = Span(self.number, start, start + len(text))
        self.word = span
        if brace.is_list:
            self.items.append(Item(brace.inner(), None, _inside(span, text), _unquoted(text)))
        elif brace.key is None:
            brace.key = _unquoted(text)
            self.items.append(Item(brace.inner(), span))
        else:
            self._fill(brace.inner(), _inside(span, text), _unquoted(text))
        return end

    def _fill(self, path: Path, span: Span, text: str) -> None:
        for index in range(len(self.items) - 1, -1, -1):
            if self.items[index].path == path:
                self.items[index] = Item(path, self.items[index].key, span, text)
                return

    def pending(self, head: str) -> Cursor | None:
        """Return what a cursor at the end of `head`, the beginning of the next line, is writing."""
        count = len(self.items)
        bare = not head.strip()
        if self.text_below is not None and (bare or len(head) - len(head.lstrip()) > self.text_below):
            return None
        inside = bool(self.braces)
        self.take(head)
        if not self.braces and COMMENT.search(head) and not inside:
            return None
        if self.braces:
            return self._pending_flow(head, len(self.items) > count)
        return self._pending_block(head, bare)

    def _pending_flow(self, head: str, fresh: bool) -> Cursor:
        brace, end = self.braces[-1], len(head)
        span = self.word if self.word is not None and fresh else Span(self.number, end, end)
        written = head[span.start : end]
        if brace.is_list:
            return Cursor(brace.inner(), True, written, Span(self.number, span.start, end))
        after_key = brace.key is not None and self.word is None
        value = brace.key is not None and (after_key or self._is_value(brace))
        if value:
            return Cursor(brace.inner(), True, written, Span(self.number, span.start, end))
        return Cursor(brace.path, False, written, Span(self.number, span.start, end))

    def _is_value(self, brace: _Brace) -> bool:
        """Tell whether the last word is the value of the last key, and not that key."""
        return bool(self.items) and self.items[-1].key != self.word and brace.key is not None

    def _pending_block(self, head: str, bare: bool) -> Cursor | None:
        end = len(head)
        if bare:
            self._close(end)
            return Cursor(self.path(), False, "", Span(self.number, end, end))
        last = self.items[-1] if self.items else None
        if last is not None and last.key is not None and last.key.line == self.number:
            start = last.value.start if last.value else end
            word = head[start:end] if last.value else ""
            return Cursor(last.path, True, word, Span(self.number, start, end))
        start = _skip(head, 0)
        while head.startswith("- ", start):
            start = _skip(head, start + 1)
        if not (self.levels and isinstance(self.levels[-1].step, int) and "-" in head):
            self._close(start)
        return Cursor(self.path(), False, head[start:end], Span(self.number, start, end))


def _skip(line: str, column: int) -> int:
    while column < len(line) and line[column] in " \t":
        column += 1
    return column


def _unquoted(text: str) -> str:
    return text[1:-1] if len(text) > 1 and text[0] in "\"'" and text[-1] == text[0] else text


def _inside(span: Span, text: str) -> Span:
    """Return the span without the quotation marks."""
    quoted = len(text) > 1 and text[0] in "\"'" and text[-1] == text[0]
    return Span(span.line, span.start + 1, span.end - 1) if quoted else span


def _plain(line: str, begin: int, number: int) -> tuple[Span | None, str]:
    """Return where the single value stands that begins at a column, and its text."""
    rest = line[begin:]
    if rest[:1] in ('"', "'"):
        end = rest.find(rest[0], 1)
        text = rest[1:] if end < 0 else rest[1:end]
        return Span(number, begin + 1, begin + 1 + len(text)), text
    comment = COMMENT.search(rest)
    text = (rest[: comment.start()] if comment else rest).rstrip()
    return (Span(number, begin, begin + len(text)), text) if text else (None, "")


def _word_end(line: str, start: int) -> int:
    """Return the column where a key or value in brackets ends."""
    if line[start] in "\"'":
        end = line.find(line[start], start + 1)
        return len(line) if end < 0 else end + 1
    for column in range(start, len(line)):
        sign = line[column]
        if sign in ",[]{}" or (sign == "#" and line[column - 1 : column] in (" ", "\t")):
            return column
        if sign == ":" and (column + 1 == len(line) or line[column + 1] in " \t,[]{}"):
            return column
    return len(line)
