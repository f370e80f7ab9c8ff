"""The commands about many builds: which have something, and what a change does to them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.completing import BuildPath
from specreg.cli.options import BUILD, INTO_FILE, ON, example, formats
from specreg.cli.terminal import FINE, UNREADABLE, alone_in, complain, deliver, note, stop, style_of, writing

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from specreg.register.compare import Compared
    from specreg.register.find import Finder
    from specreg.register.recall import Reached, Recall

REGISTER = click.argument("register", type=BuildPath(), metavar="REGISTER")

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
        "specreg find builds part=pump-3gpm serial=LP-3300..LP-3399\n"
        "specreg find builds --recall pump-pressure-switch --notices notices"
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
    if form == "text":
        deliver(found_text(found, style_of(output).width), output)
    else:
        deliver({"json": found_json, "csv": found_csv}[form](found), output)
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
    from specreg.register.owner import private_identity, workshop_name
    from specreg.writing import folder_there, replace_files, snapshot

    workshop = workshop_name(finder.folder)
    wanted = {}
    for build, found in to_notify(things).items():
        identity = private_identity(finder.folder / found[0].hit.build)
        wanted[folder / notice_name(recall, build)] = notice(recall, found, identity, workshop).encode()
    with writing(), folder_there(folder), alone_in(folder):
        seen = snapshot(wanted)
        others = [path for path, data in wanted.items() if seen.get(path, data) != data]
        if others and not overwrite:
            stop(f"{others[0]} is there already", None, "name another folder, or say --overwrite")
        replace_files(wanted, seen, folder)
    for path in wanted:
        note(f"written: {path}")


@click.command(
    short_help="What differs, and what that does to the van.",
    epilog=example(
        "specreg compare builds/heron\n"
        "specreg compare builds/heron --from v1 --format change-order --number 7 --on 2026-05-20\n"
        "specreg compare builds/heron --with 'components.fridge.part=fridge-65l'\n"
        "specreg compare builds --assembly house-power-12v"
    ),
)
@BUILD
@click.argument("other", type=BuildPath(), metavar="[OTHER]", required=False)
@formats("text", "json", "change-order")
@INTO_FILE
@click.option("--from", "start", metavar="REV", help="The revision to compare from; HEAD without it.")
@click.option("--to", "end", metavar="REV", help="The revision to compare with; else the working tree.")
@click.option(
    "--with", "lines", multiple=True, metavar="CHANGE", help="What if? PATH=VALUE, or PATH= to take away."
)
@click.option(
    "--assembly", metavar="NAME", help="What its uncommitted change does to each build that takes it."
)
@click.option("--renamed", multiple=True, metavar="OLD=NEW", help="A component's or run's new id.")
@click.option("--number", metavar="NUMBER", help="Number of the change order.")
@ON
def compare(
    build: Path,
    other: Path | None,
    form: str,
    output: Path | None,
    start: str | None,
    end: str | None,
    lines: tuple[str, ...],
    assembly: str | None,
    renamed: tuple[str, ...],
    number: str | None,
    on: date | None,
) -> None:
    """Compare a build with what is committed, with a revision, with OTHER, or with itself after a change.

    Says what was fitted, removed, replaced, moved or re-rated, what that does to masses, energy and cost,
    which findings come and go, and which signed matters are open again. A private file is left out where
    a revision is compared, as git has none.
    """
    from specreg.register.compare import Comparer
    from specreg.register.revision import HEAD

    _one_way(other, start or end, lines, assembly)
    declared = dict(_pair(one) for one in renamed)
    comparer = Comparer(build, on, declared)
    if comparer.wrong:
        complain([comparer.wrong])
        sys.exit(UNREADABLE)
    if other is not None:
        compared = comparer.with_other(Comparer(other, on, declared))
    elif lines:
        compared = comparer.with_changes(lines)
    elif assembly:
        compared = comparer.assembly(assembly)
    else:
        compared = comparer.revisions(start or HEAD, end)
    complain(compared.problems)
    for sentence in compared.left_out:
        note(sentence)
    _deliver_comparison(compared, form, output, number, on)
    sys.exit(UNREADABLE if compared.problems else FINE)


def _one_way(*ways: object) -> None:
    if sum(bool(way) for way in ways) > 1:
        expected = "one of: revisions, another build, --with, --assembly"
        stop(f"these cannot be asked for at once; choose {expected}", None, "")


def _pair(text: str) -> tuple[str, str]:
    old, equals, new = text.partition("=")
    if not (old and equals and new):
        stop(f'"{text}" does not say which id became which', None, "write --renamed old-id=new-id")
    return old, new


def _deliver_comparison(
    compared: Compared, form: str, output: Path | None, number: str | None, on: date | None
) -> None:
    from specreg.output.change_order import change_order
    from specreg.output.comparison import compared_json, comparison_text

    found = compared.comparisons
    if form == "json":
        deliver(compared_json(compared), output)
    elif form == "change-order":
        orders = [change_order(one, number, on) for one in found if not one.same]
        deliver("\n".join(orders), output) if orders else note("nothing differs: there is nothing to order")
    elif found:
        told = [one for one in found if not one.same] if len(found) > 1 else found
        text = "\n".join(comparison_text(one, style_of(output)) for one in told)
        deliver(text or f"Nothing differs in {len(found)} builds.\n", output)
