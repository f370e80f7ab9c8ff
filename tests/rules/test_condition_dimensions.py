"""Dimensions of conditions against the International System: figures that carry the powers of their base units."""

from __future__ import annotations

import itertools
from datetime import date
from typing import Any

import pytest
from condition_world import PLACE
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.facts.missing import Missing
from specreg.facts.value_type import ANYTHING, DATE, TRUTH, ValueType, list_of, number, text, view
from specreg.rules.condition import compile_text
from specreg.rules.condition_types import (
    combine,
    comparable,
    describe,
    difference,
    product,
    quotient,
    total,
)
from specreg.rules.expression import Expression, Part
from specreg.units import Dimension

D = Dimension
Powers = tuple[int, int, int, int, int]

NONE: Powers = (0, 0, 0, 0, 0)
POWERS: dict[
    Dimension, Powers
] = {  # of metre, kilogram, second, ampere, kelvin; SI Brochure (2019), tables 2 to 6
    D.length: (1, 0, 0, 0, 0),
    D.area: (2, 0, 0, 0, 0),
    D.volume: (3, 0, 0, 0, 0),
    D.mass: (0, 1, 0, 0, 0),
    D.time: (0, 0, 1, 0, 0),
    D.temperature: (0, 0, 0, 0, 1),
    D.temperature_difference: (0, 0, 0, 0, 1),
    D.current: (0, 0, 0, 1, 0),
    D.voltage: (2, 1, -3, -1, 0),
    D.resistance: (2, 1, -3, -2, 0),
    D.power: (2, 1, -3, 0, 0),
    D.energy: (2, 1, -2, 0, 0),
    D.charge: (0, 0, 1, 1, 0),
    D.pressure: (-1, 1, -2, 0, 0),
    D.flow: (3, 0, -1, 0, 0),
    D.mass_flow: (0, 1, -1, 0, 0),
    D.speed: (1, 0, -1, 0, 0),
    D.force: (1, 1, -2, 0, 0),
    D.torque: (2, 1, -2, 0, 0),
    D.angle: NONE,
    D.frequency: (0, 0, -1, 0, 0),
    D.thermal_conductivity: (1, 1, -3, 0, -1),
    D.heat_transfer: (0, 1, -3, 0, -1),
    D.thermal_resistance: (0, -1, 3, 0, 1),
    D.density: (-3, 1, 0, 0, 0),
    D.area_density: (-2, 1, 0, 0, 0),
    D.fraction_of_air: NONE,
    D.share: NONE,
    D.per_kelvin: (0, 0, 0, 0, -1),
    D.irradiation: (0, 1, -2, 0, 0),
    D.burn_rate: (1, 0, -1, 0, 0),
    D.plain: NONE,
}
PAIRS = list(itertools.product(D, D))
SCALED = [one for one in D if one is not D.temperature]


def plus(one: Powers, other: Powers, times: int = 1) -> Powers:
    """The powers of a product; of a quotient with −1."""
    a, b, c, d, e = (x + times * y for x, y in zip(one, other, strict=True))
    return a, b, c, d, e


def test_every_dimension_has_its_powers() -> None:
    """A new one asks for a row here."""
    assert set(POWERS) == set(D)


@pytest.mark.parametrize("one", SCALED)
def test_a_bare_number_and_a_share_scale_everything(one: Dimension) -> None:
    """Twice, or a tenth of, a length is a length; half a share is a share, on whichever side the half stands."""
    assert product(D.plain, one) is product(one, D.plain) is one
    assert product(D.share, one) is product(one, D.share) is (D.share if one is D.plain else one)
    assert quotient(one, D.plain) is one
    assert quotient(one, D.share) is (D.plain if one is D.share else one)
    assert quotient(one, one) is D.plain


def test_products_and_quotients_have_the_powers_of_their_sides() -> None:
    """Whatever has a name has the right one: a product in either order, and each side again by division."""
    for one, other in PAIRS:
        whole, part = product(one, other), quotient(one, other)
        assert product(other, one) is whole
        assert whole is None or POWERS[whole] == plus(POWERS[one], POWERS[other]), (one, other)
        assert part is None or POWERS[part] == plus(POWERS[one], POWERS[other], -1), (one, other)
        if whole is not None and not {one, other} & {D.plain, D.share}:
            assert (quotient(whole, one), quotient(whole, other)) == (other, one)


