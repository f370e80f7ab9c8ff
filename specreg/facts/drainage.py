"""Draining for the winter: what each valve empties, and what stays behind when all of them are open."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from specreg.facts.coolant import coolant_pipes
from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.stated import stated
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.graph.network import Edge
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.fluid import Tank, Valve
from specreg.model.hot_water import WaterHeater
from specreg.model.port import Medium
from specreg.model.run import Pipe, WaterRun
from specreg.model.waste import DrainTrap, WastePump, WasteValve
from specreg.model.water import FrostValve, Pump, Strainer, WaterFilter
from specreg.units import Dimension

SPEC = "the spec's runs"
KEEPS = (Pump, Strainer, WaterFilter, WastePump)
"""What keeps water in its housing when the pipes beside it are drained."""


@fact(Valve, TRUTH, formula="a drain valve, a frost valve or the dump valve of a tank", source="the spec")
def drains(valve: Subject) -> bool:
    """Whether it is there to empty something."""
    return isinstance(valve.model, FrostValve) or valve.get("purpose") in ("drain", "dump")


@fact(
    Valve,
    list_of(text()),
    formula="tanks and heaters whose water comes to it past no pump and no other valve; pipes that name it",
    source=SPEC,
)
def empties(valve: Subject) -> tuple[str, ...]:
    """What runs empty when it is opened."""
    if not valve.drains:
        return ()
    parts = valve.van.build.components
    medium = Medium.waste if isinstance(valve.model, WasteValve) else Medium.water
    stops = {name for name, part in parts.items() if isinstance(part, Valve | Pump | WastePump)}
    vessels = tuple(n for n in parts if _comes_to(valve, n, medium, frozenset(stops)))
    named = (pipe for pipe in valve.van.of_class(Pipe) if pipe.get("drains_to") == valve.id)
    return (*vessels, *(pipe.id for pipe in named if pipe.low_point_drained))


def _comes_to(valve: Subject, vessel: str, medium: Medium, stops: frozenset[str]) -> bool:
    """Tell whether the water of a tank or heater comes to a valve."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    part = valve.van.build.components[vessel]
    if not isinstance(part, Tank | WaterHeater):
        return False

    def passes(edge: Edge) -> bool:
        return edge.owner not in stops | {vessel}

    ports = [at_port(vessel, port) for port in ("drain", "outlet")]
    found = reached(valve.van.net, ports, medium, passes)
    return valve.id in {terminal.component for terminal in found}


@fact(Pipe, number(Dimension.volume), formula="π/4 · bore² · length", source="geometry")
def water_in_it(pipe: Subject) -> float:
    """Water that fills it."""
    return float(pi / 4 * pipe.bore**2 * pipe.length)


@fact(
    Pipe,
    number(Dimension.volume),
    formula="0 where it runs down to an end or something empties its lowest point, else all that it holds",
    source="geometry; common practice, no source",
)
def water_left(pipe: Subject) -> float:
    """Water that stays in it after draining, at most."""
    if pipe.low_point_drained or not pipe.holds_water:
        return 0.0
    return float(pipe.water_in_it)


@dataclass(frozen=True)
class Remainder:
    """A pipe in which water stays, with the m³ that it holds at most."""

    name: str
    volume: float


REMAINDER = view("remainder", {"name": text(), "volume": number(Dimension.volume)})


@fact(
    Header,
    list_of(REMAINDER),
    formula="pipes whose lowest point lies below both ends and is emptied by nothing",
    source="geometry",
)
def left_in_low_points(build: Subject) -> tuple[Remainder, ...]:
    """Pipes in which water stays after draining; pipes without a stated lowest point are not counted."""
    pipes = [pipe for pipe in build.van.of_class(Pipe) if pipe.id not in build.van.once(coolant_pipes)]
    unknown = [p.id for p in pipes if isinstance(p.model, WaterRun) and p.get("lowest") is None]
    if unknown:
        build.van.assume(f"no lowest point is stated for {', '.join(unknown)}: not counted")
    told = [pipe for pipe in pipes if pipe.get("lowest") is not None]
    return tuple(Remainder(p.name, p.water_left) for p in told if p.water_left > 0)


@fact(
    Header,
    list_of(text()),
    formula="pumps, strainers, filters that frost harms, and traps with a water seal",
    source="common practice, no source",
)
def left_in_parts(build: Subject) -> tuple[str, ...]:
    """Parts that keep water in their housing after draining: run dry, open or fill with antifreeze."""
    return tuple(part.name for part in build.van.of_class(Component) if keeps_water(part))


def keeps_water(part: Subject) -> bool:
    """Tell whether a part keeps water that its neighbours' drains do not take."""
    if stated(part, "frost_safe"):
        return False
    if isinstance(part.model, DrainTrap):
        return bool(stated(part, "form") != "waterless valve")
    return isinstance(part.model, KEEPS) or bool(stated(part, "trap") == "siphon")
