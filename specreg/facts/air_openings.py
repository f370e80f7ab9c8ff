"""What opens near the hob and over the beds, and what a fan draws through the fixed vents."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.fire import gap
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.air import ExtractorHood, OpeningGlazing, RoofFan
from specreg.model.cooking import Cooker
from specreg.model.sleeping import Bed
from specreg.units import Dimension

AIR_DENSITY = 1.204  # kg/m³ at 20 °C and 101.3 kPa
DISCHARGE = 0.6  # share of the free area that a sharp-edged opening lets through, handbooks of ventilation


def _opening(cooker: Subject) -> list[Subject]:
    hoods = [hood for hood in cooker.van.of_class(ExtractorHood) if hood.ducted]
    others = [thing for kind in (OpeningGlazing, RoofFan) for thing in cooker.van.of_class(kind)]
    return [*hoods, *others]


@fact(
    Cooker,
    list_of(text()),
    formula="windows, hatches, roof fans and hoods that blow outside",
    source="the spec",
)
def openings(cooker: Subject) -> tuple[str, ...]:
    """What can be opened or run while cooking."""
    return tuple(thing.name for thing in _opening(cooker))


@fact(Cooker, number(Dimension.length), formula="least gap between boxes", source="geometry")
def nearest_opening(cooker: Subject) -> float:
    """Distance from the cooker to the nearest thing that opens."""
    found = _opening(cooker)
    if not found:
        raise Missing(reason="nothing that opens is listed")
    return min(gap(cooker, thing) for thing in found)


@fact(
    RoofFan,
    number(Dimension.pressure),
    formula="½ ρ (Q / (0.6 A))²: full flow through all fixed vents, everything else shut",
    source="orifice equation, physics; discharge coefficient 0.6 by common practice",
)
def suction(fan: Subject) -> float:
    """Depression of the living space when it blows out at full speed with everything else shut."""
    area = fan.van.whole.whole_vent_area - (fan.get("free_area_closed") or 0.0) * fan.count
    if area <= 0:
        raise Missing(reason="there is no fixed vent for the air to come in by")
    return float(AIR_DENSITY / 2 * (fan.greatest_flow * fan.count / (DISCHARGE * area)) ** 2)


@fact(
    Bed,
    TRUTH,
    formula="a high and a low fixed vent of the living space, or an opening with a ventilation catch",
    source="common practice",
)
def air_at_night(bed: Subject) -> bool:
    """Whether air comes in and goes out while people sleep with everything shut."""
    whole = bed.van.whole
    fixed = bool(whole.high_vents) and bool(whole.low_vents)
    return fixed or any(thing.get("night_area") for thing in bed.van.of_class(OpeningGlazing))
