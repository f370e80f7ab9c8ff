"""A change in one line, such as `components.fridge.part=fridge-65l`, laid over a build's own files."""

from __future__ import annotations

from collections.abc import Sequence as Several

from specreg.source import Entry, Mapping, Node, Path, Place, Problem, Scalar, Sequence, at, read_yaml, scalar
from specreg.source.assembly import include_assemblies
from specreg.source.register import Edit, Register

FORM = "components.ID.field=value; nothing after the = takes away"


def what_if(changes: Several[str], register: Register) -> Edit:
    """Return the edit that makes these changes, one after the other."""

    def edit(tree: Mapping) -> tuple[Mapping, list[Problem]]:
        problems: list[Problem] = []
        for change in changes:
            tree = _changed(tree, change, register, problems)
        return tree, problems

    return edit


def _changed(tree: Mapping, change: str, register: Register, problems: list[Problem]) -> Mapping:
    dotted, equals, text = change.partition("=")
    path = tuple(step.strip() for step in dotted.split("."))
    if not equals or not all(path):
        problems.append(Problem(None, "this is no change", change, FORM))
        return tree
    place = Place("--with", 1, len(dotted) + 2)
    if not text.strip():
        return _without(tree, path, place, register, problems)
    node, found = read_yaml(text.encode(), "--with")
    problems += found
    return tree if node is None else _with(tree, path, node, problems)


def _with(tree: Mapping, path: Path, node: Node, problems: list[Problem]) -> Mapping:
    try:
        found = _put(tree, path, node)
    except LookupError:
        problems.append(
            Problem(node.place, f"there is nothing at `{_dotted(path)}` to change", expected=FORM)
        )
        return tree
    assert isinstance(found, Mapping)
    return found


def _put(tree: Node | None, path: Path, node: Node) -> Node:
    """Return a tree with a node at a path; steps that are not there are made. Raises LookupError."""
    if not path:
        return node
    step, rest = path[0], path[1:]
    if isinstance(tree, Sequence):
        items = list(tree.items)
        position = int(step) if str(step).isdecimal() else len(items)
        items[position] = _put(items[position], rest, node)
        return Sequence(items, tree.place, tree.origin)
    if isinstance(tree, Scalar) and tree.value is not None:
        raise LookupError
    entries = dict(tree.entries) if isinstance(tree, Mapping) else {}
    known = entries.get(str(step))
    below = _put(known.node if known else None, rest, node)
    entries[str(step)] = Entry(known.key_place if known else node.place, below)
    return Mapping(entries, tree.place if tree else node.place)


def _without(tree: Mapping, path: Path, place: Place, register: Register, problems: list[Problem]) -> Mapping:
    """Take away what stands at a path, and what an assembly or a part brings there."""
    own = at(tree, path) is not None
    bare = _taken(tree, path) if own else tree
    brought = at(include_assemblies(bare, register.assemblies)[0], path) is not None or _of_part(
        bare, path, register
    )
    if not own and not brought:
        problems.append(Problem(place, f"there is nothing at `{_dotted(path)}` to take away"))
    return _with(bare, path, scalar(None, place), problems) if brought else bare


def _of_part(tree: Mapping, path: Path, register: Register) -> bool:
    assembled = include_assemblies(tree, register.assemblies)[0]
    named = at(assembled, (*path[:2], "part"))
    part = register.parts.get(named.text) if isinstance(named, Scalar) else None
    return part is not None and len(path) > len(("components", "id")) and at(part.node, path[2:]) is not None


def _taken(tree: Mapping, path: Path) -> Mapping:
    """Return a tree without what stands at a path that it has."""
    entries = dict(tree.entries)
    key = str(path[0])
    entry = entries[key]
    if len(path) == 1:
        del entries[key]
    elif isinstance(entry.node, Mapping):
        entries[key] = Entry(entry.key_place, _taken(entry.node, path[1:]))
    return Mapping(entries, tree.place, tree.origin)


def _dotted(path: Path) -> str:
    return ".".join(str(step) for step in path)
