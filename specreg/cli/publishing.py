"""Pages and labels of a build."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.options import BUILD, ON, example
from specreg.cli.terminal import FINE, UNREADABLE, complain, note, passing, say, stop, writing

if TYPE_CHECKING:
    from datetime import date

AT = click.option(
    "--at",
    "address",
    default="",
    metavar="URL",
    help="Where the pages will be read, for the codes on the labels.",
)


@click.command(
    short_help="Write the pages of a build.",
    epilog=example("specreg publish builds/heron --reader owner --into site"),
)
@BUILD
@click.option(
    "--reader",
    type=click.Choice(["public", "owner", "workshop"]),
    required=True,
    help="Who the pages are for; each reads all that the one before reads.",
)
@click.option("--into", type=click.Path(path_type=Path), required=True, metavar="FOLDER", help="Where to.")
@click.option("--since", metavar="REVISION", help="Tell what changed since this revision of git, on a page.")
@AT
@click.option(
    "--language",
    type=click.Choice(["en", "de"]),
    default="en",
    show_default=True,
    help="Of the standard texts.",
)
@click.option("--for-next-owner", is_flag=True, help="Leave out what belongs to the former owner.")
@ON
def publish(
    build: Path,
    reader: str,
    into: Path,
    since: str | None,
    address: str,
    language: str,
    for_next_owner: bool,
    on: date | None,
) -> None:
    """Write the site of a build, or of a whole register; findings never hold it back."""
    from specreg.model.field import Reader
    from specreg.output.words import plural, tally
    from specreg.pages.publish import Wishes
    from specreg.pages.publish import publish as publish_pages

    if for_next_owner and reader != "owner":
        stop(
            f"--for-next-owner is for the owner's edition, not for the {reader} reader",
            None,
            "give --reader owner",
        )
    wishes = Wishes(_checked(address), language, for_next_owner, passing, note)
    path = build if build.name else build.absolute()
    with writing():
        published = publish_pages(path, Reader(reader), into, on, since, wishes)
    passing("")
    complain(published.problems)
    for said in published.notes:
        note(said)
    for report in published.reports:
        say(f"{report.build.name}: {tally(report.counts)}\n")
    for name in published.unread:
        say(f"{name}: left out, its spec cannot be read as it stands\n")
    if published.reports:
        files = plural(len(published.files), "file")
        say(f"Published for the {reader} reader, {files}: open {into / 'index.html'}\n")
    sys.exit(UNREADABLE if published.problems else FINE)


@click.command(
    short_help="Write the labels of a van, to print and stick on.",
    epilog=example("specreg labels builds/heron --into labels.html --at https://vans.example/heron"),
)
@BUILD
@click.option("--into", type=click.Path(path_type=Path), required=True, metavar="FILE", help="Where to.")
@AT
def labels(build: Path, into: Path, address: str) -> None:
    """Write one file with the labels of a van: cables, boxes, panels, valves, ways out.

    With --at each label carries a code that leads to the page of its thing, in the folder of the van's pages.
    """
    from specreg.pages.publish import write_labels

    checked = _checked(address)
    with writing():
        made = write_labels(build if build.name else build.absolute(), into, checked)
    complain(made.problems)
    if made.problems:
        sys.exit(UNREADABLE)
    if not made.written:
        stop("labels are made for one van that can be read", None, "give the folder of one build")
    say(f"Labels: print {into} at 100 %\n")


def _checked(address: str) -> str:
    """Return an address that a telephone can follow, or say what one looks like."""
    if address and not address.startswith(("https://", "http://")):
        stop(f'"{address}" is no address of pages', None, "an address begins with https:// or http://")
    return address
