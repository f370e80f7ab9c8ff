"""The closed table of unit notations, as plain data: nothing outside it is read.

SI value = number · factor + offset. The first spelling of a row is the one that is written.
"""

from math import pi
from typing import Final, NamedTuple

from specreg.units.dimension import Dimension as D  # noqa: N817  # a table of a hundred rows
from specreg.units.dimension import System

INCH: Final = 0.0254
FOOT: Final = 0.3048
POUND: Final = 0.45359237  # international pound, kg
GRAVITY: Final = 9.80665  # standard acceleration, m/s²
GALLON: Final = 231 * INCH**3  # US liquid gallon
BTU: Final = 1055.05585262  # International Table BTU, J
HOUR: Final = 3600.0
DAY: Final = 86400.0


class Notation(NamedTuple):
    """One unit: what it measures, how it becomes SI, and the spellings that are read."""

    dimension: D
    factor: float
    spellings: tuple[str, ...]
    offset: float = 0.0


# Where a spelling stands in two rows (°C, K), the first row is what it means when no dimension is expected:
# °C and °F are then temperatures and K is a difference, as the trades use them.
NOTATIONS: Final = (
    Notation(D.length, 1.0, ("m",)),
    Notation(D.length, 1e-3, ("mm",)),
    Notation(D.length, 1e-2, ("cm",)),
    Notation(D.length, 1e3, ("km",)),
    Notation(D.length, INCH, ("in", '"', "″")),
    Notation(D.length, FOOT, ("ft", "'", "′")),
    Notation(D.length, 3 * FOOT, ("yd",)),
    Notation(D.length, 5280 * FOOT, ("mi",)),
    Notation(D.area, 1.0, ("m²", "m2", "m^2", "sq m")),
    Notation(D.area, 1e-4, ("cm²", "cm2", "cm^2", "sq cm")),
    Notation(D.area, 1e-6, ("mm²", "mm2", "mm^2", "sq mm")),
    Notation(D.area, FOOT**2, ("sq ft", "ft²", "ft2", "ft^2")),
    Notation(D.area, INCH**2, ("sq in", "in²", "in2", "in^2")),
    Notation(D.volume, 1e-3, ("L", "l")),
    Notation(D.volume, 1e-6, ("ml", "mL")),
    Notation(D.volume, 1.0, ("m³", "m3", "m^3")),
    Notation(D.volume, 1e-6, ("cm³", "cm3", "cm^3")),
    Notation(D.volume, GALLON, ("gal", "US gal")),
    Notation(D.volume, 4.54609e-3, ("imp gal",)),
    Notation(D.volume, GALLON / 4, ("qt",)),
    Notation(D.volume, GALLON / 128, ("fl oz",)),
    Notation(D.volume, FOOT**3, ("cu ft", "ft³", "ft3", "ft^3")),
    Notation(D.mass, 1.0, ("kg",)),
    Notation(D.mass, 1e-3, ("g",)),
    Notation(D.mass, 1e3, ("t",)),
    Notation(D.mass, POUND, ("lb", "lbs")),
    Notation(D.mass, POUND / 16, ("oz",)),
    Notation(D.time, 1.0, ("s",)),
    Notation(D.time, 60.0, ("min",)),
    Notation(D.time, HOUR, ("h", "hour", "hours")),
    Notation(D.time, 1e-3, ("ms",)),
    Notation(D.time, DAY, ("days", "day", "d")),
    Notation(D.time, 7 * DAY, ("weeks", "week")),
    Notation(D.time, 365.25 * DAY, ("years", "year")),  # the Julian year: ages and lives, not dates
    Notation(D.temperature, 1.0, ("°C", "degC"), 273.15),
    Notation(D.temperature, 5 / 9, ("°F", "degF"), 459.67 * 5 / 9),
    Notation(D.temperature_difference, 1.0, ("K",)),
    Notation(D.temperature, 1.0, ("K",)),
    Notation(D.temperature_difference, 1.0, ("°C", "degC")),
    Notation(D.temperature_difference, 5 / 9, ("°F", "degF")),
    Notation(D.current, 1.0, ("A",)),
    Notation(D.current, 1e-3, ("mA",)),
    Notation(D.current, 1e3, ("kA",)),
    Notation(D.voltage, 1.0, ("V",)),
    Notation(D.voltage, 1e-3, ("mV",)),
    Notation(D.voltage, 1e3, ("kV",)),
    Notation(D.resistance, 1.0, ("Ω", "\u2126", "ohm")),  # Greek omega and the ohm sign
    Notation(D.resistance, 1e-3, ("mΩ", "m\u2126", "mohm")),
    Notation(D.resistance, 1e3, ("kΩ", "k\u2126", "kohm")),
    Notation(D.resistance, 1e6, ("MΩ", "M\u2126", "Mohm")),
    Notation(D.power, 1.0, ("W",)),
    Notation(D.power, 1e3, ("kW",)),
    Notation(D.power, 1e-3, ("mW",)),
    # Inverters and transformers are rated in volt-amperes. Read as power, the current that follows from the
    # rating is right; what a load may really draw is this times its power factor, which a spec states.
    Notation(D.power, 1.0, ("VA",)),
    Notation(D.power, 1e3, ("kVA",)),
    Notation(D.power, BTU / HOUR, ("BTU/h", "Btu/h", "BTU/hr")),
    Notation(D.energy, HOUR, ("Wh",)),
    Notation(D.energy, 1e3 * HOUR, ("kWh",)),
    Notation(D.energy, 1.0, ("J",)),
    Notation(D.energy, 1e3, ("kJ",)),
    Notation(D.energy, 1e6, ("MJ",)),
    Notation(D.energy, BTU, ("BTU", "Btu")),
    Notation(D.charge, HOUR, ("Ah",)),
    Notation(D.charge, HOUR / 1e3, ("mAh",)),
    Notation(D.pressure, 1e5, ("bar",)),
    Notation(D.pressure, 1e2, ("mbar",)),
    Notation(D.pressure, 1.0, ("Pa",)),
    Notation(D.pressure, 1e2, ("hPa",)),
    Notation(D.pressure, 1e3, ("kPa",)),
    Notation(D.pressure, POUND * GRAVITY / INCH**2, ("psi",)),
    Notation(D.pressure, INCH * 1e3 * GRAVITY, ("inWC", "in w.c.", "in WC")),  # conventional water, 1 kg/L
    Notation(D.flow, 1e-3 / 60, ("L/min", "l/min")),
    Notation(D.flow, 1e-3 / HOUR, ("L/h", "l/h")),
    Notation(D.flow, 1e-3, ("L/s", "l/s")),
    Notation(D.flow, 1 / HOUR, ("m³/h", "m3/h", "m^3/h")),
    Notation(D.flow, 1.0, ("m³/s", "m3/s", "m^3/s")),
    Notation(D.flow, GALLON / 60, ("gpm", "gal/min")),
    Notation(D.flow, GALLON / HOUR, ("gal/h", "gph")),
    Notation(D.flow, FOOT**3 / 60, ("cfm",)),
    Notation(D.mass_flow, 1e-3 / HOUR, ("g/h",)),
    Notation(D.mass_flow, 1 / HOUR, ("kg/h",)),
    Notation(D.mass_flow, POUND / HOUR, ("lb/h",)),
    Notation(D.speed, 1e3 / HOUR, ("km/h",)),
    Notation(D.speed, 1.0, ("m/s",)),
    Notation(D.speed, 5280 * FOOT / HOUR, ("mph",)),
    Notation(D.force, 1.0, ("N",)),
    Notation(D.force, 1e3, ("kN",)),
    Notation(D.force, POUND * GRAVITY, ("lbf",)),
    Notation(D.torque, 1.0, ("Nm", "N m", "N·m")),
    Notation(D.torque, POUND * GRAVITY * FOOT, ("lb-ft", "lb ft", "lbf·ft")),
    Notation(D.torque, POUND * GRAVITY * INCH, ("lb-in", "lb in", "lbf·in")),
    Notation(D.angle, pi / 180, ("°", "deg")),
    Notation(D.angle, 1.0, ("rad",)),
    Notation(D.frequency, 1.0, ("Hz",)),
    Notation(D.frequency, 1e3, ("kHz",)),
    Notation(D.thermal_conductivity, 1.0, ("W/(m·K)", "W/(mK)", "W/mK", "W/m·K")),
    Notation(
        D.heat_transfer, 1.0, ("W/(m²·K)", "W/(m²K)", "W/m²K", "W/m²·K", "W/(m2·K)", "W/(m2K)", "W/m2K")
    ),
    Notation(D.thermal_resistance, 1.0, ("m²·K/W", "m²K/W", "m2·K/W", "m2K/W")),
    Notation(D.density, 1.0, ("kg/m³", "kg/m3", "kg/m^3")),
    Notation(D.density, 1e3, ("kg/L", "kg/l")),
    Notation(D.density, POUND / FOOT**3, ("lb/cu ft", "lb/ft³", "lb/ft3")),
    Notation(D.area_density, 1.0, ("kg/m²", "kg/m2", "kg/m^2")),
    Notation(D.area_density, 1e-3, ("g/m²", "g/m2", "g/m^2")),
    Notation(D.area_density, POUND / FOOT**2, ("lb/sq ft", "lb/ft²", "lb/ft2")),
    Notation(D.fraction_of_air, 1e-6, ("ppm",)),
    Notation(D.share, 1e-2, ("%",)),
    Notation(D.per_kelvin, 1e-2, ("%/K", "%/°C")),
    Notation(D.irradiation, 1e3 * HOUR, ("kWh/m²", "kWh/m2", "kWh/m^2")),
    Notation(D.irradiation, HOUR, ("Wh/m²", "Wh/m2", "Wh/m^2")),
    Notation(D.irradiation, 1e6, ("MJ/m²", "MJ/m2", "MJ/m^2")),
    Notation(D.burn_rate, 1e-3 / 60, ("mm/min",)),
    Notation(D.burn_rate, INCH / 60, ("in/min",)),
)

