"""A new van in a register that is there: from answers given by options, clean at enquiry."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from specreg.cli.commands import cli
from specreg.first_spec import assemblies_of
from specreg.workshop import load

DEMOS = Path(__file__).parents[2] / "builds"


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """A copy of the demonstration register."""
    shutil.copytree(DEMOS, tmp_path / "builds")
    return tmp_path / "builds"


def run(*words: str) -> tuple[int, str]:
    """Run a command; no terminal, so that nothing is asked."""
    result = CliRunner().invoke(cli, words)
    return result.exit_code, result.output


@pytest.mark.parametrize("assembly", [None, *sorted(assemblies_of(DEMOS))])
def test_a_new_van_is_judged_clean_at_enquiry(register: Path, assembly: str | None) -> None:
    """With any package, or none, nothing fails at level error, and every answer stands in the spec."""
    more = ["--assembly", assembly] if assembly else []
    code, output = run("start", str(register / "heron"), "--title", 'The "Heron": #1', "--in", "uk", "--in", "eu",
                       "--adults", "2", "--nights", "4", *more)  # fmt: skip
    assert code == 0, output
    (build,) = load(register / "heron").sound
    assert build.header.title == 'The "Heron": #1'
    assert [word.value for word in build.header.jurisdictions] == ["uk", "eu"]
    assert (build.header.use.people.adults, build.header.use.nights_off_grid) == (2, 4)
    assert (len(build.components) > 2) == (assembly is not None)
    code, output = run("inspect", str(register / "heron"))
    assert code == 0, output


def test_more_people_than_the_cab_seats_is_what_the_first_inspection_says(register: Path) -> None:
    """Three people travel, and a panel van comes with two seats: the one thing to settle first."""
    assert run("start", str(register / "heron"), "--adults", "3")[0] == 0
    code, output = run("inspect", str(register / "heron"))
    assert code == 1
    assert "3 people travel, and 2 places have a belt" in output


def test_a_parameter_of_the_package_is_set_and_the_others_are_named(register: Path) -> None:
    """What was chosen is set; a comment says what else the package can be told."""
    code, _ = run(
        "start", str(register / "heron"), "--assembly", "house-power-12v", "--set", "second_battery=true"
    )
    assert code == 0
    (build,) = load(register / "heron").sound
    assert "house-battery-2" in build.components
    text = (register / "heron" / "spec.yaml").read_text()
    assert "set: {second_battery: true}" in text
    assert "# as the package has it: {battery: lithium-battery-200, inverter: true" in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("start", "{}/Heron One"), "small letters"),
        (("start", "{}/fieldwork"), "there is such a van"),
        (("start", "{}/heron", "--assembly", "house-power-12"), "house-power-12v"),
        (("start", "{}/heron", "--assembly", "house-power-12v", "--set", "batery=x"), "battery"),
        (("start", "{}/heron", "--assembly", "house-power-12v", "--set", "battery"), "KEY=VALUE"),
        (("start", "{}/../elsewhere", "--title", "x"), "no register around"),
    ],
)
def test_a_wrong_request_is_answered_in_words_and_writes_nothing(
    register: Path, words: tuple[str, ...], said: str
) -> None:
    """Each slip names what would do; no folder is left behind."""
    before = sorted(path.name for path in register.iterdir())
    code, output = run(*(word.format(register) for word in words))
    assert code == 2
    assert said in output
    assert sorted(path.name for path in register.iterdir()) == before


def test_a_van_is_written_whole_or_not_at_all(register: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk leaves no empty folder."""

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("specreg.writing._lay", full)
    code, output = run("start", str(register / "heron"))
    assert code == 2
    assert "No space left" in output
    assert not (register / "heron").exists()
