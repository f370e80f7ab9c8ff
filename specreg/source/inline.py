"""In-line devices of runs by name: what stands alone in a list is given the name 1.

A name never depends on what stands beside it, so that a device put in before another takes nothing over.
"""

from __future__ import annotations

from specreg.source.problem import Problem
from specreg.source.tree import Entry, Mapping, Node, Sequence, at

ALONE = "1"
"""What a device is called that stands alone in a list."""


def name_devices(tree: Mapping) -> tuple[Mapping, list[Problem]]:
    """Return the tree with the in-line devices of every run by name, and a problem for each that has none."""
    runs = at(tree, ("runs",))
    if not isinstance(runs, Mapping):
        return tree, []
    problems: list[Problem] = []
    named = {
        name: Entry(entry.key_place, _named(name, entry.node, problems))
        for name, entry in runs.entries.items()
    }
    below = Mapping(named, runs.place, runs.origin)
    entries = {**tree.entries, "runs": Entry(tree.entries["runs"].key_place, below)}
    return Mapping(entries, tree.place, tree.origin), problems


def _named(run: str, node: Node, problems: list[Problem]) -> Node:
    devices = at(node, ("protection",))
    if isinstance(devices, Mapping):
        problems += [
            _ill_named(entry, name) for name, entry in devices.entries.items() if not _well_named(name)
        ]
    if not isinstance(node, Mapping) or not isinstance(devices, Sequence):
        return node
    entries = {key: entry for key, entry in node.entries.items() if key != "protection"}
    if len(devices.items) > 1:
        problems.append(_nameless(run, devices))
    elif devices.items:
        alone = devices.items[0]
        by_name = Mapping({ALONE: Entry(alone.place, alone)}, devices.place, devices.origin)
        entries["protection"] = Entry(node.entries["protection"].key_place, by_name)
    return Mapping(entries, node.place, node.origin)


def _nameless(run: str, devices: Sequence) -> Problem:
    return Problem(
        devices.items[1].place,
        f"`{run}` has {len(devices.items)} in-line devices without names",
        expected="each under a name of its own: `protection: {1: {fuse: …}, near-box: {fuse: …}}`",
        remedy="name them; the one that stood alone in the list is called 1 and keeps its designation so",
    )


def _well_named(name: str) -> bool:
    return name.isascii() and bool(name) and all(part.isalnum() for part in name.split("-"))


def _ill_named(entry: Entry, name: str) -> Problem:
    return Problem(
        entry.key_place,
        "the name of an in-line device is words or numbers joined by hyphens",
        read=name,
        expected="a name such as near-box",
    )
