"""Hand-over: the spec frozen beside the build, so that the van stays what it is."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import BUILD, Day, example
from specreg.cli.terminal import FINE, UNREADABLE, alone_in, complain, deliver, note, say, stop, writing

if TYPE_CHECKING:
    from datetime import date

    from specreg.report import Report

FAILS = 1


@click.command(
    "hand-over",
    short_help="Freeze the spec of a build as handed over.",
    epilog=example("specreg hand-over builds/heron --on 2026-05-20"),
)
@BUILD
@click.option("--on", "on", type=Day(), metavar="DATE", required=True, help="The day of hand-over.")
@click.option("--again", is_flag=True, help="Freeze anew, with what was fitted since.")
@click.option("--show", is_flag=True, help="Print what would be frozen; nothing is checked or written.")
def hand_over(build: Path, on: date, again: bool, show: bool) -> None:
    """Write every component and run, complete, to as-built.yaml beside the spec.

    From then on the build is read from it: no change of a part, an assembly or the workshop's standards
    reaches the van any more. It is refused while the inspection for hand-over finds anything at level error.
    What is changed later is written in fitted.yaml.
    """
    from specreg.workshop import asked

    with alone_in(asked(build)[0]):
        _hand_over(build, on, again, show)


def _hand_over(build: Path, on: date, again: bool, show: bool) -> None:
    from specreg.output.as_built import CannotFreeze, as_built_text
    from specreg.source.listing import AS_BUILT_FILE
    from specreg.source.register import files_read
    from specreg.workshop import asked, load
    from specreg.writing import replace_files, snapshot

    seen = snapshot(files_read(*asked(build)))
    opened = load(build)
    complain(opened.problems)
    if opened.problems or len(opened.builds) != 1 or opened.register is None:
        stop("one van that can be read is handed over", None, "give the folder of one build")
    loaded = opened.builds[0]
    file = loaded.folder / AS_BUILT_FILE
    if file.exists() and not (again or show):
        stop(f"{build / AS_BUILT_FILE} is there already", None, "say --again to freeze what is fitted now")
    if not show:
        _go_on_or_end(build, on)
    try:
        text = as_built_text(opened.register, loaded.folder, on)
        if show:
            deliver(text, None)
            sys.exit(FINE)
    except CannotFreeze as refusal:
        stop(f"the spec cannot be frozen: {refusal}", None, "")
    with writing():  # and what was inspected is what is frozen
        replace_files({file: text.encode()}, seen, opened.folder, loaded.folder)
    note(f"written: {build / AS_BUILT_FILE}")
    say(f"{loaded.name} is read from {AS_BUILT_FILE} from now on. Say `stage: in-service` in its spec.\n")


def _go_on_or_end(build: Path, on: date) -> None:
    """Go on where nothing stops a hand-over; else say what does, and end."""
    from specreg.model.build import Stage
    from specreg.output.going_on import going_on
    from specreg.workshop import inspect_all, load

    inspection = inspect_all(load(build), on, Stage.hand_over)
    complain(inspection.problems)
    if inspection.problems:
        sys.exit(UNREADABLE)
    report: Report = inspection.reports[0]
    say("\n".join(going_on(report)) + "\n")
    if report.counts.errors:
        say(f"Nothing is frozen. All of it: specreg inspect {build} --for hand-over --on {on.isoformat()}\n")
        sys.exit(FAILS)
