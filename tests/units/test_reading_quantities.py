"""Reading quantities: the notations of the trades, and the traps that general parsers fall into."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from specreg.units import Dimension, NotAQuantity, parse, parse_any, parse_conductor, usual_units

READ = [
    ("4.2 m", Dimension.length, 4.2),
    ("4.2m", Dimension.length, 4.2),
    (" 4.2  m ", Dimension.length, 4.2),
    ("4.2\u00a0m", Dimension.length, 4.2),
    ("4.2\u202fm", Dimension.length, 4.2),
    ("1/2 in", Dimension.length, 0.0127),
    ("1 1/2 in", Dimension.length, 0.0381),
    ("-1 1/2 in", Dimension.length, -0.0381),
    ('3/8"', Dimension.length, 0.009525),
    ("6 ft 3 1/2 in", Dimension.length, 1.9177),
    ("6' 3\"", Dimension.length, 1.905),
    ("6'3\"", Dimension.length, 1.905),
    ("6′ 3″", Dimension.length, 1.905),
    ("-6 ft 3 in", Dimension.length, -1.905),
    ("6 ft 3/4 in", Dimension.length, 1.84785),
    ("6 ft 0.5 in", Dimension.length, 1.8415),
    ("6 ft", Dimension.length, 1.8288),
    ("−5 V", Dimension.voltage, -5.0),
    ("-5 V", Dimension.voltage, -5.0),
    ("−10 °C", Dimension.temperature, 263.15),
    ("-40 °F", Dimension.temperature, 233.15),
    ("5 °C", Dimension.temperature_difference, 5.0),
    ("9 °F", Dimension.temperature_difference, 5.0),
    ("100 Ah", Dimension.charge, 360000.0),
    ("2.4 MΩ", Dimension.resistance, 2.4e6),
    ("2.4 m\u2126", Dimension.resistance, 2.4e-3),
    ("30 mbar", Dimension.pressure, 3000.0),
    ("11 in w.c.", Dimension.pressure, 2739.97801),  # 11 in · 25.4 mm · 9.80665 Pa/mm
    ("-0.35 %/°C", Dimension.per_kelvin, -0.0035),
    ("42 %", Dimension.share, 0.42),
    ("50 ppm", Dimension.fraction_of_air, 50e-6),
    ("3", Dimension.plain, 3.0),
    ("0.42", Dimension.plain, 0.42),
    ("010 mm", Dimension.length, 0.01),
    ("0 K", Dimension.temperature, 0.0),
    ("0.5 K", Dimension.temperature, 0.5),
    ("-273.15 °C", Dimension.temperature, 0.0),
    ("6 ft 11.9 in", Dimension.length, 2.13106),  # 83.9 in · 25.4 mm
    ("1000000000000 m", Dimension.length, 1e12),
    ("1" + 58 * " " + "m", Dimension.length, 1.0),  # 60 characters
]


@pytest.mark.parametrize(("text", "dimension", "value"), READ)
def test_reads(text: str, dimension: Dimension, value: float) -> None:
    """Text becomes the SI value."""
    assert parse(text, dimension) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("one", "other", "dimension"),
    [
        ("7 in", "177.8 mm", Dimension.length),
        ("1/2 in", "12.7 mm", Dimension.length),
        ("72 in", "6 ft", Dimension.length),
        ("30 mA", "0.03 A", Dimension.current),
        ("1 kWh", "3600 kJ", Dimension.energy),
        ("0 °C", "32 °F", Dimension.temperature),
        ("212 °F", "100 °C", Dimension.temperature),
        ("37 mbar", "3.7 kPa", Dimension.pressure),
    ],
)
def test_equal_quantities_are_equal_floats(one: str, other: str, dimension: Dimension) -> None:
    """A limit that is met exactly in another unit is met, to the last binary digit."""
    assert parse(one, dimension) == parse(other, dimension)


REFUSALS = [
    ("12", Dimension.length, "12 has no unit"),
    ("3 1/2", Dimension.length, "has no unit"),
    ("12 V", Dimension.length, "V measures voltage, not length"),
    ("30 °C", Dimension.share, "measures temperature, not share"),
    ("3 mm", Dimension.plain, "measures length, not a bare number"),
    ("12 furlong", Dimension.length, "furlong is not a unit that is known here"),
    ("1,5 mm", Dimension.length, "write 1.5"),
    ("1,200 mm", Dimension.length, "without commas: 1200"),
    ("1 200 mm", Dimension.length, "without spaces: 1200"),
    (".5 mm", Dimension.length, "write 0.5"),
    ("1. mm", Dimension.length, "is not a number and a unit"),
    ("+5 V", Dimension.voltage, "without a plus sign"),
    ("1e3 mm", Dimension.length, "without an exponent"),
    ("1E-3 mm", Dimension.length, "without an exponent"),
    ("nan", Dimension.plain, "does not begin with a number"),
    ("inf V", Dimension.voltage, "does not begin with a number"),
    ("٣ mm", Dimension.length, "does not begin with a number"),
    ("３ mm", Dimension.length, "does not begin with a number"),
    ("", Dimension.length, "nothing is written"),
    ("1½ in", Dimension.length, "fraction is written with a slash"),
    ("1-1/2 in", Dimension.length, "a space stands between"),
    ("10/2 in", Dimension.length, "10/2 is no fraction below one"),
    ("1/0 in", Dimension.length, "1/0 is no fraction below one"),
    ("6 ft 14 in", Dimension.length, "inches below 12"),
    ("5'6", Dimension.length, "with their unit"),
    ("30 A @ 12 V", Dimension.power, "more than one number"),
    ("30 A @ 12 V", Dimension.current, "more than one number"),
    ("10-12 mm", Dimension.length, "more than one number"),
    ("3 x 5 mm", Dimension.length, "more than one number"),
    ("5 m 3 cm", Dimension.length, "more than one number"),
    ("2/0 AWG", Dimension.area, "a conductor size"),
    ("10 AWG", Dimension.area, "a conductor size"),
    ("20 C", Dimension.temperature, "coulomb or Celsius"),
    ("20 C", Dimension.charge, "coulomb or Celsius"),
    ("70 F", Dimension.temperature, "farad or Fahrenheit"),
    ("3 months", Dimension.time, "no fixed length"),
    ("2 tons", Dimension.mass, "metric, short or long"),
    ("-300 °C", Dimension.temperature, "below absolute zero"),
    ("9999999999999 m", Dimension.length, "too large"),
    ("9" * 59, Dimension.plain, "too large"),
    ("9" * 5000 + " m", Dimension.length, "too long"),
    ("1/" + "9" * 5000 + " in", Dimension.length, "too long"),
    ("1" + 59 * " " + "m", Dimension.length, "too long"),
    ("1000000000001 m", Dimension.length, "too large"),
    ("4/4 in", Dimension.length, "4/4 is no fraction below one"),
    ("6 ft 12 in", Dimension.length, "inches below 12"),
    ("6 ft x in", Dimension.length, "ft x in is not a unit"),
    ("6 ft 3 in", Dimension.mass, "6 ft 3 in"),
    ("10 awg", Dimension.area, "a conductor size"),
    ("-0.01 K", Dimension.temperature, "below absolute zero"),
    ("5 K", Dimension.length, "not length"),
    ("5 mm", Dimension.temperature_difference, "measures length, not temperature difference"),
]


@pytest.mark.parametrize(("text", "dimension", "reason"), REFUSALS, ids=lambda value: str(value)[:20])
def test_refuses_with_a_reason(text: str, dimension: Dimension, reason: str) -> None:
    """What is no quantity of the dimension is refused, says why, and names units that would do."""
    with pytest.raises(NotAQuantity) as caught:
        parse(text, dimension)
    assert reason in caught.value.reason
    assert caught.value.units == usual_units(dimension)


@pytest.mark.parametrize(
    ("text", "dimension", "nearest"),
    [
        ("5 MM", Dimension.length, "mm"),
        ("5 inches", Dimension.length, "in"),
        ("3 feet", Dimension.length, "ft"),
        ("2 Litres", Dimension.volume, "L"),
        ("10 amps", Dimension.current, "A"),
        ("5 KW", Dimension.power, "kW"),
        ("100 AH", Dimension.charge, "Ah"),
        ("3 ltr/min", Dimension.flow, "L/min"),
        ("5 gal(US)", Dimension.volume, "gal"),  # 3 of 7 signs are 3 of 3: 6 of 10 are alike, near enough
        ("3 amps", Dimension.length, None),
        ("5 quux", Dimension.length, None),
    ],
)
def test_names_the_nearest_unit(text: str, dimension: Dimension, nearest: str | None) -> None:
    """A near miss is answered with the right notation, never with one of another dimension."""
    with pytest.raises(NotAQuantity) as caught:
        parse(text, dimension)
    assert caught.value.nearest == nearest


@pytest.mark.parametrize(
    ("text", "value", "dimension"),
    [
        ("7 in", 0.1778, Dimension.length),
        ("6 ft 3 in", 1.905, Dimension.length),
        ("30 mA", 0.03, Dimension.current),
        ("2 %", 0.02, Dimension.share),
        ("-10 °C", 263.15, Dimension.temperature),
        ("5 K", 5.0, Dimension.temperature_difference),
        ("4", 4.0, Dimension.plain),
    ],
)
def test_unit_tells_the_dimension(text: str, value: float, dimension: Dimension) -> None:
    """Where no dimension is expected the unit tells it."""
    read, found = parse_any(text)
    assert found is dimension
    assert read == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "reason", "nearest"),
    [
        ("20 C", "coulomb or Celsius", None),
        ("70 F", "farad or Fahrenheit", None),
        ("2 tons", "metric, short or long", None),
        ("30 A @ 12 V", "30 A @ 12 V holds more than one number", None),
        ("5 foo", "foo is not a unit that is known here", None),
        ("5 MM", "MM is not a unit that is known here", "mm"),
        ("10 amps", "amps is not a unit that is known here", "A"),
        ("10 AWG", "a conductor size", None),
        ("", "nothing is written", None),
        ("1e3", "without an exponent", None),
        ("6 ft 14 in", "inches below 12", None),
    ],
)
def test_any_refuses(text: str, reason: str, nearest: str | None) -> None:
    """Ambiguous and unknown units are refused without an expected dimension, too; no units are offered then."""
    with pytest.raises(NotAQuantity) as caught:
        parse_any(text)
    assert reason in caught.value.reason
    assert (caught.value.units, caught.value.nearest) == ((), nearest)


_AWKWARD = st.text(alphabet="0123456789 ./,-−+'\"″½eEnainftAWGmVC°@\u00a0²٣\n", max_size=14)


@given(st.one_of(_AWKWARD, st.text(max_size=20)), st.sampled_from(Dimension))
@example("0/0", Dimension.plain)
@example("−", Dimension.length)
def test_never_anything_but_a_number_or_a_reason(text: str, dimension: Dimension) -> None:
    """Whatever is written, the answer is a finite number or a refusal with a reason."""
    for value in (_outcome(text, dimension), _outcome(text, None)):
        assert value is None or math.isfinite(value)
    try:
        assert parse_conductor(text).area > 0
    except NotAQuantity as refusal:
        assert refusal.reason
        assert refusal.units


def _outcome(text: str, dimension: Dimension | None) -> float | None:
    try:
        return parse(text, dimension) if dimension else parse_any(text)[0]
    except NotAQuantity as refusal:
        assert refusal.reason
        return None
