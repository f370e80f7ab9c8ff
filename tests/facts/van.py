"""A small invented van for the tests of masses: tickets, seats, tanks, zones; lay more over it."""

import json
from textwrap import dedent

from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.source import Mapping, merge, read_yaml
from specreg.source.tree import plain

VAN = """
jurisdictions: [eu]
use: {people: {adults: 2}, personal_effects: 0 kg}
vehicle:
  wheelbase: 4 m
  track: 1.8 m
  overall_length: 6 m
  permitted: {total: 3500 kg, front_axle: 1850 kg, rear_axle: 2250 kg, roof: 150 kg, tow_ball: 100 kg}
  as_received:
    {stage: intake, front_axle: 1200 kg, rear_axle: 800 kg, left: 1010 kg, right: 990 kg, driver: false,
     fuel: 100 %, fresh_water: 0 %, scale_step: 10 kg}
  fuel_tank: {volume: 100 L, fuel: diesel, at: [2 m, 0 m, 0 m]}
  interior: {starts: 1 m, length: 4 m, width: 1.8 m, height: 1.9 m}
  zones: {rear-left: {at: [3 m, -0.9 m, 0 m], size: [2 m, 0.8 m, 1 m]}}
components:
  driver-seat:
    {kind: seat, driver: true, places: 1, used_under_way: true, origin: base vehicle, belts: [three-point],
     at: [1 m, -0.6 m, 0.5 m]}
"""


def van_facts(*over: str) -> Facts:
    """The small van with fragments laid over it, one after the other."""
    tree = _tree(VAN)
    for text in over:
        merged = merge(tree, _tree(text))
        assert isinstance(merged, Mapping)
        tree = merged
    return Facts(build(json.dumps(plain(tree), ensure_ascii=False)))


def _tree(text: str) -> Mapping:
    tree, problems = read_yaml(dedent(text).encode(), "van.yaml")
    assert isinstance(tree, Mapping) and not problems, problems
    return tree
