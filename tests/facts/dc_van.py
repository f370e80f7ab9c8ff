"""Small direct-current systems for tests: one battery, one box, what a test lays over it."""

import json
from textwrap import dedent

from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.source import Mapping, merge, read_yaml
from specreg.source.tree import plain

SYSTEM = """
components:
  battery: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA, highest_charge_voltage: 14.4 V}
  box: {kind: fuse-box, ways: {a: {fuse: 20 A, family: blade}, b: {fuse: 20 A, family: blade}}}
  lamp: {kind: dc-appliance, current: 4 A, supply_voltage: 12 V, load: motor}
  pump: {kind: dc-appliance, current: 6 A, supply_voltage: 12 V, load: motor}
runs:
  main: {medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: 2 m}
  ground: {medium: dc, from: battery/negative, to: box/feed, conductor: 10 mm², length: 2 m}
  lamp-feed: {medium: dc, from: box/a, to: lamp, return: same cable, conductor: 1.5 mm², length: 3 m}
  pump-feed: {medium: dc, from: box/b, to: pump, return: same cable, conductor: 2.5 mm², length: 5 m}
"""


def dc_facts(*over: str, base: str = SYSTEM) -> Facts:
    """The facts of the small system with fragments laid over it; `base` replaces the system itself."""
    tree = _tree(base)
    for text in over:
        merged = merge(tree, _tree(text))
        assert isinstance(merged, Mapping)
        tree = merged
    return Facts(build(json.dumps(plain(tree), ensure_ascii=False)))


def _tree(text: str) -> Mapping:
    tree, problems = read_yaml(dedent(text).encode(), "van.yaml")
    assert isinstance(tree, Mapping) and not problems, problems
    return tree
