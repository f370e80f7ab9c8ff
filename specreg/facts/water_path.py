"""Which way drinking water takes: what it touches, which taps it reaches, where it stands in the frost."""

from __future__ import annotations

from collections.abc import Mapping

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.place import box_centre
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.model.component import Component, System
from specreg.model.fluid import Valve
from specreg.model.port import Medium, Terminal
from specreg.model.run import Pipe, WaterRun
from specreg.model.waste import DrainOutlet, WasteValve
from specreg.model.water import (
    Draw,
    Filler,
    FreshTank,
    FrostValve,
    Pump,
    QuickCoupling,
    Strainer,
    WaterFilter,
    WaterValve,
)
from specreg.units import Dimension

GRAPH = "search on the graph of the water pipes, check valves and pumps one way only"
SPEC = "the spec's runs"


def _from_tanks(facts: Facts, without: frozenset[str] = frozenset()) -> dict[str, frozenset[Terminal]]:
    """Return what water reaches from the outlet of each fresh tank when some components let none through."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    def passes(edge: Edge) -> bool:
        return edge.owner not in without

    tanks = (name for name, part in facts.build.components.items() if isinstance(part, FreshTank))
    return {tank: reached(facts.net, [at_port(tank, "outlet")], Medium.water, passes) for tank in tanks}


def tank_water(facts: Facts) -> Mapping[str, frozenset[Terminal]]:
    """Return what water reaches from each fresh tank."""
    return _from_tanks(facts)


def drinking_water(facts: Facts) -> frozenset[Terminal]:
    """Return every terminal that drinking water touches, from the fillers and the tanks onward."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    fillers = [
        at_port(name, "out") for name, part in facts.build.components.items() if isinstance(part, Filler)
    ]
    filled = reached(facts.net, fillers, Medium.water)
    return filled.union(*facts.once(tank_water).values())


def _components(terminals: frozenset[Terminal]) -> set[str]:
    return {terminal.component for terminal in terminals}


@fact(Component, TRUTH, formula=GRAPH, source=SPEC)
def carries_drinking_water(component: Subject) -> bool:
    """Whether drinking water touches it."""
    # A toilet or a coolant circuit is where drinking water ends, not a part of its way.
    is_part = getattr(component.model, "system", None) is System.water
    return is_part and component.id in _components(component.van.once(drinking_water))


@fact(WaterRun, TRUTH, formula=GRAPH, source=SPEC)
def leads_drinking_water(run: Subject) -> bool:
    """Whether the pipe carries drinking water."""
    from specreg.graph.piping import at_port  # noqa: PLC0415 - loads with the graph

    end = run.van.build.ends[run.id].start
    return at_port(end.component, end.port.key) in run.van.once(drinking_water)


@fact(Draw, list_of(text()), formula=GRAPH, source=SPEC)
def fed_by_tanks(draw: Subject) -> tuple[str, ...]:
    """Fresh tanks from which water reaches it."""
    found = draw.van.once(tank_water)
    return tuple(tank for tank, terminals in found.items() if draw.id in _components(terminals))


@fact(Draw, list_of(text()), formula="pumps without which no tank reaches it", source=SPEC)
def fed_by_pumps(draw: Subject) -> tuple[str, ...]:
    """Pumps through which all its water passes; none where water comes without a pump, or by several ways."""
    if not draw.fed_by_tanks:
        return ()
    pumps = (name for name, part in draw.van.build.components.items() if isinstance(part, Pump))
    return tuple(pump for pump in pumps if not _reaches_without(draw, frozenset({pump})))


def _reaches_without(target: Subject, without: frozenset[str]) -> bool:
    reached = _from_tanks(target.van, without).values()
    return any(target.id in _components(terminals) for terminals in reached)


@fact(Pump, TRUTH, formula="a strainer is in it, or on every way from a tank to it", source=SPEC)
def strained(pump: Subject) -> bool:
    """Whether a strainer or filter keeps dirt out of the pump."""
    if pump.get("strainer"):
        return True
    kinds = (Strainer, WaterFilter)
    strainers = {name for name, part in pump.van.build.components.items() if isinstance(part, kinds)}
    if not any(pump.id in _components(found) for found in pump.van.once(tank_water).values()):
        raise Missing(reason="no fresh tank reaches the pump")
    if not _reaches_without(pump, frozenset(strainers)):
        return True
    return bool(pump.strainer)


@fact(Pump, list_of(text()), formula="switches that each by itself cut its supply off", source="the graph")
def own_switches(pump: Subject) -> tuple[str, ...]:
    """Switches that stop the pump, the disconnect of the battery left aside."""
    from specreg.graph.supply import isolated_by, supplied  # noqa: PLC0415 - loads with the graph

    build = pump.van.build
    steps = isolated_by(supplied(build, pump.van.net), pump.id)
    return tuple(
        step.id
        for step in steps
        if step.form == "switch" and build.components[step.id.partition("/")[0]].kind != "disconnect"
    )


@fact(FreshTank, list_of(text()), formula="valves behind its drain, drain valves before a pump", source=SPEC)
def emptying_valves(tank: Subject) -> tuple[str, ...]:
    """Valves through which the tank can be emptied."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    parts = tank.van.build.components
    stops = {n for n, part in parts.items() if isinstance(part, Pump) or n == tank.id}

    def passes(edge: Edge) -> bool:
        return edge.owner not in stops

    def behind(port: str) -> set[str]:
        return _components(reached(tank.van.net, [at_port(tank.id, port)], Medium.water, passes))

    drain, outlet = behind("drain"), behind("outlet")
    return tuple(
        name
        for name, part in parts.items()
        if isinstance(part, Valve) and (name in drain or (name in outlet and _is_drain(part)))
    )


def _is_drain(valve: Valve) -> bool:
    return isinstance(valve, FrostValve) or valve.purpose == "drain"


@fact(
    Pipe,
    number(Dimension.length),
    formula="height of the lower of the two things that it joins − height of its lowest point",
    source="the spec's places; ports are taken at the bottom of their boxes",
)
def sag(pipe: Subject) -> float:
    """How far the pipe's lowest point lies below both its ends; 0 where it runs down to one of them."""
    ends = pipe.van.build.ends[pipe.id]
    bottoms = [_bottom(pipe.van.subject(end.component)) for end in (ends.start, ends.finish)]
    return max(0.0, min(bottoms) - float(pipe.lowest))


def _bottom(component: Subject) -> float:
    """Return the height of the bottom of a component's box above the load floor."""
    centre = box_centre(component)
    if centre is None:
        raise Missing(f"{component.id}.at")
    size = component.get("size") if component.get("at") is not None else None
    return centre.z - (size[2] / 2 if size else 0.0)


@fact(Pipe, TRUTH, formula="the sag is more than a bore's worth: 10 mm", source="common practice, no source")
def holds_water(pipe: Subject) -> bool:
    """Whether water stays in a low point of the pipe when both ends are drained."""
    return bool(pipe.sag > 0.010)


@fact(Pipe, TRUTH, formula="`drains_to` names a valve for water or waste, or an outlet", source=SPEC)
def low_point_drained(pipe: Subject) -> bool:
    """Whether something empties the pipe's lowest point."""
    part = pipe.van.build.components.get(pipe.get("drains_to"))
    return isinstance(part, WaterValve | FrostValve | WasteValve | DrainOutlet | QuickCoupling)
