"""The current that each conductor and each device is to carry, with every load on, in either direction."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.battery_string import pole, string_over
from specreg.facts.current_path import Cut, Measure, charge_of, cut, cut_by_circuit, total, ways_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.parallel_cables import shared, side_by_side
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.graph.fault import Piece, all_pieces
from specreg.graph.network import Edge
from specreg.model.component import Component
from specreg.model.dc import BusBar, FuseBox, Shunt, SwitchPanel
from specreg.model.device import ProtectiveDevice
from specreg.model.loads import DcOutlet
from specreg.model.port import Medium, Terminal
from specreg.model.run import DcRun
from specreg.model.solar import SolarCombiner, SolarController
from specreg.units import Dimension

FLOW = (
    "all loads on the side away from a source, plus what charging sources opposite give a battery there, "
    "at most what self-limiting sources opposite can give; the greater of both directions"
)
BASIS = "Kirchhoff's law; loads by kind, all on at once; 1.25 for continuous loads is left to the rule"


def live_pieces(facts: Facts) -> dict[str, tuple[Piece, ...]]:
    """Return the positive pieces of every run."""
    return all_pieces(facts.net, "positive")


def return_pieces(facts: Facts) -> dict[str, tuple[Piece, ...]]:
    """Return the negative pieces of every run."""
    return all_pieces(facts.net, "negative")


def edge_ends(facts: Facts) -> dict[int, tuple[Terminal, Terminal]]:
    """Return the terminals of every edge by its identity."""
    return {id(edge): (a, b) for a, b, edge in facts.net.joints}


def greatest(facts: Facts) -> Measure:
    """Return the measure of loads that conductors are designed for."""
    return lambda name: float(facts.subject(name).greatest_current)


def through(facts: Facts, edge: Edge) -> float:
    """Return the greatest current through an edge in either direction."""
    return either_way(facts, edge, greatest(facts))


def either_way(facts: Facts, edge: Edge, measure: Measure) -> float:
    """Return the greater current of both directions by a measure of loads; like parallel cables share."""
    upper = string_over(facts, edge.owner)
    if upper is not None:
        return _of_string(facts, upper, measure)
    if edge.owner in facts.build.runs and not ways_of(facts, edge.core).tree.is_bridge(edge):
        share = shared(facts, edge.owner, edge.core, measure)
        if share is not None:
            return share.greatest
    near, far = facts.once(edge_ends)[id(edge)]
    return cut(facts, near, far, edge, measure).greatest


def _of_string(facts: Facts, battery: str, measure: Measure) -> float:
    """Return what a string of batteries gives to all loads, or takes from all that charges, by itself."""
    ways = ways_of(facts, "positive")
    part = ways.tree.part(pole(facts, battery))
    given = total((ways.loads[t] for t in part if t in ways.loads), measure)
    return max(given, charge_of(facts, [ways.sources[t] for t in part if t in ways.sources]))


@fact(DcRun, number(Dimension.current), formula=FLOW, source=BASIS)
def design_current(run: Subject) -> float:
    """Current that the run is to carry."""
    facts = run.van
    found = facts.once(live_pieces).get(run.id)
    if found:
        return through(facts, found[0].edge)
    back = facts.once(return_pieces)[run.id]
    try:
        return through(facts, back[0].edge)
    except Missing as ring:
        return _of_those_that_return(run, ring)


@fact(DcRun, TRUTH, formula="it is no bridge of the graph (Tarjan 1974)", source="the graph")
def in_a_ring(run: Subject) -> bool:
    """Whether current has another way beside it."""
    found = run.van.once(live_pieces).get(run.id) or run.van.once(return_pieces)[run.id]
    edge = found[0].edge
    return not ways_of(run.van, edge.core).tree.is_bridge(edge)


def _of_those_that_return(run: Subject, ring: Missing) -> float:
    """Return the sum over the runs that name this one as their return."""
    named = [name for name, other in run.van.build.runs.items() if getattr(other, "returns", None) == run.id]
    if not named or ring.fields:
        raise ring
    run.van.assume(f"{run.name} taken as carrying all that the runs that name it as their return carry")
    return sum(float(run.van.subject(name).design_current) for name in named)


@fact(ProtectiveDevice, TRUTH, formula="its circuit is direct current", source="the graph")
def carries_dc(device: Subject) -> bool:
    """Whether it stands in a direct-current circuit."""
    return device.van.net.devices[device.id].medium is Medium.dc


@fact(ProtectiveDevice, number(Dimension.current), formula="as stated for it", source="the spec")
def rated_current(device: Subject) -> float:
    """Rated current of the device."""
    model = device.model
    assert isinstance(model, ProtectiveDevice)
    return model.rating


@fact(
    ProtectiveDevice,
    TRUTH,
    formula="a source that can feed a short stands on each side; in a link in series, beside the string",
    source="the graph",
)
def fed_from_both_sides(device: Subject) -> bool:
    """Whether current can pass the device in either direction."""
    facts = device.van
    edge = edge_of(device)
    ways = ways_of(facts, "positive")
    upper = string_over(facts, edge.owner)
    if upper is not None:  # in series with its string, it passes what others charge that with
        return len(ways.sources_of(pole(facts, upper))) > 1
    near, far = facts.once(edge_ends)[id(edge)]
    sides = ways.sides(near, far, edge)
    return sides is None or all(side.sources for side in sides)


def edge_of(device: Subject) -> Edge:
    """Return a device's edge. Raises Missing where its circuit is no direct-current one."""
    edge: Edge = device.van.net.devices[device.id]
    if edge.medium is not Medium.dc:
        raise Missing(reason=f"{device.name} stands in no direct-current circuit")
    return edge


