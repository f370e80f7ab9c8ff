"""Assemblies put into a build: parameters filled in, members chosen, ids prefixed, all merged below it."""

from __future__ import annotations

from specreg.source.merge import merge, merge_keeping_nulls, substitute
from specreg.source.problem import Problem, nearest_word
from specreg.source.tree import (
    MOST_VALUES,
    Entry,
    Mapping,
    Node,
    Scalar,
    Sequence,
    at,
    behind,
    scalar,
    size,
)

MOST_ASSEMBLIES = 100
"""How many one build may include; each is laid over all before it."""

SECTIONS = ("components", "runs", "circuits")
LAID_OVER_PARTS = ("components", "runs")
"""Sections whose entries are laid over parts of the catalogue later."""
TYPES = {"integer": int, "text": str, "boolean": bool}


def include_assemblies(tree: Mapping, assemblies: dict[str, Mapping]) -> tuple[Mapping, list[Problem]]:
    """Return the tree laid over the assemblies that it includes, in the order of their mention."""
    wanted = at(tree, ("include",))
    if wanted is None:
        return tree, []
    if not isinstance(wanted, Sequence):
        return tree, [Problem(wanted.place, "`include` is a list of assemblies", expected="- assembly: name")]
    if len(wanted.items) > MOST_ASSEMBLIES:
        read = str(len(wanted.items))
        return tree, [Problem(wanted.place, f"more than {MOST_ASSEMBLIES} assemblies are included", read)]
    problems: list[Problem] = []
    base: Mapping | None = None
    left = MOST_VALUES
    for item in wanted.items:
        filled = _included(item, assemblies, problems)
        left -= size(filled) if filled is not None else 0
        if left < 0:
            problems.append(Problem(item.place, f"more than {MOST_VALUES} values come of its assemblies"))
            return tree, problems
        if filled is not None:
            problems += _clashes(base, filled, item) if base else []
            base = filled if base is None else _merged(base, filled)
    rest = {key: entry for key, entry in tree.entries.items() if key != "include"}
    below = Mapping(rest, tree.place, tree.origin)
    return (_overlaid(base, below) if base else below), problems


def _overlaid(base: Mapping, over: Mapping) -> Mapping:
    """The assemblies with the build's own files over them.

    Nulls in components and runs stay: what they take away may come from the part that an assembly names.
    """
    merged = _merged(base, over)
    entries = dict(merged.entries)
    for section in LAID_OVER_PARTS:
        own, below = over.entries.get(section), base.entries.get(section)
        if own is not None and below is not None:
            entries[section] = Entry(own.key_place, merge_keeping_nulls(below.node, own.node))
        elif own is not None:
            entries[section] = own
    return Mapping(entries, merged.place, merged.origin)


def _merged(base: Mapping, over: Mapping) -> Mapping:
    merged = merge(base, over)
    assert isinstance(merged, Mapping)
    return Mapping(merged.entries, over.place, over.origin)


def _included(item: Node, assemblies: dict[str, Mapping], problems: list[Problem]) -> Mapping | None:
    name = at(item, ("assembly",))
    if not isinstance(name, Scalar) or name.text not in assemblies:
        read = name.text if isinstance(name, Scalar) else None
        place = name.place if name else item.place
        nearest = nearest_word(read or "", assemblies)
        problems.append(Problem(place, "no such assembly", read, "one from assemblies/", nearest))
        return None
    assembly = assemblies[name.text]
    values = _values(item, assembly, problems)
    sections = {key: entry for key, entry in assembly.entries.items() if key in SECTIONS}
    filled, found = substitute(Mapping(sections, assembly.place), values)
    problems += found
    assert isinstance(filled, Mapping)
    chosen = _chosen(filled, problems)
    prefix = at(item, ("prefix",))
    named = _prefixed(chosen, prefix.text) if isinstance(prefix, Scalar) else chosen
    return _asked_at(named, item)


def _values(item: Node, assembly: Mapping, problems: list[Problem]) -> dict[str, Scalar]:
    """Return the parameters of one use: what it sets, else the default; wrong names and types reported."""
    declared = at(assembly, ("parameters",))
    known = declared.entries if isinstance(declared, Mapping) else {}
    chosen = at(item, ("set",))
    given = chosen.entries if isinstance(chosen, Mapping) else {}
    for key, entry in given.items():
        if key not in known:
            nearest = nearest_word(key, known)
            problems.append(
                Problem(entry.key_place, "the assembly has no such parameter", key, ", ".join(known), nearest)
            )
    values: dict[str, Scalar] = {}
    for key, entry in known.items():
        value = given[key].node if key in given else at(entry.node, ("default",))
        if not isinstance(value, Scalar):
            problems.append(Problem(item.place, f"parameter `{key}` of the assembly is not set"))
            value = scalar(None, item.place)
        elif not _of_type(value, at(entry.node, ("type",))):
            problems.append(Problem(value.place, f"parameter `{key}` has another type", value.text))
        values[key] = value
    return values


