"""Recalls: what a maker calls back, as its file says it, and how a thing stands to that.

recalls/pump-housing.yaml:

    title: Diaphragm pump, cracked housing
    source: the maker's letter 31 of 2026
    date: 2026-05-02
    affects:
      - {part: diaphragm-pump-10l, serials: [A100..A199, A240], fitted: 2025-10..2026-03}
    do: Do not use the pump. The workshop fits a new housing free of charge.
    builds:
      heron: {told: 2026-05-06, booked: 2026-06-01}
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum
from pathlib import Path

from specreg.source.inside import contents, linked_out
from specreg.source.listing import yaml_files
from specreg.source.place import Place
from specreg.source.problem import Problem, nearest_word
from specreg.source.serials import Within, shape, within
from specreg.source.tree import Entry, Node, Scalar, Sequence, at
from specreg.source.tree import Mapping as Tree
from specreg.source.yaml import read_yaml

DAYS = ("made", "fitted")
RANGE = ".."

FOLDER = "recalls"
KEYS = ("title", "source", "date", "affects", "do", "builds")
NAMED_BY = ("part", "maker", "model", "kind")
AFFECTS = (*NAMED_BY, "serials", *DAYS)
STEPS = ("told", "booked", "done", "ruled_out")
"""What is recorded of a build, each with its day; `ruled_out`: somebody looked, and it is not one of them."""


class State(Enum):
    """How far a van is dealt with."""

    to_tell = "to tell"
    told = "told"
    booked = "booked"
    done = "done"
    ruled_out = "ruled out"


@dataclass(frozen=True)
class Affected:
    """One line of what a recall affects: texts by key, serial numbers as ranges of first and last."""

    named: Mapping[str, str]
    serials: tuple[tuple[str, str], ...]
    days: Mapping[str, tuple[str, str]]


@dataclass(frozen=True)
class Recall:
    """A recall as its file states it."""

    name: str
    title: str
    source: str
    date: str
    do: str
    affects: tuple[Affected, ...]
    steps: Mapping[str, Mapping[str, str]]
    """By build, the day of each step taken."""
    places: Mapping[str, Place] = field(default_factory=dict)
    """Where each build's steps stand."""
    tree: Tree = field(default_factory=lambda: Tree({}, Place("", 1, 1)), repr=False, compare=False)
    """The file as it was read."""

    def state(self, build: str) -> tuple[State, str]:
        """Return how far a van is dealt with, and since when."""
        taken = self.steps.get(build, {})
        for step in reversed(STEPS):
            if step in taken:
                return State[step], taken[step]
        return State.to_tell, ""


def recall_names(folder: Path) -> list[str]:
    """Return the names of a register's recalls."""
    return [path.stem for path in yaml_files(folder / FOLDER)]


def read_recall(folder: Path, shown: str, name: str) -> tuple[Recall | None, list[Problem]]:
    """Read a recall of a register; None where there is nothing to go by."""
    path = folder / FOLDER / f"{name}.yaml"
    known = recall_names(folder)
    if name not in known:
        expected = f"one from {FOLDER}/: {', '.join(known)}" if known else f"a file {FOLDER}/NAME.yaml"
        return None, [Problem(None, "there is no such recall", name, expected, nearest_word(name, known))]
    file = f"{shown}/{FOLDER}/{path.name}"
    data = linked_out(folder / FOLDER, f"{shown}/{FOLDER}", folder) or contents(path, file, folder)
    if isinstance(data, Problem):
        return None, [data]
    tree, problems = read_yaml(data, file)
    if not isinstance(tree, Tree):
        return None, problems or [Problem(Place(file, 1, 1), "a recall is a mapping of keys to values")]
    tree = Tree({key: _as_text(entry) for key, entry in tree.entries.items()}, tree.place)
    problems += _unknown(tree, KEYS)
    affects = tuple(_affected(tree, problems))
    steps, places = _steps(tree, problems)
    said = {key: _text(at(tree, (key,))) for key in ("title", "source", "date", "do")}
    problems += [Problem(tree.place, f"the recall does not say its `{key}`") for key in said if not said[key]]
    return Recall(name, **said, affects=affects, steps=steps, places=places, tree=tree), problems


def _as_text(entry: Entry) -> Entry:
    """Return an entry with its values as they were written; a year or a serial may look like a number."""
    return Entry(entry.key_place, _texts(entry.node))


def _texts(node: Node) -> Node:
    if isinstance(node, Tree):
        return Tree({key: _as_text(entry) for key, entry in node.entries.items()}, node.place, node.origin)
    if isinstance(node, Sequence):
        return Sequence([_texts(item) for item in node.items], node.place, node.origin)
    return node if node.value is None else Scalar(node.text, node.text, node.place, node.origin)


def _text(node: Node | None) -> str:
    return " ".join(node.text.split()) if isinstance(node, Scalar) and node.value is not None else ""


def _unknown(node: Node, keys: Iterable[str]) -> Iterator[Problem]:
    for key, entry in node.entries.items() if isinstance(node, Tree) else ():
        if key not in keys:
            near = nearest_word(key, keys)
            yield Problem(entry.key_place, "a recall has no such key", key, ", ".join(keys), near)


