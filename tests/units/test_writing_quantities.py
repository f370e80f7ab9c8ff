"""Writing quantities: fitting units, significant digits, and reading back what was written."""

from math import floor, log10, pow

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specreg.units import Dimension, System, parse, unit_of, write
from specreg.units.notation import BY_DIMENSION

D, METRIC, US = Dimension, System.metric, System.us


@pytest.mark.parametrize(
    ("value", "dimension", "system", "text"),
    [
        (0.0042, D.length, METRIC, "4.2 mm"),
        (3.2, D.length, METRIC, "3.2 m"),
        (0.62, D.length, METRIC, "620 mm"),
        (0.0, D.length, METRIC, "0 mm"),
        (-3.2, D.length, METRIC, "−3.2 m"),
        (3.2004, D.length, US, "10 ft 6 in"),
        (3.6576, D.length, US, "12 ft"),
        (0.1778, D.length, US, "7 in"),
        (0.6096, D.length, US, "2 ft"),
        (0.6223, D.length, US, "2 ft 0.5 in"),
        (-3.2004, D.length, US, "−10 ft 6 in"),
        (0.91439, D.length, US, "3 ft"),  # rounds up: never 2 ft 12 in
        (8046.72, D.length, US, "5 mi"),
        (3456.0, D.mass, METRIC, "3456 kg"),  # whole units are never rounded away
        (0.35, D.mass, METRIC, "350 g"),
        (45.359237, D.mass, US, "100 lb"),
        (0.001, D.volume, METRIC, "1 L"),
        (0.07570823568, D.volume, US, "20 gal"),
        (300000.0, D.pressure, METRIC, "3 bar"),
        (3000.0, D.pressure, METRIC, "30 mbar"),
        (2739.978, D.pressure, US, "11 inWC"),
        (344737.864657, D.pressure, US, "50 psi"),
        (294.15, D.temperature, METRIC, "21 °C"),
        (294.2611111, D.temperature, US, "70 °F"),
        (263.15, D.temperature, METRIC, "−10 °C"),
        (360000.0, D.charge, METRIC, "100 Ah"),
        (5328000.0, D.energy, METRIC, "1.48 kWh"),
        (90.0, D.time, METRIC, "1.5 min"),
        (129600.0, D.time, METRIC, "36 h"),
        (518400.0, D.time, METRIC, "6 days"),
        (315576000.0, D.time, METRIC, "10 years"),
        (1 / 6000, D.flow, METRIC, "10 L/min"),
        (70 / 3600, D.flow, METRIC, "70 m³/h"),
        (0.00018927059, D.flow, US, "3 gpm"),
        (2000.0, D.current, METRIC, "2 kA"),
        (0.03, D.current, US, "30 mA"),
        (0.03, D.share, METRIC, "3 %"),
        (0.7853981634, D.angle, METRIC, "45°"),
        (0.0000123, D.plain, METRIC, "0.0000123"),
        (9.996, D.plain, METRIC, "10"),
        (0.5, D.area, METRIC, "0.5 m²"),
        (0.015, D.area, METRIC, "150 cm²"),
        (0.1, D.area, METRIC, "0.1 m²"),
        (0.0999, D.area, METRIC, "999 cm²"),
        (2 * 86400.0, D.time, METRIC, "2 days"),
        (1.99 * 86400, D.time, METRIC, "47.8 h"),
        (2 * 365.25 * 86400, D.time, METRIC, "2 years"),
        (700 * 86400.0, D.time, METRIC, "700 days"),
        (1.0, D.time, METRIC, "1 s"),
        (0.0, D.time, METRIC, "0 h"),
        (0.1 / 60000, D.flow, METRIC, "0.1 L/min"),
        (0.099 / 60000, D.flow, METRIC, "5.94 L/h"),
        (6 / 3600, D.flow, METRIC, "6 m³/h"),
        (5.99 / 3600, D.flow, METRIC, "99.8 L/min"),
        (0.1 * 3.785411784e-3 / 60, D.flow, US, "0.1 gpm"),
        (0.099 * 3.785411784e-3 / 60, D.flow, US, "5.94 gal/h"),
        (5 * 0.3048**3 / 60, D.flow, US, "5 cfm"),
        (4.99 * 0.3048**3 / 60, D.flow, US, "37.3 gpm"),
        (1.0, D.mass, METRIC, "1 kg"),
        (1.0 - 1e-12, D.mass, METRIC, "1 kg"),  # a hair is rounding
        (1.0 - 1.05e-12, D.mass, METRIC, "1000 g"),
        (0.99, D.mass, METRIC, "990 g"),
        (0.0001, D.length, METRIC, "0.1 mm"),
        (3456.7, D.mass, METRIC, "3457 kg"),
        (-0.35, D.mass, METRIC, "−350 g"),
        (-0.5, D.plain, METRIC, "−0.5"),
        (0.0, D.plain, METRIC, "0"),
        (-0.0, D.plain, METRIC, "0"),
        (0.0, D.length, US, "0 in"),
        (1609.344, D.length, US, "1 mi"),
        (5279.4 * 0.3048, D.length, US, "5279 ft 5 in"),
        (5280.5 * 0.3048, D.length, US, "1 mi"),
        (1000 * 0.3048, D.length, METRIC, "305 m"),
    ],
)
def test_writes(value: float, dimension: Dimension, system: System, text: str) -> None:
    """A value is written as a tradesperson would."""
    assert write(value, dimension, system) == text


