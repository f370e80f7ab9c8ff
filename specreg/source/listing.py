"""Which files of a register are read, and which folders are vans: told by the names that are there."""

from __future__ import annotations

import os
from collections.abc import Iterable
from os.path import lexists
from pathlib import Path

from specreg.source.place import Place
from specreg.source.problem import Problem

REGISTER_FILE = "register.yaml"
SPEC_FILE = "spec.yaml"
DESIGNATIONS_FILE = "designations.yaml"
AS_BUILT_FILE = "as-built.yaml"
FITTED_FILE = "fitted.yaml"
PRIVATE_FILE = "private.yaml"

MISTAKEN_REGISTER = "register.yml"
MISTAKEN_SPEC = "spec.yml"

SHARED = ("parts", "assemblies", "recalls", "rules")
"""Folders of a register that are no vans."""

READ, MISTAKEN = ".yaml", (".yaml", ".yml")
PROCEDURES = "procedures"
"""Folder of a van with texts for its owner."""
DOCUMENTS = (".md", ".markdown")

OF_A_BUILD = frozenset((SPEC_FILE, MISTAKEN_SPEC, AS_BUILT_FILE, FITTED_FILE, DESIGNATIONS_FILE))
"""Names that only a van's folder has. The private file is none: git leaves it where a van is no more."""


def is_read(name: str) -> bool:
    """Tell whether a file of this name is read. Hidden ones are an editor's or a system's."""
    return name.endswith(READ) and not name.startswith(".")


def is_mistaken(name: str) -> bool:
    """Tell whether somebody may believe that a file of this name is read."""
    return name.lower().endswith(MISTAKEN) and not name.endswith(READ) and not name.startswith(".")


def yaml_files(folder: Path) -> list[Path]:
    """Return the files of a folder that are read, by name; none where there is no folder. Raises OSError."""
    return [folder / name for name in _names(folder) if is_read(name)]


def listed(folder: Path, shown: str) -> tuple[list[Path], list[Problem]]:
    """Return the files of a folder that are read, and what is wrong with the names there."""
    try:
        names = _names(folder)
    except OSError as error:
        return [], [Problem(Place(shown, 1, 1), f"the folder cannot be read: {error.strerror}")]
    wrong = [mistaken(name, f"{shown}/{name}") for name in names if is_mistaken(name)]
    return [folder / name for name in names if is_read(name)], wrong


def mistaken(name: str, shown: str) -> Problem:
    """Return the problem of a file that is not read for its name."""
    right = f"{name.rpartition('.')[0]}{READ}"
    message, remedy = "a file of this name is not read", "rename it, or take it away"
    return Problem(Place(shown, 1, 1), message, name, right, remedy=remedy)


def is_of_a_register(file: Path) -> bool:
    """Tell whether a register is read from a file of this name in this place. Raises OSError."""
    folder = file.parent
    if file.name.endswith(".md"):
        return folder.parent.name == "rules" or folder.name == PROCEDURES
    return is_read(file.name) and (file.name == REGISTER_FILE or folder.name in SHARED or is_build(folder))


def documents(folder: Path) -> list[Path]:
    """Return the documents in a folder, by name."""
    return sorted(path for path in folder.glob("*.md") if not path.name.startswith("."))


def rule_documents(folder: Path) -> list[Path]:
    """Return the documents of rules below a folder, each in the folder of its system."""
    return sorted(path for path in folder.glob("*/*.md") if not _hidden(path.relative_to(folder)))


def unread_documents(folder: Path) -> list[Path]:
    """Return what somebody may take for a rule, and is none for its place or its name."""
    alike = {path for path in folder.rglob("*") if path.suffix.lower() in DOCUMENTS}
    found = sorted(alike.difference(rule_documents(folder)))
    return [path for path in found if path.stem.lower() != "readme" and not _hidden(path.relative_to(folder))]


def _hidden(path: Path) -> bool:
    return any(step.startswith(".") for step in path.parts)


def _names(folder: Path) -> list[str]:
    try:
        return sorted(os.listdir(folder))  # noqa: PTH208 - names are enough, for each van
    except (FileNotFoundError, NotADirectoryError):
        return []


def is_build(folder: Path) -> bool:
    """Tell whether a folder is a van's: a spec that is no file, or misspelt, is told when it is read.

    Raises OSError where the folder cannot be looked at.
    """
    return lexists(folder / SPEC_FILE) or names_build(_names(folder))


def names_build(names: Iterable[str]) -> bool:
    """Tell whether these are the names in a van's folder."""
    return any(name.lower() in OF_A_BUILD for name in names)


def build_folders(folder: Path) -> tuple[Path, ...]:
    """Return the builds that a path means: the folder itself, or those of a register, by name.

    A hidden folder is none: it may be a van that a run was about to write. Raises OSError.
    """
    if is_build(folder):
        return (folder,)
    names = (name for name in _names(folder) if not name.startswith(".") and name not in SHARED)
    return tuple(path for name in names if (path := folder / name).is_dir() and is_build(path))
