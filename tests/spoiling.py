"""Ways in which a kept file is no longer what the program wrote, or may have been written by somebody else."""

from __future__ import annotations

import os
from hashlib import sha256
from pathlib import Path

DIGEST = 32
WAYS = (
    "cut short",
    "empty",
    "one byte changed",
    "noise",
    "forged with a plain digest",
    "forged with the digest of before",
    "others may write it",
    "others may write its folder",
    "a link",
)


def spoil(path: Path, how: str, forged: bytes) -> None:
    """Spoil a kept file in one of the `WAYS`; `forged` is what somebody else would have liked to stand there."""
    data = path.read_bytes()
    texts = {
        "cut short": data[: len(data) // 2],
        "empty": b"",
        "one byte changed": data[:-1] + bytes([data[-1] ^ 1]),
        "noise": os.urandom(2000),
        "forged with a plain digest": sha256(forged).digest() + forged,
        "forged with the digest of before": data[:DIGEST] + forged,
    }
    if how in texts:
        path.write_bytes(texts[how])
    elif how == "others may write it":
        path.chmod(0o666)
    elif how == "others may write its folder":
        path.parent.chmod(0o777)
    else:
        path.symlink_to(path.rename(path.with_suffix(".moved")))
