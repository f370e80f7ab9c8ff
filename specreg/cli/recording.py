"""Sheets for the trades, and what comes back from them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import BUILD, ON, Day, example
from specreg.cli.terminal import (
    FINE,
    UNREADABLE,
    alone_in,
    complain,
    deliver,
    note,
    say,
    stop,
    style_of,
    writing,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import date

    from specreg.facts.engine import Facts
    from specreg.model.build import Build
    from specreg.output.recording import Addition
    from specreg.report import Inspection
    from specreg.source.circuits import Line
    from specreg.trade.answers import Answers
    from specreg.trade.filled import Filled

    Seen = Mapping[Path, bytes]


def deliver_sheets(build: Path, trade: str, form: str, output: Path | None) -> None:
    """Print one trade's sheets of a build, or of each build of a register, and end."""
    from specreg.output.as_json import dumps
    from specreg.output.trade_data import sheets_data
    from specreg.output.trade_sheet import sheet_text, sheets_csv
    from specreg.trade.sheet import trade_sheet
    from specreg.trade.trades import Trade

    inspection = _inspected(build)
    found = [trade_sheet(report, Trade(trade)) for report in inspection.reports]
    sheets = [sheet for sheet in found if sheet is not None]
    if form == "json":
        deliver(dumps(sheets_data(sheets)), output)
    elif form == "csv":
        deliver(sheets_csv(sheets), output)
    else:
        deliver("\n".join(sheet_text(sheet, style_of(output)) for sheet in sheets), output)
    if not sheets:
        note(f"nothing here is for the {trade.replace('-', ' ')} to look at")
    sys.exit(UNREADABLE if inspection.problems else FINE)


def deliver_hold_sheets(build: Path, point: str, form: str, output: Path | None) -> None:
    """Print the sheet of a hold point of a build, or of each build of a register, and end."""
    from specreg.facts.engine import Facts
    from specreg.output.hold_point_sheet import hold_sheet_text, hold_sheets_csv
    from specreg.workshop import load

    opened = load(build)
    complain(opened.problems)
    vans = [Facts(one) for one in opened.sound]
    if form == "json":
        stop("a hold point's sheet is text or a table", None, "say --format csv")
    text = (
        hold_sheets_csv(vans, point) if form == "csv" else "\n".join(hold_sheet_text(f, point) for f in vans)
    )
    deliver(text, output)
    sys.exit(UNREADABLE if opened.problems else FINE)


def deliver_circuits(build: Path, output: Path | None) -> None:
    """Print the circuits of one build as a table, and end."""
    from specreg.output.rows import as_csv
    from specreg.source.circuit_table import COLUMNS, lines_of, row_of
    from specreg.workshop import load

    opened = load(build)
    complain(opened.problems)
    if len(opened.builds) != 1 or opened.register is None:
        stop("circuits are printed of one van", None, "give the folder of one build")
    lines = lines_of(opened.register, opened.builds[0].folder)
    deliver(as_csv(COLUMNS, [row_of(name, line) for name, line in lines.items()]), output)
    sys.exit(UNREADABLE if opened.problems else FINE)


def _known_circuits(build: Path) -> Mapping[str, Line]:
    from specreg.source.circuit_table import lines_of
    from specreg.workshop import load

    opened = load(build)
    assert opened.register is not None
    return lines_of(opened.register, opened.builds[0].folder)


def _inspected(build: Path, on: date | None = None) -> Inspection:
    from specreg.workshop import inspect_all, load

    inspection = inspect_all(load(build), on)
    complain(inspection.problems)
    return inspection


def _day(value: date | None) -> str:
    return value.isoformat() if value else ""


@click.command(
    short_help="Take a filled sheet into the record.",
    epilog=example("specreg record builds/heron sheet.csv --by electrician --date 2026-05-11 --write"),
)
@BUILD
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE.csv")
@click.option("--write", "wanted", is_flag=True, help="Add the records; without it they are only shown.")
@click.option("--by", metavar="ROLE", default="", help="Role of the person, for lines without one.")
@click.option("--name", metavar="NAME", default="", help="Name, likewise.")
@click.option("--licence", metavar="NUMBER", default="", help="Licence number, likewise.")
@click.option("--date", "day", type=Day(), metavar="DATE", help="Day of the tests, likewise.")
@click.option("--instrument", metavar="TEXT", default="", help="Instrument with its number, likewise.")
@click.option("--calibrated-on", type=Day(), metavar="DATE", help="Its calibration, likewise.")
@ON
def record(
    build: Path,
    file: Path,
    wanted: bool,
    by: str,
    name: str,
    licence: str,
    day: date | None,
    instrument: str,
    calibrated_on: date | None,
    on: date | None,
) -> None:
    """Read a filled sheet: tests and signatures of `schedule --for`, or what was fitted of `schedule --at`.

    Tests go into the build's records, what was fitted into fitted.yaml, which is laid over its spec. What is
    recorded stays as it is; what is there already is not added again. Nothing is written while any line has
    a problem, nor without --write.
    """
    from specreg.workshop import asked

    given = {
        **{"by": by, "name": name, "licence": licence, "instrument": instrument},
        **{"date": _day(day), "calibrated_on": _day(calibrated_on)},
    }
    with alone_in(asked(build)[0]):
        _record(build, file, wanted, given, on)


