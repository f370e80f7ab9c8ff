"""What a program may call: read a register, check it, compute its figures, write its pages.

>>> import specreg
>>> opened = specreg.load("builds/pocket")
>>> [build.header.title for build in opened.sound]
['Pocket camper']

What is wrong with a spec is never raised: it is a list, each with file, line and column.

>>> opened.problems
()
>>> str(specreg.load("builds/pockt").problems[0].text())
'problem: there is no such folder: read "builds/pockt", expected a build\\'s folder, or a register\\'s, \
nearest is "pocket"'

A check has the answer of every rule about every subject; its exit code is that of the command.

>>> inspection = specreg.inspect(opened)
>>> inspection.exit_code, inspection.reports[0].counts.errors
(0, 0)
>>> {result.answer.value for result in inspection.reports[0].results} <= {
...     "pass", "fail", "open", "review", "notApplicable"}
True

A figure is a float in SI with what it was computed from, or says which field it lacks.

>>> facts = specreg.figures(opened, about="pump-feed")["pocket"]
>>> [length] = [fact for fact in facts if fact.kind.name == "laid_length"]
>>> length.known, isinstance(length.value, float)
(True, True)
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from specreg import workshop
from specreg.facts.engine import Fact, Facts
from specreg.model.build import Stage
from specreg.model.field import Reader
from specreg.report import Inspection
from specreg.rules.document import Level
from specreg.workshop import Opened, load

if TYPE_CHECKING:
    from specreg.pages.publish import Published

__all__ = ["Fact", "Inspection", "Opened", "figures", "inspect", "load", "publish"]

Asked = Opened | str | Path
"""What was loaded, or the folder of a build or of a register."""


def inspect(
    builds: Asked,
    *,
    on: date | None = None,
    stage: str | None = None,
    stop_at: Literal["error", "warning", "note"] = "error",
) -> Inspection:
    """Put every rule to every build that can be read.

    `on` is the day to judge by, the spec's `as_of` without it; `stage` asks whether a build may go on to it.
    Raises ValueError for a stage or level that there is not.
    """
    judged_for = Stage(stage) if stage else None
    return workshop.inspect_all(_opened(builds), on, judged_for, Level(stop_at))


def figures(
    builds: Asked, *, about: str | None = None, on: date | None = None
) -> dict[str, tuple[Fact, ...]]:
    """Return every computed figure by build, or those about one component, run or device."""
    sound = _opened(builds).sound
    return {build.name: tuple(workshop.figures(Facts(build, on), about)) for build in sound}


def publish(
    path: str | Path,
    *,
    reader: Literal["public", "owner", "workshop"],
    into: str | Path,
    on: date | None = None,
) -> Published:
    """Write the site of a build or of a register for one reader, whole or not at all.

    Raises `specreg.writing.Refused` where the folder holds something else, OSError where it cannot be
    written, ValueError for a reader that there is not.
    """
    from specreg.pages.publish import publish as publish_pages  # noqa: PLC0415 - templates, only when wanted

    return publish_pages(Path(path), Reader(reader), Path(into), on)


def _opened(builds: Asked) -> Opened:
    return builds if isinstance(builds, Opened) else load(builds)
