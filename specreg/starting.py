"""A register from nothing: the starter's files, laid whole in a folder that is empty or not there."""

from __future__ import annotations

from pathlib import Path

from specreg.writing import write_new_folder

STARTER = Path(__file__).parent / "starter"
"""The register that ships with the program."""


def start(folder: Path) -> tuple[str, ...]:
    """Write the starter register into a folder and return the files, as the folder names them.

    Raises Refused where the folder holds anything, OSError where it cannot be written.
    """
    found = (path for path in STARTER.rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    files = {path.relative_to(STARTER).as_posix(): path.read_bytes() for path in found}
    write_new_folder(folder, files)
    return tuple(sorted(files))
