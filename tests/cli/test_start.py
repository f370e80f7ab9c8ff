"""A register from nothing: complete, readable, and never over anything that is there."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from specreg.cli.commands import cli


def run(*arguments: str) -> tuple[int, str]:
    result = CliRunner().invoke(cli, list(arguments))
    return result.exit_code, result.output


@pytest.mark.parametrize("there", [False, True], ids=["not there", "empty"])
def test_it_begins_a_register_that_inspects(tmp_path: Path, there: bool) -> None:
    """The new register's first van reads without a problem and fails in nothing at level error."""
    folder = tmp_path / "my-vans"
    if there:
        folder.mkdir()
    code, output = run("start", str(folder))
    assert code == 0
    assert (folder / "register.yaml").is_file()
    assert "first-van/spec.yaml" in output
    code, output = run("inspect", str(folder))
    assert code == 0
    assert "first-van" in output
    assert sorted(path.name for path in tmp_path.iterdir()) == ["my-vans"]


@pytest.mark.parametrize("kind", ["a folder with a file", "a file"])
def test_it_overwrites_nothing(tmp_path: Path, kind: str) -> None:
    """What is there stays as it is, and the refusal says what to do."""
    folder = tmp_path / "my-vans"
    if kind == "a file":
        folder.write_text("mine", encoding="utf-8")
    else:
        folder.mkdir()
        (folder / "mine.txt").write_text("mine", encoding="utf-8")
    code, output = run("start", str(folder))
    assert code == 2
    assert "is not empty" in output
    kept = folder if kind == "a file" else folder / "mine.txt"
    assert kept.read_text(encoding="utf-8") == "mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["my-vans"]
