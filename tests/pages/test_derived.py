"""Schedules, legend, emergency and drawing follow from the spec: moving a thing moves it everywhere."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import van
from test_emergency import ELECTRIC

from specreg.pages.check import margin
from specreg.pages.content import Drawing, Page, Section, Table, Words
from specreg.pages.electrics import electrics_page
from specreg.pages.emergency import emergency_page
from specreg.pages.places import places_page
from specreg.pages.plan import GAP, RADIUS, Box, plan_of

MOVED = (
    ELECTRIC.replace("from: box/1, to: panel/1", "from: box/2, to: panel/1")
    .replace("from: box/2, to: lamp", "from: box/1, to: lamp")
)  # fmt: skip

PLACED = """
vehicle: {wheelbase: 4 m, interior: {starts: 1 m, length: 3.7 m, width: 1.8 m, height: 1.9 m}}
modes: {day: {bunk: stowed}, night: {bunk: made}}
components:
  bunk: {kind: bed, title: Bunk, usual_shape: stowed, size: [1900 mm, 1300 mm, 150 mm], shapes: {stowed: {at: [2700 mm, -650 mm, 1500 mm]}, made: {at: [2700 mm, -650 mm, 600 mm]}}}
  pump: {kind: pump, title: Water pump, at: [2150 mm, 620 mm, 150 mm], size: [300 mm, 200 mm, 150 mm]}
  filler: {kind: filler, title: Filler, at: [2200 mm, 880 mm, 500 mm], size: [80 mm, 20 mm, 80 mm]}
"""


def table(page: Page, anchor: str) -> Table:
    """The first table of a section."""
    found = next(block for block in page.blocks if isinstance(block, Section) and block.anchor == anchor)
    return next(block for block in found.blocks if isinstance(block, Table))


def row(found: Table, word: str) -> str:
    """The row of a table that has a word, as plain text."""
    lines = [
        " | ".join("".join(p.text for p in c if isinstance(p, Words)) for c in r.cells) for r in found.rows
    ]
    return next(line for line in lines if word in line)


@pytest.mark.parametrize(("spec", "way", "rating"), [(ELECTRIC, "way 1", "10 A"), (MOVED, "way 2", "5 A")])
def test_the_schedule_finds_the_pump_at_its_way(spec: str, way: str, rating: str) -> None:
    """The device that the pump hangs on is told with its rating."""
    line = row(table(electrics_page(van(spec)), "devices"), "Water pump")
    assert line.startswith(way)
    assert rating in line


@pytest.mark.parametrize(("spec", "where"), [(ELECTRIC, "Fuse box, 1"), (MOVED, "Fuse box, 2")])
def test_what_switches_the_pump_off_follows_its_cable(spec: str, where: str) -> None:
    """Switch and fuse of the pump, nearest first."""
    line = row(table(electrics_page(van(spec)), "feeds"), "Water pump")
    assert "Galley panel, 1" in line
    assert where in line
    assert where in repr(emergency_page(van(spec)))


def test_the_legend_follows_the_panel() -> None:
    """With the pump past the panel, its switch switches nothing."""
    assert "Water pump" in row(table(electrics_page(van(ELECTRIC)), "legend"), "Galley panel")
    past = ELECTRIC.replace(
        "to: panel/1, return: same cable}\n  pump-load: {medium: dc, from: panel/1, to: pump", "to: pump"
    )
    assert "Water pump" not in row(table(electrics_page(van(past)), "legend"), "Galley panel")


def drawings(spec: str, section: str) -> list[Drawing]:
    """The drawings of one sheet of plans."""
    page = places_page(van(spec))
    found = next(block for block in page.blocks if isinstance(block, Section) and block.anchor == section)
    return [block for block in found.blocks if isinstance(block, Drawing)]


def test_the_drawing_follows_the_place() -> None:
    """A pump that is moved is drawn elsewhere; the description names it by its number."""
    moved = PLACED.replace("at: [2150 mm, 620 mm", "at: [3150 mm, -820 mm")
    (before,), (after,) = drawings(PLACED, "water"), drawings(moved, "water")
    assert [(b.x, b.y) for b in before.plan.boxes if b.height == 30] == [(62.0, 215.0)]
    assert [(b.x, b.y) for b in after.plan.boxes if b.height == 30] == [(-82.0, 315.0)]
    assert "1 Water pump" in before.description or "2 Water pump" in before.description


def test_the_bed_hangs_by_day_and_is_made_by_night() -> None:
    """The shape that a mode names is the one that is drawn."""
    day, night = drawings(PLACED, "room")
    assert [box.kind for box in day.plan.boxes] == ["high"]
    assert [box.kind for box in night.plan.boxes] == ["thing"]


boxes = st.lists(
    st.tuples(st.floats(-95, 95), st.floats(0, 480), st.floats(0, 120), st.floats(0, 200)), max_size=60
)


@given(boxes)
def test_no_number_lies_on_another(drawn: list[tuple[float, float, float, float]]) -> None:
    """Whatever stands where, every number is there once and can be read."""
    plan = plan_of([Box(n, *corner, "thing") for n, corner in enumerate(drawn, 1)], (-90, 100, 180, 370), ())
    assert [mark.number for mark in plan.marks] == list(range(1, len(drawn) + 1))
    for one, other in combinations(plan.marks, 2):
        assert (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= (2 * RADIUS + GAP) ** 2 - 1e-6
    for mark in plan.marks:
        assert plan.left <= mark.x - RADIUS and mark.x + RADIUS <= plan.left + plan.width
        assert plan.top <= mark.y - RADIUS and mark.y + RADIUS <= plan.top + plan.height


def test_the_narrowest_pass_is_the_one_whose_figures_are_nearest() -> None:
    """Relative distance of two figures of one dimension: 9 A of 10 A is 10 %."""
    from dataclasses import replace

    from specreg import workshop
    from specreg.facts.engine import Input
    from specreg.units import Dimension

    spec = van(ELECTRIC)
    pack, _ = workshop.rules_for()
    result = workshop.inspect(spec.build, pack).results[0]
    ampere, volt = Dimension.current, Dimension.voltage
    figures = (Input("a", 9.0, ampere), Input("b", 10.0, ampere), Input("c", 9.9, volt))
    assert margin(replace(result, evidence=figures), None) == pytest.approx(0.1)
    assert margin(replace(result, evidence=figures[1:]), None) == float("inf")
