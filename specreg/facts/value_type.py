"""The types of the values that conditions see: what a fact or a field is, and in which dimension."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from specreg.units import Dimension

Form = Literal["number", "truth", "text", "date", "list", "view", "anything"]
Members = Mapping[str, "ValueType"]


@dataclass(frozen=True)
class ValueType:
    """What a value is; two types are equal when the same things may be done with them."""

    form: Form
    dimension: Dimension | None = None
    """For numbers: what the SI number measures; `Dimension.plain` for counts and ratios."""
    choices: tuple[str, ...] = ()
    """For texts: the only words that the value can be; empty where any text is possible."""
    item: ValueType | None = None
    """For lists: the type of each item."""
    members: Members | Callable[[], Members] = field(default_factory=dict, compare=False, repr=False)
    """For views: attribute names and their types; a callable where types refer to each other."""
    label: str = ""
    """For views: the noun for one such thing, such as `run` or `battery`."""

    def attributes(self) -> Members:
        """The attribute names of a view with their types; empty for every other form."""
        return self.members() if callable(self.members) else self.members


def number(dimension: Dimension = Dimension.plain) -> ValueType:
    """A number in the SI unit of its dimension; without one, a count or a ratio."""
    return ValueType("number", dimension=dimension)


def text(*choices: str) -> ValueType:
    """A text; with choices, one of these words."""
    return ValueType("text", choices=choices)


def list_of(item: ValueType) -> ValueType:
    """A list of things of one type."""
    return ValueType("list", item=item)


def view(label: str, members: Members | Callable[[], Members]) -> ValueType:
    """A thing with named attributes, such as a run or a build."""
    return ValueType("view", label=label, members=members)


TRUTH = ValueType("truth")
DATE = ValueType("date")
ANYTHING = ValueType("anything")
