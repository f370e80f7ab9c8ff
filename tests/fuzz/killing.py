"""Commands killed at random points: `python tests/fuzz/killing.py --times 20` kills each of them twenty times.

Afterwards what was there before is there, whole, or what should come is there, whole; nothing between.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).parents[2]


def state(folder: Path) -> str:
    """A digest of everything that is not hidden below a folder."""
    found = sorted(path for path in folder.rglob("*") if path.is_file())
    shown = [
        path for path in found if not any(part.startswith(".") for part in path.relative_to(folder).parts)
    ]
    mark = sha256()
    for path in shown:
        mark.update(f"{path.relative_to(folder).as_posix()}\0".encode() + path.read_bytes() + b"\0")
    return mark.hexdigest()


def begin(folder: Path, words: tuple[str, ...]) -> subprocess.Popen[bytes]:
    """Start a command in a folder."""
    return subprocess.Popen(
        [sys.executable, "-m", "specreg", *words], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


def prepared(folder: Path, name: str) -> None:
    """A register whose things have no designations yet; for publishing, an earlier site."""
    shutil.copytree(
        ROOT / "builds",
        folder / "builds",
        ignore=shutil.ignore_patterns("fieldwork", "winter-tourer", "second-hand"),
    )
    (folder / "builds" / "pocket" / "designations.yaml").unlink()
    if name == "publish":
        assert begin(folder, ("publish", "builds/pocket", "--reader", "public", "--into", "site")).wait() == 0


COMMANDS = {
    "publish": ("publish", "builds/pocket", "--reader", "workshop", "--into", "site"),
    "schedule --assign": ("schedule", "builds/pocket", "--assign"),
    "start": ("start", "new"),
    "inspect --output": ("inspect", "builds/pocket", "--format", "json", "--output", "out.json"),
}
"""What writes."""


def kill_many(name: str, times: int, draw: random.Random) -> tuple[int, int]:
    """Kill a command at random points; how often the old and how often the new state was there afterwards.

    Raises AssertionError where it is neither, or where the command does not work afterwards.
    """
    with tempfile.TemporaryDirectory(prefix="specreg-kill-") as made:
        base = Path(made) / "base"
        base.mkdir()
        prepared(base, name)
        whole = Path(made) / "whole"
        shutil.copytree(base, whole)
        begun = time.monotonic()
        assert begin(whole, COMMANDS[name]).wait() in (0, 1)
        taken = time.monotonic() - begun
        old, new, counts = state(base), state(whole), [0, 0]
        assert old != new
        for number in range(times):
            folder = Path(made) / str(number)
            shutil.copytree(base, folder)
            process = begin(folder, COMMANDS[name])
            time.sleep(draw.uniform(0.5, 1.05) * taken)
            process.send_signal(signal.SIGKILL)
            process.wait()
            seen = state(folder)
            assert seen in (old, new) or (name == "publish" and not (folder / "site").exists()), (
                f"{name}: half written"
            )
            again = begin(folder, COMMANDS[name]).wait()
            assert again in (0, 1) or (name == "start" and seen == new)
            assert state(folder) == new, f"{name}: does not work after it was killed"
            counts[seen == new] += 1
            shutil.rmtree(folder)
    return counts[0], counts[1]


def main() -> None:
    """Kill every command, and count."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--times", type=int, default=20)
    words.add_argument("--seed", type=int, default=1)
    asked = words.parse_args()
    for name in COMMANDS:
        old, new = kill_many(name, asked.times, random.Random(asked.seed))
        print(
            f"{name}: killed {asked.times} times, {old} times before it was done, {new} times after; never between",
            flush=True,
        )


if __name__ == "__main__":
    main()
