"""Heat through layers: resistance in series, and where metal ribs bridge the insulation; pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from specreg.tables import environment


@dataclass(frozen=True, slots=True)
class Sheet:
    """One layer of a build-up: thickness in m, conductivity in W/(m·K); `bridged` where ribs pass it."""

    thickness: float
    conductivity: float
    bridged: bool = False

    @property
    def resistance(self) -> float:
        """Return d/λ in m²·K/W."""
        return self.thickness / self.conductivity


def inner_resistance(surface: str) -> float:
    """Return the surface resistance inside in m²·K/W by the way heat flows (EN ISO 6946)."""
    direction = {"roof": "up", "floor": "down"}.get(surface, "horizontal")
    return environment.constant(f"surface-resistance-{direction}").value


def outer_resistance() -> float:
    """Return the surface resistance outside in m²·K/W (EN ISO 6946)."""
    return environment.constant("surface-resistance-outside").value


def still_air(thickness: float, surface: str) -> float:
    """Return the resistance in m²·K/W of a shut air gap, by the next narrower row (ISO 6946)."""
    return environment.air_gap_resistance(thickness, {"roof": "up", "floor": "down"}.get(surface, "across"))


def layers_resistance(sheets: Sequence[Sheet], gaps: float = 0.0) -> float:
    """Return Σ d/λ of some sheets and the resistance of air gaps, without the surfaces, in m²·K/W."""
    return sum(sheet.resistance for sheet in sheets) + gaps


def transmittance(layers: float, surface: str) -> float:
    """Return U in W/(m²·K) of layers of a total resistance in m²·K/W: 1/(Rsi + ΣR + Rse)."""
    return 1 / (inner_resistance(surface) + layers + outer_resistance())


def with_ribs(clear: float, rib: float, share: float) -> float:
    """Return U of a side of which a share is ribs: both paths side by side, weighted by area."""
    return (1 - share) * clear + share * rib


def surface_temperature(layers: float, inside: float, outside: float, inner: float | None = None) -> float:
    """Return the temperature in K of the inner surface: Ti − (Ti − Te)·Rsi/R, with Rsi 0.25 of ISO 13788."""
    rsi = environment.constant("surface-resistance-mould").value if inner is None else inner
    whole = rsi + layers + outer_resistance()
    return inside - (inside - outside) * rsi / whole


def skin_temperature(layers: float, inside: float, outside: float, surface: str) -> float:
    """Return the temperature in K of the metal skin, seen from inside: Te + (Ti − Te)·Rse/R."""
    return outside + (inside - outside) * outer_resistance() * transmittance(layers, surface)
