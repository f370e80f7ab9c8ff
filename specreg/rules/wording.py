"""How values are written in the sentences of findings and remedies."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any

from specreg.facts.value_type import ValueType
from specreg.units import Dimension, write


def name(thing: object) -> str:
    """What a thing is called: a text itself, else its `name`, else its own wording."""
    return str(getattr(thing, "name", thing))


def names(things: Sequence[object], _system: object = None) -> str:
    """ "a, b and c"; `none` for an empty list."""
    words = [name(thing) for thing in things]
    if len(words) < 2:
        return words[0] if words else "none"
    return f"{', '.join(words[:-1])} and {words[-1]}"


def figure(dimension: Dimension) -> Callable[[Any, Any], str]:
    """A wording function that writes an SI number in the usual unit of its dimension."""
    return lambda value, system: write(value, dimension, system)


def percent(value: float, _system: object) -> str:
    """0.03 as `3 %`, to three significant digits."""
    shown = 100 * value
    return f"{shown:.0f} %" if abs(shown) >= 1000 else f"{shown:.3g} %"


def plain(value: float, _system: object) -> str:
    """A count or ratio to at most four significant digits, whole numbers in full."""
    return str(int(value)) if value == int(value) else f"{value:.4g}"


def iso_date(value: date, _system: object) -> str:
    """A date as ISO 8601 writes it."""
    return value.isoformat()


def truth(value: bool, _system: object) -> str:
    """`yes` or `no`."""
    return "yes" if value else "no"


def wording(kind: ValueType) -> Callable[[Any, Any], str]:
    """How a value without a wording filter is written in a text."""
    if kind.form == "number":
        dimension = kind.dimension or Dimension.plain
        return plain if dimension is Dimension.plain else figure(dimension)
    table: Mapping[str, Callable[[Any, Any], str]] = {"truth": truth, "date": iso_date, "list": names}
    return table.get(kind.form, lambda value, _system: name(value))
