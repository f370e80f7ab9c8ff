"""Two runs at once, and somebody who edits a file meanwhile: nobody's work is lost."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path
from shutil import copytree

import pytest
from points import At, Ended, Point, begin, held, hidden, run
from trials import trial
from writers import ANSWERS, HAND_OVER, STOCK, TESTS, WRITERS, Words, prepare

from specreg import writing

pytestmark = pytest.mark.skipif(os.name != "posix", reason="forks and locks of POSIX")

PATIENCE = 60.0
"""Seconds after which a run that should have come so far never will."""


def wait_for(reached: Callable[[], bool]) -> None:
    """Wait until something is so."""
    end = time.monotonic() + PATIENCE
    while not reached():
        assert time.monotonic() < end, "it never came so far"
        time.sleep(0.005)


def held_up(
    folder: Path, number: int = 1, name: str = ""
) -> tuple[At, Callable[[], None], Callable[[], None]]:
    """What holds a run up at a point until it is let go: the hook, what waits for it to be there, what lets it go."""
    here, go = folder.with_name(f"here{name}"), folder.with_name(f"go{name}")

    def at(point: Point) -> None:
        if point.number == number:
            here.touch()
            wait_for(go.exists)

    return at, lambda: wait_for(here.exists), go.touch


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A register of two vans, with all sheets beside it."""
    folder = tmp_path / "of"
    folder.mkdir()
    prepare(folder, WRITERS["schedule --assign in a register"], lambda one, words: run(one, words).code)
    for name, text in SHEETS.items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


SHEETS = {
    "tests.csv": TESTS,
    "others.csv": TESTS.replace("terminal-torque", "thermal").replace(",,within", ",8 K,within"),
    "answers.csv": ANSWERS.replace("pump-feed,,feed.jpg\n", ""),
    "more.csv": "on,serial\nhouse-battery,B-7\n",
    "stock.csv": STOCK,
    "again-stock.csv": STOCK.replace("pump-b", "pump-c"),
}


def record(sheet: str) -> Words:
    return ("record", "vans/heron", sheet, "--write")


def accept(van: str) -> Words:
    return ("accept", f"vans/{van}", "--into", "vans/accepted.yaml", "--for", "hand-over")


PUBLISH = ("publish", "vans/heron", "--reader", "workshop", "--into", "site")

TWO = {
    "two sheets of tests": (record("tests.csv"), record("others.csv")),
    "two sheets of what was fitted": (record("answers.csv"), record("more.csv")),
    "a sheet and hand-over": (record("answers.csv"), HAND_OVER),
    "hand-over and a sheet": (HAND_OVER, record("answers.csv")),
    "a sheet and the pages": (record("answers.csv"), PUBLISH),
    "hand-over and the pages": (HAND_OVER, PUBLISH),
    "one van and all vans": (("schedule", "vans/heron", "--assign"), ("schedule", "vans", "--assign")),
    "two lists of parts": (
        ("order", "vans", "--import", "stock.csv", "--write"),
        ("order", "vans", "--import", "again-stock.csv", "--write"),
    ),
    "two vans into one record": (accept("heron"), accept("crane")),
    "two new vans": (
        ("start", "vans/dunlin", "--title", "Dunlin", "--in", "uk"),
        ("start", "vans/egret", "--title", "Egret", "--in", "uk"),
    ),
}


@pytest.mark.parametrize("name", sorted(TWO))
def test_the_second_run_waits_and_goes_on_from_the_first(name: str, folder: Path) -> None:
    """What is there at the end is what one after the other would have written; pages show nothing half written."""
    first, second = TWO[name]
    wanted = folder.with_name("wanted")
    copytree(folder, wanted)
    for words in (first, second):
        assert run(wanted, words).code in (0, 1)
    at, there, go = held_up(folder)
    one = begin(folder, first, at, name="first")
    there()
    other = begin(folder, second, name="second")
    wait_for(lambda: "waiting for another run in" in other.said())
    go()
    assert one.end().code in (0, 1)
    assert other.end().code in (0, 1)
    assert held(folder) == held(wanted)
    assert hidden(folder) == []


SAME = {
    "start a register": ("start", "new"),
    "start a van": ("start", "vans/dunlin", "--title", "Dunlin", "--in", "uk"),
    "order --import": ("order", "vans", "--import", "stock.csv", "--write"),
    "hand-over": HAND_OVER,
}


