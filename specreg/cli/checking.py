"""The check of builds, and the record of what it is known to find."""

from __future__ import annotations

import os
import sys
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from specreg.cli.options import BUILD, INTO_FILE, ON, OWN_PROCESS, StageName, example, formats
from specreg.cli.terminal import (
    FINE,
    UNREADABLE,
    alone_in,
    complain,
    deliver,
    note,
    remedy_for,
    say,
    stop,
    style_of,
    watched,
    writing,
)

if TYPE_CHECKING:
    from datetime import date

    from specreg.accepted import Known, Record
    from specreg.cli.one_by_one import Checks, Request
    from specreg.model.build import Stage
    from specreg.source.asked import Asked

FOR = click.option("--for", "stage", type=StageName(), metavar="STAGE", help="Judge as if at that stage.")


@click.command(
    short_help="Put every rule to a build.",
    epilog=example(
        "specreg inspect builds/heron --for hand-over --on 2026-05-20\n"
        "specreg inspect builds --changed-since main --accepted builds/accepted.yaml --stop-at warning"
    ),
)
@BUILD
@formats("text", "json", "sarif", "junit", "markdown")
@INTO_FILE
@FOR
@ON
@click.option("--all", "everything", is_flag=True, help="Show what passes and what does not apply, too.")
@click.option(
    "--stop-at",
    type=click.Choice(["error", "warning", "note"]),
    default="error",
    show_default=True,
    help="End with 1 from this level of failure on.",
)
@click.option(
    "--accepted",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Failures that `specreg accept` recorded there do not count at the end.",
)
@click.option(
    "--changed-since",
    "revision",
    metavar="REV",
    help="Only builds that read otherwise than at that revision.",
)
def inspect(
    build: Path,
    form: str,
    output: Path | None,
    stage: Stage | None,
    on: date | None,
    everything: bool,
    stop_at: str,
    accepted: Path | None,
    revision: str | None,
) -> None:
    """Put every rule to every subject of a build and say what came of it.

    Ends with 0, with 1 where something fails at --stop-at or above that no concession covers and the accepted
    record does not know, with 2 where a spec cannot be read. A change to a part or an assembly counts for the
    builds that use it.
    """
    from specreg.cli.one_by_one import Request

    record = _record(accepted, must_exist=True) if accepted else None
    only = _touched(build, revision) if revision is not None else None
    request = Request(stage, on, stop_at, everything, style_of(output), record)
    if form == "text":
        _in_text(build, only, request, output)
    _in_form(build, only, request, form, output)


def _in_text(build: Path, only: Collection[str] | None, request: Request, output: Path | None) -> NoReturn:
    """Check vans one after another, print everything as text, and end."""
    from specreg.cli.one_by_one import check
    from specreg.source.asked import asked_by

    asked = asked_by(build)
    found = check(asked, only, request, kept=click.get_current_context().obj is OWN_PROCESS)
    _tell_besides(found, request, asked)
    deliver(found.text(request.style), output)
    sys.exit(found.exit_code)


MOST_IN_MEMORY = 8_000_000
"""Characters of what is told in another form; what is more waits in a file that has no name."""


def _in_form(
    build: Path, only: Collection[str] | None, request: Request, form: str, output: Path | None
) -> NoReturn:
    """Check vans one after another, print everything in another form, and end."""
    from tempfile import SpooledTemporaryFile

    from specreg.cli.one_by_one import check
    from specreg.output import form_of
    from specreg.output.by_van import Ended, Told
    from specreg.source.asked import asked_by

    asked = asked_by(build)
    with (
        SpooledTemporaryFile(
            MOST_IN_MEMORY, "w+", encoding="utf-8", errors="surrogatepass", newline=""
        ) as file,
        _room(),
    ):
        told = Told(form_of(form, everything=request.everything), file)
        found = check(asked, only, request, kept=False, told=told)
        _tell_besides(found, request, asked)
        ended = Ended(tuple(found.unread), tuple(found.problems), found.exit_code)
        deliver(told.text(ended), output)
    sys.exit(found.exit_code)


@contextmanager
def _room() -> Iterator[None]:
    """Where what is told cannot wait until all is told, say so and end."""
    from specreg.output.by_van import NoRoomError

    try:
        yield
    except NoRoomError as error:
        stop(f"the answer cannot wait on the disk: {error.strerror}", None, remedy_for(error))


