"""Records added to a build's own file: behind what is there, which stays as it is, byte for byte."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from specreg.model.build import Build
from specreg.source import place_of, plain, read_yaml

if TYPE_CHECKING:
    import yaml

Record = dict[str, str]

RECORDS_FILE = "records.yaml"
"""The file of a build in which its records begin, where they stand nowhere yet."""

BEGINNING = "# What was measured, signed, weighed and counted.\n"


class CannotAdd(Exception):  # noqa: N818 - a refusal that is said to a person
    """The file is not written in a way that records can be added to without touching the rest."""


@dataclass(frozen=True)
class Addition:
    """A file with its new text."""

    path: Path
    text: str


def additions(build: Build, folder: Path, records: dict[str, Sequence[Record]]) -> tuple[Addition, ...]:
    """Return the files with records added, by list (`tests`, `weighings`); nothing is written yet.

    Raises CannotAdd, and OSError where a file cannot be read.
    """
    texts: dict[Path, str] = {}
    for name, items in records.items():
        if items:
            path = _file_of(build, folder, name)
            before = texts.get(path)
            if before is None:
                before = path.read_bytes().decode("utf-8") if path.is_file() else BEGINNING
            texts[path] = added(before, name, items)
    return tuple(Addition(path, text) for path, text in texts.items())


def _file_of(build: Build, folder: Path, name: str) -> Path:
    """Return the file in which a list of records stands, or would begin."""
    records = build.tree.entries.get("records")
    entries: Any = getattr(records.node, "entries", {}) if records else {}
    if name in entries:
        return folder / Path(place_of(build.tree, ("records", name)).file).name
    return folder / RECORDS_FILE


def added(text: str, name: str, items: Sequence[Record]) -> str:
    """Return a spec's text with items added to `records: name:`; raise CannotAdd where it cannot be."""
    lines = [in_one_line(item) for item in items]
    result = _placed(text, name, lines)
    before, after = _list_in(text, name), _list_in(result, name)
    if after != [*before, *(_meant(line) for line in lines)] or not _unchanged(text, result, name):
        raise CannotAdd("its form is not one that records can be added to; add the lines by hand")
    return result


def _placed(text: str, name: str, lines: list[str]) -> str:
    root = _composed(text)
    end = "" if not text or text.endswith("\n") else "\n"
    records = _value_of(root, "records")
    if records is None:
        return f"{text}{end}records:\n  {name}:\n" + "".join(f"    - {line}\n" for line in lines)
    found = _value_of(records, name)
    if found is None:
        return _as_new_key(text, records, name, lines)
    if _is_list(found) and found.flow_style:
        return _into_brackets(text, found, ", ".join(lines))
    if _is_list(found):
        return _after(text, _end_of(found), found.start_mark.column, [f"- {line}" for line in lines])
    raise CannotAdd(f"`records: {name}:` is no list there")


def _as_new_key(text: str, records: Any, name: str, lines: list[str]) -> str:
    if not _is_mapping(records):
        raise CannotAdd("`records:` is no mapping there")
    if records.flow_style:
        return _into_brackets(text, records, f"{name}: [{', '.join(lines)}]")
    column = records.start_mark.column
    return _after(text, _end_of(records), column, [f"{name}:", *(f"  - {line}" for line in lines)])


def _after(text: str, index: int, column: int, lines: list[str]) -> str:
    """Insert lines, indented, below the line on which something ends."""
    stop = text.find("\n", index)
    head, tail = (text, "") if stop < 0 else (text[:stop], text[stop + 1 :])
    return_ = "\r" if head.endswith("\r") else ""
    return head + "\n" + "".join(f"{' ' * column}{line}{return_}\n" for line in lines) + tail


def _into_brackets(text: str, node: Any, inside: str) -> str:
    """Insert before the closing bracket of a list or mapping in brackets."""
    stop = node.end_mark.index - 1
    head = text[:stop].rstrip()
    between = {"[": "", "{": "", ",": " "}.get(head[-1], ", ")
    return f"{head}{between}{inside}{text[len(head) :]}"


def _end_of(node: Any) -> int:
    """Return the index behind the last sign of a node, blank lines and comments below it left out."""
    if (_is_list(node) or _is_mapping(node)) and not node.flow_style and node.value:
        last = node.value[-1]
        return _end_of(last[1] if isinstance(last, tuple) else last)
    end: int = node.end_mark.index
    if getattr(node, "style", None) in ("|", ">"):
        end -= 1
    return end


def _composed(text: str) -> Any:
    import yaml  # noqa: PLC0415 - only this command needs marks

    try:
        return yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        raise CannotAdd(f"it cannot be read: {error}") from None


def _value_of(node: Any, key: str) -> Any:
    if not _is_mapping(node):
        return None
    return next((value for name, value in node.value if name.value == key), None)


def _is_list(node: yaml.Node | None) -> bool:
    return getattr(node, "id", "") == "sequence"


def _is_mapping(node: yaml.Node | None) -> bool:
    return getattr(node, "id", "") == "mapping"


def _list_in(text: str, name: str) -> list[Any]:
    data = _data(text)
    found = ((data.get("records") or {}) if isinstance(data, dict) else {}).get(name)
    return list(found or [])


def _data(text: str) -> Any:
    tree, problems = read_yaml(text.encode(), RECORDS_FILE)
    if any("empty" not in problem.message for problem in problems):
        raise CannotAdd(problems[0].text())
    return plain(tree) if tree is not None else {}


def _meant(line: str) -> Any:
    return _data(line)


def _unchanged(text: str, result: str, name: str) -> bool:
    """Tell whether all but the one list says what it said."""

    def rest(of: str) -> Any:
        data = dict(_data(of) or {})
        records = dict(data.pop("records", None) or {})
        records.pop(name, None)
        return data, records

    return bool(rest(text) == rest(result))


def in_one_line(item: Record) -> str:
    """Return a record as one line of YAML."""
    return "{" + ", ".join(f"{key}: {_scalar(key, value)}" for key, value in item.items()) + "}"


PLAIN = re.compile(r"[^\W_][\w .·°/²³µ%()-]*", re.UNICODE)
WORDS = frozenset({"null", "true", "false", "yes", "no", "on", "off", "~"})


def _scalar(key: str, value: str) -> str:
    """Return a text as YAML reads it back: quoted where it could mean something else."""
    if key in ("driver", "shows"):
        return value
    if (
        PLAIN.fullmatch(value)
        and value.lower() not in WORDS
        and not value.endswith(" ")
        and not _number(value)
    ):
        return value
    return json.dumps(value, ensure_ascii=False)


def _number(value: str) -> bool:
    try:
        float(value)
    except ValueError:
        return False
    return True
