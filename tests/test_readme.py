"""What the README shows is what happens."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
OUTPUTS = re.findall(r"<!-- output of: (specreg [^>]*?) -->\n```\n(.*?)```", README, re.DOTALL)


@pytest.mark.parametrize(("command", "shown"), OUTPUTS, ids=[command for command, _ in OUTPUTS])
def test_shown_output_is_real(command: str, shown: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every line that is shown is printed, in that order; lines left out are marked."""
    from specreg.cli import commands

    monkeypatch.chdir(ROOT)
    result = CliRunner().invoke(commands.cli, shlex.split(command)[1:])
    printed = iter(result.output.splitlines())
    for line in shown.splitlines():
        assert line == "…" or line in printed, line


def test_output_is_shown() -> None:
    """There is a first inspection to check."""
    assert OUTPUTS


@pytest.mark.parametrize("name", sorted(set(re.findall(r"`specreg ([a-z-]+)", README))))
def test_every_command_that_is_named_exists(name: str) -> None:
    """The table of commands names no command that is not there."""
    from specreg.cli import commands

    assert name in commands.cli.commands


@pytest.mark.parametrize("path", sorted(set(re.findall(r"\]\(([^)#:]+)\)", README))))
def test_links_lead_somewhere(path: str) -> None:
    """Every file that is linked is there."""
    assert (ROOT / path).exists()


@pytest.mark.parametrize("rule", sorted(set(re.findall(r"--about ([a-z]+/[a-z-]+)", README))))
def test_rules_that_are_named_exist(rule: str) -> None:
    """A reader can ask for each."""
    assert (ROOT / "rules" / f"{rule}.md").is_file()


@pytest.mark.parametrize("anchor", sorted(set(re.findall(r"\]\(#([^)]+)\)", README))))
def test_anchors_are_headings(anchor: str) -> None:
    """The reading order leads to sections that are there."""
    headings = re.findall(r"^#+ (.+)$", README, re.MULTILINE)
    assert anchor in {re.sub(r"[^a-z0-9 -]", "", one.lower()).replace(" ", "-") for one in headings}


@pytest.mark.parametrize(
    "name",
    [
        "accept",
        "compare",
        "figures",
        "find",
        "inspect",
        "publish",
        "record",
        "rules",
        "schedule",
        "schema",
        "start",
        "trace",
    ],
)
def test_every_command_of_the_first_days_is_in_the_table(name: str) -> None:
    """Whoever reads the table meets each."""
    assert f"| `specreg {name}" in README
