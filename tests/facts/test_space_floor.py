"""The free floor: rows of bits against a graph library, and the laws of ways over it."""

from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon as Shape
from van import van_facts

from specreg.facts.mass_ledger import weigh_whole
from specreg.facts.ways import LEAST_WAY, modes_of, passage
from specreg.model.component import Component
from specreg.space.grid import STEP, Grid, Rows, both, count, flooded, grown, path, shifted, shrunk
from specreg.space.polygon import rectangle

ROWS, COLUMNS = 9, 8
MASKS = st.lists(st.integers(0, 2**COLUMNS - 1), min_size=ROWS, max_size=ROWS).map(tuple)
CELLS = st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLUMNS - 1))


def cells(rows: Rows) -> set[tuple[int, int]]:
    """The set cells of a mask."""
    return {(i, j) for i, row in enumerate(rows) for j in range(COLUMNS + 4) if row >> j & 1}


def mask(*those: tuple[int, int]) -> Rows:
    """A mask of single cells."""
    rows = [0] * ROWS
    for row, column in those:
        rows[row] |= 1 << column
    return tuple(rows)


def graph(free: Rows) -> "nx.Graph[tuple[int, int]]":
    """The free cells as a graph, joined along the axes."""
    return nx.grid_2d_graph(ROWS, COLUMNS).subgraph(cells(free))


@given(MASKS, CELLS)
def test_a_flood_is_the_connected_component(free: Rows, seed: tuple[int, int]) -> None:
    """What is reached is what the graph library calls connected."""
    there = graph(free)
    wanted = nx.node_connected_component(there, seed) if seed in there else set()
    assert cells(flooded(free, mask(seed))) == wanted


@given(MASKS, CELLS, CELLS)
def test_a_path_is_as_short_as_the_librarys(
    free: Rows, start: tuple[int, int], goal: tuple[int, int]
) -> None:
    """The path runs over free cells, step by step, and no other is shorter."""
    there = graph(free)
    found = path(free, mask(start), mask(goal))
    if start not in there or goal not in there or not nx.has_path(there, start, goal):
        assert found == ()
        return
    assert (found[0], found[-1]) == (start, goal)
    assert all(there.has_edge(a, b) for a, b in pairwise(found))
    assert len(found) == nx.shortest_path_length(there, start, goal) + 1


@given(MASKS, st.integers(1, 5))
def test_squares_that_fit_and_squares_that_touch(free: Rows, size: int) -> None:
    """A square fits where all its cells are free and touches where one is: counted cell by cell."""
    for i in range(ROWS):
        for j in range(COLUMNS):
            square = {(i + a, j + b) for a in range(size) for b in range(size)}
            assert ((i, j) in cells(shrunk(free, size))) == (square <= cells(free))
            assert ((i, j) in cells(grown(free, size))) == bool(square & cells(free))


@given(MASKS, st.integers(-3, 3))
def test_shifting_moves_each_cell(rows: Rows, by: int) -> None:
    """What is moved out of the grid in front is gone; behind the last column it stays a bit of the row."""
    moved = {(i + by, j + by) for i, j in cells(rows)}
    assert cells(shifted(rows, by)) == {(i, j) for i, j in moved if 0 <= i < ROWS and j >= 0}


@given(
    st.integers(0, 60),
    st.integers(0, 60),
    st.integers(1, 60),
    st.integers(1, 60),
    st.sampled_from([0, 20, 45, 90]),
)
def test_covered_cells_have_the_polygons_area(x: int, y: int, along: int, across: int, degrees: int) -> None:
    """Cells × cell area differ from the area by at most the cells along the outline."""
    grid = Grid(-1.0, -1.0, 150, 150)
    outline = rectangle(x / 50, y / 50, along / 50, across / 50, degrees * 3.141592653589793 / 180)
    shape = Shape(outline).intersection(Shape(rectangle(-1.0, -1.0, 150 * STEP, 150 * STEP)))
    covered = count(grid.covered(outline)) * STEP * STEP
    assert abs(covered - shape.area) <= Shape(outline).length * STEP + 1e-9


