"""Strict YAML 1.2 (core types) with the line and column of every key and every value.

Refused, with a place: duplicate keys, anchors, aliases, tags, merge keys, directives, several documents,
keys that are not text or a number, numbers that are not finite, and files beyond the limits. `yes`, `no`,
`on` are words; a number with leading zeros, in hexadecimal or octal notation stays a text.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import yaml
from yaml import events

from specreg.source.characters import read_characters, refused_character
from specreg.source.inside import MOST_BYTES, too_large
from specreg.source.place import Place
from specreg.source.problem import Problem
from specreg.source.syntax import syntax_problem
from specreg.source.tree import Entry, Mapping, Node, Scalar, Sequence, Value

try:
    from yaml._yaml import CParser
except ImportError as missing:
    raise ImportError(
        "specreg needs PyYAML with its C extension (libyaml), and this PyYAML was built without it; "
        "install a PyYAML wheel for this platform, or libyaml's headers and PyYAML again"
    ) from missing


@dataclass(frozen=True, slots=True)
class Limits:
    """How much one file may hold before reading it stops."""

    bytes: int = MOST_BYTES
    nodes: int = 300_000
    depth: int = 40
    problems: int = 200


class _StopReading(Exception):  # noqa: N818
    """What follows cannot be read or is too much."""


_WORDS: dict[str, Value] = {
    "": None, "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True,
    "false": False, "False": False, "FALSE": False,
}  # fmt: skip
_NUMBER = re.compile(
    r"[-+]?(?:(?P<int>0|[1-9][0-9]*)|(?:(?:0|[1-9][0-9]*)(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)"
)
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_MAY_BE_NUMBER = frozenset("0123456789+-.")
_new = tuple.__new__  # half the time of calling the class, and there is a place for every key and value
_MOST_DIGITS = 300  # a whole number beyond this has no floating-point neighbour


def read_yaml(data: bytes, file: str, limits: Limits = Limits()) -> tuple[Node | None, list[Problem]]:
    """The tree in a file's bytes and everything that is wrong with it; no tree where reading had to stop."""
    start = Place(file, 1, 1)
    if len(data) > limits.bytes:
        return None, [too_large(start, len(data), limits.bytes)]
    text, problems, trusted = read_characters(data, file)
    if text is None:
        return None, problems
    builder = _Builder(file, limits)
    finished = builder.read(text, stops_count=trusted)
    problems = sorted(problems + builder.problems)[: limits.problems]
    return builder.root if finished and trusted else None, problems


