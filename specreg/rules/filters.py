"""The closed list of filters and tests that conditions and texts may use, with their types."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from specreg.facts.missing import Missing
from specreg.facts.value_type import TRUTH, ValueType, list_of, number, text
from specreg.rules.condition_types import describe
from specreg.rules.wording import figure, iso_date, names, percent
from specreg.units import Dimension

Argument = Literal["none", "optional", "needed"]
Typing = Callable[[ValueType, "ValueType | None"], "ValueType | str"]


@dataclass(frozen=True)
class Filter:
    """One filter: `value | name` or `value | name('attribute')`."""

    meaning: str
    """One sentence for the rule reference."""
    example: str
    typing: Typing
    """From the value's type and the named attribute's type to the result's type, or a complaint."""
    run: Callable[..., Any]
    """Called with (value, attribute name or None), or with (value, unit system) where it words."""
    argument: Argument = "none"
    words: bool = False
    """Whether it turns a value into words: allowed in `finding:` and `remedy:` only."""


def gather(items: Iterable[Any], attribute: str | None) -> list[tuple[Any, Any]]:
    """Each item with its attribute; an item's missing attribute is returned as the exception itself."""
    return [(item, look(item, attribute)) for item in items]


def look(item: Any, attribute: str | None) -> Any:
    """An item's attribute (the item itself without one), or the Missing that looking for it raised."""
    if attribute is None:
        return item
    try:
        value = getattr(item, attribute)
    except Missing as missing:
        return missing
    return Missing(attribute) if value is None else value


def known(items: Iterable[Any], attribute: str | None) -> list[Any]:
    """The attribute of every item; raises one Missing that names all that is absent."""
    values = [value for _, value in gather(items, attribute)]
    demand(values)
    return values


def demand(values: Iterable[Any]) -> None:
    """Raise one Missing for all those among the values, if there are any; some have a reason and no field."""
    gone = [value for value in values if isinstance(value, Missing)]
    if gone:
        fields = dict.fromkeys(name for one in gone for name in one.fields)
        raise Missing(*fields, reason="" if fields else gone[0].reason)


def every(items: Iterable[Any], attribute: str | None) -> bool:
    """One known "no" decides, whatever is missing elsewhere: the order of a list never matters."""
    values = [value for _, value in gather(items, attribute)]
    if False in values:
        return False
    demand(values)
    return True


def some(items: Iterable[Any], attribute: str | None) -> bool:
    """One known "yes" decides, whatever is missing elsewhere."""
    values = [value for _, value in gather(items, attribute)]
    if True in values:
        return True
    demand(values)
    return False


def where(items: Iterable[Any], attribute: str | None) -> list[Any]:
    """The items whose attribute is true; all of them must be known."""
    pairs = gather(items, attribute)
    demand(value for _, value in pairs)
    return [item for item, value in pairs if value]


def extreme(choose: Callable[[list[Any]], Any], word: str) -> Callable[..., Any]:
    """A filter function for the largest or smallest; an empty list has none, which is Missing."""

    def run(items: Iterable[Any], attribute: str | None) -> Any:
        values = known(items, attribute)
        if not values:
            raise Missing(reason=f"there is no {word} of an empty list")
        return choose(values)

    return run


def of_list(result: Callable[[ValueType, ValueType], ValueType | str]) -> Typing:
    """A typing that first asks for a list, then hands on the item's (or its attribute's) type."""

    def typing(kind: ValueType, attribute: ValueType | None) -> ValueType | str:
        if kind.item is None:
            return f"works on a list, and this is {describe(kind)}"
        return result(kind, attribute or kind.item)

    return typing


def needs_truth(result: Callable[[ValueType], ValueType]) -> Typing:
    """A typing for filters that ask a yes-or-no attribute of each item."""

    def typing(kind: ValueType, attribute: ValueType) -> ValueType | str:
        if attribute.form != "truth":
            return f"asks for a yes-or-no attribute, and this is {describe(attribute)}"
        return result(kind)

    return of_list(typing)


def needs_numbers(additive: bool) -> Typing:
    """A typing for filters over numbers; temperatures have a largest, but no sum."""

    def typing(_kind: ValueType, attribute: ValueType) -> ValueType | str:
        if attribute.form != "number":
            return f"works on a list of numbers, and each item is {describe(attribute)}"
        if additive and attribute.dimension is Dimension.temperature:
            return "adds temperatures, which has no meaning"
        return attribute

    return of_list(typing)