REFUSED: Final = {
    "C": "C may be coulomb or Celsius: write °C for a temperature, Ah for a charge",
    "F": "F may be farad or Fahrenheit: write °F for a temperature",
    "ton": "a ton may be metric, short or long: write t, kg or lb",
    "tons": "a ton may be metric, short or long: write t, kg or lb",
    "month": "a month has no fixed length: write days, weeks or years",
    "months": "a month has no fixed length: write days, weeks or years",
    "pt": "a pint may be US or imperial: write L, ml, qt (US) or fl oz (US)",
    "hp": "a horsepower may be metric or imperial: write W or kW",
    "AWG": "a gauge is a conductor size, not a quantity",
    "gauge": "a gauge is a conductor size, not a quantity",
}
"""Notations that are understood but refused, each with the reason."""

MEANT: Final = {
    **dict.fromkeys(("inch", "inches", "''"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("metre", "metres", "meter", "meters", "mtr"), "m"),
    **dict.fromkeys(("litre", "litres", "liter", "liters", "ltr"), "L"),
    **dict.fromkeys(("gallon", "gallons"), "gal"),
    **dict.fromkeys(("kilo", "kilos", "kgs"), "kg"),
    **dict.fromkeys(("pound", "pounds"), "lb"),
    **dict.fromkeys(("hr", "hrs"), "h"),
    **dict.fromkeys(("minute", "minutes", "mins"), "min"),
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("yr", "yrs"), "years"),
    **dict.fromkeys(("amp", "amps", "ampere", "amperes"), "A"),
    **dict.fromkeys(("volt", "volts"), "V"),
    **dict.fromkeys(("watt", "watts"), "W"),
    **dict.fromkeys(("ohms",), "ohm"),
    **dict.fromkeys(("percent", "pct"), "%"),
    **dict.fromkeys(("degrees",), "deg"),
    **dict.fromkeys(("lpm",), "L/min"),
}
"""Words that people write, and the notation that they mean: suggested, not read."""

