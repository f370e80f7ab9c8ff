"""Solar strings: their voltage in the cold and in the heat, and their currents, against the controller."""

from __future__ import annotations

from specreg.facts.current_path import ways_of
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.protection import dc_supplies
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, number
from specreg.graph.fault import let_through
from specreg.graph.network import Edge
from specreg.model.build import Header
from specreg.model.port import LinkKind, Medium, Terminal
from specreg.model.solar import SolarController, SolarDisconnect, SolarPanel
from specreg.tables import photovoltaic
from specreg.tables.constant import NotTabulatedError
from specreg.units import Dimension

CELSIUS_ZERO = 273.15
STANDARD_CELL = 25 + CELSIUS_ZERO
HOT_CELL = 70 + CELSIUS_ZERO
"""Cell temperature on a hot roof: common practice, no source."""


@fact(Header, number(Dimension.temperature), formula="least of the night temperatures", source="the spec")
def coldest(build: Subject) -> float:
    """Lowest temperature in which the van is to be used."""
    places = build.van.build.header.use.places
    known = [place.night_temperature for place in places if place.night_temperature is not None]
    if not known:
        raise Missing("use.places")
    return min(known)


@fact(
    SolarPanel,
    number(Dimension.voltage),
    formula="Voc × panels in series × (1 + coefficient × (T − 25 °C)), or × the factor of NEC Table 690.7(A)",
    source="NEC 690.7(A)(1) with the data sheet's coefficient; else NEC Table 690.7(A)",
)
def string_cold_voltage(panel: Subject) -> float:
    """Open-circuit voltage of a string on the coldest morning."""
    voltage = panel.open_circuit_voltage * panel.in_series
    coldest_there = panel.van.whole.coldest
    if panel.get("voltage_coefficient") is not None:
        return float(voltage * max(1.0, 1 + _coefficient(panel) * (coldest_there - STANDARD_CELL)))
    panel.van.assume(f"{panel.name}: no temperature coefficient stated, NEC Table 690.7(A) taken")
    try:
        return float(voltage * photovoltaic.cold_voltage_factor(coldest_there - CELSIUS_ZERO).value)
    except NotTabulatedError as outside:
        raise Missing(f"{panel.id}.voltage_coefficient", reason=str(outside)) from None


def _coefficient(panel: Subject) -> float:
    """Return the coefficient of the voltage; raises Missing where it lacks its minus, as no panel's does."""
    stated = float(panel.voltage_coefficient)
    if stated >= 0:
        raise Missing(reason=f"{panel.id}.voltage_coefficient is not below 0: the voltage rises in the cold")
    return stated


@fact(
    SolarPanel,
    number(Dimension.voltage),
    formula="Vmp × panels in series × (1 + coefficient of Voc × (70 °C − 25 °C))",
    source="common practice, no source: the coefficient of Voc stands for that of Vmp",
)
def string_hot_voltage(panel: Subject) -> float:
    """Voltage at peak power of a string on a hot roof."""
    panel.van.assume(f"cells of {panel.name} taken at 70 °C on a hot roof (common practice, no source)")
    share = 1 + _coefficient(panel) * (HOT_CELL - STANDARD_CELL)
    return float(panel.peak_voltage * panel.in_series * share)


@fact(
    SolarPanel,
    number(Dimension.current),
    formula="let-through from all other strings to its leads + (own strings − 1) × Isc",
    source="(N − 1) · Isc: physics; the fuses between are taken by their ratings",
)
def reverse_current(panel: Subject) -> float:
    """Greatest current that other strings can push back through one of its strings."""
    model = panel.model
    assert isinstance(model, SolarPanel)
    facts, leads = panel.van, Terminal(panel.id, "leads", "positive")
    ways = ways_of(facts, "positive")
    others = [s for s in facts.once(dc_supplies) if s.component != panel.id]
    joined = [s for s in others if s.terminal in set(ways.tree.part(leads))]
    unknown = [f"{s.component}.short_circuit_current" for s in joined if s.feed.limit is None]
    if unknown:
        raise Missing(*unknown)
    nothing = Edge(leads, "", Medium.dc, "positive", False)
    pushed = let_through(facts.net, others, leads, nothing).current
    return float(pushed + (model.strings - 1) * (panel.short_circuit_current if model.strings > 1 else 0.0))


def _panels(controller: Subject) -> list[Subject]:
    """Return the panels whose leads reach a controller's panel side. Raises Missing without any."""
    facts = controller.van
    ways = ways_of(facts, "positive")
    part = ways.tree.part(Terminal(controller.id, "panel", "positive"))
    names = dict.fromkeys(ways.sources[t].component for t in part if t in ways.sources)
    found = [facts.subject(name) for name in names if isinstance(facts.build.components[name], SolarPanel)]
    if not found:
        raise Missing(reason=f"no panel is joined to {controller.name}")
    return found


def _strings(panel: Subject) -> int:
    assert isinstance(panel.model, SolarPanel)
    return panel.model.strings


@fact(
    SolarController,
    number(Dimension.voltage),
    formula="greatest cold open-circuit voltage of the strings joined to it",
    source="NEC 690.7",
)
def panel_cold_voltage(controller: Subject) -> float:
    """Voltage of its panels on the coldest morning."""
    return max(float(panel.string_cold_voltage) for panel in _panels(controller))


@fact(
    SolarController,
    number(Dimension.voltage),
    formula="least hot voltage at peak power of the strings joined to it",
    source="common practice, no source",
)
def panel_hot_voltage(controller: Subject) -> float:
    """Voltage of its panels on a hot roof."""
    return min(float(panel.string_hot_voltage) for panel in _panels(controller))


@fact(
    SolarController,
    number(Dimension.current),
    formula="Σ Isc of the strings joined to it",
    source="Kirchhoff's current law",
)
def panel_short_circuit_current(controller: Subject) -> float:
    """Short-circuit current of its panels."""
    return sum(float(p.short_circuit_current) * _strings(p) for p in _panels(controller))


@fact(SolarController, number(Dimension.power), formula="Σ peak power of its panels", source="the spec")
def panel_power(controller: Subject) -> float:
    """Peak power of its panels."""
    return float(sum(p.peak_power * _strings(p) * p.in_series for p in _panels(controller)))


@fact(
    SolarController,
    TRUTH,
    formula="every panel reaches it only through a switch, breaker or fuse that a hand can open",
    source="the graph",
)
def panels_isolated(controller: Subject) -> bool:
    """Whether a hand can part it from its panels."""
    facts: Facts = controller.van
    ways = ways_of(facts, "positive")
    here = Terminal(controller.id, "panel", "positive")
    found = [ways.tree.way(Terminal(p.id, "leads", "positive"), here) or () for p in _panels(controller)]
    return all(any(_opens(facts, edge) for _, edge, _ in way) for way in found)


def _opens(facts: Facts, edge: Edge) -> bool:
    if edge.device is not None and edge.device.breaker is not None:
        return True
    owner = facts.build.components.get(edge.owner)
    return edge.kind is LinkKind.switch or isinstance(owner, SolarDisconnect)


@fact(
    SolarController,
    number(Dimension.voltage),
    formula="highest charging voltage, as set or as the battery states",
    source="the spec",
)
def battery_side_voltage(controller: Subject) -> float:
    """Highest voltage on its battery side."""
    stated = controller.get("absorption_voltage")
    if stated is not None:
        return float(stated)
    raise Missing(f"{controller.id}.absorption_voltage")
