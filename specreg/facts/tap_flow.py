"""How much water a tap gives: the pump's curve against pipe friction and height, as a range.

Darcy–Weisbach along the shortest way from a tank; what the spec cannot know is bracketed, worst end first.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from math import log10, pi

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text
from specreg.graph.network import Edge
from specreg.model.port import Medium, Terminal
from specreg.model.run import WaterRun
from specreg.model.water import Draw, FreshTank, Pump
from specreg.tables import environment
from specreg.units import Dimension

VISCOSITY = 1.307e-3
"""Dynamic viscosity of water at 10 °C in Pa·s (from memory; IAPWS gives 1.306)."""
ROUGHNESS = 1.5e-6
"""Roughness of drawn plastic pipe in m (from memory)."""
GRAVITY = 9.80665
LAMINAR_UP_TO = 2300
FITTINGS_AT_MOST = 2.0
"""Friction with tees, valves and the tap over that of the pipes alone: 1 to 2, common practice, no source."""

SOURCE = "Darcy–Weisbach with Haaland's friction factor; pump curve from its two end points"


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Return Darcy's friction factor: 64/Re in laminar flow, else Haaland's (near Colebrook–White)."""
    laminar = 64 / reynolds
    if reynolds <= LAMINAR_UP_TO:
        return laminar
    turbulent = (-1.8 * log10((relative_roughness / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    return max(laminar, turbulent)


def friction_loss(flow: float, length: float, bore: float) -> float:
    """Return the pressure in Pa that `flow` m³/s loses over `length` m of a smooth pipe of `bore` m."""
    if flow <= 0:
        return 0.0
    density = environment.constant("water-density").value
    speed = flow / (pi / 4 * bore**2)
    factor = friction_factor(density * speed * bore / VISCOSITY, ROUGHNESS / bore)
    return factor * length / bore * density * speed**2 / 2


def balanced_flow(surplus: Callable[[float], float], greatest: float) -> float:
    """Return the flow at which a falling surplus of pressure reaches zero, between 0 and `greatest`."""
    if surplus(0.0) <= 0:
        return 0.0
    low, high = 0.0, greatest
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if surplus(middle) > 0 else (low, middle)
    return low


def _way(draw: Subject) -> tuple[Edge, ...]:
    """Return the edges of the shortest way from a fresh tank to the tap, by the number of parts on it."""
    facts = draw.van
    starts = [Terminal(tank.id, "outlet", "flow") for tank in facts.of_class(FreshTank)]
    before: dict[Terminal, tuple[Terminal, Edge] | None] = dict.fromkeys(starts)
    queue = deque(starts)
    while queue:
        here = queue.popleft()
        if here.component == draw.id:
            return tuple(_back(before, here))
        for other, edge in facts.net.around(here):
            if other not in before and edge.medium is Medium.water and edge.one_way_from in (None, here):
                before[other] = (here, edge)
                queue.append(other)
    raise Missing(reason="no tank reaches it")


def _back(before: dict[Terminal, tuple[Terminal, Edge] | None], here: Terminal) -> list[Edge]:
    edges = []
    while (step := before[here]) is not None:
        here, edge = step
        edges.append(edge)
    return edges[::-1]


@fact(Draw, list_of(text()), formula="shortest way on the graph of the water pipes", source="the spec's runs")
def pipes_on_the_way(draw: Subject) -> tuple[str, ...]:
    """Pipes through which water comes to it from a tank."""
    return tuple(edge.owner for edge in _way(draw) if edge.is_run)


def _pump(draw: Subject) -> Subject:
    parts = draw.van.build.components
    pumps = [e.owner for e in _way(draw) if not e.is_run and isinstance(parts[e.owner], Pump)]
    if len(pumps) != 1:
        raise Missing(reason=f"{len(pumps)} pumps stand in its way, and one is computed")
    return draw.van.subject(pumps[0])


def _pipes(draw: Subject) -> list[tuple[float, float]]:
    """Return length and bore of each pipe on the way; raises one Missing for all that is not stated."""
    runs = [draw.van.subject(name) for name in draw.pipes_on_the_way]
    assert all(isinstance(run.model, WaterRun) for run in runs)
    absent = [f"{r.id}.{field}" for r in runs for field in ("length", "bore") if r.get(field) is None]
    if absent:
        raise Missing(*absent)
    return [(run.length, run.bore) for run in runs]


def _height(draw: Subject) -> tuple[float, float]:
    """Return by how much the tap stands above the tank's middle, at most and at least, in m."""
    ends = box_centre(draw), box_centre(draw.van.subject(_first_tank(draw)))
    if ends[0] is None or ends[1] is None:
        draw.van.assume(f"{draw.name} stands 0 to 1.5 m above the tank: their places are not stated")
        return 1.5, 0.0
    rise = ends[0].z - ends[1].z
    return rise, rise


def _first_tank(draw: Subject) -> str:
    return next(draw.van.build.ends[name].start.component for name in draw.pipes_on_the_way)


def _flow(draw: Subject, exponent: int, fittings: float, rise: float) -> float:
    """Return the flow in m³/s where p = p₀·(1 − (Q/Q₀)ⁿ) meets friction × fittings + ρ·g·rise."""
    pump, pipes = _pump(draw), _pipes(draw)
    greatest, cut_off = pump.greatest_flow, pump.cut_off_pressure
    static = environment.constant("water-density").value * GRAVITY * rise

    def surplus(flow: float) -> float:
        lost = sum(friction_loss(flow, length, bore) for length, bore in pipes)
        return float(cut_off * (1 - (flow / greatest) ** exponent) - fittings * lost - static)

    draw.van.assume(
        "one tap runs; the pump's curve lies between a straight line and a parabola through its end points; "
        "fittings take nothing to as much again as the pipes (common practice, no source)"
    )
    return balanced_flow(surplus, greatest)


@fact(Draw, number(Dimension.flow), formula="straight pump curve = 2 × friction + ρ·g·h", source=SOURCE)
def tap_flow_least(draw: Subject) -> float:
    """Flow at the tap, at least."""
    return _flow(draw, 1, FITTINGS_AT_MOST, _height(draw)[0])


@fact(Draw, number(Dimension.flow), formula="parabolic pump curve = friction + ρ·g·h", source=SOURCE)
def tap_flow_greatest(draw: Subject) -> float:
    """Flow at the tap, at most."""
    return _flow(draw, 2, 1.0, _height(draw)[1])
