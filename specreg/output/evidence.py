"""The figures behind an answer, each with how it is known: declared, computed or measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from specreg.facts.engine import Input
from specreg.model.build import Build
from specreg.model.field import Reader, reader_of
from specreg.output.value import machine, unit_name, worded
from specreg.units import System

MEASURED = ("records", "vehicle.as_received")
"""Parts of the spec whose figures were measured, not declared."""


@dataclass(frozen=True)
class Figure:
    """One figure as it is shown: of what, which, the value in words and how it is known."""

    name: str
    words: str
    value: str
    known_by: str

    def __str__(self) -> str:
        """Return it as a finding writes it."""
        return f"{self.words} {self.value} ({self.known_by})"


def figures(build: Build, inputs: tuple[Input, ...], reader: Reader = Reader.workshop) -> tuple[Figure, ...]:
    """Return the figures of a judgement that a reader may see, in the order in which they were read."""
    system = System(build.header.units)
    return tuple(
        Figure(
            one.name, _words(one.name), worded(one.value, one.dimension, system), known_by(build, one.name)
        )
        for one in inputs
        if reader.may_read(least_reader(build, one.name))
    )


def as_data(
    build: Build, inputs: tuple[Input, ...], reader: Reader = Reader.workshop
) -> list[dict[str, Any]]:
    """Return the same as plain data."""
    system = System(build.header.units)
    return [
        {
            "name": one.name,
            "value": machine(one.value),
            "unit": unit_name(one.dimension),
            "text": worded(one.value, one.dimension, system),
            "known_by": known_by(build, one.name),
        }
        for one in inputs
        if reader.may_read(least_reader(build, one.name))
    ]


def _words(name: str) -> str:
    subject, _, field = name.rpartition(".")
    return f"{subject} {field}".strip().replace("_", " ")


def known_by(build: Build, name: str) -> str:
    """Tell whether a figure is declared in the spec, was measured, or is computed."""
    if name.startswith(MEASURED):
        return "measured"
    steps = _models(build, name)
    return "declared" if steps and steps[-1] is not None else "computed"


def least_reader(build: Build, name: str) -> Reader:
    """Return the least reader of a figure: the strictest on the way to its field; computed is public."""
    readers = [found for found in _models(build, name) if found is not None]
    return max(readers, key=lambda reader: reader.rank, default=Reader.public)


def _models(build: Build, name: str) -> list[Reader | None]:
    """Return the reader of each field on the way that a figure's name names; None where it is no field."""
    head, _, rest = name.partition(".")
    owner, _, _ = head.partition("/")
    if not rest or (owner not in build.components and owner not in build.runs):
        return _readers(build.header, name)
    model: BaseModel = build.components.get(owner) or build.runs[owner]
    if "/" in head:
        from specreg.model.device import ProtectiveDevice  # noqa: PLC0415 - only devices have a slash

        return [reader_of(ProtectiveDevice, rest) if rest in ProtectiveDevice.model_fields else None]
    return _readers(model, rest)


def _readers(model: BaseModel, dotted: str) -> list[Reader | None]:
    found: list[Reader | None] = []
    here: Any = model
    for step in dotted.split("."):
        name = _field(here, step)
        if name is None:
            return [*found, None]
        of: type[BaseModel] = type(here)
        found.append(reader_of(of, name))
        here = getattr(here, name)
    return found


def _field(model: Any, key: str) -> str | None:
    fields = type(model).model_fields if isinstance(model, BaseModel) else {}
    return next((name for name, field in fields.items() if key in (name, field.alias)), None)
