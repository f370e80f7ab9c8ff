"""The table of notations against an independent general unit library (pint)."""

import re

import pint
import pytest

from specreg.units import Dimension, System, parse, usual_units
from specreg.units import notation as table
from specreg.units.notation import (
    BY_DIMENSION,
    BY_SPELLING,
    FIRST,
    MEANT,
    NOTATIONS,
    REFUSED,
    Notation,
    units_written,
)

# What each written spelling is called over there: names spelled out, so that no symbol is trusted twice.
PINT_NAMES = {
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "km": "kilometer",
    "in": "inch", "ft": "foot", "yd": "yard", "mi": "mile",
    "m²": "meter**2", "cm²": "centimeter**2", "mm²": "millimeter**2", "sq ft": "foot**2", "sq in": "inch**2",
    "L": "liter", "ml": "milliliter", "m³": "meter**3", "cm³": "centimeter**3", "gal": "gallon",
    "imp gal": "imperial_gallon", "qt": "quart", "fl oz": "fluid_ounce", "cu ft": "foot**3",
    "kg": "kilogram", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce",
    "s": "second", "min": "minute", "h": "hour", "ms": "millisecond", "days": "day", "weeks": "week",
    "years": "year",
    "A": "ampere", "mA": "milliampere", "kA": "kiloampere",
    "V": "volt", "mV": "millivolt", "kV": "kilovolt",
    "Ω": "ohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm",
    "W": "watt", "kW": "kilowatt", "mW": "milliwatt", "VA": "volt_ampere", "kVA": "kilovolt_ampere",
    "BTU/h": "international_british_thermal_unit/hour",
    "Wh": "watt_hour", "kWh": "kilowatt_hour", "J": "joule", "kJ": "kilojoule", "MJ": "megajoule",
    "BTU": "international_british_thermal_unit",
    "Ah": "ampere_hour", "mAh": "milliampere_hour",
    "bar": "bar", "mbar": "millibar", "Pa": "pascal", "hPa": "hectopascal", "kPa": "kilopascal",
    "psi": "pound_force_per_square_inch", "inWC": "2.54 * centimeter_H2O",
    "L/min": "liter/minute", "L/h": "liter/hour", "L/s": "liter/second", "m³/h": "meter**3/hour",
    "m³/s": "meter**3/second", "gpm": "gallon/minute", "gal/h": "gallon/hour", "cfm": "foot**3/minute",
    "g/h": "gram/hour", "kg/h": "kilogram/hour", "lb/h": "pound/hour",
    "km/h": "kilometer/hour", "m/s": "meter/second", "mph": "mile/hour",
    "N": "newton", "kN": "kilonewton", "lbf": "force_pound",
    "Nm": "newton*meter", "lb-ft": "force_pound*foot", "lb-in": "force_pound*inch",
    "°": "degree", "rad": "radian", "Hz": "hertz", "kHz": "kilohertz",
    "W/(m·K)": "watt/meter/kelvin", "W/(m²·K)": "watt/meter**2/kelvin", "m²·K/W": "meter**2*kelvin/watt",
    "kg/m³": "kilogram/meter**3", "kg/L": "kilogram/liter", "lb/cu ft": "pound/foot**3",
    "kg/m²": "kilogram/meter**2", "g/m²": "gram/meter**2", "lb/sq ft": "pound/foot**2",
    "ppm": "ppm", "%": "percent", "%/K": "percent/kelvin",
    "kWh/m²": "kilowatt_hour/meter**2", "Wh/m²": "watt_hour/meter**2", "MJ/m²": "megajoule/meter**2",
    "mm/min": "millimeter/minute", "in/min": "inch/minute",
}  # fmt: skip

SI = {
    Dimension.length: "meter", Dimension.area: "meter**2", Dimension.volume: "meter**3",
    Dimension.mass: "kilogram", Dimension.time: "second", Dimension.temperature: "kelvin",
    Dimension.temperature_difference: "kelvin", Dimension.current: "ampere", Dimension.voltage: "volt",
    Dimension.resistance: "ohm", Dimension.power: "watt", Dimension.energy: "joule",
    Dimension.charge: "coulomb", Dimension.pressure: "pascal", Dimension.flow: "meter**3/second",
    Dimension.mass_flow: "kilogram/second", Dimension.speed: "meter/second", Dimension.force: "newton",
    Dimension.torque: "newton*meter", Dimension.angle: "radian", Dimension.frequency: "1/second",
    Dimension.thermal_conductivity: "watt/meter/kelvin", Dimension.heat_transfer: "watt/meter**2/kelvin",
    Dimension.thermal_resistance: "meter**2*kelvin/watt", Dimension.density: "kilogram/meter**3",
    Dimension.area_density: "kilogram/meter**2", Dimension.fraction_of_air: "", Dimension.share: "",
    Dimension.per_kelvin: "1/kelvin", Dimension.irradiation: "joule/meter**2",
    Dimension.burn_rate: "meter/second",
}  # fmt: skip

TEMPERATURES = {
    (Dimension.temperature, "°C"): "degC",
    (Dimension.temperature, "°F"): "degF",
    (Dimension.temperature, "K"): "kelvin",
    (Dimension.temperature_difference, "°C"): "delta_degC",
    (Dimension.temperature_difference, "°F"): "delta_degF",
    (Dimension.temperature_difference, "K"): "kelvin",
}