FIRST: Final[dict[D, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    D.length: (("mm", "m", "km"), ("in", "ft", "mi")),
    D.area: (("m²", "cm²", "mm²"), ("sq ft", "sq in")),
    D.volume: (("L", "ml", "m³"), ("gal", "fl oz")),
    D.mass: (("kg", "g"), ("lb", "oz")),
    D.time: (("h", "min", "s", "days", "years"), ()),
    D.temperature: (("°C",), ("°F",)),
    D.temperature_difference: (("K",), ("°F",)),
    D.current: (("A", "mA", "kA"), ()),
    D.voltage: (("V", "mV"), ()),
    D.resistance: (("Ω", "mΩ", "kΩ", "MΩ"), ()),
    D.power: (("W", "kW", "mW"), ()),
    D.energy: (("Wh", "kWh"), ()),
    D.charge: (("Ah",), ()),
    D.pressure: (("bar", "mbar", "Pa"), ("psi", "inWC")),
    D.flow: (("L/min", "L/h", "m³/h"), ("gpm", "gal/h", "cfm")),
    D.mass_flow: (("g/h", "kg/h"), ("lb/h",)),
    D.speed: (("km/h",), ("mph",)),
    D.force: (("N", "kN"), ("lbf",)),
    D.torque: (("Nm",), ("lb-ft",)),
    D.angle: (("°",), ()),
    D.frequency: (("Hz", "kHz"), ()),
    D.thermal_conductivity: (("W/(m·K)",), ()),
    D.heat_transfer: (("W/(m²·K)",), ()),
    D.thermal_resistance: (("m²·K/W",), ()),
    D.density: (("kg/m³",), ("lb/cu ft",)),
    D.area_density: (("kg/m²",), ("lb/sq ft",)),
    D.fraction_of_air: (("ppm",), ()),
    D.share: (("%",), ()),
    D.per_kelvin: (("%/K",), ()),
    D.irradiation: (("kWh/m²",), ()),
    D.burn_rate: (("mm/min",), ("in/min",)),
    D.plain: ((), ()),
}
"""The units in which each dimension is written, metric and US, the usual one first; none: the metric."""

WRITTEN_FROM: Final = {
    "m²": 0.1,
    "days": 2.0,
    "years": 2.0,
    "L/min": 0.1,
    "m³/h": 6.0,  # from here on it is air, which fans state per hour
    "gpm": 0.1,
    "cfm": 5.0,
}
"""From how many of it on a unit is chosen when there is a smaller one; 1 for all others."""


def usual_units(dimension: D) -> tuple[str, ...]:
    """The notations that a tradesperson would write first for a dimension, metric before US."""
    metric, us = FIRST[dimension]
    return metric + us


def units_written(dimension: D, system: System) -> tuple[str, ...]:
    """The units in which a dimension is written in a system, the usual one first."""
    metric, us = FIRST[dimension]
    return us if system is System.us and us else metric


BY_DIMENSION: Final[dict[D, dict[str, Notation]]] = {dimension: {} for dimension in D}
"""The notations of each dimension by spelling."""

BY_SPELLING: Final[dict[str, Notation]] = {}
"""What each spelling means where no dimension is expected."""

for _notation in NOTATIONS:
    for _spelling in _notation.spellings:
        BY_DIMENSION[_notation.dimension][_spelling] = _notation
        BY_SPELLING.setdefault(_spelling, _notation)
