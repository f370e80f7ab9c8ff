"""What a model refuses, said to the person who wrote the spec."""

from collections.abc import Iterable, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from specreg.model.field import MOST
from specreg.source import Node, Path, Problem, Scalar, at, key_place_of, nearest_word, place_of

WORDS = {
    "string_type": "text",
    "int_type": "a whole number without a unit",
    "int_from_float": "a whole number",
    "greater_than_equal": f"a whole number from 0 to {MOST}",
    "less_than_equal": f"a whole number from 0 to {MOST}",
    "float_type": "a number without a unit",
    "bool_type": "true or false",
    "tuple_type": "a list",
    "dict_type": "a mapping of names to values",
    "model_type": "a mapping of keys to values",
    "model_attributes_type": "a mapping of keys to values",
    "none_required": "nothing",
}
"""What each refusal of a type expected, in plain words."""


def explain(error: ValidationError, model: type[BaseModel], tree: Node, path: Path) -> list[Problem]:
    """Turn what a model refused at `path` of a tree into problems with places."""
    return [_problem(item, model, tree, path) for item in error.errors(include_url=False)]


def _problem(item: Any, model: type[BaseModel], tree: Node, path: Path) -> Problem:
    where = (*path, *_written(item["loc"], tree, path))
    kind, context = item["type"], item.get("ctx", {})
    name = str(where[-1]) if where else ""
    if kind == "extra_forbidden":
        return _unknown_key(tree, where, _keys_at(model, item["loc"][:-1]))
    if kind == "missing":
        return Problem(
            key_place_of(tree, where[:-1]),
            f"`{name}` is missing in `{_dotted(where[:-1])}`",
            expected=_expected_field(model, item["loc"]),
            remedy=f"add `{name}:`",
        )
    place, read = place_of(tree, where), _read(at(tree, where))
    if kind in ("quantity", "day"):
        units = ", ".join(context["units"])
        return Problem(
            place,
            f"{_named(where)}: {context['reason']}",
            read=read,
            expected=f"a value such as {units}" if kind == "day" else f"a unit such as {units}",
            nearest=context.get("nearest"),
        )
    if kind in ("literal_error", "enum"):
        words = _words(str(context["expected"]))
        return Problem(
            place,
            f"{_named(where)} is not one of the words it can be",
            read=read,
            expected=", ".join(words),
            nearest=nearest_word(read or "", words),
        )
    if kind in ("too_short", "too_long"):
        counted = context.get("min_length") or context.get("max_length")
        wanted = "one at least" if counted == 1 else f"{counted} items"
        return Problem(place, f"{_named(where)} has {context['actual_length']} items", expected=wanted)
    expected = WORDS.get(kind, item["msg"])
    remedy = f'write "{read}" in quotation marks' if kind == "string_type" and read else None
    return Problem(place, f"{_named(where)} cannot be this", read, expected, remedy=remedy)


def _named(where: Path) -> str:
    """Return what a problem calls a value: its key, an item of a list by its number from one."""
    if len(where) > 1 and isinstance(where[-1], int):
        return f"item {where[-1] + 1} of `{where[-2]}`"
    return f"`{where[-1]}`" if where else "the spec"


def _written(location: Sequence[str | int], tree: Node, path: Path) -> tuple[str | int, ...]:
    """Return the part of an error's location that stands in the tree: union tags are not written there."""
    kept: list[str | int] = []
    for index, step in enumerate(location):
        last = index == len(location) - 1
        if last or at(tree, (*path, *kept, step)) is not None:
            kept.append(step)
    return tuple(kept)


def _unknown_key(tree: Node, where: Path, known: Iterable[str]) -> Problem:
    key, known = str(where[-1]), sorted(known)
    return Problem(
        key_place_of(tree, where),
        f"unknown key `{key}` in `{_dotted(where[:-1])}`",
        read=key,
        expected=_some(known),
        nearest=nearest_word(key, known),
    )


def _some(words: list[str]) -> str:
    return ", ".join(words[:12]) + (" …" if len(words) > 12 else "")


def keys_of(model: type[BaseModel]) -> list[str]:
    """Return the keys that a spec may write for a model."""
    return [field.alias or name for name, field in model.model_fields.items()]


def _keys_at(model: type[BaseModel], location: Sequence[str | int]) -> list[str]:
    inner: type[BaseModel] | None = model
    for step in location:
        inner = _inner(inner, str(step)) or inner
    return keys_of(inner) if inner else []


def _inner(model: type[BaseModel] | None, key: str) -> type[BaseModel] | None:
    """Return the model behind a field, looking through unions, tuples and dictionaries."""
    if model is None:
        return None
    for name, field in model.model_fields.items():
        if (field.alias or name) == key:
            return _model_in(field.annotation)
    return None


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in getattr(annotation, "__args__", ()):
        found = _model_in(part)
        if found is not None:
            return found
    return None


def _expected_field(model: type[BaseModel], location: Sequence[str | int]) -> str | None:
    inner: type[BaseModel] | None = model
    for step in location[:-1]:
        inner = _inner(inner, str(step)) or inner
    for name, field in inner.model_fields.items() if inner else ():
        if (field.alias or name) == location[-1]:
            return field.description
    return None


def _words(expected: str) -> list[str]:
    return [word.strip().strip("'") for word in expected.replace(" or ", ", ").split(",")]


def _read(node: Node | None) -> str | None:
    return node.text if isinstance(node, Scalar) else None


def _dotted(path: Path) -> str:
    return ".".join(str(step) for step in path) or "the spec"
