"""Components and runs laid over the parts of the catalogue that they name."""

from __future__ import annotations

from collections.abc import Mapping as AnyMapping

from specreg.source.merge import is_null, merge, without_nulls
from specreg.source.problem import Problem, nearest_word
from specreg.source.tree import MOST_VALUES, Entry, Mapping, Scalar, at, behind

Parts = AnyMapping[str, Entry]


def with_parts(tree: Mapping, parts: Parts) -> tuple[Mapping, list[Problem]]:
    """Lay each component and run over the part that it names."""
    problems: list[Problem] = []
    entries = dict(tree.entries)
    left = MOST_VALUES
    for section in ("components", "runs"):
        listed = at(tree, (section,))
        if isinstance(listed, Mapping):
            merged: dict[str, Entry] = {}
            for key, entry in listed.entries.items():
                if not is_null(entry.node):
                    one = merged[key] = over_part(entry, parts, problems)
                    left -= len(one.node.entries) if isinstance(one.node, Mapping) else 0
                    if left < 0:
                        message = f"more than {MOST_VALUES} values come of the parts up to here"
                        problems.append(Problem(entry.key_place, message))
                        return tree, problems
            entries[section] = Entry(entries[section].key_place, Mapping(merged, listed.place, listed.origin))
    return Mapping(entries, tree.place, tree.origin), problems


def part_name(entry: Entry | None) -> str | None:
    """Return the part that an entry names, None where it names none."""
    named = at(entry.node, ("part",)) if entry else None
    return named.text if isinstance(named, Scalar) and named.value is not None else None


def over_part(entry: Entry, parts: Parts, problems: list[Problem]) -> Entry:
    """Lay one entry over its part; a part that the catalogue does not have is a problem."""
    named = at(entry.node, ("part",))
    if not isinstance(named, Scalar):
        return Entry(entry.key_place, without_nulls(entry.node))
    part = parts.get(named.text)
    if part is None:
        problems.append(
            Problem(
                named.place,
                "no such part in the catalogue",
                named.text,
                "a part from parts/*.yaml",
                nearest_word(named.text, parts),
            )
        )
        return entry
    merged = merge(part.node, entry.node)
    return Entry(
        entry.key_place,
        behind(Mapping(merged.entries, entry.node.place, entry.node.origin), part.key_place)
        if isinstance(merged, Mapping)
        else entry.node,
    )
