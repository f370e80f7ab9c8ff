"""Hot water: how long it takes, how much of it there is, and how hot it can come out of a tap."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from heapq import heappop, heappush

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text, view
from specreg.graph.network import Edge
from specreg.graph.walk import reached as walked
from specreg.model.heat import CombinedHeater
from specreg.model.hot_water import MixingValve, WaterHeater
from specreg.model.port import Medium, Terminal
from specreg.model.water import Accumulator, Draw, FreshTank, Pump, Shower
from specreg.tables import environment
from specreg.tables.water import GREATEST, density
from specreg.units import Dimension

COLD = 283.15
"""Cold water at 10 °C: common practice, no source."""
MIXED = 311.15
"""A shower at 38 °C: common practice, no source."""
COOLANT = 363.15
"""Engine coolant at 90 °C when the engine is warm: from memory."""

BALANCE = "energy balance with ρ = 998.21 kg/m³ and c = 4186 J/(kg·K)"


@dataclass(frozen=True)
class HeatUp:
    """One of a heater's energies, with the time in s that it takes alone."""

    name: str
    time: float


HEAT_UP = view("way of heating", {"name": text(), "time": number(Dimension.time)})


def heat_content(volume: float, rise: float) -> float:
    """Return the heat in J that `volume` m³ of water take up over `rise` K."""
    density, capacity = environment.constant("water-density"), environment.constant("water-heat-capacity")
    return volume * density.value * capacity.value * rise


def mixed_volume(volume: float, hot: float, mixed: float, cold: float) -> float:
    """Return the m³ at `mixed` that `volume` m³ at `hot` give with water at `cold` (temperatures in K)."""
    if not cold < mixed <= hot:
        raise Missing(reason="the mixed temperature does not lie between cold and hot")
    return volume * (hot - cold) / (mixed - cold)


def _temperature(heater: Subject) -> float:
    return float(heater.water_temperature if isinstance(heater.model, CombinedHeater) else heater.temperature)


def _volume(heater: Subject) -> float:
    one = heater.water_volume if isinstance(heater.model, CombinedHeater) else heater.volume
    return float(one * heater.count)


def _rise(heater: Subject) -> float:
    heater.van.assume("cold water enters at 10 °C (common practice, no source)")
    return _temperature(heater) - COLD


@fact(CombinedHeater, number(Dimension.energy), formula="V·ρ·c·(Th − 10 °C)", source=BALANCE)
@fact(WaterHeater, number(Dimension.energy), formula="V·ρ·c·(Th − 10 °C)", source=BALANCE)
def heat_up_energy(heater: Subject) -> float:
    """Heat that warms its water from cold to the thermostat's setting, without losses."""
    return heat_content(_volume(heater), _rise(heater))


EXPANSION = "V·(ρ(10 °C)/ρ(Th) − 1)"
DENSITY = "density of water by Kell 1975"


@fact(CombinedHeater, number(Dimension.volume), formula=EXPANSION, source=DENSITY)
@fact(WaterHeater, number(Dimension.volume), formula=EXPANSION, source=DENSITY)
def expansion_volume(heater: Subject) -> float:
    """By how much its water grows while it warms: the room that an accumulator or the relief valve gives."""
    hot = COLD + _rise(heater)
    if not COLD <= hot <= GREATEST:
        raise Missing(reason="water is heated from 10 °C to at most 100 °C")
    return _volume(heater) * (density(COLD) / density(hot) - 1)


@fact(
    WaterHeater,
    list_of(text()),
    formula="followed back from its cold port, through no check valve and no pump",
    source="the graph",
)
def expands_into(heater: Subject) -> tuple[str, ...]:
    """Pressure vessels into which its water can grow; tanks too, where nothing keeps it from them."""

    def passes(edge: Edge, here: Terminal, other: Terminal) -> bool:
        kind = edge.medium is Medium.water and edge.owner != heater.id
        return kind and edge.one_way_from in (None, here)

    seen = {t.component for t in walked(heater.van.net, [Terminal(heater.id, "cold", "flow")], passes)}
    parts = heater.van.build.components
    return tuple(n for n, part in parts.items() if n in seen and isinstance(part, Accumulator | FreshTank))


@fact(
    WaterHeater,
    number(Dimension.pressure),
    formula="greatest cut-off pressure of the pumps whose water reaches it",
    source="the graph",
)
def supply_pressure(heater: Subject) -> float:
    """Highest pressure that a pump puts on it."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    pumps = [
        pump
        for pump in heater.van.of_class(Pump)
        if at_port(heater.id, "cold") in reached(heater.van.net, [at_port(pump.id, "outlet")], Medium.water)
    ]
    if not pumps:
        raise Missing(reason="no pump reaches it")
    return float(max(pump.cut_off_pressure for pump in pumps))


FIELDS = {"mains": "mains_power", "engine coolant": "coolant_power", "dc": "power"}
"""The field that states the heat put in by each energy; a flame's is `output`."""


def _energies(heater: Subject) -> tuple[str, ...]:
    """Return the energies that can heat it; a combined heater burns its fuel, and may have an element."""
    if isinstance(heater.model, WaterHeater):
        return tuple(heater.model.energies)
    mains = ("mains",) if heater.get("mains_power") is not None else ()
    return (str(heater.burnt_fuel), *mains)


