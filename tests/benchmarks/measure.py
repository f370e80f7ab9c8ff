"""Whole processes measured beside a bare C load of the same files, in one run: ratios, not seconds, are the result.

    .venv/bin/python tests/benchmarks/measure.py

Each figure is the median of several fresh processes, the kinds taken in turn so that a busy machine bears on all
alike. Nothing here is a test: a slow machine must not fail the suite.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from statistics import median
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parent))

from large_build import large_build

ROOT = Path(__file__).parents[2]
LOAD = "import sys, yaml\nfor name in sys.argv[1:]:\n    yaml.load(open(name, 'rb'), yaml.CSafeLoader)"
ROUNDS = 7


def seconds(command: Sequence[str]) -> float:
    """Return how long one fresh process takes."""
    start = perf_counter()
    subprocess.run(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    return perf_counter() - start


def medians(commands: dict[str, list[str]]) -> dict[str, float]:
    """Return the median time of each command, taken in turn."""
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(ROUNDS):
        for name, command in commands.items():
            times[name].append(seconds(command))
    return {name: median(found) for name, found in times.items()}


def main() -> None:
    """Measure and print the ratios."""
    specreg = [sys.executable, "-m", "specreg"]
    demo = sorted(str(path) for path in (ROOT / "builds/fieldwork").glob("*.yaml"))
    with tempfile.TemporaryDirectory() as folder:
        commands = {
            "start Python": [sys.executable, "-c", ""],
            "bare C load of the demo": [sys.executable, "-c", LOAD, *demo],
            "specreg --help": [*specreg, "--help"],
            "specreg inspect, the demo": [*specreg, "inspect", "builds/fieldwork"],
        }
        for scale in (1, 10):
            path = Path(folder) / f"size-{scale}" / "large" / "spec.yaml"
            path.parent.mkdir(parents=True)
            path.write_text(large_build(8 * scale), encoding="utf-8")
            commands[f"bare C load, large × {scale}"] = [sys.executable, "-c", LOAD, str(path)]
            commands[f"specreg inspect, large × {scale}"] = [*specreg, "inspect", str(path.parent)]
        found = medians(commands)
    reference = found["bare C load of the demo"]
    for name, time in found.items():
        print(f"{name:32} {time * 1000:8.0f} ms   {time / reference:6.2f} × the bare load of the demo")
    grown = found["specreg inspect, large × 10"] / found["specreg inspect, large × 1"]
    print(f"ten times the size takes {grown:.1f} times as long")


if __name__ == "__main__":
    main()
