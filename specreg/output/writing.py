"""Files written whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, text: str | bytes) -> None:
    """Write a file beside its place, then move it there; what stood there stays until then.

    Raises OSError where that cannot be done; nothing is left behind.
    """
    target = Path(os.path.realpath(path))
    data = text.encode() if isinstance(text, str) else text
    if target.exists() and not target.is_file():  # a device such as /dev/stdout takes it as it comes
        target.write_bytes(data)
        return
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.chmod(name, _mode(target))  # noqa: PTH101 - a name, not a path, until it is in place
        os.replace(name, target)  # noqa: PTH105
    except BaseException:
        with suppress(OSError):
            os.unlink(name)  # noqa: PTH108
        raise


def write_folder(folder: Path, files: Mapping[str, str], mark: str) -> None:
    """Write a folder of texts whole or not at all, in place of one that was written so before.

    `mark` is a hidden file by which such a folder is known. Raises FileExistsError where the folder holds
    anything else, OSError where it cannot be written; what stood there stays then.
    """
    if folder.exists() and (not folder.is_dir() or (any(folder.iterdir()) and not (folder / mark).is_file())):
        raise FileExistsError(f"{folder} holds files that were not written by this command")
    folder.absolute().parent.mkdir(parents=True, exist_ok=True)
    beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", dir=folder.absolute().parent))
    try:
        made = beside / "made"
        for name, text in {**files, mark: ""}.items():
            (made / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).write_text(text, encoding="utf-8", newline="\n")
        if folder.exists():
            folder.replace(beside / "before")
        made.replace(folder)
    finally:
        shutil.rmtree(beside, ignore_errors=True)


def _mode(target: Path) -> int:
    """Return the permissions that a file there has, or would have had."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
