"""One tree laid over another, and parameters put into a tree."""

from __future__ import annotations

import re
from collections.abc import Mapping as AnyMapping

from specreg.source.place import Place
from specreg.source.problem import Problem, nearest_word
from specreg.source.tree import Entry, Mapping, Node, Scalar, Sequence, behind, places

_PARAMETER = re.compile(r"\{([^{}]*)\}")


def merge(base: Node, over: Node) -> Node:
    """The base with what lies over it, neither changed, by the rules of JSON Merge Patch (RFC 7396).

    Mappings merge key by key; any other value replaces the one below; a null removes its key, and a null
    inside a mapping that is new has nothing to remove and goes, too. What replaces a value keeps that
    value's places behind its own. The order of keys is the base's, then that of the new ones.
    """
    if not isinstance(over, Mapping):
        return behind(over, *places(base))
    entries = dict(base.entries) if isinstance(base, Mapping) else {}
    for key, entry in over.entries.items():
        below = entries.get(key)
        if is_null(entry.node):
            entries.pop(key, None)
        elif below is not None:
            entries[key] = Entry(entry.key_place, merge(below.node, entry.node))
        else:
            entries[key] = Entry(entry.key_place, without_nulls(entry.node))
    return Mapping(entries, over.place, (*over.origin, *places(base)))


def merge_keeping_nulls(base: Node, over: Node) -> Node:
    """The base with what lies over it, its nulls kept: they take away what is laid below later, too."""
    if not (isinstance(base, Mapping) and isinstance(over, Mapping)):
        return behind(over, *places(base)) if not is_null(over) else over
    entries = dict(base.entries)
    for key, entry in over.entries.items():
        below = entries.get(key)
        node = entry.node if below is None else merge_keeping_nulls(below.node, entry.node)
        entries[key] = Entry(entry.key_place, node)
    return Mapping(entries, over.place, (*over.origin, *places(base)))


def is_null(node: Node) -> bool:
    """Tell whether a value is empty: it takes away what lies below it."""
    return isinstance(node, Scalar) and node.value is None


def without_nulls(node: Node) -> Node:
    """The tree without its empty values, which have nothing left to take away."""
    if not isinstance(node, Mapping):
        return node
    kept = {
        key: Entry(entry.key_place, without_nulls(entry.node))
        for key, entry in node.entries.items()
        if not is_null(entry.node)
    }
    return Mapping(kept, node.place, node.origin)


def substitute(node: Node, values: AnyMapping[str, Scalar]) -> tuple[Node, list[Problem]]:
    """The tree with every scalar whose whole text is `{name}` replaced by the parameter of that name.

    The parameter keeps its own place, the place that asked for it stands behind. Problems: a name that is
    no parameter, a parameter in the midst of a text, a `{name}` without the quotation marks it needs.
    """
    problems: list[Problem] = []
    return _put_in(node, values, problems), problems


def _put_in(node: Node, values: AnyMapping[str, Scalar], problems: list[Problem]) -> Node:
    if isinstance(node, Scalar):
        return _put_into_scalar(node, values, problems)
    if isinstance(node, Sequence):
        return Sequence([_put_in(item, values, problems) for item in node.items], node.place, node.origin)
    problems.extend(_unquoted(node, values))
    entries = {
        key: Entry(entry.key_place, _put_in(entry.node, values, problems))
        for key, entry in node.entries.items()
    }
    return Mapping(entries, node.place, node.origin)


def _put_into_scalar(node: Scalar, values: AnyMapping[str, Scalar], problems: list[Problem]) -> Scalar:
    if not isinstance(node.value, str) or "{" not in node.value:
        return node
    whole = _PARAMETER.fullmatch(node.value)
    if whole is None:
        problems.extend(_in_the_midst(node, values))
        return node
    name = whole[1].strip()
    value = values.get(name)
    if value is None:
        problems.append(_unknown(name, node.place, values))
        return node
    return Scalar(value.value, value.text, value.place, (*value.origin, *places(node)))


def _unknown(name: str, place: Place, values: AnyMapping[str, Scalar]) -> Problem:
    known = ", ".join(sorted(values))
    return Problem(
        place,
        "no parameter has this name",
        read=f"{{{name}}}",
        expected=f"one of {known}" if known else None,
        nearest=nearest_word(name, values),
        remedy=None if known else "this assembly declares no parameters; declare it, or write the value",
    )


def _in_the_midst(node: Scalar, values: AnyMapping[str, Scalar]) -> list[Problem]:
    if not any(match[1].strip() in values for match in _PARAMETER.finditer(str(node.value))):
        return []
    remedy = "make the parameter the whole value"
    return [Problem(node.place, "a parameter replaces a whole value only", read=node.text, remedy=remedy)]


def _unquoted(node: Mapping, values: AnyMapping[str, Scalar]) -> list[Problem]:
    """A `{name}` without quotation marks reads as a mapping with one empty entry."""
    if len(node.entries) != 1:
        return []
    name, entry = next(iter(node.entries.items()))
    if name not in values or not is_null(entry.node) or entry.key_place == node.place:
        return []
    remedy = f'write "{{{name}}}" in quotation marks'
    return [Problem(node.place, "a parameter without quotation marks", read=f"{{{name}}}", remedy=remedy)]
