"""What is to be ordered, and in which order vans are built."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import BUILD, INTO_FILE, Day, example, formats
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
    from datetime import date

    from specreg.works.ordering import Order

FROM_DAY = click.option(
    "--on",
    type=Day(),
    metavar="DATE",
    help="Plan what is not done yet from that day; else all from `starts`.",
)


@click.command(
    short_help="What is still to be ordered, and until when.",
    epilog=example(
        "specreg order builds --format xlsx --output order.xlsx\n"
        "specreg order builds --import stock.csv --map 'Art.=id' --write"
    ),
)
@BUILD
@formats("text", "csv", "json", "xlsx")
@INTO_FILE
@FROM_DAY
@click.option(
    "--all", "everything", is_flag=True, help="Also what is here or fitted: the whole bill of parts."
)
@click.option(
    "--import",
    "table",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Instead show how a parts list (CSV or XLSX) would be added to the register's parts/.",
)
@click.option(
    "--map", "said", multiple=True, metavar="HEADING=FIELD", help="With --import: what a column means."
)
@click.option("--kind", metavar="KIND", help="With --import: the kind of rows that state none.")
@click.option("--write", is_flag=True, help="With --import: write the new file of parts/.")
def order(
    build: Path,
    form: str,
    output: Path | None,
    on: date | None,
    everything: bool,
    table: Path | None,
    said: tuple[str, ...],
    kind: str | None,
    write: bool,
) -> None:
    """List what is not here yet by supplier and by the last day on which it may be ordered.

    Days come from the plan of works. With --import, read a workshop's own list of parts instead.
    """
    if table is not None:
        from specreg.workshop import asked

        with alone_in(asked(build)[0]):
            _import(build, table, said, kind, write)
    if said or kind or write:
        stop("--map, --kind and --write belong to --import", None, "name the list with --import")
    from specreg.facts.engine import Facts
    from specreg.works.ordering import order_of
    from specreg.workshop import load

    opened = load(build)
    complain(opened.problems)
    if not opened.sound:
        sys.exit(UNREADABLE)
    vans = [Facts(one, on) for one in opened.sound]
    found = order_of(vans, on, whole=len(opened.builds) > 1)
    complain(found.problems)
    _deliver(found, form, output, everything)
    sys.exit(UNREADABLE if opened.problems or found.problems else FINE)


def _deliver(found: Order, form: str, output: Path | None, everything: bool) -> None:
    from specreg.output import ordering
    from specreg.output.as_json import dumps

    if form == "xlsx":
        rows = ordering.order_rows(found, everything=everything)
        _deliver_workbook("Order", ordering.COLUMNS, rows, output)
    elif form == "json":
        deliver(dumps(ordering.order_data(found, everything=everything)), output)
    elif form == "csv":
        deliver(ordering.order_csv(found, everything=everything), output)
    else:
        deliver(ordering.order_text(found, style_of(output), everything=everything), output)


def _deliver_workbook(
    title: str, header: tuple[str, ...], rows: list[tuple[str, ...]], output: Path | None
) -> None:
    from specreg.output.spreadsheet import NoSpreadsheets, as_workbook
    from specreg.writing import write_whole

    if output is None:
        stop("a workbook is no text to print", None, "name its file with --output")
    try:
        workbook = as_workbook(title, header, rows)
    except NoSpreadsheets as lacking:
        stop(str(lacking), None, lacking.remedy)
    with writing():
        write_whole(output, workbook)
    note(f"written: {output}")


def _import(build: Path, table: Path, said: tuple[str, ...], kind: str | None, write: bool) -> None:
    """Show what a list would add to the catalogue, write it where that is asked for, and end."""
    from specreg.output.parts_list import file_yaml, parts_list_text
    from specreg.source.register import files_read
    from specreg.works.parts_list import read_parts_list, slug
    from specreg.workshop import asked, load
    from specreg.writing import folder_there, replace_files, snapshot

    seen = snapshot(files_read(asked(build)[0], ()))
    opened = load(build)
    if opened.register is None:
        complain(opened.problems)
        sys.exit(UNREADABLE)
    known = frozenset(opened.register.parts)
    found = read_parts_list(_rows(table), table.name, known, dict(map(_pair, said)), kind)
    say(parts_list_text(found, style_of(None)))
    complain(found.problems)
    if found.problems:
        note("Nothing is written until these are mended." if write else "These stand in the way of writing.")
        sys.exit(UNREADABLE)
    path = opened.folder / "parts" / f"{slug(table.stem)}.yaml"
    if not write:
        note(f"Nothing is written yet; --write makes {path.name} in {opened.shown}/parts.")
        sys.exit(FINE)
    if path.exists():
        stop(
            f"{opened.shown}/parts/{path.name} is there already",
            None,
            "rename the list: nothing is overwritten",
        )
    with writing(), folder_there(path.parent):
        replace_files({path: file_yaml(found.entries).encode()}, seen, opened.folder)
    note(f"written: {opened.shown}/parts/{path.name}")
    sys.exit(FINE)


def _pair(text: str) -> tuple[str, str]:
    heading, equals, field = text.rpartition("=")
    if not (heading and equals):
        stop(
            f'"{text}" does not say what a column means',
            None,
            "write --map 'HEADING=field', or HEADING= to leave it out",
        )
    return heading, field


def _rows(table: Path) -> list[list[str]]:
    """Return the cells of a table, or say why they cannot be read and end."""
    data = _bytes_of(table)
    if table.suffix.lower() in (".xlsx", ".xlsm"):
        return _workbook_rows(table, data)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        stop(f"{table} is not UTF-8 text", None, "save it as CSV UTF-8, or as XLSX")
    first = text.partition("\n")[0]
    delimiter = max(",;\t", key=first.count)
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        stop(f"{table} is no CSV: {error}", None, "save it as CSV UTF-8, or as XLSX")


LARGEST = 10_000_000
"""Bytes of a parts list."""


def _bytes_of(table: Path) -> bytes:
    try:
        if table.stat().st_size > LARGEST:
            stop(f"{table} has more than {LARGEST} bytes", None, "split it into several lists")
        return table.read_bytes()
    except OSError as error:
        stop(f"{table} cannot be read: {error.strerror or error}", None, "name a CSV or XLSX file")


def _workbook_rows(table: Path, data: bytes) -> list[list[str]]:
    from specreg.output.spreadsheet import NoSpreadsheets, NotAWorkbook, TooLarge, read_workbook

    try:
        return read_workbook(data)
    except NoSpreadsheets as lacking:
        stop(str(lacking), None, lacking.remedy)
    except TooLarge as large:
        stop(f"{table} {large}", None, "split it into several lists")
    except NotAWorkbook:
        stop(f"{table} is no workbook that can be read", None, "save it anew as XLSX, or as CSV UTF-8")


@click.command(
    short_help="Tasks, critical path, days, whom to book.",
    epilog=example("specreg plan builds/heron --on 2026-02-02\nspecreg plan builds --format csv"),
)
@BUILD
@formats("text", "csv", "json")
@INTO_FILE
@FROM_DAY
def plan(build: Path, form: str, output: Path | None, on: date | None) -> None:
    """Derive the tasks of a build from what it is made of, add those that are stated, and plan them.

    Gives each task's days by the critical path method, when licensed people must be booked and, for a
    register, one schedule of all vans on the same hands.
    """
    from specreg.output import planning
    from specreg.output.as_json import dumps
    from specreg.works.hands import shared_schedule
    from specreg.works.plan import plan_of
    from specreg.workshop import load

    opened = load(build)
    complain(opened.problems)
    pairs = [plan_of(one, on) for one in opened.sound]
    problems = [problem for _, found in pairs for problem in found]
    complain(problems)
    plans = tuple(one for one, _ in pairs if one is not None)
    if not plans:
        sys.exit(UNREADABLE)
    by_name = {one.build: one for one in plans}
    shared = shared_schedule(opened.sound, by_name, on) if len(opened.sound) > 1 else None
    found = planning.Plans(plans, shared)
    if form == "json":
        deliver(dumps(planning.plans_data(found)), output)
    elif form == "csv":
        deliver(planning.plans_csv(found), output)
    else:
        deliver(planning.plans_text(found, style_of(output)), output)
    sys.exit(UNREADABLE if opened.problems or problems else FINE)
