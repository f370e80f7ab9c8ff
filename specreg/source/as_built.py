"""What was fitted, laid over what was planned, and the spec frozen at hand-over.

heron/fitted.yaml     what was fitted otherwise than planned, or later: laid over everything else of the build
heron/as-built.yaml   components and runs as handed over, with the parts that they name: read in their place

From hand-over on no assembly, no part and none of the workshop's standards changes the van.
"""

from __future__ import annotations

import json
from collections import ChainMap
from dataclasses import dataclass
from hashlib import blake2b

from specreg.source.catalogue import Parts, over_part, part_name
from specreg.source.inline import name_devices
from specreg.source.listing import FITTED_FILE
from specreg.source.merge import merge
from specreg.source.problem import Problem
from specreg.source.tree import Entry, Mapping, Node, Scalar, Sequence, at, mapping, plain, scalar

DESIGN = ("include", "components", "runs", "circuits")
"""What the files of a build say of its things; the rest heads the build and is never frozen."""

LISTS = ("components", "runs")
FITTED = (*LISTS, "circuits")

OF_THE_PLACE = ("title", "label", "count", "note")
"""What a thing keeps when another part is put in its place, whatever that part states."""

OF_ONE_PIECE = ("serial", "made_on", "fitted_on", "expires_on", "mass", "mass_status", "price", "approval")
"""What is true of one piece only: it goes with it when another part is put in its place."""


@dataclass(frozen=True)
class AsBuilt:
    """The frozen spec: its tree, and the parts as they stood in the catalogue then."""

    tree: Mapping
    parts: Parts

    @property
    def design(self) -> str:
        """Return the mark of what the build's own files said when it was frozen."""
        said = at(self.tree, ("design",))
        return said.text if isinstance(said, Scalar) else ""

    @property
    def gone(self) -> frozenset[str]:
        """Return the things that were taken away before it was frozen anew."""
        said = at(self.tree, ("taken_away",))
        return frozenset(plain(said)) if isinstance(said, Sequence) else frozenset()


def as_built(tree: Mapping) -> AsBuilt:
    """Return what a file `as-built.yaml` holds."""
    parts = at(tree, ("parts",))
    return AsBuilt(tree, parts.entries if isinstance(parts, Mapping) else {})


def only(tree: Mapping, keys: tuple[str, ...]) -> Mapping:
    """Return a tree with some of its keys."""
    return Mapping({k: e for k, e in tree.entries.items() if k in keys}, tree.place, tree.origin)


def without(tree: Mapping, keys: tuple[str, ...]) -> Mapping:
    """Return a tree without some of its keys."""
    return Mapping({k: e for k, e in tree.entries.items() if k not in keys}, tree.place, tree.origin)


def design_mark(tree: Mapping) -> str:
    """Return a short mark of what files say of components and runs, comments and order left aside."""
    said = json.dumps(plain(only(tree, DESIGN)), sort_keys=True, ensure_ascii=False)
    return blake2b(said.encode(), digest_size=8).hexdigest()


def changed_design(own: Mapping, frozen: AsBuilt) -> list[Problem]:
    """Report changes to what is no longer read: what the design said of components and runs."""
    there = [key for key in DESIGN if key in own.entries]
    if not there or design_mark(own) == frozen.design:
        return []
    return [
        Problem(
            own.entries[there[0]].key_place,
            "components and runs of a van that was handed over are read from as-built.yaml, and what this "
            "file says of them was changed since",
            remedy=f"write the change into {FITTED_FILE}, and leave these lines as they were or take all out",
        )
    ]


def frozen_tree(header: Mapping, private: Mapping | None, frozen: AsBuilt) -> Mapping:
    """Return the head of a build on its frozen components, runs and defaults; the private file adds to it."""
    below = dict(only(frozen.tree, (*LISTS, "defaults")).entries)
    day = frozen.tree.entries.get("handed_over_on")
    if day is not None:
        records = mapping({"handed_over_on": day.node}, day.key_place)
        below["records"] = Entry(day.key_place, records)
    tree = merged(Mapping(below, frozen.tree.place), header)
    return merged(tree, only(private, LISTS)) if private is not None else tree


def merged(base: Mapping, over: Mapping) -> Mapping:
    """Return one mapping laid over another, placed where the upper one stands."""
    found = merge(base, over)
    assert isinstance(found, Mapping)
    return Mapping(found.entries, over.place, over.origin)


