"""Voltage lost in cables: on each run out and back, and along the real way from a battery to each load.

Currents are those of all loads on at their nominal voltage; those that share a conductor add. Where there are
several ways, all current is taken to go the shortest, over the chassis only where there is no other.
Copper is taken at 20 °C; at 70 °C it resists a fifth more. Joints, switches and fuses are not counted.
"""

from __future__ import annotations

from specreg.facts.current_path import CurrentWays, Measure, total, ways_of
from specreg.facts.design_current import either_way, live_pieces
from specreg.facts.engine import Facts, Subject
from specreg.facts.load_current import least_working, nominal_supply
from specreg.facts.missing import Missing
from specreg.facts.parallel_cables import side_by_side
from specreg.facts.registry import fact
from specreg.facts.supply_tree import Step, SupplyTree, negative_of, supplied_loads, supply_trees
from specreg.facts.value_type import TRUTH, number, text
from specreg.graph.network import CHASSIS, Edge
from specreg.model.component import Consumer
from specreg.model.dc import Battery, ChassisPoint
from specreg.model.heat import Heater
from specreg.model.loads import Fridge
from specreg.model.port import Terminal
from specreg.model.run import DcRun
from specreg.model.safety import SelfPowered
from specreg.tables import conductors
from specreg.units import Dimension

ALONG = "Σ I·R of each cable on the way out and on the way back, I being all loads beyond it, R at 20 °C"
OHM = "Ohm's law; IEC 60228 class 5 and ASTM B258 resistances; without joints, switches and fuses"


def _running(facts: Facts, name: str) -> float:
    return float(facts.subject(name).running_current)


@fact(DcRun, number(Dimension.current), formula="all loads beyond it, running at nominal voltage", source=OHM)
def running_flow(run: Subject) -> float:
    """Current that the run carries with every load on at its nominal voltage."""
    facts = run.van
    found = facts.once(live_pieces).get(run.id)
    if not found:
        raise Missing(reason=f"{run.name} does not carry the positive conductor")
    return either_way(facts, found[0].edge, lambda name: _running(facts, name))


@fact(DcRun, number(Dimension.current), formula="Σ running current behind it", source="the graph")
def supplied_current(run: Subject) -> float:
    """Running current of all loads that it supplies from the first source that reaches it."""
    names = run.van.once(supplied_loads).get(run.id, ())
    return total(names, lambda name: _running(run.van, name))


@fact(
    DcRun,
    number(Dimension.voltage),
    formula="running flow × (resistance out + resistance of its return) at 20 °C",
    source=OHM,
)
def run_drop(run: Subject) -> float:
    """Voltage lost on the run and its return."""
    return float(run.running_flow * (run.core_resistance + run.return_resistance))


@fact(
    DcRun,
    number(Dimension.resistance),
    formula="the same cable's return core, the run named as return, or the chassis as measured",
    source=OHM,
)
def return_resistance(run: Subject) -> float:
    """Resistance of the way that the run's current comes back, one conductor long."""
    returns = run.get("returns")
    if returns == "same cable":
        size = run.get("return_conductor") or run.conductor
        return float(conductors.resistance_per_metre(size) * run.laid_length)
    if returns == "chassis":
        return _chassis_resistance(run.van)
    if returns is None:
        raise Missing(f"{run.id}.return")
    return float(run.van.subject(returns).core_resistance)


def _chassis_resistance(facts: Facts) -> float:
    """Return the greatest measured resistance from a chassis point to the battery negative."""
    points = list(facts.of_class(ChassisPoint))
    if not points:
        raise Missing(reason="no chassis point has a measured resistance to the battery negative")
    return max(float(point.measured_resistance) for point in points)


@fact(Consumer, number(Dimension.voltage), formula=ALONG, source=OHM)
def supply_drop(load: Subject) -> float:
    """Voltage lost between the battery and the load, out and back."""
    return drop_to(load)


def drop_to(load: Subject, measure: Measure | None = None) -> float:
    """Return the greatest drop from a battery to a load; the loads all on, or by a measure of loads."""
    facts = load.van
    forth, back = ways_of(facts, "positive"), ways_of(facts, "negative")
    terminal, ground = _terminal(load, forth), _terminal(load, back)
    batteries = _batteries(facts, forth, terminal)
    if not batteries:
        raise Missing(reason=f"no battery or converter reaches {load.name}")
    return max(
        _along(facts, source, terminal, measure) + _along(facts, negative_of(facts, source), ground, measure)
        for source in batteries
    )


@fact(Consumer, number(Dimension.share), formula="supply drop / nominal supply voltage", source=OHM)
def supply_drop_share(load: Subject) -> float:
    """Share of the nominal voltage lost between the battery and the load."""
    return float(load.supply_drop / nominal_supply(load))


@fact(Consumer, TRUTH, formula="a cable ends at its supply port", source="the graph")
def wired(load: Subject) -> bool:
    """Whether a cable supplies it."""
    ways = ways_of(load.van, "positive")
    terminal = ways.taken_at.get(load.id)
    return terminal is not None and ways.tree.joined(terminal)


@fact(
    Consumer,
    TRUTH,
    formula="as stated; else alarms, emergency lights, fridges and heaters count as critical",
    source="marine practice: 3 % for what people depend on, 10 % elsewhere",
)
def critical_supply(load: Subject) -> bool:
    """Whether people depend on its voltage."""
    stated = load.get("critical")
    if stated is not None:
        return bool(stated)
    return isinstance(load.model, SelfPowered | Fridge | Heater)


