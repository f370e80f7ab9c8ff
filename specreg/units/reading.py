"""From text as people write it to SI floats."""

import re
from functools import lru_cache
from typing import NoReturn

from specreg.units.dimension import Dimension
from specreg.units.error import NotAQuantity
from specreg.units.notation import BY_DIMENSION, BY_SPELLING, FIRST, MEANT, REFUSED, Notation

GREATEST = 1e12  # in SI; anything beyond is a slip of the keyboard

_SPACE = "[ \u00a0\u2009\u202f]"
_DECIMAL = r"[0-9]+(?:\.[0-9]+)?"
_FRACTION = rf"(?:([0-9]+){_SPACE}+)?([0-9]+)/([0-9]+)"
_decimal = re.compile(rf"([-−]?)({_DECIMAL}){_SPACE}*([^0-9/.,].*)?")
_fraction = re.compile(rf"([-−]?){_FRACTION}{_SPACE}*([^0-9/.,].*)?")
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
    """A whole number and a proper fraction; None where the fraction is not below one (10/2 is no inch size)."""
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
    """The SI value of a number of a unit."""
    return _checked(number * notation.factor + notation.offset, dimension)


def _checked(value: float, dimension: Dimension) -> float:
    """The value, unless it is beyond what any van could hold or below absolute zero."""
    if not abs(value) <= GREATEST:
        _refuse("the number is too large to be meant", dimension)
    if dimension is Dimension.temperature and value < 0:
        _refuse("the temperature is below absolute zero", dimension)
    return value


def _number_fault(text: str) -> str:
    """Why a text does not begin with a number as we read them."""
    if not text:
        return "nothing is written"
    comma = re.match(r"[-−]?([0-9]+),([0-9]+)", text)
    if comma:
        whole, rest = comma.groups()
        if len(rest) == 3:
            return (
                f"{whole},{rest} may be two numbers: write {whole}{rest} or {whole}.{rest}, without a comma"
            )
        return f"the decimal sign is a point: write {whole}.{rest}"
    if re.match(r"[-−]?\.[0-9]", text):
        return "a digit stands before the decimal point: write 0" + text.lstrip("-−").split()[0]
    if re.match(r"[-−]?[0-9]+ [0-9]{3}", text):
        return "a number is written without spaces between its digits"
    if text[0] == "+":
        return "a number is written without a plus sign"
    if re.match(r"[-−]?[0-9]", text):
        return f"{text} is not a number and a unit"
    return f"{text} does not begin with a number"


def _refuse_unit(text: str, unit: str, dimension: Dimension | None) -> NoReturn:
    """Say what is wrong with a unit that is not in the table for the dimension."""
    if not unit:
        _refuse(f"{text} has no unit", dimension)
    if unit in REFUSED or unit.upper() == "AWG":
        _refuse(REFUSED.get(unit, REFUSED["AWG"]), dimension)
    if re.match(r"[eE][-+−]?[0-9]", unit):
        _refuse("a number is written out, without an exponent", dimension)
    if unit[0] in "½¼¾⅓⅔⅛⅜⅝⅞":
        _refuse("a fraction is written with a slash, such as 1 1/2", dimension)
    if _feet.fullmatch(text):
        _refuse(f"{text} is not read: inches after feet are a number below 12", dimension)
    if re.search(r"(?:[ \u00a0@x×-]|\.\.)[-−]?[0-9]", unit):
        _refuse(f"{text} holds more than one number", dimension)
    found = BY_SPELLING.get(unit)
    if found is not None:
        _refuse(f"{unit} measures {_named(found.dimension)}, not {_named(dimension)}", dimension)
    _refuse(f"{unit} is not a unit that is known here", dimension, _nearest(unit, dimension))


def _named(dimension: Dimension | None) -> str:
    """A dimension in words."""
    return "a bare number" if dimension is Dimension.plain else str(dimension or "").replace("_", " ")


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
    return next(iter(difflib.get_close_matches(unit, known, 1, 0.6)), None)


def _refuse(reason: str, dimension: Dimension | None, nearest: str | None = None) -> NoReturn:
    """Raise NotAQuantity with the units that would do."""
    metric, us = FIRST[dimension] if dimension else ((), ())
    raise NotAQuantity(reason, metric + us, nearest)
