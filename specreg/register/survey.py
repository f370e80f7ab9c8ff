"""The files of a register as they lie on the disk, and whether one has changed since it was last read."""

from __future__ import annotations

import os
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from typing import NamedTuple

from specreg.source import Problem
from specreg.source.inside import contents
from specreg.source.listing import MISTAKEN_REGISTER, REGISTER_FILE, SHARED, is_mistaken, is_read, names_build

SETTLED_AFTER = 2_000_000_000
"""Nanoseconds after which a further change is sure to show in a file's times, on coarse file systems too."""


class Stamp(NamedTuple):
    """What tells a file without reading it: size, times of content and entry in nanoseconds, its number."""

    size: int
    changed: int
    entered: int
    number: int

    def settled(self, now: int) -> bool:
        """Tell whether the times are old enough for a later change to show in them."""
        return max(self.changed, self.entered) + SETTLED_AFTER < now


@dataclass(frozen=True)
class Survey:
    """Every file that builds are read from, by its path below the register; `now` is when that was.

    `closed` names folders that could not be listed: a build may be in them.
    """

    shared: Mapping[str, Stamp]
    builds: Mapping[str, Mapping[str, Stamp]]
    now: int
    closed: tuple[str, ...] = ()


def survey(folder: Path) -> Survey:
    """Look at every file that builds are read from. Raises OSError where the folder cannot be listed."""
    shared: dict[str, Stamp] = {}
    builds: dict[str, Mapping[str, Stamp]] = {}
    closed: list[str] = []
    with os.scandir(folder) as listed:
        entries = sorted(listed, key=lambda entry: entry.name)
    for entry in entries:
        if entry.name in (REGISTER_FILE, MISTAKEN_REGISTER):
            shared[entry.name] = _stamp(entry)
        elif entry.is_dir() and not entry.name.startswith("."):
            try:
                found = dict(_yaml_files(entry))
            except OSError:
                closed.append(entry.name)
                continue
            if entry.name in ("parts", "assemblies"):
                shared |= found
            elif entry.name not in SHARED and names_build(path.partition("/")[2] for path in found):
                builds[entry.name] = found
    return Survey(shared, builds, time.time_ns(), tuple(closed))


def _yaml_files(folder: os.DirEntry[str]) -> Iterator[tuple[str, Stamp]]:
    with os.scandir(folder.path) as listed:
        for entry in listed:
            if is_read(entry.name) or is_mistaken(entry.name):
                yield f"{folder.name}/{entry.name}", _stamp(entry)


def _stamp(entry: os.DirEntry[str]) -> Stamp:
    try:
        seen = entry.stat()
    except OSError:  # a link that leads nowhere: reading it gives the problem
        return Stamp(-1, 0, 0, 0)
    return Stamp(seen.st_size, seen.st_mtime_ns, seen.st_ctime_ns, seen.st_ino)


def content_mark(path: Path) -> bytes:
    """Return a digest of what a file holds; empty where it is not read: a link may lead to a device."""
    data = contents(path, path.name, path.parent.parent)
    return b"" if isinstance(data, Problem) else blake2b(data, digest_size=16).digest()
