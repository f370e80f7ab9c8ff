"""The two sides of a comparison: builds read from a folder, from a revision, or with a change in one line."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.register.revision import Files
from specreg.source import Problem
from specreg.source.listing import SPEC_FILE
from specreg.source.register import Edit, Register, open_register, read_source


@dataclass(frozen=True)
class Side:
    """One build on one side, with how the side is called; None and its problems where it cannot be read."""

    called: str
    name: str
    build: Build | None
    problems: tuple[Problem, ...]
    there: bool = True
    """Whether the side has such a build at all."""


def side(called: str, register: Register, folder: Path, edit: Edit | None = None) -> Side:
    """Read one build of an open register, with a change if there is one."""
    source = read_source(register, folder, edit)
    problems = [*register.problems, *source.problems]
    build = None
    if source.tree is not None:
        build, found = read_build(source.tree, source.designations)
        problems += found
    return Side(called, folder.name, None if problems else build, tuple(dict.fromkeys(sorted(problems))))


def sides_of_files(called: str, files: Files, shown: str, builds: Iterable[str]) -> dict[str, Side]:
    """Read builds from contents by path; places name the files below `shown`."""
    with tempfile.TemporaryDirectory(prefix="specreg-") as home:
        folder = Path(home)
        for name, data in files.items():
            (folder / name).parent.mkdir(exist_ok=True)
            (folder / name).write_bytes(data)
        register = open_register(folder, shown)
        return {
            name: side(called, register, folder / name)
            if f"{name}/{SPEC_FILE}" in files
            else Side(called, name, None, (), there=False)
            for name in builds
        }
