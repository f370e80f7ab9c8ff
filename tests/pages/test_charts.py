"""Charts as layout: round ticks, points and bars in proportion to their numbers, hatching within its box."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from math import log10

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from specreg.pages.chart_bars import Bar, Part, barred
from specreg.pages.chart_lines import Band, Curve, Level, lined
from specreg.pages.charts import (
    LETTER,
    NARROW,
    WIDTH,
    Axis,
    Drawn,
    Key,
    Scale,
    Shape,
    cut,
    hatch,
    measure,
    room,
    ticks,
)
from specreg.units import Dimension, System

NUMBERS = st.floats(-1e6, 1e6).map(lambda number: round(number, 6))


@given(NUMBERS, NUMBERS, st.integers(2, 12))
@example(0.0, 0.3, 3)
@example(-0.1, 0.1, 2)
@example(5.0, 5.0, 5)
@example(0.0, 100.0, 5)
def test_ticks_are_round_even_few_and_hold_the_range(one: float, other: float, most: int) -> None:
    """Steps of 1, 2 or 5 times a power of ten; no tick more than is needed at either end."""
    low, high = sorted((one, other))
    found = ticks(low, high, most)
    steps = [later - earlier for earlier, later in pairwise(found)]
    step = steps[0]
    assert 1 <= len(steps) <= most
    assert all(one == pytest.approx(step, rel=1e-6) for one in steps)
    assert round(step / 10 ** (log10(step) // 1), 6) in (1, 2, 5, 10)
    hair = step * 1e-6
    assert found[0] <= low + hair and high - hair <= found[-1]
    if high - low > NARROW * max(1.0, abs(low), abs(high)):
        assert low - found[0] < step + hair and found[-1] - high < step + hair
    assert 0.0 in found or low > hair or high < -hair


@given(NUMBERS, NUMBERS, st.integers(2, 12))
@example(6.1e-05, -10001.0, 2)
def test_no_finer_step_would_have_done(one: float, other: float, most: int) -> None:
    """The next finer round step needs more ticks than are allowed."""
    low, high = sorted((one, other))
    assume(high - low > 1e-3)
    found = ticks(low, high, most)
    step = Fraction(found[1]).limit_denominator(10**9) - Fraction(found[0]).limit_denominator(10**9)
    lead = int(f"{float(step):e}"[0])
    finer = step / (2 if lead in (1, 2) else Fraction(5, 2))
    edge = Fraction(NARROW) / 2
    count = -(-(Fraction(high) / finer - edge) // 1) - (Fraction(low) / finer + edge) // 1
    assert count > most


def test_an_axis_of_one_step_is_refused() -> None:
    """A range around nought has no answer in one step."""
    with pytest.raises(ValueError, match="two steps"):
        ticks(-1, 1, 1)


@pytest.mark.parametrize(
    ("low", "high", "found"),
    [
        (0, 100, (0, 20, 40, 60, 80, 100)),
        (0, 5, (0, 1, 2, 3, 4, 5)),
        (0, 8, (0, 2, 4, 6, 8)),
        (-4, 18, (-5, 0, 5, 10, 15, 20)),
        (0, 8936, (0, 2000, 4000, 6000, 8000, 10000)),
        (0, 0.34, (0, 0.1, 0.2, 0.3, 0.4)),
        (0, 3500, (0, 1000, 2000, 3000, 4000)),
    ],
)
def test_ticks_as_a_person_would_choose_them(low: float, high: float, found: tuple[float, ...]) -> None:
    """By hand; the numbers are those that are printed, without a tail."""
    assert ticks(low, high) == found


@given(NUMBERS, st.floats(0.01, 1e5), st.floats(0, 300), st.floats(1, 300), st.floats(-2, 2))
def test_a_scale_gives_back_its_numbers(
    low: float, span: float, start: float, length: float, part: float
) -> None:
    """A place leads back to the number, ends to ends, and halves to halves."""
    scale = Scale(low, low + span, start, start + length)
    number = low + part * span
    assert scale.number(scale.at(number)) == pytest.approx(number, abs=1e-6 * (span + abs(low)))
    assert (scale.at(low), scale.at(low + span)) == pytest.approx((start, start + length))
    assert scale.at(low + span / 2) == pytest.approx(start + length / 2)


@pytest.mark.parametrize(
    ("dimension", "system", "greatest", "unit", "value", "number"),
    [
        (Dimension.energy, System.metric, 3.6e6 * 2, "kWh", 3.6e6, 1.0),
        (Dimension.energy, System.metric, 3600.0 * 340, "Wh", 3600.0, 1.0),
        (Dimension.mass, System.us, 2000.0, "lb", 0.45359237, 1.0),
        (Dimension.temperature, System.us, 290.0, "°F", 273.15, 32.0),
        (Dimension.temperature, System.metric, 290.0, "°C", 273.15, 0.0),
        (Dimension.fraction_of_air, System.metric, 0.01, "ppm", 0.005, 5000.0),
    ],
)
def test_an_axis_is_numbered_in_the_units_of_the_van(
    dimension: Dimension, system: System, greatest: float, unit: str, value: float, number: float
) -> None:
    """The pound is exactly 0.45359237 kg; water freezes at 32 °F and 0 °C; both by definition."""
    found = measure(dimension, system, greatest)
    assert found.unit == unit
    assert found.number(value) == pytest.approx(number)


PER_CENT = st.floats(0, 100)
COURSE = st.lists(PER_CENT, min_size=2, max_size=30)


def only(drawn: Drawn, style: str) -> list[Shape]:
    """The shapes of a style among the lines; samples of the key are above them."""
    assert drawn.upright is not None
    top = drawn.upright.end
    return [one for one in drawn.shapes if one.style == style and all(y >= top for _, y in one.parts[0])]


@given(COURSE)
def test_a_point_stands_where_its_number_is(course: list[float]) -> None:
    """Every point of a line, of a band's edges and of a level leads back through the scales to its number."""
    points = tuple((float(x), y) for x, y in enumerate(course))
    above = tuple((x, y + 1) for x, y in points)
    drawn = lined(
        Axis("nights", ticks(0, len(course) - 1)),
        Axis("per cent", ticks(0, 101)),
        [Curve("a line", "dashed", points)],
        [Band("a band", points, above)],
        [Level("a level", 20.0)],
    )
    assert drawn.upright is not None
    for style, wanted in (("dashed", points), ("better", points), ("worse", above)):
        (shape,) = only(drawn, style)
        found = [(drawn.across.number(x), drawn.upright.number(y)) for x, y in shape.parts[0]]
        assert found == [pytest.approx(point, abs=1e-6) for point in wanted]
    (level,) = only(drawn, "level")
    assert {round(drawn.upright.number(y), 6) for _, y in level.parts[0]} == {20.0}
    assert all(0 <= x <= WIDTH for s in drawn.shapes for part in s.parts for x, _ in part)
    assert all(0 <= y <= drawn.height for s in drawn.shapes for part in s.parts for _, y in part)


