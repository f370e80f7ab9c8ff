"""A tiny git repository for a test: an identity from the environment, no settings of the machine."""

import os
import subprocess
from pathlib import Path

SETTINGS = {
    "GIT_AUTHOR_NAME": "Test",
    "GIT_AUTHOR_EMAIL": "test@example.invalid",
    "GIT_COMMITTER_NAME": "Test",
    "GIT_COMMITTER_EMAIL": "test@example.invalid",
    "GIT_AUTHOR_DATE": "2026-05-01T12:00:00Z",
    "GIT_COMMITTER_DATE": "2026-05-01T12:00:00Z",
    "GIT_CONFIG_GLOBAL": os.devnull,
    "GIT_CONFIG_NOSYSTEM": "1",
}


def git(folder: Path, *words: str) -> str:
    """Run git in a folder."""
    done = subprocess.run(
        ("git", *words),
        cwd=folder,
        env={**os.environ, **SETTINGS},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def commit(folder: Path, tag: str) -> None:
    """Commit everything below a folder and tag it; the first time, make the repository."""
    if not (folder / ".git").exists():
        git(folder, "init", "-q")
    git(folder, "add", "--all")
    git(folder, "commit", "-q", "--allow-empty", "-m", tag)
    git(folder, "tag", tag)
