"""Surroundings that must not show in what a command gives, and how two sets of answers differ."""

from __future__ import annotations

import difflib
import os
import shutil
import subprocess
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from child import Request
from PIL import Image
from runs import Run

ROOT = Path(__file__).parents[2]
CHILD = Path(__file__).with_name("child.py")
SHOWN = 12
"""Lines of a difference that are shown."""

LATER = """\
components:
  spare-alarm: {kind: smoke-alarm, title: Rauchmelder ıİßé, at: [1300 mm, 0 mm, 1100 mm], mass: 150 g, fixed_to: body}
"""
"""What the working tree says beyond the last commit, with letters on which languages differ."""

PRIVATE = "components: {spare-alarm: {serial: CANARY-1}}\n"
PICTURED = """\
records: {photos: [{file: picture.jpg, shows: [spare-alarm, attic-alarm], at: hand-over}]}
components:
  attic-alarm: {kind: smoke-alarm, title: Alarm above, at: [1400 mm, 0 mm, 1100 mm], mass: 140 g, fixed_to: body}
"""


@dataclass(frozen=True)
class Surroundings:
    """What differs between two machines, two users and two days, all of it at once."""

    name: str
    environment: Mapping[str, str] = field(default_factory=dict)
    shuffle: int = 0
    mask: int = 0o022
    backwards: bool = False
    carriage_returns: bool = False
    deep: str = "work"
    kept: bool = False


BARE = Surroundings(
    "bare",
    {
        "PYTHONHASHSEED": "0",
        "TZ": "Pacific/Pago_Pago",
        "LC_ALL": "C",
        "PYTHONCOERCECLOCALE": "0",
        "PYTHONUTF8": "0",
    },
    kept=True,
)
"""No language, no letters beyond ASCII, and always a day behind the other."""

FAR = Surroundings(
    "far",
    {"PYTHONHASHSEED": "4711", "TZ": "Pacific/Kiritimati", "LC_ALL": "tr_TR.UTF-8", "PYTHONOPTIMIZE": "1"},
    shuffle=3,
    mask=0o077,
    backwards=True,
    deep="another place/ıİ/of it",
    kept=True,
)
"""Where the day begins first and I is no capital of i, on a file system that lists as it likes."""


def environment_of(one: Surroundings, home: Path) -> dict[str, str]:
    """The environment of a process: nothing of the caller's but where its programs are."""
    cache = {"SPECREG_NO_CACHE": "1"} if not one.kept else {}
    taken = {
        name: os.environ[name] for name in ("PATH", "SYSTEMROOT", "LD_LIBRARY_PATH") if name in os.environ
    }
    paths = {"HOME": str(home), "XDG_CACHE_HOME": str(home / "cache"), "PYTHONPATH": str(ROOT)}
    return {**taken, **paths, **cache, "GIT_CONFIG_GLOBAL": os.devnull, **one.environment}


def prepared(folder: Path, builds: Iterable[str], *, carriage_returns: bool = False) -> Path:
    """A register of some demo vans in git, with more in its files than was committed."""
    shutil.copytree(
        ROOT / "builds",
        folder,
        ignore=lambda home, names: [
            name for name in names if (Path(home) / name / "spec.yaml").is_file() and name not in builds
        ],
    )
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            path.chmod(0o644)
            data = path.read_bytes()
            path.write_bytes(data.replace(b"\n", b"\r\n") if carriage_returns else data)
    who = {
        f"GIT_{one}_{what}": "a@example.invalid"
        for one in ("AUTHOR", "COMMITTER")
        for what in ("NAME", "EMAIL")
    }
    when = {f"GIT_{one}_DATE": "2026-11-20T12:00:00Z" for one in ("AUTHOR", "COMMITTER")}
    settings = {**os.environ, **who, **when, "GIT_CONFIG_GLOBAL": os.devnull}
    for words in (("init", "-q", "-b", "main"), ("add", "."), ("commit", "-q", "-m", "as it was")):
        subprocess.run(("git", "-c", "core.autocrlf=false", *words), cwd=folder, check=True, env=settings)
    end = "\r\n" if carriage_returns else "\n"
    for name in builds:
        for file, text in (("later", LATER), ("private", PRIVATE), ("pictured", PICTURED)):
            (folder / name / f"{file}.yaml").write_bytes(text.replace("\n", end).encode())
        picture(folder / name / "picture.jpg")
    return folder


def picture(path: Path) -> None:
    """An invented photograph: stripes."""
    Image.linear_gradient("L").resize((1200, 900)).convert("RGB").save(path, "JPEG")


def answers(one: Surroundings, runs: tuple[Run, ...], builds: tuple[str, ...], home: Path) -> Path:
    """Make all runs in one process in such surroundings; the folder in which it is told what came of them."""
    place = home / one.name
    base = prepared(place / "base", builds, carriage_returns=one.carriage_returns)
    told = place / "told"
    request = Request(
        base=str(base),
        work=str(place / one.deep),
        told=str(told),
        runs=runs,
        van=builds[0],
        other=builds[-1],
        component="spare-alarm",
        shuffle=one.shuffle,
        mask=one.mask,
        backwards=one.backwards,
    )
    (place / "request.json").write_text(request.text(), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, str(CHILD), str(place / "request.json")],
        env=environment_of(one, place),
        cwd=place,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, f"{one.name}: {done.stderr[-3000:]}"
    (place / "times").write_text(done.stdout, encoding="utf-8")
    return told


def differences(one: Path, other: Path) -> list[str]:
    """Every answer that differs, with the run that gave it and the first lines that differ."""
    names = sorted(
        {path.relative_to(folder) for folder in (one, other) for path in folder.rglob("*") if path.is_file()}
    )
    return [text for name in names if (text := _difference(one / name, other / name, name, one))]


def _difference(one: Path, other: Path, name: Path, told: Path) -> str:
    line = (told / name.parts[0] / "code").read_text(encoding="utf-8").splitlines()[0]
    if not (one.is_file() and other.is_file()):
        return f"specreg {line}: only one of the two gave {'/'.join(name.parts[1:])}"
    left, right = one.read_bytes(), other.read_bytes()
    if left == right:
        return ""
    before, after = (data.decode("utf-8", "replace").splitlines(keepends=True) for data in (left, right))
    shown = [repr(part)[:300] for part in difflib.unified_diff(before, after, n=0)][2 : 2 + SHOWN]
    return "\n    ".join([f"specreg {line}: {'/'.join(name.parts[1:])} differs", *shown])


def told_by_a_path(told: Path, places: Iterable[str]) -> list[str]:
    """Answers in which a path of the machine stands."""
    found = []
    for path in sorted(path for path in told.rglob("*") if path.is_file()):
        data = path.read_bytes()
        found += [f"{path.relative_to(told)}: {place}" for place in places if place.encode() in data]
    return found
