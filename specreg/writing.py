"""Files and folders written whole or not at all, by one run at a time.

Everything is laid beside its place first, under a hidden name such as `.site.new`, and then moved there. A
run that was killed leaves at most such a name behind, which the next run into the same place takes away.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path
from threading import get_ident

from specreg.source.inside import MOST_BYTES, leads_out
from specreg.source.listing import is_of_a_register

NEW, OLD = "new", "old"
"""What lies hidden beside its place: what is to come there, and what stood there before."""

LAY = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
"""How a file is begun: never through a link, never over what is there."""


Content = bytes | Iterable[bytes]
"""What a file is to hold, at once or part by part."""

CHANGED = "has changed since it was read: nothing is written"


class Refused(Exception):  # noqa: N818 - said to the person who asked
    """What was asked for would take something away that is not ours to take; nothing was written."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.remedy = remedy


class Unwritten(OSError):  # noqa: N818 - a state, said to the person who asked
    """What was to be written could not be; `filename` names it as it was asked for."""


@contextmanager
def _writing(path: Path | str) -> Iterator[None]:
    """Name what was to be written where that fails, not what was laid beside it."""
    try:
        yield
    except OSError as error:
        raise Unwritten(error.errno, error.strerror or str(error), str(path)) from error


def write_whole(path: Path, text: str | Content) -> None:
    """Write a file in place of what stood there; a link is followed, a device takes it as it comes.

    It gets the permissions of the file there. Raises Refused where a register would be read from it,
    OSError where it cannot be written; what stood there stays then, and nothing is left behind.
    """
    data = text.encode() if isinstance(text, str) else text
    with _writing(path):
        if path.exists() and not path.is_file():
            with path.open("wb") as device:
                device.writelines(_parts(data))
            return
        target = Path(os.path.realpath(path))
        refuse_source(path)
        with alone_in(target.parent) as alone:
            _put({target: data}, alone)


def refuse_source(path: Path) -> None:
    """Raise Refused where a register would be read from what is to be written there."""
    if is_of_a_register(Path(os.path.realpath(path))):
        raise Refused(f"{path} is where a register is read from", "name another file, or another folder")


def write_own(path: Path, data: bytes) -> None:
    """Write a file that only the user reads and that can be made again: the disk may take its time."""
    with alone_in(path.parent) as alone:
        _put({path: data}, alone, mode=0o600, lasting=False)


def replace_files(files: Mapping[Path, bytes], seen: Mapping[Path, bytes], *homes: Path) -> None:
    """Write files of a register, in their order, in place of those that they were worked out from.

    `seen` is what `snapshot` found before anything was read; a file that is not in it was not there. All are
    laid beside before the first is moved. Raises Refused where one of them is another by now or leads out of
    the homes by a link, OSError where one cannot be written.
    """

    def unchanged() -> None:
        now = snapshot((*seen, *files))
        for path in dict.fromkeys((*seen, *files)):
            if now.get(path) != seen.get(path):
                raise Refused(f"{called(path)} {CHANGED}", "run it again")

    for path in files:
        if leads_out(path, *homes):
            raise Refused(f"{called(path)} is a link out of the register", "put a copy of the file there")
    targets = {Path(os.path.realpath(path)): data for path, data in files.items()}
    with ExitStack() as stack:
        folders = sorted({target.parent for target in targets})
        alone = [stack.enter_context(alone_in(folder)) for folder in folders]
        _put(targets, all(alone), unchanged)


def snapshot(paths: Iterable[Path]) -> dict[Path, bytes]:
    """Return what files hold, those that are there and not too large to be a spec's. Raises OSError."""
    found = {}
    for path in paths:
        with suppress(FileNotFoundError, NotADirectoryError):
            about = path.stat()
            if stat.S_ISREG(about.st_mode) and about.st_size <= MOST_BYTES:
                found[path] = path.read_bytes()
    return found


