"""What is looked for: conditions such as `kind=pump`, `serial=A100..A199`, `fitted=2026-03`, or words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from specreg.source import Problem, nearest_word
from specreg.source.recall import DAYS, RANGE, day_range, fold, like
from specreg.source.serials import serial_key, shape, span

BUILD_KEYS = {
    "build": "name of the build",
    "van": "title of the build",
    "stage": "where the van is between enquiry and service",
    "jurisdiction": "where it is registered and used",
}
THING_KEYS = {
    "id": "id of the component, run or device in the spec",
    "kind": "kind of the component, medium of the run, or device",
    "title": "what people call it",
    "label": "words on the label beside it",
    "designation": "reference designation",
    "zone": "named zone in which it is",
    "part": "entry of the catalogue",
    "maker": "who made it",
    "model": "maker's name or number for it",
    "serial": "serial or lot number (`lot` is the same)",
    "made": "day of manufacture",
    "fitted": "day on which it was fitted",
}
KEYS = {**BUILD_KEYS, **THING_KEYS}
"""Every key of a condition, with what it looks at."""

OTHER_NAMES = {"lot": "serial"}
TEXT = ("id", "kind", "title", "label", "part", "maker", "model", "note")
"""Where a plain word is looked for."""


@dataclass(frozen=True)
class Match:
    """One way to meet a condition, on keys (`key_of`): equal, between two, containing, or like a pattern."""

    form: Literal["equal", "between", "contains", "like"]
    first: str
    last: str = ""

    def sql(self) -> tuple[str, tuple[str, ...]]:
        """Return the clause about `key`, and `text` for a pattern, with its parameters."""
        match self.form:
            case "equal":
                return "key = ?", (self.first,)
            case "between":
                return "key BETWEEN ? AND ?", (self.first, self.last)
            case "contains":
                return "instr(key, ?) > 0", (self.first,)
        return "alike(?, folded(text))", (self.first,)

    def holds(self, text: str) -> bool:
        """Tell whether a text that is no serial number meets it."""
        key = fold(text)
        match self.form:
            case "equal":
                return key == self.first
            case "between":
                return self.first <= key <= self.last
            case "contains":
                return self.first in key
        return like(self.first, key)


def key_of(word: str, text: str) -> str:
    """Return what is compared of a value: serial numbers piece by piece, texts without regard to capitals."""
    return serial_key(text) if word == "serial" else fold(text)


@dataclass(frozen=True)
class Condition:
    """One condition, met in any of its ways; `key` is empty for a plain word."""

    key: str
    ways: tuple[Match, ...]

    @property
    def of_build(self) -> bool:
        """Tell whether it is about the whole van."""
        return self.key in BUILD_KEYS

    def holds(self, text: str) -> bool:
        """Tell whether a text of the van meets it."""
        return any(way.holds(text) for way in self.ways)


def read_query(words: Iterable[str]) -> tuple[tuple[Condition, ...], list[Problem]]:
    """Return the conditions, which must all hold, and everything that is wrong with them."""
    problems: list[Problem] = []
    found = [_condition(word.strip(), problems) for word in _parted(words) if word.strip()]
    if not found:
        expected = "a condition such as part=…, or a word"
        problems.append(Problem(None, "nothing is asked for", expected=expected))
    return tuple(one for one in found if one is not None), problems


_NEXT = re.compile(rf"\s+(?=(?:{'|'.join((*KEYS, *OTHER_NAMES))})=)")


def _parted(words: Iterable[str]) -> list[str]:
    """Return the conditions one by one, also where the whole query was put in one pair of quotation marks."""
    return [part for word in words for part in _NEXT.split(word)]


def _condition(word: str, problems: list[Problem]) -> Condition | None:
    key, equals, value = word.partition("=")
    if not equals:
        return Condition("", (Match("contains", fold(word)),))
    key = OTHER_NAMES.get(key.strip(), key.strip())
    if key not in KEYS:
        near = nearest_word(key, [*KEYS, *OTHER_NAMES])
        problems.append(Problem(None, "no such key of a condition", key, ", ".join(KEYS), near))
        return None
    ways = [_way(key, one.strip(), problems) for one in re.split(r",(?!\s)", value)]
    return Condition(key, tuple(ways))


def _way(key: str, value: str, problems: list[Problem]) -> Match:
    first, between, last = value.partition(RANGE)
    if key in DAYS and value:
        return days(first, last if between else first, problems)
    if between and key == "serial":
        return serials(first.strip(), last.strip(), problems)
    if between and key not in ("build", "van", "title", "label"):
        problems.append(Problem(None, f"`{key}` takes no range", value, "ranges of serial, made and fitted"))
    return equal(key, value)


def equal(key: str, value: str) -> Match:
    """Return the match of one value; `*` stands for any letters, an empty one for what is not stated."""
    return Match("like", fold(value)) if "*" in value else Match("equal", key_of(key, value))


def serials(first: str, last: str, problems: list[Problem]) -> Match:
    """Return the match of a range of serial numbers."""
    if first and last and shape(first) != shape(last):
        message = "the ends of the range are not written alike"
        problems.append(Problem(None, message, f"{first}{RANGE}{last}", "such as A100..A199"))
    return Match("between", *span(first, last))


def days(first: str, last: str, problems: list[Problem]) -> Match:
    """Return the match of a range of days; a year or a month means all of its days, an empty end is open."""
    return Match("between", *day_range(first, last, problems))
