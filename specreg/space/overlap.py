"""Things that take up the same room without being said to: pairs of solids, and the volume of each pair."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from specreg.model.build import Build
from specreg.model.component import CombustionAppliance, Component
from specreg.model.dc import Battery
from specreg.model.fluid import Tank
from specreg.model.furniture import Furniture, StepBody
from specreg.model.gas import GasStore
from specreg.model.inverting import Inverting
from specreg.model.loads import Fridge
from specreg.model.seating import Seating
from specreg.model.sleeping import Bed, Curtain, Mattress
from specreg.model.structure import Ladder, Luggage
from specreg.model.waste import Toilet
from specreg.model.water import Accumulator, Pump
from specreg.space.joined import HOLLOW, belong_together
from specreg.space.solid import Solid

BODIES: tuple[type[Component], ...] = (
    Furniture,
    Seating,
    Bed,
    Mattress,
    StepBody,
    Ladder,
    Luggage,
    Battery,
    Fridge,
    CombustionAppliance,
    Tank,
    Toilet,
    GasStore,
    Pump,
    Accumulator,
    Inverting,
)
"""Kinds whose box is the thing itself, so that no other may stand in it."""


@dataclass(frozen=True)
class Pair:
    """Two things that take up the same room, and how much of it in m³."""

    first: Solid
    second: Solid
    volume: float


def is_body(model: Component) -> bool:
    """Tell whether a component's box is solid: furniture, seats, beds, tanks, appliances, luggage."""
    return isinstance(model, BODIES) and not isinstance(model, Curtain)


def overlaps(build: Build, solids: Iterable[Solid]) -> Iterator[Pair]:
    """Yield every pair of bodies that share room; what is let in, held by or kept in the other is none."""
    bodies = [one for one in solids if one.blocks and is_body(build.components[one.id])]
    bodies.sort(key=lambda one: one.span[0])
    for index, first in enumerate(bodies):
        for second in bodies[index + 1 :]:
            if second.span[0] >= first.span[2]:
                break
            volume = first.overlap(second)
            if volume and not _accounted(build, first, second):
                yield Pair(first, second, volume)


def _accounted(build: Build, first: Solid, second: Solid) -> bool:
    for outer, inner in ((first, second), (second, first)):
        if isinstance(build.components[outer.id], HOLLOW) and outer.holds(inner):
            return True
    return belong_together(build, first.id, second.id)


def in_its_way(build: Build, body: Solid, other: Solid) -> bool:
    """Tell whether something else may not stand where a body's doors move: another body, or a wheel arch."""
    if other.id == body.id:
        return False
    model = build.components.get(other.id)
    if model is None:
        return True
    return is_body(model) and not _accounted(build, body, other)
