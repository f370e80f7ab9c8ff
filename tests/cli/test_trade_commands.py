"""The sheet out, filled in, and back into the record: `schedule --for` and `record`."""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections.abc import Callable
from functools import cache, partial
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from specreg import workshop
from specreg.cli.commands import cli

BUILDS = Path(__file__).parents[2] / "builds"

READINGS = {
    "earth-continuity": "0.05 Ω",
    "insulation-resistance": ">200 MΩ",
    "residual-current-trip-time": "21 ms",
    "body-voltage": "0 V",
    "gas-tightness": "2 mbar",
    "gas-lock-up": "33 mbar",
    "carbon-monoxide": "1 ppm",
    "voltage-drop": "0.2 V",
    "thermal": "8 K",
    "water-hold": "40 min",
    "anchorage-torque": "60 N·m",
}
WEIGHED = {
    **{"fuel": "50 %", "fresh-water": "0 %", "hot-water": "0 %", "waste-water": "0 %", "gas": "100 %"},
    **{"driver": "no", "scale-step": "20 kg"},
}
PERSON = (
    *("--by", "the person", "--name", "A. Sample", "--date", "2026-05-19"),
    *("--instrument", "tester 1", "--calibrated-on", "2026-01-20"),
)
TRADES = ("electrician", "gas-engineer", "seat-fitter", "examiner")


@pytest.fixture
def van(tmp_path: Path) -> Path:
    """A copy of a demonstration van in which nothing was tested or weighed yet."""
    return untested(tmp_path)


def untested(place: Path) -> Path:
    """Copy the demonstration register, and take the tests out of a van of it."""
    shutil.copytree(BUILDS, place / "builds")
    folder = place / "builds" / "fieldwork"
    text = (folder / "records.yaml").read_text(encoding="utf-8")
    start, end = text.index("  tests:\n"), text.index("  walk_round:\n")
    (folder / "records.yaml").write_text(text[:start] + text[end:], encoding="utf-8")
    return folder


def run(*words: object) -> Result:
    """Run the program."""
    return CliRunner().invoke(cli, [str(word) for word in words])


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], str]:
    """The filled sheet of a trade as that van is at first, printed once for all tests."""
    return cache(partial(filled, untested(tmp_path_factory.mktemp("first"))))


def filled(van: Path, trade: str) -> str:
    """The sheet of a trade with something in every line."""
    printed = run("schedule", van, "--for", trade, "--format", "csv").stdout
    rows = list(csv.DictReader(io.StringIO(printed)))
    out = io.StringIO()
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    for row in rows:
        usual = WEIGHED.get(row["on"], "1200 kg") if row["test"] == "weighing" else "right"
        how = {"pressure": "150 mbar", "held": "5 min"} if row["test"] == "gas-tightness" else {}
        result = "accepted" if row["test"] == "sign-off" else "within the limit"
        right = {"value": READINGS.get(row["test"], usual), "result": result}
        writer.writerow({**row, **right, **how})
    return out.getvalue()


def take(van: Path, text: str, *more: str) -> Result:
    """Record a filled sheet."""
    sheet = van.parent / "sheet.csv"
    sheet.write_text(text, encoding="utf-8")
    return run("record", van, sheet, *PERSON, *more)


def answers(van: Path) -> dict[str, str]:
    """What the rules on tests say of a van."""
    (build,) = json.loads(run("inspect", van, "--format", "json").stdout)["builds"]
    ours = ("measured", "tested", "records/tests", "records/instruments")
    return {
        one["rule"]: one["answer"] for one in build["results"] if any(word in one["rule"] for word in ours)
    }


def test_a_sheet_goes_out_is_filled_and_comes_back_as_the_record(van: Path) -> None:
    """The rules that had nothing to read pass when each trade has handed its sheet back."""
    before = answers(van)
    for trade in TRADES:
        assert take(van, filled(van, trade), "--write").exit_code == 0
    after = answers(van)
    assert set(before.values()) - {"pass"} and set(after.values()) == {"pass"}


def test_what_was_signed_on_the_sheet_answers_its_matters(van: Path, first: Callable[[str], str]) -> None:
    """The engineer's word comes back with name, day and what it covers, into the file that has the sign-offs."""
    take(van, first("gas-engineer"), "--write")
    text = (van / "sign-offs.yaml").read_text(encoding="utf-8")
    assert (
        "{matter: gas/engineer-signs, result: accepted, by: the person, name: A. Sample, reference: right"
        in text
    )
    (build,) = workshop.load(van).sound
    report = workshop.inspect(build, workshop.rules_for()[0])
    answered = {one.rule for one in report.results if one.sign_off and one.system == "gas"}
    assert {"gas/engineer-signs", "gas/locker-sealed"} <= answered


def test_nothing_is_written_without_being_asked(van: Path, first: Callable[[str], str]) -> None:
    """The records are shown first."""
    text = (van / "records.yaml").read_text(encoding="utf-8")
    result = take(van, first("electrician"))
    assert result.exit_code == 0 and "would add: {test: polarity, on: work-socket" in result.stdout
    assert "Nothing is written yet: add --write." in result.stdout
    assert (van / "records.yaml").read_text(encoding="utf-8") == text