@pytest.mark.parametrize(
    ("one", "other", "whole"),
    [
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
        (D.voltage, D.resistance, None),
        (D.mass, D.length, None),
        (D.temperature, D.plain, None),
        (D.temperature, D.per_kelvin, None),
    ],
)
def test_products_that_have_a_name(one: Dimension, other: Dimension, whole: Dimension | None) -> None:
    """Ohm's law, charge and energy over time, areas and volumes, and what they weigh."""
    assert product(one, other) is whole


def test_temperatures_are_points_of_a_scale() -> None:
    """They are neither scaled nor added; a difference moves one, and two have a difference."""
    for one in D:
        for made in (product(D.temperature, one), product(one, D.temperature), quotient(D.temperature, one)):
            assert made is None
        assert quotient(one, D.temperature) is None
        moved = D.temperature if one is D.temperature_difference else None
        assert total(D.temperature, one) is total(one, D.temperature) is moved
        apart = D.temperature_difference if one is D.temperature else moved
        assert difference(D.temperature, one) is apart
        assert difference(one, D.temperature) is (apart if one is D.temperature else None)


def test_only_like_is_added_to_like() -> None:
    """Sums and differences keep their dimension; a bare ratio beside a share is a share."""
    for one, other in PAIRS:
        if D.temperature in (one, other):
            continue
        expected = D.share if {one, other} == {D.share, D.plain} else one if one is other else None
        assert total(one, other) is expected, (one, other)
        assert difference(one, other) is expected, (one, other)


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (number(D.current), "a current"),
        (number(D.area), "an area"),
        (number(D.energy), "an energy"),
        (number(D.irradiation), "an irradiation"),
        (number(D.temperature_difference), "a temperature difference"),
        (number(), "a bare number"),
        (ValueType("number"), "a bare number"),
        (TRUTH, "a truth value"),
        (DATE, "a date"),
        (text("dc"), "a text"),
        (ANYTHING, "a value of unknown type"),
        (list_of(text()), "a list (each item a text)"),
        (list_of(view("device", {})), "a list (each item a thing (device))"),
        (view("", {}), "a thing"),
    ],
)
def test_what_a_value_is_in_words(kind: ValueType, words: str) -> None:
    """With the article that is said before it."""
    assert describe(kind) == words


@pytest.mark.parametrize(
    ("sign", "left", "right", "complaint"),
    [
        ("+", TRUTH, number(), "`+` works on numbers, and this is a truth value"),
        ("/", number(), text(), "`/` works on numbers, and this is a text"),
        ("+", number(D.length), number(D.mass), "adds a length and a mass, which has no meaning here"),
        ("-", number(D.length), number(D.mass), "subtracts a mass from a length, which has no meaning here"),
        ("*", number(D.mass), number(D.mass), "multiplies a mass by a mass, which has no meaning here"),
        ("/", number(D.mass), number(D.length), "divides a mass by a length, which has no meaning here"),
        ("+", ValueType("number"), number(), number()),
        ("*", number(D.length), ValueType("number"), number(D.length)),
    ],
)
def test_why_two_values_do_not_go_together(
    sign: str, left: ValueType, right: ValueType, complaint: str | ValueType
) -> None:
    """In the words of arithmetic; a number of which no dimension is said is a bare one."""
    assert combine(sign, left, right) == complaint


@pytest.mark.parametrize(
    ("sign", "left", "right", "complaint"),
    [
        ("==", number(D.length), number(D.length), None),
        ("<", ValueType("number"), number(), None),
        ("<", number(), ValueType("number"), None),
        ("<", DATE, DATE, None),
        ("==", TRUTH, TRUTH, None),
        ("!=", text("a"), text(), None),
        ("==", view("run", {}), view("run", {}), None),
        ("==", DATE, text(), "compares a date with a text"),
        ("<", number(D.length), number(D.mass), "compares a length with a mass"),
        ("<", number(), number(D.mass), "compares a mass with a bare number; give a mass under `limits:` and use its name"),
        ("<", number(D.mass), number(), "compares a mass with a bare number; give a mass under `limits:` and use its name"),
        ("==", list_of(text()), list_of(text()), "a list (each item a text) cannot be compared; use a filter or a test on it"),
        ("==", ANYTHING, ANYTHING, "a value of unknown type cannot be compared; use a filter or a test on it"),
        ("==", view("run", {}), view("tank", {}), "compares a thing (run) with a thing (tank)"),
        ("<", TRUTH, TRUTH, "`<` needs numbers or dates, and this is a truth value"),
        (">=", text(), text(), "`>=` needs numbers or dates, and this is a text"),
        ("<=", view("run", {}), view("run", {}), "`<=` needs numbers or dates, and this is a thing (run)"),
    ],
)  # fmt: skip
def test_what_may_be_compared(sign: str, left: ValueType, right: ValueType, complaint: str | None) -> None:
    """Like with like; order is of numbers and days alone."""
    assert comparable(sign, left, right) == complaint


