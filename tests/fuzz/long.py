"""Try broken registers for as long as one likes: `python tests/fuzz/long.py --seconds 600 --seed 1`.

Attempts run in worker processes of their own with a deadline and a limit of memory each; a fault is printed once
for each place in the program, with the number that makes it again (`--only NUMBER`).
"""

from __future__ import annotations

import argparse
import faulthandler
import os
import random
import resource
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from attempts import Attempt, attempt  # noqa: E402 - found by the line above

DEADLINE = 180
"""Seconds that one attempt may take on a busy machine."""

MEMORY = 3 * 1024**3
"""Bytes of address space of a worker."""


def one(number: int, told: list[Attempt]) -> int:
    """Make one attempt; its exit code."""
    with tempfile.TemporaryDirectory(prefix="specreg-fuzz-") as name:
        return attempt(random.Random(number), Path(name), told.append)


def where(fault: BaseException) -> str:
    """The innermost place of the program in a fault's traceback."""
    cause = fault.__cause__ or fault
    frames = [
        frame
        for frame in traceback.extract_tb(cause.__traceback__)
        if f"{os.sep}specreg{os.sep}" in frame.filename
    ]
    last = frames[-1] if frames else None
    return (
        f"{type(cause).__name__} at {Path(last.filename).name}:{last.lineno}"
        if last
        else f"{type(cause).__name__}: {cause}"
    )


def work(first: int, step: int, until: float, pipe: int) -> None:
    """Make attempts until the time is over, one line to the pipe for each: number, sort, outcome."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    number = first
    while time.monotonic() < until:
        os.write(pipe, f"begin {number}\n".encode())
        faulthandler.dump_traceback_later(DEADLINE, exit=True)
        told: list[Attempt] = []
        try:
            said = f"code {one(number, told)}"
        except BaseException as fault:
            said = f"fault {where(fault)}"
        faulthandler.cancel_dump_traceback_later()
        os.write(pipe, f"{said}\n".encode("utf-8", "replace"))
        number += step


def watched(first: int, step: int, until: float) -> tuple[Counter[str], dict[str, int]]:
    """Run workers one after the other, a new one where one dies; what came of all attempts."""
    outcomes: Counter[str] = Counter()
    faults: dict[str, int] = {}
    while time.monotonic() < until:
        read, write = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(read)
            work(first, step, until, write)
            os._exit(0)
        os.close(write)
        number, open_ = first, False
        with os.fdopen(read, encoding="utf-8") as lines:
            for line in lines:
                word, _, said = line.strip().partition(" ")
                open_ = word == "begin"
                number = int(said) if open_ else number
                outcomes[line.strip()] += not open_
                if word == "fault" and said not in faults:
                    faults[said] = number
                    print(f"{number}: {said}", flush=True)
        os.waitpid(child, 0)
        if open_:
            outcomes["died"] += 1
            faults.setdefault(f"died at {number}", number)
            print(f"{number}: no answer in {DEADLINE} s, or no memory", flush=True)
        first = number + step
    return outcomes, faults


def main() -> int:
    """Try, count, and say what broke."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--seconds", type=float, default=60)
    words.add_argument("--seed", type=int, default=0, help="number of the first attempt")
    words.add_argument("--only", type=int, help="make this attempt again, and show its traceback")
    asked = words.parse_args()
    signal.signal(signal.SIGPIPE, signal.SIG_DFL)
    os.environ["SPECREG_NO_CACHE"] = ""
    if asked.only is not None:
        told: list[Attempt] = []
        try:
            print("code", one(asked.only, told))
        finally:
            print(told)
        return 0
    outcomes, faults = watched(asked.seed, 1, time.monotonic() + asked.seconds)
    codes = {said: count for said, count in sorted(outcomes.items()) if said.startswith("code")}
    print(f"{sum(outcomes.values())} attempts, {codes}, {len(faults)} different faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
