"""The commands about many builds: which have something, and what a change does to them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import INTO_FILE, example, formats
from specreg.cli.terminal import FINE, UNREADABLE, complain, deliver, note, stop

if TYPE_CHECKING:
    from collections.abc import Sequence

    from specreg.register.find import Finder
    from specreg.register.recall import Reached, Recall

REGISTER = click.argument("register", type=click.Path(path_type=Path), metavar="REGISTER")

CONDITIONS = """\b
Conditions, all of which must hold; capitals do not count:
  kind=pump                 one value; kind=pump,heater one or the other
  part=diaphragm-*          `*` stands for any letters
  serial=A100..A199         from and to, either may be left out
  fitted=2026-03..2026-05   days, months or years; fitted=2026 is that year
  serial=                   not stated
  copper                    a word in an id, kind, title, label, part,
                            maker, model or note

\b
Keys of the van: build, van (its title), stage, jurisdiction.
Keys of a thing: id, kind, title, label, designation, zone, part, maker,
model, serial (or lot), made, fitted.

"""


@click.command(
    short_help="Which vans have this part, number, kind?",
    epilog=CONDITIONS + example(
        "specreg find builds kind=pump stage=commissioning\n"
        "specreg find builds part=diaphragm-pump-10l serial=A100..A199\n"
        "specreg find builds --recall pump-housing --notices notices"
    ),
)  # fmt: skip
@REGISTER
@click.argument("query", nargs=-1)
@formats("text", "json", "csv")
@INTO_FILE
@click.option("--recall", metavar="NAME", help="Whom the recall in recalls/NAME.yaml reaches.")
@click.option(
    "--notices",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="With --recall: write a notice for the owner of each van there.",
)
@click.option("--overwrite", is_flag=True, help="Write notices anew where there are some.")
def find(
    register: Path,
    query: tuple[str, ...],
    form: str,
    output: Path | None,
    recall: str | None,
    notices: Path | None,
    overwrite: bool,
) -> None:
    """Find components, runs and devices in all builds of a register, by what their specs say."""
    if recall is not None:
        if query:
            stop("a recall says itself what is looked for", None, "leave the conditions out")
        _recall(register, recall, form, output, notices, overwrite)
    from specreg.output.found import found_csv, found_json, found_text
    from specreg.register.find import Finder
    from specreg.register.query import read_query

    if notices is not None:
        stop("notices are written for a recall", None, "name it with --recall")
    conditions, problems = read_query(query)
    if problems:
        complain(problems)
        sys.exit(UNREADABLE)
    found = Finder(register).find(conditions)
    complain(found.problems)
    if not found.builds:
        sys.exit(UNREADABLE)
    text = {"text": found_text, "json": found_json, "csv": found_csv}[form](found)
    deliver(text, output)
    _name_unread(found.unread)
    sys.exit(UNREADABLE if found.problems else FINE)


def _name_unread(names: Sequence[str]) -> None:
    for name in names:
        note(f"{name}: has problems; what it holds may be more than what was found")


def _recall(
    register: Path, name: str, form: str, output: Path | None, notices: Path | None, overwrite: bool
) -> None:
    """Say whom a recall reaches, write notices where that is asked for, and end."""
    from specreg.output.found import recall_csv, recall_json, recall_text
    from specreg.register.find import Finder
    from specreg.register.recall import reached, read_recall, strangers

    finder = Finder(register)
    everything = finder.find(())
    complain(everything.problems)
    if not everything.builds:
        sys.exit(UNREADABLE)
    recall, problems = read_recall(finder.folder, finder.shown(), name)
    problems += strangers(finder, recall) if recall else []
    complain(problems)
    if recall is None:
        sys.exit(UNREADABLE)
    things = reached(finder, recall)
    if form == "json":
        deliver(recall_json(recall, things, everything), output)
    else:
        deliver(recall_csv(things) if form == "csv" else recall_text(recall, things), output)
    if notices is not None:
        _write_notices(finder, recall, things, notices, overwrite)
    _name_unread(everything.unread)
    sys.exit(UNREADABLE if problems or everything.problems else FINE)


def _write_notices(
    finder: Finder, recall: Recall, things: Sequence[Reached], folder: Path, overwrite: bool
) -> None:
    from specreg.output.notices import notice, notice_name, to_notify
    from specreg.output.writing import write_whole
    from specreg.register.owner import private_identity, workshop_name

    wanted = {folder / notice_name(recall, build): found for build, found in to_notify(things).items()}
    there = [path for path in wanted if path.exists()]
    if there and not overwrite:
        stop(f"{there[0]} is there already", None, "name another folder, or say --overwrite")
    workshop = workshop_name(finder.folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, found in wanted.items():
            identity = private_identity(finder.folder / found[0].hit.build)
            write_whole(path, notice(recall, found, identity, workshop))
            note(f"written: {path}")
    except OSError as error:
        stop(f"notices cannot be written: {error.strerror or error}", None, f"see to the rights on {folder}")
