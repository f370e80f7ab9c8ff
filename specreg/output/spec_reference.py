"""Every kind and key that a spec may write, made from the model itself, as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from enum import Enum
from inspect import getdoc
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.device import ProtectiveDevice
from specreg.model.field import reader_of
from specreg.model.kinds import kinds
from specreg.model.quantity import Measured
from specreg.model.run import RUNS, Run
from specreg.output.examples import example_for
from specreg.output.source_keys import CIRCUITS, INCLUDE
from specreg.units import ConductorSize, usual_units

HEAD = """\
# What a spec may say

Made from the model by `specreg schema --format markdown`. A quantity is text with its unit. *Reader* is
who may read the value in what is published: `public`, `owner` and above, or the `workshop` alone. Keys marked
*needed* must be stated, by the entry itself or by the part that it names."""


def spec_reference() -> str:
    """Return the reference: the van, each kind by system, each run by medium, what their keys hold."""
    inner = _Inner()
    blocks = [HEAD, "## The van", _section(Header, inner), "## Every component", _section(Component, inner)]
    system = None
    for name, kind in sorted(kinds().items(), key=lambda one: (_order(one[1]), one[0])):
        if kind.system is not system:
            system = kind.system
            blocks.append(f"## Kinds: {system.value}")
        blocks += [f"### {name}", _section(kind, inner, Component), *_ports(kind, name)]
    for key, about in (("include", INCLUDE), ("circuits", CIRCUITS)):
        blocks += [f"## `{key}`", about["description"], "\n".join(_keys(about))]
    blocks += ["## Every run", _section(Run, inner)]
    for medium, run in RUNS.items():
        blocks += [f"### Run: {medium}", _section(run, inner, Run)]
    inner.want(ProtectiveDevice)
    blocks.append("## Inside other keys")
    while (model := inner.next()) is not None:
        blocks += [f"### {words_of(model)}", _section(model, inner)]
    return "\n\n".join(block for block in blocks if block) + "\n"


def _keys(about: dict[str, Any]) -> Iterator[str]:
    entry = about.get("items") or about["additionalProperties"]
    for name, field in entry.get("properties", {"an entry": entry}).items():
        examples = ", ".join(f"`{one}`" for one in field.get("examples", ()))
        yield f"- {name}: {field['description']} {examples}".rstrip()


class _Inner:
    """The models that fields hold, each to be described once."""

    def __init__(self) -> None:
        self._wanted: list[type[BaseModel]] = []
        self._told = 0

    def want(self, model: type[BaseModel]) -> None:
        if model not in self._wanted:
            self._wanted.append(model)

    def next(self) -> type[BaseModel] | None:
        if self._told == len(self._wanted):
            return None
        self._told += 1
        return self._wanted[self._told - 1]


def _order(kind: type[Component]) -> int:
    return list(type(kind.system)).index(kind.system)


def words_of(model: type[BaseModel]) -> str:
    """Return a model's name as words: `SignOff` is a `sign off`."""
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", " ", model.__name__).lower()


def _section(model: type[BaseModel], inner: _Inner, below: type[BaseModel] | None = None) -> str:
    """Return a model's sentence and its keys, without those that `below` has already told."""
    fields = {
        name: field
        for name, field in model.model_fields.items()
        if name not in ("kind", "medium") and not _told_below(name, model, below)
    }
    told = (getdoc(model) or "").split("\n\n")[0].replace("\n", " ")
    if not fields:
        return f"{told} No keys of its own."
    lines = ["| Key | Means | Form | Example | Otherwise | Reader |", "| --- | --- | --- | --- | --- | --- |"]
    lines += [_row(name, field, model, inner) for name, field in fields.items()]
    return f"{told}\n\n" + "\n".join(lines)


def _told_below(name: str, model: type[BaseModel], below: type[BaseModel] | None) -> bool:
    """Tell whether the model below has a field of that name that reads alike."""
    if below is None or name not in below.model_fields:
        return False
    rows = [_row(name, one.model_fields[name], one) for one in (below, model)]
    return rows[0] == rows[1]


