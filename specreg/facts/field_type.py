"""The type of a spec's field, as facts and conditions see it."""

from __future__ import annotations

from datetime import date
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel

from specreg.facts import value_type
from specreg.facts.value_type import DATE, TRUTH, ValueType
from specreg.model.quantity import Measured


@cache
def fields_of(model: type[BaseModel]) -> dict[str, ValueType]:
    """Return the fields of a model that can be compared, with their types."""
    return {name: kind for name in model.model_fields if (kind := type_of_field(model, name)) is not None}


@cache
def type_of_field(model: type[BaseModel], name: str) -> ValueType | None:
    """Return the type of a field as conditions see it; None for what they cannot compare."""
    field = model.model_fields[name]
    for item in field.metadata:
        if isinstance(item, Measured):
            return value_type.number(item.dimension)
    return _type_of(field.annotation)


def _type_of(annotation: Any) -> ValueType | None:
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        measured = [item for item in arguments[1:] if isinstance(item, Measured)]
        return value_type.number(measured[0].dimension) if measured else _type_of(arguments[0])
    if origin in (Union, UnionType):
        present = [item for item in arguments if item is not NoneType]
        return _type_of(present[0]) if len(present) == 1 else None
    if origin is Literal:
        return value_type.text(*map(str, arguments)) if isinstance(arguments[0], str) else None
    if origin is tuple and len(arguments) == 2 and arguments[1] is Ellipsis:
        item = _type_of(arguments[0])
        return value_type.list_of(item) if item else None
    return _plain_type(annotation) if isinstance(annotation, type) else None


def _plain_type(annotation: type) -> ValueType | None:
    if issubclass(annotation, Enum):
        return value_type.text(*(str(word.value) for word in annotation))
    if issubclass(annotation, BaseModel):
        return value_type.view(annotation.__name__, lambda: fields_of(annotation))
    simple: dict[type, ValueType] = {
        bool: TRUTH,
        int: value_type.number(),
        float: value_type.number(),
        str: value_type.text(),
        date: DATE,
    }
    return simple.get(annotation)
