"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path


def write_whole(path: Path, text: str) -> None:
    """Write a file beside its place, then move it there; what stood there stays until then.

    Raises OSError where that cannot be done; nothing is left behind.
    """
    target = Path(os.path.realpath(path))
    if target.exists() and not target.is_file():  # a device such as /dev/stdout takes it as it comes
        target.write_text(text, encoding="utf-8", newline="\n")
        return
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        os.chmod(name, _mode(target))  # noqa: PTH101 - a name, not a path, until it is in place
        os.replace(name, target)  # noqa: PTH105
    except BaseException:
        with suppress(OSError):
            os.unlink(name)  # noqa: PTH108
        raise


def _mode(target: Path) -> int:
    """Return the permissions that a file there has, or would have had."""
    if target.exists():
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
