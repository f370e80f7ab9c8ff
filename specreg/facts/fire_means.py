"""Extinguishers by class and size, smoke alarms by height."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text
from specreg.model.safety import Extinguisher, SmokeAlarm
from specreg.tables.vehicle import WATER_MASS_US
from specreg.units import Dimension


@fact(
    Extinguisher,
    list_of(text()),
    formula="A always; B where something burns a fuel, or fuel or gas is carried",
    source="EN 2, from memory; common practice",
)
def classes_wanting(extinguisher: Subject) -> tuple[str, ...]:
    """Classes of fire that its plate should name and does not."""
    if not extinguisher.model.classes:  # type: ignore[attr-defined]
        raise Missing(f"{extinguisher.id}.classes")
    whole = extinguisher.van.whole
    needed = ("A", "B") if whole.burners or whole.carries_gas else ("A",)
    return tuple(word for word in needed if word not in extinguisher.classes)


@fact(Extinguisher, number(Dimension.mass), formula="its mass, else its volume at 1 kg/L", source="its plate")
def agent_mass(extinguisher: Subject) -> float:
    """Mass of the agent in it."""
    volume = extinguisher.get("content_volume")
    if extinguisher.get("content") is None and volume is not None:
        return float(volume * WATER_MASS_US.value)
    return float(extinguisher.content)


@fact(
    SmokeAlarm,
    number(Dimension.length),
    formula="0 on a ceiling; as stated; else the room's height − its upper edge",
    source="geometry",
)
def below_the_ceiling(alarm: Subject) -> float:
    """Distance of its upper edge below the ceiling."""
    if alarm.get("mounted") == "ceiling":
        return 0.0
    stated = alarm.get("below_ceiling")
    if stated is not None:
        return float(stated)
    corner, size = alarm.get("at"), alarm.get("size") or (0.0, 0.0, 0.0)
    height = alarm.van.build.header.vehicle.interior.height
    if corner is None or height is None:
        raise Missing(f"{alarm.id}.below_ceiling")
    return max(0.0, float(height - corner[2] - size[2]))
