"""Builds read for the index, with a note of what each uses of the register."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

from specreg.register.rows import BuildRows, build_rows, mark_of
from specreg.source.register import Register, open_register, read_source

Kept = TypeVar("Kept")


class _Noted(dict[str, Kept]):
    """Parts or assemblies that note which of them somebody asked for, those that are not there included."""

    def __init__(self, sort: str, entries: Mapping[str, Kept], uses: set[tuple[str, str]]) -> None:
        super().__init__(entries)
        self._sort, self._uses = sort, uses

    def __contains__(self, name: object) -> bool:
        self._uses.add((self._sort, str(name)))
        return super().__contains__(name)

    def __getitem__(self, name: str) -> Kept:
        self._uses.add((self._sort, name))
        return super().__getitem__(name)

    def get(self, name: str, default: Any = None) -> Any:
        """Return an entry, and note that it was asked for."""
        self._uses.add((self._sort, name))
        return super().get(name, default)


SETTINGS = ("settings", "")


class Reading:
    """A register opened to read some of its builds."""

    def __init__(self, folder: Path, shown: str) -> None:
        self._uses: set[tuple[str, str]] = set()
        self._register = open_register(folder, shown)
        self._marks = dict(_marks(self._register))
        self._register.parts = _Noted("part", self._register.parts, self._uses)
        self._register.assemblies = _Noted("assembly", self._register.assemblies, self._uses)

    def shared_marks(self) -> Mapping[tuple[str, str], bytes]:
        """Return a digest of each part and assembly and of the settings."""
        return self._marks

    def shared_problems(self) -> list[tuple[object, ...]]:
        """Return the problems of what builds share, as plain data."""
        return [
            (one.place, one.message, one.read, one.expected, one.nearest, one.remedy)
            for one in sorted(self._register.problems)
        ]

    def build(self, name: str) -> BuildRows:
        """Read one build."""
        self._uses.clear()
        source = read_source(self._register, self._register.folder / name)
        return build_rows(source, frozenset({SETTINGS, *self._uses}))


def _marks(register: Register) -> dict[tuple[str, str], bytes]:
    found = {("part", key): mark_of(one.node, with_places=False) for key, one in register.parts.items()}
    found |= {("assembly", key): mark_of(one, with_places=True) for key, one in register.assemblies.items()}
    if register.settings is not None:
        found[SETTINGS] = mark_of(register.settings, with_places=False)
    return found