@pytest.mark.parametrize(
    ("value", "dimension", "unit", "text"),
    [
        (2930.71, D.power, "BTU/h", "10000 BTU/h"),
        (4.035, D.length, "mm", "4035 mm"),
        (0.25, D.length, '"', '9.84 "'),
        (350.0, D.mass, "g", "350000 g"),
    ],
)
def test_writes_in_the_unit_asked_for(value: float, dimension: Dimension, unit: str, text: str) -> None:
    """A page that wants one unit for all its figures gets it."""
    assert write(value, dimension, unit=unit) == text


def test_a_unit_that_is_asked_for_is_not_feet_and_inches() -> None:
    """A column of feet is written in feet throughout."""
    assert write(3.2004, D.length, US, unit="ft") == "10.5 ft"


def test_digits_are_significant_digits() -> None:
    """More digits show more of the number, wherever its point stands."""
    assert [write(1.23456789, D.length, digits=digits) for digits in (2, 4, 6)] == [
        "1.2 m",
        "1.235 m",
        "1.23457 m",
    ]
    assert write(0.00123456, D.plain, digits=4) == "0.001235"


@pytest.mark.parametrize(
    ("dimension", "system", "unit"),
    [(D.mass, METRIC, "kg"), (D.mass, US, "lb"), (D.current, US, "A"), (D.plain, US, "")],
)
def test_usual_unit(dimension: Dimension, system: System, unit: str) -> None:
    """The first that the trade writes; a bare number has none."""
    assert unit_of(dimension, system) == unit
    assert unit_of(D.mass) == "kg"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("dimension", Dimension)
def test_usual_unit_is_read(dimension: Dimension, system: System) -> None:
    """The unit of a column heading is a notation of its dimension."""
    assert unit_of(dimension, system) in BY_DIMENSION[dimension] or dimension is D.plain


_MAGNITUDES = st.floats(min_value=1e-7, max_value=9e8, allow_nan=False)


@given(_MAGNITUDES, st.booleans(), st.sampled_from(Dimension), st.sampled_from(System), st.integers(3, 8))
@example(0.91439, False, D.length, US, 3)
@example(0.9999999, False, D.length, METRIC, 3)
@example(273.15, False, D.temperature, METRIC, 3)
def test_what_is_written_reads_back(
    size: float, negative: bool, dimension: Dimension, system: System, digits: int
) -> None:
    """Reading what was written gives the value again, within half of the last significant digit."""
    value = -size if negative else size
    if dimension is D.temperature:
        value = size + 2.0  # closer to absolute zero a rounded figure could fall below it
    text = write(value, dimension, system, digits)
    assert "e" not in text.split()[0]
    back = parse(text, dimension)
    assert abs(back - value) <= _half_a_digit(value, dimension, system, digits) + 1e-12 * abs(value)


def _half_a_digit(value: float, dimension: Dimension, system: System, digits: int) -> float:
    if dimension is not D.temperature:
        return 0.5 * pow(10.0, 1 - digits) * abs(value)
    notation = BY_DIMENSION[dimension][unit_of(dimension, system)]
    degrees = abs(value - notation.offset) / notation.factor
    return 0.5 * pow(10.0, floor(log10(degrees or 1)) + 1 - digits) * notation.factor + 1e-9
