"""What a path means that somebody gives a command: a register, and those of its builds that are asked for."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from specreg.source.listing import REGISTER_FILE, SPEC_FILE, build_folders, is_build
from specreg.source.problem import Problem, nearest_word


@dataclass(frozen=True)
class Asked:
    """A register's folder, how places name it, and the folders of the builds that are asked for.

    `wrong` says why a path holds no build; there are none then.
    """

    home: Path
    shown: str
    builds: tuple[Path, ...] = ()
    wrong: Problem | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Return the names of the builds."""
        return tuple(folder.name for folder in self.builds)


def asked_by(path: str | Path) -> Asked:
    """Return what a path means, without reading a file."""
    folder = Path(os.path.abspath(path))  # noqa: PTH100 - resolve() would follow links out of the register
    if folder.name == SPEC_FILE and folder.is_file():
        folder = folder.parent
    try:
        builds = build_folders(folder) if folder.is_dir() else ()
    except OSError as error:
        wrong = Problem(None, f"the folder cannot be read: {error.strerror}", str(path))
        return Asked(folder, str(path), wrong=wrong)
    if not builds:
        return Asked(folder, str(path), wrong=_no_build(folder, str(path)))
    home = folder.parent if is_build(folder) else folder
    return Asked(home, _shown(home), builds)


def _shown(folder: Path) -> str:
    """Return how places name a folder: by the way to it from where the command runs."""
    try:
        return Path(os.path.relpath(folder)).as_posix()
    except ValueError:  # another drive
        return folder.name


def _no_build(folder: Path, asked: str) -> Problem:
    """Return what is wrong with a path that holds no build."""
    if not folder.exists():
        around = folder.parent
        beside = [path.name for path in around.iterdir() if path.is_dir()] if around.is_dir() else []
        return Problem(
            None,
            "there is no such folder",
            asked,
            "a build's folder, or a register's",
            nearest_word(folder.name, beside),
        )
    if not folder.is_dir():
        return Problem(None, "this is a file", asked, "a build's folder, or a register's")
    return Problem(
        None,
        "the folder holds no build",
        asked,
        f"a folder with {SPEC_FILE}, or a register with such folders",
        remedy=f"write {SPEC_FILE} in a folder named like the build, beside {REGISTER_FILE}",
    )
