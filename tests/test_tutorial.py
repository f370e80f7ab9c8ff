"""From an empty folder to a published site, as the starter's README tells it: every line is run."""

import os
import re
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
TUTORIAL = (ROOT / "specreg" / "starter" / "README.md").read_text(encoding="utf-8")
STEPS = re.compile(
    r"(?:<!-- ends with (?P<code>\d) -->\n)?^```sh\n(?P<commands>.*?)^```\n(?=\n|\Z)"
    r"(?:\n```text\n(?P<shown>.*?)```)?",
    re.DOTALL | re.MULTILINE,
)


def on_path(folder: Path) -> dict[str, str]:
    """An environment in which `specreg` is a command, and git knows somebody."""
    program = folder / "specreg"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m specreg "$@"\n', encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    somebody = {
        f"GIT_{who}_{what}": "a@example.invalid"
        for who in ("AUTHOR", "COMMITTER")
        for what in ("NAME", "EMAIL")
    }
    settings = {**os.environ, **somebody, "GIT_CONFIG_GLOBAL": os.devnull, "PYTHONPATH": str(ROOT)}
    return settings | {"PATH": f"{folder}{os.pathsep}{os.environ['PATH']}"}


def run(script: str, folder: Path, environment: dict[str, str]) -> "subprocess.CompletedProcess[str]":
    """Run lines of a shell, stopping at the first that fails; both streams in one."""
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", script], cwd=folder, env=environment, check=False,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, encoding="utf-8",
    )  # fmt: skip


def follows(shown: str, printed: Iterator[str]) -> str:
    """The first line that is shown and is not printed in that order; empty where all are."""
    for line in shown.splitlines():
        pattern = re.compile(".*".join(map(re.escape, line.split("…"))))
        if line != "…" and not any(pattern.fullmatch(one) for one in printed):
            return line
    return ""


@pytest.mark.skipif(os.name != "posix", reason="a POSIX shell")
def test_the_tutorial_leads_from_an_empty_folder_to_a_site(tmp_path: Path) -> None:
    """Each block ends as it says and prints what it shows."""
    programs = tmp_path / "programs"
    programs.mkdir()
    environment = on_path(programs)
    started = run("specreg start my-vans", tmp_path, environment)
    assert started.returncode == 0, started.stdout
    steps = list(STEPS.finditer(TUTORIAL))
    assert len(steps) == TUTORIAL.count("```sh\n") >= 10
    for step in steps:
        done = run(step["commands"], tmp_path / "my-vans", environment)
        assert done.returncode == int(step["code"] or 0), f"{step['commands']}\n{done.stdout}"
        missing = follows(step["shown"] or "", iter(done.stdout.splitlines()))
        assert not missing, f"{step['commands']}\nnot printed: {missing}\n{done.stdout}"
    assert (tmp_path / "site" / "index.html").is_file()