@given(st.lists(st.floats(1, 1000), min_size=2, max_size=12))
def test_bars_are_in_proportion_from_nought(numbers: list[float]) -> None:
    """Twice the number is twice the width, in order from above."""
    axis = Axis("kilograms", ticks(0, max(numbers)))
    bars = [Bar(f"number {n}", f"{n:g}", (Part("bar", 0, n),)) for n in numbers]
    drawn = barred(axis, bars)
    found = [shape.parts[0] for shape in drawn.shapes if shape.style == "bar"]
    widths = [corners[1][0] - corners[0][0] for corners in found]
    assert [width / widths[0] for width in widths] == pytest.approx([n / numbers[0] for n in numbers])
    assert {round(corners[0][0], 6) for corners in found} == {round(drawn.across.at(0), 6)}
    tops = [corners[0][1] for corners in found]
    assert tops == sorted(tops) and len(set(tops)) == len(tops)


def test_limit_doubt_and_points_stand_at_their_numbers() -> None:
    """A bar of 40 that may be off by 5, a limit of 42, and a point at 10."""
    bars = [Bar("one", "40", (Part("bar", 0, 40), Part("hatch", 42, 45)), (35, 45), (("point", 10.0),))]
    drawn = barred(Axis("kg", ticks(0, 50)), bars, (Key("limit", "permitted"),), limit=42)
    number = drawn.across.number
    sample, limit = [shape for shape in drawn.shapes if shape.style == "limit"]
    assert sample.parts[0][0][0] < 30
    assert {round(number(x), 9) for x, _ in limit.parts[0]} == {42}
    (doubt,) = [shape for shape in drawn.shapes if shape.style == "doubt"]
    assert [number(x) for x, _ in doubt.parts[0]] == pytest.approx([35, 45])
    (outline,) = [shape for shape in drawn.shapes if shape.style == "outline"]
    assert sorted({round(number(x), 9) for x, _ in outline.parts[0]}) == [42, 45]
    (point,) = [shape for shape in drawn.shapes if shape.style == "point"]
    assert sum(number(x) for x, _ in point.parts[0]) / 4 == pytest.approx(10)


@given(st.floats(0, 300), st.floats(0, 50), st.floats(0.1, 300), st.floats(2, 40))
def test_hatching_stays_within_its_box(left: float, top: float, width: float, height: float) -> None:
    """Every line slants by 45 degrees inside the rectangle; none is a point."""
    right, bottom = left + width, top + height
    for (x1, y1), (x2, y2) in hatch(left, top, right, bottom).parts:
        assert left - 1e-6 <= x1 < x2 <= right + 1e-6
        assert top - 1e-6 <= y2 and y1 <= bottom + 1e-6
        assert x2 - x1 == pytest.approx(y1 - y2, abs=1e-6)


@given(st.text("abcdefgh ", min_size=1, max_size=90), st.floats(2 * LETTER, WIDTH))
def test_words_are_cut_to_their_room(words: str, width: float) -> None:
    """What fits stays whole; what does not ends in a mark and fits."""
    found = cut(words, width)
    assert room(found) <= width
    assert found == words or found.endswith("…")
    assert (found == words) == (room(words) <= width) or room(words) - width < LETTER
