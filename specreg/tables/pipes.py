"""Mass of pipes, hoses and ducts by bore and material, as a bracket over the walls that are usual."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

PRACTICE = "walls and densities that are usual: common practice, no source"


class Stuff(NamedTuple):
    """What a pipe is made of: density in kg/m³, thinnest and thickest usual wall in m."""

    density: float
    thin: float
    thick: float


STUFFS: dict[str, Stuff] = {
    "copper": Stuff(8900.0, 0.0006, 0.001),
    "steel": Stuff(7900.0, 0.0003, 0.0015),
    "aluminium": Stuff(2800.0, 0.0001, 0.001),
}
"""Metals by the word that a material's name contains, densities of DIN EN 12524; all else is polymer."""

POLYMER = Stuff(1100.0, 0.001, 0.0035)
DUCT = Stuff(1100.0, 0.0001, 0.0012)
"""Ducts for air are thin: laminated paper and foil, or thin polymer."""


def tube_mass(bore: float, wall: float, density: float) -> float:
    """Return the mass of a tube in kg/m: π (bore + wall) wall density. Geometry."""
    return pi * (bore + wall) * wall * density


def stuff_of(material: str | None, *, air: bool = False) -> Stuff:
    """Return what a pipe is made of by the words of its material."""
    words = (material or "").lower()
    found = next((stuff for word, stuff in STUFFS.items() if word in words), None)
    return found or (DUCT if air else POLYMER)


def mass_per_metre(bore: float, material: str | None, *, air: bool = False) -> tuple[float, float]:
    """Return the least and the greatest usual mass of a pipe in kg/m by its bore in m and its material."""
    stuff = stuff_of(material, air=air)
    return tube_mass(bore, stuff.thin, stuff.density), tube_mass(bore, stuff.thick, stuff.density)
