"""Try broken registers for as long as one likes: `python tests/fuzz/long.py --seconds 600 --seed 1`.

Attempts run in worker processes of their own with a limit of processor time and memory each; a fault is printed
once for each place in the program, with the number that makes it again (`--only NUMBER`). The slowest are told, too.
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
from dataclasses import dataclass, field
from pathlib import Path

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parents[1])]

from attempts import Attempt, attempt  # noqa: E402 - found by the line above

DEADLINE = 60
"""Seconds of processor time that one attempt may take: what else the machine does counts for nothing."""

PATIENCE = 1200
"""Seconds of the clock after which an attempt that waits for something is given up."""

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


class TooLong(BaseException):
    """The attempt has used up its processor time."""


def _time_is_up(*_: object) -> None:
    raise TooLong


def work(first: int, step: int, until: float, pipe: int) -> None:
    """Make attempts until the time is over, one line to the pipe for each: number, sort, outcome."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    signal.signal(signal.SIGPROF, _time_is_up)
    number = first
    while time.monotonic() < until:
        os.write(pipe, f"begin {number}\n".encode())
        faulthandler.dump_traceback_later(PATIENCE, exit=True)
        signal.setitimer(signal.ITIMER_PROF, DEADLINE)
        begun = time.process_time()
        told: list[Attempt] = []
        try:
            said = f"code {one(number, told)}"
        except BaseException as fault:
            said = f"fault {where(fault)}"
        signal.setitimer(signal.ITIMER_PROF, 0)
        faulthandler.cancel_dump_traceback_later()
        taken = time.process_time() - begun
        os.write(pipe, f"took {taken:.1f} {told}\n{said}\n".encode("utf-8", "replace"))
        number += step


@dataclass
class Outcome:
    """What came of all attempts: how often each, the first number of each fault, the slowest."""

    counts: Counter[str] = field(default_factory=Counter)
    faults: dict[str, int] = field(default_factory=dict)
    slowest: list[tuple[float, int, str]] = field(default_factory=list)

    def take(self, number: int, line: str) -> None:
        """Take note of a line from a worker about an attempt."""
        word, _, said = line.partition(" ")
        if word == "took":
            seconds, _, told = said.partition(" ")
            self.slowest = sorted([*self.slowest, (float(seconds), number, told)], reverse=True)[:3]
            return
        self.counts[line] += 1
        if word in ("fault", "died") and said not in self.faults:
            self.faults[said] = number
            print(f"{number}: {line}", flush=True)


def watched(first: int, step: int, until: float) -> Outcome:
    """Run workers one after the other, a new one where one dies; what came of all attempts."""
    outcome = Outcome()
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
                if word == "begin":
                    number, open_ = int(said), True
                else:
                    open_ = word == "took"
                    outcome.take(number, line.strip())
        _, status, used = os.wait4(child, 0)
        if open_:
            outcome.take(number, f"died {_cause(status)}, {used.ru_maxrss // 1024} MB at most")
        first = number + step
    return outcome


def _cause(status: int) -> str:
    """How a worker ended in the middle of an attempt."""
    if os.WIFSIGNALED(status):
        return f"by signal {os.WTERMSIG(status)}"
    return f"with code {os.WEXITSTATUS(status)}: no answer in {PATIENCE} s"


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
    outcome = watched(asked.seed, 1, time.monotonic() + asked.seconds)
    codes = {said: count for said, count in sorted(outcome.counts.items()) if said.startswith("code")}
    for seconds, number, tried in outcome.slowest:
        print(f"{number}: {seconds:.1f} s of processor time: {tried[:300]}")
    print(f"{outcome.counts.total()} attempts, {codes}, {len(outcome.faults)} different faults")
    return 1 if outcome.faults else 0


if __name__ == "__main__":
    sys.exit(main())
