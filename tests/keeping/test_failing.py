"""What the system refuses, at the command line: one line that names what, why and what to do; code 2; no traceback."""

from __future__ import annotations

import errno
import os
import re
import resource
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from points import Ended, held, hidden, run
from trials import UNREADABLE, refused, trial
from writers import WRITERS, Words, prepare

pytestmark = pytest.mark.skipif(os.name != "posix", reason="forks and limits of POSIX")

SAID = re.compile(r"(specreg|[\w./-]+:\d+:\d+): problem: \S.+", re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A register of two vans with an owner's file, a rule and a procedure of its own, and two tables."""
    folder = tmp_path / "of"
    folder.mkdir()
    prepare(folder, WRITERS["schedule --assign in a register"], lambda one, words: run(one, words).code)
    for name, text in EXTRA.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")
    return folder


EXTRA = {
    "sheet.csv": "on,serial\nwater-pump,LP-77\n",
    "stock.csv": "id,kind,power,supply voltage\npump-b,pump,40 W,12 V\n",
    "accepted.yaml": "format: 1\nfindings: []\n",
    "vans/heron/procedures/water.md": "# Water\n\nOpen the tap.\n",
    "vans/parts/pumps.yaml": "pump-a: {kind: pump, power: 60 W, supply_voltage: 12 V}\n",
    "vans/recalls/pump.yaml": "title: T\nsource: S\ndate: 2026-05-02\naffects: [{part: pump-a}]\ndo: Stop.\n",
}


def said_well(ended: Ended, *words: str) -> None:
    """A problem was told, as a problem."""
    assert ended.code == UNREADABLE, (ended.printed, ended.said)
    assert "fault of its own" not in ended.said and "Traceback" not in ended.said
    assert any(SAID.match(line) for line in ended.said.splitlines()), ended.said
    for word in words:
        assert word in ended.said, ended.said


@pytest.mark.parametrize(
    "code", [errno.EACCES, errno.EDQUOT, errno.EIO, errno.EROFS], ids=errno.errorcode.get
)
@pytest.mark.parametrize("name", ["rules --into", "record tests", "start a register"])
def test_each_refusal_has_its_reason(name: str, code: int, tmp_path: Path) -> None:
    """A read-only folder, no rights, a full share, a failing disk."""
    of = trial(tmp_path / "of", name)
    assert os.strerror(code) in refused(of, of.points[0], code).said


@pytest.mark.parametrize("name", ["inspect --output", "accept", "start a register"])
def test_a_real_limit_of_the_system(name: str, tmp_path: Path) -> None:
    """No file may be longer than some bytes: what would be is named, and what stood there stays."""
    of = trial(tmp_path / "of", name)
    folder = of.copy("limited")
    ended = run(folder, of.writer.words, setup=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (900, 900)))
    said_well(ended, "cannot be written: File too large; make room")
    assert held(folder) == of.old
    assert hidden(folder) == []


IN_THE_WAY: dict[str, tuple[Words, str]] = {
    "a folder in place of a file": (("inspect", "vans", "--output", "vans"), "vans cannot be written: Is a directory"),
    "a file in place of a folder": (
        ("publish", "vans/heron", "--reader", "owner", "--into", "sheet.csv"), "sheet.csv is a file",
    ),
    "a file on the way to a folder": (
        ("publish", "vans/heron", "--reader", "owner", "--into", "sheet.csv/site"), "Not a directory",
    ),
    "a file on the way to a file": (("inspect", "vans", "--output", "sheet.csv/out"), "Not a directory"),
    "a file on the way to a register": (("start", "sheet.csv/new"), "Not a directory"),
    "a file where notices should lie": (
        ("find", "vans", "--recall", "pump", "--notices", "sheet.csv"), "sheet.csv cannot be written",
    ),
    "a file where parts should lie": (
        ("order", "vans/heron", "--import", "stock.csv", "--write"), "problem",
    ),
    "no such folder": (("inspect", "vans", "--output", "nowhere/out"), "No such file or directory; name a file"),
    "a record in no folder": (("accept", "vans", "--into", "nowhere/out"), "No such file or directory; name a file"),
    "a name that is too long": (
        ("inspect", "vans", "--output", "x" * 300), "File name too long; give a shorter name",
    ),
    "a folder's name that is too long": (("start", "x" * 300), "File name too long; give a shorter name"),
    "a way that is too long": (("inspect", "x/" * 3000), "File name too long"),
    "somebody's folder": (
        ("publish", "vans/heron", "--reader", "owner", "--into", "vans"), "vans holds files that specreg did not write",
    ),
    "the folder that one stands in": (("start", "."), ". is not empty"),
    "a table that is a folder": (("order", "vans", "--import", "vans"), "vans cannot be read: Is a directory"),
    "a record that is a folder": (("accept", "vans", "--into", "vans"), "vans cannot be read: Is a directory"),
}  # fmt: skip


@pytest.mark.parametrize("name", sorted(IN_THE_WAY))
def test_what_stands_in_the_way_is_named_and_stays(name: str, folder: Path) -> None:
    """Nothing of it is written over or taken away."""
    words, said = IN_THE_WAY[name]
    if "parts" in name:
        for path in (folder / "vans" / "parts").iterdir():
            path.unlink()
        (folder / "vans" / "parts").rmdir()
        (folder / "vans" / "parts").write_text("no folder", encoding="utf-8")
    before = held(folder)
    said_well(run(folder, words), said)
    assert held(folder) == before
    assert hidden(folder) == []


