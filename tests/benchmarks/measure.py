"""Whole processes measured beside a bare C load of the same files, in one run: ratios, not seconds, are the result.

    .venv/bin/python tests/benchmarks/measure.py

Each figure is the median of several fresh processes, the kinds taken in turn so that a busy machine bears on all
alike; a first round that is not counted leaves bytecode and the compiled rules as an installed program finds them,
in folders of its own. Nothing here is a test: a slow machine must not fail the suite.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from statistics import median
from time import perf_counter
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parent))

from large_build import large_build

ROOT = Path(__file__).parents[2]
SPECREG = (sys.executable, "-m", "specreg")
LOAD = "import sys, yaml\nfor name in sys.argv[1:]:\n    yaml.load(open(name, 'rb'), yaml.CSafeLoader)"
ROUNDS = 7
NOT_KEPT = {"SPECREG_NO_CACHE": "1"}


class Process(NamedTuple):
    """A command to measure, and the bare load that it is measured by."""

    name: str
    command: Sequence[str]
    beside: str
    settings: Mapping[str, str] = {}


def seconds(process: Process, settings: Mapping[str, str]) -> float:
    """Return how long one fresh process takes."""
    start = perf_counter()
    subprocess.run(
        process.command,
        cwd=ROOT,
        env={**os.environ, **settings, **process.settings},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        check=False,
    )
    return perf_counter() - start


def medians(processes: Sequence[Process], settings: Mapping[str, str]) -> dict[str, float]:
    """Return the median time of each process, taken in turn."""
    times: dict[str, list[float]] = {process.name: [] for process in processes}
    for process in processes:
        seconds(process, settings)
    for _ in range(ROUNDS):
        for process in processes:
            times[process.name].append(seconds(process, settings))
    return {name: median(found) for name, found in times.items()}


def of_the_demo() -> list[Process]:
    """Return what is measured on the demo, everything that its `inspect` reads loaded beside it."""
    builds = ROOT / "builds"
    read = [builds / "register.yaml", *builds.glob("parts/*.yaml"), *builds.glob("assemblies/*.yaml")]
    files = sorted(str(path) for path in (*read, *builds.glob("fieldwork/*.yaml")))
    load = "bare C load, the demo"
    inspect = (*SPECREG, "inspect", "builds/fieldwork")
    return [
        Process("start of Python", (sys.executable, "-c", ""), load),
        Process(load, (sys.executable, "-c", LOAD, *files), load),
        Process("specreg --help", (*SPECREG, "--help"), load),
        Process("specreg rules", (*SPECREG, "rules"), load),
        Process("specreg inspect, the demo", inspect, load),
        Process("the same, rules not kept", inspect, load, NOT_KEPT),
    ]


def of_a_large_build(folder: Path, scale: int) -> list[Process]:
    """Return what is measured on a generated build of 8 boxes times a scale, written into a folder."""
    path = folder / f"size-{scale}" / "large" / "spec.yaml"
    path.parent.mkdir(parents=True)
    path.write_text(large_build(8 * scale), encoding="utf-8")
    load = f"bare C load, large × {scale}"
    return [
        Process(load, (sys.executable, "-c", LOAD, str(path)), load),
        Process(f"specreg inspect, large × {scale}", (*SPECREG, "inspect", str(path.parent)), load),
    ]


def main() -> None:
    """Measure and print the ratios."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        settings = {
            "PYTHONDONTWRITEBYTECODE": "",
            "PYTHONPYCACHEPREFIX": str(folder / "bytecode"),
            "XDG_CACHE_HOME": str(folder / "cache"),
        }
        processes = [*of_the_demo(), *of_a_large_build(folder, 1), *of_a_large_build(folder, 10)]
        found = medians(processes, settings)
    print("median of seven processes, and times the bare C load of the same files")
    for process in processes:
        time = found[process.name]
        print(f"{process.name:28} {time * 1000:8.0f} ms {time / found[process.beside]:8.2f} ×")
    grown = found["specreg inspect, large × 10"] / found["specreg inspect, large × 1"]
    print(f"ten times the size takes {grown:.1f} times as long")
    if hasattr(os, "getloadavg"):
        print(f"load of the machine, of {os.cpu_count()} processors: {os.getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main()