VAN = """
vehicle: {interior: {starts: 1.2 m, length: 3.6 m, width: 1.8 m, height: 1.9 m}}
modes: {night: {bed: made}, day: {bed: stowed}, driving: {bed: stowed}}
components:
  bed: {kind: bed, places: 2, mass: 30 kg, usual_shape: stowed, surface_height: 700 mm, shapes: {
    stowed: {at: [4.4 m, -0.9 m, 0.6 m], size: [0.4 m, 1.8 m, 0.5 m]},
    made: {at: [3.4 m, -0.9 m, 0.6 m], size: [1.4 m, 1.8 m, 0.1 m]}}}
  side-door: {kind: exit, form: sliding door, where: side, opens_from_inside: true, needs_power: false, opening_width: 1 m,
    opening_height: 1.6 m, at: [1.4 m, 0.9 m, 0 m], size: [1 m, 20 mm, 1.6 m]}
  rear-door: {kind: exit, form: hinged door, where: rear, opens_from_inside: true, needs_power: false, opening_width: 1.5 m,
    opening_height: 1.7 m, at: [4.8 m, -0.75 m, 0 m], size: [20 mm, 1.5 m, 1.7 m]}
"""
CABINET = (
    "components: {NAME: {kind: cabinet, mass: 9 kg, at: [X mm, Y mm, 0 mm], size: [L mm, W mm, 1200 mm]}}"
)


def cabinet(name: str, x: int, y: int, along: int, across: int) -> str:
    """A tall cabinet on the floor, in millimetres."""
    written = CABINET.replace("NAME", name)
    for letter, value in zip("XYLW", (x, y, along, across), strict=True):
        written = written.replace(f"{letter} mm", f"{value} mm")
    return written


def width(*over: str, mode: str = "night", door: str = "side-door") -> float:
    """Width of the way from the bed to a door."""
    found = passage(van_facts(VAN, *over).subject("bed"), door, mode)
    assert found is not None
    return found.width


@pytest.mark.parametrize(
    ("over", "expected"),
    [
        ([cabinet("a", 2600, -900, 400, 1200)], 0.60),
        ([cabinet("a", 2600, -900, 400, 500), cabinet("b", 2600, 200, 400, 700)], 0.60),
        ([cabinet("a", 2600, -900, 400, 1400)], 0.40),
        ([cabinet("a", 2600, -900, 400, 1420)], 0.38),
        ([cabinet("a", 2600, -900, 400, 1800)], 0.0),
        ([cabinet("a", 2600, -900, 400, 900), cabinet("b", 3060, 0, 200, 900)], 0.06),
    ],
)  # fmt: skip
def test_width_of_a_passage(over: list[str], expected: float) -> None:
    """Gaps as drawn: 1.8 m less what stands in them, to the step of the grid."""
    assert width(*over) == pytest.approx(expected, abs=STEP + 1e-9)


@pytest.mark.parametrize(
    ("what", "bars"),
    [
        ("{kind: cabinet, at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 0.09 m]}", False),
        ("{kind: cabinet, at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 0.12 m]}", True),
        ("{kind: cabinet, at: [2.6 m, -0.9 m, 1.11 m], size: [0.4 m, 1.8 m, 0.5 m]}", False),
        ("{kind: cabinet, at: [2.6 m, -0.9 m, 1.08 m], size: [0.4 m, 1.8 m, 0.5 m]}", True),
        ("{kind: bench, places: 2, seat_height: 450 mm, at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 0.9 m]}", False),
        ("{kind: step, at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 0.3 m]}", False),
        ("{kind: curtain, at: [2.6 m, -0.9 m, 0 m], size: [20 mm, 1.8 m, 1.8 m]}", False),
        ("{kind: removed-item, at: [2.6 m, -0.9 m, 0 m], size: [20 mm, 1.8 m, 1.8 m]}", False),
        ("{kind: luggage, at: [2.6 m, -0.9 m, 0 m], size: [0.4 m, 1.8 m, 0.5 m]}", True),
        ("{kind: luggage, fixed_to: bed, at: [3.5 m, -0.9 m, 0.7 m], size: [0.2 m, 1.8 m, 0.5 m]}", False),
        ("{kind: cabinet, at: [3.4 m, -0.9 m, 1.25 m], size: [1.4 m, 1.8 m, 0.4 m]}", False),
        ("{kind: cabinet, at: [3.4 m, -0.9 m, 1.15 m], size: [1.4 m, 1.8 m, 0.4 m]}", True),
    ],
)  # fmt: skip
def test_what_bars_the_way(what: str, bars: bool) -> None:
    """What is stepped over, stooped under, climbed over or moved aside is no obstacle; the rest is one."""
    assert (width(f"components: {{thing: {what}}}") < LEAST_WAY) is bars


