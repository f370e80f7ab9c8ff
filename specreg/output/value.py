"""Values of fields and facts, written for people and for machines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import fields, is_dataclass
from datetime import date
from enum import Enum
from math import isfinite, isnan
from typing import Any

from pydantic import BaseModel

from specreg.facts.value_type import ValueType
from specreg.units import ConductorSize, Dimension, System, write

SI_UNITS: Mapping[Dimension, str] = {
    Dimension.length: "m",
    Dimension.area: "m²",
    Dimension.volume: "m³",
    Dimension.mass: "kg",
    Dimension.time: "s",
    Dimension.temperature: "K",
    Dimension.temperature_difference: "K",
    Dimension.current: "A",
    Dimension.voltage: "V",
    Dimension.resistance: "Ω",
    Dimension.power: "W",
    Dimension.energy: "J",
    Dimension.charge: "C",
    Dimension.pressure: "Pa",
    Dimension.flow: "m³/s",
    Dimension.mass_flow: "kg/s",
    Dimension.speed: "m/s",
    Dimension.force: "N",
    Dimension.torque: "N·m",
    Dimension.angle: "rad",
    Dimension.frequency: "Hz",
    Dimension.thermal_conductivity: "W/(m·K)",
    Dimension.heat_transfer: "W/(m²·K)",
    Dimension.thermal_resistance: "m²·K/W",
    Dimension.density: "kg/m³",
    Dimension.area_density: "kg/m²",
    Dimension.fraction_of_air: "1",
    Dimension.share: "1",
    Dimension.per_kelvin: "1/K",
    Dimension.irradiation: "J/m²",
    Dimension.burn_rate: "m/s",
    Dimension.plain: "",
}
"""The SI unit in which a number of each dimension is held, as machine-readable output names it."""

DIGITS = 12
"""Significant digits in machine-readable output: enough for any use, few enough to be the same anywhere."""


def worded(  # noqa: PLR0911 - a line for each type
    value: Any, dimension: Dimension | None = None, system: System = System.metric
) -> str:
    """Write a value for a person."""
    if value is None:
        return "not stated"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return _figure(value, dimension or Dimension.plain, system)
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, ConductorSize):
        return value.label
    if isinstance(value, Mapping):
        return ", ".join(f"{key}: {worded(item, dimension, system)}" for key, item in value.items()) or "none"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return ", ".join(worded(item, dimension, system) for item in value) or "none"
    return value if isinstance(value, str) else _called(value)


def worded_as(value: Any, kind: ValueType, system: System = System.metric) -> str:
    """Write the value of a fact for a person: what is listed, and what is in a thing, each with its unit."""
    if kind.form == "list" and kind.item is not None and isinstance(value, Sequence):
        between = "; " if kind.item.form == "view" else ", "
        return between.join(worded_as(item, kind.item, system) for item in value) or "none"
    members = kind.attributes()
    if not members or not is_dataclass(value) or _own_name(value):
        return worded(value, kind.dimension, system)
    told = {one: worded_as(getattr(value, one), members[one], system) for one in members}
    return ", ".join(f"{label.replace('_', ' ')} {text}" for label, text in told.items())


def _figure(value: float, dimension: Dimension, system: System) -> str:
    if isnan(value):
        return "not a number"
    if not isfinite(value):
        return "without limit"
    return write(float(value), dimension, system)


def _called(thing: Any) -> str:
    """Return what a thing is called: its name, its id, or what it says of itself."""
    if name := _own_name(thing):
        return name
    if is_dataclass(thing) or isinstance(thing, BaseModel):
        known = machine(thing)
        return ", ".join(f"{key} {item}" for key, item in known.items() if item is not None)
    return str(thing)


def _own_name(thing: Any) -> str:
    found = (getattr(thing, attribute, None) for attribute in ("name", "id", "label"))
    return next((one for one in found if isinstance(one, str) and one), "")


def machine(value: Any, kind: ValueType | None = None) -> Any:  # noqa: PLR0911 - a line for each type
    """Return a value as plain data: numbers in SI, dates as ISO 8601, things as mappings.

    Numbers with a unit inside a thing become `{value, unit}`; those outside have theirs beside them.
    What is without limit is the text `without limit`: JSON has no infinity.
    """
    if value is None or (isinstance(value, bool | str) and not isinstance(value, Enum)):
        return value
    if isinstance(value, int | float):
        return number(value)
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, ConductorSize):
        return value.label
    if isinstance(value, Mapping):
        return {str(key): machine(item) for key, item in value.items()}
    if isinstance(value, Sequence):
        return [_inner(item, kind.item if kind else None) for item in value]
    return _thing(value, kind)


def _thing(value: Any, kind: ValueType | None) -> Any:
    members = kind.attributes() if kind else {}
    if isinstance(value, BaseModel):
        return {name: machine(item) for name, item in value if item is not None}
    if is_dataclass(value):
        return {one.name: _inner(getattr(value, one.name), members.get(one.name)) for one in fields(value)}
    return str(value)


def _inner(value: Any, kind: ValueType | None) -> Any:
    if kind is not None and kind.dimension not in (None, Dimension.plain) and isinstance(value, int | float):
        return {"value": number(value), "unit": SI_UNITS[kind.dimension]}
    return machine(value, kind)


def number(value: float) -> float | int | str:
    """Return a number as JSON can hold it, rounded to the digits that mean anything."""
    if isinstance(value, int):
        return value
    if isnan(value):
        return "not a number"
    return float(f"{value:.{DIGITS}g}") if isfinite(value) else "without limit"


def shortened(text: str, longest: int) -> str:
    """Return a text cut after a word where it is too long to read; machine-readable output has it whole."""
    if len(text) <= longest:
        return text
    return text[:longest].rsplit(" ", 1)[0].rstrip(",;") + " …"


def unit_name(dimension: Dimension | None) -> str | None:
    """Return the SI unit of a value, None where it has none."""
    return SI_UNITS[dimension] or None if dimension else None