@fact(Consumer, text(), formula="the cables on the way from the battery", source="the graph")
def supply_way(load: Subject) -> str:
    """Cables on the way from the battery to the load."""
    forth = ways_of(load.van, "positive")
    terminal = _terminal(load, forth)
    found = _batteries(load.van, forth, terminal)
    way = load.van.once(supply_trees)[found[0]].way(terminal) if found else None
    names = dict.fromkeys(edge.owner for _, edge, _ in way or () if edge.is_run)
    return ", ".join(load.van.name_of(name) for name in names)


def _terminal(load: Subject, ways: CurrentWays) -> Terminal:
    if load.id not in ways.taken_at:
        raise Missing(reason=f"{load.name} takes no direct current")
    return ways.taken_at[load.id]


def _batteries(facts: Facts, ways: CurrentWays, terminal: Terminal) -> list[Terminal]:
    """Return the house batteries that reach a terminal, else whatever else does."""
    joined = list(ways.sources_of(terminal))
    components = facts.build.components
    stores = [t for t in joined if isinstance(components[t.component], Battery)]
    house = [t for t in stores if facts.subject(t.component).role == "house"]
    return house or stores or joined


def _along(facts: Facts, source: Terminal, load: Terminal, measure: Measure | None) -> float:
    """Return the drop along one core from a source to a load.

    On the negative core a chassis point with a measured resistance stands for all that lies between it and
    the battery; a way over the chassis without one is unknown.
    """
    tree = facts.once(supply_trees)[source]
    way = tree.way(load)
    if way is None:
        raise Missing(reason=f"no way back from {facts.name_of(load.component)} to the battery is written")
    if any(CHASSIS in (a, b) for a, _, b in way):
        return _over_chassis(facts, tree, way, measure)
    return sum(_lost(facts, tree, step, measure) for step in way if step[1].is_run)


def _over_chassis(facts: Facts, tree: SupplyTree, way: tuple[Step, ...], measure: Measure | None) -> float:
    """Return the drop from the load to the chassis, and through it by what was measured."""
    first = next(i for i, (a, _, b) in enumerate(way) if CHASSIS in (a, b))
    last = max(i for i, (a, _, b) in enumerate(way) if CHASSIS in (a, b))
    beyond = sum(_lost(facts, tree, step, measure) for step in way[last + 1 :] if step[1].is_run)
    at_load, at_battery = way[last], way[first]
    if _is_point(facts, at_load[2]):
        return beyond + _beyond(facts, tree, at_load[1], measure) * _measured(facts, at_load[2])
    return beyond + _beyond(facts, tree, at_battery[1], measure) * _measured(facts, at_battery[0])


def _is_point(facts: Facts, terminal: Terminal) -> bool:
    return facts.build.components[terminal.component].kind == "chassis-point"


def _measured(facts: Facts, stud: Terminal) -> float:
    if not _is_point(facts, stud):
        raise Missing(reason=f"the chassis at {facts.name_of(stud.component)} was not measured")
    return float(facts.subject(stud.component).measured_resistance)


def _lost(facts: Facts, tree: SupplyTree, step: Step, measure: Measure | None) -> float:
    _, edge, _ = step
    if edge.segment:  # a run parted by in-line devices is counted once, with its whole length
        return 0.0
    run = facts.subject(edge.owner)
    same_cable = edge.core == "negative" and run.get("returns") == "same cable"
    resistance = run.return_resistance if same_cable else run.core_resistance
    return _beyond(facts, tree, edge, measure) * float(resistance) / _side_by_side(facts, edge)


def _side_by_side(facts: Facts, edge: Edge) -> int:
    """Return how many like cables share the current; any other second way is left out, and said."""
    if ways_of(facts, edge.core).tree.is_bridge(edge):
        return 1
    alike = len(side_by_side(facts, edge.owner, edge.core))
    if alike == 1:
        name = facts.name_of(edge.owner)
        facts.assume(f"{name} taken as the only way of its current although there is another")
    return alike


def _beyond(facts: Facts, tree: SupplyTree, edge: Edge, measure: Measure | None) -> float:
    """Return the running current of all loads that the tree supplies through an edge.

    Where they are those that the run supplies anyway, its own fact is read: a main is not added up anew for
    each load behind it.
    """
    names = tree.beyond.get(id(edge), ())
    if measure is not None:
        return total(names, measure)
    if edge.is_run and names == facts.once(supplied_loads).get(edge.owner):
        return float(facts.subject(edge.owner).supplied_current)
    return total(names, lambda name: _running(facts, name))


@fact(
    Consumer,
    number(Dimension.voltage),
    formula="as stated; else 10.5 V of 12 V, in proportion",
    source="the spec; 10.5 V is common practice, no source",
)
def works_down_to(load: Subject) -> float:
    """Least voltage at its terminals at which it works."""
    return least_working(load)


@fact(
    Consumer,
    number(Dimension.voltage),
    formula="least working voltage + supply drop with every load on",
    source=OHM,
)
def battery_voltage_needed(load: Subject) -> float:
    """Voltage that the battery must still give for it to work while every load is on."""
    return float(load.works_down_to + load.supply_drop)


@fact(
    Consumer,
    number(Dimension.voltage),
    formula="nominal voltage − supply drop with every load on − least working voltage",
    source=OHM,
)
def voltage_to_spare(load: Subject) -> float:
    """Voltage left above what it needs, the battery at nominal and every load on; negative: it fails."""
    return float(nominal_supply(load) - load.battery_voltage_needed)
