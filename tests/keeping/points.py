"""A command in a child process that stops at every point at which something is written, moved or taken away.

The child is forked from a process that has read everything in already; it is told of each operation on files just before
that happens, and can be killed there, refused, interrupted, or looked at.
"""

from __future__ import annotations

import os
import re
import signal
import sys
import traceback
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from tempfile import TemporaryDirectory
from typing import Any, NoReturn

from small_register import write_build, write_rules

import specreg
from specreg import shipped, writing
from specreg.cli import main
from specreg.facts.engine import Facts
from specreg.rules.pack import load_pack
from specreg.workshop import figures, inspect, load

ROOT = Path(__file__).parents[2]

ALTERS = {
    "os.rename": 0,
    "os.remove": 0,
    "os.mkdir": 0,
    "os.rmdir": 0,
    "os.chmod": 0,
    "os.truncate": 0,
    "os.link": 1,
}
"""Events that tell of a change to the file system (PEP 578), with where their path stands."""

WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC


@dataclass(frozen=True)
class Point:
    """What is about to happen; `half`: the first half of what is to be written has been."""

    number: int
    what: str

    def __str__(self) -> str:
        return f"{self.number} ({self.what})"


At = Callable[[Point], None]
Words = tuple[str, ...]


@dataclass(frozen=True)
class Ended:
    """How a child ended: its exit code (negative: the signal that killed it), what it printed, its points."""

    code: int
    printed: str
    said: str
    points: tuple[Point, ...]


@cache
def warm() -> None:
    """Read everything in that commands ask for, once for all children."""
    for module in walk_packages(specreg.__path__, "specreg."):
        if module.name != "specreg.__main__":
            import_module(module.name)
    with TemporaryDirectory() as name:
        folder = Path(name)
        write_build(folder / "vans")
        pack, _ = load_pack(write_rules(folder / "pack"), "rules")
        opened = load(folder / "vans")
        for build in opened.sound:
            inspect(build, pack)
            list(figures(Facts(build)))


def nothing(point: Point) -> None:
    """Let it go on."""


@dataclass(frozen=True)
class Running:
    """A child that runs; what it says lies in a folder beside that of its command."""

    child: int
    beside: Path

    def said(self) -> str:
        """What it has said so far on standard error."""
        return (self.beside / "said").read_text(encoding="utf-8")

    def end(self) -> Ended:
        """Wait until it has ended."""
        _, status = os.waitpid(self.child, 0)
        told = (self.beside / "points").read_text(encoding="utf-8").splitlines()
        return Ended(
            os.waitstatus_to_exitcode(status),
            (self.beside / "printed").read_text(encoding="utf-8"),
            self.said(),
            tuple(Point(number, what) for number, what in enumerate(told, 1)),
        )


def run(folder: Path, words: Words, at: At = nothing, setup: Callable[[], None] = lambda: None) -> Ended:
    """Run a command in a folder, in a child of this process, to its end."""
    return begin(folder, words, at, setup).end()


def begin(
    folder: Path, words: Words, at: At = nothing, setup: Callable[[], None] = lambda: None, name: str = "said"
) -> Running:
    """Begin a command in a folder, in a child of this process."""
    warm()
    beside = folder.with_name(f"{folder.name}-{name}")
    beside.mkdir(exist_ok=True)
    for one in ("points", "printed", "said"):
        (beside / one).write_text("", encoding="utf-8")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # other threads of a test runner take no part
        child = os.fork()
    if child == 0:
        _be(folder, words, at, setup, beside)
    return Running(child, beside)


def _be(folder: Path, words: Words, at: At, setup: Callable[[], None], beside: Path) -> NoReturn:
    """Be the child, and never come back into the test runner."""
    code = 70
    try:
        for stream, name in ((1, "printed"), (2, "said")):
            os.dup2(os.open(beside / name, os.O_WRONLY | os.O_TRUNC), stream)
        sys.stdout, sys.stderr = os.fdopen(1, "w", closefd=False), os.fdopen(2, "w", closefd=False)
        os.chdir(folder)
        sys.argv = ["specreg", *words]
        os.environ["SPECREG_NO_CACHE"] = "1"
        shipped.rules_folder = lambda: folder / "pack"
        signal.signal(signal.SIGINT, signal.default_int_handler)
        for sent in (signal.SIGTERM, signal.SIGHUP):  # who runs the tests may have switched one off
            signal.signal(sent, signal.SIG_DFL)
        setup()
        _watch(folder, at, beside)
        code = _code_of_main()
        for written in (sys.stdout, sys.stderr):
            written.flush()
    finally:
        os._exit(code)