def _row(name: str, field: FieldInfo, model: type[BaseModel] | None, inner: _Inner | None = None) -> str:
    example = str((field.examples or [""])[0]) or _example(field.alias or name, field)
    cells = (
        f"`{field.alias or name}`",
        field.description or "",
        form_of(field.annotation, field.metadata, inner or _Inner()),
        f"`{example}`" if example else "",
        "*needed*" if field.is_required() else _default(field.default),
        reader_of(model, name).value if model else "",
    )
    return "| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |"


def _example(key: str, field: FieldInfo) -> str:
    annotations = [field.annotation, *get_args(field.annotation)]
    metadata = [*field.metadata, *(one for part in annotations for one in getattr(part, "__metadata__", ()))]
    dimension = next((one.dimension for one in metadata if isinstance(one, Measured)), None)
    bare = [get_args(part)[0] if get_origin(part) is Annotated else part for part in annotations]
    closed = any(isinstance(part, type) and issubclass(part, Enum | BaseModel | bool) for part in bare)
    if closed or any(get_origin(part) in (Literal, dict) for part in annotations):
        return ""
    return example_for(key, dimension, whole=int in bare, day=date in bare)


def _default(value: Any) -> str:
    if value is None or value == () or not isinstance(value, str | int | float | Enum):
        return ""
    if isinstance(value, bool):
        return "`true`" if value else "`false`"
    return f"`{value.value if isinstance(value, Enum) else value}`"


def form_of(annotation: Any, metadata: list[Any], inner: _Inner) -> str:
    """Return how a value is written, in words; models that it holds are noted as wanted."""
    for item in metadata:
        if isinstance(item, Measured):
            units = ", ".join(usual_units(item.dimension))
            return f"{item.dimension.value.replace('_', ' ')} ({units})"
    origin, parts = get_origin(annotation), get_args(annotation)
    if origin is Annotated:
        return form_of(parts[0], list(parts[1:]), inner)
    if origin in (Union, UnionType):
        return _either(parts, inner)
    if origin is Literal:
        return ", ".join(f"`{part}`" for part in parts)
    if origin is tuple:
        return _several(parts, inner)
    return f"by name: {form_of(parts[1], [], inner)}" if origin is dict else _plain(annotation, inner)


def _either(parts: tuple[Any, ...], inner: _Inner) -> str:
    return " or ".join(dict.fromkeys(form_of(part, [], inner) for part in parts if part is not type(None)))


def _several(parts: tuple[Any, ...], inner: _Inner) -> str:
    if len(parts) == 2 and parts[1] is Ellipsis:
        return f"list of: {form_of(parts[0], [], inner)}"
    forms = [form_of(part, [], inner) for part in parts]
    return f"list of {len(forms)}: " + (forms[0] if len(set(forms)) == 1 else ", ".join(forms))


PLAIN: dict[Any, str] = {
    str: "text",
    bool: "`true`, `false`",
    int: "whole number",
    float: "number",
    date: "day (2026-05-03)",
    ConductorSize: "conductor size (1.5 mm², 14 AWG)",
}


def _plain(annotation: Any, inner: _Inner) -> str:
    if annotation in PLAIN:
        return PLAIN[annotation]
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return ", ".join(f"`{word.value}`" for word in annotation)
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        inner.want(annotation)
        return f"*{words_of(annotation)}*"
    raise TypeError(f"the reference has no words for {annotation!r}")


def _ports(kind: type[Component], name: str) -> Iterator[str]:
    """Yield the ports that a kind has whatever its keys say; ways and the like add to them."""
    ports = kind.model_construct(kind=name).ports()
    if ports:
        told = (f"`{port.name or name}` ({port.medium.value}, {port.role.value})" for port in ports)
        yield "Ports: " + ", ".join(dict.fromkeys(told)) + "."
