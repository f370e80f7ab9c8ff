"""One process that makes every run in the surroundings that it is given, and writes what came of each.

`python child.py REQUEST.json`: hash seed, language, time zone and switches of Python come with the process;
folder, order of listings, mask of new files, order of runs and line endings are in the request.
"""

from __future__ import annotations

import gc
import io
import json
import locale
import os
import random
import shutil
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))

from runs import Run

MASK = 0o022
COLLECTING = 8
"""Runs between two searches for what is no longer used."""


@dataclass(frozen=True)
class Request:
    """What a process is to do: the runs, the register to run on, where to work and where to tell."""

    base: str
    work: str
    told: str
    runs: tuple[Run, ...]
    van: str
    other: str
    component: str
    shuffle: int = 0
    mask: int = MASK
    backwards: bool = False

    def text(self) -> str:
        """Return it as it is handed over."""
        return json.dumps(asdict(self))


def request_of(text: str) -> Request:
    """Read a request back."""
    data = json.loads(text)
    runs = [Run(**{**one, "before": tuple(one["before"])}) for one in data.pop("runs")]
    return Request(runs=tuple(runs), **data)


class Listing:
    """What `os.scandir` returns, in another order."""

    def __init__(self, entries: Iterator[Any], draw: random.Random) -> None:
        self._entries = list(entries)
        draw.shuffle(self._entries)
        self._next = iter(self._entries)

    def __iter__(self) -> Listing:
        return self

    def __next__(self) -> Any:
        return next(self._next)

    def __enter__(self) -> Listing:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Nothing is held open."""


def shuffle_listings(draw: random.Random) -> None:
    """Let every listing of a folder come in an order of its own; file systems promise none."""
    scandir, listdir = os.scandir, os.listdir

    def shuffled_scandir(*args: Any) -> Any:
        with scandir(*args) as found:
            return Listing(found, draw)

    def shuffled_listdir(*args: Any) -> Any:
        found = listdir(*args)
        draw.shuffle(found)
        return found

    os.scandir = shuffled_scandir  # type: ignore[assignment]
    os.listdir = shuffled_listdir  # type: ignore[assignment]


REACHED: list[str] = []
"""What the runs reached out for: hosts, addresses, programs other than git."""


def watch(event: str, details: tuple[Any, ...]) -> None:
    """Write down what leads out of the process; Python tells of it whoever asks for it."""
    if event in (
        "socket.connect",
        "socket.bind",
        "socket.getaddrinfo",
        "socket.gethostbyname",
        "urllib.Request",
    ):
        REACHED.append(f"{event} {details[1:]}")
    elif event in ("os.system", "os.exec", "os.posix_spawn") or (
        event == "subprocess.Popen" and Path(str(details[0])).name != "git"
    ):
        REACHED.append(f"{event} {details[0]}")


def called(words: list[str]) -> tuple[int, bytes, bytes]:
    """Run the program as its own `main` does, with streams as a pipe has them; code, output and messages."""
    from specreg.cli import main

    bare = io.BytesIO(), io.BytesIO()
    out, err = (io.TextIOWrapper(one, encoding=locale.getpreferredencoding(False)) for one in bare)
    was = sys.argv, sys.stdout, sys.stderr
    sys.argv, sys.stdout, sys.stderr = ["specreg", *words], out, err
    code: object = None
    try:
        main()
    except SystemExit as end:
        code = end.code
    finally:
        sys.argv, sys.stdout, sys.stderr = was
    out.flush()
    err.flush()
    return (code if isinstance(code, int) else 0), bare[0].getvalue(), bare[1].getvalue()


def fill(file: str, column: str, value: str) -> None:
    """Write a value into the first free cell of a column of a sheet, as somebody at the van would."""
    import csv

    path = Path(file)
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
    if column not in rows[0]:
        return
    at = rows[0].index(column)
    for row in rows[1:]:
        if not row[at]:
            row[at] = value
            break
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows(rows)
    path.write_text(out.getvalue(), encoding="utf-8", newline="\n")


def files_below(folder: Path) -> dict[str, tuple[str, int]]:
    """Return the digest and the mode of every file below a folder, by its path; git's own are left out."""
    found = {}
    for home, folders, names in os.walk(folder):
        folders[:] = [name for name in folders if name != ".git"]
        for name in names:
            path = Path(home) / name
            mark = sha256(path.read_bytes()).hexdigest()
            found[path.relative_to(folder).as_posix()] = (mark, path.stat().st_mode & 0o777)
    return found


