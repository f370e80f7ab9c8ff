"""Voltage lost between what charges a battery and the battery: it thinks it full too soon."""

from __future__ import annotations

from specreg.facts.current_path import ways_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.supply_tree import negative_of, supply_trees
from specreg.facts.value_type import TRUTH, number
from specreg.graph.fault import Supply
from specreg.graph.network import CHASSIS
from specreg.model.conversion import ChargeProfile
from specreg.model.dc import Battery
from specreg.model.port import Terminal
from specreg.units import Dimension

ALONG = "greatest output current × resistance of the cables to the battery and back, at 20 °C / voltage"
OHM = "Ohm's law; IEC 60228 class 5 and ASTM B258 resistances; without joints, switches and fuses"


def _output(charger: Subject) -> Supply | None:
    ways = ways_of(charger.van, "positive")
    outputs = [s for s in ways.sources.values() if s.component == charger.id]
    return next((s for s in outputs if _battery(charger.van, s.terminal) is not None), None)


def _battery(facts: Facts, terminal: Terminal) -> Terminal | None:
    """Return the terminal of the house battery, or else of any, that a charger's output is joined to."""
    joined = ways_of(facts, "positive").sources_of(terminal)
    found = [t for t in joined if isinstance(facts.build.components[t.component], Battery)]
    return next((t for t in found if facts.subject(t.component).role == "house"), next(iter(found), None))


@fact(ChargeProfile, TRUTH, formula="conductors lead from its output to a battery", source="the graph")
def charges_a_battery(charger: Subject) -> bool:
    """Whether a battery is joined to its output."""
    return _output(charger) is not None


@fact(ChargeProfile, number(Dimension.share), formula=ALONG, source=OHM)
def charging_drop_share(charger: Subject) -> float:
    """Share of the charging voltage that is lost on the way to the battery; its own current alone."""
    output = _output(charger)
    if output is None:
        raise Missing(reason=f"{charger.name} is joined to no battery")
    if output.feed.limit is None:
        raise Missing(f"{charger.id}.{output.feed.missing[0]}")
    battery = _battery(charger.van, output.terminal)
    assert battery is not None
    ground = negative_of(charger.van, output.terminal)
    lost = _resistance(charger.van, battery, output.terminal)
    lost += _resistance(charger.van, negative_of(charger.van, battery), ground)
    return output.feed.limit * lost / _voltage(charger, output)


def _voltage(charger: Subject, output: Supply) -> float:
    stated = charger.get("absorption_voltage") or output.feed.nominal
    if stated is None:
        raise Missing(f"{charger.id}.absorption_voltage")
    return float(stated)


def _resistance(facts: Facts, battery: Terminal, charger: Terminal) -> float:
    """Return the resistance of the cables of one core between a battery and a charger."""
    way = facts.once(supply_trees)[battery].way(charger)
    if way is None:
        raise Missing(reason=f"no way back from {facts.name_of(charger.component)} to the battery is written")
    if any(CHASSIS in (a, b) for a, _, b in way):
        raise Missing(reason=f"{facts.name_of(charger.component)} returns through the chassis")
    found = 0.0
    for _, edge, _ in way:
        if edge.is_run and not edge.segment:
            run = facts.subject(edge.owner)
            same_cable = edge.core == "negative" and run.get("returns") == "same cable"
            found += float(run.return_resistance if same_cable else run.core_resistance)
    return found


@fact(ChargeProfile, TRUTH, formula="`remote_sense` is stated and true", source="the spec")
def senses_at_battery(charger: Subject) -> bool:
    """Whether a sense lead of its own measures the voltage at the battery."""
    return charger.get("remote_sense") is True
