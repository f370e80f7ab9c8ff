"""Commands that write, killed, refused and stopped: `python tests/fuzz/killing.py --times 20`.

Each is killed at every point at which it writes, moves or takes away a file (of very many, at some spread evenly), and as
a process of its own so many times at random moments. What was there before is there then, whole, or what should come is;
the next run does what it should. At the same points the system refuses (full disk, failing disk, no rights), and signals
arrive.
"""

from __future__ import annotations

import argparse
import errno
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path[:0] = [str(ROOT), str(HERE.parent), str(HERE.parent / "keeping")]

from points import Point, held, hidden  # noqa: E402 - found by the line above
from trials import Trial, killed, looked_at, refused, stopped, trial  # noqa: E402
from writers import WRITERS  # noqa: E402

RUN = """\
import sys
from pathlib import Path
from specreg import shipped
from specreg.cli import main
shipped.rules_folder = lambda: Path("pack").absolute()
main()
"""
"""The program with the small pack of the tests."""

REFUSALS = (errno.ENOSPC, errno.EIO, errno.EACCES)
STOPS = (signal.SIGINT, signal.SIGTERM)


def begin(folder: Path, words: tuple[str, ...]) -> subprocess.Popen[bytes]:
    """Start a command in a folder, as a process of its own."""
    return subprocess.Popen(
        [sys.executable, "-c", RUN, *words], cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, "PYTHONPATH": str(ROOT), "SPECREG_NO_CACHE": "1"},
    )  # fmt: skip


def kill_at_random(of: Trial, times: int, draw: random.Random) -> tuple[int, int, int]:
    """Kill a process at random moments; how often the old and the new state was there, and something hidden.

    Raises AssertionError where it is neither state, or where the command does not work afterwards.
    """
    folder = of.copy("timed")
    begun = time.monotonic()
    assert begin(folder, of.writer.words).wait() in (0, 1)
    taken = time.monotonic() - begun
    shutil.rmtree(folder)
    old = new = left = 0
    for _ in range(times):
        folder = of.copy("random")
        process = begin(folder, of.writer.words)
        time.sleep(draw.uniform(0.6, 1.05) * taken)
        process.send_signal(signal.SIGKILL)
        process.wait()
        seen = held(folder)
        assert of.is_whole(seen), f"{of.name}: half written"
        old += seen == of.old
        new += seen == of.new
        left += bool(hidden(folder))
        of.goes_on(folder, seen)
        shutil.rmtree(folder)
    return old, new, left


def spread(points: tuple[Point, ...], most: int) -> tuple[Point, ...]:
    """Some of very many points, evenly, the first and the last among them."""
    if len(points) <= most:
        return points
    return tuple(points[round(number * (len(points) - 1) / (most - 1))] for number in range(most))


def try_all(name: str, times: int, most: int, draw: random.Random) -> str:
    """Try one command in every way; what was tried, in a line."""
    with tempfile.TemporaryDirectory(prefix="specreg-kill-") as made:
        of = trial(Path(made), name)
        chosen = spread(of.points, most)
        looked_at(of)
        done = sum(killed(of, point) for point in chosen)
        for point in chosen:
            for code in REFUSALS:
                refused(of, point, code)
            for sent in STOPS:
                stopped(of, point, sent)
        old, new, left = kill_at_random(of, times, draw)
    return (
        f"{name}: {len(of.points)} points; killed at {len(chosen)} of them ({done} times it was done already), "
        f"refused {len(REFUSALS) * len(chosen)} times, stopped {len(STOPS) * len(chosen)} times; "
        f"killed at {times} random moments: {old} before, {new} after, something hidden left {left} times"
    )


def main() -> None:
    """Try every command, and count."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--times", type=int, default=20, help="random kills of each command")
    words.add_argument("--points", type=int, default=40, help="points of each command, at most")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--only", help="one command of the table")
    asked = words.parse_args()
    for name in [asked.only] if asked.only else WRITERS:
        print(try_all(name, asked.times, asked.points, random.Random(asked.seed)), flush=True)


if __name__ == "__main__":
    main()