def nameable(_kind: ValueType, item: ValueType) -> ValueType | str:
    """Names are made of texts and of things."""
    if item.form in ("text", "view", "anything"):
        return text()
    return f"names things or texts, and each item is {describe(item)}"


def needs(dimension: Dimension) -> Typing:
    """A typing for wordings of one dimension."""

    def typing(kind: ValueType, _attribute: ValueType | None) -> ValueType | str:
        wanted = number(dimension)
        return text() if kind == wanted else f"writes {describe(wanted)}, and this is {describe(kind)}"

    return typing


def ratio(kind: ValueType, _attribute: ValueType | None) -> ValueType | str:
    """A typing for shares and bare ratios."""
    pure = kind.dimension in (Dimension.plain, Dimension.share)
    return text() if pure else f"writes a ratio, and this is {describe(kind)}"


def dated(kind: ValueType, _attribute: ValueType | None) -> ValueType | str:
    """A typing for dates."""
    return text() if kind.form == "date" else f"writes a date, and this is {describe(kind)}"


def measured(word: str, unit: str, dimension: Dimension) -> tuple[str, Filter]:
    """The table's row for a filter that writes numbers of one dimension."""
    example = f"{{{{ limits.x | {word} }}}}"
    return word, Filter(f"Writes {unit}.", example, needs(dimension), figure(dimension), words=True)


FILTERS: Mapping[str, Filter] = {
    "every": Filter(
        "Whether the attribute is true of every item; true of an empty list.",
        "run.devices | every('breaks_fault')", needs_truth(lambda _: TRUTH), every, "needed"),
    "some": Filter(
        "Whether the attribute is true of at least one item.",
        "run.devices | some('is_breaker')", needs_truth(lambda _: TRUTH), some, "needed"),
    "where": Filter(
        "The items of which the attribute is true.",
        "run.devices | where('is_fuse')", needs_truth(lambda kind: kind), where, "needed"),
    "each": Filter(
        "The list of that attribute of each item.",
        "run.devices | each('rating') | sum", of_list(lambda _, item: list_of(item)),
        known, "needed"),
    "count": Filter(
        "How many items the list has.",
        "run.devices | count", of_list(lambda _kind, _item: number()), lambda items, _: len(items)),
    "sum": Filter(
        "The items' total, or that of the named attribute; 0 for an empty list.",
        "run.devices | sum('rating')", needs_numbers(additive=True),
        lambda items, attribute: sum(known(items, attribute)), "optional"),
    "largest": Filter(
        "The largest item, or the largest of the named attribute; missing for an empty list.",
        "run.devices | largest('rating')", needs_numbers(additive=False),
        extreme(max, "largest"), "optional"),
    "smallest": Filter(
        "The smallest item, or the smallest of the named attribute; missing for an empty list.",
        "run.devices | smallest('rating')", needs_numbers(additive=False),
        extreme(min, "smallest"), "optional"),
    "names": Filter(
        "Writes a list as `a, b and c`, and an empty one as `none`.",
        "{{ run.devices | names }}", of_list(nameable), names, words=True),
    "as_percent": Filter(
        "Writes a ratio as a percentage: 0.03 as `3 %`.",
        "{{ run.drop_ratio | as_percent }}", ratio, percent, words=True),
    "as_date": Filter(
        "Writes a date as year-month-day.", "{{ case.today | as_date }}", dated, iso_date, words=True),
    **dict((
        measured("amps", "a current", Dimension.current),
        measured("volts", "a voltage", Dimension.voltage),
        measured("watts", "a power", Dimension.power),
        measured("as_length", "a length in the reader's units", Dimension.length),
        measured("as_area", "an area in the reader's units", Dimension.area),
        measured("as_volume", "a volume in the reader's units", Dimension.volume),
        measured("as_mass", "a mass in the reader's units", Dimension.mass),
        measured("as_temperature", "a temperature in the reader's units", Dimension.temperature),
    )),
}  # fmt: skip

TESTS: Mapping[str, str] = {
    "none_left": "The list is empty: `run.unprotected_sources is none_left`.",
    "empty": "The list is empty; the same as `none_left`, where nothing was meant to be used up.",
    "present": "The value is stated or can be computed: `tank.vent is present`. An empty list is present.",
    "absent": "The value is neither stated nor computable.",
}
"""The tests, used as `value is name` or `value is not name`, each with one sentence for the reference."""
