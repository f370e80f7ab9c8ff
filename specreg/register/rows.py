"""What can be found in a build: a row for each component, run and device, from the tree as it is written.

The tree is merged (parts, assemblies, circuits, the private file), and not judged: a van whose spec has a
slip elsewhere still says which pump it has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import blake2b

from specreg.source import Mapping as Tree
from specreg.source import Node, Place, Problem, Scalar, Sequence, at
from specreg.source.register import Source

WORDS = (
    "id", "kind", "title", "label", "designation", "zone", "at", "part", "maker", "model", "serial", "made",
    "fitted", "note",
)  # fmt: skip
"""What a row says of one thing."""

KEYS = {"made": "made_on", "fitted": "fitted_on"}
"""The spec's key where a row's word differs."""

DAY = re.compile(r"\d{4}-\d\d-\d\d")


@dataclass(frozen=True, slots=True)
class Row:
    """One component, run or device: its words (empty where it does not say) and where its entry begins."""

    words: tuple[str, ...]
    place: Place

    def __getitem__(self, word: str) -> str:
        return self.words[WORDS.index(word)]


@dataclass(frozen=True)
class BuildRows:
    """One build for the index: what heads it, its rows, what was wrong, and what of the register it uses."""

    name: str
    title: str
    stage: str
    jurisdictions: tuple[str, ...]
    rows: tuple[Row, ...]
    problems: tuple[Problem, ...]
    uses: frozenset[tuple[str, str]]
    """`(part | assembly, name)` of each that it names, whether the register has it or not."""


def build_rows(source: Source, uses: frozenset[tuple[str, str]]) -> BuildRows:
    """Return what can be found in a build as it was read."""
    tree = source.tree
    if tree is None:
        return BuildRows(source.name, "", "", (), (), source.problems, uses)
    rows = tuple(_rows(tree, source.designations))
    problems = (*source.problems, *_not_days(tree))
    held = at(tree, ("jurisdictions",))
    where = tuple(_text(item) for item in held.items) if isinstance(held, Sequence) else ()
    title, stage = (_text(at(tree, (key,))) for key in ("title", "stage"))
    return BuildRows(source.name, title, stage, where, rows, problems, uses)


def _rows(tree: Tree, designations: Mapping[str, str]) -> Iterator[Row]:
    owners: dict[str, Place] = {}
    for section, chooser in (("components", "kind"), ("runs", "medium")):
        listed = at(tree, (section,))
        for key, entry in listed.entries.items() if isinstance(listed, Tree) else ():
            owners[key] = entry.key_place
            yield Row(tuple(_words(key, entry.node, chooser, designations)), entry.key_place)
    for name, designation in designations.items():
        owner, inside, _ = name.partition("/")
        if inside and owner in owners:
            words = {"id": name, "kind": "device", "designation": designation}
            yield Row(tuple(words.get(word, "") for word in WORDS), owners[owner])


def _words(key: str, node: Node, chooser: str, designations: Mapping[str, str]) -> Iterator[str]:
    for word in WORDS:
        if word == "id":
            yield key
        elif word == "designation":
            yield designations.get(key, "")
        else:
            yield _text(at(node, (chooser if word == "kind" else KEYS.get(word, word),)))


def _text(node: Node | None) -> str:
    if isinstance(node, Sequence):
        return ", ".join(_text(item) for item in node.items)
    return " ".join(node.text.split()) if isinstance(node, Scalar) and node.value is not None else ""


def _not_days(tree: Tree) -> Iterator[Problem]:
    """Report dates that no range could find: whoever asks for a date must hear of them."""
    listed = at(tree, ("components",))
    for entry in listed.entries.values() if isinstance(listed, Tree) else ():
        for key in KEYS.values():
            node = at(entry.node, (key,))
            if node is not None and not DAY.fullmatch(_text(node)):
                yield Problem(node.place, f"`{key}` is no day", _text(node), "year-month-day")


def mark_of(node: Node, *, with_places: bool) -> bytes:
    """Return a digest over what a part, an assembly or the settings say, and where, if that counts."""
    mark = blake2b(digest_size=16)
    for part in _said(node, with_places):
        mark.update(part.encode() + b"\0")
    return mark.digest()


def _said(node: Node, with_places: bool) -> Iterator[str]:
    if with_places:
        yield str(node.place)
    if isinstance(node, Scalar):
        yield f"{type(node.value).__name__} {node.text}"
    elif isinstance(node, Sequence):
        yield f"list of {len(node.items)}"
        for item in node.items:
            yield from _said(item, with_places)
    else:
        yield f"mapping of {len(node.entries)}"
        for key, entry in node.entries.items():
            yield f"{key} {entry.key_place}" if with_places else key
            yield from _said(entry.node, with_places)
