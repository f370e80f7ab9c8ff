"""Whole processes measured beside others that read the same files, in one run: ratios, not seconds, are the result.

    .venv/bin/pip install yamllint
    .venv/bin/python tests/benchmarks/measure.py [PART ...]

The parts are `start`, `demo`, `large`, `growth`, `hundred`, `thousand` and `site`; without any, all run. Each figure
is the median of several fresh processes, the kinds taken in turn so that a busy machine bears on all alike; a first
round that is not counted leaves bytecode and the compiled rules as an installed program finds them, in folders of
its own. Processor time is measured: other work on the machine counts less. Nothing here is a test: a slow machine
must not fail the suite.
"""

from __future__ import annotations

import importlib.util
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from pathlib import Path
from statistics import median
from typing import NamedTuple

sys.path[:0] = [str(Path(__file__).parent), str(Path(__file__).parents[2])]

from large_build import large_build  # noqa: E402 - found by the line above
from many_builds import many_builds, spec  # noqa: E402 - as above

ROOT = Path(__file__).parents[2]
SPECREG = (sys.executable, "-m", "specreg")
LOAD = "import sys, yaml\nfor name in sys.argv[1:]:\n    yaml.load(open(name, 'rb'), yaml.CSafeLoader)"
SCHEMA = (
    "import json, sys, yaml, jsonschema\n"
    "schema = json.load(open(sys.argv[1], encoding='utf-8'))\n"
    "checker = jsonschema.validators.validator_for(schema)(schema)\n"
    "list(checker.iter_errors(yaml.load(open(sys.argv[2], 'rb'), yaml.CSafeLoader)))"
)
ROUNDS = 7
NOT_KEPT = {"SPECREG_NO_CACHE": "1"}


class Process(NamedTuple):
    """A command to measure, the one that it is measured by, and what is done before each round."""

    name: str
    command: Sequence[str]
    beside: str
    settings: Mapping[str, str] = {}
    before: Callable[[int], object] = lambda _: None
    folder: Path = ROOT


class Taken(NamedTuple):
    """Processor time in seconds, and the greatest memory in MB that a process held."""

    seconds: float
    memory: float