@pytest.fixture(scope="module")
def registry() -> "pint.UnitRegistry[float]":
    """The other library's own definitions, unchanged but for reading offsets."""
    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def _elsewhere(registry: "pint.UnitRegistry[float]", number: float, notation: Notation) -> float:
    written = notation.spellings[0]
    name = TEMPERATURES.get((notation.dimension, written)) or PINT_NAMES[written]
    if notation.dimension is Dimension.angle or name in ("hertz", "kilohertz"):
        # A hertz is 2π rad/s to some and 1/s to others: compare the units themselves.
        target = "radian" if notation.dimension is Dimension.angle else "hertz"
        return float(registry.Quantity(number, name).to(target).magnitude)
    if "*" in name and name[0].isdigit():
        return float((number * registry.parse_expression(name)).to(SI[notation.dimension]).magnitude)
    return float(registry.Quantity(number, name).to(SI[notation.dimension] or "dimensionless").magnitude)


@pytest.mark.parametrize("notation", NOTATIONS, ids=lambda row: f"{row.dimension}:{row.spellings[0]}")
def test_factor_agrees_with_pint(notation: Notation, registry: "pint.UnitRegistry[float]") -> None:
    """Every spelling of every unit gives the SI value that pint computes, at two numbers (offsets show)."""
    for number in (1.0, 37.5):
        expected = _elsewhere(registry, number, notation)
        for spelling in notation.spellings:
            assert parse(f"{number} {spelling}", notation.dimension) == pytest.approx(expected, rel=1e-12)


def test_no_spelling_stands_twice_in_a_dimension() -> None:
    """A spelling means one thing within a dimension."""
    pairs = [(row.dimension, spelling) for row in NOTATIONS for spelling in row.spellings]
    assert len(pairs) == len(set(pairs))


def test_only_temperatures_share_spellings_across_dimensions() -> None:
    """Outside of temperature and difference a spelling alone tells the dimension."""
    for dimension, rows in BY_DIMENSION.items():
        for spelling in rows:
            if BY_SPELLING[spelling].dimension is not dimension:
                assert {dimension, BY_SPELLING[spelling].dimension} == {
                    Dimension.temperature,
                    Dimension.temperature_difference,
                }


def test_refused_and_suggested_words_are_outside_the_table() -> None:
    """A refused notation is never read, and a suggested one always is."""
    assert not set(REFUSED) & set(BY_SPELLING)
    assert not set(MEANT) & set(BY_SPELLING)
    assert set(MEANT.values()) <= set(BY_SPELLING)


@pytest.mark.parametrize("dimension", Dimension)
def test_units_offered_are_units_read(dimension: Dimension) -> None:
    """Whatever is offered to a person can be written, and each dimension but the bare number offers one."""
    assert set(FIRST) == set(Dimension)
    assert set(usual_units(dimension)) <= set(BY_DIMENSION[dimension])
    assert bool(usual_units(dimension)) is (dimension is not Dimension.plain)


def test_no_spelling_could_be_taken_for_a_number() -> None:
    """A unit starts with no digit, point, slash or space: the number before it ends unmistakably."""
    assert not [spelling for spelling in BY_SPELLING if re.match(r"[0-9.,/\s+-]", spelling)]


def test_what_is_read_is_what_stands_in_the_table() -> None:
    """Each spelling leads to its own row; °C and °F alone are temperatures, and K alone is a difference."""
    for row in table.NOTATIONS:
        assert all(BY_DIMENSION[row.dimension][spelling] == row for spelling in row.spellings)
    assert sum(len(rows) for rows in BY_DIMENSION.values()) == sum(len(row.spellings) for row in NOTATIONS)
    alone = {spelling: BY_SPELLING[spelling].dimension for spelling in ("°C", "degC", "°F", "degF", "K")}
    assert alone == dict.fromkeys(("°C", "degC", "°F", "degF"), Dimension.temperature) | {
        "K": Dimension.temperature_difference
    }


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("INCH", 0.0254),
        ("FOOT", 0.3048),
        ("POUND", 0.45359237),
        ("GRAVITY", 9.80665),
        ("GALLON", 3.785411784e-3),
        ("BTU", 1055.05585262),
        ("HOUR", 60 * 60),
        ("DAY", 24 * 60 * 60),
    ],
)
def test_what_other_units_are_made_from(name: str, value: float) -> None:
    """The international yard and pound of 1959, the US gallon of 231 in³, the International Table BTU."""
    assert getattr(table, name) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(
    ("dimension", "system", "units"),
    [
        (Dimension.mass, System.metric, ("kg", "g")),
        (Dimension.mass, System.us, ("lb", "oz")),
        (Dimension.current, System.us, ("A", "mA", "kA")),
        (Dimension.plain, System.us, ()),
    ],
)
def test_units_of_a_system(dimension: Dimension, system: System, units: tuple[str, ...]) -> None:
    """Where the US trade has no unit of its own, the metric ones are written."""
    assert units_written(dimension, system) == units


def test_metric_units_are_offered_first() -> None:
    """Both systems' units are offered, as a tradesperson here writes them first."""
    assert usual_units(Dimension.mass) == ("kg", "g", "lb", "oz")
