"""A van compared with itself at another time, with a change in one line, or with another van."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from pathlib import Path

from specreg.register.changes import Change, changes, renames
from specreg.register.effects import (
    CostChange,
    FigureChange,
    Reopened,
    cost_changes,
    figure_changes,
    finding_changes,
)
from specreg.register.revision import HEAD, Files, NotInGit, files_at, files_on_disk
from specreg.register.sides import Side, side, sides_of_files
from specreg.register.what_if import what_if
from specreg.report import Report
from specreg.rules.pack import Pack
from specreg.rules.result import Result
from specreg.source import Mapping as Tree
from specreg.source import Problem, Scalar, at, nearest_word, read_yaml
from specreg.source import Sequence as Items
from specreg.source.listing import SPEC_FILE, build_folders, is_build
from specreg.source.register import open_register
from specreg.workshop import Opened, inspect, rules_for

WORKING = "the working tree"


@dataclass(frozen=True)
class Comparison:
    """What differs between two sides, and what that does."""

    before: Report
    after: Report
    called: tuple[str, str]
    """How the two sides are called."""
    changes: tuple[Change, ...]
    figures: tuple[FigureChange, ...]
    costs: tuple[CostChange, ...]
    come: tuple[Result, ...]
    go: tuple[Result, ...]
    reopened: tuple[Reopened, ...]

    @cached_property
    def same(self) -> bool:
        """Tell whether nothing differs."""
        return not (self.changes or self.figures or self.costs or self.come or self.go or self.reopened)


@dataclass(frozen=True)
class Compared:
    """The comparisons of one request, with what could not be compared and why."""

    comparisons: tuple[Comparison, ...]
    left_out: tuple[str, ...] = ()
    """Sentences about builds that only one side has."""
    problems: tuple[Problem, ...] = ()


class Comparer:
    """Compares builds of one register by one set of rules: only the vans' own changes show."""

    def __init__(self, path: Path, on: date | None = None, renamed: Mapping[str, str] | None = None) -> None:
        folder = Path(os.path.abspath(path))  # noqa: PTH100 - resolve() would follow links out of the register
        if folder.name == SPEC_FILE and folder.is_file():
            folder = folder.parent
        self.wrong = _wrong(folder, str(path))
        self.one = folder.name if not self.wrong and is_build(folder) else None
        self.folder = folder.parent if self.one else folder
        self.builds = () if self.wrong else tuple(one.name for one in build_folders(folder))
        self.shown = _shown(self.folder)
        self._on, self._renamed = on, renamed or {}

    @cached_property
    def _rules(self) -> tuple[Pack, tuple[Problem, ...]]:
        return rules_for(Opened(self.folder, self.shown))

    def revisions(self, start: str = HEAD, end: str | None = None) -> Compared:
        """Compare builds at two revisions; without a second one, with the working tree."""
        try:
            builds = (self.one,) if self.one else None
            before = files_at(self.folder, start, builds)
            after = (
                files_on_disk(self.folder, self.builds) if end is None else files_at(self.folder, end, builds)
            )
        except (NotInGit, OSError) as error:
            return Compared((), problems=(_told(error),))
        return self._of_files((start, before), (end or WORKING, after), self._names(before, after))

    def assembly(self, name: str, start: str = HEAD) -> Compared:
        """Compare the builds that take an assembly, as it stood at a revision and as it stands now."""
        try:
            now = dict(files_on_disk(self.folder, self.builds))
            path = f"assemblies/{name}.yaml"
            then = files_at(self.folder, start, ()).get(path)
        except (NotInGit, OSError) as error:
            return Compared((), problems=(_told(error),))
        if path not in now:
            known = [Path(one).stem for one in now if one.startswith("assemblies/")]
            near = nearest_word(name, known)
            return Compared((), problems=(Problem(None, "there is no such assembly", name, None, near),))
        if then is None:
            return Compared((), (f"The assembly {name} is new: at {start} there is none.",))
        before = {**now, path: then}
        takers = [one for one in self.builds if any(_takes(text, name) for text in _files_of(now, one))]
        called = (f"{name} at {start}", f"{name} as it stands now")
        return self._of_files((called[0], before), (called[1], now), takers)

    def with_changes(self, lines: Sequence[str]) -> Compared:
        """Compare builds as they are with themselves after changes in one line each."""
        register = open_register(self.folder, self.shown)
        edit, called = what_if(lines, register), f"with {' and '.join(lines)}"
        folders = [self.folder / name for name in self.builds]
        pairs = [
            (side("as it stands", register, folder), side(called, register, folder, edit))
            for folder in folders
        ]
        return self._pairs(pairs)

    def with_other(self, other: Comparer) -> Compared:
        """Compare one build with another."""
        sides = []
        for one in (self, other):
            if one.one is None:
                problem = Problem(None, "two builds are compared, not two registers", one.shown)
                return Compared((), problems=(one.wrong or problem,))
            register = open_register(one.folder, one.shown)
            sides.append(side(one.one, register, one.folder / one.one))
        return self._pairs([(sides[0], sides[1])])

    def _names(self, *files: Files) -> Sequence[str]:
        """Return the builds to compare: the one that was named, or all that either side has."""
        if self.one:
            return (self.one,)
        found = {path.removesuffix(f"/{SPEC_FILE}") for each in files for path in each if SPEC_FILE in path}
        return sorted(found)

    def _of_files(
        self, before: tuple[str, Files], after: tuple[str, Files], names: Sequence[str]
    ) -> Compared:
        sides = []
        for called, files in (before, after):
            shown = self.shown if called == WORKING else f"{called}:{self.shown}"
            sides.append(sides_of_files(called, files, shown, names))
        return self._pairs([(sides[0][name], sides[1][name]) for name in names])

    def _pairs(self, pairs: Sequence[tuple[Side, Side]]) -> Compared:
        pack, problems = self._rules
        found: list[Comparison] = []
        left_out: list[str] = []
        wrong = list(problems)
        for before, after in pairs:
            wrong += [*before.problems, *after.problems]
            missing = [one.called for one in (before, after) if not one.there]
            if missing:
                left_out.append(f"{before.name}: not there at {' nor at '.join(missing)}.")
            elif before.build is not None and after.build is not None:
                found.append(self._compared(before, after, pack))
        return Compared(tuple(found), tuple(left_out), tuple(dict.fromkeys(wrong)))

    def _compared(self, before: Side, after: Side, pack: Pack) -> Comparison:
        assert before.build is not None and after.build is not None
        one, two = (inspect(build, pack, self._on) for build in (before.build, after.build))
        names = {**renames(before.build, after.build), **self._renamed}
        return Comparison(
            one,
            two,
            (before.called, after.called),
            changes(before.build, after.build, self._renamed),
            tuple(figure_changes(one.facts, two.facts)),
            cost_changes(before.build, after.build),
            *finding_changes(one.results, two.results, names),
        )


