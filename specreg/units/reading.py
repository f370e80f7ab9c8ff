"""From text as people write it to SI floats."""

import re
from functools import lru_cache
from typing import NoReturn

from specreg.units.dimension import Dimension
from specreg.units.error import NotAQuantity
from specreg.units.notation import BY_DIMENSION, BY_SPELLING, MEANT, REFUSED, Notation, usual_units

GREATEST = 1e12  # in SI; anything beyond is a slip of the keyboard
LONGEST = 60  # characters; no quantity needs more

_SPACE = "[ \u00a0\u2009\u202f]"
_DECIMAL = r"[0-9]+(?:\.[0-9]+)?"
_FRACTION = rf"(?:([0-9]+){_SPACE}+)?([0-9]+)/([0-9]+)"
_UNIT = r"([^0-9/.,\s].*)?"
_decimal = re.compile(rf"([-−]?)({_DECIMAL}){_SPACE}*{_UNIT}")
_fraction = re.compile(rf"([-−]?){_FRACTION}{_SPACE}*{_UNIT}")
_feet = re.compile(rf"([-−]?)([0-9]+){_SPACE}*(?:ft|['′]){_SPACE}*(.+?){_SPACE}*(?:in|[\"″])")
_number = re.compile(_DECIMAL)
_only_fraction = re.compile(_FRACTION)


@lru_cache(maxsize=8192)
def parse(text: str, dimension: Dimension) -> float:
    """Read a text as a quantity of a dimension, in SI units; raise NotAQuantity saying why it is none."""
    number, unit = _split(text.strip(), dimension)
    notation = BY_DIMENSION[dimension].get(unit)
    if notation is not None:
        return _to_si(number, notation, dimension)
    if dimension is Dimension.plain and not unit:
        return _checked(number, dimension)
    inches = _feet_and_inches(text.strip()) if dimension is Dimension.length else None
    if inches is not None:
        return _to_si(inches, BY_SPELLING["in"], dimension)
    _refuse_unit(text.strip(), unit, dimension)


@lru_cache(maxsize=1024)
def parse_any(text: str) -> tuple[float, Dimension]:
    """Read a text as a quantity of whatever dimension its unit has: °C is a temperature, K a difference."""
    number, unit = _split(text.strip(), None)
    notation = BY_SPELLING.get(unit)
    if notation is not None:
        return _to_si(number, notation, notation.dimension), notation.dimension
    if not unit:
        return _checked(number, Dimension.plain), Dimension.plain
    inches = _feet_and_inches(text.strip())
    if inches is not None:
        return _to_si(inches, BY_SPELLING["in"], Dimension.length), Dimension.length
    _refuse_unit(text.strip(), unit, None)


def _split(text: str, dimension: Dimension | None) -> tuple[float, str]:
    """The number and the unit of a text; the unit is empty where there is none."""
    if len(text) > LONGEST:
        _refuse("the text is too long for a quantity", dimension)
    match = _decimal.fullmatch(text)
    if match:
        sign, digits, unit = match.groups()
        return (-float(digits) if sign else float(digits)), unit or ""
    match = _fraction.fullmatch(text)
    if match:
        sign, whole, over, under, unit = match.groups()
        if unit and unit.upper() == "AWG":
            _refuse(REFUSED["AWG"], dimension)
        value = _mixed(whole, over, under)
        if value is not None:
            return (-value if sign else value), unit or ""
        _refuse(f"{over}/{under} is no fraction below one", dimension)
    _refuse(_number_fault(text), dimension)


def _mixed(whole: str | None, over: str, under: str) -> float | None:
    """A whole number and a proper fraction; None where the fraction is not below one (10/2 in)."""
    if int(over) >= int(under):
        return None
    return int(whole or 0) + int(over) / int(under)


def _feet_and_inches(text: str) -> float | None:
    """The inches of '6 ft 3 1/2 in'; None where the text is not of that form or has 12 inches or more."""
    match = _feet.fullmatch(text)
    if not match:
        return None
    sign, feet, rest = match.groups()
    fraction = _only_fraction.fullmatch(rest)
    inches = _mixed(*fraction.groups()) if fraction else float(rest) if _number.fullmatch(rest) else None
    if inches is None or inches >= 12:
        return None
    total = 12 * int(feet) + inches
    return -total if sign else total


