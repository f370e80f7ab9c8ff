"""The pipes and ducts of a heater against the lengths and bends that its maker allows."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.graph.walk import reached
from specreg.model.air import AirOutlet
from specreg.model.coolant import CoolantTank
from specreg.model.fuel import AirIntake
from specreg.model.heat import Heater, WarmAirHeater
from specreg.model.port import Medium, Terminal
from specreg.tables import environment
from specreg.units import Dimension

LENGTH = number(Dimension.length)
ANGLE = number(Dimension.angle)


def _along(heater: Subject, port: str, medium: Medium) -> tuple[list[Subject], list[str]]:
    """Return the pipes that lead on from a port, and the components that they join, the heater among them."""

    def passes(edge: Edge, *_: Terminal) -> bool:
        return edge.medium is medium and edge.owner != heater.id

    seen = reached(heater.van.net, [Terminal(heater.id, port, "flow")], passes)
    joints = {(terminal.component, terminal.port) for terminal in seen}
    met = list(dict.fromkeys(t.component for t in sorted(seen, key=str)))
    runs = []
    for name, ends in heater.van.build.ends.items():
        start, finish = ends.start, ends.finish
        if {(start.component, start.port.name), (finish.component, finish.port.name)} <= joints:
            runs.append(heater.van.subject(name))
    return runs, met


def _pipes(heater: Subject, port: str, medium: Medium) -> list[Subject]:
    runs, _ = _along(heater, port, medium)
    if not runs:
        raise Missing(reason=f"no pipe leads to `{heater.id}/{port}`")
    return runs


def _ports(heater: Subject, beginning: str) -> list[str]:
    ports = heater.van.build.components[heater.id].ports()
    return [port.name for port in ports if port.name.startswith(beginning)]


@fact(Heater, LENGTH, formula="Σ length of the pipes on its combustion-air port", source="the graph")
def intake_length(heater: Subject) -> float:
    """Length of its combustion-air pipe."""
    return sum(float(run.laid_length) for run in _pipes(heater, "combustion-air", Medium.air))


@fact(Heater, LENGTH, formula="Σ length of the pipes on its exhaust port", source="the graph")
def exhaust_length(heater: Subject) -> float:
    """Length of its exhaust pipe."""
    return sum(float(run.laid_length) for run in _pipes(heater, "exhaust", Medium.exhaust))


@fact(Heater, ANGLE, formula="greater of the sums of bends of both pipes", source="the graph")
def combustion_bends(heater: Subject) -> float:
    """Bends in its combustion-air pipe or in its exhaust pipe, whichever has more."""
    intake = sum(float(run.bends) for run in _pipes(heater, "combustion-air", Medium.air))
    return max(intake, sum(float(run.bends) for run in _pipes(heater, "exhaust", Medium.exhaust)))


@fact(
    WarmAirHeater,
    LENGTH,
    formula="greatest of its outlets: Σ length of the ducts on it, branches counted together",
    source="the graph",
)
def warm_duct_length(heater: Subject) -> float:
    """Length of its longest warm-air duct."""
    lengths = [
        sum(float(run.laid_length) for run in _along(heater, port, Medium.air)[0])
        for port in _ports(heater, "warm-air")
    ]
    return max(lengths, default=0.0)


@fact(
    WarmAirHeater,
    list_of(text()),
    formula="outlets at the ends of its ducts that cannot be shut; a port without a duct blows freely",
    source="the graph",
)
def outlets_always_open(heater: Subject) -> tuple[str, ...]:
    """Warm-air outlets that nobody can shut."""
    found: list[str] = []
    for port in _ports(heater, "warm-air"):
        runs, met = _along(heater, port, Medium.air)
        if not runs:
            found.append(f"{heater.name}, {port}")
        ends = [heater.van.subject(name) for name in met]
        found += [end.name for end in ends if isinstance(end.model, AirOutlet) and not end.closable]
    return tuple(dict.fromkeys(found))


@fact(
    WarmAirHeater,
    TRUTH,
    formula="intakes of its room-air duct draw from the living space or outside; without a duct, as stated",
    source="the graph",
)
def warms_clean_air(heater: Subject) -> bool:
    """Whether the air that it warms comes from a clean space."""
    _, met = _along(heater, "room-air", Medium.air)
    intakes = [heater.van.subject(n) for n in met if isinstance(heater.van.build.components[n], AirIntake)]
    if not intakes:
        return bool(heater.draws_from in ("living space", "outside"))
    return all(intake.draws_from in ("living space", "outside") for intake in intakes)


@fact(
    CoolantTank,
    number(Dimension.temperature),
    formula="by the share of ethylene glycol, the next lower row",
    source="coolant makers' tables (from memory)",
)
def coolant_freezes(tank: Subject) -> float:
    """Temperature at which its coolant begins to freeze."""
    return environment.coolant_freezes_at(float(tank.antifreeze))
