"""A small van for tests of its works."""

from __future__ import annotations

from building import build

from specreg.model.build import Build

SMALL = """
format: 1
build: test
title: Test van
stage: design
jurisdictions: [uk]
components:
  cell: {kind: battery, part: cell-100, price: 400 GBP, supplier: importer, lead_time: 2 weeks}
  box: {kind: fuse-box, price: 40 GBP, ways: {lamp: {fuse: 5 A, family: blade}, fan: {fuse: 5 A, family: blade}}}
  lamp: {kind: ceiling-light, part: spot, price: 12.35 GBP, count: 3, state: here}
  fan: {kind: cabin-fan, part: fan, price: 30 GBP, state: ordered}
  second-fan: {kind: cabin-fan, part: fan, price: 30 GBP}
  wall: {kind: lining, surface: left}
  shelf: {kind: shelf, fixed_to: wall}
runs:
  main: {medium: dc, from: cell/positive, to: box/feed, return: back, conductor: 16 mm², length: 1.25 m}
  back: {medium: dc, from: cell/negative, to: box/feed, conductor: 16 mm², length: 1.5 m}
  lamp-feed: {medium: dc, from: box/lamp, to: lamp/supply, return: same cable, conductor: 1.5 mm², length: 4.2 m}
  fan-feed: {medium: dc, from: box/fan, to: fan/supply, return: same cable, conductor: 1.5 mm², length: 3.1 m, hidden: false}
"""
STARTS = "works: {starts: 2026-03-02}\n"


def small(more: str = "", stage: str = "design") -> Build:
    """The small van with some lines more."""
    return build(SMALL.replace("stage: design", f"stage: {stage}") + more)