class Nonsense(Exception):  # noqa: N818 - said of a sum, not a fault of a program
    """Figures of different units were added or compared."""


class Figure(float):
    """A number with the powers of its base units; `point` for a temperature on its scale."""

    powers: Powers
    point: bool

    @classmethod
    def of(cls, value: float, powers: Powers, *, point: bool = False) -> Figure:
        """A figure."""
        made = cls(value)
        made.powers, made.point = powers, point
        return made

    @classmethod
    def like(cls, value: object) -> Figure:
        """A figure as it is, and a bare number as one without units."""
        assert isinstance(value, int | float) and not isinstance(value, bool), value
        return value if isinstance(value, Figure) else cls.of(float(value), NONE)

    def __add__(self, other: float) -> Figure:
        right = Figure.like(other)
        _meet(self, right)
        if self.point and right.point:
            raise Nonsense("two temperatures were added")
        return Figure.of(float(self) + float(right), self.powers, point=self.point or right.point)

    def __radd__(self, other: float) -> Figure:
        return self + Figure.of(other, self.powers) if other == 0 else Figure.like(other) + self

    def __sub__(self, other: float) -> Figure:
        right = Figure.like(other)
        _meet(self, right)
        if right.point and not self.point:
            raise Nonsense("a temperature was taken from a difference")
        return Figure.of(float(self) - float(right), self.powers, point=self.point and not right.point)

    def __rsub__(self, other: float) -> Figure:
        return Figure.like(other) - self

    def __mul__(self, other: float) -> Figure:
        right = Figure.like(other)
        _scale(self, right)
        return Figure.of(float(self) * float(right), plus(self.powers, right.powers))

    __rmul__ = __mul__

    def __truediv__(self, other: float) -> Figure:
        right = Figure.like(other)
        _scale(self, right)
        return Figure.of(float(self) / float(right), plus(self.powers, right.powers, -1))

    def __rtruediv__(self, other: float) -> Figure:
        return Figure.like(other) / self

    def __neg__(self) -> Figure:
        _scale(self)
        return Figure.of(-float(self), self.powers)

    def __lt__(self, other: float) -> bool:
        return _beside(self, other) and float(self) < float(other)

    def __gt__(self, other: float) -> bool:
        return _beside(self, other) and float(self) > float(other)

    def __le__(self, other: float) -> bool:
        return _beside(self, other) and float(self) <= float(other)

    def __ge__(self, other: float) -> bool:
        return _beside(self, other) and float(self) >= float(other)

    def __eq__(self, other: object) -> bool:
        return _beside(self, other) and float(self) == float(Figure.like(other))

    def __ne__(self, other: object) -> bool:
        return not self == other

    __hash__ = float.__hash__


def _meet(one: Figure, other: Figure) -> None:
    if one.powers != other.powers:
        raise Nonsense(f"{one.powers} meets {other.powers}")


def _scale(*those: Figure) -> None:
    if any(one.point for one in those):
        raise Nonsense("a temperature was scaled")


def _beside(one: Figure, other: object) -> bool:
    """Whether two may be compared; zero is the same in every unit but those of temperature."""
    right = Figure.like(other)
    if isinstance(other, Figure) or one.point or other != 0:
        _meet(one, right)
        if one.point is not right.point:
            raise Nonsense("a temperature beside a difference")
    return True


FIGURES = {
    one.value: Figure.of(3.0 + place, POWERS[one], point=one is D.temperature)
    for place, one in enumerate(
        (
            D.current, D.voltage, D.resistance, D.power, D.length, D.area,
            D.temperature, D.temperature_difference, D.per_kelvin, D.share, D.plain,
        )
    )
}  # fmt: skip
OTHERS: dict[str, tuple[ValueType, Any]] = {
    "medium": (text("dc", "ac"), "dc"),
    "name": (text(), "pump"),
    "engine": (TRUTH, True),
    "made": (DATE, date(2024, 5, 1)),
    "note": (ANYTHING, object()),
    "colours": (list_of(text("red", "green")), ["red"]),
    "amperes": (list_of(number(D.current)), [FIGURES["current"], FIGURES["current"]]),
    "ambients": (list_of(number(D.temperature)), [FIGURES["temperature"]] * 2),
    "yeses": (list_of(TRUTH), [True]),
}


