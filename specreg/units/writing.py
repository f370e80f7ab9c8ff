"""From SI floats to text as people write it."""

from math import floor, log10

from specreg.units.dimension import Dimension, System
from specreg.units.notation import BY_DIMENSION, WRITTEN_FROM, Notation, units_written

_TIGHT = {"°"}  # written against its number


def unit_of(dimension: Dimension, system: System = System.metric) -> str:
    """The usual unit of a dimension in a system; empty for a bare number."""
    return next(iter(units_written(dimension, system)), "")


def write(
    value: float,
    dimension: Dimension,
    system: System = System.metric,
    digits: int = 3,
    *,
    unit: str | None = None,
) -> str:
    """Write an SI value for a person, in a fitting unit or in the one that is asked for.

    At least `digits` significant digits are kept, and whole units always: 3456 kg stays 3456 kg.
    """
    if dimension is Dimension.plain:
        return _figures(value, digits)
    if unit is None and _is_feet_and_inches(value, dimension, system):
        return _feet_and_inches(value, digits)
    notation = BY_DIMENSION[dimension][unit or _fitting(value, dimension, system)]
    symbol = unit or notation.spellings[0]
    space = "" if symbol in _TIGHT else " "
    return f"{_figures((value - notation.offset) / notation.factor, digits)}{space}{symbol}"


def _fitting(value: float, dimension: Dimension, system: System) -> str:
    """The largest usual unit of which the value holds enough, else the smallest; the usual one for zero."""
    units = units_written(dimension, system)
    if value == 0:
        return units[0]
    known = BY_DIMENSION[dimension]
    for unit in sorted(units, key=lambda unit: -known[unit].factor):
        if _holds(value, known[unit], unit):
            return unit
    return min(units, key=lambda unit: known[unit].factor)


def _holds(value: float, notation: Notation, unit: str) -> bool:
    """Whether a value is large enough for a unit; a hair is forgiven for rounding."""
    return abs(value) / notation.factor >= WRITTEN_FROM.get(unit, 1.0) * (1 - 1e-12)


def _is_feet_and_inches(value: float, dimension: Dimension, system: System) -> bool:
    """Whether a length is written in feet and inches: in US units, from two feet to a mile."""
    feet = abs(value) / BY_DIMENSION[Dimension.length]["ft"].factor
    return dimension is Dimension.length and system is System.us and feet < 5280


def _feet_and_inches(value: float, digits: int) -> str:
    """A length as '10 ft 6 in', below two feet as inches."""
    inches = _rounded(value / BY_DIMENSION[Dimension.length]["in"].factor, digits)
    if abs(inches) < 24:
        return f"{_figures(inches, digits)} in"
    feet, rest = divmod(abs(inches), 12)
    sign = "−" if inches < 0 else ""
    return f"{sign}{feet:.0f} ft" + (f" {_plain(rest, _places(inches, digits))} in" if rest else "")


def _places(number: float, digits: int) -> int:
    """How many decimal places hold so many significant digits; none for a large number."""
    return max(0, digits - 1 - floor(log10(abs(number)))) if number else 0


def _rounded(number: float, digits: int) -> float:
    """The number rounded to significant digits, whole units kept."""
    return round(number, _places(number, digits))


def _figures(number: float, digits: int) -> str:
    """A number with significant digits, whole units kept, a true minus and no trailing zeros."""
    return _plain(number, _places(number, digits))


def _plain(number: float, places: int) -> str:
    """A number with at most so many decimal places, without an exponent."""
    text = f"{abs(number):.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return f"−{text}" if number < 0 else text