def write_folder(folder: Path, files: Mapping[str, str | bytes], mark: str) -> None:
    """Write a folder in place of one that was written so before; `mark` is the file of it that tells so.

    Raises Refused where the folder holds something else, OSError where it cannot be written; what stood there
    stays then. On Linux the two folders change places at once; elsewhere the earlier one stands beside as
    `.NAME.old` for a moment, and where this run is killed just then, the next one puts it back.
    """
    target = Path(os.path.realpath(folder))
    with _writing(folder), folder_there(target.parent), alone_in(target.parent) as alone:
        fresh, old = _fresh(target, alone), _beside(target, OLD)
        if old.is_dir() and not target.exists():
            old.rename(target)
        refuse_foreign(folder, mark)
        _discard(old)
        with _laid_folder(fresh, files, target):
            _swap(target, fresh, old)


def refuse_foreign(folder: Path, mark: str) -> None:
    """Raise Refused where a folder is a file, or holds something that was not written with that mark."""
    if folder.exists() and not folder.is_dir():
        raise Refused(f"{folder} is a file", "give a folder that is empty or not there yet")
    if folder.is_dir() and any(folder.iterdir()) and not (folder / mark).is_file():
        raise Refused(f"{folder} holds files that specreg did not write", "give an empty folder or a new one")


def write_new_folder(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Write a folder that is not there yet, or is empty.

    Raises Refused where it holds anything, OSError where it cannot be written; nothing is changed then.
    """
    target = Path(os.path.realpath(folder))
    with _writing(folder), folder_there(target.parent), alone_in(target.parent) as alone:
        if target.exists() and (not target.is_dir() or any(target.iterdir())):
            raise Refused(f"{folder} is not empty", "name a folder that is empty or not there yet")
        if target.exists() and target.samefile(Path.cwd()):
            raise Refused(f"{folder} is the folder that this runs in", "go up one, and name it from there")
        with _laid_folder(_fresh(target, alone), files, target) as fresh:
            if target.exists() and os.name != "posix":
                target.rmdir()
            fresh.replace(target)


_held: dict[tuple[int, int, int], bool] = {}
"""Folders in which a thread writes, by device and number and thread, and whether it is alone there."""


@contextmanager
def alone_in(folder: Path, told: Callable[[str], None] = lambda text: None) -> Iterator[bool]:
    """Let other runs that write in a folder wait until this one is done; the system frees it when killed.

    `told` is given a remark where this run has to wait for another. Yields False where the folder is not
    there, or where the computer or the file system has no such locks: then everybody goes on, each with names
    of its own beside, and what was read is compared before it is replaced.
    """
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        yield False
        return
    seen = os.fstat(handle)
    key = (seen.st_dev, seen.st_ino, get_ident())
    first = key not in _held
    try:
        if first:
            _held[key] = _locked(handle, folder, told)
        yield _held[key]
    finally:
        if first:
            _held.pop(key, None)
        os.close(handle)


def _locked(handle: int, folder: Path, told: Callable[[str], None]) -> bool:
    if sys.platform == "win32":
        return False
    import fcntl  # noqa: PLC0415 - POSIX has it

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        told(f"waiting for another run in {folder}")
        fcntl.flock(handle, fcntl.LOCK_EX)
    except OSError:
        return False
    return True


def _put(
    files: Mapping[Path, Content],
    alone: bool,
    unchanged: Callable[[], None] = lambda: None,
    mode: int | None = None,
    lasting: bool = True,
) -> None:
    """Lay files beside their places, ask whether all is as it was, then move them there in their order."""
    laid = {target: _fresh(target, alone) for target in files}
    try:
        for target, fresh in laid.items():
            with _writing(called(target)):
                _lay(fresh, files[target], mode or _mode_of(target), lasting)
        unchanged()
        for target, fresh in laid.items():
            with _writing(called(target)):
                os.replace(fresh, target)  # noqa: PTH105
    finally:
        for fresh in laid.values():
            _clear(fresh)


def _parts(data: Content) -> Iterable[bytes]:
    return (data,) if isinstance(data, bytes) else data


def _mode_of(target: Path) -> int | None:
    """Return the permissions of what stands there, if anything; raise OSError where that is read-only."""
    if not target.exists():
        return None
    if not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    return target.stat().st_mode & 0o777


def _lay(path: Path, data: Content, mode: int | None = None, lasting: bool = False) -> None:
    """Write a file, in place of what was left there; one that is to last is on the disk before it moves."""
    _discard(path)
    handle = os.open(path, LAY, 0o666 if mode is None else mode)
    try:
        for part in _parts(data):
            rest = memoryview(part)
            while rest:
                rest = rest[os.write(handle, rest) :]
        if lasting:
            os.fsync(handle)
    finally:
        os.close(handle)
    if mode is not None:
        path.chmod(mode)


@contextmanager
def _laid_folder(fresh: Path, files: Mapping[str, str | bytes], target: Path) -> Iterator[Path]:
    """Lay a folder beside its place; what is left there at the end is taken away."""
    try:
        mode = _mode_of(target)
        _discard(fresh)
        fresh.mkdir(0o777 if mode is None else mode)
        for name, content in files.items():
            (fresh / name).parent.mkdir(parents=True, exist_ok=True)
            _lay(fresh / name, content.encode("utf-8") if isinstance(content, str) else content)
        if mode is not None:
            fresh.chmod(mode)
        yield fresh
    finally:
        _clear(fresh)


@contextmanager
def folder_there(folder: Path) -> Iterator[None]:
    """Make a folder and those around it; they are taken away again where what follows fails."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    try:
        with _writing(folder):
            if folder.exists() and not folder.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR))
            folder.mkdir(parents=True, exist_ok=True)
        yield
    except BaseException:
        for one in missing:
            with suppress(OSError):
                one.rmdir()
        raise


