"""Results to standard output or a file, everything else to standard error."""

from __future__ import annotations

import errno
import os
import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeVar

import click

if TYPE_CHECKING:
    from specreg.output.style import Style
    from specreg.source import Problem

Item = TypeVar("Item")

STEERING = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff](?<!\x1b(?=\\[[0-9;]*m))"
)
"""What moves a terminal's cursor, sets its title, turns the direction of writing; colours alone may pass.

Texts of a spec hold none of it; names of files and what other programs say may. It begins with the set of all
such characters, since a search for that is the quickest, and the checks of a register are a long text.
"""

NARROW = 60
"""Characters of a passing remark: a line that wraps could not be wiped away."""

FINE, UNREADABLE = 0, 2
"""Exit codes where nothing is judged."""


def style_of(output: Path | None) -> Style:
    """Return how text is set: for the terminal, or for a file."""
    from specreg.output.style import Style, style_for

    return Style() if output else style_for(sys.stdout)


def deliver(text: str | Iterable[str], output: Path | None) -> None:
    """Print a result, or write it to the file that was asked for, whole or not at all."""
    if output is None:
        for part in (text,) if isinstance(text, str) else text:
            say(part)
        return
    from specreg.writing import write_whole

    data = text if isinstance(text, str) else (part.encode("utf-8", "replace") for part in text)
    with alone_in(Path(os.path.realpath(output)).parent), writing():
        write_whole(output, data)
    note(f"written: {output}")


@contextmanager
def writing() -> Iterator[None]:
    """Where something cannot be written, say why and what to do, and end."""
    from specreg.writing import Refused, Unwritten

    try:
        yield
    except Refused as refusal:
        stop(str(refusal), None, refusal.remedy)
    except Unwritten as error:
        if error.errno == errno.EPIPE:  # a pipe from which nobody reads on
            return
        stop(f"{error.filename} cannot be written: {error.strerror}", None, remedy_for(error))


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Let other runs that write in a folder wait until this one is done, or wait for them and say so."""
    from specreg import writing as files

    with files.alone_in(folder, note):
        yield


NO_ROOM = "make room where it is written to, and run it again"
ELSEWHERE = "name a file in a folder that is there"
REMEDIES = {
    errno.ENOSPC: NO_ROOM,
    getattr(errno, "EDQUOT", errno.ENOSPC): NO_ROOM,
    errno.EFBIG: NO_ROOM,
    errno.ENOENT: ELSEWHERE,
    errno.ENOTDIR: "what should be a folder on the way there is a file: name another place",
    errno.EISDIR: "this is a folder: name a file",
    errno.EEXIST: "what is there is not what would be written: name another place",
    errno.EROFS: "nothing can be written there: name another place",
    errno.ENAMETOOLONG: "give a shorter name",
    errno.EILSEQ: "give a name that the file system can keep",
    errno.EINVAL: "give a name that the file system can keep",
    errno.EIO: "the disk itself fails: save what is on it",
}
"""What to do about an error of the system."""


def remedy_for(error: OSError) -> str:
    """Return what to do where something cannot be written or read; mostly it is a matter of rights."""
    where = f" on {Path(os.fsdecode(error.filename)).parent}" if error.filename else ""
    return REMEDIES.get(error.errno or 0, f"see to the rights{where}")


def say(text: str) -> None:
    """Print a result; where nobody reads on, go on quietly. Where it cannot be printed, say so and end."""
    try:
        sys.stdout.write(unsteering(text))
        sys.stdout.flush()
    except BrokenPipeError:
        _print_no_more()
    except OSError as error:
        _print_no_more()
        stop(f"the answer cannot be printed: {error.strerror or error}", None, NO_ROOM)


def _print_no_more() -> None:
    """Print nothing from now on, nor what is still waiting to be."""
    nowhere = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - until the process ends
    with suppress(OSError, ValueError):
        os.dup2(nowhere.fileno(), sys.stdout.fileno())
    sys.stdout = nowhere


def watched(items: Sequence[Item]) -> Iterator[Item]:
    """Yield items one after another; on a terminal, standard error tells how far the work is."""
    for number, item in enumerate(items, 1):
        if len(items) > 1:
            passing(f"{number} of {len(items)}")
        yield item
    passing("")


def passing(text: str) -> None:
    """On a terminal, show a remark on standard error until the next one; an empty one wipes it away."""
    if sys.stderr.isatty():
        with suppress(OSError):
            click.echo(f"\r{unsteering(text[:NARROW])}\x1b[K", err=True, nl=False)


def note(text: str) -> None:
    """Print a remark to standard error; nobody can be told where that fails."""
    with suppress(OSError):
        click.echo(unsteering(text), err=True)


def unsteering(text: str) -> str:
    """Return a text in which no character steers a terminal: such characters are made visible."""
    return STEERING.sub(lambda found: found[0].encode("unicode_escape").decode("ascii"), text)


def complain(problems: Iterable[Problem]) -> None:
    """Print problems to standard error, each on a line that begins with its place."""
    for problem in problems:
        note(problem.text() if problem.place else f"specreg: {problem.text()}")


def stop(message: str, near: str | None, remedy: str) -> NoReturn:
    """Say what is wrong with the request, and end."""
    from specreg.source import Problem

    complain([Problem(None, message, nearest=near, remedy=remedy or None)])
    sys.exit(UNREADABLE)


def nearest(word: str, words: Iterable[str]) -> str | None:
    """Return the nearest right word."""
    from specreg.source import nearest_word

    return nearest_word(word, words)