def _tell_besides(found: Checks, request: Request, asked: Asked) -> None:
    """Tell every problem, and which builds the record names that are not there."""
    complain(found.problems)
    if request.record is not None:
        _name_strangers(request.record, asked.home)


def _touched(build: Path, revision: str) -> frozenset[str] | None:
    """Return the names of the builds that changed; None for a wrong path, which reading it will tell."""
    from specreg.register.touched import touched
    from specreg.workshop import asked

    home, names = asked(build)
    if not names:
        return None
    found, problems = touched(home, revision, names)
    complain(problems)
    if problems:
        sys.exit(UNREADABLE)
    if not found:
        note(f"nothing that these builds say has changed since {revision}")
    return found


def _record(file: Path, must_exist: bool) -> Record | None:
    from specreg.accepted import read_record

    try:
        record, problems = read_record(file.read_bytes(), file.as_posix())
    except FileNotFoundError:
        if must_exist:
            stop(f"there is no record {file}", None, f"`specreg accept REGISTER --into {file}` writes it")
        return None
    except OSError as error:
        stop(f"{file} cannot be read: {error.strerror}", None, "name a file")
    complain(problems)
    if record is None:
        sys.exit(UNREADABLE)
    return record


def _strangers(record: Record, home: Path) -> tuple[Known, ...]:
    """Return what a record says of builds that the register does not have."""
    from specreg.source.listing import is_build

    there = {name: is_build(home / name) for name in {known.build for known in record.findings}}
    return tuple(known for known in record.findings if not there[known.build])


def _name_strangers(record: Record, home: Path) -> None:
    for name in sorted({known.build for known in _strangers(record, home)}):
        note(f"{record.file} speaks of {name}, which is not in the register; `specreg accept` takes it out")


@click.command(
    short_help="Record the failures of today as known.",
    epilog=example(
        "specreg accept builds --into builds/accepted.yaml\n"
        "specreg accept builds --into builds/accepted.yaml --shrink"
    ),
)
@BUILD
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    required=True,
    metavar="FILE",
    help="The record, to be kept in git.",
)
@click.option("--shrink", is_flag=True, help="Only take out what is no longer found; add nothing.")
@FOR
@ON
def accept(build: Path, into: Path, shrink: bool, stage: Stage | None, on: date | None) -> None:
    """Write down what fails today, so that `inspect --accepted` stops only at what is new.

    A register that is taken over with findings can be checked from the first day on, and the record shrinks
    as they are mended. It is no concession: it permits nothing, and every page and sheet goes on naming the
    finding. What it says of builds that are not asked for, or that cannot be read, stays.
    """
    from specreg.writing import refuse_source

    with writing():
        refuse_source(into)
    with alone_in(Path(os.path.realpath(into)).parent):
        _accept(build, into, shrink, stage, on)


def _accept(build: Path, into: Path, shrink: bool, stage: Stage | None, on: date | None) -> None:
    from specreg.accepted import Record, known_of, record_text
    from specreg.workshop import inspect_all, load
    from specreg.writing import replace_files, snapshot

    file = Path(os.path.realpath(into))
    seen = snapshot([file])
    old = _record(into, must_exist=False) or Record(into.as_posix())
    opened = load(build)
    inspection = inspect_all(opened, on, stage, record=old, watch=watched)
    complain(inspection.problems)
    if not opened.builds:
        sys.exit(UNREADABLE)
    judged = {report.build.name for report in inspection.reports}
    strangers = _strangers(old, opened.folder)
    kept = [known for known in old.findings if known.build not in judged and known not in strangers]
    added = 0
    for report in inspection.reports:
        for result in filter(lambda one: one.failed, report.results):
            new = report.standing(result) == "new"
            if not (new and shrink):
                kept.append(known_of(report.build.name, result))
                added += new
    out = sum(len(report.gone) for report in inspection.reports) + len(strangers)
    with writing():
        replace_files({file: record_text(kept).encode()}, seen, file.parent)
    note(f"written: {into}")
    say(f"{len(kept)} known: {added} added, {out} taken out\n")
    sys.exit(UNREADABLE if inspection.problems else FINE)
