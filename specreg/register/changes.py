"""What differs between two readings of a van: fitted, removed, replaced, moved, re-rated, renamed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from specreg.facts.engine import written_keys
from specreg.model.build import Build, Header
from specreg.model.field import Word
from specreg.rules.fingerprint import BESIDE_THE_POINT
from specreg.source import Mapping as Tree
from specreg.source import Node, Scalar, at

APART = ("components", "runs", "circuits", "include", "format")
PLACE = frozenset({"at", "zone", "fixed_to", "from", "to"})
IDENTITY = frozenset({"kind", "medium", "part", "maker", "model", "serial"})
BESIDE = frozenset(BESIDE_THE_POINT - IDENTITY - {"maker_model"})


class What(Word):
    """What happened to a thing."""

    fitted = "fitted"
    removed = "removed"
    renamed = "renamed"
    replaced = "replaced"
    moved = "moved"
    rated = "re-rated"
    described = "described anew"
    said = "said anew"
    """Of the spec's header: what is neither a component nor a run."""


@dataclass(frozen=True)
class FieldChange:
    """One field as it was written on either side; None where it is not stated."""

    key: str
    before: str | None
    after: str | None


@dataclass(frozen=True)
class Change:
    """What happened to one component or run; to the header where `section` is `spec`."""

    what: What
    section: str
    subject: str
    was: str
    """Its id before: another only where it was renamed."""
    name: str
    designation: str | None
    fields: tuple[FieldChange, ...] = ()


def changes(before: Build, after: Build, renamed: Mapping[str, str] | None = None) -> tuple[Change, ...]:
    """Return every difference; `renamed` declares new ids by old ones."""
    names = {**renames(before, after), **(renamed or {})}
    found = list(_of_header(before, after))
    for section in ("components", "runs"):
        found += _of_section(section, before, after, names)
    return tuple(found)


def renames(before: Build, after: Build) -> dict[str, str]:
    """Return new ids by old where nothing else can be meant: same kind and same designation, once each."""
    gone, new = (_only_in(*pair) for pair in ((before, after), (after, before)))
    return {old: new[mark] for mark, old in gone.items() if mark in new}


def _only_in(one: Build, other: Build) -> dict[tuple[str, str], str]:
    """Return the ids that only one side has, by kind and designation, where those are given once."""
    ids = [name for name in one.components if name not in other.components]
    marks = [(one.components[name].kind, one.designations.get(name, "")) for name in ids]
    counted = Counter(marks)
    return {mark: name for mark, name in zip(marks, ids, strict=True) if mark[1] and counted[mark] == 1}


def _of_section(section: str, before: Build, after: Build, names: Mapping[str, str]) -> Iterator[Change]:
    old, new = _models(before, section), _models(after, section)
    was = {names.get(name, name) if names.get(name, name) in new else name: name for name in old}
    for name, model in new.items():
        if name not in was:
            yield _change(What.fitted, section, after, name, name)
            continue
        if was[name] != name:
            yield _change(What.renamed, section, after, name, was[name])
        yield from _between(section, (before, was[name], old[was[name]]), (after, name, model))
    for name, earlier in was.items():
        if name not in new:
            yield _change(What.removed, section, before, earlier, earlier)


def _models(build: Build, section: str) -> Mapping[str, BaseModel]:
    return build.components if section == "components" else build.runs


def _change(
    what: What, section: str, build: Build, subject: str, was: str, fields: tuple[FieldChange, ...] = ()
) -> Change:
    title = getattr(_models(build, section)[subject], "title", None) or subject.replace("-", " ")
    return Change(what, section[:-1], subject, was, title, build.designations.get(subject), fields)


Side = tuple[Build, str, BaseModel]


def _between(section: str, one: Side, two: Side) -> Iterator[Change]:
    """Yield what happened to a thing that is there on both sides."""
    nodes = [at(build.tree, build.path(name)) for build, name, _ in (one, two)]
    found = list(_fields(nodes[0], nodes[1], one[2], two[2]))
    moved = tuple(field for field in found if field.key in PLACE)
    rest = tuple(field for field in found if field.key not in PLACE)
    if rest:
        yield _change(_sort(rest), section, two[0], two[1], one[1], rest)
    if moved:
        yield _change(What.moved, section, two[0], two[1], one[1], moved)


def _sort(fields: tuple[FieldChange, ...]) -> What:
    keys = {field.key.partition(".")[0] for field in fields}
    if keys & IDENTITY:
        return What.replaced
    return What.described if keys <= BESIDE else What.rated


def _fields(one: Node | None, two: Node | None, old: BaseModel, new: BaseModel) -> Iterator[FieldChange]:
    """Yield the fields that differ in meaning, not only in how they are written."""
    known = {key: name for name, key in written_keys(type(new)).items()}
    keys = dict.fromkeys([*_keys(one), *_keys(two)])
    for key in keys:
        name = known.get(key, key)
        if type(old) is type(new) and _value(old, name) == _value(new, name):
            continue
        yield from _differences(key, _at(one, key), _at(two, key))


def _keys(node: Node | None) -> list[str]:
    return list(node.entries) if isinstance(node, Tree) else []


def _at(node: Node | None, key: str) -> Node | None:
    return at(node, (key,)) if node is not None else None


def _value(model: BaseModel, name: str) -> Any:
    return getattr(model, name, None)


def _differences(key: str, one: Node | None, two: Node | None) -> Iterator[FieldChange]:
    if isinstance(one, Tree | None) and isinstance(two, Tree | None) and (one or two):
        for step in dict.fromkeys([*_keys(one), *_keys(two)]):
            yield from _differences(f"{key}.{step}", _at(one, step), _at(two, step))
        return
    before, after = _items(one), _items(two)
    if len(before) > 1 or len(after) > 1:
        for text in (before - after).elements():
            yield FieldChange(key, text, None)
        for text in (after - before).elements():
            yield FieldChange(key, None, text)
    elif before != after:
        yield FieldChange(key, next(iter(before), None), next(iter(after), None))


def _items(node: Node | None) -> Counter[str]:
    """Return what a field holds: one text, or the entries of a list of mappings."""
    if node is None:
        return Counter()
    listed = getattr(node, "items", None)
    if isinstance(listed, list) and any(isinstance(item, Tree) for item in listed):
        return Counter(_text(item) for item in listed)
    return Counter([_text(node)])


def _text(node: Node) -> str:
    if isinstance(node, Scalar):
        if isinstance(node.value, bool):
            return "yes" if node.value else "no"
        return " ".join(node.text.split())
    if isinstance(node, Tree):
        return ", ".join(f"{key} {_text(entry.node)}" for key, entry in node.entries.items())
    return ", ".join(_text(item) for item in node.items)


def _of_header(before: Build, after: Build) -> Iterator[Change]:
    keys = dict.fromkeys([*_keys(before.tree), *_keys(after.tree)])
    found: list[FieldChange] = []
    for key in keys:
        if key not in APART and _value(before.header, key) != _value(after.header, key):
            found += _differences(key, _at(before.tree, key), _at(after.tree, key))
    if found:
        yield Change(What.said, "spec", "", "", Header.__name__.lower(), None, tuple(found))
