"""Air that passes the shut van, from a calm night to a breeze: fixed vents, catches and leakage."""

from __future__ import annotations

from specreg.facts.design_climate import UNHEATED
from specreg.facts.engine import Facts, Subject
from specreg.facts.registry import fact
from specreg.facts.shell_areas import Span
from specreg.facts.value_type import number
from specreg.facts.vent_stream import Opening, halves, stack_flow, together, wind_flow
from specreg.model.air import Fan, OpeningGlazing, RoofFan, RoofHatch, Vent
from specreg.model.build import Header
from specreg.units import Dimension

BREEZE = 3.0
"""Metres per second of a light breeze, Beaufort 2: common practice, no source."""
LEAKS = Span(0.0, 1.0)
"""Air changes an hour by leaks of a van's body, where they were not measured: common practice, no source."""
MILD_NIGHT = 288.15

FLOW = number(Dimension.flow)
ORIFICE = "orifice equation with the draught of warm air and with wind, discharge coefficient 0.6 (ASHRAE "
ORIFICE += "Fundamentals, ventilation)"


def fixed_openings(van: Facts) -> list[Opening]:
    """Return what always stays open, with heights in m; raises Missing where an area is not stated."""
    height = float(van.whole.vehicle.interior.height)
    found: list[Opening] = []
    for vent in van.of_class(Vent):
        if vent.feeds_living_space:
            found += _of_vent(vent, height)
    hatches = sum((hatch.get("fixed_area") or 0.0) * hatch.count for hatch in van.of_class(RoofHatch))
    fans = sum((fan.get("free_area_closed") or 0.0) * fan.count for fan in van.of_class(RoofFan))
    return found + ([Opening(height, hatches + fans)] if hatches + fans else [])


def _of_vent(vent: Subject, height: float) -> tuple[Opening, ...]:
    area = float(vent.free_area) * vent.count
    surface = vent.get("surface")
    if surface in ("roof", "floor"):
        return (Opening(height if surface == "roof" else 0.0, area),)
    if vent.get("at") is None or vent.get("size") is None:
        return (Opening(0.05 * height if vent.level == "low" else 0.9 * height, area),)
    return halves(vent.at[2] + vent.size[2] / 2, vent.size[2], area)


def caught_openings(van: Facts) -> list[Opening]:
    """Return the windows and hatches on their ventilation catches, with heights in m."""
    height = float(van.whole.vehicle.interior.height)
    found: list[Opening] = []
    for pane in van.of_class(OpeningGlazing):
        area = (pane.get("night_area") or 0.0) * pane.count
        if not area:
            continue
        if pane.kind == "roof-hatch" or pane.get("at") is None or pane.get("size") is None:
            found.append(Opening(height if pane.kind == "roof-hatch" else 0.6 * height, area))
        else:
            found += halves(pane.at[2] + pane.size[2] / 2, pane.size[2], area)
    return found


def leakage(van: Facts) -> Span:
    """Return the air in m³/s that leaks through the body, at both ends."""
    if van.build.header.vehicle.shell.leakage is not None:
        measured = float(van.whole.vehicle.shell.leakage)
        return Span(measured, measured)
    volume = float(van.whole.room_volume)
    van.assume("leaks of the body taken as 0 to 1 air change an hour (common practice, no source)")
    return Span(LEAKS.least * volume / 3600, LEAKS.greatest * volume / 3600)


def stream(van: Facts, openings: list[Opening], inside: float, outside: float) -> Span:
    """Return the m³/s through openings and leaks, from a calm night to a breeze of 3 m/s."""
    van.assume("wind between calm and a breeze of 3 m/s (common practice, no source)")
    calm = stack_flow(openings, inside, outside)
    wind = wind_flow(openings, float(van.whole.vehicle.interior.height) / 2, BREEZE)
    leaks = leakage(van)
    return Span(calm + leaks.least, together(calm, wind) + leaks.greatest)


def mild(van: Facts, openings: list[Opening]) -> Span:
    """Return the stream of a mild night, when nothing but people warms the van."""
    van.assume("unheated night: 2 K warmer inside than outside (common practice, no source)")
    return stream(van, openings, MILD_NIGHT + UNHEATED, MILD_NIGHT)


def cold(van: Facts, inside: float) -> Span:
    """Return the stream through the fixed vents on the coldest night, at an inside temperature in K."""
    return stream(van, fixed_openings(van), inside, float(van.whole.design_temperature))


@fact(
    Header, FLOW, formula="0.6·A·√(2·g·Δh·ΔT/T) with 2 K, no wind, no leaks unless measured", source=ORIFICE
)
def least_night_air(build: Subject) -> float:
    """Air through the fixed vents on a calm, mild night with all else shut."""
    return mild(build.van, fixed_openings(build.van)).least


@fact(Header, FLOW, formula="warmth and 3 m/s of wind, √(Q₁² + Q₂²), and leaks", source=ORIFICE)
def greatest_night_air(build: Subject) -> float:
    """Air through the fixed vents in a breeze with all else shut."""
    return mild(build.van, fixed_openings(build.van)).greatest


@fact(
    Header,
    FLOW,
    formula="calm night, windows on their catches; or the fans at their speed for the night, if that is more",
    source=ORIFICE + "; the fan's night flow is its maker's",
)
def least_aired_night(build: Subject) -> float:
    """Air on a calm, mild night with windows on their catches or a fan at its speed for the night."""
    van = build.van
    natural = mild(van, [*fixed_openings(van), *caught_openings(van)]).least
    fans = [fan for fan in van.of_class(Fan) if fan.get("night_flow") is not None]
    if fans:
        van.assume("a fan moves its stated flow at night; through small vents it moves less")
    return max(natural, *(float(fan.night_flow * fan.count) for fan in fans), 0.0)


@fact(Header, FLOW, formula="as for a mild night, with the design temperatures", source=ORIFICE)
def least_cold_air(build: Subject) -> float:
    """Air through the fixed vents on the coldest night, calm."""
    return cold(build.van, float(build.room_temperature)).least


@fact(Header, FLOW, formula="as for a mild night, with the design temperatures", source=ORIFICE)
def greatest_cold_air(build: Subject) -> float:
    """Air through the fixed vents and leaks on the coldest night, in a breeze."""
    return cold(build.van, float(build.room_temperature)).greatest


@fact(Fan, number(), formula="greatest flow × 1 h / volume of the living space", source="definition")
def air_changes(fan: Subject) -> float:
    """Air changes an hour at full speed."""
    return float(fan.greatest_flow * fan.count) * 3600 / float(fan.van.whole.room_volume)
