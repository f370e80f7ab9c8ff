"""Circuits as rows of a table, and rows as the lines that a spec has of them: out and back unchanged."""

from __future__ import annotations

from collections.abc import Mapping as AnyMapping
from pathlib import Path

from specreg.source.as_built import merged, only
from specreg.source.assembly import include_assemblies
from specreg.source.circuits import Line, one_line, read_line
from specreg.source.listing import AS_BUILT_FILE, FITTED_FILE
from specreg.source.place import Place
from specreg.source.register import Register, own_files
from specreg.source.tree import Entry, Mapping, at, scalar

COLUMNS = (
    "circuit", "box", "way", "rating", "family", "conductor", "length", "panel", "panel_way", "onward",
    "load", "label",
)  # fmt: skip
"""The columns: way, device and conductor, length to the panel, its way, length onward, and the words."""

BETWEEN = " + "
"""What parts several lengths in one cell."""


def lines_of(register: Register, folder: Path) -> dict[str, Line]:
    """Return the circuits of a build that are written on one line, by name, its assemblies' among them.

    Of a van that was handed over these are the circuits that were added since.
    """
    own, apart = own_files(folder, folder.name, [])
    tree = own or Mapping({}, Place(folder.name, 1, 1))
    if AS_BUILT_FILE in apart:
        tree = Mapping({}, tree.place)
    tree, _ = include_assemblies(only(tree, ("include", "circuits")), register.assemblies)
    tree = merged(tree, only(apart[FITTED_FILE], ("circuits",))) if FITTED_FILE in apart else tree
    circuits = at(tree, ("circuits",))
    listed = circuits.entries if isinstance(circuits, Mapping) else {}
    found = {name: read_line(name, entry, []) for name, entry in listed.items()}
    return {name: line for name, line in found.items() if line is not None}


def row_of(name: str, line: Line) -> tuple[str, ...]:
    """Return a circuit as the cells of a row."""
    return (
        *(name, line.box, line.way, line.rating, line.family, line.conductor, BETWEEN.join(line.lengths)),
        *(line.panel, line.panel_way, BETWEEN.join(line.onward), line.load, line.label),
    )


def line_of(cells: AnyMapping[str, str]) -> tuple[str, Line]:
    """Return the circuit that a row says, with its name; an empty load is the one that it is named after."""
    said = {name: cells.get(name, "").strip() for name in COLUMNS}
    name = said["circuit"]
    parted = {key: [one for one in said[key].split(BETWEEN) if one] for key in ("length", "onward")}
    line = Line(
        said["load"] or name, said["box"], said["way"], said["rating"], said["family"], said["conductor"],
        said["panel"], said["panel_way"], parted["length"], parted["onward"], said["label"],
    )  # fmt: skip
    return name, line


def reads_back(name: str, line: Line) -> bool:
    """Tell whether the line that is written of a circuit says the same when it is read."""
    place = Place("line", 1, 1)
    problems: list[object] = []
    read = read_line(name, Entry(place, scalar(one_line(name, line), place)), problems)  # type: ignore[arg-type]
    return read == line and not problems