def _swap(target: Path, fresh: Path, old: Path) -> None:
    """Put the fresh folder in place, and what stood there in the place of the fresh one."""
    if not target.exists():
        fresh.rename(target)
        return
    if _exchanged(fresh, target):
        return
    try:
        target.rename(old)
        fresh.rename(target)
    except BaseException:
        if old.exists() and not target.exists():
            old.rename(target)
        raise
    old.rename(fresh)


HERE, EXCHANGE = -100, 2
"""AT_FDCWD and RENAME_EXCHANGE of Linux (<linux/fcntl.h>, <linux/fs.h>; renameat2(2))."""


def _exchanged(one: Path, other: Path) -> bool:
    """Let two folders change places at once; tell whether the system could."""
    if sys.platform != "linux":
        return False
    import ctypes  # noqa: PLC0415 - only where a folder is replaced

    rename = getattr(ctypes.CDLL(None), "renameat2", None)
    return rename is not None and rename(HERE, os.fsencode(one), HERE, os.fsencode(other), EXCHANGE) == 0


def _fresh(target: Path, alone: bool) -> Path:
    """Return where something is laid: a name known to the next run, or, with others about, one of its own."""
    return _beside(target, NEW if alone else f"{os.getpid()}.{NEW}")


def _beside(target: Path, word: str) -> Path:
    """Return the hidden name beside a place; of a very long name it has the beginning."""
    return target.with_name(f".{target.name[:60]}.{word}")


def _discard(path: Path) -> None:
    """Take away a file, a link or a folder that an earlier run left, if there is one."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)


def _clear(path: Path) -> None:
    """Take away what this run laid, also where somebody ends it just now."""
    with suppress(OSError):
        try:
            _discard(path)
        except BaseException:
            _discard(path)
            raise


def called(path: Path) -> str:
    """Return how a path is named to a person: by the way from where the command runs."""
    with suppress(ValueError, OSError):
        return Path(os.path.relpath(path)).as_posix()
    return str(path)