class _Builder:
    """Turns parser events into one tree; keeps its own stack, so depth costs no recursion."""

    def __init__(self, file: str, limits: Limits) -> None:
        self.file = file
        self.limits = limits
        self.problems: list[Problem] = []
        self.root: Node | None = None
        self._nodes = 0
        self._documents = 0
        self._inside: Mapping | Sequence | None = None
        self._entries: dict[str, Entry] | None = None  # those of a mapping that is read just now
        self._items: list[Node] | None = None  # those of a list that is read just now
        self._expects_key = False
        self._key: str | None = None
        """The key whose value comes next; None: that value is read for its problems only."""
        self._key_place = Place(file, 1, 1)
        self._stack: list[tuple[Mapping | Sequence | None, bool]] = []

    def read(self, text: str, stops_count: bool) -> bool:
        """Read a whole text; whether the end was reached. `stops_count`: a syntax error is reported."""
        handlers: dict[type[events.Event], Callable[[Any], None]] = {
            events.ScalarEvent: self._scalar,
            events.MappingStartEvent: self._mapping_start,
            events.SequenceStartEvent: self._sequence_start,
            events.MappingEndEvent: self._end,
            events.SequenceEndEvent: self._end,
            events.AliasEvent: self._alias,
            events.DocumentStartEvent: self._document_start,
            events.StreamEndEvent: self._stream_end,
        }
        try:
            next_event = CParser(text).get_event
            while (event := next_event()) is not None:
                handler = handlers.get(event.__class__)
                if handler is not None:
                    handler(event)
        except yaml.YAMLError as error:
            if stops_count:
                self.problems.append(syntax_problem(error, text, self.file))
            return False
        except _StopReading:
            return False
        return True

    # events

    def _scalar(self, event: events.ScalarEvent) -> None:
        mark: Any = event.start_mark
        place = _new(Place, (self.file, mark.line + 1, mark.column + 1))
        if event.anchor is not None or event.tag is not None:
            self._refuse_decoration(event, place)
        text = event.value
        if event.style == '"' and not text.isprintable() and (wrong := refused_character(text, place)):
            self._add(wrong)
        if self._expects_key:
            self._take_key(text, event.style == "", place)
        elif event.style == "" and (text in _WORDS or text[0] in _MAY_BE_NUMBER):
            self._attach(Scalar(self._typed(text, place), text, place))
        else:
            self._attach(Scalar(text, text, place))

    def _mapping_start(self, event: events.MappingStartEvent) -> None:
        self._open(Mapping({}, self._place(event)), event)
        self._expects_key = True

    def _sequence_start(self, event: events.SequenceStartEvent) -> None:
        self._open(Sequence([], self._place(event)), event)
        self._expects_key = False

    def _end(self, event: events.Event) -> None:
        inside, was_key = self._stack.pop()
        self._enter(inside)
        self._key = None
        self._expects_key = isinstance(inside, Mapping) and not was_key

    def _alias(self, event: events.AliasEvent) -> None:
        place = self._place(event)
        self._problem(place, "an alias", f"*{event.anchor}", "write the value again, or quote a text")
        if self._expects_key:
            self._key, self._expects_key = None, False
        else:
            self._attach(Scalar(None, "", place))

    def _document_start(self, event: events.DocumentStartEvent) -> None:
        self._documents += 1
        place = self._place(event)
        if event.version or event.tags:
            self._problem(place, "a directive (`%`)", None, "take the line away")
        if self._documents == 2:
            self._problem(place, "a second document", "---", "put it into a file of its own")

    def _stream_end(self, event: events.Event) -> None:
        root = self.root
        if root is None or (isinstance(root, Scalar) and root.text == "" and root.value is None):
            start = Place(self.file, 1, 1)
            self._problem(start, "the file is empty", None, "write the spec, or delete the file")

    # keys and values

    def _take_key(self, key: str, is_plain: bool, place: Place) -> None:
        self._expects_key = False
        self._key = key
        self._key_place = place
        if is_plain and (key in _WORDS or key == "<<"):
            self._refuse_key(key, place)
        elif self._entries and key in self._entries:
            first = self._entries[key].key_place
            message = f"the same key a second time, first on line {first.line}, column {first.column}"
            self._problem(place, message, key, "keep one of the two")
            self._key = None

    def _refuse_key(self, key: str, place: Place) -> None:
        self._key = None
        if key == "<<":
            self._problem(place, "a merge key", key, "write the values again")
        elif _WORDS[key] is None:
            self._problem(place, "a key that is empty", key, "give the key a name")
        else:
            self._problem(place, "a key that is not text", key, f'write "{key}" in quotation marks')

    def _typed(self, text: str, place: Place) -> Value:
        """What a scalar without quotation marks means that is a word or begins like a number."""
        if text in _WORDS:
            return _WORDS[text]
        number = _NUMBER.fullmatch(text)
        if number is None:
            return self._not_finite(text, place) if _NOT_FINITE.fullmatch(text) else text
        if len(text) > _MOST_DIGITS:
            return self._not_finite(text, place)
        if number["int"]:
            return int(text)
        value = float(text)
        return value if math.isfinite(value) else self._not_finite(text, place)

    def _not_finite(self, text: str, place: Place) -> Value:
        self._problem(place, "a number that is not finite", text, "give a number, or quote a text")
        return text

    # the tree

    def _open(self, node: Mapping | Sequence, event: events.CollectionStartEvent) -> None:
        if event.anchor is not None or event.tag is not None:
            self._refuse_decoration(event, node.place)
        if len(self._stack) >= self.limits.depth:
            message = f"values nested deeper than {self.limits.depth} levels"
            self._stop(node.place, message, "make the spec flatter")
        is_key = self._expects_key
        if is_key:
            self._problem(node.place, "a list or mapping as a key", None, "write a word as the key")
        else:
            self._attach(node)
        self._stack.append((self._inside, is_key))
        self._enter(node)

    def _enter(self, node: Mapping | Sequence | None) -> None:
        self._inside = node
        self._entries = node.entries if isinstance(node, Mapping) else None
        self._items = node.items if isinstance(node, Sequence) else None

    def _attach(self, node: Node) -> None:
        self._nodes += 1
        if self._nodes > self.limits.nodes:
            self._stop(node.place, f"more than {self.limits.nodes} values", "split the file")
        if self._entries is not None:
            if self._key is not None:
                self._entries[self._key] = Entry(self._key_place, node)
            self._expects_key = True
        elif self._items is not None:
            self._items.append(node)
        elif self._documents == 1:
            self.root = node

    # problems

    def _place(self, event: events.Event) -> Place:
        mark: Any = event.start_mark  # typed as optional; the C parser always gives it
        return Place(self.file, mark.line + 1, mark.column + 1)

    def _refuse_decoration(self, event: events.NodeEvent, place: Place) -> None:
        if event.anchor is not None:
            self._problem(place, "an anchor", f"&{event.anchor}", "take it away, or quote a text")
        tag = getattr(event, "tag", None)
        if tag is not None:
            short = tag.replace("tag:yaml.org,2002:", "!!", 1)
            self._problem(place, "a tag", short, "take it away, or quote a text")

    def _problem(self, place: Place, message: str, read: str | None, remedy: str) -> None:
        self._add(Problem(place, message, read=read, remedy=remedy))

    def _add(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= self.limits.problems:
            raise _StopReading

    def _stop(self, place: Place, message: str, remedy: str) -> None:
        self.problems.append(Problem(place, message, remedy=remedy))
        raise _StopReading
