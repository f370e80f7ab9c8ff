"""Begin: a register from nothing, or a new van in one."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import example
from specreg.cli.terminal import FINE, UNREADABLE, alone_in, complain, say, stop, writing

if TYPE_CHECKING:
    from specreg.first_spec import Wishes

WORDS = ("uk", "eu", "us", "ca", "au", "nz")


@click.command(
    short_help="Begin a register, or a van in one.",
    epilog=example(
        "specreg start my-vans\nspecreg start my-vans/heron --title 'Survey van' --in uk --assembly small-12v"
    ),
)
@click.argument("folder", type=click.Path(path_type=Path), metavar="FOLDER")
@click.option("--title", help="What the new van is called.")
@click.option(
    "--in", "where", type=click.Choice(WORDS), multiple=True, help="Where it is registered and used."
)
@click.option("--assembly", metavar="NAME", help="The package of the workshop that it takes.")
@click.option("--set", "setting", metavar="KEY=VALUE", multiple=True, help="Set a parameter of that package.")
@click.option("--adults", type=click.IntRange(0, 99), metavar="N", help="How many travel in it.")
@click.option("--nights", type=click.IntRange(0, 365), metavar="N", help="Nights in a row without hook-up.")
def start(
    folder: Path,
    title: str | None,
    where: tuple[str, ...],
    assembly: str | None,
    setting: tuple[str, ...],
    adults: int | None,
    nights: int | None,
) -> None:
    """Begin a register in a new or empty folder: neutral parts, one package, a first van on one page.

    In a folder that has a register around it, begin a van: what no option says is asked on a terminal.
    """
    from specreg.source.listing import REGISTER_FILE

    around = folder.absolute().parent
    if not (around / REGISTER_FILE).is_file():
        if any((title, where, assembly, setting, adults is not None, nights is not None)):
            stop(f"there is no register around {folder}", None, f"name a folder beside {REGISTER_FILE}")
        _register(folder)
    else:
        from specreg.first_spec import Wishes
        from specreg.model.build import Jurisdiction

        title = title or _asked("What is the van called?", folder.name.replace("-", " ").capitalize())
        where = where or (_asked("Where will it be registered and used?", "uk", click.Choice(WORDS)),)
        adults = (
            adults if adults is not None else int(_asked("How many people travel in it?", "2", click.INT))
        )
        assembly = assembly or _package(around)
        words = tuple(Jurisdiction(word) for word in where)
        wishes = Wishes(title, words, adults, nights, assembly, dict(_pair(one) for one in setting))
        _van(around, folder, wishes)
    sys.exit(FINE)


def _register(folder: Path) -> None:
    from specreg.starting import start as start_register

    with writing():
        files = start_register(folder)
    say("".join(f"{folder / name}\n" for name in files))
    say(f"A register with a first van at enquiry. Look at it with: specreg inspect {folder}\n")


def _van(register: Path, folder: Path, wishes: Wishes) -> None:
    from specreg.first_spec import begin_build, wrong_wishes

    with alone_in(register):
        problems = wrong_wishes(register, folder.name, wishes)
        if problems:
            complain(problems)
            sys.exit(UNREADABLE)
        with writing():
            begin_build(register, folder.name, wishes)
    say(f"{folder / 'spec.yaml'}\n")
    say(f"A van at enquiry. See what would decide most with: specreg inspect {folder}\n")


def _asked(question: str, default: str, kind: click.ParamType[object] | None = None) -> str:
    """Ask on a terminal; elsewhere take what a person would get by pressing return."""
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return default
    return str(click.prompt(question, default=default, type=kind, err=True))


def _package(register: Path) -> str | None:
    """Ask which package the van takes; none where nobody answers."""
    from specreg.first_spec import assemblies_of

    known = assemblies_of(register)
    if not known:
        return None
    said = _asked("Which package does it take?", "none", click.Choice([*known, "none"]))
    return None if said == "none" else said


def _pair(text: str) -> tuple[str, str]:
    key, equals, value = text.partition("=")
    if not equals:
        stop(f"a parameter is set by its name and a value, not by {text}", None, "say --set KEY=VALUE")
    return key.strip(), value.strip()
