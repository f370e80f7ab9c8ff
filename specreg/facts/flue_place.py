"""Where exhaust leaves the van, against openings into the living space and the fuel filler."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from specreg.facts.engine import Subject
from specreg.facts.fire import gap
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text, view
from specreg.graph.walk import reached
from specreg.model.air import OpeningGlazing, RoofFan, Vent
from specreg.model.component import CombustionAppliance
from specreg.model.fuel import AirIntake, FlueTerminal, FuelTank
from specreg.model.port import Medium, Terminal
from specreg.model.structure import Exit
from specreg.tables import environment
from specreg.units import Dimension

OPENINGS = (Vent, OpeningGlazing, RoofFan, Exit, AirIntake)


@dataclass(frozen=True)
class Near:
    """An opening with its least straight distance to a flue terminal, in m."""

    name: str
    distance: float


NEAR = view("opening", {"name": text(), "distance": number(Dimension.length)})


@fact(
    FlueTerminal,
    number(Dimension.length),
    formula="the greater of the maker's distance and 300 mm on the roof, 500 mm elsewhere",
    source="DVGW G 607 digest, for gas appliances; taken for every exhaust",
)
def opening_distance_due(terminal: Subject) -> float:
    """Least distance between the exhaust and any opening into the living space."""
    name = "gas-vent-spacing-roof" if terminal.exits == "roof" else "gas-vent-spacing-wall"
    return max(environment.constant(name).value, terminal.get("least_distance_to_openings") or 0.0)


@fact(
    FlueTerminal,
    list_of(NEAR),
    formula="least straight gap between the boxes, through the body where it lies between",
    source="geometry",
)
def openings_too_near(terminal: Subject) -> tuple[Near, ...]:
    """Openings that the exhaust is nearer to than it may be."""
    due, near, placeless = terminal.opening_distance_due, [], []
    if terminal.get("at") is None:
        raise Missing(f"{terminal.id}.at")
    for opening in _openings(terminal):
        if opening.get("at") is None:
            placeless.append(f"{opening.id}.at")
            continue
        apart = gap(terminal, opening)
        if apart < due * (1 - 1e-9):
            near.append(Near(opening.name, apart))
    if placeless and not near:
        raise Missing(*placeless)
    return tuple(near)


def _openings(terminal: Subject) -> Iterator[Subject]:
    """Yield what lets air into the living space; combustion intakes are the maker's matter."""
    burning = _combustion_intakes(terminal)
    for kind in OPENINGS:
        for opening in terminal.van.of_class(kind):
            twice = isinstance(opening.model, Exit) and opening.get("is_part") is not None
            if not twice and opening.id not in burning:
                yield opening


def _combustion_intakes(terminal: Subject) -> set[str]:
    ports = [
        Terminal(appliance.id, "combustion-air", "flow")
        for appliance in terminal.van.of_class(CombustionAppliance)
    ]
    seen = reached(terminal.van.net, ports, lambda edge, *_: edge.medium is Medium.air)
    return {found.component for found in seen}


@fact(
    FlueTerminal,
    number(Dimension.length),
    formula="straight distance from its box to the nearest stated filler",
    source="geometry",
)
def distance_to_filler(terminal: Subject) -> float:
    """Distance between the exhaust and the nearest fuel filler."""
    tanks = list(terminal.van.of_class(FuelTank))
    if not tanks:
        raise Missing(reason="no fuel tank with its filler is listed")
    return min(_to_point(terminal, tank.filler_at) for tank in tanks)


def _to_point(thing: Subject, point: tuple[float, float, float]) -> float:
    size = thing.get("size") or (0.0, 0.0, 0.0)
    return hypot(*(max(0.0, a - p, p - (a + s)) for a, s, p in zip(thing.at, size, point, strict=True)))
