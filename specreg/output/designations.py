"""Reference designations written for good, into the append-only file beside a spec."""

import json
import re
from pathlib import Path

from specreg.model.build import Build
from specreg.model.designation import assign
from specreg.output.writing import write_whole
from specreg.source.register import DESIGNATIONS_FILE

PLAIN = re.compile(r"[a-z][A-Za-z0-9/_-]*")

BEGINNING = "# Reference designations by IEC 81346. Only ever added to: a label in a van stays true.\n"


def assign_designations(build: Build, folder: Path) -> dict[str, str]:
    """Give everything without a designation its own, write them down, and return them.

    What stands in the file stays as it is, byte for byte. Raises OSError where it cannot be written.
    """
    added = assign(build)
    if added:
        path = folder / DESIGNATIONS_FILE
        before = path.read_text(encoding="utf-8") if path.is_file() else BEGINNING
        end = "" if not before or before.endswith("\n") else "\n"
        write_whole(path, before + end + "".join(f"{_key(name)}: {word}\n" for name, word in added.items()))
    return added


def _key(name: str) -> str:
    return name if PLAIN.fullmatch(name) else json.dumps(name, ensure_ascii=False)