def _affected(tree: Tree, problems: list[Problem]) -> Iterator[Affected]:
    listed = at(tree, ("affects",))
    if not isinstance(listed, Sequence) or not listed.items:
        place = listed.place if listed else tree.place
        problems.append(Problem(place, "`affects` is a list", expected="- {part: …, serials: [A100..A199]}"))
        return
    for item in listed.items:
        problems += _unknown(item, AFFECTS)
        named = {key: text for key in NAMED_BY if (text := _text(at(item, (key,))))}
        if not named.keys() & {"part", "model", "maker"}:
            message = "this does not say what is affected"
            problems.append(Problem(item.place, message, expected="part, maker or model"))
            continue
        ranges = {key: serial_range(_text(at(item, (key,)))) for key in DAYS if at(item, (key,)) is not None}
        yield Affected(named, tuple(_serials(item, problems)), dict(_checked(item, ranges, problems)))


def _checked(
    item: Node, ranges: Mapping[str, tuple[str, str]], problems: list[Problem]
) -> Iterator[tuple[str, tuple[str, str]]]:
    for key, ends in ranges.items():
        wrong: list[Problem] = []
        day_range(*ends, wrong)
        node = at(item, (key,))
        place = node.place if node else None
        problems += [Problem(place, one.message, one.read, one.expected) for one in wrong]
        if not wrong:
            yield key, ends


def serial_range(text: str) -> tuple[str, str]:
    """Return the two ends of a range; a single value is both."""
    first, between, last = text.partition(RANGE)
    return first.strip(), last.strip() if between else first.strip()


def _serials(item: Node, problems: list[Problem]) -> Iterator[tuple[str, str]]:
    node = at(item, ("serials",))
    for one in node.items if isinstance(node, Sequence) else [node] if node else []:
        first, last = serial_range(_text(one))
        if first and last and shape(first) != shape(last):
            problems.append(Problem(one.place, "the ends of the range are not written alike", _text(one)))
        elif not shape(first + last):
            problems.append(Problem(one.place, "this is no serial number", _text(one), "such as A100..A199"))
        else:
            yield first, last


def _steps(tree: Tree, problems: list[Problem]) -> tuple[dict[str, dict[str, str]], dict[str, Place]]:
    found: dict[str, dict[str, str]] = {}
    places: dict[str, Place] = {}
    listed = at(tree, ("builds",))
    for build, entry in listed.entries.items() if isinstance(listed, Tree) else ():
        problems += _unknown(entry.node, (*STEPS, "note"))
        places[build] = entry.key_place
        found[build] = {}
        for step in STEPS:
            node = at(entry.node, (step,))
            if node is not None and _is_day(_text(node)):
                found[build][step] = _text(node)
            elif node is not None:
                problems.append(Problem(node.place, f"`{step}` is no day", _text(node), "year-month-day"))
    return found, places


def _is_day(text: str) -> bool:
    try:
        return len(text) == len("2026-05-02") and bool(date.fromisoformat(text))
    except ValueError:
        return False


def doubt(words: Mapping[str, str], affected: Affected) -> str | None:
    """Return why it cannot be told whether a thing is affected: empty where it is, None where it is not.

    `words` says its `serial` and the days `made` and `fitted`; empty where that is not recorded.
    """
    doubts = []
    for word, (first, last) in affected.days.items():
        if not words[word]:
            doubts.append(f"day {word} not recorded")
        elif not day_range(first, last, [])[0] <= words[word] <= day_range(first, last, [])[1]:
            return None
    if affected.serials:
        answers = {within(words["serial"], *ends) for ends in affected.serials}
        if not words["serial"]:
            doubts.append("serial not recorded")
        elif Within.yes not in answers and Within.unclear not in answers:
            return None
        elif Within.yes not in answers:
            doubts.append(f"serial {words['serial']} is not written like those called back")
    return "; ".join(doubts)


def fold(text: str) -> str:
    """Return a text without regard to capitals and spaces at its ends."""
    return " ".join(text.casefold().split())


def named_alike(pattern: str, text: str) -> bool:
    """Tell whether a text is the one that a recall names; `*` stands for any letters."""
    return like(fold(pattern), fold(text))


def like(pattern: str, text: str) -> bool:
    """Tell whether a text is like a pattern in which `*` stands for any letters, in one way along the text.

    A regular expression would try every share of the letters among the `*`, without end for a dozen of them.
    """
    first, *others = pattern.split("*")
    if not others:
        return text == pattern
    *middle, last = others
    if not (text.startswith(first) and text.endswith(last)) or len(text) < len(first) + len(last):
        return False
    start, stop = len(first), len(text) - len(last)
    for part in middle:
        found = text.find(part, start, stop)
        if found < 0:
            return False
        start = found + len(part)
    return True


def day_range(first: str, last: str, problems: list[Problem]) -> tuple[str, str]:
    """Return first and last day of a range; a year or a month means all of its days, an empty end is open."""
    low, high = _day(first.strip(), "01-01", problems), _day(last.strip(), "12-31", problems)
    return low or "0", high or "9999-12-31"


_DAY = re.compile(r"\d{4}(-\d\d(-\d\d)?)?")


def _day(text: str, rest: str, problems: list[Problem]) -> str:
    if not text:
        return ""
    filled = text + ("-31" if rest == "12-31" else "-01") if len(text) == len("2026-03") else text
    if len(text) == len("2026"):
        filled = f"{text}-{rest}"
    try:
        if not _DAY.fullmatch(text):
            raise ValueError
        date.fromisoformat(text if len(text) == len("2026-03-01") else f"{(text + '-01-01')[:10]}")
    except ValueError:
        problems.append(Problem(None, "this is no day", text, "such as 2026-03-14, 2026-03 or 2026"))
    return filled
