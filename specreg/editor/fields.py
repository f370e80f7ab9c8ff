"""What may stand at a place of a spec: the fields of the model there, their meaning, words and units."""

from __future__ import annotations

import types
from collections.abc import Iterator
from enum import Enum
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from specreg.model.quantity import Conductor, Day, Measured
from specreg.source import Path
from specreg.units import Dimension, usual_units


class Meaning(NamedTuple):
    """What a path leads to: the field that it names, and the type of what stands there."""

    field: FieldInfo | None
    kind: Any


def meaning(model: type[BaseModel], path: Path) -> Meaning | None:
    """Return what a path below a model leads to; None where nothing may stand."""
    found = [Meaning(None, model)]
    for step in path:
        found = [inner for one in found for inner in _inside(one, step)]
    return found[0] if found else None


def models_in(kind: Any) -> tuple[type[BaseModel], ...]:
    """Return the models that a value of a type may be a mapping of."""
    return tuple(part for part in _parts(kind) if isinstance(part, type) and issubclass(part, BaseModel))


def fields_of(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return the fields of a model by the key that a spec writes."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def words(kind: Any) -> tuple[str, ...]:
    """Return the words of a closed list that a value may be."""
    found: list[str] = []
    for part in _parts(kind):
        if get_origin(part) is Literal:
            found += [str(one.value if isinstance(one, Enum) else one) for one in get_args(part)]
        elif isinstance(part, type) and issubclass(part, Enum):
            found += [str(one.value) for one in part]
        elif part is bool:
            found += ["true", "false"]
    return tuple(dict.fromkeys(found))


def dimension(kind: Any) -> Dimension | None:
    """Return the dimension of a quantity; None for anything else."""
    for part in _parts(kind, keep_notes=True):
        for note in getattr(part, "__metadata__", ()):
            if isinstance(note, Measured):
                return note.dimension
    return None


def units_for(kind: Any) -> tuple[str, ...]:
    """Return the units that would do for a quantity, the usual one first."""
    found = dimension(kind)
    if found is not None:
        return usual_units(found)
    return ("mm²", "AWG") if Conductor in tuple(_parts(kind, keep_notes=True)) else ()


def is_day(kind: Any) -> bool:
    """Tell whether a value is a date."""
    return Day in tuple(_parts(kind, keep_notes=True))


def _inside(one: Meaning, step: str | int) -> Iterator[Meaning]:
    for part in _parts(one.kind, lists=False):
        origin, inner = get_origin(part), get_args(part)
        if isinstance(part, type) and issubclass(part, BaseModel):
            field = fields_of(part).get(str(step))
            if field is not None:
                yield Meaning(field, _annotated(field))
        elif origin is tuple and isinstance(step, int) and inner:
            yield Meaning(one.field, inner[0] if inner[-1] is Ellipsis else inner[min(step, len(inner) - 1)])
        elif origin is dict:
            yield Meaning(one.field, inner[1])


def _annotated(field: FieldInfo) -> Any:
    """Return a field's type with the notes put back that pydantic has taken off it."""
    kind = field.annotation
    for note in field.metadata:
        kind = Annotated[kind, note]  # type: ignore[assignment]
    return kind


def _parts(kind: Any, keep_notes: bool = False, lists: bool = True) -> Iterator[Any]:
    """Yield the types that a type is a choice of, those of the items of a list included."""
    if hasattr(kind, "__metadata__"):
        if keep_notes:
            yield kind
        yield from _parts(kind.__origin__, keep_notes, lists)
        return
    origin = get_origin(kind)
    if origin in (Union, types.UnionType):
        for part in get_args(kind):
            yield from _parts(part, keep_notes, lists)
    elif origin is tuple and lists:
        for part in get_args(kind):
            if part is not Ellipsis:
                yield from _parts(part, keep_notes, lists)
    elif kind is not type(None):
        yield kind
