"""Convex polygons and solids against a general geometry library, and the laws that they obey."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon as Shape
from shapely import box

from specreg.space.polygon import area, rectangle, sector, shared
from specreg.space.solid import Solid
from specreg.space.swing import sweep, turning

LENGTHS = st.integers(1, 3000).map(lambda mm: mm / 1000)
PLACES = st.integers(-2000, 2000).map(lambda mm: mm / 1000)
ANGLES = st.integers(0, 359).map(lambda degrees: degrees * pi / 180)
RECTANGLES = st.builds(rectangle, PLACES, PLACES, LENGTHS, LENGTHS, ANGLES)


@st.composite
def solids(draw: st.DrawFn) -> Solid:
    """A box anywhere, turned by any whole degree."""
    bottom, height = draw(PLACES), draw(LENGTHS)
    return Solid("a", "cabinet", draw(RECTANGLES), bottom, bottom + height)


@given(RECTANGLES, RECTANGLES)
def test_shared_area_is_the_librarys(
    first: tuple[tuple[float, float], ...], second: tuple[tuple[float, float], ...]
) -> None:
    """The clipped area equals the intersection that the library computes by another method."""
    common = shared(first, second)
    assert area(common) == pytest.approx(Shape(first).intersection(Shape(second)).area, abs=1e-9)


@given(solids(), solids())
def test_overlap_is_symmetric(first: Solid, second: Solid) -> None:
    """Which of two things is asked makes no difference."""
    assert first.overlap(second) == pytest.approx(second.overlap(first), abs=1e-9)


@given(solids(), solids())
def test_overlap_is_the_librarys_area_times_the_common_height(first: Solid, second: Solid) -> None:
    """The volume is common area × common height, and nothing where they at most touch."""
    height = max(0.0, min(first.top, second.top) - max(first.bottom, second.bottom))
    volume = Shape(first.footprint).intersection(Shape(second.footprint)).area * height
    found = first.overlap(second)
    assert found == pytest.approx(volume, abs=1e-9) or (found == 0 and volume < 0.001 * 6)


@given(PLACES, PLACES, LENGTHS, LENGTHS, ANGLES)
def test_a_whole_turn_changes_nothing(x: float, y: float, along: float, across: float, angle: float) -> None:
    """Turning by 360° more gives the same outline."""
    once, twice = rectangle(x, y, along, across, angle), rectangle(x, y, along, across, angle + 2 * pi)
    assert [c for p in twice for c in p] == pytest.approx([c for p in once for c in p], abs=1e-9)


@given(PLACES, PLACES, LENGTHS, LENGTHS, ANGLES)
def test_turning_keeps_the_area(x: float, y: float, along: float, across: float, angle: float) -> None:
    """A turned box is as large as before."""
    assert area(rectangle(x, y, along, across, angle)) == pytest.approx(along * across)


def test_two_boxes_by_hand() -> None:
    """400 × 300 × 200 mm of one box stand in the other: 24 litres."""
    first = Solid("a", "cabinet", rectangle(0, 0, 1, 1), 0, 1)
    second = Solid("b", "cabinet", rectangle(0.6, 0.7, 1, 1), 0.8, 2)
    assert first.overlap(second) == pytest.approx(0.4 * 0.3 * 0.2)


@pytest.mark.parametrize(("gap", "overlaps"), [(0.0, False), (-0.001, False), (-0.002, True), (0.01, False)])
def test_touching_is_not_overlap(gap: float, overlaps: bool) -> None:
    """Up to a millimetre two things merely touch."""
    first = Solid("a", "cabinet", rectangle(0, 0, 1, 1), 0, 1)
    second = Solid("b", "cabinet", rectangle(1 + gap, 0, 1, 1), 0, 1)
    assert (first.overlap(second) > 0) is overlaps


@pytest.mark.parametrize("degrees", [30, 90, 135, 180])
def test_a_leaf_sweeps_a_sector(degrees: int) -> None:
    """A leaf of 0.5 m sweeps half its square times the angle, less what the twelve chords leave out."""
    angle = degrees * pi / 180
    swept = area(sector((0.0, 0.0), (0.5, 0.0), angle))
    assert 0.985 * 0.5**2 * angle / 2 < swept < 0.5**2 * angle / 2


CABINET = Solid("c", "cabinet", rectangle(2.0, -0.9, 0.6, 0.5), 0.0, 0.8)


@pytest.mark.parametrize(
    ("side", "reach", "hinge", "leaves", "outline"),
    [
        ("right", 0.3, None, 1, box(2.0, -0.4, 2.6, -0.1)),
        ("left", 0.3, None, 1, box(2.0, -1.2, 2.6, -0.9)),
        ("front", 0.2, None, 1, box(1.8, -0.9, 2.0, -0.4)),
        ("rear", 0.2, None, 1, box(2.6, -0.9, 2.8, -0.4)),
        ("right", None, "front", 2, box(2.0, -0.4, 2.6, -0.1)),
        ("right", None, "top", 1, box(2.0, -0.4, 2.6, 0.4)),
    ],
)  # fmt: skip
def test_what_slides_sweeps_a_box(
    side: str, reach: float | None, hinge: str | None, leaves: int, outline: Shape
) -> None:
    """Drawers, pairs of doors and flaps reach out of their side by their depth, half the width, the height."""
    swept = sweep(CABINET, side, reach, hinge, None, leaves)
    assert swept is not None
    assert Shape(swept.footprint).symmetric_difference(outline).area == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("side", "hinge", "far_corner"),
    [
        ("right", "front", (2.0, 0.2)),
        ("right", "rear", (2.6, 0.2)),
        ("left", "front", (2.0, -1.5)),
        ("rear", "left", (3.1, -0.9)),
        ("front", "right", (1.5, -0.4)),
    ],
)  # fmt: skip
def test_one_leaf_turns_about_its_hinge(side: str, hinge: str, far_corner: tuple[float, float]) -> None:
    """Opened by a quarter turn, the leaf's edge stands straight out from its hinge."""
    swept = sweep(CABINET, side, None, hinge)
    assert swept is not None
    assert any(corner == pytest.approx(far_corner) for corner in swept.footprint)
    assert Shape(swept.footprint).is_valid and area(swept.footprint) > 0
    assert Shape(swept.footprint).intersection(Shape(CABINET.footprint)).area == pytest.approx(0, abs=1e-9)


def test_without_a_reach_nothing_is_said() -> None:
    """A cabinet of which only the side is known sweeps something that nobody knows."""
    assert sweep(CABINET, "right", None) is None


def test_a_seat_turns_in_the_circle_of_its_farthest_corner() -> None:
    """A seat of 0.6 m × 0.8 m about its middle: a circle of 0.5 m, 1.1 % smaller as 24 chords."""
    seat = Solid("s", "seat", rectangle(0, 0, 0.6, 0.8), 0, 1.1)
    base = Solid("b", "swivel-base", rectangle(0.2, 0.3, 0.2, 0.2), 0, 0.05)
    swept = turning(seat, base)
    assert swept.span == pytest.approx((-0.2, -0.1, 0.8, 0.9))
    assert area(swept.footprint) == pytest.approx(pi * 0.25, rel=0.012)
    assert swept.holds(seat)
