"""From an empty folder to a published site, as the starter's README tells it: every line is run."""

import os
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from shell import ROOT, on_path, run

TUTORIAL = (ROOT / "specreg" / "starter" / "README.md").read_text(encoding="utf-8")
STEPS = re.compile(
    r"(?:<!-- ends with (?P<code>\d) -->\n)?^```sh\n(?P<commands>.*?)^```\n(?=\n|\Z)"
    r"(?:\n```text\n(?P<shown>.*?)```)?",
    re.DOTALL | re.MULTILINE,
)


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
    environment = on_path(tmp_path / "programs")
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
