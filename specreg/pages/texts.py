"""The language catalogue: every standard text of the site by its name."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from string import Formatter
from typing import Any

from specreg.pages.content import Cell, Words


class Untranslated(str):
    """A standard text that nobody has translated yet: it stands in English and is marked so."""

    __slots__ = ()


@dataclass(frozen=True)
class Texts:
    """The texts of one language by their dotted names, such as `emergency.gas.out`.

    What the language has not is taken from `english` and comes as Untranslated.
    """

    language: str
    table: Mapping[str, str]
    english: Mapping[str, str] = field(default_factory=dict)

    def __call__(self, name: str, **values: object) -> str:
        """Return a text with its places filled; raise KeyError for a text that no catalogue has."""
        found = self.table.get(name)
        if found is not None:
            return found.format(**values) if values else found
        english = self.english[name]
        return Untranslated(english.format(**values) if values else english)

    def say(self, name: str, **things: Cell | str) -> Cell:
        """Return a text as a cell, whose places are filled with cells such as links."""
        pieces: list[Any] = []
        text = self(name)
        for literal, place, _, _ in Formatter().parse(text):
            if literal:
                pieces.append(Words(type(text)(literal)))
            if place is not None:
                thing = things[place]
                pieces += (Words(thing),) if isinstance(thing, str) else thing
        return tuple(pieces)


def read_texts(folder: Path, language: str = "en") -> Texts:
    """Read the catalogue of a language: its file, and those of its folder, each for one chapter.

    A language other than English has English behind it. Raises KeyError where two files give the same name.
    """
    table = _read(folder, language)
    return Texts(language, table, {} if language == ENGLISH else _read(folder, ENGLISH))


ENGLISH = "en"


def _read(folder: Path, language: str) -> dict[str, str]:
    table: dict[str, str] = {}
    for path in (folder / f"{language}.toml", *sorted((folder / language).glob("*.toml"))):
        with path.open("rb") as file:
            _add(table, tomllib.load(file), path.name)
    return table


def _add(table: dict[str, str], more: Mapping[str, Any], where: str, above: str = "") -> None:
    for key, value in more.items():
        name = f"{above}{key}"
        if isinstance(value, dict):
            _add(table, value, where, f"{name}.")
        elif name in table:
            raise KeyError(f"{name} is there twice, once in {where}")
        else:
            table[name] = value


def joined(cells: list[Cell], last: str = " and ") -> Cell:
    """Join cells as a sentence lists things."""
    pieces: list[Any] = []
    for index, item in enumerate(cells):
        if index:
            pieces.append(Words(last if index == len(cells) - 1 else ", "))
        pieces += item
    return tuple(pieces)
