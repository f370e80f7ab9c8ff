"""Which builds of a register a change since a revision touches, whichever file it stands in."""

from __future__ import annotations

import tempfile
from collections.abc import Collection
from pathlib import Path
from typing import Any

from specreg.register.revision import Files, NotInGit, files_at, files_on_disk, rules_at, rules_on_disk
from specreg.source import Problem, plain
from specreg.source.listing import SPEC_FILE
from specreg.source.register import open_register, read_source


def touched(folder: Path, revision: str, builds: Collection[str]) -> tuple[frozenset[str], list[Problem]]:
    """Return the builds of a register that read otherwise than at a revision, parts and assemblies resolved.

    A comment changes nothing; a build that either side cannot read counts as touched. A change to the
    register's own rules touches them all. Private files are not compared, as git has none.
    """
    try:
        then, now = files_at(folder, revision), files_on_disk(folder, builds)
        if rules_at(folder, revision) != rules_on_disk(folder):
            return frozenset(builds), []
    except NotInGit as error:
        return frozenset(), [error.problem]
    except OSError as error:
        return frozenset(), [Problem(None, f"a file cannot be read: {error.strerror}", str(error.filename))]
    if then == now:
        return frozenset(), []
    before, after = _resolved(then, builds), _resolved(now, builds)
    return frozenset(name for name in builds if before[name] is None or before[name] != after[name]), []


def _resolved(files: Files, builds: Collection[str]) -> dict[str, Any]:
    """Return what each build says with everything merged; None where that cannot be told."""
    with tempfile.TemporaryDirectory(prefix="specreg-") as home:
        folder = Path(home)
        for name, data in files.items():
            (folder / name).parent.mkdir(exist_ok=True)
            (folder / name).write_bytes(data)
        register = open_register(folder, "")
        if register.problems:
            return dict.fromkeys(builds)
        found: dict[str, Any] = {}
        for name in builds:
            there = (folder / name / SPEC_FILE).is_file()
            source = read_source(register, folder / name) if there else None
            sound = source is not None and source.tree is not None and not source.problems
            found[name] = (plain(source.tree), source.designations) if source and sound else None  # type: ignore[arg-type]
        return found
