"""Pressure lost in a pipe, by Darcy and Weisbach, for water and for gas, and flows that balance it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import log10, pi

from specreg.tables import environment

VISCOSITY = 1.307e-3
"""Dynamic viscosity of water at 10 °C in Pa·s (from memory; IAPWS gives 1.306)."""
ROUGHNESS = 1.5e-6
"""Roughness of drawn plastic and copper pipe in m (from memory)."""
LAMINAR_UP_TO = 2300
FITTINGS_AT_MOST = 2.0
"""Friction with tees, valves and ends over that of the pipes alone: 1 to 2, common practice, no source."""


@dataclass(frozen=True)
class Fluid:
    """What flows: density in kg/m³, dynamic viscosity in Pa·s."""

    density: float
    viscosity: float


def water() -> Fluid:
    """Return water: density at 20 °C, viscosity at 10 °C."""
    return Fluid(environment.constant("water-density").value, VISCOSITY)


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Return Darcy's friction factor: 64/Re in laminar flow, else Haaland's (near Colebrook–White)."""
    laminar = 64 / reynolds
    if reynolds <= LAMINAR_UP_TO:
        return laminar
    turbulent = (1.8 * log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    return max(laminar, turbulent)


def friction_loss(
    flow: float, length: float, bore: float, fluid: Fluid | None = None, roughness: float = ROUGHNESS
) -> float:
    """Return the pressure in Pa that `flow` m³/s loses over `length` m of a pipe of `bore` m."""
    if flow <= 0:
        return 0.0
    fluid = fluid or water()
    speed = flow / (pi / 4 * bore**2)
    factor = friction_factor(fluid.density * speed * bore / fluid.viscosity, roughness / bore)
    return factor * length / bore * fluid.density * speed**2 / 2


def balanced_flow(surplus: Callable[[float], float], greatest: float, halvings: int = 60) -> float:
    """Return the flow at which a falling surplus of pressure reaches zero, between 0 and `greatest`."""
    low, high = 0.0, greatest
    for _ in range(halvings):
        middle = (low + high) / 2
        low, high = (middle, high) if surplus(middle) > 0 else (low, middle)
    return low
