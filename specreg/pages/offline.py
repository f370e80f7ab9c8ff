"""A site that was visited once opens without a network: the script that keeps its files in the browser."""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256

FILE = "offline.js"


def offline_script(files: Mapping[str, str | bytes], template: str) -> str:
    """Return the script for some files; others give another mark, so that a new edition replaces the old."""
    digest = sha256()
    for name, content in files.items():
        data = content if isinstance(content, bytes) else content.encode()
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    names = json.dumps(sorted(files), ensure_ascii=False)
    return template.replace("MARK", digest.hexdigest()[:16], 1).replace("FILES", names, 1)
