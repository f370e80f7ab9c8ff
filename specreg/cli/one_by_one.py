"""The check of vans: one is in memory at a time; as text, what has not changed is not judged again."""

from __future__ import annotations

import gc
from collections.abc import Collection
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from specreg.cli.terminal import watched
from specreg.kept_checks import KeptChecks, Said

if TYPE_CHECKING:
    from datetime import date

    from specreg.accepted import Record
    from specreg.model.build import Stage
    from specreg.output.by_van import Told
    from specreg.output.style import Style
    from specreg.report import Report
    from specreg.rules.pack import Pack
    from specreg.source import Problem
    from specreg.source.asked import Asked
    from specreg.workshop import Opened


@dataclass(frozen=True)
class Request:
    """What is asked of each van."""

    stage: Stage | None
    on: date | None
    stop_at: str
    everything: bool
    style: Style
    record: Record | None

    @property
    def mark(self) -> tuple[object, ...]:
        """Return everything of the request that an answer depends on."""
        return self.stage, self.on, self.stop_at, self.everything, self.style, self.record


@dataclass
class Checks:
    """What came of all vans: texts in their order, and what could not be read."""

    said: list[Said] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def exit_code(self) -> int:
        """Return 2 where anything could not be read, else the highest of the vans'."""
        return 2 if self.problems or self.unread else max((one.exit_code for one in self.said), default=0)

    def text(self, style: Style) -> str:
        """Return everything as one text."""
        from specreg.output.joined import joined

        parts, lines = [one.text for one in self.said], [one.line for one in self.said]
        return joined(parts, lines, self.unread, style)


def check(
    asked: Asked, only: Collection[str] | None, request: Request, *, kept: bool, told: Told | None = None
) -> Checks:
    """Check each van that is asked for; `kept` takes what is known of those that have not changed.

    With `told`, that is told of each van, and there is no text of any.
    """
    found = Checks(problems=[asked.wrong] if asked.wrong else [])
    folders = [folder for folder in asked.builds if only is None or folder.name in only]
    store = KeptChecks(asked.home, asked.shown, request.mark) if kept else None
    bench: _Bench | None = None
    of_rules: tuple[Problem, ...] = ()
    if not folders and not asked.wrong:
        bench = _Bench(asked, request, told)
        found.problems += [*bench.opened.problems, *bench.problems]
    for folder in watched(folders):
        mark = store.mark(folder.name) if store else None
        said = store.taken(folder.name, mark) if store else None
        if said is None:
            if bench is None:
                bench = _Bench(asked, request, told)
                found.problems += bench.opened.problems
                of_rules = bench.problems
            said = bench.check(folder, found)
            if store and said is not None and not bench.troubled:
                store.keep(said, mark)
        if said is not None:
            found.said.append(said)
    found.problems[:] = dict.fromkeys((*found.problems, *of_rules))
    return found


class _Bench:
    """The rules and what the vans share, ready to check one after another."""

    def __init__(self, asked: Asked, request: Request, told: Told | None) -> None:
        from specreg.workshop import open_asked, rules_for

        self._request = request
        self._told = told
        self.opened: Opened = open_asked(asked)
        pack, self.problems = rules_for(self.opened)
        self._pack: Pack = pack
        self._several = len(asked.builds) > 1
        if self._several:
            gc.freeze()  # what is here now stays: looking for what a van leaves behind need not look at it

    @property
    def troubled(self) -> bool:
        """Tell whether something is wrong that is no van's alone."""
        return bool(self.problems or self.opened.problems)

    def check(self, folder: Path, found: Checks) -> Said | None:
        """Check one van; one that cannot be read is noted with its problems."""
        from specreg.rules.document import Level
        from specreg.workshop import inspect, read_one

        loaded = read_one(self.opened, folder)
        found.problems += loaded.problems
        if loaded.build is None:
            found.unread.append(loaded.name)
            return None
        asked = self._request
        report = inspect(loaded.build, self._pack, asked.on, asked.stage)
        report = replace(report, stop_at=Level(asked.stop_at), record=asked.record)
        said = self._say(report)
        del loaded, report
        if self._several:
            gc.collect()
        return said

    def _say(self, report: Report) -> Said:
        name, asked = report.build.name, self._request
        if self._told is not None:
            self._told.add(report)
            return Said("", name, "", report.exit_code)
        from specreg.output.text import one_line, one_report

        text = one_report(report, asked.style, everything=asked.everything)
        return Said(text, name, one_line(report), report.exit_code)
