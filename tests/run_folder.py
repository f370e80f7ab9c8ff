"""The folder of a test run, which all its processes share: what is costly is made there once, under a lock."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass
class RunFolder:
    """Where it is; `conftest.py` says so before the first test."""

    path: Path | None = None


RUN = RunFolder()
