"""What each trade looks at, with the figures of the spec that matter there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from pydantic import BaseModel

from specreg.facts.engine import Facts
from specreg.model.gas import (
    GasCylinder,
    GasDropOut,
    GasLocker,
    GasManifold,
    GasOutlet,
    GasTank,
    GasValve,
    Regulator,
)
from specreg.model.inverting import Inverting
from specreg.model.mains import BondingPoint, Generator, ShoreInlet, TransferSwitch
from specreg.model.mains_device import MainsBoard, MainsIsolator
from specreg.model.run import GasRun
from specreg.model.seating import Anchorage, Seating, SwivelBase
from specreg.trade.things import burns_gas
from specreg.trade.trades import Trade

Fields = tuple[str, ...]

KINDS: dict[Trade, tuple[tuple[type[BaseModel], Fields], ...]] = {
    Trade.electrician: (
        (ShoreInlet, ("rated_current", "rated_voltage", "fault_current")),
        (TransferSwitch, ("works", "switched_cores")),
        (Inverting, ("rated_power", "neutral_bond")),
        (Generator, ("rated_power", "neutral_bond")),
        (MainsIsolator, ("rated_current", "poles")),
        (MainsBoard, ("rated_current", "neutral_bond")),
        (BondingPoint, ("bonds",)),
    ),
    Trade.gas_engineer: (
        (GasCylinder, ("gas", "content", "held_low", "held_high", "test_due")),
        (GasTank, ("gas", "volume", "mounted", "test_due")),
        (GasLocker, ("opens_to", "door_seal", "vent_area_low")),
        (Regulator, ("outlet_pressure", "capacity", "made_on", "expires_on")),
        (GasRun, ("made_on", "expires_on", "length", "material")),
        (GasManifold, ("test_point",)),
        (GasValve, ("normally", "while_driving")),
        (GasOutlet, ("shut_off", "outside")),
        (GasDropOut, ("free_area", "below")),
    ),
    Trade.seat_fitter: (
        (Seating, ("places", "belts", "type_approval", "test_report")),
        (SwivelBase, ("under", "lock", "type_approval", "test_report")),
        (Anchorage, ("holds", "bolts", "bolt_size", "bolt_class", "tightening", "substrate", "test_report")),
    ),
    Trade.examiner: (),
}
"""The kinds of thing that stand on a sheet, each with the fields that are compared with the vehicle."""

APPLIANCE = ("burns", "input", "flue_type", "flame_failure_device")


class Fitted(NamedTuple):
    """One thing to look at, with the stated fields that matter there."""

    id: str
    model: BaseModel
    fields: Fields


def fitted(facts: Facts, trade: Trade) -> Iterator[Fitted]:
    """Yield what a trade looks at, kind by kind, in the order of the spec."""
    for kind, fields in KINDS[trade]:
        for subject in facts.of_class(kind):
            if _concerns(subject.model):
                yield Fitted(subject.id, subject.model, _stated(subject.model, fields))
    if trade is Trade.gas_engineer:
        for name, one in facts.build.components.items():
            if burns_gas(one):
                yield Fitted(name, one, _stated(one, APPLIANCE))


def _concerns(model: BaseModel) -> bool:
    """Leave out rigid gas pipes, and seats and anchorages as the vehicle's maker made them."""
    if isinstance(model, GasRun):
        return model.form == "hose"
    if isinstance(model, (Seating, SwivelBase, Anchorage)):
        return model.origin == "retrofitted" and getattr(model, "purpose", None) != "load"
    return True


def _stated(model: BaseModel, fields: Fields) -> Fields:
    return tuple(name for name in fields if getattr(model, name) not in (None, ()))
