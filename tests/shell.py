"""Lines of a shell as a user types them, with `specreg` as a command."""

import os
import stat
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]


def on_path(folder: Path) -> dict[str, str]:
    """An environment in which `specreg` is a command in that folder, and git knows somebody."""
    folder.mkdir(exist_ok=True)
    program = folder / "specreg"
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m specreg "$@"\n', encoding="utf-8")
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    names = [f"GIT_{who}_{what}" for who in ("AUTHOR", "COMMITTER") for what in ("NAME", "EMAIL")]
    somebody = dict.fromkeys(names, "a@example.invalid")
    settings = {**os.environ, **somebody, "GIT_CONFIG_GLOBAL": os.devnull, "PYTHONPATH": str(ROOT)}
    return settings | {"PATH": f"{folder}{os.pathsep}{os.environ['PATH']}"}


def run(script: str, folder: Path, environment: dict[str, str]) -> "subprocess.CompletedProcess[str]":
    """Run lines of a shell, stopping at the first that fails; both streams in one."""
    return subprocess.run(
        ["bash", "-euo", "pipefail", "-c", script], cwd=folder, env=environment, check=False,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, encoding="utf-8",
    )  # fmt: skip
