"""Where water condenses on the coldest night: linings, ribs, panes, and the skin behind the lining."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.air_stream import cold
from specreg.facts.engine import Facts, Subject
from specreg.facts.heat_layers import inner_resistance, skin_temperature, surface_temperature
from specreg.facts.heat_shell import Part
from specreg.facts.missing import Missing
from specreg.facts.moist_air import (
    air_to_hold,
    dew_point,
    saturation_pressure,
    vapour_density,
    vapour_inside,
    vapour_removed,
)
from specreg.facts.registry import fact
from specreg.facts.shell_areas import Span
from specreg.facts.sleepers import water_of_all
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.model.build import Header
from specreg.model.component import CombustionAppliance
from specreg.model.cooking import Cooker
from specreg.tables import environment
from specreg.units import Dimension

MOIST = 0.9
"""Relative humidity outside on a cold night: common practice, no source."""
TEMPERATURE = number(Dimension.temperature)
MAGNUS = "Magnus formula, WMO-No. 8: 611.2 Pa, 17.62, 243.12 °C (from memory)"
MOULD = "ISO 13788: Rsi 0.25 m²·K/W for sides (from memory), Rsi of EN ISO 6946 for panes"


def _vapour_outside(van: Facts) -> float:
    """Return the kg/m³ of vapour that outside air has once it is inside."""
    van.assume("outside air of the coldest night at 90 % relative humidity (common practice, no source)")
    outside = float(van.whole.design_temperature)
    pressure = MOIST * saturation_pressure(outside)
    return vapour_density(pressure, float(van.whole.sleeping_temperature))


def vapour(van: Facts) -> Span:
    """Return the vapour pressure inside in Pa: as stated, else from people and air, breeze to calm."""
    inside = float(van.whole.sleeping_temperature)
    if van.build.header.use.inside_humidity is not None:
        stated = float(van.whole.use.inside_humidity) * saturation_pressure(inside)
        if stated <= 0:
            raise Missing("use.inside_humidity", reason="the stated humidity inside is not above 0")
        return Span(stated, stated)
    flow, made, outside = cold(van, inside), water_of_all(van), _vapour_outside(van)
    least = vapour_inside(outside, made, flow.greatest, inside)
    return Span(least, vapour_inside(outside, made, flow.least, inside))


VAPOUR = "p = (p/(R·T) outside + G/Q)·R·Ti, at most saturation: mass balance of water of people asleep"


@fact(Header, TEMPERATURE, formula=f"{VAPOUR}; a breeze", source=MAGNUS)
def least_dew_point(build: Subject) -> float:
    """Dew point of the air inside on the coldest night, at least."""
    return dew_point(vapour(build.van).least)


@fact(Header, TEMPERATURE, formula=f"{VAPOUR}; calm", source=MAGNUS)
def greatest_dew_point(build: Subject) -> float:
    """Dew point of the air inside on the coldest night, at most."""
    return dew_point(vapour(build.van).greatest)


@fact(Header, number(Dimension.share), formula=f"{VAPOUR}; calm; over saturation", source=MAGNUS)
def greatest_humidity(build: Subject) -> float:
    """Relative humidity inside on the coldest night, at most."""
    return vapour(build.van).greatest / saturation_pressure(float(build.sleeping_temperature))


@dataclass(frozen=True)
class Face:
    """Temperatures in K of one side or pane: its surface, its ribs or bare patches, the skin behind it."""

    name: str
    glazed: bool
    surface: float
    ribs: float | None
    skin: float
    open_to_vapour: bool


FACE = view(
    "surface",
    {
        "name": text(),
        "glazed": TRUTH,
        "surface": TEMPERATURE,
        "ribs": TEMPERATURE,
        "skin": TEMPERATURE,
        "open_to_vapour": TRUTH,
    },
)


def _face(part: Part, inside: float, outside: float) -> Face:
    inner = inner_resistance(part.side) if part.glazed else None
    surface = surface_temperature(part.layers, inside, outside, inner)
    ribs = None if part.rib_layers is None else surface_temperature(part.rib_layers, inside, outside)
    skin = skin_temperature(part.layers, inside, outside, part.side)
    metal = part.insulated and part.side != "cab"
    return Face(part.name, part.glazed, surface, ribs, skin, metal and not part.sealed)


@fact(
    Header,
    list_of(FACE),
    formula="Ti − (Ti − Te)·Rsi/(Rsi + ΣR + Rse); skin: Te + (Ti − Te)·Rse·U",
    source=MOULD,
)
def surfaces(build: Subject) -> tuple[Face, ...]:
    """Temperatures of the inner surfaces on the coldest night."""
    inside, outside = float(build.sleeping_temperature), float(build.design_temperature)
    build.van.assume("panes reckoned without their blinds; behind a drawn mat the glass is colder still")
    return tuple(_face(part, inside, outside) for part in build.shell_parts)


def _coldest(build: Subject, glazed: bool) -> Face:
    found: list[Face] = [face for face in build.surfaces if face.glazed is glazed]
    if not found:
        raise Missing(reason="no window is listed" if glazed else "no side is listed")
    return min(found, key=lambda face: face.surface)


@fact(Header, TEMPERATURE, formula="lowest of all sides, ribs left out", source=MOULD)
def coldest_side(build: Subject) -> float:
    """Temperature of the coldest side inside, on the coldest night."""
    return _coldest(build, glazed=False).surface


@fact(Header, text(), formula="the side with the lowest surface temperature", source=MOULD)
def coldest_side_is(build: Subject) -> str:
    """Which side is the coldest."""
    return _coldest(build, glazed=False).name


@fact(
    Header,
    TEMPERATURE,
    formula="lowest of all ribs behind their lining, and of sheet left bare",
    source=MOULD,
)
def coldest_rib(build: Subject) -> float:
    """Temperature over the coldest metal rib or patch of bare sheet, on the coldest night."""
    ribs: list[float] = [face.ribs for face in build.surfaces if face.ribs is not None]
    if not ribs:
        raise Missing(reason="no metal bridges the insulation, as the spec says")
    return min(ribs)


@fact(Header, TEMPERATURE, formula="lowest of all panes, blinds open", source=MOULD)
def coldest_pane(build: Subject) -> float:
    """Temperature of the coldest pane inside, on the coldest night."""
    return _coldest(build, glazed=True).surface


@fact(Header, list_of(text()), formula="surface below the greatest dew point", source=f"{MOULD}; {MAGNUS}")
def wet_sides(build: Subject) -> tuple[str, ...]:
    """Sides on which water condenses on a calm, coldest night."""
    dew = float(build.greatest_dew_point)
    return tuple(face.name for face in build.surfaces if not face.glazed and face.surface < dew)


@fact(Header, list_of(text()), formula="surface below the least dew point", source=f"{MOULD}; {MAGNUS}")
def surely_wet_sides(build: Subject) -> tuple[str, ...]:
    """Sides on which water condenses on the coldest night even in a breeze."""
    dew = float(build.least_dew_point)
    return tuple(face.name for face in build.surfaces if not face.glazed and face.surface < dew)


@fact(
    Header,
    list_of(text()),
    formula="lining over the rib below the greatest dew point",
    source=f"{MOULD}; {MAGNUS}",
)
def wet_ribs(build: Subject) -> tuple[str, ...]:
    """Sides whose ribs, or sheet left bare, sweat on a calm, coldest night."""
    dew = float(build.greatest_dew_point)
    return tuple(face.name for face in build.surfaces if face.ribs is not None and face.ribs < dew)


@fact(Header, list_of(text()), formula="pane below the greatest dew point", source=f"{MOULD}; {MAGNUS}")
def wet_panes(build: Subject) -> tuple[str, ...]:
    """Panes on which water condenses on a calm, coldest night."""
    dew = float(build.greatest_dew_point)
    return tuple(face.name for face in build.surfaces if face.glazed and face.surface < dew)


@fact(
    Header,
    list_of(text()),
    formula="skin below the least dew point, insulation neither tight by its material nor behind a barrier",
    source=f"{MAGNUS}; diffusion through the layers (ISO 13788, Glaser) is not computed",
)
def wet_skins(build: Subject) -> tuple[str, ...]:
    """Sides where inside air that reaches the metal behind the lining condenses on it."""
    dew = float(build.least_dew_point)
    return tuple(face.name for face in build.surfaces if face.open_to_vapour and face.skin < dew)


@fact(
    Header,
    number(Dimension.flow),
    formula="G / (vapour at the temperature of the coldest side − vapour outside)",
    source=f"mass balance of water; {MAGNUS}",
)
def air_to_keep_dry(build: Subject) -> float | None:
    """Air that keeps the coldest side just dry while people sleep."""
    inside = float(build.sleeping_temperature)
    at_side = vapour_density(saturation_pressure(float(build.coldest_side)), inside)
    return air_to_hold(water_of_all(build.van), at_side, _vapour_outside(build.van))


MASS = number(Dimension.mass)


@fact(
    Header,
    MASS,
    formula="air of a calm night × (vapour at the temperature of the coldest side − vapour outside) × night",
    source=f"mass balance of water; {MAGNUS}",
)
def water_carried_off(build: Subject) -> float:
    """Water that the air of a calm, coldest night carries off before the coldest side gets wet."""
    inside = float(build.sleeping_temperature)
    at_side = vapour_density(saturation_pressure(float(build.coldest_side)), inside)
    flow = cold(build.van, inside).least
    return max(0.0, vapour_removed(at_side, _vapour_outside(build.van), flow)) * float(build.night_length)


@fact(
    Header,
    MASS,
    formula="people × 50 g an hour × length of a night + what wet things give off",
    source="New Zealand roofing code 10.8.1; the spec",
)
def water_of_a_night(build: Subject) -> float:
    """Water that people and wet things give off in a night."""
    return water_of_all(build.van) * float(build.night_length)


def _cooking(build: Subject, end: str) -> float:
    rate = environment.constant(f"moisture-cooking-{end}").value
    cookers = [c for c in build.van.of_class(Cooker) if c.get("burn_hours_per_day") is not None]
    return float(sum(rate * cooker.burn_hours_per_day * cooker.count for cooker in cookers))


@fact(Header, MASS, formula="600 g an hour while a cooker burns", source="IEA SHC text, table 10.1.1")
def least_water_of_cooking(build: Subject) -> float:
    """Water that a day's cooking gives off, at least."""
    return _cooking(build, "least")


@fact(Header, MASS, formula="1500 g an hour while a cooker burns", source="IEA SHC text, table 10.1.1")
def greatest_water_of_cooking(build: Subject) -> float:
    """Water that a day's cooking gives off, at most, that of the gas included."""
    return _cooking(build, "greatest")


@fact(
    Header,
    MASS,
    formula="1.634 kg of water for each kg of propane burnt in the room's air",
    source="stoichiometry C₃H₈ + 5 O₂",
)
def water_of_burnt_gas(build: Subject) -> float:
    """Water that a day's gas, burnt without a flue, gives off."""
    burning = [a for a in build.van.of_class(CombustionAppliance) if a.burns_gas and a.flue == "flueless"]
    water = environment.constant("propane-combustion-water").value
    return sum(water * _gas_per_day(appliance) for appliance in burning if appliance.needs_room_air)


def _gas_per_day(appliance: Subject) -> float:
    value = environment.constant(f"propane-{appliance.input_basis}-heating-value").value
    return float(appliance.input * appliance.count / value * appliance.burn_hours_per_day)