def _files_of(files: Files, build: str) -> list[bytes]:
    return [data for name, data in files.items() if name.startswith(f"{build}/")]


def _takes(text: bytes, assembly: str) -> bool:
    """Tell whether a file of a build includes an assembly."""
    tree, _ = read_yaml(text, "")
    wanted = at(tree, ("include",)) if isinstance(tree, Tree) else None
    named = [at(item, ("assembly",)) for item in wanted.items] if isinstance(wanted, Items) else []
    return any(isinstance(one, Scalar) and one.text == assembly for one in named)


def _told(error: NotInGit | OSError) -> Problem:
    if isinstance(error, NotInGit):
        return error.problem
    return Problem(None, f"a file cannot be read: {error.strerror}")


def _shown(folder: Path) -> str:
    try:
        return Path(os.path.relpath(folder)).as_posix()
    except ValueError:  # another drive
        return folder.name


def _wrong(folder: Path, asked: str) -> Problem | None:
    expected = "a build's folder, or a register's"
    if not folder.is_dir():
        beside = (
            [one.name for one in folder.parent.iterdir() if one.is_dir()] if folder.parent.is_dir() else []
        )
        message = "this is a file" if folder.exists() else "there is no such folder"
        return Problem(None, message, asked, expected, nearest_word(folder.name, beside))
    try:
        found = build_folders(folder)
    except OSError as error:
        return Problem(None, f"the folder cannot be read: {error.strerror}", asked)
    return None if found else Problem(None, "the folder holds no build", asked, expected)
