"""The commands that stay: answers for an editor, and pages that follow what is written."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import BUILD, ON, example
from specreg.cli.terminal import UNREADABLE, complain, note, stop

if TYPE_CHECKING:
    from datetime import date


@click.command(
    short_help="Answer an editor that speaks the Language Server Protocol.",
    epilog=example("specreg editor"),
)
def editor() -> None:
    """Answer an editor over the Language Server Protocol, on standard input and output.

    An editor starts this by itself: set it up to run `specreg editor` for YAML files. It needs the extra
    `editor`.
    """
    try:
        import pygls  # noqa: F401 - only whether it is there
    except ImportError:
        stop(
            "the answers for an editor need a package that is not installed",
            None,
            'install it with: pip install "specreg[editor]"',
        )
    from specreg.editor.protocol import serve

    serve()


@click.command(
    short_help="Show the pages on this computer while the spec is being written.",
    epilog=example("specreg preview builds/heron --reader owner --port 8040"),
)
@BUILD
@click.option(
    "--reader",
    type=click.Choice(["public", "owner", "workshop"]),
    default="owner",
    show_default=True,
    help="Who the pages are for.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=8040,
    show_default=True,
    help="On this computer only; 0 takes any that is free.",
)
@ON
def preview(build: Path, reader: str, port: int, on: date | None) -> None:
    """Show the pages on this computer only, and write them anew whenever a file changes.

    Nothing is written in the register. While a spec cannot be read, the last good pages stay, with the
    problems on top. Ends with Ctrl+C.
    """
    from specreg.model.field import Reader
    from specreg.preview.server import serve
    from specreg.preview.state import Preview
    from specreg.workshop import load

    path = build if build.name else build.absolute()
    opened = load(path)
    if not opened.builds:
        complain(opened.problems)
        sys.exit(UNREADABLE)
    shown = Preview(path, Reader(reader), opened.folder, on)
    try:
        serve(shown, port, note)
    except OSError as error:
        stop(f"port {port} cannot be used: {error.strerror or error}", None, "give another one with --port")
