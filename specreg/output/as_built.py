"""The spec as handed over: every component and run complete, each value with where it came from."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from specreg.output.recording import PLAIN, WORDS
from specreg.source import Mapping, Node, Place, Scalar, Sequence, at, plain, read_yaml
from specreg.source.as_built import LISTS, as_built, design_mark, only, taken_away
from specreg.source.catalogue import part_name
from specreg.source.listing import AS_BUILT_FILE, FITTED_FILE
from specreg.source.register import Register, own_files, read_source

NUMBER = re.compile(r"[-+.]?[0-9][0-9_.eExXoOa-fA-F+]*")
"""Texts that YAML could read as a number."""


ORIGIN = re.compile(r'  # ([^"\]}]+:[0-9]+)$')
"""Where a value came from, as it stands behind it at the end of a line."""


class CannotFreeze(Exception):  # noqa: N818 - a refusal that is said to a person
    """The build cannot be written down so that it reads back the same."""


def as_built_text(register: Register, folder: Path, on: date) -> str:
    """Return the file for a build that can be read. Raises CannotFreeze where it would not read back alike.

    What the private file says is left out: git must not see it.
    """
    source = read_source(register, folder, private=False)
    own, apart = own_files(folder, f"{register.shown}/{folder.name}", [])
    if source.tree is None or own is None:
        raise CannotFreeze("the spec cannot be read")
    title = at(source.tree, ("title",))
    frozen = as_built(apart[AS_BUILT_FILE]) if AS_BUILT_FILE in apart else None
    writer = Writer(register.shown, *(_origins(folder, register.shown) if frozen else ()))
    lines = [
        f"# {' '.join(title.text.split()) if isinstance(title, Scalar) else folder.name}, "
        f"as handed over on {on.isoformat()}.",
        "# Written by `specreg hand-over`, and read in place of what the files beside it say of components",
        f"# and runs. It is not edited: what changes later is written in {FITTED_FILE}, laid over this.",
        "# Behind a value stands where it came from.",
        f"handed_over_on: {on.isoformat()}",
        f"design: {json.dumps(design_mark(own))}",
    ]
    gone = taken_away(apart.get(FITTED_FILE), frozen)
    lines += [f"taken_away: [{', '.join(gone)}]"] if gone else []
    for section in ("defaults", *LISTS):
        node = at(source.tree, (section,))
        if isinstance(node, Mapping) and node.entries:
            lines += [f"{section}:", *writer.entries(node, 1)]
    known = {**register.parts, **(frozen.parts if frozen else {})}
    used = sorted({name for name in _parts(source.tree) if name in known})
    if used:
        parts = Mapping({name: known[name] for name in used}, source.tree.place)
        lines += [
            "# The parts that it names, as the catalogue had them.",
            "parts:",
            *writer.entries(parts, 1),
        ]
    text = "\n".join(lines) + "\n"
    _reads_back(text, source.tree)
    return text


def _parts(tree: Mapping) -> Iterator[str]:
    for section in LISTS:
        listed = at(tree, (section,))
        for entry in listed.entries.values() if isinstance(listed, Mapping) else ():
            name = part_name(entry)
            if name is not None:
                yield name


def _reads_back(text: str, tree: Mapping) -> None:
    read, problems = read_yaml(text.encode(), AS_BUILT_FILE)
    wanted = plain(only(tree, ("defaults", *LISTS)))
    if problems or not isinstance(read, Mapping) or plain(only(read, ("defaults", *LISTS))) != wanted:
        told = problems[0].text() if problems else "a value reads back as another"
        raise CannotFreeze(f"it cannot be written so that it reads back the same: {told}")


def _origins(folder: Path, shown: str) -> tuple[str, dict[int, str]]:
    """Return the name of the file of an earlier hand-over, with the origins that it states by line."""
    lines = (folder / AS_BUILT_FILE).read_text(encoding="utf-8").split("\n")
    found = {number: said[1] for number, line in enumerate(lines, 1) if (said := ORIGIN.search(line))}
    return f"{shown}/{folder.name}/{AS_BUILT_FILE}", found


class Writer:
    """Writes trees as YAML; places are named from the register's folder, wherever the command runs.

    What was read from `frozen`, the file of an earlier hand-over, came from where that says on the line.
    """

    def __init__(self, home: str, frozen: str = "", origins: dict[int, str] | None = None) -> None:
        self._home = f"{home}/"
        self._frozen = frozen
        self._origins = origins or {}

    def entries(self, node: Mapping, depth: int, file: str = "") -> Iterator[str]:
        """Yield the lines of a mapping; a value from another `file` than its entry says so."""
        for key, entry in node.entries.items():
            about = f"{'  ' * depth}{_scalar(key)}:"
            here = file or self._file(entry.key_place)
            note = self._from(entry.key_place) if not file else self._elsewhere(entry.node, here)
            below = entry.node
            if isinstance(below, Mapping) and below.entries:
                yield about + (note if not file else "")
                yield from self.entries(below, depth + 1, here)
            elif isinstance(below, Sequence) and any(not isinstance(one, Scalar) for one in below.items):
                yield about + note
                yield from (f"{'  ' * (depth + 1)}- {_flow(one)}" for one in below.items)
            else:
                yield f"{about} {_flow(below)}{note}".rstrip()

    def _origin(self, place: Place) -> str:
        """Return file and line of a place; empty where a frozen value came from where its entry did."""
        if place.file == self._frozen:
            return self._origins.get(place.line, "")
        return f"{place.file.removeprefix(self._home)}:{place.line}"

    def _file(self, place: Place) -> str:
        return self._origin(place).rpartition(":")[0]

    def _from(self, place: Place) -> str:
        origin = self._origin(place)
        return f"  # {origin}" if origin else ""

    def _elsewhere(self, node: Node, file: str) -> str:
        return self._from(node.place) if self._file(node.place) != file else ""


def _flow(node: Node) -> str:
    if isinstance(node, Mapping):
        return "{" + ", ".join(f"{_scalar(k)}: {_flow(e.node)}" for k, e in node.entries.items()) + "}"
    if isinstance(node, Sequence):
        return "[" + ", ".join(_flow(item) for item in node.items) + "]"
    return _scalar(node.text) if isinstance(node.value, str) else node.text or "null"


def _scalar(text: str) -> str:
    """Return a text as YAML reads it back: in quotation marks where it could mean something else."""
    harmless = PLAIN.fullmatch(text) and text.lower() not in WORDS and not text.endswith(" ")
    return text if harmless and not NUMBER.fullmatch(text) else json.dumps(text, ensure_ascii=False)
