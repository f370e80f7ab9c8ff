"""What the program keeps for itself: a folder below the user's own cache folder, always safe to delete.

A file is taken only from a folder and as a file that belong to the user and that nobody else may write.
"""

from __future__ import annotations

import os
import stat
import sys
import time
from contextlib import suppress
from functools import cache
from math import inf
from pathlib import Path

OFF = "SPECREG_NO_CACHE"
"""Environment variable that switches all keeping off."""

KEPT = ("pack-", "register-", "check-", "page-")
"""How the names of what is kept begin."""

FORGOTTEN_AFTER = 90 * 24 * 3600.0
"""Seconds after which what was not written again is deleted."""

READ_ONLY = (
    os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
)


def cache_folder() -> Path | None:
    """Return the program's folder below the user's cache folder; None where the user has none.

    A path that is not absolute does not count: it could lead into the register that one stands in.
    """
    settled = ("LOCALAPPDATA", "") if sys.platform == "win32" else ("HOME", ".cache")
    if sys.platform == "darwin":
        settled = ("HOME", "Library/Caches")
    for name, below in (("XDG_CACHE_HOME", ""), settled):
        if Path(os.environ.get(name, "")).is_absolute():
            return Path(os.environ[name]) / below / "specreg"
    return None


def _own(seen: os.stat_result) -> bool:
    """Tell whether something belongs to the user and nobody else may write it."""
    return not hasattr(os, "getuid") or (seen.st_uid == os.getuid() and not seen.st_mode & 0o022)


def _own_folder(path: Path) -> bool:
    seen = path.lstat()
    return stat.S_ISDIR(seen.st_mode) and _own(seen)


def trusted(path: Path) -> bytes:
    """Return what an own file in an own folder holds; empty where it is not that. Raises OSError."""
    if not _own_folder(path.parent):
        return b""
    with open(os.open(path, READ_ONLY), "rb") as file:  # noqa: PTH123 - judged and read through one descriptor
        seen = os.fstat(file.fileno())
        return file.read() if stat.S_ISREG(seen.st_mode) and _own(seen) else b""


def keep(path: Path, data: bytes) -> None:
    """Write a file whole or not at all; do without where that cannot be."""
    from specreg.writing import write_own  # noqa: PLC0415 - seldom: what is kept is mostly read

    with suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if _own_folder(path.parent):
            write_own(path, data)
            _forget_in(path.parent)


@cache
def _forget_in(folder: Path) -> None:
    """Once a run, delete what was written long ago: most of it is of registers and versions that are gone."""
    before = time.time() - FORGOTTEN_AFTER
    with os.scandir(folder) as listed:
        old = [entry.path for entry in listed if entry.name.startswith(KEPT) and _written(entry) < before]
    for path in old:
        with suppress(OSError):
            Path(path).unlink()


def _written(entry: os.DirEntry[str]) -> float:
    seen = entry.stat(follow_symlinks=False)
    return seen.st_mtime if stat.S_ISREG(seen.st_mode) else inf
