"""Alarms, extinguishers and blankets: which hazard each stands for, where it is, and until when it holds."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.build import Header
from specreg.model.component import CombustionAppliance, Component
from specreg.model.cooking import Hob, InductionHob
from specreg.model.gas import GasStore
from specreg.model.safety import Alarm, CoAlarm, Extinguisher, FireBlanket, GasAlarm, SmokeAlarm
from specreg.model.seating import Seating
from specreg.model.sleeping import Bed, Curtain, Mattress
from specreg.model.structure import Exit, LayeredPanel, PopTop
from specreg.units import Dimension

STANDARDS: dict[type[Alarm], dict[str, tuple[str, ...]]] = {
    CoAlarm: {
        "uk": ("EN 50291-2",),
        "eu": ("EN 50291-2",),
        "us": ("UL 2034",),
        "ca": ("CSA 6.19", "UL 2034"),
    },
    SmokeAlarm: {"uk": ("EN 14604",), "eu": ("EN 14604",), "us": ("UL 217",), "ca": ("ULC-S531", "UL 217")},
    GasAlarm: {"uk": ("EN 50194-2",), "eu": ("EN 50194-2",), "us": ("UL 1484",), "ca": ("UL 1484",)},
}
"""Standards that an alarm for a vehicle is made to. Read: EN 50291-2, UL 2034; from memory: the others."""


def _alarms(van: Facts, hazard: str) -> Iterator[Subject]:
    for alarm in van.of_class(Alarm):
        assert isinstance(alarm.model, Alarm)
        if hazard in (alarm.model.hazard, *alarm.model.also_detects):
            yield alarm


def _serving(bed: Subject, hazard: str) -> tuple[str, ...]:
    """Return the alarms for a hazard that stand for a bed; without a name: for every bed."""
    alarms = _alarms(bed.van, hazard)
    return tuple(alarm.name for alarm in alarms if not alarm.serves or bed.id in alarm.serves)


@fact(Bed, list_of(text()), formula="smoke alarms that serve it, or the whole van", source="the spec")
def smoke_alarms(bed: Subject) -> tuple[str, ...]:
    """Smoke alarms that stand for the bed."""
    return _serving(bed, "smoke")


@fact(Bed, list_of(text()), formula="carbon monoxide alarms for it or the whole van", source="the spec")
def co_alarms(bed: Subject) -> tuple[str, ...]:
    """Carbon monoxide alarms that stand for the bed."""
    return _serving(bed, "carbon monoxide")


@fact(Header, list_of(text()), formula="alarms that detect gas", source="the spec")
def gas_alarms(build: Subject) -> tuple[str, ...]:
    """Gas alarms in the van."""
    return tuple(alarm.name for alarm in _alarms(build.van, "lpg"))


@fact(Header, list_of(text()), formula="appliances that burn a fuel", source="the spec")
def burners(build: Subject) -> tuple[str, ...]:
    """What burns a fuel in the van."""
    return tuple(thing.name for thing in build.van.of_class(CombustionAppliance) if thing.has_flame)


@fact(Header, TRUTH, formula="a gas cylinder or a gas tank is fitted", source="the spec")
def carries_gas(build: Subject) -> bool:
    """Whether liquefied gas is carried."""
    return any(True for _ in build.van.of_class(GasStore))


@fact(
    Alarm,
    list_of(text()),
    formula="jurisdictions whose standard for alarms in vehicles its plate does not name",
    source="EN 50291-2 scope; UL 2034; the others from memory",
)
def standards_wanting(alarm: Subject) -> tuple[str, ...]:
    """Standards, by jurisdiction, of which its plate names none."""
    plate = _squeezed(alarm.standard)
    table = next(known for kind, known in STANDARDS.items() if isinstance(alarm.model, kind))
    held = [word.value for word in alarm.van.build.header.jurisdictions]
    wanting = {
        " or ".join(table[word]): None
        for word in held
        if word in table and not any(_squeezed(standard) in plate for standard in table[word])
    }
    return tuple(wanting)


def _squeezed(words: str) -> str:
    return words.replace(" ", "").upper()


@fact(
    Extinguisher,
    number(Dimension.length),
    formula="least gap between its box and that of an exit; none where it names the exit that it hangs by",
    source="geometry",
)
def distance_to_exit(extinguisher: Subject) -> float:
    """Distance to the nearest exit."""
    near = extinguisher.get("near")
    exits = {exit_.id: exit_ for exit_ in extinguisher.van.of_class(Exit)}
    if near in exits:
        return 0.0
    if not exits:
        raise Missing(reason="no exit is listed")
    return min(gap(extinguisher, exit_) for exit_ in exits.values())


def gap(first: Subject, second: Subject) -> float:
    """Return the least distance between two boxes in m; 0 where they touch. Raises Missing."""
    apart = []
    sizes = [thing.get("size") or (0.0, 0.0, 0.0) for thing in (first, second)]
    for a, b, size_a, size_b in zip(first.at, second.at, *sizes, strict=True):
        apart.append(max(0.0, a - (b + size_b), b - (a + size_a)))
    return hypot(*apart)


def _blankets(hob: Subject) -> float:
    blankets = list(hob.van.of_class(FireBlanket))
    if any(blanket.get("near") == hob.id for blanket in blankets):
        return 0.0
    if not blankets:
        raise Missing(reason="no fire blanket is listed")
    return min(gap(hob, blanket) for blanket in blankets)


@fact(Header, list_of(text()), formula="fire blankets listed", source="the spec")
def blankets(build: Subject) -> tuple[str, ...]:
    """Fire blankets in the van."""
    return tuple(blanket.name for blanket in build.van.of_class(FireBlanket))


@fact(Header, list_of(text()), formula="extinguishers listed", source="the spec")
def extinguishers(build: Subject) -> tuple[str, ...]:
    """Fire extinguishers in the van."""
    return tuple(thing.name for thing in build.van.of_class(Extinguisher))


@fact(Hob, number(Dimension.length), formula="least gap between the boxes", source="geometry")
@fact(InductionHob, number(Dimension.length), formula="least gap between the boxes", source="geometry")
def distance_to_blanket(hob: Subject) -> float:
    """Distance to the nearest fire blanket."""
    return _blankets(hob)


@fact(
    Component,
    TRUTH,
    formula="a seat not of the base vehicle, mattress, curtain, lining, floor or pop-top",
    source="49 CFR 571.302 S4.1",
)
def burn_rated(component: Subject) -> bool:
    """Whether it is among the parts whose burn rate is limited."""
    if isinstance(component.model, Seating) and component.get("origin") == "base vehicle":
        return False
    return isinstance(component.model, Seating | Mattress | Curtain | LayeredPanel | PopTop)


@fact(Component, number(Dimension.burn_rate), formula="as stated", source="its certificate")
def material_burn_rate(component: Subject) -> float:
    """Horizontal burn rate of the material that the room sees."""
    fields = type(component.model).model_fields
    field = next((name for name in ("fabric_burn_rate", "burn_rate") if name in fields), None)
    if field is None:
        raise Missing(reason="its kind has no burn rate")
    return float(getattr(component, field))
