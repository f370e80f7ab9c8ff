"""Results to standard output or a file, everything else to standard error."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn, TypeVar

import click

if TYPE_CHECKING:
    from specreg.output.style import Style
    from specreg.source import Problem

Item = TypeVar("Item")

NARROW = 60
"""Characters of a passing remark: a line that wraps could not be wiped away."""

FINE, UNREADABLE = 0, 2
"""Exit codes where nothing is judged."""


def style_of(output: Path | None) -> Style:
    """Return how text is set: for the terminal, or for a file."""
    from specreg.output.style import Style, style_for

    return Style() if output else style_for(sys.stdout)


def deliver(text: str, output: Path | None) -> None:
    """Print a result, or write it to the file that was asked for, whole or not at all."""
    if output is None:
        say(text)
        return
    from specreg.output.writing import write_whole

    try:
        write_whole(output, text)
    except OSError as error:
        stop(
            f"{output} cannot be written: {error.strerror or error}",
            None,
            "name a file in a folder that is there",
        )
    note(f"written: {output}")


def say(text: str) -> None:
    """Print a result; where nobody reads on, go on quietly."""
    try:
        sys.stdout.write(text)
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115 - until the process ends


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
        click.echo(f"\r{text[:NARROW]}\x1b[K", err=True, nl=False)


def note(text: str) -> None:
    """Print a remark to standard error."""
    click.echo(text, err=True)


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
