"""A register from nothing: the starter's files, copied whole into a folder that is empty or not there."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

STARTER = Path(__file__).parent / "starter"
"""The register that ships with the program."""


class NotEmpty(Exception):  # noqa: N818 - a refusal, said to the person who asked
    """The folder holds something already; nothing was written."""


def start(folder: Path) -> tuple[str, ...]:
    """Copy the starter register into a folder and return the files, as the folder names them.

    Raises NotEmpty where the folder holds anything, OSError where it cannot be written; in both cases
    nothing is changed: the files are laid beside the folder first and moved there whole.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise NotEmpty(f"{folder} is not empty")
    folder.parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.parent))
    try:
        made = beside / "register"
        shutil.copytree(
            STARTER, made, ignore=shutil.ignore_patterns("__pycache__"), copy_function=shutil.copy
        )
        if folder.exists():
            folder.rmdir()
        made.replace(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)
    return tuple(sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()))