class Work:
    """The folders in which runs are made, and where what came of them is told."""

    def __init__(self, request: Request) -> None:
        self._request = request
        self._told = Path(request.told)
        self._count = 0
        self._shared = self._fresh()
        self._untouched = files_below(self._shared / "vans")

    def _fresh(self) -> Path:
        self._count += 1
        folder = Path(self._request.work) / str(self._count)
        folder.mkdir(parents=True)
        shutil.copytree(self._request.base, folder / "vans")
        table = "part,kind,title,price,supplier\nfan-a,roof-fan,A fan,31 GBP,camping\nfan-b,,Another,29 GBP,camping\n"
        (folder / "list.csv").write_text(table, encoding="utf-8", newline="\n")
        return folder

    def make(self, number: int, run: Run) -> None:
        """Make one run and tell its code, its streams and every file that it wrote."""
        folder = self._fresh() if run.writes else self._shared
        os.chdir(folder)
        os.environ.update(run.environment)
        for line in run.before:
            self._prepare(line)
        before = files_below(folder)
        os.umask(self._request.mask)
        code, out, err = called(self._named(run.words) if "--completion" not in run.line else [])
        os.umask(MASK)
        for name in run.environment:
            del os.environ[name]
        after = files_below(folder)
        told = self._told / f"{number:03}"
        told.mkdir(parents=True)
        (told / "code").write_text(f"{run.line}\nends with {code}\n", encoding="utf-8")
        (told / "out").write_bytes(out)
        (told / "err").write_bytes(err)
        gone = sorted(before.keys() - after.keys())
        changed = [name for name, (mark, _) in sorted(after.items()) if before.get(name, ("",))[0] != mark]
        (told / "reached").write_text("\n".join(REACHED), encoding="utf-8")
        REACHED.clear()
        (told / "gone").write_text("\n".join(gone), encoding="utf-8")
        (told / "modes").write_text(self._modes(before, after, changed), encoding="utf-8")
        for name in changed:
            copy = told / "files" / name
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes((folder / name).read_bytes())
        self._tidy(folder, run, changed)
        if number % COLLECTING == 0:  # the program itself looks for no cycles: it ends within seconds
            gc.unfreeze()
            gc.collect()

    def _named(self, words: list[str]) -> list[str]:
        names = {"VAN": self._request.van, "OTHER": self._request.other, "COMPONENT": self._request.component}
        return [names_in(word, names) for word in words]

    def _prepare(self, line: str) -> None:
        words = self._named(Run(line).words)
        if words[0] == "--fill":
            fill(*words[1:])
        else:
            code, _, err = called(words)
            assert code in (0, 1), f"{line}: {err.decode()}"

    def _modes(
        self,
        before: Mapping[str, tuple[str, int]],
        after: Mapping[str, tuple[str, int]],
        changed: list[str],
    ) -> str:
        """Return the files whose mode is neither what it was nor, of a new one, what the mask leaves."""
        new = 0o666 & ~self._request.mask
        wanted = {name: before[name][1] if name in before else new for name in changed}
        wrong = [
            f"{name} {after[name][1]:o}, not {mode:o}"
            for name, mode in wanted.items()
            if after[name][1] != mode
        ]
        return "\n".join(wrong)

    def _tidy(self, folder: Path, run: Run, changed: list[str]) -> None:
        """Take away what a run wrote, so that the next finds what the first found."""
        if run.writes:
            os.chdir(folder.parent)
            shutil.rmtree(folder)
            return
        for name in {name.partition("/")[0] for name in changed} | {"accepted.yaml"}:
            path = folder / name
            if name != "vans" and path.is_dir():
                shutil.rmtree(path)
            elif name not in ("vans", "list.csv"):
                path.unlink(missing_ok=True)
        assert files_below(folder / "vans") == self._untouched, f"{run.line} changed the register"


def names_in(word: str, names: Mapping[str, str]) -> str:
    """Return a word with the names of the vans in their places."""
    for short, name in names.items():
        word = word.replace(short, name)
    return word


def main() -> None:
    """Make every run of a request."""
    request = request_of(Path(sys.argv[1]).read_text(encoding="utf-8"))
    locale.setlocale(locale.LC_ALL, "" if _there() else "C")
    os.umask(MASK)
    work = Work(request)
    sys.addaudithook(watch)
    if request.shuffle:
        shuffle_listings(random.Random(request.shuffle))
    numbered = list(enumerate(request.runs))
    for number, run in reversed(numbered) if request.backwards else numbered:
        begun = time.process_time()
        work.make(number, run)
        print(f"{time.process_time() - begun:.2f} s  specreg {run.line}")


def _there() -> bool:
    """Tell whether the language that the environment asks for is installed."""
    try:
        locale.setlocale(locale.LC_ALL, "")
    except locale.Error:
        return False
    return True


if __name__ == "__main__":
    main()
