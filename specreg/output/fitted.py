"""Answers from the shop floor written into the file of what was fitted, which is laid over the spec."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from specreg.output.as_built import Writer
from specreg.output.recording import Addition, CannotAdd
from specreg.source import Entry, Mapping, Place, merge, read_yaml, scalar
from specreg.source.listing import FITTED_FILE

HEAD = """\
# What was fitted otherwise than planned, or later. It is laid over everything else of this build.
# Written by `specreg record`; it may be edited.
"""


def fitted_file(folder: Path, answers: dict[str, Any]) -> tuple[Addition, ...]:
    """Return the file with answers laid over what it says; nothing is written yet.

    Raises CannotAdd where it holds remarks of a person's own, which would be lost, or cannot be read.
    """
    if not answers:
        return ()
    path = folder / FITTED_FILE
    text = path.read_bytes().decode("utf-8") if path.is_file() else ""
    tree, problems = read_yaml(text.encode(), FITTED_FILE) if text else (None, [])
    if problems:
        raise CannotAdd(problems[0].text())
    remarks = [line for line in text.splitlines() if line.strip().startswith("#") and line not in HEAD]
    if remarks:
        raise CannotAdd(f"{FITTED_FILE} holds remarks that would be lost: {remarks[0].strip()}; add by hand")
    place = Place(FITTED_FILE, 1, 1)
    base = tree if isinstance(tree, Mapping) else Mapping({}, place)
    # Keys of what is there are kept as they are, empty ones too: they take things away.
    laid = _laid(base, answers, place)
    writer = Writer("")
    lines = list(writer.entries(laid, 0, FITTED_FILE))
    return (Addition(path, HEAD + "\n".join(lines) + "\n"),)


def _laid(base: Mapping, answers: dict[str, Any], place: Place) -> Mapping:
    entries = dict(base.entries)
    for key, value in answers.items():
        known = entries.get(key)
        if isinstance(value, dict):
            below = known.node if known and isinstance(known.node, Mapping) else Mapping({}, place)
            entries[key] = Entry(place, _laid(below, value, place))
        else:
            truth = {"true": True, "false": False}.get(value, value)
            entries[key] = Entry(place, merge(scalar(None, place), scalar(truth, place)))
    return Mapping(entries, place)
