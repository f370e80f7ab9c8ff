"""Inputs led by the code that they reach: `python tests/fuzz/guided.py --seconds 600`.

The library atheris (`pip install atheris`; Linux, CPython 3.11 to 3.13) keeps each input that reaches code which none
reached before, and changes the kept ones further, as bytes and, where they are trees, as trees. Every target is a
process of its own with a bound on time and memory. A fault is told once for each place in the program; the input
that makes it is kept in a file, and `--only TARGET --input FILE` shows its traceback.
"""

from __future__ import annotations

import argparse
import hashlib
import importlib
import importlib.util
import random
import re
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path[:0] = [str(Path(__file__).parents[2]), str(Path(__file__).parent)]

LONGEST_UNIT = 60
"""Seconds after which one input counts as one without end."""

MEMORY = 2000
"""Megabytes that a target may use."""

OURS = ("specreg.source", "specreg.rules", "specreg.units", "specreg.model.read", "specreg.model.explain", "specreg.trade",
        "specreg.model.join", "specreg.works.parts_list", "specreg.works.money", "specreg.accepted", "specreg.register",
        "specreg.pages.procedures", "specreg.pages.shrinking", "specreg.editor.scanner", "specreg.editor.outline",
        "specreg.output.spreadsheet", "specreg.cli.works")  # fmt: skip
"""Modules whose branches lead."""


def run(name: str, seconds: int, seed: int, into: Path) -> None:
    """Try one target in this process until the time is over; faults go to standard output. Does not return."""
    atheris: Any = importlib.import_module("atheris")
    with atheris.instrument_imports(include=list(OURS), enable_loader_override=False):
        from targets import TARGETS, other_tree
    from long import where

    target, seen = TARGETS[name], set[str]()
    corpus = into / "corpus"
    corpus.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(target.seeds()):
        (corpus / f"seed-{number}").write_bytes(data)

    def one(data: bytes) -> None:
        try:
            target.read(data)
        except Exception as fault:
            place = where(fault)
            if place not in seen:
                seen.add(place)
                kept = into / f"fault-{hashlib.sha256(data).hexdigest()[:12]}"
                kept.write_bytes(data)
                print(f"FAULT {place} {kept}", flush=True)

    def changed(data: bytes, most: int, number: int) -> bytes:
        draw = random.Random(number)
        found = other_tree(data, draw) if target.is_tree and draw.random() < 0.5 else None
        result: bytes = found[:most] if found else atheris.Mutate(data, most)
        return result

    for data in target.seeds():
        one(data)  # what is worked out once is not counted as the time of an input
    words = [
        sys.argv[0], f"-max_total_time={seconds}", f"-seed={seed}", f"-timeout={LONGEST_UNIT}", "-max_len=20000",
        f"-rss_limit_mb={MEMORY}", f"-artifact_prefix={into}/", "-print_final_stats=1", str(corpus),
    ]  # fmt: skip
    options: dict[str, Any] = {"custom_mutator": changed} if target.is_tree else {}
    atheris.Setup(words, one, **options)
    atheris.Fuzz()


STATUS = re.compile(r"#(\d+)\s+(\w+)\s+cov: (\d+) ft: (\d+) corp: (\d+)/")
DONE = re.compile(r"Done (\d+) runs")
KEPT = re.compile(r"Test unit written to (\S+/(?:timeout|oom|crash)-\w+)")


def tried(name: str, seconds: int, seed: int, folder: Path) -> tuple[str, list[str]]:
    """Run one target as a process; what came of it in a line, and its faults."""
    into = folder / name
    into.mkdir()
    done = subprocess.run(
        [sys.executable, __file__, "--in-process", name, "--seconds", str(seconds), "--seed", str(seed), "--into", str(into)],
        capture_output=True, text=True, check=False, errors="replace",
    )  # fmt: skip
    seen = STATUS.findall(done.stderr)
    faults = [line.removeprefix("FAULT ") for line in done.stdout.splitlines() if line.startswith("FAULT ")]
    faults += [f"no answer in {LONGEST_UNIT} s, or {MEMORY} MB: {kept}" for kept in KEPT.findall(done.stderr)]
    if not seen or (not DONE.search(done.stderr) and not faults):
        faults.append(f"the trial itself ended: {done.stderr.strip().splitlines()[-3:]}")
    begun = next((one for one in seen if one[1] == "INITED"), seen[0] if seen else None)
    if begun is None:
        return f"{name}: nothing was tried", faults
    last = seen[-1]
    runs = DONE.search(done.stderr)
    count = int(runs[1]) if runs else int(last[0])
    told = (
        f"{name}: {count} inputs, {last[4]} kept, {last[2]} branches reached, "
        f"{int(last[2]) - int(begun[2])} of them not by what it began with"
    )
    return told, faults


def main() -> int:
    """Try every target, one after another, or one of them again."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--seconds", type=int, default=600, help="for all targets together")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--only", help="this target alone")
    words.add_argument("--input", type=Path, help="with --only: this input once, with its traceback")
    words.add_argument("--in-process", help=argparse.SUPPRESS)
    words.add_argument("--into", type=Path, help=argparse.SUPPRESS)
    asked = words.parse_args()
    if asked.in_process:
        run(asked.in_process, asked.seconds, asked.seed, asked.into)
    from targets import TARGETS

    if asked.input:
        TARGETS[asked.only].read(asked.input.read_bytes())
        print("no fault")
        return 0
    if importlib.util.find_spec("atheris") is None:
        print("this needs atheris: pip install atheris (Linux, CPython 3.11 to 3.13)", file=sys.stderr)
        return 2
    names = [asked.only] if asked.only else sorted(TARGETS)
    folder = Path(tempfile.mkdtemp(prefix="specreg-guided-"))
    count, faulty = 0, 0
    for name in names:
        said, faults = tried(name, max(5, asked.seconds // len(names)), asked.seed, folder)
        print(said, *(f"  fault: {one}" for one in faults), sep="\n", flush=True)
        count += int(said.split()[1]) if said.split()[1].isdigit() else 0
        faulty += len(faults)
    print(f"{count} inputs in all, {faulty} different faults; kept in {folder}")
    return 1 if faulty else 0


if __name__ == "__main__":
    sys.exit(main())