def _code_of_main() -> int:
    try:
        main()
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else int(ended.code is not None)
    except BaseException:
        traceback.print_exc()
        return 70


def _watch(folder: Path, at: At, beside: Path) -> None:
    log = os.open(beside / "points", os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o644)
    write, sync, exchanged = os.write, os.fsync, writing._exchanged
    home = os.path.realpath(folder) + os.sep
    number, busy = 0, False

    def tell(what: str) -> None:
        nonlocal number, busy
        if busy:
            return
        busy, number = True, number + 1
        try:
            write(log, f"{what}\n".encode())
            at(Point(number, what))
        finally:
            busy = False

    def hear(event: str, args: tuple[Any, ...]) -> None:
        if event == "open" and isinstance(args[2], int) and args[2] & WRITES:
            path = args[0]
        elif event in ALTERS:
            path = args[ALTERS[event]]
        else:
            return
        if isinstance(path, int | None):
            return
        whole = os.path.realpath(os.fsdecode(path))
        below_a_folder = event in ("os.remove", "os.rmdir") and args[1] not in (-1, None)
        if whole.startswith(home) or below_a_folder:
            tell(f"{event} {whole.removeprefix(home) if not below_a_folder else os.fsdecode(path)}")

    def half(handle: int, data: bytes) -> int:
        tell("write")
        done = write(handle, bytes(data)[: len(data) // 2]) if len(data) > 1 else 0
        tell("write the rest") if done else None
        return done + write(handle, bytes(data)[done:])

    def synced(handle: int) -> None:
        tell("os.fsync")
        sync(handle)

    def swapped(one: Path, other: Path) -> bool:
        tell("exchange")
        return exchanged(one, other)

    os.write, os.fsync, writing._exchanged = half, synced, swapped  # type: ignore[assignment]
    sys.addaudithook(hear)


def kill(number: int) -> At:
    """Kill the child at a point, as nothing can be done against."""
    return _send(number, signal.SIGKILL)


def _send(number: int, sent: signal.Signals) -> At:
    def at(point: Point) -> None:
        if point.number == number:
            os.kill(os.getpid(), sent)

    return at


def stop(number: int, sent: signal.Signals) -> At:
    """Send the child a signal at a point."""
    return _send(number, sent)


def refuse(number: int, code: int, for_good: bool = True) -> At:
    """Let what would write fail at a point and, `for_good`, at all points after it; taking away still works."""

    def at(point: Point) -> None:
        wanted = point.number >= number if for_good else point.number == number
        if wanted and not point.what.startswith(("os.remove", "os.rmdir", "exchange")):
            raise OSError(code, os.strerror(code))

    return at


Files = dict[str, bytes]

FROM = re.compile(rb"  # \S+:\d+$", re.MULTILINE)
"""Where a value came from: a file that is frozen again has other lines."""


def held(folder: Path) -> Files:
    """What a person sees in a folder: its files by path, hidden ones left out."""
    found = {}
    for path in sorted(folder.rglob("*")):
        below = path.relative_to(folder)
        if path.is_file() and not any(part.startswith(".") for part in below.parts):
            data = path.read_bytes()
            found[below.as_posix()] = FROM.sub(b"", data) if path.name == "as-built.yaml" else data
    return found


def hidden(folder: Path) -> list[str]:
    """What lies hidden in a folder, but for what belongs there."""
    paths = (path.relative_to(folder) for path in folder.rglob(".*"))
    ours = {".gitignore", ".rules-by-specreg"}
    return sorted(
        path.as_posix()
        for path in paths
        if path.name not in ours and not any(part.startswith(".") for part in path.parts[:-1])
    )


def between(seen: Files, old: Files, new: Files) -> bool:
    """Tell whether each file is as it was before or as it is afterwards: none of them is half written."""
    return all(seen.get(name) in (old.get(name), new.get(name)) for name in {*seen, *old, *new})
