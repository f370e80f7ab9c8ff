"""Gas in the cold: the pressure in a cylinder, and how much vapour the air around it can make."""

from __future__ import annotations

from math import pi

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import number
from specreg.model.gas import GasCylinder, GasStore
from specreg.tables import environment, liquefied_gas
from specreg.units import Dimension

TRANSFER = 10.0
"""Heat that still air gives to a wetted steel wall, W/(m²·K): convection and radiation, from memory."""
LATENT_HEAT = 428e3
"""Heat of vaporisation of propane at its boiling point in J/kg: 184 BTU/lb (NFPA 58 style property table)."""
LEFT = 0.3
"""Share of the content with which a cylinder is reckoned, for little liquid wets little wall (practice)."""


@fact(GasStore, number(), formula="1 for propane, 0 for butane, as stated for a mixture", source="the spec")
def share_of_propane(store: Subject) -> float:
    """Share of propane in its gas by mass."""
    if store.gas == "mixture":
        return float(store.propane_share)
    return 1.0 if store.gas == "propane" else 0.0


def pressure_over(propane_share: float, kelvin: float) -> float:
    """Return the gauge pressure in Pa over a fresh mixture; below its boiling point it is negative."""
    return liquefied_gas.mixture_pressure(propane_share, kelvin) - liquefied_gas.ATMOSPHERE


@fact(
    GasStore,
    number(Dimension.pressure),
    formula="vapour pressure at the coldest night, by Raoult's law for a mixture, less one atmosphere",
    source="vapour pressure of propane and normal butane, handbook coefficients from memory",
)
def pressure_in_the_cold(store: Subject) -> float:
    """Gauge pressure in it in the coldest night; none is left where it is below 0."""
    if store.gas == "mixture":
        store.van.assume(f"{store.name}: fresh mixture; propane leaves first, and the rest gives less")
    return pressure_over(store.share_of_propane, store.van.whole.design_temperature)


def vapour(area: float, propane_share: float, kelvin: float) -> float:
    """Return the vapour in kg/s that still air of some temperature makes through `area` m² of wetted wall."""
    boiling = liquefied_gas.boiling_point(propane_share)
    return max(0.0, TRANSFER * area * (kelvin - boiling) / LATENT_HEAT)


def wetted_area(content: float, diameter: float) -> float:
    """Return the wall in m² that `content` kg of liquid wet in an upright cylinder of `diameter` m."""
    floor = pi / 4 * diameter**2
    height = content / environment.constant("propane-liquid-density").value / floor
    return floor + pi * diameter * height


@fact(
    GasCylinder,
    number(Dimension.mass_flow),
    formula="as stated of one × how many stand as one",
    source="the spec; the supplier's figure",
)
def draw_in_the_cold(cylinder: Subject) -> float:
    """Gas that it can give off for long when cold, all alike that stand as one together."""
    return float(cylinder.greatest_draw * cylinder.count)


@fact(
    GasCylinder,
    number(Dimension.mass_flow),
    formula="10 W/(m²·K) × wall wetted at 30 % of its content × (coldest night − boiling point) ÷ 428 kJ/kg",
    source="heat balance; coefficient from memory, latent heat by an NFPA 58 style property table",
)
def vapour_in_the_cold(cylinder: Subject) -> float:
    """Gas that it can give for hours in the coldest night when three tenths full: an estimate, at least."""
    size = cylinder.get("size")
    if size is None:
        raise Missing(f"{cylinder.id}.size")
    cylinder.van.assume(
        f"{cylinder.name}: three tenths full, still air, liquid down to its boiling point at one atmosphere"
    )
    area = wetted_area(LEFT * cylinder.content, min(size[0], size[1]))
    one = vapour(area, cylinder.share_of_propane, cylinder.van.whole.design_temperature)
    return float(cylinder.count * one)
