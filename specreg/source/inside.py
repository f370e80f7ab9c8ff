"""Links of the file system that lead out of a register are not followed: a register may come from anybody."""

from __future__ import annotations

from pathlib import Path

LEADS_OUT = "a link out of the register, which is not followed"


def leads_out(path: Path, *homes: Path) -> bool:
    """Tell whether a path ends, by links, outside all the folders that it may lie in."""
    end = path.resolve()
    return not any(end.is_relative_to(home.resolve()) for home in homes)
