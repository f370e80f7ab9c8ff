"""The library behind the commands: open a register or a build, check it, compute its figures.

opened = load("builds")
pack, problems = rules_for(opened)
for build in opened.sound:
    report = inspect(build, pack)
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path

import specreg.facts.all  # noqa: F401 - registers every fact
from specreg import shipped
from specreg.accepted import Record
from specreg.facts.axes import cases
from specreg.facts.engine import Fact, Facts, Subject
from specreg.facts.registry import kinds_for
from specreg.model.attached import Attached
from specreg.model.build import Build, Header, Stage
from specreg.model.component import Component
from specreg.model.device import ProtectiveDevice
from specreg.model.read import read_build
from specreg.model.run import Run
from specreg.report import Inspection, Report
from specreg.rules.cache import load_shipped_pack
from specreg.rules.document import Level
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.source import Place, Problem
from specreg.source.asked import Asked, asked_by
from specreg.source.register import Register, files_folder, open_register, read_recalls, read_source

OWN_RULES = "rules"
"""The folder of a register that holds rules of the workshop's own."""


@dataclass(frozen=True)
class Loaded:
    """One build as it was read; `build` is None where it cannot be judged, and `problems` say why."""

    name: str
    folder: Path
    build: Build | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True)
class Opened:
    """A register with the builds that were asked for.

    `problems` are those of the request and of what builds share; each build has its own besides.
    """

    folder: Path
    shown: str
    builds: tuple[Loaded, ...] = ()
    shared_problems: tuple[Problem, ...] = ()
    register: Register | None = field(default=None, repr=False)

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """Return every problem: the shared ones, then each build's."""
        own = (problem for loaded in self.builds for problem in loaded.problems)
        return tuple(dict.fromkeys((*self.shared_problems, *own)))

    @cached_property
    def sound(self) -> tuple[Build, ...]:
        """Return the builds that could be read without a problem."""
        return tuple(loaded.build for loaded in self.builds if loaded.build is not None)

    @cached_property
    def unread(self) -> tuple[str, ...]:
        """Return the names of the builds that could not."""
        return tuple(loaded.name for loaded in self.builds if loaded.build is None)


def asked(path: str | Path) -> tuple[Path, tuple[str, ...]]:
    """Return the register that a path means and the names of its builds that it asks for, without reading."""
    found = asked_by(path)
    return found.home, found.names


def load(path: str | Path, only: Collection[str] | None = None) -> Opened:
    """Read a build's folder, or every build of a register's folder; never raises for what it reads.

    `only` names the builds of a register that are wanted. A build with a problem is not judged: what was set
    aside could be what a rule asks for.
    """
    found = asked_by(path)
    opened = open_asked(found)
    wanted = (one for one in found.builds if only is None or one.name in only)
    builds = tuple(read_one(opened, folder) for folder in wanted)
    return replace(opened, builds=builds)


def open_asked(found: Asked) -> Opened:
    """Read what the builds of a register share, and none of the builds."""
    if found.wrong is not None:
        return Opened(found.home, found.shown, shared_problems=(found.wrong,))
    register = open_register(found.home, found.shown)
    read_recalls(register)
    return Opened(found.home, found.shown, (), tuple(sorted(register.problems)), register)


def read_one(opened: Opened, folder: Path) -> Loaded:
    """Read one build of a register that is open."""
    assert opened.register is not None, "a register that holds builds was opened"
    return _loaded(opened.register, folder)


def _loaded(register: Register, folder: Path) -> Loaded:
    source = read_source(register, folder)
    build, problems = None, list(source.problems)
    if source.tree is not None:
        build, found = read_build(source.tree, source.designations)
        problems += found
    if build is not None:
        build = replace(build, attached=Attached(folder, *files_folder(register, folder.name)))
    return Loaded(folder.name, folder, None if problems else build, _foremost(problems))


MOST_PROBLEMS = 1000
"""Problems of one build that are told; what is wrong beyond them is counted."""


