"""The index of a register: what can be found in its builds, kept in the user's cache folder.

It is derived from the files and safe to delete. It is one file, written whole with a checksum and read
whole into memory: runs at the same time cannot mix, and what is spoiled is built anew. A file counts as
changed when its size, its times or its number differ from those seen when it was read, or, while those times
are too young to show a further change, when its content differs. A build is read anew when one of its files
changed, or when a part, an assembly or a standard that it uses says something else.
"""

from __future__ import annotations

import json
import os
import sqlite3
import sys
import zlib
from collections.abc import Iterable, Mapping
from hashlib import blake2b
from pathlib import Path

from specreg import __version__
from specreg.keeping import OFF, cache_folder, keep, trusted
from specreg.register.query import key_of
from specreg.register.rows import WORDS, BuildRows
from specreg.register.survey import Stamp, Survey, content_mark, survey
from specreg.source.listing import MISTAKEN_REGISTER, REGISTER_FILE

PACKAGE = Path(__file__).parents[1]
CODE = ("keeping.py", "source", "register")
"""What of the program decides what the index says."""

HOME = "\ue000"
"""Stands for the register in kept places, until it is known by which way a command shows it."""

SCHEMA = f"""
CREATE TABLE file (path TEXT PRIMARY KEY, stamp TEXT, settled INTEGER, content BLOB) WITHOUT ROWID;
CREATE TABLE build (number INTEGER PRIMARY KEY, name TEXT UNIQUE, title TEXT, stage TEXT, jurisdictions TEXT,
                    problems TEXT);
CREATE TABLE use (sort TEXT, name TEXT, build INTEGER, PRIMARY KEY (sort, name, build)) WITHOUT ROWID;
CREATE TABLE shared (sort TEXT, name TEXT, mark BLOB, PRIMARY KEY (sort, name)) WITHOUT ROWID;
CREATE TABLE value (number INTEGER PRIMARY KEY, word TEXT, text TEXT, key TEXT, UNIQUE (word, text));
CREATE TABLE thing (build INTEGER, {", ".join(f"{word}_ INTEGER" for word in WORDS)}, file TEXT, line INTEGER,
                    indent INTEGER);
CREATE INDEX thing_build ON thing (build);
"""


def open_index(folder: Path) -> tuple[sqlite3.Connection, tuple[str, ...]]:
    """Return the index of a register, brought up to date, and the folders that could not be listed.

    Raises OSError where the register itself cannot be listed.
    """
    seen = survey(folder)
    place = None if os.environ.get(OFF) else index_file(folder)
    index = _taken(place) if place else None
    fresh = index is None
    if index is None:
        index = sqlite3.connect(":memory:", isolation_level=None)
        index.executescript(SCHEMA)
    if (_refreshed(index, folder, seen) or fresh) and place is not None:
        data = index.serialize()
        keep(place, _head(data) + data)
    return index, seen.closed


def index_file(folder: Path) -> Path | None:
    """Return where the index of a register is kept."""
    home = cache_folder()
    mark = blake2b(os.path.realpath(folder).encode(errors="surrogatepass"), digest_size=8).hexdigest()
    return home / f"register-{mark}.index" if home else None


def _head(data: bytes) -> bytes:
    """Return what stands before the data: the program that made it, and a checksum."""
    return _program() + zlib.crc32(data).to_bytes(4, "big")


def _program() -> bytes:
    """Return a digest over the program's files that decide what the index says."""
    mark = blake2b(f"{__version__}\0{sys.version}\0{sqlite3.sqlite_version}".encode(), digest_size=16)
    for name in CODE:
        path = PACKAGE / name
        for one in sorted(path.glob("*.py")) if path.is_dir() else (path,):
            seen = one.stat()
            mark.update(f"{one.name}\0{seen.st_size}\0{seen.st_mtime_ns}\0".encode())
    return mark.digest()


def _taken(place: Path) -> sqlite3.Connection | None:
    """Return the index that a file keeps; None where it is not ours, spoiled or of another program."""
    try:
        kept = trusted(place)
        size = len(_program()) + 4
        data = kept[size:]
        if not data or kept[:size] != _head(data):
            return None
        index = sqlite3.connect(":memory:", isolation_level=None)
        index.deserialize(data)
        index.execute("SELECT count(*) FROM build").fetchone()
    except (OSError, sqlite3.Error):
        return None
    return index


def _refreshed(index: sqlite3.Connection, folder: Path, seen: Survey) -> bool:
    """Read what has changed; tell whether anything was written."""
    changes = _Changes(index, folder, seen)
    stale = changes.builds()
    shared = changes.any_of(seen.shared) or changes.gone_shared()
    gone = [name for (name,) in index.execute("SELECT name FROM build") if name not in seen.builds]
    if not (stale or shared or gone or changes.noted):
        return False
    index.execute("BEGIN")
    if stale or shared:
        from specreg.register.reading import Reading  # noqa: PLC0415 - only where something is read

        if shared:
            changes.note(seen.shared)
        reading = Reading(folder, HOME)
        if shared:
            stale |= _users(index, reading.shared_marks()) & seen.builds.keys()
            _set_shared(index, reading.shared_marks(), json.dumps(reading.shared_problems()))
        values = _Values(index)
        for name in sorted(stale):
            _remove(index, name)
            changes.note(seen.builds[name])
            _add(index, reading.build(name), values)
    for name in gone:
        _remove(index, name)
    changes.write()
    index.execute("COMMIT")
    return True


