"""A register of many invented vans, and how long it takes to find something in it.

    .venv/bin/python tests/benchmarks/many_builds.py [NUMBER]

Whole processes, beside the bare start of Python with the same standard libraries: ratios, not seconds, are the
result. Nothing here is a test.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median

PARTS = "\n".join(
    f"light-{number}: {{kind: ceiling-light, power: {number % 9 + 1} W, supply_voltage: 12 V, maker: Maker"
    f" {number % 17}, model: L-{number}, mass: 0.2 kg}}"
    for number in range(100)
)
THINGS = 40
BARE = "import sys, sqlite3, json, dataclasses, click, yaml"


def many_builds(folder: Path, number: int) -> None:
    """Write a register of a hundred parts and so many vans, forty things in each."""
    (folder / "parts").mkdir(parents=True)
    (folder / "parts" / "lights.yaml").write_text(PARTS + "\n", encoding="utf-8")
    for van in range(number):
        name = f"van-{van:04}"
        (folder / name).mkdir()
        (folder / name / "spec.yaml").write_text(spec(name, van), encoding="utf-8")


def spec(name: str, van: int) -> str:
    """Return the spec of one van."""
    stage = ("design", "building", "in-service")[van % 3]
    lines = ["format: 1", f"build: {name}", f"title: Van {van}", f"stage: {stage}", "jurisdictions: [uk]"]
    lines += ["components:"]
    lines += [
        f"  light-{thing}: {{part: light-{(van + 7 * thing) % 100}, label: Light {thing}, serial: S{van * THINGS + thing:06},"
        f" fitted_on: 2026-{van % 12 + 1:02}-{thing % 28 + 1:02}}}"
        for thing in range(THINGS)
    ]
    return "\n".join(lines) + "\n"


def seconds(folder: Path, command: tuple[str, ...]) -> float:
    """Return the processor time of one fresh process: other work on the machine does not count."""
    settings = {"XDG_CACHE_HOME": str(folder / "cache"), "PYTHONPATH": str(Path(__file__).parents[2])}
    start = os.times()
    subprocess.run(command, cwd=folder, env={**os.environ, **settings}, stdout=subprocess.DEVNULL, check=True)
    end = os.times()
    return end.children_user + end.children_system - start.children_user - start.children_system


def main(number: int) -> None:
    """Measure and print."""
    find = (
        sys.executable,
        "-m",
        "specreg",
        "find",
        "vans",
        "maker=maker 3",
        "stage=in-service",
        "serial=S000100..S030000",
    )
    bare = (sys.executable, "-c", BARE)
    with tempfile.TemporaryDirectory() as home:
        folder = Path(home)
        many_builds(folder / "vans", number)
        seconds(folder, bare)
        unit = median(seconds(folder, bare) for _ in range(5))
        rows = {"first, nothing kept": seconds(folder, find)}
        seconds(folder, find)  # files that were young at the first are settled now
        rows["kept"] = median(seconds(folder, find) for _ in range(5))
        changed = []
        for round_ in range(3):
            path = folder / "vans" / f"van-{round_:04}" / "spec.yaml"
            path.write_text(spec(path.parent.name, round_ + 1), encoding="utf-8")
            changed.append(seconds(folder, find))
        rows["one van changed"] = median(changed)
        part = folder / "vans" / "parts" / "lights.yaml"
        part.write_text(
            PARTS.replace("Maker 16, model: L-16,", "Maker 99, model: L-16,") + "\n", encoding="utf-8"
        )
        rows["one part changed"] = seconds(folder, find)
    print(f"{number} vans, {THINGS * number} things; bare start {unit * 1000:.0f} ms")
    for name, taken in rows.items():
        print(f"{name:24} {taken * 1000:7.0f} ms  {taken / unit:6.1f} × the bare start")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
