"""How files and folders are written: whole, in their place, through no link, with the permissions that were there."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from specreg import writing
from specreg.source.inside import MOST_BYTES
from specreg.writing import (
    Refused,
    Unwritten,
    alone_in,
    folder_there,
    replace_files,
    snapshot,
    write_folder,
    write_new_folder,
    write_own,
    write_whole,
)

MARK = "ours.txt"
OLD: dict[str, str | bytes] = {MARK: "", "a.html": "old a", "gone.html": "old"}
NEW: dict[str, str | bytes] = {MARK: "", "a.html": "new a", "sub/b.html": "new b"}


def held(folder: Path) -> dict[str, str]:
    """Everything in a folder, hidden things too."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file() or path.is_symlink())
    return {path.relative_to(folder).as_posix(): path.read_text() for path in files}


def below(name: str, files: dict[str, str | bytes]) -> dict[str, str]:
    return {f"{name}/{path}": str(text) for path, text in files.items()}


@pytest.fixture
def elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """A system on which two folders cannot change places at once."""
    monkeypatch.setattr(writing, "_exchanged", lambda one, other: False)


class Killed(BaseException):
    """Stands for a kill: nothing of ours may run after it."""


def killed_at(number: int, monkeypatch: pytest.MonkeyPatch) -> Callable[[], bool]:
    """Let the renaming of that number, and all that follows, not happen any more; return whether it came so far."""
    count = [0]
    rename = os.rename

    def stop(*words: object, **named: object) -> None:
        raise Killed

    def renamed(*words: object, **named: object) -> None:
        count[0] += 1
        if count[0] >= number:
            raise Killed
        rename(*words, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "rename", renamed)
    monkeypatch.setattr(writing, "_clear", stop)
    return lambda: count[0] >= number