def _foremost(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems in the order of their places; of very many, the first ones and how many follow."""
    found = sorted(set(problems), key=_order)
    further = len(found) - MOST_PROBLEMS
    if further <= 0:
        return tuple(found)
    message = f"{further} more problems follow from here on; mend these first"
    return (*found[:MOST_PROBLEMS], Problem(found[MOST_PROBLEMS].place, message))


def _order(problem: Problem) -> tuple[Place, str]:
    return problem.place or Place("", 0, 0), problem.text()


def rules_for(opened: Opened | None = None) -> tuple[Pack, tuple[Problem, ...]]:
    """Return the shipped rules, with those of a register's own `rules/` folder, and every problem in them."""
    pack, problems = _pack(shipped.rules_folder(), "rules")
    own = opened.folder / OWN_RULES if opened else None
    if opened is None or own is None or not own.is_dir() or own.samefile(shipped.rules_folder()):
        return pack, problems
    added, found = _pack(own, f"{opened.shown}/{OWN_RULES}")
    known = pack.by_identity()
    again = [rule for rule in added.rules if rule.identity in known]
    clashes = tuple(
        Problem(one.document.place, CLASH, one.identity, remedy="rename the file") for one in again
    )
    rules = (*pack.rules, *(rule for rule in added.rules if rule not in again))
    return Pack(tuple(sorted(rules, key=lambda rule: rule.identity))), (*problems, *found, *clashes)


CLASH = "a shipped rule has this identity"


def _pack(folder: Path, shown: str) -> tuple[Pack, tuple[Problem, ...]]:
    read = load_shipped_pack if folder == shipped.rules_folder() else load_pack
    try:
        pack, problems = read(folder, shown)
    except UnicodeDecodeError as error:
        return Pack(()), (Problem(Place(shown, 1, 1), f"a rule document is not UTF-8: {error.reason}"),)
    except OSError as error:
        below = os.path.relpath(error.filename, folder) if error.filename else ""
        place = Place((Path(shown) / below).as_posix(), 1, 1)
        return Pack(()), (Problem(place, f"the rules cannot be read: {error.strerror}"),)
    return pack, tuple(problems)


def inspect(build: Build, pack: Pack, on: date | None = None, stage: Stage | None = None) -> Report:
    """Put every rule to one van.

    `on` is the day to judge by, the spec's `as_of` without it; `stage` asks whether it may go on to a
    later stage.
    """
    facts = Facts(build, on)
    results = judge(pack, facts, stage)
    return Report(build, results, facts, pack, stage or build.header.stage, on or build.header.as_of)


def inspect_all(
    opened: Opened,
    on: date | None = None,
    stage: Stage | None = None,
    stop_at: Level = Level.error,
    record: Record | None = None,
    *,
    watch: Callable[[Sequence[Build]], Iterable[Build]] = iter,
) -> Inspection:
    """Put every rule to every van that could be read; what could not stops none of the others.

    `stop_at` is the level from which a failure counts at the end, `record` what is known already.
    `watch` is given the vans and hands them on one by one, to tell how far the work is.
    """
    pack, problems = rules_for(opened)
    judged = (inspect(build, pack, on, stage) for build in watch(opened.sound))
    reports = tuple(replace(report, stop_at=stop_at, record=record) for report in judged)
    return Inspection(reports, opened.unread, (*opened.problems, *problems))


def figures(facts: Facts, about: str | None = None) -> Iterator[Fact]:
    """Yield every fact of a van in every case, or those about one subject; the unknown ones too.

    Subjects come in the order of the spec: the build itself, components, runs, then fuses and breakers.
    """
    for subject in subjects(facts):
        if about is None or subject.id == about:
            for kind in kinds_for(type(subject.model)).values():
                for case in cases(kind.axis, facts):
                    yield facts.ask(subject.in_case(case), kind)


def subjects(facts: Facts) -> Iterator[Subject]:
    """Yield everything that facts are about."""
    for model in (Header, Component, Run, ProtectiveDevice):
        yield from facts.of_class(model)