def _of_type(value: Scalar, wanted: Node | None) -> bool:
    kind = TYPES.get(wanted.text) if isinstance(wanted, Scalar) else None
    return kind is None or type(value.value) is kind


def _chosen(tree: Mapping, problems: list[Problem]) -> Mapping:
    """Leave out the members whose `when:` is false, and the word itself from the others."""
    entries = {}
    for section, entry in tree.entries.items():
        kept = {}
        for key, member in entry.node.entries.items() if isinstance(entry.node, Mapping) else ():
            when = at(member.node, ("when",))
            if isinstance(when, Scalar) and not isinstance(when.value, bool):
                problems.append(Problem(when.place, "`when` is true or false", when.text))
            elif isinstance(when, Scalar) and when.value is False:
                continue
            kept[key] = Entry(member.key_place, _without_when(member.node))
        entries[section] = Entry(entry.key_place, Mapping(kept, entry.node.place, entry.node.origin))
    return Mapping(entries, tree.place, tree.origin)


def _without_when(node: Node) -> Node:
    if not isinstance(node, Mapping) or "when" not in node.entries:
        return node
    kept = {key: entry for key, entry in node.entries.items() if key != "when"}
    return Mapping(kept, node.place, node.origin)


REFERENCES = ("from", "to", "return", "fixed_to", "under", "holds", "lies_on", "lifts", "covers", "serves")
"""Fields that name another member, and follow it when its id takes a prefix."""


def _prefixed(tree: Mapping, prefix: str) -> Mapping:
    """Put a prefix before every id of an assembly, and before every mention of one inside it."""
    members = {key for entry in tree.entries.values() for key in _keys(entry.node)}
    entries = {}
    for section, entry in tree.entries.items():
        renamed = {
            f"{prefix}-{key}": Entry(member.key_place, _followed(member.node, members, prefix))
            for key, member in (entry.node.entries.items() if isinstance(entry.node, Mapping) else ())
        }
        entries[section] = Entry(entry.key_place, Mapping(renamed, entry.node.place, entry.node.origin))
    return Mapping(entries, tree.place, tree.origin)


def _keys(node: Node) -> tuple[str, ...]:
    return tuple(node.entries) if isinstance(node, Mapping) else ()


def _followed(node: Node, members: set[str], prefix: str) -> Node:
    if isinstance(node, Scalar) and isinstance(node.value, str):  # a circuit on one line
        words = [_renamed(word, members, prefix) for word in node.text.split(" ")]
        return Scalar(" ".join(words), " ".join(words), node.place, node.origin)
    if not isinstance(node, Mapping):
        return node
    entries = dict(node.entries)
    for key in REFERENCES:
        entry = entries.get(key)
        if entry is not None and isinstance(entry.node, Scalar) and isinstance(entry.node.value, str):
            text = _renamed(entry.node.text, members, prefix)
            entries[key] = Entry(entry.key_place, Scalar(text, text, entry.node.place, entry.node.origin))
    return Mapping(entries, node.place, node.origin)


def _renamed(text: str, members: set[str], prefix: str) -> str:
    name, slash, port = text.partition("/")
    return f"{prefix}-{name}{slash}{port}" if name in members else text


def _clashes(base: Mapping, other: Mapping, item: Node) -> list[Problem]:
    """Report ids that two uses of assemblies both bring."""
    problems = []
    for section in SECTIONS:
        one, two = at(base, (section,)), at(other, (section,))
        for key in sorted(set(_keys(one) if one else ()) & set(_keys(two) if two else ())):
            problems.append(
                Problem(
                    item.place, f"`{key}` comes from two assemblies", key, remedy="give one use a `prefix:`"
                )
            )
    return problems


def _asked_at(tree: Mapping, item: Node) -> Mapping:
    """Note for every member where the build asked for the assembly."""
    entries = {}
    for section, entry in tree.entries.items():
        assert isinstance(entry.node, Mapping)
        members = {
            key: Entry(member.key_place, behind(member.node, item.place))
            for key, member in entry.node.entries.items()
        }
        entries[section] = Entry(entry.key_place, Mapping(members, entry.node.place, entry.node.origin))
    return Mapping(entries, tree.place, tree.origin)
