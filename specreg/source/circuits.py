"""Circuits on one line, written out as the ways, devices and runs that they stand for.

    pump: fuse-box/7 10 A · 1.5 mm² · 4.2 m · galley-panel/1 · 1.3 m

The key is the load. The first item names the way and the device in it; a length before the panel leads to
it, a length behind it leads on to the load. `to some-other-load` names the load where the key does not.
Items may be parted by `·` or `|`. What is written out carries the line's place as its origin.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from specreg.source.merge import merge
from specreg.source.place import Place
from specreg.source.problem import Problem, nearest_word
from specreg.source.tree import Entry, Mapping, Node, Scalar, at, mapping, scalar

WAY = re.compile(r"(?P<box>[a-z0-9-]+)/(?P<way>[A-Za-z0-9-]+)\s+(?P<rating>[0-9.]+\s*m?A)(?P<family>\s.*)?")
PANEL = re.compile(r"(?P<panel>[a-z0-9-]+)/(?P<way>[A-Za-z0-9-]+)")
CONDUCTOR = re.compile(r".*(mm²|mm2|sq mm|AWG).*", re.IGNORECASE)
SHORT = re.compile(r"[0-9]{1,2}(\.[0-9]+)? ?mm")
LENGTH = re.compile(r"[0-9].*(m|cm|mm|ft|in|'|\")")

BOXES = {"fuse-box": ("dc", "fuse"), "mains-board": ("ac", "breaker")}
"""The kinds of box that a circuit can start from: the medium of its runs and the kind of device."""

MOST_CIRCUITS = 20_000
"""Lines of one build; each stands for a dozen values."""


@dataclass
class Line:
    """What one line says."""

    load: str
    box: str = ""
    way: str = ""
    rating: str = ""
    family: str = ""
    conductor: str = ""
    panel: str = ""
    panel_way: str = ""
    lengths: list[str] = field(default_factory=list)
    onward: list[str] = field(default_factory=list)
    label: str = ""


def expand_circuits(tree: Mapping) -> tuple[Mapping, list[Problem]]:
    """Return the tree with its circuits written out, and every problem in them."""
    circuits = at(tree, ("circuits",))
    if not isinstance(circuits, Mapping):
        wrong = (
            [] if circuits is None else [Problem(circuits.place, "`circuits` is a mapping of loads to lines")]
        )
        return tree, wrong
    if len(circuits.entries) > MOST_CIRCUITS:
        message = f"more than {MOST_CIRCUITS} circuits"
        return tree, [Problem(circuits.place, message, str(len(circuits.entries)))]
    problems: list[Problem] = []
    written: list[Mapping] = []
    for name, entry in circuits.entries.items():
        line = read_line(name, entry, problems)
        one = _written(tree, name, line, entry.node.place, problems) if line else None
        written += [one] if one else []
    found = _joined(written)
    rest = {key: entry for key, entry in tree.entries.items() if key != "circuits"}
    without = Mapping(rest, tree.place, tree.origin)
    return (_laid_under(found, without) if found else without), problems


def _joined(trees: list[Mapping]) -> Mapping | None:
    """Lay trees over each other by halves: one by one, each would be copied once for every later one."""
    if len(trees) < 2:
        return trees[0] if trees else None
    half = len(trees) // 2
    below, over = _joined(trees[:half]), _joined(trees[half:])
    return _laid_under(below, over) if below and over else below or over


def _laid_under(below: Mapping, tree: Mapping) -> Mapping:
    merged = merge(below, tree)
    assert isinstance(merged, Mapping)
    return Mapping(merged.entries, tree.place, tree.origin)


def read_line(name: str, entry: Entry, problems: list[Problem]) -> Line | None:
    """Return what one line says; None, and a problem, where it cannot be told."""
    node = entry.node
    if not isinstance(node, Scalar) or not isinstance(node.value, str):
        problems.append(Problem(node.place, f"circuit `{name}` is written on one line", expected=EXAMPLE))
        return None
    line = Line(name)
    items = [item.strip() for item in re.split(r"\s[·|]\s", node.value)]
    first = WAY.fullmatch(items[0])
    if first is None:
        problems.append(
            Problem(node.place, f"circuit `{name}` begins with a way and its device", items[0], EXAMPLE)
        )
        return None
    line.box, line.way, line.rating = first["box"], first["way"], first["rating"]
    line.family = (first["family"] or "").strip()
    for item in items[1:]:
        if not _item(line, item):
            problems.append(
                Problem(node.place, f"circuit `{name}`: cannot tell what this is", item, EXPECTED)
            )
    return line


def one_line(name: str, line: Line) -> str:
    """Return a circuit as it is written on one line; `name` is its key."""
    device = " ".join(word for word in (f"{line.box}/{line.way}", line.rating, line.family) if word)
    panel = f"{line.panel}/{line.panel_way}" if line.panel else ""
    load = f"to {line.load}" if line.load != name else ""
    label = f'"{line.label}"' if line.label else ""
    items = (device, line.conductor, *line.lengths, panel, *line.onward, load, label)
    return " · ".join(item for item in items if item)


EXAMPLE = "a line such as fuse-box/7 10 A · 1.5 mm² · 4.2 m · galley-panel/1 · 1.3 m"
EXPECTED = 'a conductor (1.5 mm²), a length (4.2 m), a switch (galley-panel/1), `to` a load or a "label"'


def _item(line: Line, item: str) -> bool:
    """Take one item of a line; tell whether it could be told what it is."""
    panel = PANEL.fullmatch(item)
    if item.startswith('"') and item.endswith('"') and len(item) > 2:
        line.label = item[1:-1]
    elif item.startswith("to "):
        line.load = item[3:].strip()
    elif panel is not None:
        line.panel, line.panel_way = panel["panel"], panel["way"]
    elif CONDUCTOR.fullmatch(item):
        line.conductor = item
    elif not line.conductor and SHORT.fullmatch(item):
        return False  # a cable of 1.5 mm is a cross-section without its square
    elif LENGTH.fullmatch(item):
        (line.onward if line.panel else line.lengths).append(item)
    else:
        return False
    return True


def _written(tree: Mapping, name: str, line: Line, place: Place, problems: list[Problem]) -> Mapping | None:
    """Return the ways, devices and runs that a line stands for, as a tree of their own."""
    stated = at(tree, ("components", line.box, "kind"))
    kind = stated.text if isinstance(stated, Scalar) else ""
    if kind not in BOXES:
        listed = at(tree, ("components",))
        known = listed.entries if isinstance(listed, Mapping) else {}
        problems.append(
            Problem(
                place,
                f"circuit `{name}` starts at `{line.box}`, which is no box of fuses or breakers here",
                line.box,
                "one of the kinds " + ", ".join(BOXES),
                nearest_word(line.box, known) if line.box not in known else None,
            )
        )
        return None
    medium, word = BOXES[kind]
    title = line.label or name.replace("-", " ").capitalize()
    device = {word: line.rating, "label": title} | ({"family": line.family} if line.family else {})
    box_way: dict[str, object] = {"ways": {line.way: device}}
    panel_way: dict[str, object] = {"ways": {line.panel_way: {"label": title}}}
    boxes = {line.box: box_way, line.panel: panel_way} if line.panel else {line.box: box_way}
    return _tree({"components": boxes, "runs": _runs(name, line, medium)}, place)


def _runs(name: str, line: Line, medium: str) -> dict[str, object]:
    start, switch = f"{line.box}/{line.way}", f"{line.panel}/{line.panel_way}"
    if not line.panel:
        return {f"{name}-feed": _run(medium, start, line.load, line.conductor, line.lengths)}
    return {
        f"{name}-feed": _run(medium, start, switch, line.conductor, line.lengths),
        f"{name}-load": _run(medium, switch, line.load, line.conductor, line.onward),
    }


def _run(medium: str, start: str, finish: str, conductor: str, lengths: list[str]) -> dict[str, object]:
    run: dict[str, object] = {"medium": medium, "from": start, "to": finish}
    if conductor:
        run["conductor"] = conductor
    if lengths:
        run["length"] = lengths[0]
    if medium == "dc":
        run["return"] = "same cable"
    return run


def _tree(data: object, place: Place) -> Mapping:
    node = _node(data, place)
    assert isinstance(node, Mapping)
    return node


def _node(data: object, place: Place) -> Node:
    if isinstance(data, dict):
        return mapping({str(key): _node(value, place) for key, value in data.items()}, place)
    return scalar(str(data), place)
