"""A register as it stands while somebody writes in it: saved files with the unsaved texts over them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from specreg.editor.outline import Outline
from specreg.editor.scanner import outline
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.report import Report
from specreg.rules.pack import Pack
from specreg.source import Mapping as Tree
from specreg.source import Place, Problem, Scalar, at
from specreg.source.inside import contents
from specreg.source.listing import (
    DESIGNATIONS_FILE,
    REGISTER_FILE,
    SPEC_FILE,
    build_folders,
    is_build,
    is_read,
)
from specreg.source.register import Register, Texts, open_register, read_source


@dataclass(frozen=True)
class Van:
    """One build as it reads just now; `build` lacks what is broken, and is None where its head is."""

    name: str
    folder: Path
    tree: Tree | None
    build: Build | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Reading:
    """A register, the builds of it that somebody writes in, and what came of judging the sound ones."""

    home: Path
    register: Register
    vans: Mapping[str, Van]
    problems: tuple[Problem, ...]
    texts: Texts = field(default_factory=dict)
    reports: Mapping[str, Report] = field(default_factory=dict)
    pack: Pack | None = None

    def file(self, place: Place) -> Path:
        """Return the file that a place names."""
        return self.home.parent / place.file

    def shown(self, path: Path) -> str:
        """Return how places name a file of the register."""
        return path.relative_to(self.home.parent).as_posix()

    @cached_property
    def _outlines(self) -> dict[Path, Outline]:
        return {}

    def outline(self, path: Path) -> Outline:
        """Return the outline of a file as it stands; an empty one where it cannot be read."""
        found = self._outlines.get(path)
        if found is None:
            found = self._outlines[path] = outline(self._text(path))
        return found

    def _text(self, path: Path) -> str:
        if path in self.texts:
            return self.texts[path]
        data = contents(path, path.name, self.home)
        return "" if isinstance(data, Problem) else data.decode("utf-8", "replace")

    def van_of(self, path: Path) -> Van | None:
        """Return the build that a file belongs to; for one that builds share, the first by name."""
        own = self.vans.get(path.parent.name) if path.parent.parent == self.home else None
        return own or next(iter(self.vans.values()), None)

    def part(self, name: str) -> Tree | None:
        """Return the catalogue's entry for a part."""
        entry = self.register.parts.get(name)
        return entry.node if entry and isinstance(entry.node, Tree) else None


def home_of(file: Path) -> Path | None:
    """Return the folder of the register that a file belongs to; None where it belongs to none."""
    for folder in (file.parent, file.parent.parent):
        if (folder / REGISTER_FILE).is_file():
            return folder
    if is_build(file.parent) or file.name == SPEC_FILE:
        return file.parent.parent
    return file.parent.parent if file.parent.name in ("parts", "assemblies") else None


def read(home: Path, texts: Texts) -> Reading:
    """Read a register with unsaved texts over it: the builds written in, or all, if a shared file is."""
    register = open_register(home, home.name, texts)
    vans = {folder.name: _van(register, folder) for folder in _wanted(home, texts)}
    return Reading(home, register, vans, tuple(register.problems), dict(texts))


def _wanted(home: Path, texts: Texts) -> tuple[Path, ...]:
    try:
        builds = build_folders(home)
    except OSError:
        return ()
    touched = {path.parent for path in texts}
    new = tuple(path.parent for path in texts if path.name == SPEC_FILE and path.parent.parent == home)
    known = tuple(sorted({*builds, *new}))
    return tuple(folder for folder in known if folder in touched) if touched <= set(known) else known


def _van(register: Register, folder: Path) -> Van:
    source = read_source(register, folder)
    build, problems = None, list(source.problems)
    if source.tree is not None:
        build, found = read_build(source.tree, source.designations)
        problems += found
    return Van(folder.name, folder, source.tree, build, tuple(dict.fromkeys(problems)))


def judged(reading: Reading, pack: Pack) -> Reading:
    """Return the reading with the check of every build that could be read without a problem."""
    from specreg.workshop import inspect  # noqa: PLC0415 - every fact is registered there: a tenth of a second

    reports = {
        name: inspect(van.build, pack)
        for name, van in reading.vans.items()
        if van.build is not None and not van.problems
    }
    return Reading(
        reading.home, reading.register, reading.vans, reading.problems, reading.texts, reports, pack
    )


def role_of(home: Path, path: Path) -> str:
    """Return what a file is to its register: build, part, assembly, register, designations or other."""
    if not is_read(path.name):
        return "other"
    if path.parent == home:
        return "register" if path.name == REGISTER_FILE else "other"
    if path.parent.parent != home:
        return "other"
    if path.name == DESIGNATIONS_FILE:
        return "designations"
    return {"parts": "part", "assemblies": "assembly"}.get(path.parent.name, "build")


def stated(tree: Tree | None, *path: str) -> str:
    """Return the text of a single value in a tree; empty where there is none."""
    node = at(tree, path) if tree is not None else None
    return node.text if isinstance(node, Scalar) else ""
