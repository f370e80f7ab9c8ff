"""What must hold of a command that is killed, refused or stopped at a point."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from signal import Signals

import points
from points import Ended, Files, Point, between, held, hidden, run
from writers import WRITERS, Writer, prepare

UNWRITTEN = re.compile(r"specreg: problem: \S.* cannot be (written|read): [^;\n]+; \w[^\n]+")
"""What is said where something cannot be written: one line with the path, the reason and what to do."""

MET = (0, 1)
"""Exit codes of a command that did what it was asked: nothing fails, something does."""


@dataclass(frozen=True)
class Trial:
    """A command with what stands before it (in `base`) and after it, and the points on its way."""

    name: str
    place: Path
    old: Files
    new: Files
    points: tuple[Point, ...]

    @property
    def writer(self) -> Writer:
        """The command."""
        return WRITERS[self.name]

    @property
    def base(self) -> Path:
        """The folder as it is before the command."""
        return self.place / "base"

    def copy(self, name: str) -> Path:
        """A new copy of the folder as it is before the command."""
        shutil.copytree(self.base, self.place / name, symlinks=True)
        return self.place / name

    def is_whole(self, seen: Files) -> bool:
        """Tell whether a state is the earlier or the later one; of several steps, whether each file is."""
        if self.writer.steps > 1:
            return between(seen, self.old, self.new)
        return seen in (self.old, self.new)

    def goes_on(self, folder: Path, seen: Files) -> None:
        """Run the command again: it does what it should, and takes away what was left."""
        ended = run(folder, self.writer.words)
        assert ended.code in MET or (seen == self.new and ended.code == self.writer.again), ended.said
        assert held(folder) == self.new, f"{self.name}: the next run does not do what it should"
        assert hidden(folder) == [], f"{self.name}: the next run does not take away what was left"


def trial(place: Path, name: str) -> Trial:
    """Prepare a command and run it once to its end."""
    base = place / "base"
    base.mkdir(parents=True)
    prepare(base, WRITERS[name], lambda folder, words: run(folder, words).code)
    old = held(base)
    shutil.copytree(base, place / "whole")
    ended = run(place / "whole", WRITERS[name].words)
    new = held(place / "whole")
    assert ended.code in MET, ended.said
    assert old != new, f"{name} writes nothing"
    assert hidden(place / "whole") == []
    return Trial(name, place, old, new, ended.points)


def looked_at(of: Trial) -> None:
    """Run a command once and look at every point at what a kill would leave; go on from each sort of it."""
    folder, shelf = of.copy("seen"), of.place / "shelf"
    states: list[Files] = []
    sorts: set[tuple[int, tuple[str, ...]]] = set()

    def keep(point: Point) -> None:  # in the child, before each operation
        seen = held(folder)
        if not states or seen != states[-1]:
            states.append(seen)
        sort = (len(states), tuple(hidden(folder)))
        if sort not in sorts or not of.is_whole(seen):
            sorts.add(sort)
            shutil.copytree(folder, shelf / f"{point.number:04}", symlinks=True)

    ended = run(folder, of.writer.words, keep)
    assert len(ended.points) == len(of.points)
    states = [of.old]
    for left in sorted(shelf.iterdir()):
        seen = held(left)
        assert of.is_whole(seen), f"{of.name}: half written before {of.points[int(left.name) - 1]}"
        if seen != states[-1]:
            states.append(seen)
        of.goes_on(left, seen)
    if states[-1] != of.new:
        states.append(of.new)
    assert len(states) <= of.writer.steps + 1
    assert held(folder) == of.new


def killed(of: Trial, point: Point) -> bool:
    """Kill a command at a point; tell whether the later state was there already."""
    folder = of.copy(f"killed-{point.number}")
    ended = run(folder, of.writer.words, points.kill(point.number))
    assert ended.code == -Signals.SIGKILL
    seen = held(folder)
    assert of.is_whole(seen), f"{of.name}: half written after a kill at {point}"
    of.goes_on(folder, seen)
    shutil.rmtree(folder)
    return seen == of.new


def refused(of: Trial, point: Point, code: int) -> Ended:
    """Let the system refuse whatever would write from a point on; one line is said, and nothing changes."""
    folder = of.copy(f"refused-{point.number}-{code}")
    ended = run(folder, of.writer.words, points.refuse(point.number, code))
    _ended_well(of, point, folder, ended, 2, lambda said: bool(UNWRITTEN.fullmatch(said)))
    assert ended.code in MET or os.strerror(code) in ended.said
    shutil.rmtree(folder)
    return ended


def stopped(of: Trial, point: Point, sent: Signals) -> Ended:
    """Stop a command at a point, as Ctrl+C or the system does."""
    folder = of.copy(f"stopped-{point.number}-{sent.value}")
    ended = run(folder, of.writer.words, points.stop(point.number, sent))
    _ended_well(of, point, folder, ended, 128 + sent, "specreg: stopped before it was done".__eq__)
    assert ended.code == 128 + sent
    shutil.rmtree(folder)
    return ended


def _ended_well(
    of: Trial, point: Point, folder: Path, ended: Ended, code: int, is_told: Callable[[str], bool]
) -> None:
    seen = held(folder)
    said = ended.said.strip().splitlines()
    assert of.is_whole(seen), f"{of.name}: half written at {point}"
    assert hidden(folder) == [], f"{of.name}: leaves something at {point}: {ended.said}"
    assert ended.code in (code, *MET), f"{of.name} at {point}: {ended.code} {ended.said}"
    if ended.code == code:
        assert is_told(said[-1]), f"{of.name} at {point}: {ended.said}"
        assert sum(line.startswith("specreg:") for line in said) == 1
        if code == UNREADABLE and of.writer.steps == 1:
            assert seen == of.old, f"{of.name} at {point} says that nothing is written, and has"
    else:
        assert seen == of.new


UNREADABLE = 2
