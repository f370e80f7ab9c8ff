"""Which vans have this: answers from the index of a register."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from specreg.register.index import HOME, open_index
from specreg.register.query import TEXT, Condition
from specreg.register.rows import WORDS
from specreg.source import Place, Problem, nearest_word
from specreg.source.listing import SPEC_FILE, is_build
from specreg.source.recall import fold, like


@dataclass(frozen=True)
class Hit:
    """A thing that meets every condition; where all conditions are about whole vans, a van without a thing.

    `words` are those of `specreg.register.rows.WORDS`, empty where the spec does not say.
    """

    build: str
    van: str
    stage: str
    words: Mapping[str, str]
    place: Place | None


@dataclass(frozen=True)
class Found:
    """What came of looking: hits by build and in the order of each spec, and what could not be read."""

    hits: tuple[Hit, ...]
    builds: int
    """How many builds were looked through."""
    unread: tuple[str, ...]
    """Builds with a problem: what they hold may be more than what was found in them."""
    problems: tuple[Problem, ...]


class Finder:
    """A register opened to look for things; `only` is the build that the path named, if it named one."""

    def __init__(self, path: str | Path) -> None:
        folder = Path(os.path.abspath(path))  # noqa: PTH100 - resolve() would follow links out of the register
        if folder.name == SPEC_FILE and folder.is_file():
            folder = folder.parent
        self.only = folder.name if folder.is_dir() and is_build(folder) else None
        self.folder = folder.parent if self.only else folder
        self.problems: list[Problem] = []
        self._index = self._opened(str(path))

    def _opened(self, asked: str) -> sqlite3.Connection | None:
        if not self.folder.is_dir():
            around = self.folder.parent
            beside = [one.name for one in around.iterdir() if one.is_dir()] if around.is_dir() else []
            message = "this is a file" if self.folder.exists() else "there is no such folder"
            near = None if self.folder.exists() else nearest_word(self.folder.name, beside)
            self.problems.append(Problem(None, message, asked, "a register's folder, or a build's", near))
            return None
        try:
            index, closed = open_index(self.folder)
        except OSError as error:
            self.problems.append(Problem(None, f"the folder cannot be read: {error.strerror}", asked))
            return None
        self.problems += [Problem(None, "a folder cannot be listed", name) for name in closed]
        if not index.execute("SELECT 1 FROM build").fetchone():
            expected = f"a register's folder, with folders that hold {SPEC_FILE}"
            self.problems.append(Problem(None, "the folder holds no build", asked, expected))
        return index

    def find(self, conditions: Sequence[Condition]) -> Found:
        """Return what meets every condition."""
        if self._index is None:
            return Found((), 0, (), tuple(self.problems))
        vans = self._vans([one for one in conditions if one.of_build])
        things = [one for one in conditions if not one.of_build]
        if things:
            hits = tuple(self._hits(vans, things))
        else:
            hits = tuple(Hit(*van, dict.fromkeys(WORDS, ""), None) for van in sorted(vans.values()))
        return Found(hits, self._count(), *self._unread())

    def names(self) -> list[str]:
        """Return the names of the builds."""
        rows = self._index.execute("SELECT name FROM build ORDER BY name") if self._index else ()
        return [name for (name,) in rows if self.only in (None, name)]

    def _count(self) -> int:
        return len(self.names())

    def _vans(self, conditions: Sequence[Condition]) -> dict[int, tuple[str, str, str]]:
        assert self._index is not None
        found = {}
        for number, name, title, stage, where in self._index.execute(
            "SELECT number, name, title, stage, jurisdictions FROM build"
        ):
            said = {"build": [name], "van": [title], "stage": [stage], "jurisdiction": where.split() or [""]}
            if self.only in (None, name) and all(any(map(one.holds, said[one.key])) for one in conditions):
                found[number] = (name, title, stage)
        return found

    def _hits(self, vans: Mapping[int, tuple[str, str, str]], things: Sequence[Condition]) -> Iterable[Hit]:
        assert self._index is not None
        index = self._index
        index.create_function("folded", 1, fold, deterministic=True)
        index.create_function("alike", 2, like, deterministic=True)
        clauses, given = zip(*map(_clause, things), strict=True)
        asked = f"SELECT * FROM thing WHERE {' AND '.join(clauses)} ORDER BY rowid"
        rows = index.execute(asked, [one for part in given for one in part]).fetchall()
        rows = [row for row in rows if row[0] in vans]
        texts = self._texts({number for row in rows for number in row[1 : 1 + len(WORDS)]})
        shown = self.shown()
        for row in sorted(rows, key=lambda row: vans[row[0]][0]):
            words = {word: texts[number] for word, number in zip(WORDS, row[1:], strict=False)}
            file, line, column = row[1 + len(WORDS) :]
            yield Hit(*vans[row[0]], words, Place(file.replace(HOME, shown), line, column))

    def _texts(self, numbers: set[int]) -> dict[int, str]:
        assert self._index is not None
        self._index.execute("CREATE TEMP TABLE IF NOT EXISTS shown (number INTEGER PRIMARY KEY)")
        self._index.execute("DELETE FROM shown")
        self._index.executemany("INSERT INTO shown VALUES (?)", [(number,) for number in numbers])
        return dict(self._index.execute("SELECT number, text FROM value JOIN shown USING (number)"))

    def shown(self) -> str:
        """Return how places name the register: by the way to it from where the command runs."""
        try:
            return Path(os.path.relpath(self.folder)).as_posix()
        except ValueError:  # another drive
            return self.folder.name

    def _unread(self) -> tuple[tuple[str, ...], tuple[Problem, ...]]:
        """Return the builds with problems, and all problems, those of what builds share first."""
        assert self._index is not None
        kept = self._index.execute("SELECT mark FROM shared WHERE sort = 'problems'").fetchone()
        rows = self._index.execute("SELECT name, problems FROM build WHERE problems != '[]' ORDER BY name")
        own = [(name, found) for name, found in rows if self.only in (None, name)]
        problems = [one for text in (kept[0] if kept else "[]", *(text for _, text in own))
                    for one in _problems(text, self.shown())]  # fmt: skip
        return tuple(name for name, _ in own), (*self.problems, *dict.fromkeys(problems))


def _clause(condition: Condition) -> tuple[str, list[str]]:
    """Return what a row must have to meet a condition, and the parameters."""
    words = (condition.key,) if condition.key else TEXT
    ways = [way.sql() for way in condition.ways]
    met = " OR ".join(clause for clause, _ in ways)
    names = ", ".join(f"'{word}'" for word in words)
    chosen = f"(SELECT number FROM value WHERE word IN ({names}) AND ({met}))"
    given = [one for _, parameters in ways for one in parameters]
    return "(" + " OR ".join(f"{word}_ IN {chosen}" for word in words) + ")", given * len(words)


def _problems(kept: str, shown: str) -> Iterable[Problem]:
    def told(part: Any) -> Any:
        return part.replace(HOME, shown) if isinstance(part, str) else part

    for place, *said in json.loads(kept):
        message, read, expected, nearest, remedy = map(told, said)
        where = Place(told(place[0]), place[1], place[2]) if place else None
        yield Problem(where, message, read, expected, nearest, remedy)
