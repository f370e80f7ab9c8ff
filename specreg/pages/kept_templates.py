"""Compiled templates, kept in the user's own cache folder: to compile them takes longer than to fill them.

A file is taken only from a folder and as a file that belong to the user, and only where its digest agrees: it
covers the template's text, the interpreter, the library that compiled it and the module that asked it to.
"""

from __future__ import annotations

import marshal
import os
import sys
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

import jinja2
from jinja2.bccache import Bucket, BytecodeCache

from specreg.keeping import OFF, cache_folder, keep, trusted

DIGEST = 32


class KeptTemplates(BytecodeCache):
    """Where the library asks for a compiled template, and leaves one; `asked_by` says how to compile it."""

    def __init__(self, asked_by: Path) -> None:
        self._mark = b"\0".join([sys.version.encode(), *map(_stamp, (Path(jinja2.__file__), asked_by))])
        self._folder = None if os.environ.get(OFF) else cache_folder()

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give a template its code, where that is kept."""
        with suppress(OSError, ValueError, EOFError, TypeError):
            data = trusted(self._file(bucket)) if self._folder else b""
            if data and self._digest(bucket, data[DIGEST:]) == data[:DIGEST]:
                bucket.code = marshal.loads(data[DIGEST:])

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code of a template."""
        if self._folder:
            data = marshal.dumps(bucket.code)
            keep(self._file(bucket), self._digest(bucket, data) + data)

    def _file(self, bucket: Bucket) -> Path:
        assert self._folder is not None
        return self._folder / f"page-{sys.implementation.cache_tag}-{bucket.key[:16]}.bin"

    def _digest(self, bucket: Bucket, data: bytes) -> bytes:
        return sha256(self._mark + bucket.checksum.encode() + b"\0" + data).digest()


def _stamp(path: Path) -> bytes:
    """Return what is another once a file is: to ask the library for its version takes 20 ms."""
    seen = path.stat()
    return f"{path}\0{seen.st_size}\0{seen.st_mtime_ns}".encode()
