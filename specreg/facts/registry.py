"""The register of facts: what each is about, what it gives, by which formula from which source."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

from specreg.facts.value_type import ValueType
from specreg.model.field import Word

if TYPE_CHECKING:
    from specreg.facts.engine import Subject

Compute = Callable[["Subject"], Any]


class Axis(Word):
    """What a fact may be asked for apart from its subject."""

    loading = "loading"
    mode = "mode"
    source_mode = "source mode"
    month = "month"
    operation = "operation"


@dataclass(frozen=True, slots=True)
class Kind:
    """One fact: `subject` is the class of model that it is about."""

    name: str
    subject: type
    gives: ValueType
    title: str
    formula: str
    source: str
    axis: Axis | None
    compute: Compute


_KINDS: dict[type, dict[str, Kind]] = {}


def fact(
    on: type, gives: ValueType, *, formula: str, source: str, axis: Axis | None = None
) -> Callable[[Compute], Compute]:
    """Register a computation as a fact about `on`; its name is the function's, its title the docstring's."""

    def register(compute: Compute) -> Compute:
        name = compute.__name__
        title = (compute.__doc__ or "").strip().splitlines()[0].rstrip(".")
        fields = getattr(on, "model_fields", {})
        if name in fields or name in _KINDS.setdefault(on, {}):
            raise ValueError(f"{on.__name__} already has a field or fact named {name}")
        _KINDS[on][name] = Kind(name, on, gives, title, formula, source, axis, compute)
        return compute

    return register


@cache
def kinds_for(model: type) -> dict[str, Kind]:
    """Return the facts about a class of model, those about its ancestors included."""
    found: dict[str, Kind] = {}
    for ancestor in reversed(model.__mro__):
        found.update(_KINDS.get(ancestor, {}))
    return found


def all_kinds() -> tuple[Kind, ...]:
    """Return every fact, in the order in which they are registered."""
    return tuple(kind for kinds in _KINDS.values() for kind in kinds.values())
