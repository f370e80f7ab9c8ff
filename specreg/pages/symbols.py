"""Symbols of one-line diagrams, drawn within a square of 24 about its middle.

Electrical ones after IEC 60617, those of pipes after ISO 14617, both simplified and from memory; a letter in
a circle tells what a machine does (M drives, G makes, P pumps). Words always stand beside a symbol.
"""

from __future__ import annotations

from typing import NamedTuple

from specreg.model.component import CombustionAppliance, Component
from specreg.model.fluid import Tank
from specreg.model.loads import Light

CIRCLE = "M-11 0a11 11 0 1 0 22 0a11 11 0 1 0 -22 0"
SQUARE = "M-11 -11h22v22h-22z"


class Symbol(NamedTuple):
    """The outline as a path, and a letter in it."""

    path: str
    letter: str = ""


SYMBOLS = {
    "battery": Symbol("M-12 0h7M-5 -10v20M0 -5v10M5 -10v20M10 -5v10M10 0h2"),
    "generator": Symbol(CIRCLE, "G"),
    "motor": Symbol(CIRCLE, "M"),
    "lamp": Symbol(CIRCLE + "M-7.8 -7.8l15.6 15.6M7.8 -7.8l-15.6 15.6"),
    "converter": Symbol(SQUARE + "M-11 11l22 -22"),
    "panel": Symbol("M-11 -8h22v16h-22zM-11 -8l8 8l-8 8"),
    "switch": Symbol("M-12 0h5M-7 0l13 -8M7 0h5M7 -2.5v5"),
    "outlet": Symbol("M-12 0h8M-4 -9a9 9 0 0 1 0 18z"),
    "inlet": Symbol("M12 0h-6M6 -6h-12v12h12zM-6 0h-6"),
    "bar": Symbol("M-11 -2h22v4h-22z"),
    "box": Symbol(SQUARE + "M-11 -4h22"),
    "earth": Symbol("M0 -11v11M-10 0h20M-6 4h12M-2.5 8h5"),
    "meter": Symbol(CIRCLE + "M-6 5l12 -10M6 -5h-4M6 -5v4"),
    "contact": Symbol(SQUARE, "K"),
    "tank": Symbol("M-11 -11v22h22v-22M-11 -3h22"),
    "valve": Symbol("M-11 -7l22 14v-14l-22 14z"),
    "check": Symbol("M-11 -7l22 7l-22 7zM11 -8v16"),
    "pump": Symbol(CIRCLE + "M-6 -9l17 9l-17 9"),
    "filter": Symbol("M-11 0l11 -11l11 11l-11 11zM0 -11v22"),
    "tap": Symbol("M-12 0h9M-3 -6h6v12h-6zM3 0h6v8"),
    "basin": Symbol("M-11 -7h22M-9 -7c0 18 18 18 18 0"),
    "vessel": Symbol("M-7 -11h14q4 0 4 4v14q0 4 -4 4h-14q-4 0 -4 -4v-14q0 -4 4 -4zM-11 0h22"),
    "bottle": Symbol("M-7 11v-15a7 5 0 0 1 14 0v15zM-3 -9v-3h6v3"),
    "flame": Symbol(SQUARE + "M0 -7c5 5 5 12 0 14c-5 -2 -5 -9 0 -14"),
    "opening": Symbol("M-12 0h16M-1 -6l6 6l-6 6M9 -10v20"),
    "thing": Symbol(SQUARE),
}  # fmt: skip

BY_KIND = {
    "battery": "battery", "alternator": "generator", "generator": "generator", "solar-panel": "panel",
    "starter-motor": "motor", "roof-fan": "motor", "cabin-fan": "motor", "duct-fan": "motor",
    "actuator": "motor", "bed-lift": "motor", "powered-step": "motor", "powered-awning": "motor",
    "extractor-hood": "motor", "fridge": "motor",
    "dc-charger": "converter", "dc-converter": "converter", "inverter": "converter",
    "inverter-charger": "converter", "shore-charger": "converter", "solar-controller": "converter",
    "switch": "switch", "switch-panel": "switch", "disconnect": "switch", "solar-disconnect": "switch",
    "mains-isolator": "switch", "mains-breaker": "switch", "residual-current-device": "switch",
    "dimmer": "switch", "transfer-switch": "switch",
    "relay": "contact", "split-relay": "contact", "low-voltage-disconnect": "contact", "timer": "contact",
    "thermostat": "contact",
    "socket": "outlet", "dc-outlet": "outlet", "usb-outlet": "outlet", "gas-outlet": "outlet",
    "shore-inlet": "inlet", "filler": "inlet", "gas-filler": "inlet", "quick-coupling": "inlet",
    "bus-bar": "bar", "fuse-box": "box", "mains-board": "box", "fuse-holder": "box", "solar-combiner": "box",
    "chassis-point": "earth", "bonding-point": "earth",
    "shunt": "meter", "display": "meter", "tank-gauge": "meter", "sensor": "meter",
    "valve": "valve", "waste-valve": "valve", "gas-valve": "valve", "frost-valve": "valve",
    "fuel-valve": "valve", "mixing-valve": "valve", "regulator": "valve",
    "check-valve": "check", "pump": "pump", "waste-pump": "pump", "fuel-pump": "pump", "coolant-pump": "pump",
    "strainer": "filter", "water-filter": "filter", "tap": "tap", "shower": "tap",
    "sink": "basin", "shower-tray": "basin", "toilet": "basin", "accumulator": "vessel",
    "water-heater": "vessel", "heat-exchanger": "vessel", "gas-cylinder": "bottle", "gas-tank": "bottle",
    "flue-terminal": "opening", "air-intake": "opening", "air-outlet": "opening", "vent": "opening",
    "waste-vent": "opening", "tank-vent": "opening", "drain-outlet": "opening",
    "water-manifold": "bar", "gas-manifold": "bar", "waste-tee": "bar", "duct-branch": "bar",
}  # fmt: skip
"""The symbol of a kind; lights, tanks and burners follow their class, and the rest are plain squares."""


def symbol_of(component: Component) -> Symbol:
    """Return the symbol of a component."""
    if component.kind in BY_KIND:
        return SYMBOLS[BY_KIND[component.kind]]
    if isinstance(component, Light):
        return SYMBOLS["lamp"]
    if isinstance(component, Tank):
        return SYMBOLS["tank"]
    return SYMBOLS["flame" if isinstance(component, CombustionAppliance) else "thing"]