@pytest.mark.parametrize("name", sorted(SAME))
def test_of_two_that_want_the_same_place_one_is_told(name: str, folder: Path) -> None:
    """The second finds what the first has written, and says so."""
    at, there, go = held_up(folder, 3)
    one = begin(folder, SAME[name], at, name="first")
    there()
    other = begin(folder, SAME[name], name="second")
    go()
    codes = sorted((one.end().code, other.end().code))
    assert codes == [0, 2]
    assert "problem: " in one.said() + other.said()
    assert hidden(folder) == []


def test_two_sites_into_one_folder_do_not_mix(tmp_path: Path) -> None:
    """One of the two stands there, whole."""
    of = trial(tmp_path / "of", "publish again")
    folder = of.copy("both")
    at, there, go = held_up(folder, len(of.points) // 2)
    one = begin(folder, of.writer.words, at, name="first")
    there()
    other = begin(folder, of.writer.first[0], name="second")
    go()
    assert (one.end().code, other.end().code) == (0, 0)
    assert held(folder) in (of.old, of.new)
    assert hidden(folder) == []


def unlocked() -> None:
    """A file system without locks."""
    writing._locked = lambda handle, folder, told: False


SAME_FILE = {
    "one van and all vans",
    "two sheets of tests",
    "two sheets of what was fitted",
    "two vans into one record",
}


@pytest.mark.parametrize("name", sorted(SAME_FILE))
def test_without_locks_the_first_sees_that_it_comes_too_late(name: str, folder: Path) -> None:
    """It writes nothing, says so, and does what it should when run again: neither result is lost."""
    first, second = TWO[name]
    at, there, go = held_up(folder, 3)
    one = begin(folder, first, at, unlocked, name="first")
    there()
    assert run(folder, second, setup=unlocked).code in (0, 1)
    seen = held(folder)
    go()
    ended = one.end()
    assert ended.code == 2
    assert "has changed since it was read: nothing is written; run it again" in ended.said
    assert held(folder) == seen


def test_without_locks_each_lays_under_a_name_of_its_own(tmp_path: Path) -> None:
    """One moves what it laid while the other has written half of the same file: what stands there is whole."""
    of = trial(tmp_path / "of", "inspect --output")
    folder = of.copy("both")
    moves = next(point.number for point in of.points if point.what.startswith("os.rename"))
    half = next(point.number for point in of.points if point.what == "write the rest")
    at, there, go = held_up(folder, moves, "-first")
    one = begin(folder, of.writer.words, at, unlocked, name="first")
    there()
    at, there, let_go = held_up(folder, half, "-second")
    other = begin(folder, of.writer.words, at, unlocked, name="second")
    there()
    go()
    assert one.end().code == 0
    assert held(folder) == of.new
    let_go()
    assert other.end().code == 0
    assert held(folder) == of.new
    assert hidden(folder) == []


EDITED = {
    "schedule --assign": ("vans/heron/spec.yaml", "vans/heron/designations.yaml"),
    "schedule --assign in a register": ("vans/crane/spec.yaml", "vans/heron/designations.yaml"),
    "record tests": ("vans/heron/spec.yaml", "vans/heron/records.yaml"),
    "record what was fitted": ("vans/heron/spec.yaml", "vans/heron/fitted.yaml", "vans/heron/records.yaml"),
    "hand-over": ("vans/heron/spec.yaml", "vans/register.yaml", "vans/heron/as-built.yaml"),
    "hand-over --again": ("vans/heron/spec.yaml", "vans/heron/fitted.yaml", "vans/heron/as-built.yaml"),
    "order --import": ("vans/register.yaml", "vans/parts/stock.yaml"),
    "accept": ("vans/accepted.yaml",),
    "accept --shrink": ("vans/accepted.yaml",),
    "find --notices": ("notices/pump-housing-crane.md",),
}
"""Files of a register, by command, that somebody may just be editing: read for it, or written by it."""


@pytest.mark.parametrize(("name", "file"), [(name, file) for name in sorted(EDITED) for file in EDITED[name]])
def test_an_edit_meanwhile_is_not_lost(name: str, file: str, tmp_path: Path) -> None:
    """Saved after it was read, just before it would be replaced: the edit stays, nothing is written, that is said."""
    of = trial(tmp_path / "of", name)
    last = next(point for point in reversed(of.points) if point.what == "os.fsync")
    folder = of.copy("edited")
    mine = of.old.get(file, b"") + b"# mine\n"

    def edit(point: Point) -> None:
        if point.number == last.number:
            (folder / file).write_bytes(mine)

    ended: Ended = run(folder, of.writer.words, edit)
    assert ended.code == 2
    assert f"{file} has changed since it was read: nothing is written; run it again" in ended.said
    assert held(folder) == {**of.old, file: mine}
    assert hidden(folder) == []