class Thing:
    """Something with every figure and every other value, and with things of its own kind."""

    name = "thing"

    def __init__(self) -> None:
        self.__dict__ |= FIGURES | {word: value for word, (_, value) in OTHERS.items()}
        self.things = [self]
        self.itself = self


KINDS: dict[str, ValueType] = {
    **{word: number(D(word)) for word in FIGURES},
    **{word: kind for word, (kind, _) in OTHERS.items()},
}
THING: ValueType = view("thing", lambda: {**KINDS, "things": list_of(THING), "itself": THING})
SCHEMA = {"it": THING}
NAMESPACE = {"it": Thing()}


def expression(said: str) -> Expression | None:
    """The expression, where it is taken."""
    found, problems = compile_text(f"{{{{ {said} }}}}", SCHEMA, PLACE)
    assert (found is None) == bool(problems)
    if found is None:
        return None
    (part,) = found.parts
    assert isinstance(part, Part)
    return part.expression


def agrees(kind: ValueType, value: object) -> bool:
    """Whether a value is of a type, with the right units."""
    match kind.form:
        case "number":
            figure = Figure.like(value)
            dimension = kind.dimension
            assert dimension is not None
            return figure.powers == POWERS[dimension] and figure.point is (dimension is D.temperature)
        case "list":
            items = value if isinstance(value, list | tuple) else [object()]
            return kind.item is not None and all(agrees(kind.item, item) for item in items)
        case "view":
            return isinstance(value, Thing)
        case "anything":
            return True
    return isinstance(value, {"truth": bool, "text": str, "date": date}[kind.form])


def hold(said: str) -> bool:
    """Hold that an expression is refused, or that its value is of the type that it was given; tell which."""
    found = expression(said)
    if found is None:
        return False
    try:
        value = found.value(NAMESPACE)
    except Missing as missing:
        assert missing.reason.startswith("divides by zero"), said
        return True
    assert agrees(found.kind, value), said
    return True


ATOMS = [
    *(f"it.{word}" for word in (*FIGURES, *OTHERS)),
    "it", "it.itself", "it.things", "0", "2", "'dc'", "'pump'", "true", "['dc', 'ac']", "[1, 2]",
]  # fmt: skip
SIGNS = ["==", "!=", "<", "<=", ">", ">=", "+", "-", "*", "/", "in", "not in", "and", "or"]
BEHIND = [
    "is empty", "is none_left", "is present", "is not absent", "| count", "| sum", "| largest", "| smallest",
    "| names", "| as_percent", "| as_date",
    *(f"| {word}('{named}')" for word in ("every", "some", "where", "each", "sum", "largest", "smallest")
      for named in ("engine", "current", "temperature", "name")),
]  # fmt: skip


@pytest.mark.parametrize("sign", SIGNS)
def test_two_values_and_a_sign_are_refused_or_have_their_type(sign: str) -> None:
    """Every pair; each sign is taken between some."""
    taken = [hold(f"{one} {sign} {other}") for one in ATOMS for other in ATOMS]
    assert 0 < sum(taken) < len(taken)


@pytest.mark.parametrize("behind", BEHIND)
def test_filters_and_tests_are_refused_or_have_their_type(behind: str) -> None:
    """Behind every value; each is taken behind some."""
    taken = [hold(f"{one} {behind}") for one in ATOMS]
    assert sum(taken) < len(taken)
    assert any(taken) == (behind not in NEVER), behind


NEVER = {
    "| every('current')", "| every('temperature')", "| every('name')",
    "| some('current')", "| some('temperature')", "| some('name')",
    "| where('current')", "| where('temperature')", "| where('name')",
    "| sum('engine')", "| sum('temperature')", "| sum('name')",
    "| largest('engine')", "| largest('name')", "| smallest('engine')", "| smallest('name')",
}  # fmt: skip
"""Yes and no are asked of truths only; numbers alone have a sum and a largest, and temperatures no sum."""

TREES = st.recursive(
    st.sampled_from(ATOMS),
    lambda inner: st.one_of(
        st.builds("({} {} {})".format, inner, st.sampled_from(SIGNS), inner),
        st.builds("({} < {} <= {})".format, inner, inner, inner),
        st.builds("({} {})".format, inner, st.sampled_from(BEHIND)),
        st.builds("({} if {} else {})".format, inner, inner, inner),
        st.builds("(-{})".format, inner),
        st.builds("(not {})".format, inner),
    ),
    max_leaves=5,
)


@settings(max_examples=200, deadline=None)
@given(TREES)
def test_whatever_is_taken_has_its_type(said: str) -> None:
    """No condition that is taken adds, scales or compares what has no meaning."""
    hold(said)
