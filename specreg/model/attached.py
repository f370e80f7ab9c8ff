"""Files that a record names: photographs and certificates, beside the build or outside git."""

from __future__ import annotations

from enum import Enum
from hashlib import sha256
from pathlib import Path, PurePosixPath

CHUNK = 1 << 20


class Absent(Enum):
    """Why a file has no checksum."""

    refused = "its name leads out of the folder"
    missing = "not there"
    unread = "cannot be read"


class Attached:
    """The folders in which a build's files may lie; without any, files are not looked at."""

    def __init__(self, *folders: Path) -> None:
        self.folders = folders
        self._known: dict[str, str | Absent] = {}

    def checksum(self, name: str) -> str | Absent:
        """Return the SHA-256 of a file in hexadecimal, or why there is none; each is read once.

        A name is a path below the folder: no `..`, no other root, no link that leads elsewhere.
        """
        if name not in self._known:
            self._known[name] = self._read(name)
        return self._known[name]

    def content(self, name: str, most: int) -> bytes | Absent:
        """Return what a file holds, or why it cannot be had; one of more than `most` bytes is not read."""
        try:
            path = self._path(name)
            if isinstance(path, Absent):
                return path
            return path.read_bytes() if path.stat().st_size <= most else Absent.unread
        except (OSError, ValueError, RuntimeError):
            return Absent.unread

    def _read(self, name: str) -> str | Absent:
        try:
            path = self._path(name)
            return path if isinstance(path, Absent) else _digest(path)
        except (OSError, ValueError, RuntimeError):
            return Absent.unread

    def _path(self, name: str) -> Path | Absent:
        if not well_named(name):
            return Absent.refused
        for folder in self.folders:
            path = folder / name
            if not path.resolve().is_relative_to(folder.resolve()):
                return Absent.refused
            if path.is_file():
                return path
        return Absent.missing


def well_named(name: str) -> bool:
    """Tell whether a name is a plain path below a folder."""
    path = PurePosixPath(name)
    harmless = not path.is_absolute() and not set(name) & set("\\:\0") and name == name.strip()
    return bool(path.parts) and harmless and ".." not in path.parts and str(path) == name


def _digest(path: Path) -> str:
    found = sha256()
    with path.open("rb") as file:
        while piece := file.read(CHUNK):
            found.update(piece)
    return found.hexdigest()


NOWHERE = Attached()