@fact(CombinedHeater, list_of(HEAT_UP), formula="V·ρ·c·ΔT / P, without losses", source=BALANCE)
@fact(WaterHeater, list_of(HEAT_UP), formula="V·ρ·c·ΔT / P, without losses", source=BALANCE)
def heat_up_times(heater: Subject) -> tuple[HeatUp, ...]:
    """Time to warm its water by each of its energies alone."""
    needed = heater.heat_up_energy
    powers = {energy: getattr(heater, FIELDS.get(energy, "output")) for energy in _energies(heater)}
    return tuple(HeatUp(energy, needed / (power * heater.count)) for energy, power in powers.items())


@fact(CombinedHeater, number(Dimension.volume), formula="V·(Th − Tc)/(Tm − Tc)", source="enthalpy balance")
@fact(WaterHeater, number(Dimension.volume), formula="V·(Th − Tc)/(Tm − Tc)", source="enthalpy balance")
def mixed_water(heater: Subject) -> float:
    """Water at 38 °C that its full volume gives when mixed with cold water."""
    heater.van.assume("water is drawn at 38 °C (common practice, no source)")
    rise = _rise(heater)
    return mixed_volume(_volume(heater), COLD + rise, MIXED, COLD)


@fact(Shower, number(Dimension.time), formula="mixed water of its heaters / flow", source="enthalpy balance")
def shower_time(shower: Subject) -> float:
    """Time for which the stored hot water lasts at the shower's flow."""
    heaters = [shower.van.subject(name) for name in shower.heated_by]
    kept = (WaterHeater, CombinedHeater)
    volume = sum(heater.mixed_water for heater in heaters if isinstance(heater.model, kept))
    return float(volume / shower.flow)


Spread = Mapping[Terminal, float]


def _spread(facts: Facts, start: Terminal, temperature: float) -> Spread:
    """Return how hot water from a heater can arrive at each terminal: the hottest way, capped by mixers."""
    hottest: dict[Terminal, float] = {}
    queue = [(-temperature, start)]
    while queue:
        negative, here = heappop(queue)
        if here in hottest:
            continue
        hottest[here] = -negative
        for other, edge in facts.net.around(here):
            if edge.medium is not Medium.water or edge.owner == start.component:
                continue
            if edge.one_way_from in (None, here) and other not in hottest:
                heappush(queue, (-_after(facts, here, other, -negative), other))
    return hottest


def _after(facts: Facts, here: Terminal, other: Terminal, temperature: float) -> float:
    """Return the temperature behind an edge: a mixing valve caps it."""
    part = facts.build.components.get(here.component)
    if isinstance(part, MixingValve) and here.component == other.component:
        facts.assume("mixing valves stay at their setting")
        setting = part.temperature or part.limit_temperature
        if setting is None:
            raise Missing(f"{here.component}.temperature")
        return min(temperature, setting)
    return temperature


def hot_ways(facts: Facts) -> dict[str, frozenset[Terminal]]:
    """Return where each heater's hot water gets to."""
    from specreg.graph.piping import at_port, reached  # noqa: PLC0415 - loads with the graph

    def beyond(name: str) -> frozenset[Terminal]:
        return reached(facts.net, [at_port(name, "hot")], Medium.water, lambda edge: edge.owner != name)

    return {
        name: beyond(name)
        for name, part in facts.build.components.items()
        if isinstance(part, WaterHeater | CombinedHeater) or getattr(part, "secondary", None) == "water"
    }


@fact(Draw, list_of(text()), formula="search on the graph of the water pipes", source="the spec's runs")
def heated_by(draw: Subject) -> tuple[str, ...]:
    """Heaters whose hot water reaches it."""
    found = draw.van.once(hot_ways)
    return tuple(name for name, reach in found.items() if draw.id in {t.component for t in reach})


@fact(Draw, TRUTH, formula="a heater's hot water reaches it", source="the spec's runs")
def gives_hot_water(draw: Subject) -> bool:
    """Whether hot water comes out of it."""
    return bool(draw.heated_by)


@fact(
    Draw,
    number(Dimension.temperature),
    formula="hottest way from a heater, capped by each mixing valve on it",
    source="the graph; heater and mixer settings of the spec",
)
def hottest_water(draw: Subject) -> float:
    """Highest temperature at which water can come out of it."""
    found = [
        heat
        for heater in draw.heated_by
        for terminal, heat in _spread(
            draw.van, Terminal(heater, "hot", "flow"), _delivered(draw.van.subject(heater))
        ).items()
        if terminal.component == draw.id
    ]
    if not found:
        raise Missing(reason="no heater reaches it")
    return max(found)


def _delivered(heater: Subject) -> float:
    """Return how hot water leaves a heater; engine coolant heats to its own temperature."""
    if isinstance(heater.model, CombinedHeater):
        return float(heater.water_temperature)
    if isinstance(heater.model, WaterHeater):
        if heater.get("mixer_built_in"):
            return float(heater.mixed_temperature)
        if "engine coolant" not in heater.energies:
            return float(heater.temperature)
    heater.van.assume("engine coolant heats water to 90 °C, whatever a thermostat says (from memory)")
    return COOLANT
