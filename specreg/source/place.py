"""Where something stands in a file."""

from __future__ import annotations

from typing import NamedTuple


class Place(NamedTuple):
    """A file as it was named to us, and a line and column from 1, the column in code points."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"