def test_what_was_there_stays_byte_for_byte(van: Path, first: Callable[[str], str]) -> None:
    """Only lines are added, comments and order included."""
    before = (van / "records.yaml").read_text(encoding="utf-8").splitlines()
    take(van, first("electrician"), "--write")
    after = (van / "records.yaml").read_text(encoding="utf-8").splitlines()
    added = [line for line in after if line.strip().startswith(("- {test:", "tests:"))]
    assert [line for line in after if line not in added] == before
    assert len(added) > 15


def test_a_second_time_adds_nothing(van: Path, first: Callable[[str], str]) -> None:
    """A sheet that was taken in is recognised."""
    take(van, first("gas-engineer"), "--write")
    again = take(van, filled(van, "gas-engineer"), "--write")
    assert again.exit_code == 0 and "0 to add, 5 there already" in again.stdout


def test_one_bad_line_keeps_all_lines_out(van: Path, first: Callable[[str], str]) -> None:
    """Whole or not at all."""
    text = (van / "records.yaml").read_text(encoding="utf-8")
    result = take(van, first("electrician").replace("21 ms", "21 m", 1), "--write")
    assert result.exit_code == 2 and "nothing is recorded" in result.stderr
    assert f"{(van.parent / 'sheet.csv').as_posix()}:" in result.stderr
    assert (van / "records.yaml").read_text(encoding="utf-8") == text


def test_the_sheet_after_a_change_asks_for_the_changed_lines_again(
    van: Path, first: Callable[[str], str]
) -> None:
    """A longer cable to the water heater: its circuit and its earth, and the mains as a whole."""
    take(van, first("electrician"), "--write")
    path = van / "electrics.yaml"
    text = path.read_text(encoding="utf-8")
    changed = text.replace("insulation: 75 °C, length: 2.6 m", "insulation: 75 °C, length: 3.6 m")
    assert changed != text
    path.write_text(changed, encoding="utf-8")
    (sheet,) = json.loads(run("schedule", van, "--for", "electrician", "--format", "json").stdout)["sheets"]
    again = {(one["test"], one["on"]) for one in sheet["tests"] if one["state"] == "test again"}
    of_the_whole = {
        *(("neutral-earth-bond", on) for on in ("inverter-charger", "shore-inlet")),
        *((test, "mains") for test in ("insulation-resistance", "body-voltage")),
    }
    assert again - of_the_whole == {("insulation-resistance", "inlet-board/water-heater")}
    assert of_the_whole <= again


def test_a_ticket_is_recorded_as_a_weighing(van: Path, first: Callable[[str], str]) -> None:
    """Axles and wheels of the finished van, from the examiner's sheet."""
    take(van, first("examiner"), "--write")
    text = (van / "records.yaml").read_text(encoding="utf-8")
    assert (
        "- {stage: final, date: 2026-05-19, front_axle: 1200 kg, ticket: tester 1, rear_axle: 1200 kg" in text
    )
    assert "gas: 100 %, driver: false" in text


@pytest.mark.parametrize("form", ["text", "csv", "json"])
def test_every_form_of_a_whole_register(form: str, tmp_path: Path) -> None:
    """The sheets of all vans that have one, the same twice; a van without gas is left out."""
    shutil.copytree(BUILDS, tmp_path / "builds", ignore=shutil.ignore_patterns("fieldwork", "winter-tourer"))
    words = ("schedule", tmp_path / "builds", "--for", "gas-engineer", "--format", form)
    one, other = run(*words), run(*words)
    assert one.exit_code == 0 and one.stdout == other.stdout
    assert "second-hand" in one.stdout and "pocket" not in one.stdout


@pytest.mark.parametrize("trade", TRADES)
def test_a_sheet_says_who_decides_and_praises_nothing(trade: str) -> None:
    """The person's scheme decides; the vehicle is called nothing."""
    text = run("schedule", BUILDS / "fieldwork", "--for", trade).stdout
    assert "The person's own scheme and forms decide" in text
    assert "does not say that the vehicle is safe, certified or approved" in text


def test_a_van_without_gas_has_no_gas_sheet() -> None:
    """That is said, and is no failure."""
    result = run("schedule", BUILDS / "winter-tourer", "--for", "gas-engineer")
    assert (result.exit_code, result.stdout.strip()) == (0, "")
    assert "nothing here is for the gas engineer to look at" in result.stderr


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("record", BUILDS, "sheet.csv"), "give the folder of one build"),
        (("record", BUILDS / "fieldwork", "nowhere.csv"), "cannot be read"),
    ],
)
def test_a_request_that_cannot_be_met(words: tuple[object, ...], said: str) -> None:
    """One van at a time, and a file that is there."""
    result = run(*words)
    assert result.exit_code == 2 and said in result.stderr
