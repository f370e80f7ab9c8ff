"""What conditions may ask about: the nouns, their fields and facts, each with its type."""

from __future__ import annotations

from functools import cache

from pydantic import BaseModel

from specreg.facts import value_type
from specreg.facts.field_type import fields_of
from specreg.facts.registry import Axis, kinds_for
from specreg.facts.value_type import ValueType
from specreg.model.air import Glazing
from specreg.model.build import Header
from specreg.model.component import AcConsumer, CombustionAppliance, Component, Consumer
from specreg.model.conversion import ChargeProfile
from specreg.model.device import ProtectiveDevice
from specreg.model.fluid import Tank
from specreg.model.furniture import Furniture, Storage
from specreg.model.gas import GasStore
from specreg.model.kinds import kinds
from specreg.model.run import (
    AcRun,
    AirRun,
    Cable,
    ControlRun,
    DcRun,
    ExhaustRun,
    FuelRun,
    GasRun,
    Pipe,
    Run,
    WasteRun,
    WaterRun,
)
from specreg.model.safety import Alarm
from specreg.model.seating import Seating
from specreg.model.waste import Basin, WasteTank
from specreg.model.water import Draw

FAMILIES: dict[str, type[BaseModel]] = {
    "build": Header,
    "component": Component,
    "consumer": Consumer,
    "mains-consumer": AcConsumer,
    "combustion-appliance": CombustionAppliance,
    "battery-charger": ChargeProfile,
    "seating": Seating,
    "furniture": Furniture,
    "storage": Storage,
    "alarm": Alarm,
    "glazing": Glazing,
    "gas-store": GasStore,
    "device": ProtectiveDevice,
    "tank": Tank,
    "waste-tank": WasteTank,
    "basin": Basin,
    "draw-off": Draw,
    "run": Run,
    "cable": Cable,
    "pipe": Pipe,
    "dc-run": DcRun,
    "ac-run": AcRun,
    "water-run": WaterRun,
    "waste-run": WasteRun,
    "gas-run": GasRun,
    "fuel-run": FuelRun,
    "air-run": AirRun,
    "exhaust-run": ExhaustRun,
    "control-run": ControlRun,
}
"""Nouns that stand for more than one kind of component, and those that are no component."""


@cache
def nouns() -> dict[str, type[BaseModel]]:
    """Return what a rule may judge, by the word it writes."""
    return {**FAMILIES, **kinds()}


def view_type(noun: str, axis: Axis | None = None) -> ValueType:
    """Return the type of a noun's view: its fields and facts; those with an axis only under that axis."""
    model = nouns()[noun]
    return value_type.view(noun, lambda: members(model, axis))


OWN_MEMBERS: dict[str, ValueType] = {
    "id": value_type.text(),
    "name": value_type.text(),
    "kind": value_type.text(),
}
"""What every subject has besides its fields and facts."""


@cache
def members(model: type[BaseModel], axis: Axis | None = None) -> dict[str, ValueType]:
    """Return the attributes of a model's view with their types."""
    facts = kinds_for(model)
    fitting = {name: kind.gives for name, kind in facts.items() if kind.axis is None or kind.axis is axis}
    return {**OWN_MEMBERS, **fields_of(model), **fitting}