def _record(build: Path, file: Path, wanted: bool, given: dict[str, str], on: date | None) -> None:
    from specreg.source.register import files_read
    from specreg.trade.answers import is_answers, read_answers
    from specreg.trade.circuit_answers import is_circuits, read_circuits
    from specreg.trade.filled import read_filled
    from specreg.trade.sheet import trade_sheets
    from specreg.workshop import asked
    from specreg.writing import snapshot

    home, names = asked(build)
    seen = snapshot(files_read(home, names))
    inspection = _inspected(build, on)
    if inspection.problems or len(inspection.reports) != 1:
        stop("records are taken into one van that can be read", None, "give the folder of one build")
    report = inspection.reports[0]
    folder = home / report.build.name
    data = _bytes(file)
    if is_circuits(data):
        found = read_circuits(data, file.as_posix(), _known_circuits(build))
        _take_answers(report.facts, folder, found, seen, wanted)
        return
    if is_answers(data):
        answers = read_answers(data, file.as_posix(), report.facts)
        _take_answers(report.facts, folder, answers, seen, wanted)
        return
    filled = read_filled(data, file.as_posix(), report.facts, trade_sheets(report), given)
    complain(filled.problems)
    if filled.problems:
        note("nothing is recorded")
        sys.exit(UNREADABLE)
    _take(report.build, folder, filled, seen, wanted)


def _take_answers(facts: Facts, folder: Path, answers: Answers, seen: Seen, wanted: bool) -> None:
    """Show what was fitted, and write it beside the spec where that was asked for."""
    from specreg.output.fitted import fitted_file
    from specreg.output.recording import CannotAdd, additions, in_one_line

    complain(answers.problems)
    if answers.problems:
        note("nothing is recorded")
        sys.exit(UNREADABLE)
    word = "fitted" if wanted else "would say"
    say("".join(f"{word}: {one}\n" for one in (*answers.said, *map(in_one_line, answers.photos))))
    say("".join(f"as written already: {one}\n" for one in answers.known))
    new = len(answers.said) + len(answers.photos)
    say(f"{new} to write, {len(answers.known)} as written already, {answers.blank} blank\n")
    try:
        files = (
            *fitted_file(folder, answers.fitted),
            *additions(facts.build, folder, {"photos": answers.photos}),
        )
    except CannotAdd as refusal:
        stop(f"what was fitted cannot be written: {refusal}", None, "")
    _write(files, seen, folder, wanted)


def _write(files: Sequence[Addition], seen: Seen, folder: Path, wanted: bool) -> None:
    """Write files in place of those that were read, where that was asked for.

    A run that is killed between two of them has done the first, and the same sheet taken in again the rest.
    """
    from specreg.writing import called, replace_files

    if not wanted:
        say("Nothing is written yet: add --write.\n" if files else "")
        return
    with writing():
        replace_files({file.path: file.text.encode() for file in files}, seen, folder, folder.parent)
    for file in files:
        note(f"written: {called(file.path)}")


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        stop(f"{file} cannot be read: {error.strerror or error}", None, "name the filled sheet")


def _take(model: Build, folder: Path, filled: Filled, seen: Seen, wanted: bool) -> None:
    """Show what is added, and write it where that was asked for."""
    from specreg.output.recording import CannotAdd, additions, in_one_line

    for item in (*filled.tests, *filled.weighings, *filled.sign_offs):
        say(f"{'added' if wanted else 'would add'}: {in_one_line(item)}\n")
    for word, about in (
        ("recorded already", filled.known),
        ("changed since the sheet was printed", filled.changed),
    ):
        for one in about:
            say(f"{word}: {one}\n")
    new = len(filled.tests) + len(filled.weighings) + len(filled.sign_offs)
    say(f"{new} to add, {len(filled.known)} there already, {filled.blank} blank\n")
    try:
        files = additions(
            model,
            folder,
            {"tests": filled.tests, "weighings": filled.weighings, "sign_offs": filled.sign_offs},
        )
    except CannotAdd as refusal:
        stop(f"the records cannot be added: {refusal}", None, "")
    _write(files, seen, folder, wanted)
