"""What freezes first when the heating is off in the coldest night that is counted on: a ranking.

The time is that of a body of standing water to cool to 0 °C in still air of one temperature (the equation
of the ASHRAE Handbook of Fundamentals for pipes, applied to tanks by their surface). It orders things; it
promises no hours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import log, pi

from specreg.facts.coolant import coolant_pipes
from specreg.facts.drainage import keeps_water
from specreg.facts.engine import Facts, Subject
from specreg.facts.hot_water import heat_content
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.stated import stated
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.fluid import Tank
from specreg.model.heat import CombinedHeater
from specreg.model.hot_water import WaterHeater
from specreg.model.run import WaterRun
from specreg.model.water import Accumulator, FreshTank
from specreg.units import Dimension

FREEZING = 273.15
START = 283.15
"""Water at 10 °C when the heating stops: common practice, no source."""
FILM = 0.1
"""Resistance of the air film in m²·K/W: 10 W/(m²·K) by convection and radiation (from memory)."""
INSULATION = 0.36
"""Resistance in m²·K/W of 13 mm of pipe foam of 0.036 W/(m·K): common practice, no source."""
BODY = 0.5
"""Resistance in m²·K/W that the insulated body adds to what stands inside: common practice, no source."""
HOUSING = 0.2e-3
"""Water in m³ in a pump, filter or trap, or a heater without a volume: common practice, no source."""
VESSELS = (Tank, WaterHeater, CombinedHeater, Accumulator)

ASSUMED = (
    "heating off, water at 10 °C, still air as cold as the coldest night; resistances of 0.1 m²·K/W (bare), "
    "0.36 more where insulated, 0.5 more inside the body (common practice, no source): an order, no promise"
)


@dataclass(frozen=True)
class Freezing:
    """A thing that holds water, where it is, and the time in s until its water is at 0 °C."""

    name: str
    place: str
    time: float


FREEZES = view("thing that freezes", {"name": text(), "place": text(), "time": number(Dimension.time)})


def cooling_time(heat_capacity: float, resistance: float, start: float, air: float) -> float:
    """Return the time in s in which a body cools from `start` to 0 °C: C·R·ln((start − air)/(0 °C − air)).

    `heat_capacity` in J/K, `resistance` between water and air in K/W, temperatures in K. Raises ValueError
    where the air is not below 0 °C or the start is.
    """
    if not air < FREEZING <= start:
        raise ValueError("water cools to 0 °C only in colder air, and from a warmer start")
    return heat_capacity * resistance * log((start - air) / (FREEZING - air))


def _time(volume: float, area: float, layers: float, air: float) -> float:
    return cooling_time(heat_content(volume, 1.0), (FILM + layers) / area, START, air)


def _of_pipe(pipe: Subject, air: float) -> Freezing:
    outside, insulated = bool(pipe.get("outside")), bool(pipe.get("insulated"))
    layers = (0.0 if outside else BODY) + (INSULATION if insulated else 0.0)
    place = f"{'outside' if outside else 'inside'}, {'insulated' if insulated else 'bare'}"
    return Freezing(pipe.name, place, _time(pi / 4 * pipe.bore**2, pi * pipe.bore, layers, air))


def _surface(part: Subject, volume: float) -> float:
    """Return the surface in m² of a vessel's box, or of a cube: no housing is as large as its thing."""
    size = part.get("size") if isinstance(part.model, VESSELS) else None
    if size is None:
        return float(6 * volume ** (2 / 3))
    return 2 * float(size[0] * size[1] + size[1] * size[2] + size[0] * size[2])


def _outside(part: Subject) -> bool:
    """Tell whether a part stands outside the heated space: as stated, else by its place below the floor."""
    heated = stated(part, "heated_space")
    if heated is not None:
        return not heated
    centre = box_centre(part)
    return centre is not None and centre.z < 0


def _water_in(part: Subject) -> float | None:
    """Return the m³ in a vessel, or in the housing of what else keeps water; None if a tank does not say."""
    if not isinstance(part.model, VESSELS):
        return HOUSING
    volume = part.get("water_volume" if isinstance(part.model, CombinedHeater) else "volume")
    return HOUSING if volume is None and not isinstance(part.model, Tank) else volume


def _of_part(part: Subject, volume: float, air: float) -> Freezing:
    outside = _outside(part)
    time = _time(volume, _surface(part, volume), 0.0 if outside else BODY, air)
    return Freezing(part.name, "outside" if outside else "inside", time)


def _parts(van: Facts, air: float) -> Iterator[Freezing]:
    untold = []
    for part in van.of_class(Component):
        if not (isinstance(part.model, VESSELS) or keeps_water(part)):
            continue
        if volume := _water_in(part):
            yield _of_part(part, volume, air)
        else:
            untold.append(part.name)
    if untold:
        van.assume(f"no volume is stated for {', '.join(untold)}: not counted")


def _all(build: Subject) -> Iterator[Freezing]:
    air = build.design_temperature
    if air >= FREEZING:
        return
    yield from _pipes(build.van, air)
    yield from _parts(build.van, air)


def _pipes(van: Facts, air: float) -> Iterator[Freezing]:
    """Yield the pipes with water in them: neither air nor coolant, which has a freezing point of its own."""
    other = {name for tank in van.of_class(FreshTank) for name in tank.vent_pipes}
    other |= set(van.once(coolant_pipes))
    pipes = [pipe for pipe in van.of_class(WaterRun) if pipe.id not in other]
    untold = [pipe.name for pipe in pipes if pipe.get("bore") is None]
    if untold:
        van.assume(f"no bore is stated for {', '.join(untold)}: not counted")
    yield from (_of_pipe(pipe, air) for pipe in pipes if pipe.get("bore") is not None)


@fact(
    Header,
    list_of(FREEZES),
    formula="m·c·R·ln((10 °C − air)/(0 °C − air)) of each pipe and vessel, soonest first",
    source="ASHRAE Handbook of Fundamentals 2019, freezing of standing water; resistances common practice",
)
def freeze_order(build: Subject) -> tuple[Freezing, ...]:
    """What freezes first when the heating is off; empty where no night below 0 °C is counted on."""
    build.van.assume(ASSUMED)
    return tuple(sorted(_all(build), key=lambda one: (one.time, one.name)))
