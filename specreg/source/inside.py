"""Files of a register, which may come from anybody: no link out of it is followed, no device is read."""

from __future__ import annotations

import stat
from pathlib import Path

from specreg.source.place import Place
from specreg.source.problem import Problem

LEADS_OUT = "a link out of the register, which is not followed"

MOST_BYTES = 4_000_000
"""Bytes of one file that are read."""


def leads_out(path: Path, *homes: Path) -> bool:
    """Tell whether a path ends, by links, outside all the folders that it may lie in."""
    end = path.resolve()
    return not any(end.is_relative_to(home.resolve()) for home in homes)


def linked_out(folder: Path, shown: str, home: Path) -> Problem | None:
    """Return the problem of a folder that is itself a link out of its register; None where it is none."""
    if folder.is_symlink() and leads_out(folder, home):
        return Problem(Place(shown, 1, 1), LEADS_OUT, remedy="put the folder itself there")
    return None


def contents(path: Path, shown: str, *homes: Path, most: int = MOST_BYTES) -> bytes | Problem:
    """Return what a file holds, or why it is not read. `shown` is how places name it."""
    start = Place(shown, 1, 1)
    try:
        seen = path.lstat()
        if stat.S_ISLNK(seen.st_mode):
            if leads_out(path, *homes):
                return Problem(start, LEADS_OUT, remedy="put a copy of the file there")
            seen = path.stat()
        if not stat.S_ISREG(seen.st_mode):
            return Problem(start, "this is no file", remedy="take it away, or put a file there")
        return path.read_bytes() if seen.st_size <= most else too_large(start, seen.st_size, most)
    except (OSError, RuntimeError) as error:  # links in a ring are a RuntimeError to pathlib
        return Problem(start, f"cannot be read: {getattr(error, 'strerror', None) or error}")


def too_large(start: Place, size: int, most: int) -> Problem:
    """Return the problem of a file beyond the limit."""
    message = f"the file is too large: {size} bytes, {most} are read at most"
    return Problem(start, message, remedy="split it into several files")
