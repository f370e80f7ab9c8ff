"""Take any one device out of a demo van: the inspection says which run is then bare, and to which sources.

What must be said is derived apart from the program (`oracle.py`); where the oracle finds that another device
still protects everything, nothing new may be said.
"""

from functools import cache

import pytest
from opening import answers, build_of, source
from oracle import Van

from specreg.facts.engine import Facts
from specreg.rules.result import Answer, Result
from specreg.source import Entry, Mapping, Node, Sequence, at, mapping, plain

DEMOS = ("fieldwork", "winter-tourer")


def tree_of(demo: str) -> Mapping:
    tree = source(demo).tree
    assert tree is not None
    return tree


@cache
def device_ids(demo: str) -> tuple[str, ...]:
    """Every fuse and breaker of a demo."""
    made, _ = build_of(tree_of(demo))
    return tuple(Facts(made).devices)


def changed(node: Node, path: tuple[str | int, ...], change: object) -> Node:
    """A tree with the node at a path replaced by what `change` makes of it; None leaves it out."""
    step = path[0]
    if isinstance(node, Mapping):
        entries = dict(node.entries)
        old = entries[str(step)]
        new = change(old.node) if len(path) == 1 else changed(old.node, path[1:], change)  # type: ignore[operator]
        if new is None:
            del entries[str(step)]
        else:
            entries[str(step)] = Entry(old.key_place, new)
        return Mapping(entries, node.place, node.origin)
    assert isinstance(node, Sequence) and isinstance(step, int)
    items = [item for index, item in enumerate(node.items) if index != step]
    return Sequence(items, node.place, node.origin)


def without(tree: Mapping, device: str) -> Mapping:
    """The tree without one device; the way, the holder or the cable stays."""
    owner, _, way = device.partition("/")
    runs, components = tree.entries["runs"].node, tree.entries["components"].node
    assert isinstance(runs, Mapping) and isinstance(components, Mapping)
    if owner in runs.entries:
        alone = isinstance(at(tree, ("runs", owner, "protection")), Sequence)
        path: tuple[str | int, ...] = ("runs", owner, "protection", 0 if alone else way)
        found = changed(tree, path, lambda _: None)
    else:
        thing = components.entries[owner].node
        assert isinstance(thing, Mapping)
        ways = thing.entries.get("ways")
        in_way = ways is not None and isinstance(ways.node, Mapping) and way in ways.node.entries
        if in_way:
            found = changed(tree, ("components", owner, "ways", way), lambda old: mapping({}, old.place))
        else:
            found = changed(tree, ("components", owner, way or "device"), lambda _: None)
    assert isinstance(found, Mapping)
    return found


SYSTEMS = ("dc", "solar", "mains")


@cache
def failures(demo: str) -> frozenset[tuple[str, str]]:
    """What fails at level error in the demo as it is."""
    return frozenset((r.rule, r.subject) for r in answers(tree_of(demo), SYSTEMS) if r.stops)


@cache
def harmed(demo: str, medium: str) -> dict[str, str]:
    """The runs that the oracle finds harmed in the demo as it is."""
    return Van(plain(tree_of(demo)), medium).harmed()


CASES = [(demo, device) for demo in DEMOS for device in device_ids(demo)]


@pytest.mark.parametrize("demo", DEMOS)
def test_nothing_is_bare_as_it_is(demo: str) -> None:
    """The oracle agrees that the demo protects every run."""
    for medium in ("dc", "ac"):
        assert harmed(demo, medium) == {}
    assert failures(demo) == frozenset()


@pytest.mark.parametrize(("demo", "device"), CASES)
def test_a_removed_device_is_missed(demo: str, device: str) -> None:
    """Every run that the removal harms is named in a failure, with its sources and its line."""
    tree = without(tree_of(demo), device)
    bare = newly_harmed(demo, tree)
    new = [r for r in answers(tree, SYSTEMS) if r.stops and (r.rule, r.subject) not in failures(demo)]
    found = {result.subject for result in new if result.subject in bare}
    assert found == set(bare), f"{device}: {bare} but {[(r.rule, r.subject, r.message) for r in new]}"
    for result in new:
        if result.subject in bare:
            assert_well_said(result, tree)
    for run in bare:
        said = " ".join(result.message for result in new if result.subject == run)
        assert all(source in said for source in sources_of(tree, run)), said


def sources_of(tree: Mapping, run: str) -> set[str]:
    """The sources that reach a run, by the oracle."""
    data = plain(tree)
    return Van(data, data["runs"][run]["medium"]).reached_by(run)


def newly_harmed(demo: str, tree: Mapping) -> dict[str, str]:
    """The runs that the removal harms, by the oracle."""
    found = {}
    for medium in ("dc", "ac"):
        before, after = harmed(demo, medium), Van(plain(tree), medium).harmed()
        found.update({run: why for run, why in after.items() if run not in before})
    return found


def assert_well_said(result: Result, tree: Mapping) -> None:
    """The finding stands at the line of the run in the spec and names it."""
    runs = tree.entries["runs"].node
    assert isinstance(runs, Mapping)
    assert result.answer is Answer.fails
    assert result.place == runs.entries[result.subject].key_place
    assert result.subject_name in result.message