def _to_si(number: float, notation: Notation, dimension: Dimension) -> float:
    """The SI value of a number of a unit.

    Rounded to 15 significant digits, so that 7 in and 177.8 mm are the same float and a limit that is met
    exactly does not fail by the last binary digit.
    """
    return _checked(float(f"{number * notation.factor + notation.offset:.15g}"), dimension)


def _checked(value: float, dimension: Dimension) -> float:
    """The value, unless it is beyond what any van could hold or below absolute zero."""
    if not abs(value) <= GREATEST:
        _refuse("the number is too large to be meant", dimension)
    if dimension is Dimension.temperature and value < 0:
        _refuse("the temperature is below absolute zero", dimension)
    return value


_NUMBER_FAULTS = tuple(
    (re.compile(pattern), reason)
    for pattern, reason in (
        ("()()$", "nothing is written"),
        (
            "[-−]?([0-9]+),([0-9]{3})(?![0-9])",
            "a number is written without commas: {0}{1}, or {0}.{1} if a point is meant",
        ),
        ("[-−]?([0-9]+),([0-9]+)", "the decimal sign is a point: write {0}.{1}"),
        (r"[-−]?()\.([0-9]+)", "a digit stands before the decimal point: write 0.{1}"),
        (r"[-−]?([0-9]+)\s([0-9]{3})(?![0-9/])", "a number is written without spaces: {0}{1}"),
        (r"()()\+", "a number is written without a plus sign"),
        ("()()[-−]?[0-9]", "{text} is not a number and a unit"),
        ("()()", "{text} does not begin with a number"),
    )
)


def _number_fault(text: str) -> str:
    """Why a text does not begin with a number as we read them."""
    for pattern, reason in _NUMBER_FAULTS:
        match = pattern.match(text)
        if match:
            return reason.format(*match.groups(), text=text)
    raise AssertionError("the last pattern matches every text")


_UNIT_FAULTS = tuple(
    (re.compile(pattern), reason)
    for pattern, reason in (
        ("[eE][-+−]?[0-9]", "a number is written out, without an exponent"),
        ("[½¼¾⅓⅔⅛⅜⅝⅞]", "a fraction is written with a slash, such as 1 1/2"),
        ("-[0-9]+/[0-9]", "a space stands between a whole number and its fraction, such as 1 1/2"),
        (
            r"(?:ft|['′])\s*[0-9.]+(?: [0-9/]+)?\s*(?:in|[\"″])?$",
            "{text} is not read: after feet stand inches below 12, with their unit, such as 6 ft 3 1/2 in",
        ),
        (r".*(?:[-\s@x×–'′]|\.\.)[-−]?[0-9]|[-–]", "{text} holds more than one number"),
    )
)


def _refuse_unit(text: str, unit: str, dimension: Dimension | None) -> NoReturn:
    """Say what is wrong with a unit that is not in the table for the dimension."""
    if not unit:
        _refuse(f"{text} has no unit", dimension)
    if unit in REFUSED or unit.upper() == "AWG":
        _refuse(REFUSED.get(unit, REFUSED["AWG"]), dimension)
    for pattern, reason in _UNIT_FAULTS:
        if pattern.match(unit):
            _refuse(reason.format(text=text), dimension)
    found = BY_SPELLING.get(unit)
    if found is not None:
        _refuse(f"{unit} measures {_named(found.dimension)}, not {_named(dimension)}", dimension)
    _refuse(f"{unit} is not a unit that is known here", dimension, _nearest(unit, dimension))


def _named(dimension: Dimension | None) -> str:
    """A dimension in words."""
    return "a bare number" if dimension is Dimension.plain else str(dimension).replace("_", " ")


def _nearest(unit: str, dimension: Dimension | None) -> str | None:
    """The right unit most like the wrong one: the word meant, the other case, or a similar spelling."""
    import difflib  # noqa: PLC0415  # only for a text that is already wrong

    known = BY_SPELLING if dimension is None else BY_DIMENSION[dimension]
    meant = MEANT.get(unit.lower())
    if meant in known:
        return meant
    for spelling in known:
        if spelling.lower() == unit.lower():
            return spelling
    similar = difflib.get_close_matches(unit, known, 1, 0.6)
    return known[similar[0]].spellings[0] if similar else None


def _refuse(reason: str, dimension: Dimension | None, nearest: str | None = None) -> NoReturn:
    """Raise NotAQuantity with the units that would do."""
    raise NotAQuantity(reason, usual_units(dimension) if dimension else (), nearest)
