"""Trees of values that know their places. Code treats them as fixed once they are built."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from collections.abc import Mapping as AnyMapping
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from specreg.source.place import Place

Value: TypeAlias = str | int | float | bool | None
Path: TypeAlias = tuple[str | int, ...]
Origin: TypeAlias = tuple[Place, ...]
"""The places that stood behind a value: what it replaced, or where it was asked for; nearest first."""


@dataclass(slots=True)
class Scalar:
    """A single value; `text` is what was written, without quotation marks."""

    value: Value
    text: str
    place: Place
    origin: Origin = ()


@dataclass(slots=True)
class Sequence:
    """A list of nodes."""

    items: list[Node]
    place: Place
    origin: Origin = ()


@dataclass(slots=True)
class Entry:
    """What stands under a key of a mapping, and where the key stands."""

    key_place: Place
    node: Node


@dataclass(slots=True)
class Mapping:
    """Nodes under text keys, in the order in which they were written."""

    entries: dict[str, Entry] = field(repr=False)
    place: Place
    origin: Origin = ()


Node: TypeAlias = Scalar | Sequence | Mapping


def plain(node: Node) -> Any:
    """The node as plain Python data: str, int, float, bool, None, list, dict."""
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    return {key: plain(entry.node) for key, entry in node.entries.items()}


def _child(node: Node, step: str | int) -> Node | None:
    if isinstance(node, Mapping):
        entry = node.entries.get(str(step))
        return entry.node if entry else None
    if isinstance(node, Sequence) and isinstance(step, int) and 0 <= step < len(node.items):
        return node.items[step]
    return None


def at(node: Node, path: Path) -> Node | None:
    """The node at the end of a path of keys and list positions from 0, or None where the path breaks off."""
    found: Node | None = node
    for step in path:
        if found is None:
            return None
        found = _child(found, step)
    return found


def place_of(node: Node, path: Path) -> Place:
    """The place of the deepest value that exists on the path."""
    for step in path:
        child = _child(node, step)
        if child is None:
            break
        node = child
    return node.place


def key_place_of(node: Node, path: Path) -> Place:
    """The place of the deepest key that exists on the path; for an item of a list, the item's place."""
    place = node.place
    for step in path:
        child = _child(node, step)
        if child is None:
            break
        place = node.entries[str(step)].key_place if isinstance(node, Mapping) else child.place
        node = child
    return place


def walk(node: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Every node with its path, parents first, in the order in which they were written."""
    yield path, node
    if isinstance(node, Mapping):
        for key, entry in node.entries.items():
            yield from walk(entry.node, (*path, key))
    elif isinstance(node, Sequence):
        for position, item in enumerate(node.items):
            yield from walk(item, (*path, position))


MOST_VALUES = 300_000
"""Keys and items that one build may have, once all that it takes of others is laid in."""


def exceeds(node: Node, most: int = MOST_VALUES) -> bool:
    """Tell whether a tree has more keys and items than that; counts no further."""
    left, waiting = most, [node]
    while waiting and left >= 0:
        found = waiting.pop()
        if isinstance(found, Mapping):
            left -= len(found.entries)
            waiting += [one.node for one in found.entries.values() if not isinstance(one.node, Scalar)]
        elif isinstance(found, Sequence):
            left -= len(found.items)
            waiting += [one for one in found.items if not isinstance(one, Scalar)]
    return left < 0


def size(node: Node) -> int:
    """The number of values in a tree."""
    return sum(1 for _ in walk(node))


def places(node: Node) -> Origin:
    """The node's own place, then those behind it."""
    return (node.place, *node.origin)


def where(node: Node) -> str:
    """The node's place in words, such as `builds/heron/spec.yaml:12:5, from parts/dc.yaml:40:3`."""
    return ", from ".join(str(place) for place in places(node))


def behind(node: Node, *earlier: Place) -> Node:
    """The same node with further places put behind those that it has."""
    origin = (*node.origin, *earlier)
    if isinstance(node, Scalar):
        return Scalar(node.value, node.text, node.place, origin)
    if isinstance(node, Sequence):
        return Sequence(node.items, node.place, origin)
    return Mapping(node.entries, node.place, origin)


def scalar(value: Value, place: Place, origin: Origin = ()) -> Scalar:
    """A scalar that no file holds, with the text that a person would have written for it."""
    words: dict[Value, str] = {None: "", True: "true", False: "false"}
    text = words[value] if value is None or isinstance(value, bool) else str(value)
    return Scalar(value, text, place, origin)


def sequence(items: Iterable[Node], place: Place, origin: Origin = ()) -> Sequence:
    """A list that no file holds."""
    return Sequence(list(items), place, origin)


def mapping(nodes: AnyMapping[str, Node], place: Place, origin: Origin = ()) -> Mapping:
    """A mapping that no file holds; each key is taken to stand where its value stands."""
    return Mapping({key: Entry(node.place, node) for key, node in nodes.items()}, place, origin)