@dataclass(frozen=True)
class Joint:
    """A contact, bar or shunt with the current that it is to carry and what it is rated for."""

    name: str
    current: float
    rated: float


JOINT = view(
    "joint",
    {"name": text(), "current": number(Dimension.current), "rated": number(Dimension.current)},
)


@fact(
    Component,
    TRUTH,
    formula="it has a rated current and direct current passes from one of its ports to another",
    source="the graph",
)
def passes_dc(component: Subject) -> bool:
    """Whether direct current of others passes through it."""
    if isinstance(component.model, DcOutlet):
        return False
    return isinstance(component.model, SwitchPanel) or (
        "rated_current" in type(component.model).model_fields and bool(_inner(component))
    )


def _inner(component: Subject) -> tuple[Edge, ...]:
    """Return the links inside a component that carry the current of others."""
    model, net = component.model, component.van.net
    usual = "negative" if isinstance(model, Shunt) else "positive"
    core = getattr(model, "polarity", None) or getattr(model, "pole", usual)
    found = {
        id(edge): edge
        for terminal in net.terminals(component.id)
        for _, edge in net.around(terminal)
        if edge.owner == component.id and edge.core == core and edge.one_way_from is None
    }
    return tuple(found.values())


@fact(Component, list_of(JOINT), formula=FLOW, source=BASIS)
def overloaded_joints(component: Subject) -> tuple[Joint, ...]:
    """Contacts and bars in it that are to carry more than they are rated for."""
    model = component.model
    if isinstance(model, SwitchPanel):
        return tuple(joint for joint in _panel_joints(component, model) if joint.current > joint.rated)
    if "rated_current" not in type(model).model_fields:
        raise Missing(reason="its kind states no rated current of its own")
    if isinstance(model, BusBar | FuseBox | SolarCombiner):
        current = _through_bar(component)
    else:
        current = max((through(component.van, edge) for edge in _inner(component)), default=0.0)
    # The rated current of a solar controller is what it charges with; its contact is that of its load output.
    rated = component.load_current if isinstance(model, SolarController) else component.rated_current
    joint = Joint(component.name, current, float(rated))
    return (joint,) if joint.current > joint.rated else ()


