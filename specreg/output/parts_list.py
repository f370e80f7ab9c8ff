"""What was understood of a workshop's own parts list, and the file of the catalogue that it would become."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from specreg.output.recording import PLAIN, WORDS
from specreg.output.rows import in_columns, visible
from specreg.output.style import Style
from specreg.works.parts_list import PartsList

HEAD = (
    "# Read from the workshop's own list; replace what is only priced by the data sheet of what is fitted.\n"
)


def parts_list_text(found: PartsList, style: Style) -> str:
    """Return each column with what it was taken for, then the entries as they would be written."""
    rows = [(str(one.number), one.heading, one.field or "left out", one.unit) for one in found.columns]
    table = in_columns(("column", "heading", "taken for", "unit"), rows)
    parts = [style.tint("Columns", "title"), *map(visible, table), ""]
    count = len(found.entries)
    parts.append(style.tint(f"{count} {'part' if count == 1 else 'parts'} to add", "title"))
    return "\n".join(parts) + "\n" + entries_yaml(found.entries)


def file_yaml(entries: Mapping[str, Mapping[str, Any]]) -> str:
    """Return the whole text of a new file of the catalogue."""
    return HEAD + "\n" + entries_yaml(entries)


def entries_yaml(entries: Mapping[str, Mapping[str, Any]]) -> str:
    """Return entries as YAML that reads back as they are."""
    lines = []
    for name, entry in entries.items():
        lines.append(f"{scalar(name)}:")
        lines += [f"  {key}: {_value(value)}" for key, value in entry.items()]
    return "".join(f"{line}\n" for line in lines)


def _value(value: Any) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, bool | int | float):
        return json.dumps(value)
    return scalar(str(value))


def scalar(text: str) -> str:
    """Return a text as YAML reads it back: quoted where it could mean something else."""
    if (
        PLAIN.fullmatch(text)
        and text == text.strip()
        and text.lower() not in WORDS
        and not _may_be_number(text)
    ):
        return text
    return json.dumps("".join(c if c.isprintable() else " " for c in text), ensure_ascii=False)


def _may_be_number(text: str) -> bool:
    """Tell whether YAML could read a text as a number, a time or a date."""
    return not any(sign.isalpha() for sign in text) or (text[0].isdigit() and " " not in text)