def taken_away(fitted: Mapping | None, frozen: AsBuilt | None) -> list[str]:
    """Return the names of what was fitted no longer, before or since."""
    now = {
        key
        for section in LISTS
        for key, entry in (_entries(fitted, section) if fitted else {}).items()
        if isinstance(entry.node, Scalar) and entry.node.value is None
    }
    return sorted(now | (frozen.gone if frozen else frozenset()))


def strange_keys(fitted: Mapping) -> list[Problem]:
    """Report what does not belong into the file of what was fitted."""
    return [
        Problem(
            entry.key_place,
            f"{FITTED_FILE} says what was fitted, and this is something else",
            key,
            "components, runs or circuits",
            remedy="write it into spec.yaml",
        )
        for key, entry in fitted.entries.items()
        if key not in FITTED
    ]


def over_tree(
    tree: Mapping, fitted: Mapping, frozen: AsBuilt | None, catalogue: Parts
) -> tuple[Mapping, list[Problem]]:
    """Lay what was fitted over a merged tree; another part takes away what the one before it brought.

    The parts that were frozen stand before those of the `catalogue`.
    """
    problems: list[Problem] = []
    parts: Parts = ChainMap(frozen.parts, catalogue) if frozen else catalogue  # type: ignore[arg-type]
    gone = frozen.gone if frozen else frozenset()
    if any(at(e.node, ("protection",)) for e in _entries(fitted, "runs").values()):
        tree, _ = name_devices(tree)
    entries = dict(tree.entries)
    for section in LISTS:
        if section in fitted.entries:
            there = dict(_entries(tree, section))
            for key, entry in _entries(fitted, section).items():
                if key in there or key not in gone:
                    _put(there, key, entry, parts, problems)
            known = entries.get(section, fitted.entries[section])
            entries[section] = Entry(known.key_place, Mapping(there, known.node.place, known.node.origin))
    return Mapping(entries, tree.place, tree.origin), problems


def _entries(tree: Mapping, section: str) -> dict[str, Entry]:
    found = at(tree, (section,))
    return found.entries if isinstance(found, Mapping) else {}


def _put(there: dict[str, Entry], key: str, entry: Entry, parts: Parts, problems: list[Problem]) -> None:
    """Put one entry over the one of its name: add it, change it, replace its part or take it away."""
    known = there.get(key)
    if isinstance(entry.node, Scalar) and entry.node.value is None:
        if known is None:
            problems.append(Problem(entry.key_place, f"there is no `{key}` to take away"))
        there.pop(key, None)
    elif known is None:
        there[key] = over_part(Entry(entry.key_place, merge(scalar(None, entry.key_place), entry.node)),
                               parts, problems)  # fmt: skip
    else:
        new = part_name(entry)
        below = known.node
        if new is not None and new != part_name(known):
            below = _with_new_part(known, entry, parts, problems)
        there[key] = Entry(known.key_place, merge(below, entry.node))


def _with_new_part(known: Entry, entry: Entry, parts: Parts, problems: list[Problem]) -> Node:
    """Return a thing stripped of its old part and its piece's own data, on the data of the new one."""
    old = part_name(known)
    bare = known.node
    if old is not None and old in parts:
        bare = _stripped(bare, parts[old].node)
    assert isinstance(bare, Mapping)
    bare = without(bare, OF_ONE_PIECE)
    named = only(entry.node, ("part",)) if isinstance(entry.node, Mapping) else bare
    brought = over_part(Entry(entry.key_place, named), parts, problems).node
    assert isinstance(brought, Mapping)
    stays = tuple(key for key in OF_THE_PLACE if key in bare.entries)
    return merge(bare, without(brought, stays))


def _stripped(node: Node, part: Node) -> Node:
    """Return a mapping without the values that it has from its part, unchanged."""
    if not isinstance(node, Mapping) or not isinstance(part, Mapping):
        return node
    kept = {}
    for key, entry in node.entries.items():
        brought = part.entries.get(key)
        if brought is None:
            kept[key] = entry
        elif isinstance(entry.node, Mapping) and isinstance(brought.node, Mapping):
            rest = _stripped(entry.node, brought.node)
            assert isinstance(rest, Mapping)
            if rest.entries:
                kept[key] = Entry(entry.key_place, rest)
        elif plain(entry.node) != plain(brought.node):
            kept[key] = entry
    return Mapping(kept, node.place, node.origin)