def read_fails(name: str, code: int) -> Callable[[], None]:
    """Let the reading of one file fail, or, with ENOENT, let it vanish just before it is read."""

    def setup() -> None:
        def hear(event: str, args: tuple[object, ...]) -> None:
            if event == "open" and isinstance(args[0], str | bytes) and os.fsdecode(args[0]).endswith(name):
                if code == errno.ENOENT:
                    Path(os.fsdecode(args[0])).unlink(missing_ok=True)
                else:
                    raise OSError(code, os.strerror(code), args[0])

        sys.addaudithook(hear)

    return setup


READS: dict[str, Words] = {
    "vans/heron/spec.yaml": ("inspect", "vans"),
    "vans/register.yaml": ("inspect", "vans"),
    "vans/parts/pumps.yaml": ("inspect", "vans"),
    "pack/dc/battery-large-enough.md": ("inspect", "vans"),
    "vans/recalls/pump.yaml": ("find", "vans", "--recall", "pump"),
    "site/templates/page.html": ("publish", "vans/heron", "--reader", "owner", "--into", "site"),
    "site/book.css": ("labels", "vans/heron", "--into", "labels.html"),
    "sheet.csv": ("record", "vans/heron", "sheet.csv", "--write"),
    "stock.csv": ("order", "vans", "--import", "stock.csv", "--write"),
    "accepted.yaml": ("inspect", "vans", "--accepted", "accepted.yaml"),
    "specreg/starter/register.yaml": ("start", "new"),
    "vans/heron/designations.yaml": ("schedule", "vans/heron", "--assign"),
}
"""What is read, with a command that reads it."""


@pytest.mark.parametrize("code", [errno.EACCES, errno.EIO], ids=errno.errorcode.get)
@pytest.mark.parametrize("name", sorted(READS))
def test_what_cannot_be_read_is_named(name: str, code: int, folder: Path) -> None:
    """A failing disk, no rights: the file, the reason; nothing is written."""
    if name.endswith("designations.yaml"):
        (folder / name).write_text("water-pump: -G7\n", encoding="utf-8")
    if name.endswith("book.css"):
        assert run(folder, ("schedule", "vans/heron", "--assign")).code == 0
    before = held(folder)
    said_well(run(folder, READS[name], setup=read_fails(name, code)), Path(name).name, os.strerror(code))
    assert held(folder) == before


VANISHES = sorted(
    name for name in READS if not name.startswith(("site", "specreg")) and "designations" not in name
)
"""What a person may take away meanwhile, and is missed."""


@pytest.mark.parametrize("name", VANISHES)
def test_what_vanishes_while_it_is_read_is_named(name: str, folder: Path) -> None:
    """Listed a moment ago, and gone."""
    ended = run(folder, READS[name], setup=read_fails(name, errno.ENOENT))
    assert not (folder / name).exists()
    said_well(ended, Path(name).name)


def stream(number: int, path: str | None) -> Callable[[], None]:
    """Let a stream of the process be another file, or a pipe that nobody reads, or closed."""

    def setup() -> None:
        name = {1: "stdout", 2: "stderr"}[number]
        if path == "closed":
            setattr(sys, name, None)
            return
        if path is None:
            here, there = os.pipe()
            os.close(here)
        else:
            there = os.open(path, os.O_WRONLY)
        os.dup2(there, number)
        setattr(sys, name, os.fdopen(number, "w", closefd=False))

    return setup


FULL = "/dev/full"
PRINTS: tuple[Words, ...] = (
    ("inspect", "vans"), ("--help",), ("--version",), ("rules",), ("figures", "vans/heron"),
    ("publish", "vans/heron", "--reader", "owner", "--into", "site"),
)  # fmt: skip


@pytest.mark.parametrize("words", PRINTS, ids=lambda words: words[0])
def test_a_full_place_for_the_answer_is_told(words: Words, folder: Path) -> None:
    """`specreg inspect vans > file` on a full disk must not look as if it had been written."""
    if not Path(FULL).exists():
        pytest.skip("a device of Linux")
    ended = run(folder, words, setup=stream(1, FULL))
    said_well(ended, "No space left on device; make room")


@pytest.mark.parametrize("path", [None, "closed"], ids=["nobody reads", "closed"])
@pytest.mark.parametrize("words", PRINTS, ids=lambda words: words[0])
def test_an_answer_that_nobody_reads_is_no_trouble(words: Words, path: str | None, folder: Path) -> None:
    """`specreg inspect vans | head -1`, `>&-`: what is written is written all the same."""
    ended = run(folder, words, setup=stream(1, path))
    assert ended.code in (0, 1)
    assert "problem" not in ended.said and "fault" not in ended.said
    assert words[0] != "publish" or (folder / "site" / "index.html").is_file()


@pytest.mark.parametrize("path", [None, "closed", FULL], ids=["nobody reads", "closed", "full"])
def test_remarks_that_nobody_reads_are_no_trouble(path: str | None, folder: Path) -> None:
    """The answer comes all the same."""
    ended = run(folder, ("schedule", "vans/heron", "--assign"), setup=stream(2, path))
    assert ended.code == 0
    assert "heron" in ended.printed
    assert (folder / "vans" / "heron" / "designations.yaml").is_file()
