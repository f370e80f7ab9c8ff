"""A check told van by van: what is held is one van and the text of those before, however many there are.

A form makes its pieces from one report after another, and at the end what stands around them.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import chain
from typing import IO, TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from specreg.report import Report
    from specreg.source import Problem

CHUNK = 1 << 20
"""Characters that are handed on at a time."""


@dataclass(frozen=True)
class Ended:
    """What is known when every van was told: those that could not be read, every problem, the exit code."""

    unread: tuple[str, ...]
    problems: tuple[Problem, ...]
    exit_code: int


class NoRoomError(OSError):
    """What is told cannot wait until all is told."""


class Form(Protocol):
    """A form of output in pieces, with `between` between them."""

    between: str

    def pieces(self, report: Report) -> Iterator[str]:
        """Yield what is said of one van."""

    def last(self, ended: Ended) -> Iterator[str]:
        """Yield the pieces that come after those of all vans."""

    def around(self, ended: Ended, *, some: bool) -> tuple[str, str]:
        """Return what stands before and after the pieces; `some` tells whether there are any."""


class Told:
    """What was told so far, in a file that is open for writing and reading.

    Raises NoRoomError where the file takes no more.
    """

    def __init__(self, form: Form, file: IO[str]) -> None:
        self._form = form
        self._file = file
        self._some = False

    def add(self, report: Report) -> None:
        """Tell one van more."""
        self._write(self._form.pieces(report))

    def text(self, ended: Ended) -> Iterator[str]:
        """Return the whole text, part by part; nothing needs to wait any more when the first is asked for."""
        self._write(self._form.last(ended))
        before, after = self._form.around(ended, some=self._some)
        with _waiting():
            self._file.seek(0)
        return chain((before,), iter(partial(self._file.read, CHUNK), ""), (after,))

    def _write(self, pieces: Iterator[str]) -> None:
        for piece in pieces:
            with _waiting():
                self._file.write(self._form.between if self._some else "")
                self._file.write(piece)
            self._some = True


@contextmanager
def _waiting() -> Iterator[None]:
    """Tell an error of the file in which what is told waits from any other."""
    try:
        yield
    except OSError as error:
        raise NoRoomError(error.errno, error.strerror or str(error)) from error
