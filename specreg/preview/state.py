"""What a preview shows just now: which pages, which problems, which findings."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Condition

from specreg import workshop
from specreg.model.field import Reader
from specreg.output.words import tally
from specreg.pages.publish import publish
from specreg.report import Report
from specreg.source import Problem


@dataclass(frozen=True)
class Shown:
    """One moment of a preview.

    `news` counts every change, `pages` those of the pages; `site` is their folder, None before the first.
    """

    news: int = 0
    pages: int = 0
    site: Path | None = None
    problems: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()
    summary: tuple[str, ...] = ()


class Preview:
    """The pages of a build or a register in a temporary folder, made anew when asked.

    Nothing is written in the register. A spec that cannot be read leaves the last good pages where they are.
    """

    def __init__(self, path: Path, reader: Reader, watched: Path, on: date | None = None) -> None:
        self.path = path
        self.reader = reader
        self.watched = watched
        """The register, whose files make the pages."""
        self.on = on
        self.shown = Shown()
        self.changed = Condition()
        self._folder = Path(tempfile.mkdtemp(prefix="specreg-preview-"))

    def close(self) -> None:
        """Take the temporary pages away."""
        shutil.rmtree(self._folder, ignore_errors=True)

    def make(self) -> Shown:
        """Read everything again and make the pages anew, unless a build cannot be read that could before."""
        try:
            return self._make()
        except OSError as error:
            return self._show(problems=(f"the pages cannot be made: {error.strerror or error}",))
        except Exception as fault:  # the pages that are there go on being shown
            return self._show(problems=(f"fault of its own: {type(fault).__name__}: {fault}",))

    def _make(self) -> Shown:
        opened = workshop.load(self.path)
        if self.shown.site is not None and (opened.unread or not opened.builds):
            return self._show(problems=_texts(opened.problems))
        into = self._folder / f"pages-{self.shown.pages + 1}"
        done = publish(self.path, self.reader, into, self.on)
        if not done.reports:
            return self._show(problems=_texts(done.problems))
        before = self.shown.site
        shown = self._show(
            site=into,
            problems=_texts(done.problems),
            findings=tuple(line for report in done.reports for line in _failures(report)),
            summary=tuple(f"{report.build.name}: {tally(report.counts)}" for report in done.reports),
        )
        if before is not None:
            shutil.rmtree(before, ignore_errors=True)
        return shown

    def _show(
        self,
        problems: tuple[str, ...],
        site: Path | None = None,
        findings: tuple[str, ...] | None = None,
        summary: tuple[str, ...] | None = None,
    ) -> Shown:
        before = self.shown
        with self.changed:
            self.shown = Shown(
                before.news + 1,
                before.pages + (site is not None),
                site or before.site,
                problems,
                before.findings if findings is None else findings,
                before.summary if summary is None else summary,
            )
            self.changed.notify_all()
        return self.shown

    def after(self, news: int, seconds: float) -> Shown:
        """Return what is shown as soon as it is not what `news` counted, at the latest after some seconds."""
        with self.changed:
            self.changed.wait_for(lambda: self.shown.news != news, seconds)
            return self.shown


def _texts(problems: tuple[Problem, ...]) -> tuple[str, ...]:
    return tuple(problem.text() for problem in problems)


def _failures(report: Report) -> list[str]:
    return [
        f"{result.place}: {result.level.value}: {result.message or result.title} [{result.rule}]"
        for result in report.results
        if result.failed
    ]


def said(shown: Shown, say: Callable[[str], None]) -> None:
    """Say on a terminal what is shown: problems where there are any, else findings and their number."""
    if shown.problems:
        for line in shown.problems:
            say(line)
        say("The last good pages stay." if shown.site else "There are no pages yet.")
        return
    for line in (*shown.findings, *shown.summary):
        say(line)
