"""The same input gives the same bytes: every command and form, in surroundings that differ in all at once.

`python tests/repeat/matrix.py` does it for all runs, all demo vans and one kind of surroundings after another.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from runs import COMMANDS, FORMS, Run, general_runs, register_runs, short_runs, van_runs
from surroundings import BARE, FAR, ROOT, answers, differences, told_by_a_path

from specreg.cli.commands import cli

VANS = ("pocket",)


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """What came of all runs in two processes that have as little in common as can be."""
    home = tmp_path_factory.mktemp("repeat")
    return answers(BARE, short_runs(), VANS, home), answers(FAR, short_runs(), VANS, home)


def test_hashes_language_zone_place_and_order_do_not_show(told: tuple[Path, Path]) -> None:
    """Neither in what is printed nor in any file that is written."""
    found = differences(*told)
    assert not found, "\n".join(found)


def test_no_answer_tells_a_path_of_the_machine(told: tuple[Path, Path]) -> None:
    """The folder in which a command ran stands in nothing that it gave, nor does the program's own."""
    places = (str(told[0].parents[1]), str(ROOT), "another place")
    assert [found for folder in told for found in told_by_a_path(folder, places)] == []


def test_nothing_reaches_out(told: tuple[Path, Path]) -> None:
    """No command opens a connection, asks for a host's address or starts a program other than git."""
    found = {path: path.read_text() for folder in told for path in folder.glob("*/reached")}
    assert len(found) == 2 * len(short_runs())
    assert {path.parent.name: text for path, text in found.items() if text} == {}


def test_files_get_the_mode_that_the_user_wants(told: tuple[Path, Path]) -> None:
    """New ones what the mask of the process leaves, replaced ones what they had."""
    assert [
        path.read_text() for folder in told for path in sorted(folder.glob("*/modes")) if path.read_text()
    ] == []


def test_the_runs_did_what_they_stand_for(told: tuple[Path, Path]) -> None:
    """No fault of the program's own, something printed or written by each, and the workbook is there."""
    texts = {path.parent.name: path.read_text(encoding="utf-8") for path in told[0].glob("*/err")}
    assert [text for text in texts.values() if "fault of its own" in text] == []
    silent = [
        path.parent.name
        for path in told[0].glob("*/out")
        if not path.read_bytes() and not texts[path.parent.name]
    ]
    assert silent == []
    ends = [path.read_text(encoding="utf-8").splitlines() for path in sorted(told[0].glob("*/code"))]
    refused = {line for line, code in ends if code == "ends with 2"}
    assert refused == {
        "inspect vanz",
        "find vans --recall pump-pressure-switch --format text --notices notices",
    }
    written = {path.name for path in told[0].rglob("files/*")} | {
        path.name for path in told[0].rglob("vans/*/*")
    }
    assert {"order.xlsx", "labels.html", "site", "new", "fitted.yaml", "designations.yaml"} <= written


def all_runs() -> list[Run]:
    """Every run there is."""
    return [*general_runs(), *register_runs(), *van_runs()]


def test_every_command_and_form_is_run() -> None:
    """A new command, or a new form of output, must find its way into the table, and each is in the suite."""
    assert sorted(cli.commands) == sorted(COMMANDS)
    for runs in (all_runs(), short_runs()):
        assert {run.command for run in runs} == {"", *COMMANDS}
    for name, command in cli.commands.items():
        forms = next((one.type.choices for one in command.params if one.name == "form"), ())  # type: ignore[attr-defined]
        lines = [f"{run.line} " for run in all_runs() if run.command == name]
        for form in forms:
            assert any(f"--format {form} " in line for line in lines), f"{name} --format {form}"
    assert set(FORMS) <= set(COMMANDS)


CLOCKS = {
    ("specreg/keeping.py", "time.time"),
    ("specreg/kept_checks.py", "time.time_ns"),
    ("specreg/register/survey.py", "time.time_ns"),
}
"""What may ask the time: whether something kept is old enough to be believed, or so old that it is deleted."""

ASKING = {
    "today",
    "now",
    "utcnow",
    "time",
    "time_ns",
    "localtime",
    "gmtime",
    "ctime",
    "monotonic",
    "perf_counter",
}


def clocks(path: Path) -> Iterator[str]:
    """Every call of a file that asks the time, draws lots or makes a number of its own."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            of = node.func.value
            home = of.id if isinstance(of, ast.Name) else of.attr if isinstance(of, ast.Attribute) else ""
            if home in ("time", "date", "datetime") and node.func.attr in ASKING:
                yield f"{home}.{node.func.attr}"
        if isinstance(node, ast.Import | ast.ImportFrom):
            names = [node.module] if isinstance(node, ast.ImportFrom) else [one.name for one in node.names]
            yield from (f"import {name}" for name in names if name in ("random", "secrets", "uuid"))


def test_no_answer_depends_on_the_day_on_which_it_is_asked_for() -> None:
    """The day is the spec's `as_of` or what `--on` says: the clock is asked for nothing that is told."""
    files = sorted((ROOT / "specreg").rglob("*.py"))
    found = {(path.relative_to(ROOT).as_posix(), call) for path in files for call in clocks(path)}
    assert found == CLOCKS