class _Changes:
    """Which files differ from those that were read."""

    def __init__(self, index: sqlite3.Connection, folder: Path, seen: Survey) -> None:
        self._index, self._folder, self._seen = index, folder, seen
        rows = index.execute("SELECT path, stamp, settled, content FROM file")
        self._kept = {path: (stamp, settled, content) for path, stamp, settled, content in rows}
        self.noted: dict[str, tuple[str, bool, bytes]] = {}

    def builds(self) -> set[str]:
        """Return the builds of which a file was changed, added, removed or renamed."""
        before: dict[str, set[str]] = {}
        for path in self._kept:
            before.setdefault(path.partition("/")[0], set()).add(path)
        known = {name for (name,) in self._index.execute("SELECT name FROM build")}
        return {
            name
            for name, files in self._seen.builds.items()
            if name not in known or self.any_of(files) or before.get(name, set()) != files.keys()
        }

    def any_of(self, files: Mapping[str, Stamp]) -> bool:
        """Tell whether any of these files is new or changed."""
        return any(self._differs(path, stamp) for path, stamp in files.items())

    def gone_shared(self) -> bool:
        """Tell whether a file that builds share is there no more."""
        return any(
            path not in self._seen.shared
            for path in self._kept
            if path.partition("/")[0] in ("parts", "assemblies", REGISTER_FILE, MISTAKEN_REGISTER)
            and path not in self._seen.builds.get(path.partition("/")[0], ())
        )

    def _differs(self, path: str, stamp: Stamp) -> bool:
        kept = self._kept.get(path)
        if kept is None or kept[0] != _written(stamp):
            return True
        if kept[1]:
            return False
        if content_mark(self._folder / path) != kept[2]:
            return True
        if stamp.settled(self._seen.now):
            self.noted[path] = (_written(stamp), True, b"")
        return False

    def note(self, files: Mapping[str, Stamp]) -> None:
        """Note the files that are about to be read."""
        for path, stamp in files.items():
            settled = stamp.settled(self._seen.now)
            content = b"" if settled else content_mark(self._folder / path)
            self.noted[path] = (_written(stamp), settled, content)

    def write(self) -> None:
        """Write what was noted, and forget the files that are gone."""
        there = {*self._seen.shared, *(path for files in self._seen.builds.values() for path in files)}
        gone = [(path,) for path in self._kept if path not in there]
        self._index.executemany("DELETE FROM file WHERE path = ?", gone)
        rows = [(path, *noted) for path, noted in self.noted.items()]
        self._index.executemany("INSERT OR REPLACE INTO file VALUES (?, ?, ?, ?)", rows)


def _written(stamp: Stamp) -> str:
    return " ".join(str(part) for part in stamp)


Marks = Mapping[tuple[str, str], bytes]


def _users(index: sqlite3.Connection, marks: Marks) -> set[str]:
    """Return the builds that use what has changed; those with a problem besides, as it may lie there."""
    before = {(sort, name): mark for sort, name, mark in index.execute("SELECT * FROM shared")}
    changed = [key for key in {*before, *marks} if before.get(key) != marks.get(key)]
    found = {name for (name,) in index.execute("SELECT name FROM build WHERE problems != '[]'")}
    for key in changed:
        users = "SELECT build.name FROM use JOIN build ON number = build WHERE sort = ? AND use.name = ?"
        found |= {name for (name,) in index.execute(users, key)}
    return found


def _set_shared(index: sqlite3.Connection, marks: Marks, problems: str) -> None:
    index.execute("DELETE FROM shared")
    index.executemany("INSERT INTO shared VALUES (?, ?, ?)", [(*key, mark) for key, mark in marks.items()])
    index.execute("INSERT INTO shared VALUES ('problems', '', ?)", (problems,))


def _remove(index: sqlite3.Connection, name: str) -> None:
    found = index.execute("SELECT number FROM build WHERE name = ?", (name,)).fetchone()
    if found:
        index.execute("DELETE FROM thing WHERE build = ?", found)
        index.execute("DELETE FROM use WHERE build = ?", found)
        index.execute("DELETE FROM build WHERE number = ?", found)


class _Values:
    """The numbers of values, given to them at their first use."""

    def __init__(self, index: sqlite3.Connection) -> None:
        self._index = index
        rows = index.execute("SELECT word, text, number FROM value")
        self._known = {(word, text): number for word, text, number in rows}

    def numbers(self, words: Iterable[str]) -> list[int]:
        """Return the numbers of a row's words."""
        return [self._number(word, text) for word, text in zip(WORDS, words, strict=True)]

    def _number(self, word: str, text: str) -> int:
        found = self._known.get((word, text))
        if found is None:
            found = self._known[word, text] = len(self._known) + 1
            row = (found, word, text, key_of(word, text))
            self._index.execute("INSERT INTO value VALUES (?, ?, ?, ?)", row)
        return found


def _add(index: sqlite3.Connection, build: BuildRows, values: _Values) -> None:
    problems = json.dumps([(one.place, one.message, one.read, one.expected, one.nearest, one.remedy)
                           for one in build.problems])  # fmt: skip
    head = (build.name, build.title, build.stage, " ".join(build.jurisdictions), problems)
    columns = "INSERT INTO build (name, title, stage, jurisdictions, problems) VALUES (?, ?, ?, ?, ?)"
    number = index.execute(columns, head).lastrowid
    index.executemany("INSERT INTO use VALUES (?, ?, ?)", [(*use, number) for use in build.uses])
    marks = ", ".join("?" * (len(WORDS) + 4))
    rows = [
        (number, *values.numbers(row.words), row.place.file, row.place.line, row.place.column)
        for row in build.rows
    ]
    index.executemany(f"INSERT INTO thing VALUES ({marks})", rows)
