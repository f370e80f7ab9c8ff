"""Reference designations written for good, into the append-only file beside a spec."""

import json
import re
from collections.abc import Mapping

PLAIN = re.compile(r"[a-z][A-Za-z0-9/_-]*")

BEGINNING = "# Reference designations by IEC 81346. Only ever added to: a label in a van stays true.\n"


def with_designations(text: str, added: Mapping[str, str]) -> str:
    """Return the file's text with designations added; what stands in it stays as it is, sign for sign."""
    before = text or BEGINNING
    end = "" if before.endswith("\n") else "\n"
    return before + end + "".join(f"{_key(name)}: {word}\n" for name, word in added.items())


def _key(name: str) -> str:
    return name if PLAIN.fullmatch(name) else json.dumps(name, ensure_ascii=False)
