"""The commands: arguments in, the library called, results out, an exit code.

Results go to standard output, everything else to standard error. Exit codes: 0 nothing fails at level error,
1 something does, 2 the request or a spec cannot be read; 128 and the signal's number where one stopped it.
Imports stand inside the commands, so that `--help` is quick.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from specreg import __version__
from specreg.cli import beginning, handing_over, live, publishing, recording, reference, works
from specreg.cli.checking import accept, inspect
from specreg.cli.completing import SubjectName
from specreg.cli.many import compare, find
from specreg.cli.options import BUILD, INTO_FILE, ON, example, formats
from specreg.cli.terminal import (
    FINE,
    UNREADABLE,
    alone_in,
    complain,
    deliver,
    nearest,
    note,
    stop,
    style_of,
    writing,
)

if TYPE_CHECKING:
    from datetime import date

    from specreg.facts.engine import Facts
    from specreg.workshop import Opened


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog=example("specreg inspect builds/heron\nspecreg publish builds/heron --reader owner --into site"),
)
@click.version_option(__version__, prog_name="specreg")
def cli() -> None:
    """Check the written specifications of camper vans, compute their figures, publish their pages.

    BUILD is the folder of one build, or of a register for all of its builds.
    """


@cli.command(
    short_help="Compute every figure of a build.",
    epilog=example("specreg figures builds/heron --about pump-feed"),
)
@BUILD
@formats("text", "json", "csv")
@INTO_FILE
@click.option(
    "--about",
    type=SubjectName(),
    metavar="SUBJECT",
    help="Only the figures of this component, run or device.",
)
@ON
def figures(build: Path, form: str, output: Path | None, about: str | None, on: date | None) -> None:
    """Compute every figure of a build, each with its formula, source and inputs."""
    from specreg.output.as_json import dumps, figures_data
    from specreg.output.figures import figures_csv, figures_text
    from specreg.workshop import figures as figures_of

    opened = opened_at(build)
    vans = [facts for facts in facts_of(opened, on) if about is None or named(facts, about)]
    found = [(facts, tuple(figures_of(facts, about))) for facts in vans]
    if about is not None and opened.sound and not vans:
        stop_at_unknown(about, facts_of(opened, on))
    if form == "json":
        rows = [(facts.build, on or facts.build.header.as_of, facts_found) for facts, facts_found in found]
        deliver(dumps(figures_data(rows, opened.unread, opened.problems)), output)
    elif form == "csv":
        deliver(figures_csv(found), output)
    else:
        deliver("\n".join(figures_text(*one, style_of(output), about) for one in found), output)
    sys.exit(code_of(opened))


@cli.command(
    short_help="What supplies, isolates and stops with a component.",
    epilog=example("specreg trace builds/heron water-pump"),
)
@BUILD
@click.argument("component", type=SubjectName(), metavar="COMPONENT")
@formats("text", "json")
@INTO_FILE
def trace(build: Path, component: str, form: str, output: Path | None) -> None:
    """Say what supplies a component, what isolates it, and what stops with it."""
    from specreg.output import trace as tracing
    from specreg.output.as_json import dumps

    opened = opened_at(build)
    vans = list(facts_of(opened))
    found = [(facts, tracing.trace(facts, component)) for facts in vans if named(facts, component)]
    if vans and not found:
        stop_at_unknown(component, vans)
    if form == "json":
        deliver(dumps(tracing.trace_data(found)), output)
    else:
        style = style_of(output)
        deliver("\n".join(tracing.trace_text(facts, one, style) for facts, one in found), output)
    sys.exit(code_of(opened))


@cli.command(
    short_help="Devices, cables and panel legend; sheets for the trades.",
    epilog=example("specreg schedule builds/heron --for electrician --format csv --output sheet.csv"),
)
@BUILD
@formats("text", "csv", "json")
@INTO_FILE
@click.option("--assign", is_flag=True, help="First give a designation to whatever has none, for good.")
@click.option(
    "--for",
    "trade",
    type=click.Choice(["electrician", "gas-engineer", "seat-fitter", "examiner"]),
    help="Instead print the sheet that this person takes along, to be filled in.",
)
@click.option(
    "--at",
    "point",
    type=click.Choice(["panels-close", "energise", "gas-on", "hand-over"]),
    help="Instead print what is written down at the van before that hold point.",
)
@click.option("--circuits", is_flag=True, help="Print the circuits as a table to edit and take back.")
def schedule(
    build: Path,
    form: str,
    output: Path | None,
    assign: bool,
    trade: str | None,
    point: str | None,
    circuits: bool,
) -> None:
    """Derive the device schedule, the cable schedule and the panel legend from the runs.

    With --for, print what a licensed person looks at, signs and tests; with --at, what was laid and fitted.
    `record` takes both back, and a table of circuits, too.
    """
    from specreg.output import schedule as schedules
    from specreg.output.as_json import dumps

    opened = (assigned if assign else opened_at)(build)
    if trade is not None:
        recording.deliver_sheets(build, trade, form, output)
    if point is not None:
        recording.deliver_hold_sheets(build, point, form, output)
    if circuits:
        recording.deliver_circuits(build, output)
    vans = list(facts_of(opened))
    if form == "json":
        deliver(dumps(schedules.schedule_data(vans)), output)
    elif form == "csv":
        deliver(schedules.schedule_csv(vans), output)
    else:
        deliver("\n".join(schedules.schedule_text(facts, style_of(output)) for facts in vans), output)
    sys.exit(code_of(opened))


cli.add_command(inspect)
cli.add_command(beginning.start)
cli.add_command(accept)
cli.add_command(reference.rules)
cli.add_command(reference.schema)
cli.add_command(publishing.publish)
cli.add_command(publishing.labels)
cli.add_command(recording.record)
cli.add_command(works.order)
cli.add_command(works.plan)
cli.add_command(handing_over.hand_over)
cli.add_command(live.editor)
cli.add_command(live.preview)
cli.add_command(find)
cli.add_command(compare)


def opened_at(build: Path) -> Opened:
    """Read what a path means and print its problems."""
    from specreg.workshop import load

    opened = load(build)
    complain(opened.problems)
    return opened


def facts_of(opened: Opened, on: date | None = None) -> Iterable[Facts]:
    """Yield the facts of each build that could be read."""
    from specreg.facts.engine import Facts

    return [Facts(build, on) for build in opened.sound]


def named(facts: Facts, subject: str) -> bool:
    """Tell whether a build has a component, run or device of that id."""
    build = facts.build
    return subject in build.components or subject in build.runs or subject in facts.devices


def stop_at_unknown(subject: str, vans: Iterable[Facts]) -> NoReturn:
    """Say that no build has such an id, with the nearest."""
    from specreg.output.trace import traceable

    known = {name for facts in vans for name in traceable(facts)}
    stop(f"nothing here is called {subject}", nearest(subject, known), "give a component, a run or a device")


ONE_AND_THE_SAME = (
    "If they are one thing: say so under `renamed:` (old id: new id) and take the new line out of "
    "designations.yaml"
)


def assigned(build: Path) -> Opened:
    """Give a designation to whatever has none in the builds that could be read; return them with it."""
    from specreg.model.designation import assign, perhaps_renamed
    from specreg.output.designations import with_designations
    from specreg.source.listing import DESIGNATIONS_FILE
    from specreg.source.register import files_read
    from specreg.workshop import asked, load
    from specreg.writing import replace_files, snapshot

    home, names = asked(build)
    with alone_in(home):
        seen = snapshot(files_read(home, names))
        opened = opened_at(build)
        given = [(one.folder, one.build, assign(one.build)) for one in opened.builds if one.build is not None]
        files = {}
        for folder, _, added in given:
            path = folder / DESIGNATIONS_FILE
            if added:
                files[path] = with_designations(seen.get(path, b"").decode("utf-8"), added).encode()
        with writing():
            replace_files(files, seen, home, *(folder for folder, _, _ in given))
    for folder, model, added in given:
        for new, gone in perhaps_renamed(model).items():
            note(f"{folder.name}: {new} is new and {gone[-1]} is gone. {ONE_AND_THE_SAME}")
        note(f"{folder.name}: {len(added)} designations assigned")
    return load(build) if files else opened


def code_of(opened: Opened) -> int:
    """Return 2 where anything could not be read."""
    return UNREADABLE if opened.problems else FINE
