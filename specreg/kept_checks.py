"""What the check of an unchanged van said, kept in the user's cache folder so that it is not judged again.

A check is kept under a mark of everything that could change what it says: the program and its rules, what the
builds of the register share, every file of the van, the request and how the text is set. Files that are read
count by their content; photographs and other files beside them by size, times and number, once those are old
enough for a change to show. Where a link is among the files, where a file is too young, where a van cannot be
read: nothing is kept. Deleting what is kept is always safe.
"""

from __future__ import annotations

import json
import os
import stat
import sys
import time
from collections.abc import Callable, Iterator
from hashlib import blake2b, sha256
from pathlib import Path
from typing import NamedTuple

from specreg import __version__, shipped
from specreg.keeping import OFF, cache_folder, keep, trusted
from specreg.source import Scalar, at, read_yaml
from specreg.source.listing import MISTAKEN_REGISTER, REGISTER_FILE, SHARED

PACKAGE = Path(__file__).parent
DIGEST = 32
SETTLED_AFTER = 2_000_000_000
"""Nanoseconds after which a further change of a file is sure to show in its times."""

READ = (".yaml", ".md")
"""Files that are read whole, and count by their content."""

MOST = 4_000_000
"""Bytes of a file beyond which it is no spec."""


class Said(NamedTuple):
    """What the check of one van said: its text, its line among several vans, and its exit code."""

    text: str
    build: str
    line: str
    exit_code: int


class _NotSureError(Exception):
    """What is there could change without showing."""


class KeptChecks:
    """The kept checks of one register, for one way of asking.

    `shown` is how places name the register, `request` everything else that the text depends on.
    """

    def __init__(self, home: Path, shown: str, request: tuple[object, ...]) -> None:
        self._home = home
        self._real = os.path.realpath(home)
        self._outside: Path | None = None
        self._now = time.time_ns()
        self._folder = None if os.environ.get(OFF) else cache_folder()
        begun = blake2b(repr((shown, request, __version__, sys.version)).encode(), digest_size=DIGEST)
        self._shared = self._attempt(lambda: self._of_shared(begun)) if self._folder else None

    def mark(self, build: str) -> bytes | None:
        """Return the mark of a van as it is now; None where nothing is to be kept of it."""
        return self._attempt(lambda: self._of_build(build)) if self._shared else None

    def taken(self, build: str, mark: bytes | None) -> Said | None:
        """Return what was said of a van when it bore that mark; None where that is not known for certain."""
        if mark is None:
            return None
        try:
            data = trusted(self._file(build))
            if sha256(mark + data[DIGEST:]).digest() != data[:DIGEST]:
                return None
            about, _, text = data[DIGEST:].decode("utf-8", "surrogatepass").partition("\n")
            return Said(text, *json.loads(about))
        except (OSError, ValueError, TypeError):
            return None

    def keep(self, said: Said, mark: bytes | None) -> None:
        """Keep what was said of a van, unless it has changed since it was marked."""
        if mark is not None and self.mark(said.build) == mark:
            data = f"{json.dumps(said[1:])}\n{said.text}".encode("utf-8", "surrogatepass")
            keep(self._file(said.build), sha256(mark + data).digest() + data)

    def _file(self, build: str) -> Path:
        assert self._folder is not None
        where = f"{self._real}/{build}"  # no link itself: nothing is kept of one
        name = blake2b(where.encode(errors="surrogatepass"), digest_size=8).hexdigest()
        return self._folder / f"check-{name}.bin"

    def _attempt(self, find: Callable[[], bytes]) -> bytes | None:
        try:
            return find()
        except (OSError, _NotSureError):
            return None

    def _of_shared(self, mark: blake2b) -> bytes:
        """Return a digest of the request, of the program and of what all vans of the register share."""
        for folder in (PACKAGE, shipped.rules_folder()):
            for name, seen in _below(folder):
                mark.update(f"{name}\0{seen.st_size}\0{seen.st_mtime_ns}\0".encode(errors="surrogatepass"))
        for name in (REGISTER_FILE, MISTAKEN_REGISTER, *SHARED):
            self._add(mark, self._home / name)
        self._outside = _files_outside(self._home)
        return mark.digest()

    def _of_build(self, build: str) -> bytes:
        assert self._shared is not None
        mark = blake2b(self._shared + build.encode(errors="surrogatepass"), digest_size=DIGEST)
        self._add(mark, self._home / build)
        if self._outside is not None:
            self._add(mark, self._outside / build)
        return mark.digest()

    def _add(self, mark: blake2b, path: Path) -> None:
        """Add a file, or all that is below a folder, to a mark."""
        try:
            seen = path.lstat()
        except FileNotFoundError:
            mark.update(b"\0absent\0")
            return
        if stat.S_ISLNK(seen.st_mode):
            raise _NotSureError
        if stat.S_ISREG(seen.st_mode):
            mark.update(path.read_bytes() + b"\0")
        else:
            self._add_folder(mark, path)

    def _add_folder(self, mark: blake2b, folder: Path) -> None:
        for name, seen in _below(folder, links=False):
            mark.update(f"{name}\0{seen.st_size}\0".encode(errors="surrogatepass"))
            if not stat.S_ISREG(seen.st_mode):
                raise _NotSureError
            if name.endswith(READ) and seen.st_size <= MOST:
                mark.update((folder / name).read_bytes())
            else:
                self._add_stamp(mark, seen)

    def _add_stamp(self, mark: blake2b, seen: os.stat_result) -> None:
        if max(seen.st_mtime_ns, seen.st_ctime_ns) + SETTLED_AFTER > self._now:
            raise _NotSureError
        mark.update(f"{seen.st_mtime_ns}\0{seen.st_ctime_ns}\0{seen.st_ino}\0".encode())


def _files_outside(home: Path) -> Path | None:
    """Return the folder of photographs and certificates that a register names."""
    path = home / REGISTER_FILE
    data = path.read_bytes() if path.is_file() else b""
    tree = read_yaml(data, path.name)[0] if b"files" in data else None
    named = at(tree, ("files",)) if tree else None
    return home / named.text if isinstance(named, Scalar) and named.text else None


def _below(folder: Path, links: bool = True) -> Iterator[tuple[str, os.stat_result]]:
    """Yield every file below a folder by its path, in order, what programs write beside the files left out.

    Raises _NotSureError at a link unless `links` may be there.
    """
    waiting = [""]
    found: list[tuple[str, os.stat_result]] = []
    while waiting:
        here = waiting.pop()
        with os.scandir(folder / here) as listed:
            for entry in listed:
                name = f"{here}{entry.name}"
                if entry.is_symlink() and not links:
                    raise _NotSureError
                if entry.is_dir():
                    waiting += [f"{name}/"] if entry.name not in ("__pycache__", ".git") else []
                else:
                    found.append((name, entry.stat()))
    return iter(sorted(found))