BOXES = st.tuples(st.integers(1100, 4600), st.integers(-900, 800), st.integers(20, 900), st.integers(20, 900))


@given(BOXES, BOXES)
def test_adding_a_cabinet_never_widens_a_way(first: tuple[int, ...], second: tuple[int, ...]) -> None:
    """More furniture, no wider way, to either door."""
    before, after = cabinet("a", *first), cabinet("b", *second)
    for door in ("side-door", "rear-door"):
        assert width(before, after, door=door) <= width(before, door=door)


@given(BOXES, BOXES)
def test_adding_a_cabinet_never_shortens_a_way(first: tuple[int, ...], second: tuple[int, ...]) -> None:
    """The way with more furniture is as long or longer, unless it is gone."""
    few = passage(van_facts(VAN, cabinet("a", *first)).subject("bed"), "side-door", "night")
    more = passage(
        van_facts(VAN, cabinet("a", *first), cabinet("b", *second)).subject("bed"), "side-door", "night"
    )
    assert few is not None and more is not None
    if more.usable:
        assert few.usable
        assert more.length >= few.length


@given(BOXES)
def test_adding_a_cabinet_never_widens_the_aisle(where: tuple[int, ...]) -> None:
    """The aisle from the doors to the bed is as wide as before, or narrower."""
    night = van_facts(VAN).whole.in_case("night")
    more = van_facts(VAN, cabinet("a", *where)).whole.in_case("night")
    assert (more.get("aisle_width") or 0.0) <= night.aisle_width


def test_a_mode_never_changes_the_mass() -> None:
    """Whatever shape things take, the same things are there and weigh the same."""
    van = van_facts(VAN, cabinet("a", 2000, -900, 500, 500))
    there = {mode: {one.id for one in modes_of(van).solids(mode)} for mode in van.build.header.modes}
    assert len(set(map(frozenset, there.values()))) == 1
    weights = {
        mode: [weigh_whole(van.subject(name)).mass for name in sorted(ids & {"bed", "a"})]
        for mode, ids in there.items()
    }
    assert set(map(tuple, weights.values())) == {(9.0, 30.0)}
    assert all(isinstance(van.subject(name).model, Component) for ids in there.values() for name in ids)


def test_a_way_over_the_bed_names_it() -> None:
    """To the rear door one climbs over the bed that fills the rear."""
    seat = "components: {seat: {kind: seat, at: [1.3 m, -0.8 m, 0 m], size: [0.5 m, 0.5 m, 1.1 m], seat_height: 430 mm}}"
    found = passage(van_facts(VAN, seat).subject("seat"), "rear-door", "night")
    assert found is not None and "bed" in found.over
    assert both(found.start, found.walk.climbed["seat"]) == found.start


def test_a_high_bed_is_left_over_its_open_sides() -> None:
    """From a bunk the way begins on the floor beside it; over a side that is shut there is none."""
    bunk = "components: {bunk: {kind: bed, open_sides: [SIDE], at: [2.6 m, -0.9 m, 1.3 m], size: [1.9 m, 0.7 m, 0.1 m]}}"
    for side, leads in (("right", True), ("left", False)):
        found = passage(van_facts(VAN, bunk.replace("SIDE", side)).subject("bunk"), "side-door", "day")
        assert found is not None
        assert found.usable is leads