@pytest.mark.usefixtures("elsewhere")
@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_site_between_its_two_renamings_is_put_back(
    number: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where folders cannot change places at once: the earlier one stands beside, whole, and the next run finds it."""
    write_folder(tmp_path / "site", OLD, MARK)
    with monkeypatch.context() as patched, pytest.raises(Killed):
        come = killed_at(number, patched)
        patched.setattr(Path, "exists", _never_back(tmp_path / "site"))
        write_folder(tmp_path / "site", NEW, MARK)
    assert come()
    seen = held(tmp_path)
    there = {1: "site", 2: ".site.old", 3: ".site.old"}[number]
    assert below(there, OLD).items() <= seen.items()
    assert (number == 3) == (below("site", NEW).items() <= seen.items())

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched, pytest.raises(OSError, match="No space"):
        patched.setattr(writing, "_lay", full)
        write_folder(tmp_path / "site", NEW, MARK)
    assert held(tmp_path) == below("site", NEW if number == 3 else OLD)


def _never_back(site: Path) -> Callable[[Path], bool]:
    """After a kill nobody looks whether the site must be put back."""
    exists = Path.exists
    return lambda path: exists(path) or (path == site and path.with_name(f".{site.name}.old").is_dir())


@pytest.mark.usefixtures("elsewhere")
def test_a_refusal_between_the_two_renamings_puts_the_site_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What fails is no kill: the earlier site is there again at once, and nothing beside it."""
    write_folder(tmp_path / "site", OLD, MARK)
    rename = Path.rename

    def refuse(path: Path, target: Path) -> Path:
        if path.name == ".site.new":
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(Unwritten) as caught:
        write_folder(tmp_path / "site", NEW, MARK)
    assert caught.value.filename == str(tmp_path / "site")
    assert held(tmp_path) == below("site", OLD)


@pytest.mark.parametrize("way", ["at once", "by two renamings"])
def test_a_folder_takes_the_place_of_the_earlier_one(
    way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a whole, with its permissions; what an earlier run left beside is taken away."""
    if way == "by two renamings":
        monkeypatch.setattr(writing, "_exchanged", lambda one, other: False)
    write_folder(tmp_path / "site", OLD, MARK)
    (tmp_path / "site").chmod(0o770)
    for left in (".site.new", ".site.old"):
        (tmp_path / left / "sub").mkdir(parents=True)
        (tmp_path / left / "sub" / "page.html").write_text("half")
    write_folder(tmp_path / "site", NEW, MARK)
    assert held(tmp_path) == below("site", NEW)
    assert [path.name for path in tmp_path.iterdir()] == ["site"]
    assert (tmp_path / "site").stat().st_mode & 0o777 == 0o770


@pytest.mark.skipif(sys.platform != "linux", reason="Linux")
def test_on_linux_two_folders_change_places(tmp_path: Path) -> None:
    """There is no moment at which neither is there."""
    (tmp_path / "one").mkdir()
    (tmp_path / "other").mkdir()
    (tmp_path / "one" / "file").touch()
    if not writing._exchanged(tmp_path / "one", tmp_path / "other"):
        pytest.skip("this file system cannot")
    assert (tmp_path / "other" / "file").exists()
    assert not writing._exchanged(tmp_path / "one", tmp_path / "nowhere")


def test_folders_on_the_way_are_taken_away_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Those that were made for it, and no others."""
    (tmp_path / "there").mkdir()

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(writing, "_lay", full)
    site = tmp_path / "there" / "a" / "b" / "site"
    with pytest.raises(Unwritten):
        write_folder(site, NEW, MARK)
    with pytest.raises(Unwritten):
        write_new_folder(site, NEW)
    assert [path.name for path in tmp_path.rglob("*")] == ["there"]
    with pytest.raises(Killed), folder_there(tmp_path / "there" / "a"):
        raise Killed
    assert [path.name for path in tmp_path.rglob("*")] == ["there"]


@pytest.mark.parametrize("left", [".site.new", ".site.old", ".out.txt.new", ".new.new", ".kept.new"])
@pytest.mark.parametrize("kind", ["file", "folder"])
def test_a_link_at_a_hidden_name_is_not_followed(left: str, kind: str, tmp_path: Path) -> None:
    """Somebody may have put one there: what it leads to stays as it is."""
    victim = tmp_path / "victim"
    if kind == "folder":
        victim.mkdir()
        (victim / "a.html").write_text("precious")
    else:
        victim.write_text("precious")
    home = tmp_path / "home"
    write_folder(home / "site", OLD, MARK)
    (home / left).symlink_to(victim)
    write_folder(home / "site", NEW, MARK)
    write_whole(home / "out.txt", "out")
    write_new_folder(home / "new", {"spec.yaml": "new"})
    write_own(home / "kept", b"kept")
    assert (victim / "a.html" if kind == "folder" else victim).read_text() == "precious"
    assert not (home / left).is_symlink()


def test_a_file_of_a_register_is_not_written_through_a_link_out_of_it(tmp_path: Path) -> None:
    """A cloned register could have one, to nowhere yet or to a file of the user's."""
    home, outside = tmp_path / "vans", tmp_path / "profile"
    home.mkdir()
    (home / "stock.yaml").symlink_to(outside)
    with pytest.raises(Refused, match="is a link out of the register"):
        replace_files({home / "stock.yaml": b"x"}, {}, home)
    assert not outside.exists()
    (home / "parts").symlink_to(tmp_path)
    with pytest.raises(Refused, match="is a link out of the register"):
        replace_files({home / "parts" / "profile": b"x"}, {}, home)
    assert not outside.exists()


def test_what_came_to_be_meanwhile_is_not_replaced(tmp_path: Path) -> None:
    """A file that was not there, one that changed, one that is gone: each is a reason to write nothing."""
    for name in ("changed", "gone", "same"):
        (tmp_path / name).write_text("read")
    seen = snapshot(tmp_path / name for name in ("changed", "gone", "same", "new"))
    (tmp_path / "changed").write_text("edited")
    (tmp_path / "gone").unlink()
    (tmp_path / "new").write_text("somebody's")
    before = held(tmp_path)
    for name in ("changed", "gone", "new"):
        with pytest.raises(Refused, match=f"{name} has changed since it was read"):
            replace_files(
                {tmp_path / name: b"ours"}, {k: v for k, v in seen.items() if k.name == name}, tmp_path
            )
    assert held(tmp_path) == before
    replace_files({tmp_path / "same": b"ours"}, {tmp_path / "same": b"read"}, tmp_path)
    assert (tmp_path / "same").read_text() == "ours"


def test_a_snapshot_reads_no_pipe_and_nothing_huge(tmp_path: Path) -> None:
    """A register may come from anybody."""
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "folder").mkdir()
    with (tmp_path / "huge").open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    (tmp_path / "file").write_bytes(b"it")
    names = ("pipe", "folder", "huge", "file", "nowhere", "file/below")
    assert snapshot(tmp_path / name for name in names) == {tmp_path / "file": b"it"}


def test_permissions_stay_and_a_read_only_file_is_not_replaced(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whoever made it so had a reason; what only the user may read is never more open, not for a moment."""
    path = tmp_path / "file"
    path.write_text("old")
    path.chmod(0o600)
    seen = []
    write = os.write

    def look(handle: int, data: bytes) -> int:
        seen.append(os.fstat(handle).st_mode & 0o777)
        return write(handle, data)

    monkeypatch.setattr(os, "write", look)
    write_whole(path, "new")
    write_own(tmp_path / "own", b"own")
    assert seen == [0o600, 0o600]
    assert path.stat().st_mode & 0o777 == (tmp_path / "own").stat().st_mode & 0o777 == 0o600
    monkeypatch.setattr(os, "access", lambda *words: False)
    with pytest.raises(Unwritten, match="Permission denied"):
        write_whole(path, "newer")
    assert held(tmp_path) == {"file": "new", "own": "own"}


def test_a_name_as_long_as_can_be(tmp_path: Path) -> None:
    """What is laid beside has a name that fits."""
    name = "ü" * 120 + ".txt"
    write_whole(tmp_path / name, "it")
    write_folder(tmp_path / ("s" * 255), NEW, MARK)
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, "s" * 255])
    with pytest.raises(Unwritten, match="name too long"):
        write_whole(tmp_path / ("x" * 256), "it")


@pytest.mark.parametrize(
    ("write", "said"),
    [
        (lambda home: write_folder(home / "file", NEW, MARK), "is a file"),
        (lambda home: write_folder(home / "mine", NEW, MARK), "holds files that specreg did not write"),
        (lambda home: write_new_folder(home / "mine", NEW), "is not empty"),
        (lambda home: write_new_folder(home / "file", NEW), "is not empty"),
        (lambda home: write_whole(home / "mine", "x"), "Is a directory"),
        (lambda home: write_whole(home / "file" / "x", "x"), "Not a directory"),
        (lambda home: write_whole(home / "nowhere" / "x", "x"), "No such file or directory"),
        (lambda home: write_folder(home / "file" / "x", NEW, MARK), "Not a directory"),
    ],
)
def test_what_stands_in_the_way_stays(write: Callable[[Path], None], said: str, tmp_path: Path) -> None:
    """A file, somebody's folder, a folder in place of a file."""
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "a.html").write_text("mine")
    (tmp_path / "file").write_text("file")
    with pytest.raises((Refused, Unwritten), match=said):
        write(tmp_path)
    assert held(tmp_path) == {"file": "file", "mine/a.html": "mine"}


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("van/spec.yaml", True), ("van/new.yaml", True), ("register.yaml", True), ("parts/p.yaml", True), ("rules/dc/own.md", True),
        ("van/procedures/how.md", True), ("link.yaml", True), ("accepted.yaml", False), ("van/findings.sarif", False), ("van/page.md", False),
    ],
)  # fmt: skip
def test_an_answer_is_not_written_where_a_register_is_read_from(
    name: str, kept: bool, tmp_path: Path
) -> None:
    """A slip in the name of a file that is to be written took a spec away."""
    (tmp_path / "van").mkdir()
    (tmp_path / "van" / "spec.yaml").write_text("mine")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "van" / "spec.yaml")
    path = tmp_path / name
    path.parent.mkdir(parents=True, exist_ok=True)
    before = held(tmp_path)
    if kept:
        with pytest.raises(Refused, match="a register is read from"):
            write_whole(path, "answer")
        assert held(tmp_path) == before
    else:
        write_whole(path, "answer")
        assert path.read_text() == "answer"


def test_whoever_writes_already_may_write_on(tmp_path: Path) -> None:
    """A command holds the register while it writes files in it."""
    with alone_in(tmp_path) as outer, alone_in(tmp_path) as inner:
        assert outer == inner
        write_whole(tmp_path / "file", "it")
    with alone_in(tmp_path / "nowhere") as alone:
        assert not alone
