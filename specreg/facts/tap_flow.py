"""How much water a tap gives: the pump's curve against pipe friction and height, as a range.

Darcy–Weisbach along the shortest way from a tank; what the spec cannot know is bracketed, worst end first.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.pipe_friction import FITTINGS_AT_MOST, balanced_flow, friction_loss
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, number, text
from specreg.graph.network import Edge
from specreg.model.port import Terminal
from specreg.model.run import WaterRun
from specreg.model.water import Draw, FreshTank, Pump
from specreg.tables import environment
from specreg.units import Dimension

GRAVITY = 9.80665
SOURCE = "Darcy–Weisbach with Haaland's friction factor; pump curve as stated, else from its two end points"


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
            if other not in before and edge.one_way_from in (None, here):
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


Pipes = tuple[tuple[str, float, float], ...]
"""Pipes as (run, length in m, bore in m)."""


def _pipes(draw: Subject) -> Pipes:
    """Return each pipe on the way; raises one Missing for all that is not stated."""
    runs = [draw.van.subject(name) for name in draw.pipes_on_the_way]
    assert all(isinstance(run.model, WaterRun) for run in runs)
    absent = [f"{r.id}.{field}" for r in runs for field in ("length", "bore") if r.get(field) is None]
    if absent:
        raise Missing(*absent)
    return tuple((run.id, run.length, run.bore) for run in runs)


def _lost(pipes: Pipes, flow: float) -> float:
    return sum(friction_loss(flow, length, bore) for _, length, bore in pipes)


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


Curve = Callable[[float], float]
"""Pressure of a pump in Pa by its flow in m³/s."""


def _curve(pump: Subject, exponent: int) -> tuple[Curve, float]:
    """Return the pump's curve and the flow at which it ends: as stated, else p₀·(1 − (Q/Q₀)ⁿ)."""
    points = sorted((point.flow, point.pressure) for point in pump.model.curve)  # type: ignore[attr-defined]
    if len(points) >= 2:
        return lambda flow: _between(points, flow), points[-1][0]
    greatest, cut_off = pump.greatest_flow, pump.cut_off_pressure
    pump.van.assume("the pump's curve lies between a straight line and a parabola through its end points")
    return lambda flow: float(cut_off * (1 - (flow / greatest) ** exponent)), greatest


def _between(points: list[tuple[float, float]], flow: float) -> float:
    """Return the pressure at a flow, straight between the points, level before and after them."""
    if flow < points[0][0]:
        return points[0][1]
    for (before, pressure), (after, less) in pairwise(points):
        if flow < after:
            return pressure + (flow - before) / (after - before) * (less - pressure)
    return points[-1][1]


@dataclass(frozen=True)
class End:
    """Which end of the range is computed: shape of the pump's curve, and fittings over the pipes alone."""

    exponent: int
    fittings: float
    highest: bool

    def static(self, draw: Subject) -> float:
        """Return the pressure in Pa that lifts water to a tap."""
        rise = _height(draw)[0 if self.highest else 1]
        return environment.constant("water-density").value * GRAVITY * rise


LEAST = End(1, FITTINGS_AT_MOST, highest=True)
GREATEST = End(2, 1.0, highest=False)
FITTINGS = "fittings take nothing to as much again as the pipes (common practice, no source)"


def _flow(draw: Subject, end: End) -> float:
    """Return the flow in m³/s where the pump's curve meets friction × fittings + ρ·g·rise, one tap open."""
    pipes, static = _pipes(draw), end.static(draw)
    curve, greatest = _curve(_pump(draw), end.exponent)
    draw.van.assume(f"one tap runs; {FITTINGS}")
    return balanced_flow(lambda flow: curve(flow) - end.fittings * _lost(pipes, flow) - static, greatest)


@fact(Draw, number(Dimension.flow), formula="straight pump curve = 2 × friction + ρ·g·h", source=SOURCE)
def tap_flow_least(draw: Subject) -> float:
    """Flow at the tap, at least."""
    return _flow(draw, LEAST)


@fact(Draw, number(Dimension.flow), formula="parabolic pump curve = friction + ρ·g·h", source=SOURCE)
def tap_flow_greatest(draw: Subject) -> float:
    """Flow at the tap, at most."""
    return _flow(draw, GREATEST)


HALVINGS = 32
"""Of the flow, where two balances are nested: a part in four thousand million."""


@dataclass(frozen=True)
class Branch:
    """The pipes that one of two open taps has for itself, and the pressure in Pa that lifts its water."""

    pipes: Pipes
    static: float


def _parted(own: Branch, other: Branch, common: Pipes, curve: tuple[Curve, float], fittings: float) -> float:
    """Return the flow in m³/s of the first of two open branches.

    The pump's pressure less what the common pipes lose at the sum of both flows is what both branches get.
    """
    pressure_at, greatest = curve

    def at_fork(total: float) -> float:
        return pressure_at(total) - fittings * _lost(common, total)

    def through(branch: Branch, pressure: float) -> float:
        def surplus(flow: float) -> float:
            return pressure - branch.static - fittings * _lost(branch.pipes, flow)

        return balanced_flow(surplus, greatest, HALVINGS)

    def surplus(total: float) -> float:
        pressure = at_fork(total)
        return through(own, pressure) + through(other, pressure) - total

    return through(own, at_fork(balanced_flow(surplus, greatest, HALVINGS)))


def _shared(draw: Subject, other: Subject) -> tuple[float, float]:
    """Return least and greatest flow in m³/s at a tap while another one is open too.

    A stronger pump or easier fittings may help the other one more: every corner of the range is looked at.
    """
    own, theirs = _pipes(draw), _pipes(other)
    common = tuple(pipe for pipe in own if pipe in theirs)
    rest, others = (tuple(p for p in pipes if p not in common) for pipes in (own, theirs))
    weight = environment.constant("water-density").value * GRAVITY
    lifts = sorted({(weight * mine, weight * its) for mine in _height(draw) for its in _height(other)})
    pump = _pump(draw)
    found = [
        _parted(Branch(rest, mine), Branch(others, its), common, _curve(pump, exponent), fittings)
        for mine, its in lifts
        for exponent in (LEAST.exponent, GREATEST.exponent)
        for fittings in (LEAST.fittings, GREATEST.fittings)
    ]
    return min(found), max(found)


def _range(draw: Subject) -> tuple[float, float] | None:
    """Return the range beside the most hindering other tap on the same pump; None where there is none."""
    pump = _pump(draw).id
    others = [o for o in draw.van.of_class(Draw) if o.id != draw.id and pump in o.fed_by_pumps]
    draw.van.assume(f"two taps run; {FITTINGS}")
    ranges = [_shared(draw, other) for other in others]
    return (min(one[0] for one in ranges), min(one[1] for one in ranges)) if ranges else None


TWO_OPEN = (
    "as for one tap, the common pipes at the sum of both flows; over all other taps and ends of the range"
)


@fact(Draw, number(Dimension.flow), formula=TWO_OPEN, source=SOURCE)
def shared_flow_least(draw: Subject) -> float | None:
    """Flow at the tap while any one other tap on its pump is open too, at least."""
    found = _range(draw)
    return found[0] if found else None


@fact(Draw, number(Dimension.flow), formula=TWO_OPEN, source=SOURCE)
def shared_flow_greatest(draw: Subject) -> float | None:
    """Flow at the tap while the most hindering other tap on its pump is open too, at most."""
    found = _range(draw)
    return found[1] if found else None
