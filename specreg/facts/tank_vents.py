"""Where the fresh tanks breathe and overflow: the open ends of their vent pipes, by the graph."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.model.fluid import Tank
from specreg.model.port import Medium
from specreg.model.waste import WasteTank
from specreg.model.water import FreshTank, TankVent
from specreg.units import Dimension

GRAPH = "search on the graph of the pipes from its vent port"


@fact(FreshTank, list_of(text()), formula=GRAPH, source="the graph")
def vent_ends(tank: Subject) -> tuple[str, ...]:
    """Open ends to which its vent pipe leads."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    def passes(edge: Edge) -> bool:
        return edge.owner != tank.id

    found = {t.component for t in reached(tank.van.net, [at_port(tank.id, "vent")], Medium.water, passes)}
    parts = tank.van.build.components
    return tuple(n for n, part in parts.items() if n in found and isinstance(part, TankVent))


@fact(FreshTank, TRUTH, formula="one of its open ends opens outside", source="the graph")
def breathes_outside(tank: Subject) -> bool:
    """Whether air and overflowing water get outside through its vent pipe."""
    ends = [tank.van.subject(name) for name in tank.vent_ends]
    if any(end.get("opens_to") == "outside" for end in ends):
        return True
    absent = [f"{end.id}.opens_to" for end in ends if end.get("opens_to") is None]
    if absent:
        raise Missing(*absent)
    return False


@fact(Tank, list_of(text()), formula="pipes joined to its vent port", source="the spec's runs")
def vent_pipes(tank: Subject) -> tuple[str, ...]:
    """Pipes that leave its vent."""
    ends = tank.van.build.ends
    return tuple(
        run
        for run, end in ends.items()
        if any(e.component == tank.id and e.port.key == "vent" for e in (end.start, end.finish))
    )


@fact(WasteTank, number(Dimension.length), formula="least bore of its vent pipes", source="the spec's runs")
def vent_bore(tank: Subject) -> float:
    """Bore of its vent pipe, the narrowest where there are several."""
    pipes = [tank.van.subject(name) for name in tank.vent_pipes]
    if not pipes:
        raise Missing(reason=f"no pipe leaves the vent of {tank.name}")
    return float(min(pipe.bore for pipe in pipes))
