"""From a name to where it stands, from there to all that name it, and what a file holds."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from specreg.editor.notices import span_of
from specreg.editor.outline import Item, Span
from specreg.editor.reading import Reading, Van, stated
from specreg.editor.spot import SECTIONS, spot
from specreg.model.join import split_end
from specreg.source import Place, at, key_place_of
from specreg.source.listing import yaml_files

Location = tuple[Path, Span]
Question = Callable[[Reading, Path, int, int], tuple[Location, ...]]

NAME = re.compile(r"[A-Za-z0-9-]+(/[A-Za-z0-9-]+)?")
FREE_TEXT = frozenset({"title", "label", "note", "summary", "fastening", "description"})
"""Fields whose words are for people: a word there that looks like an id is none."""


def definition(reading: Reading, file: Path, line: int, column: int) -> tuple[Location, ...]:
    """Return where the thing that is named at a place is written; for a thing itself, where it comes from."""
    item = reading.outline(file).item_at(line, column)
    if item is None:
        return ()
    if item.key is not None and item.key.holds(line, column):
        return tuple(dict.fromkeys(_behind(reading, file, item)))
    word = _word_at(reading, file, line, column) if item.path[0] == "circuits" else item.text
    return tuple(_meant(reading, file, item, word))


def _word_at(reading: Reading, file: Path, line: int, column: int) -> str:
    """Return the name that a cursor stands on in a line of several."""
    text = reading.outline(file).lines[line]
    return next((m[0] for m in NAME.finditer(text) if m.start() <= column <= m.end()), "")


def _behind(reading: Reading, file: Path, item: Item) -> Iterator[Location]:
    """Yield the part and the assembly that stand behind a component, a run or one of their fields."""
    about, van = spot(reading, file, item.path), reading.van_of(file)
    node = at(van.tree, about.path) if van and van.tree and about.entry else None
    for place in node.origin if node else ():
        yield reading.file(place), span_of(reading, place)
    part = stated(van.tree, about.section, about.subject, "part") if van and about.entry else ""
    if not about.rest and part in reading.register.parts:
        yield _location(reading, reading.register.parts[part].key_place)


def _meant(reading: Reading, file: Path, item: Item, word: str) -> Iterator[Location]:
    key = str(item.path[-1])
    if key == "part" and word in reading.register.parts:
        yield _location(reading, reading.register.parts[word].key_place)
    elif key == "assembly" and word in reading.register.assemblies:
        yield _location(reading, reading.register.assemblies[word].place)
    elif reading.pack is not None and word in reading.pack.by_identity():
        place = reading.pack.by_identity()[word].document.place
        yield rule_file(reading, word), Span(place.line - 1, 0, 0)
    elif key not in FREE_TEXT:
        place_ = _named(reading.van_of(file), key, word)
        if place_ is not None:
            yield _location(reading, place_)


def _named(van: Van | None, key: str, word: str) -> Place | None:
    """Return where a component, a run, a zone or the way of a box is written."""
    if van is None or van.tree is None:
        return None
    if key == "zone":
        path: tuple[str, ...] = ("vehicle", "zones", word)
        return key_place_of(van.tree, path) if at(van.tree, path) else None
    name, way = split_end(word)
    for section in SECTIONS:
        if at(van.tree, (section, name)) is not None:
            inner = ("ways", way) if way and at(van.tree, (section, name, "ways", way)) else ()
            return key_place_of(van.tree, (section, name, *inner))
    return None


def _location(reading: Reading, place: Place) -> Location:
    return reading.file(place), span_of(reading, place)


def rule_file(reading: Reading, identity: str) -> Path:
    """Return the document of a rule: a shipped one, or the register's own."""
    from specreg.shipped import rules_folder  # noqa: PLC0415 - only where a rule is shown

    found = reading.pack.by_identity().get(identity) if reading.pack else None
    name = f"{found.identity if found else identity}.md"
    shipped = rules_folder() / name
    return shipped if shipped.is_file() else reading.home / "rules" / name


def references(reading: Reading, file: Path, line: int, column: int) -> tuple[Location, ...]:
    """Return every place of the build, its packages included, that names the thing at a place."""
    item, van = reading.outline(file).item_at(line, column), reading.van_of(file)
    if item is None:
        return ()
    subject = _subject(reading, file, item, line, column)
    if not subject:
        return ()
    folders = [reading.home / "assemblies", *([van.folder] if van else [])]
    if item.path[-1] == "part" or spot(reading, file, item.path).role == "part":
        folders = [reading.home / "parts", reading.home / "assemblies", *(v.folder for v in _vans(reading))]
    files = [one for folder in folders for one in yaml_files(folder)]
    return tuple(hit for one in files for hit in _naming(reading, one, subject))


def _vans(reading: Reading) -> tuple[Van, ...]:
    return tuple(reading.vans.values())


def _subject(reading: Reading, file: Path, item: Item, line: int, column: int) -> str:
    """Return the id that a cursor stands on."""
    if item.key is not None and item.key.holds(line, column):
        about = spot(reading, file, item.path)
        named = len(item.path) == 2 and item.path[0] in ("circuits", *SECTIONS)
        return str(item.path[-1]) if named or (about.role == "part" and len(item.path) == 1) else ""
    word = _word_at(reading, file, line, column) if item.path[0] == "circuits" else item.text
    return split_end(word)[0] if item.path[-1] not in FREE_TEXT else ""


def _naming(reading: Reading, file: Path, subject: str) -> Iterator[Location]:
    for item in reading.outline(file).items:
        key = item.path[-1]
        if item.key is not None and key == subject:
            yield file, item.key
        if item.value is None or key in FREE_TEXT:
            continue
        if item.path[0] == "circuits":
            for found in NAME.finditer(item.text):
                if split_end(found[0])[0] == subject:
                    start = item.value.start + found.start()
                    yield file, Span(item.value.line, start, start + len(found[0]))
        elif split_end(item.text)[0] == subject:
            yield file, item.value


@dataclass(frozen=True)
class Symbol:
    """A component, run, circuit or part of a file: its name, its kind, its key, and its last line."""

    name: str
    detail: str
    span: Span
    last_line: int
    section: str


def symbols(reading: Reading, file: Path) -> tuple[Symbol, ...]:
    """Return what a file holds, in its order."""
    found = reading.outline(file)
    ends: dict[tuple[str | int, ...], int] = {}
    for item in found.items:
        span = item.value or item.key
        for depth in (1, 2):
            if span is not None:
                ends[item.path[:depth]] = span.line
    listed = []
    for item in found.items:
        about = spot(reading, file, item.path)
        entry = about.entry == item.path or (item.path[0] == "circuits" and len(item.path) == 2)
        if entry and item.key is not None:
            section = about.section or "circuits"
            word = found.text((*item.path, "kind")) or found.text((*item.path, "medium"))
            detail = word or found.text((*item.path, "part"))
            listed.append(Symbol(str(item.path[-1]), detail, item.key, ends[item.path[:2]], section))
    return tuple(listed)