def cables_at(facts: Facts) -> dict[str, list[tuple[str, bool]]]:
    """Return the cables that end at each component, and whether each has a positive core."""
    found: dict[str, list[tuple[str, bool]]] = {}
    for name, run in facts.build.runs.items():
        if isinstance(run, DcRun):
            ends = facts.build.ends[name]
            for component in dict.fromkeys((ends.start.component, ends.finish.component)):
                found.setdefault(component, []).append((name, "positive" in ends.cores))
    return found


def _through_bar(component: Subject) -> float:
    """Return the greatest current of any cable at it, or what several limited sources bring together.

    Like cables side by side count as one: what they bring together may pass one section.
    """
    facts = component.van
    bar = isinstance(component.model, BusBar)
    at_it = [name for name, live in facts.once(cables_at).get(component.id, ()) if bar or live]
    found = [0.0]
    rings: list[str] = []
    groups = tuple(dict.fromkeys(_side_by_side(facts, name) for name in at_it))
    for group in groups:
        try:
            found.append(sum(float(facts.subject(name).design_current) for name in group))
        except Missing as unknown:
            if unknown.fields or not facts.subject(group[0]).in_a_ring:
                raise
            rings += map(facts.name_of, group)
    if rings:
        facts.assume(f"current of {', '.join(rings)} at {component.name} left out: it has other ways")
    alone = [name for group in groups for name in group if not facts.subject(name).in_a_ring]
    return max(*found, _along_bar(component, alone))


def _along_bar(component: Subject, runs: list[str]) -> float:
    """Return the greatest current through a section of a bar between the cables on its two sides.

    A battery gives or takes all that passes, by its own cable. Where none is joined, each source gives a
    part only: what several bring on one side may go on to several loads on the other.
    """
    facts = component.van
    by_circuit: dict[int, list[Cut]] = {}
    for name in runs:
        edge, here, there = _joint_at(facts, name, component.id)
        for circuit, found in cut_by_circuit(facts, there, here, edge, greatest(facts)).items():
            by_circuit.setdefault(circuit, []).append(found)
    stored = _circuits_with_a_battery(component)
    return sum(
        max(one.greatest for one in cuts)
        if circuit in stored
        else min(sum(one.onward for one in cuts), sum(one.back for one in cuts))
        for circuit, cuts in by_circuit.items()
    )


def _joint_at(facts: Facts, run: str, component: str) -> tuple[Edge, Terminal, Terminal]:
    """Return an edge of a run, all of which carry the same, its end towards a component, and the other."""
    piece = (facts.once(live_pieces).get(run) or facts.once(return_pieces)[run])[0]
    if facts.build.ends[run].start.component == component:
        return piece.edge, piece.start, piece.finish
    return piece.edge, piece.finish, piece.start


def _circuits_with_a_battery(component: Subject) -> set[int]:
    """Return the positive networks in which something that stores energy is joined to a bar."""
    core = getattr(component.model, "polarity", None) or "positive"
    ways = ways_of(component.van, core)
    ends = (terminal for terminal in component.van.net.terminals(component.id) if terminal in ways.tree.roots)
    return {ways.circuits.get(store, 0) for end in ends for store in ways.listed_stores.part(end)}


def _side_by_side(facts: Facts, run: str) -> tuple[str, ...]:
    """Return the like cables that share a run's current, itself included; the run alone outside a ring."""
    core = "positive" if run in facts.once(live_pieces) else "negative"
    return side_by_side(facts, run, core) if facts.subject(run).in_a_ring else (run,)


def _panel_joints(component: Subject, model: SwitchPanel) -> tuple[Joint, ...]:
    found = []
    for way, panel_way in model.ways.items():
        edge = _way_edge(component, way)
        if panel_way.form == "always on":
            continue
        if panel_way.rated_current is None:
            raise Missing(f"{component.id}.ways.{way}.rated_current")
        current = through(component.van, edge)
        found.append(Joint(f"{component.name}, {panel_way.label or way}", current, panel_way.rated_current))
    return tuple(found)


def _way_edge(component: Subject, way: str) -> Edge:
    start = Terminal(component.id, f"{way} in", "positive")
    return next(edge for edge in _inner(component) if edge.tail == start)
