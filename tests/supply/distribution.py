"""The wheel and the source distribution, built twice and looked into: `python tests/supply/distribution.py --into DIST`.

The wheel from the tree and the one from the source distribution, which was built from a copy in another folder with
other times and another mask, must be the same file; each must hold what it should and nothing else.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).parents[2]
INSIDE = {"specreg": "specreg", "rules": "specreg/data/rules", "site": "specreg/data/site"}
"""Folders of the tree, and where they lie in the wheel."""

LATER = 1_893_456_000
"""A time at which the copy's files were changed: the first of January 2030."""


def known_files() -> list[str]:
    """Every file that git knows."""
    listed = subprocess.run(("git", "ls-files", "-z"), cwd=ROOT, capture_output=True, text=True, check=True)
    return sorted(name for name in listed.stdout.split("\0") if name)


def wanted_in_wheel(files: Iterable[str]) -> set[str]:
    """What a wheel must hold beside what it says about itself."""
    found = set()
    for name in files:
        home, _, rest = name.partition("/")
        if home in INSIDE and rest:
            found.add(f"{INSIDE[home]}/{rest}")
    return found


def copied(files: Iterable[str], folder: Path) -> Path:
    """A copy of the tree whose files are of another time and may be read by their owner alone."""
    for name in files:
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(ROOT / name, target)
        target.chmod(0o700 if os.access(ROOT / name, os.X_OK) else 0o600)
        os.utime(target, (LATER, LATER))
    return folder


def build(tree: Path, into: Path, *words: str) -> Path:
    """Build from a tree; the wheel that came of it."""
    told = (sys.executable, "-m", "build", *words, "--outdir", str(into), str(tree))
    subprocess.run(told, check=True, stdout=subprocess.DEVNULL)
    (wheel,) = into.glob("*.whl")
    return wheel


def strange(wanted: set[str], found: set[str]) -> list[str]:
    """What is there and should not be, and the other way round."""
    return [
        *(f"too much: {name}" for name in sorted(found - wanted)),
        *(f"missing: {name}" for name in sorted(wanted - found)),
    ]


def complaints(files: list[str], wheel: Path, source: Path, again: Path) -> list[str]:
    """All that is wrong with the wheel, the source distribution, and the wheel made from it."""
    with zipfile.ZipFile(wheel) as opened:
        names = set(opened.namelist())
    with tarfile.open(source) as listed:
        of_source = {name.partition("/")[2] for name in listed.getnames() if "/" in name}
    told = {name for name in names if name.partition("/")[0].endswith(".dist-info")}
    found = strange(wanted_in_wheel(files), names - told)
    found += [] if {name.partition("/")[2] for name in told} == TOLD else [f"about itself: {sorted(told)}"]
    found += strange({*files, "PKG-INFO"}, of_source)
    found += (
        []
        if wheel.read_bytes() == again.read_bytes()
        else ["the wheel from the source distribution is another one"]
    )
    return found


TOLD = {"METADATA", "RECORD", "WHEEL", "entry_points.txt", "licenses/specreg/LICENSE"}
"""What a wheel says about itself."""


def main() -> None:
    """Build, look, and leave the wheel where it is wanted."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--into", type=Path, required=True, help="the folder for the wheel")
    into = words.parse_args().into
    files = known_files()
    with tempfile.TemporaryDirectory(prefix="specreg-wheel-") as home:
        wheel = build(ROOT, into, "--wheel")
        again = build(copied(files, Path(home) / "another tree"), Path(home) / "dist")
        (source,) = (Path(home) / "dist").glob("*.tar.gz")
        found = complaints(files, wheel, source, again)
    print(*(found or [f"{wheel.name}: as it should be, and the same from the source distribution"]), sep="\n")
    sys.exit(1 if found else 0)


if __name__ == "__main__":
    main()
