"""Fixed vents of the living space against what its floor and its appliances ask for."""

from __future__ import annotations

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.air import RoofFan, RoofHatch, Vent
from specreg.model.build import Header
from specreg.model.component import CombustionAppliance
from specreg.model.sleeping import Bed
from specreg.tables import environment
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

SQUARE = "interior length × width"
EN_721 = "EN 721 as quoted by a TÜV leaflet; floors above 10 m² from memory"
SUM = "Σ free area of vents that cannot be shut and that nothing covers"
AREA = number(Dimension.area)


@fact(Header, AREA, formula=SQUARE, source="geometry")
def ventilated_floor(build: Subject) -> float:
    """Floor area of the living space, as ventilation counts it."""
    interior = build.vehicle.interior
    return float(f"{interior.length * interior.width:.9g}")


@fact(
    Vent,
    TRUTH,
    formula="it opens into no enclosure, cannot be shut, and nothing stands before it",
    source="the spec",
)
def feeds_living_space(vent: Subject) -> bool:
    """Whether it ventilates the living space at all times."""
    if vent.get("opens_into") not in (None, "living space"):
        return False
    return not vent.closable and vent.get("covered_by") in (None, "none")


@fact(Vent, number(Dimension.length), formula="upper edge of its box; 0 in the floor", source="geometry")
def top_height(vent: Subject) -> float:
    """Height of its upper edge above the load floor."""
    return 0.0 if vent.get("surface") == "floor" else float(vent.at[2] + vent.size[2])


@fact(Vent, number(Dimension.length), formula="lower edge of its box", source="geometry")
def bottom_height(vent: Subject) -> float:
    """Height of its lower edge above the load floor."""
    return float(vent.at[2])


@fact(
    Vent,
    text("roof", "high", "low"),
    formula="by its surface, else as stated, else low where its upper edge is at most 100 mm above the floor",
    source=EN_721,
)
def level(vent: Subject) -> str:
    """Whether it is a roof vent, another high one, or a low one."""
    surface, position = vent.get("surface"), vent.get("position")
    if surface in ("roof", "floor"):
        return "roof" if surface == "roof" else "low"
    if position is not None:
        return str(position)
    if vent.get("at") is None or vent.get("size") is None:
        raise Missing(f"{vent.id}.position")
    return "low" if vent.top_height <= environment.constant("low-vent-top-height").value else "high"


def _vents(build: Subject, level_: str) -> list[Subject]:
    return [v for v in build.van.of_class(Vent) if v.feeds_living_space and v.level == level_]


def _area(vents: list[Subject]) -> float:
    return float(sum(vent.free_area * vent.count for vent in vents))


@fact(
    Header,
    AREA,
    formula=f"{SUM}, in the roof; hatches and fans by what stays open when shut",
    source="the spec",
)
def roof_vent_area(build: Subject) -> float:
    """Free area of the fixed vents in the roof."""
    hatches = sum((hatch.get("fixed_area") or 0.0) * hatch.count for hatch in build.van.of_class(RoofHatch))
    fans = sum((fan.get("free_area_closed") or 0.0) * fan.count for fan in build.van.of_class(RoofFan))
    return float(_area(_vents(build, "roof")) + hatches + fans)


@fact(Header, AREA, formula=f"{SUM}, high but not in the roof; windows do not count", source="the spec")
def other_high_vent_area(build: Subject) -> float:
    """Free area of the other high fixed vents."""
    return _area(_vents(build, "high"))


@fact(Header, AREA, formula=f"{SUM}, low", source="the spec")
def low_vent_area(build: Subject) -> float:
    """Free area of the low fixed vents."""
    return _area(_vents(build, "low"))


@fact(Header, list_of(text()), formula="fixed vents in the roof or high in a wall", source="the spec")
def high_vents(build: Subject) -> tuple[str, ...]:
    """High fixed vents of the living space."""
    kept = [h.name for h in build.van.of_class(RoofHatch) if h.get("fixed_area")]
    kept += [f.name for f in build.van.of_class(RoofFan) if f.get("free_area_closed")]
    return (*(v.name for v in (*_vents(build, "roof"), *_vents(build, "high"))), *kept)


@fact(Header, list_of(text()), formula="fixed vents in the floor or low in a wall", source="the spec")
def low_vents(build: Subject) -> tuple[str, ...]:
    """Low fixed vents of the living space."""
    return tuple(vent.name for vent in _vents(build, "low"))


def _due(build: Subject) -> environment.VentAreas:
    try:
        open_combustion = bool(build.room_air_appliances)
        found = environment.fixed_vents(build.ventilated_floor, open_combustion=open_combustion)
    except NotTabulatedError as error:
        raise Missing(reason=str(error)) from None
    if found.basis == "memory":
        build.van.assume(f"fixed vents: {found.source}, from memory ({found.note})")
    return found


@fact(Header, AREA, formula="by floor area and kind of appliance", source=EN_721)
def roof_vent_area_due(build: Subject) -> float:
    """Free area asked for in the roof, where no other high vents stand in for it."""
    return _due(build).roof


@fact(Header, AREA, formula="by floor area and kind of appliance", source=EN_721)
def other_high_vent_area_due(build: Subject) -> float:
    """Free area asked for high in the walls, where there is no roof vent."""
    return _due(build).other_high


@fact(Header, AREA, formula="by floor area and kind of appliance", source=EN_721)
def low_vent_area_due(build: Subject) -> float:
    """Free area asked for low down."""
    return _due(build).low


@fact(Header, number(), formula="roof area ÷ its due + other high area ÷ its due", source=EN_721)
def high_vent_ratio(build: Subject) -> float:
    """High fixed vents against what is asked for; 1 is just enough."""
    roof = build.roof_vent_area / build.roof_vent_area_due
    return float(roof + build.other_high_vent_area / build.other_high_vent_area_due)


@fact(Header, number(), formula="low area ÷ its due", source=EN_721)
def low_vent_ratio(build: Subject) -> float:
    """Low fixed vents against what is asked for; 1 is just enough."""
    return float(build.low_vent_area / build.low_vent_area_due)


@fact(Header, AREA, formula=f"{SUM}, all of them", source="the spec")
def whole_vent_area(build: Subject) -> float:
    """Free area of all fixed vents of the living space."""
    total = build.roof_vent_area + build.other_high_vent_area + build.low_vent_area
    return float(f"{total:.9g}")


@fact(
    Header,
    AREA,
    formula="max(4000 mm², 610 U + 650 P): U input in MJ/h of what burns room air, P sleeping places",
    source="AS/NZS 5601.2:2020 section 7",
)
def whole_vent_area_due(build: Subject) -> float:
    """Free area of all fixed vents that Australian and New Zealand practice asks for."""
    burning = [a for a in build.van.of_class(CombustionAppliance) if a.needs_room_air]
    berths = sum(bed.places * bed.count for bed in build.van.of_class(Bed))
    due = environment.total_vent_area_au(sum(float(a.input * a.count) for a in burning), berths).value
    return float(f"{due:.9g}")


def highest_bed(facts: Facts) -> float:
    """Return the height of the highest mattress; raise Missing where one is not stated."""
    heights = [float(bed.surface_height) for bed in facts.of_class(Bed)]
    if not heights:
        raise Missing(reason="no bed is listed")
    return max(heights)


@fact(Header, number(Dimension.length), formula="highest surface of all beds when made", source="the spec")
def highest_mattress(build: Subject) -> float:
    """Height of the highest mattress above the floor."""
    return highest_bed(build.van)