def taken(process: Process, settings: Mapping[str, str], number: int) -> Taken:
    """Run one fresh process."""
    process.before(number)
    with (
        tempfile.TemporaryFile() as nowhere,
        subprocess.Popen(
            process.command,
            cwd=process.folder,
            env={**os.environ, **settings, **process.settings},
            stdout=nowhere,
            stderr=nowhere,
        ) as running,
    ):
        _, status, used = os.wait4(running.pid, 0)
        running.returncode = os.waitstatus_to_exitcode(status)
    if running.returncode not in (0, 1):
        raise SystemExit(f"{process.name}: ended with {running.returncode}")
    return Taken(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def medians(
    processes: Sequence[Process], settings: Mapping[str, str], rounds: int = ROUNDS
) -> dict[str, Taken]:
    """Return the median of each process, taken in turn."""
    found: dict[str, list[Taken]] = {process.name: [] for process in processes}
    for process in processes:
        taken(process, settings, 0)
    for number in range(1, rounds + 1):
        for process in processes:
            found[process.name].append(taken(process, settings, number))
    return {name: Taken(*map(median, zip(*several, strict=True))) for name, several in found.items()}


def told(processes: Sequence[Process], found: Mapping[str, Taken]) -> None:
    """Print a line for each process."""
    for process in processes:
        time, memory = found[process.name]
        ratio = time / found[process.beside].seconds
        print(
            f"{process.name:44} {time * 1000:8.0f} ms {ratio:8.2f} × {process.beside:24} {memory:5.0f} MB",
            flush=True,
        )


def changed(path: Path) -> Callable[[int], object]:
    """Return what writes a file anew with another remark at its end, so that nothing kept of it serves."""
    text = path.read_text(encoding="utf-8")
    return lambda number: path.write_text(f"{text}# {number}\n", encoding="utf-8")


def start(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure what a command costs that does next to nothing."""
    bare = "start of Python"
    processes = [
        Process(bare, (sys.executable, "-c", ""), bare),
        Process("specreg --help", (*SPECREG, "--help"), bare),
        Process("specreg start (another folder)", (*SPECREG, "start", "vans"), bare, folder=folder,
                before=lambda _: shutil.rmtree(folder / "vans", ignore_errors=True)),
        Process("specreg rules", (*SPECREG, "rules"), bare),
    ]  # fmt: skip
    told(processes, medians(processes, settings))


def demo(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure the inspection of the demo, everything that it reads loaded beside it."""
    register = folder / "builds"
    shutil.copytree(ROOT / "builds", register)
    read = [register / "register.yaml", *register.glob("parts/*.yaml"), *register.glob("assemblies/*.yaml")]
    files = sorted(str(path) for path in (*read, *register.glob("fieldwork/*.yaml")))
    load = "C load of what it reads"
    inspect = (*SPECREG, "inspect", str(register / "fieldwork"))
    edit = changed(register / "fieldwork" / "works.yaml")
    processes = [
        Process(load, (sys.executable, "-c", LOAD, *files), load),
        Process("inspect, the demo, after a change", inspect, load, before=edit),
        Process("the same, not changed since", inspect, load),
        Process("the same, nothing kept, rules neither", inspect, load, NOT_KEPT),
    ]
    told(processes, medians(processes, settings))


def large(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure one large van of all systems in one file, beside two general checkers on the same file."""
    path = van_in(folder / "large", "large")
    schema = folder / "schema.json"
    subprocess.run((*SPECREG, "schema", "--output", str(schema)), cwd=ROOT, check=True, capture_output=True)
    load = "C load of its file"
    inspect = (*SPECREG, "inspect", str(path.parent))
    processes = [
        Process(load, (sys.executable, "-c", LOAD, str(path)), load),
        Process("inspect after a change", inspect, load, before=changed(path)),
        Process("inspect, not changed since", inspect, load),
        Process(
            "a JSON-Schema checker (jsonschema)", (sys.executable, "-c", SCHEMA, str(schema), str(path)), load
        ),
    ]
    if importlib.util.find_spec("yamllint") is not None:
        style = "a style checker (yamllint)"
        processes.insert(1, Process(style, (sys.executable, "-m", "yamllint", "-s", str(path)), load))
    found = medians(processes, settings)
    told(processes, found)
    for name in [process.name for process in processes if process.name.startswith("a ")]:
        share = found["inspect after a change"].seconds / found[name].seconds
        print(f"inspect after a change: {share:.2f} × {name}", flush=True)


def van_in(register: Path, name: str) -> Path:
    """Write the large van into a register with what it needs; return its file."""
    if not register.exists():
        register.mkdir()
        shutil.copy(ROOT / "builds" / "register.yaml", register)
        shutil.copytree(ROOT / "builds" / "parts", register / "parts")
    shutil.copytree(ROOT / "builds" / "fieldwork" / "procedures", register / name / "procedures")
    path = register / name / "spec.yaml"
    path.write_text(large_van_text().replace('build: "large"', f'build: "{name}"', 1), encoding="utf-8")
    return path


@cache
def large_van_text() -> str:
    """Return the spec of the large van, made in a process of its own: what it takes is not measured."""
    made = (sys.executable, "-c", "from large_build import large_van; print(large_van(), end='')")
    paths = os.pathsep.join((str(ROOT), str(Path(__file__).parent)))
    settings = {**os.environ, "PYTHONPATH": paths, "PYTHONIOENCODING": "utf-8"}
    return subprocess.run(made, env=settings, check=True, capture_output=True, encoding="utf-8").stdout


def growth(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure builds of one, ten and forty times a size; a hundred times is beyond what a build may have."""
    processes = []
    for scale in (1, 10, 40):
        build = folder / f"size-{scale}" / "large"
        build.mkdir(parents=True)
        (build / "spec.yaml").write_text(large_build(8 * scale), encoding="utf-8")
        load = f"C load × {scale}"
        processes.append(Process(load, (sys.executable, "-c", LOAD, str(build / "spec.yaml")), load))
        inspect = (*SPECREG, "inspect", str(build))
        edit = changed(build / "spec.yaml")
        processes.append(Process(f"inspect × {scale}, after a change", inspect, load, before=edit))
    found = medians(processes, settings, 3)
    told(processes, found)
    times = [found[f"inspect × {scale}, after a change"].seconds for scale in (1, 10, 40)]
    print(
        f"10 times the size takes {times[1] / times[0]:.1f} times as long, 4 times that {times[2] / times[1]:.1f}"
    )


def hundred(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure a register of a hundred large vans: first, kept, and after one of them changed."""
    register = folder / "hundred"
    paths = [van_in(register, f"van-{number:02}") for number in range(100)]
    load = "C load of a hundred files"
    bare = Process(load, (sys.executable, "-c", LOAD, *map(str, paths)), load)
    inspect = (*SPECREG, "inspect", str(register))
    first = Process("inspect of a hundred, nothing kept of them", inspect, load)
    found = {load: taken(bare, settings, 0), first.name: taken(first, settings, 0)}
    again = [
        Process("inspect of a hundred, none changed", inspect, load),
        Process("inspect of a hundred, one changed", inspect, load, before=changed(paths[50])),
    ]
    found |= medians(again, settings, 3)
    told([bare, first, *again], found)


def thousand(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure a register of a thousand vans of forty things each: inspect and find."""
    register = folder / "thousand"
    many_builds(register, 1000)
    bare = Process("start of Python", (sys.executable, "-c", ""), "start of Python")
    found = {bare.name: taken(bare, settings, 0)}

    def another(number: int) -> None:
        name = f"van-{number:04}"
        (register / name / "spec.yaml").write_text(spec(name, number + 1), encoding="utf-8")

    processes = [bare]
    for name, words in {"find": ("kind=pump",), "inspect": ()}.items():
        command = (*SPECREG, name, str(register), *words)
        first = Process(f"{name} in a thousand, nothing kept", command, bare.name)
        found[first.name] = taken(first, settings, 0)
        again = [
            Process(f"{name} in a thousand, none changed", command, bare.name),
            Process(f"{name} in a thousand, one changed", command, bare.name, before=another),
        ]
        found |= medians(again, settings, 3)
        processes += [first, *again]
    told(processes, found)


def site(folder: Path, settings: Mapping[str, str]) -> None:
    """Measure the owner's site of one van, and what each of its pages takes."""
    bare = "inspect, rules kept"
    for build in ("pocket", "fieldwork"):
        register = folder / f"register-{build}"
        shutil.copytree(
            ROOT / "builds",
            register,
            ignore=shutil.ignore_patterns(
                *({"pocket", "fieldwork", "winter-tourer", "second-hand"} - {build})
            ),
        )
        into = folder / f"site-{build}"
        publish = (*SPECREG, "publish", str(register / build), "--reader", "owner", "--into", str(into))
        edit = changed(register / build / "spec.yaml")
        processes = [
            Process(bare, (*SPECREG, "inspect", str(register / build)), bare, before=edit),
            Process(f"publish {build} for its owner", publish, bare),
        ]
        found = medians(processes, settings, 3)
        told(processes, found)
        pages = len(list(into.rglob("*.html")))
        more = found[processes[1].name].seconds - found[bare].seconds
        print(f"{pages} pages, {more / pages * 1000:.0f} ms each beyond the inspection", flush=True)


PARTS = {part.__name__: part for part in (start, demo, large, growth, hundred, thousand, site)}


def main(asked: Sequence[str]) -> None:
    """Measure and print the ratios."""
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    for name in asked or PARTS:
        with tempfile.TemporaryDirectory() as made:
            folder = Path(made)
            settings = {
                "PYTHONDONTWRITEBYTECODE": "",
                "PYTHONPYCACHEPREFIX": str(folder / "bytecode"),
                "PYTHONPATH": str(ROOT),
                "XDG_CACHE_HOME": str(folder / "cache"),
            }
            print(f"\n{name}: {(PARTS[name].__doc__ or '').splitlines()[0]}", flush=True)
            PARTS[name](folder, settings)
    print(f"\nload of the machine, of {os.cpu_count()} processors: {os.getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main(sys.argv[1:])
