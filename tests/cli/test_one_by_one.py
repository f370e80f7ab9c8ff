"""The check of vans one after another: which are checked, what is told of what they share, what stays in memory."""

from __future__ import annotations

import gc
import weakref
from collections.abc import Collection
from io import StringIO
from pathlib import Path

import pytest
from small_register import changed, write_build, write_rules

from specreg import workshop
from specreg.cli.one_by_one import Checks, Request, check
from specreg.output import form_of
from specreg.output.by_van import Told
from specreg.output.style import Style
from specreg.source.asked import Asked, asked_by

REQUEST = Request(None, None, "error", everything=False, style=Style(), record=None)
SMALL = changed(("capacity: 100 Ah", "capacity: 80 Ah"))
UNREADABLE = changed(("power: 60 W", "power: 60 V"))


def checked(path: str = "vans", only: Collection[str] | None = None, *, kept: bool = False) -> Checks:
    """What came of the vans below a path."""
    return check(asked_by(path), only, REQUEST, kept=kept)


@pytest.fixture
def opened(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """A mark for each time that what vans share is read."""
    found: list[str] = []
    real = workshop.open_asked

    def noted(asked: Asked) -> workshop.Opened:
        found.append(asked.shown)
        return real(asked)

    monkeypatch.setattr(workshop, "open_asked", noted)
    return found


@pytest.mark.parametrize(
    ("heron", "egret", "code"), [("", "", 0), (SMALL, "", 1), ("", SMALL, 1), (SMALL, UNREADABLE, 2)]
)
def test_the_worst_van_gives_the_code(place: Path, heron: str, egret: str, code: int) -> None:
    """In whatever order the vans come, and in whatever form they are told."""
    for name, text in (("heron", heron), ("egret", egret)):
        write_build(place / "vans", name, text or changed())
    assert checked().exit_code == code
    file = StringIO()
    told = Told(form_of("json"), file)
    assert check(asked_by("vans"), None, REQUEST, kept=False, told=told).exit_code == code
    assert '"heron"' in file.getvalue()


@pytest.mark.parametrize(
    ("only", "names"),
    [
        (None, ["egret", "heron"]),
        ({"heron"}, ["heron"]),
        ({"egret", "crane"}, ["egret"]),
        ((), []),
    ],
)
def test_only_vans_that_are_asked_for_are_checked(
    place: Path, only: Collection[str] | None, names: list[str], opened: list[str]
) -> None:
    """What they share is read once, whoever is asked for; no van is no failure."""
    write_build(place / "vans", "egret")
    found = checked(only=only)
    assert [one.line.partition(":")[0] for one in found.said] == names
    assert (found.exit_code, found.problems, opened) == (0, [], ["vans"])


def test_where_all_is_kept_nothing_shared_is_read(
    place: Path, opened: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """An unchanged register is answered without its rules."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(place / "cache"))
    first, again = checked(kept=True), checked(kept=True)
    assert opened == ["vans"]
    assert again.said == first.said


@pytest.mark.parametrize("only", [None, ()])
def test_problems_of_all_are_told_once_in_their_order(place: Path, only: Collection[str] | None) -> None:
    """What is wrong with recalls, then with vans, then with rules; without a van, the same but for those."""
    write_build(place / "vans", "egret", UNREADABLE)
    (place / "vans" / "recalls").mkdir()
    (place / "vans" / "recalls" / "r.yaml").write_text("title: t\n", encoding="utf-8")
    write_rules(place / "vans" / "rules", {"dc/own": "no head\n"})
    problems = checked(only=only).problems
    assert len(set(problems)) == len(problems)
    places = list(dict.fromkeys(str(problem.place).partition(":")[0] for problem in problems))
    vans = ["vans/egret/spec.yaml"] if only is None else []
    assert places == ["vans/recalls/r.yaml", *vans, "vans/rules/dc/own.md"]


@pytest.mark.parametrize("wrong", ["recalls/r.yaml", "rules/dc/own.md"])
def test_while_something_shared_is_wrong_nothing_is_kept(
    place: Path, wrong: str, opened: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is said in every run, whichever it is."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(place / "cache"))
    (place / "vans" / wrong).parent.mkdir(parents=True, exist_ok=True)
    (place / "vans" / wrong).write_text("title: t\n", encoding="utf-8")
    first, again = checked(kept=True), checked(kept=True)
    assert first.problems == again.problems != []
    assert opened == ["vans", "vans"]


def test_where_there_is_no_van_that_is_all_there_is_to_say(place: Path, opened: list[str]) -> None:
    """Nothing is read of a path that holds none."""
    found = checked("nowhere")
    assert [problem.message for problem in found.problems] == ["there is no such folder"]
    assert (found.exit_code, found.said, opened) == (2, [], [])


def test_one_van_is_in_memory_at_a_time(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever refers to itself in a van, none of it is left when the next one is judged."""
    write_build(place / "vans", "egret")
    left: list[weakref.ref[object]] = []
    held: list[int] = []
    real = workshop.inspect

    def noted(*of: object) -> object:
        held.append(sum(one() is not None for one in left))
        report = real(*of)  # type: ignore[arg-type]
        left.append(weakref.ref(report.facts))
        return report

    monkeypatch.setattr(workshop, "inspect", noted)
    gc.disable()  # it must not run by chance
    try:
        checked()
    finally:
        gc.enable()
    assert held == [0, 0]
    assert [one() for one in left] == [None, None]
