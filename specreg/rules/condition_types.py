"""What may be compared and computed with what: dimensions in sums, products and comparisons."""

from __future__ import annotations

from specreg.facts.value_type import ValueType, number
from specreg.units import Dimension

D = Dimension

PURE = (D.plain, D.share)
"""Numbers without a unit: they scale whatever they are multiplied with."""

# Physics and geometry, SI units throughout: the left two multiply to the third.
PRODUCTS: tuple[tuple[Dimension, Dimension, Dimension], ...] = (
    (D.voltage, D.current, D.power),
    (D.current, D.resistance, D.voltage),
    (D.power, D.time, D.energy),
    (D.current, D.time, D.charge),
    (D.charge, D.voltage, D.energy),
    (D.length, D.length, D.area),
    (D.length, D.area, D.volume),
    (D.flow, D.time, D.volume),
    (D.mass_flow, D.time, D.mass),
    (D.speed, D.time, D.length),
    (D.force, D.length, D.torque),
    (D.area, D.area_density, D.mass),
    (D.volume, D.density, D.mass),
    (D.irradiation, D.area, D.energy),
    (D.per_kelvin, D.temperature_difference, D.share),
)


def name_of(dimension: Dimension) -> str:
    """The dimension as a noun with its article: `a temperature difference`, `a bare number`."""
    if dimension is D.plain:
        return "a bare number"
    word = dimension.value.replace("_", " ")
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"


def describe(kind: ValueType) -> str:
    """What a value is, as a noun with its article."""
    match kind.form:
        case "number":
            return name_of(kind.dimension or D.plain)
        case "truth":
            return "a truth value"
        case "list":
            assert kind.item is not None
            return f"a list (each item {describe(kind.item)})"
        case "view":
            return f"a thing ({kind.label})" if kind.label else "a thing"
        case "anything":
            return "a value of unknown type"
        case _:
            return f"a {kind.form}"


def product(left: Dimension, right: Dimension) -> Dimension | None:
    """The dimension of left × right, or None where the product has no name here."""
    if D.temperature in (left, right):
        return None  # 20 °C is not twice 10 °C: only differences may be scaled
    for pure in PURE:
        if pure in (left, right):
            return right if left is pure else left
    return next((p for a, b, p in PRODUCTS if (left, right) in ((a, b), (b, a))), None)


def quotient(left: Dimension, right: Dimension) -> Dimension | None:
    """The dimension of left ÷ right, or None where the quotient has no name here."""
    if D.temperature in (left, right):
        return None
    if left is right:
        return D.plain
    if right in PURE:
        return left
    for a, b, whole in PRODUCTS:
        if whole is left and right in (a, b):
            return b if right is a else a
    return None


def total(left: Dimension, right: Dimension) -> Dimension | None:
    """The dimension of left + right; temperatures do not add, a difference shifts a temperature."""
    if {left, right} == {D.temperature, D.temperature_difference}:
        return D.temperature
    if {left, right} == set(PURE):
        return D.share
    return left if left is right and left is not D.temperature else None


def difference(left: Dimension, right: Dimension) -> Dimension | None:
    """The dimension of left − right; two temperatures give a temperature difference."""
    if left is D.temperature:
        return {D.temperature: D.temperature_difference, D.temperature_difference: D.temperature}.get(right)
    if {left, right} == set(PURE):
        return D.share
    return left if left is right else None


ARITHMETIC = {"+": total, "-": difference, "*": product, "/": quotient}
VERBS = {"+": "adds", "-": "subtracts", "*": "multiplies", "/": "divides"}


def combine(sign: str, left: ValueType, right: ValueType) -> ValueType | str:
    """The type of `left sign right`, or a plain sentence why there is none."""
    if left.form != "number" or right.form != "number":
        return f"`{sign}` works on numbers, and this is {describe(left if left.form != 'number' else right)}"
    a, b = left.dimension or D.plain, right.dimension or D.plain
    result = ARITHMETIC[sign](a, b)
    if result is not None:
        return number(result)
    first, second = (b, a) if sign == "-" else (a, b)
    joint = {"+": "and", "-": "from", "*": "by", "/": "by"}[sign]
    return f"{VERBS[sign]} {name_of(first)} {joint} {name_of(second)}, which has no meaning here"


def comparable(sign: str, left: ValueType, right: ValueType) -> str | None:
    """A plain sentence why two values cannot be compared by `sign`, or None where they can."""
    if left.form != right.form:
        return f"compares {describe(left)} with {describe(right)}"
    if left.form == "number":
        return compare_numbers(left.dimension or D.plain, right.dimension or D.plain)
    if left.form in ("list", "anything"):
        return f"{describe(left)} cannot be compared; use a filter or a test on it"
    if left.label != right.label:
        return f"compares {describe(left)} with {describe(right)}"
    if sign not in ("==", "!=") and left.form != "date":
        return f"`{sign}` needs numbers or dates, and this is {describe(left)}"
    return None


def compare_numbers(left: Dimension, right: Dimension) -> str | None:
    """A plain sentence why numbers of these dimensions cannot be compared, or None."""
    if left is right:
        return None
    if D.plain in (left, right):
        named = name_of(left if right is D.plain else right)
        return f"compares {named} with a bare number; give {named} under `limits:` and use its name"
    return f"compares {name_of(left)} with {name_of(right)}"
