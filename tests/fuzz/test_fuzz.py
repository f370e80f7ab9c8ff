"""Whatever a register holds: an answer, never a fault of the program, never without end, nothing half written."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from attempts import Fault, attempt
from click.testing import CliRunner
from effort import calls_of
from hypothesis import given, settings
from hypothesis import strategies as st
from nasty import mangled, wild_spec

from specreg.cli.commands import cli
from specreg.source import read_yaml
from specreg.trade.table import read_table
from specreg.workshop import MOST_PROBLEMS, load

FEW = settings(max_examples=12, deadline=None, derandomize=True)
SOME = settings(max_examples=300, deadline=None)


@FEW
@given(number=st.integers(0, 2**32))
def test_a_broken_register_is_answered(number: int) -> None:
    """A demo with something wrong in it, or a wild spec, and a command put to it."""
    with tempfile.TemporaryDirectory() as folder:
        assert attempt(random.Random(number), Path(folder)) in (0, 1, 2)


@SOME
@given(data=st.binary(max_size=400), number=st.integers(0, 2**32))
def test_bytes_are_read_or_refused(data: bytes, number: int) -> None:
    """No bytes break the reader of specs or that of tables; what has no tree has a problem."""
    changed = mangled(random.Random(number), b"a: {b: [1, two]}\nc: |\n  text\n" + data)
    for one in (data, changed):
        tree, problems = read_yaml(one, "spec.yaml")
        assert tree is not None or problems
        rows, wrong = read_table(one, "sheet.csv", ("test",))
        assert rows == [] or not wrong


def test_an_attempt_notices_a_fault(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The trial would see an exception: a trial that cannot fail is none."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("specreg.source.asked.asked_by", broken)
    monkeypatch.setattr("attempts.words_for", lambda *_: ("inspect", "x"))
    with pytest.raises(Fault):
        attempt(random.Random(3), tmp_path)


HEAD = "format: 1\nbuild: v\ntitle: T\nstage: design\njurisdictions: [uk]\n"


def many(count: int, line: str) -> str:
    """A line for each number."""
    return "".join(line.format(n=n) for n in range(count))


LARGE = {
    "runs between things that are not there": "components:\n" + many(500, "  lamp-{n}: {{kind: ceiling-light}}\n")
    + "runs:\n" + many(3000, "  r-{n}: {{medium: dc, from: lamb-{n}, to: lampp-{n}, return: chassis}}\n"),
    "kinds that are not there": "components:\n" + many(4000, "  lamp-{n}: {{kind: ceiling-lght-{n}}}\n"),
    "units that are not there": "components:\n" + many(4000, "  l-{n}: {{kind: ceiling-light, power: {n} quatloo}}\n"),
    "empty values": "components:\n" + many(4000, "  l-{n}: {{kind: ceiling-light, label: }}\n"),
    "unknown keys": many(4000, "k{n}: 1\n"),
    "circuits from boxes that are not there": "circuits:\n" + many(3000, "  l-{n}: box/{n} 10 A · 1.5 mm² · 4 m\n"),
}  # fmt: skip
"""Thousands of slips in one file."""


@pytest.mark.parametrize("name", LARGE)
def test_thousands_of_slips_end_and_are_told_in_bounds(name: str, tmp_path: Path) -> None:
    """The first thousand problems are told, the rest are counted."""
    (tmp_path / "v").mkdir()
    (tmp_path / "v" / "spec.yaml").write_text(HEAD + LARGE[name])
    problems = load(tmp_path / "v").problems
    assert len(problems) == MOST_PROBLEMS + 1
    assert "more problems follow" in problems[-1].message
    assert sum(len(problem.text()) for problem in problems) < 1_000_000


@pytest.mark.parametrize("field", ["studs: 2000000000", "studs: -1", "count: 1001", f"count: {10**30}"])
def test_a_count_beyond_all_vans_is_refused(field: str, tmp_path: Path) -> None:
    """Ports are made from counts: thousand millions of studs would fill the memory."""
    (tmp_path / "v").mkdir()
    (tmp_path / "v" / "spec.yaml").write_text(f"{HEAD}components:\n  bar: {{kind: bus-bar, {field}}}\n")
    assert [problem.expected for problem in load(tmp_path / "v").problems] == [
        "a whole number from 0 to 1000"
    ]


def test_a_box_of_thousand_ways_with_a_run_from_each_is_read_in_step(tmp_path: Path) -> None:
    """Four times the circuits take about four times the work, not sixteen times."""

    def work(count: int) -> int:
        folder = tmp_path / str(count) / "v"
        folder.mkdir(parents=True)
        text = many(count, "  l-{n}: box/{n} 10 A · 1.5 mm² · 4 m · to lamp\n")
        spec = f"{HEAD}components:\n  box: {{kind: fuse-box}}\n  lamp: {{kind: ceiling-light}}\ncircuits:\n{text}"
        (folder / "spec.yaml").write_text(spec)
        return calls_of(lambda: load(folder))

    work(10)
    assert work(400) < 5 * work(100)


def test_quotation_marks_without_end_are_read_in_step() -> None:
    """A cell with four times the quotation marks is four times the work."""

    def work(count: int) -> int:
        return calls_of(lambda: read_table(b"test\nx" + b'"' * count, "sheet.csv", ("test",)))

    assert work(4000) < 6 * work(1000)


def test_wild_specs_are_mostly_judged(tmp_path: Path) -> None:
    """Of the specs that are drawn from the kinds most can be read, so that facts and rules meet them."""
    read = 0
    for number in range(8):
        folder = tmp_path / str(number) / "wild"
        folder.mkdir(parents=True)
        (folder / "spec.yaml").write_text(json.dumps(wild_spec(random.Random(number))))
        read += load(folder).problems == ()
    assert read >= 4


CYCLES = {
    "fixed to itself": "components:\n  a: {kind: locker, fixed_to: a, mass: 1 kg}\n",
    "fixed to each other": "components:\n  a: {kind: locker, fixed_to: b, mass: 1 kg}\n  b: {kind: locker, fixed_to: a}\n",
    "a run from a stud to itself": "components:\n  b: {kind: bus-bar}\nruns:\n"
    "  r: {medium: dc, from: b/1, to: b/1, conductor: 10 mm², length: 1 m}\n",
    "runs that return by each other": "components:\n  b: {kind: bus-bar}\nruns:\n"
    "  r: {medium: dc, from: b/1, to: b/2, return: s}\n  s: {medium: dc, from: b/2, to: b/1, return: r}\n",
    "batteries in a ring": "components:\n" + many(4, "  b-{n}: {{kind: battery, nominal_voltage: 12 V, capacity: 9 Ah}}\n")
    + "runs:\n" + many(4, "  r-{n}: {{medium: dc, from: b-{n}/positive, to: b-{n}/negative, length: 1 m}}\n"),
    "an id renamed to itself": "renamed: {a: a, b: c, c: b}\ncomponents:\n  a: {kind: locker}\n",
    "an assembly that includes itself": "include:\n- {assembly: a}\n",
}  # fmt: skip
"""Things that lead back to themselves."""


@pytest.mark.parametrize("name", CYCLES)
@pytest.mark.parametrize("command", ["inspect", "figures", "schedule", "trace"])
def test_what_leads_back_to_itself_ends(name: str, command: str, tmp_path: Path) -> None:
    """Cycles end in an answer or a problem."""
    (tmp_path / "v").mkdir()
    (tmp_path / "assemblies").mkdir()
    (tmp_path / "assemblies" / "a.yaml").write_text(
        "include:\n- {assembly: a}\ncomponents: {x: {kind: locker}}\n"
    )
    (tmp_path / "v" / "spec.yaml").write_text(HEAD + CYCLES[name])
    words = (command, str(tmp_path / "v"), *(("a",) if command == "trace" else ()))
    assert CliRunner().invoke(cli, words, catch_exceptions=False).exit_code in (0, 1, 2)


def test_the_long_trial_runs(tmp_path: Path) -> None:
    """The command that goes on for as long as one likes makes attempts and counts them."""
    long = Path(__file__).with_name("long.py")
    result = subprocess.run(
        [sys.executable, str(long), "--seconds", "5", "--seed", "7"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert result.returncode == 0, result.stdout + result.stderr
    assert "attempts" in result.stdout
