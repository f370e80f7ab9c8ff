"""What is asked of each battery and what is offered to it, against its own limits."""

from __future__ import annotations

from specreg.facts.battery_string import pole, string_of
from specreg.facts.current_path import charge_of, total, ways_of
from specreg.facts.design_current import BASIS, greatest
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.fault import CONDUCTING
from specreg.graph.network import Edge
from specreg.model.charging import Alternator
from specreg.model.conversion import ChargeProfile
from specreg.model.dc import Battery, DisconnectSwitch, Shunt
from specreg.model.port import Terminal
from specreg.model.safety import SelfPowered
from specreg.model.solar import SolarPanel
from specreg.units import Dimension


@fact(
    Battery,
    number(Dimension.current),
    formula="all loads joined to it / the batteries that share them",
    source=BASIS,
)
def discharge_demand(battery: Subject) -> float:
    """Current that all loads at once ask of it."""
    ways = ways_of(battery.van, "positive")
    part = ways.tree.part(pole(battery.van, battery.id))
    wanted = total((ways.loads[t] for t in part if t in ways.loads), greatest(battery.van))
    return wanted / _sharing(battery, [ways.stores[t] for t in part if t in ways.stores])


@fact(
    Battery,
    number(Dimension.current),
    formula="sum of what every charging source joined to it gives / the batteries that share it",
    source=BASIS,
)
def charge_offered(battery: Subject) -> float:
    """Current that all charging sources at once offer it."""
    ways = ways_of(battery.van, "positive")
    part = ways.tree.part(pole(battery.van, battery.id))
    offered = charge_of(battery.van, [ways.sources[t] for t in part if t in ways.sources])
    return offered / _sharing(battery, [ways.stores[t] for t in part if t in ways.stores])


def _sharing(battery: Subject, stores: list[str]) -> int:
    """Return how many batteries of its role share current with it, evenly by assumption."""
    role = battery.role
    number_ = sum(1 for name in stores if getattr(battery.van.build.components[name], "role", None) == role)
    if number_ > 1:
        battery.van.assume(f"{number_} batteries in parallel taken as sharing current evenly")
    return max(1, number_)


def _joined(battery: Subject) -> list[str]:
    """Return the components of the sources joined to a battery by conductors, its own string with them."""
    ways = ways_of(battery.van, "positive")
    part = ways.tree.part(pole(battery.van, battery.id))
    return [ways.sources[t].component for t in part if t in ways.sources]


@fact(
    Battery,
    list_of(text()),
    formula="alternators that reach it through conductors and contacts, without a converter between",
    source="the graph",
)
def direct_alternators(battery: Subject) -> tuple[str, ...]:
    """Alternators that charge it with nothing that limits their current."""
    components = battery.van.build.components
    found = [name for name in _joined(battery) if isinstance(components[name], Alternator)]
    return tuple(battery.van.name_of(name) for name in sorted(set(found)))


def _that_charge(battery: Subject) -> list[Subject]:
    """Return what charges a battery through conductors and contacts: all sources but batteries."""
    found = [battery.van.subject(name) for name in sorted(set(_joined(battery)))]
    return [source for source in found if not isinstance(source.model, Battery)]


def chargers(battery: Subject) -> list[Subject]:
    """Return what charges a battery with a profile of its own."""
    return [source for source in _that_charge(battery) if isinstance(source.model, ChargeProfile)]


@fact(
    Battery,
    list_of(text()),
    formula="charging sources without a stop at or above its least charging temperature, whatever they are",
    source="the spec",
)
def chargers_in_the_cold(battery: Subject) -> tuple[str, ...]:
    """Charging sources that go on charging it below its least charging temperature."""
    least = battery.least_charging_temperature
    named = []
    for source in _that_charge(battery):
        stops = source.get("stops_below") if isinstance(source.model, ChargeProfile) else None
        if stops is None or stops < least:
            named.append(source.name)
    return tuple(named)


@fact(
    Battery,
    TRUTH,
    formula="a lockout of its own, or a low-temperature stop in everything that charges it",
    source="the spec",
)
def cold_charging_prevented(battery: Subject) -> bool:
    """Whether something keeps charge from it in the cold."""
    lockout = battery.get("cold_charge_lockout")
    if lockout:
        return True
    prevented = not battery.chargers_in_the_cold
    if lockout is None and not prevented:
        raise Missing(f"{battery.id}.cold_charge_lockout")
    return prevented


@fact(
    Battery,
    number(Dimension.voltage),
    formula="greatest voltage that the charging sources joined to it hold; in series its share",
    source="the spec",
)
def greatest_charging_voltage(battery: Subject) -> float:
    """Highest voltage that anything charges it with."""
    highest = max((_held(source) for source in _that_charge(battery)), default=0.0)
    string = [battery.van.subject(name) for name in string_of(battery.van, battery.id)]
    if len(string) == 1 or highest == 0.0:
        return highest
    battery.van.assume(
        f"{len(string)} batteries in series taken as sharing the voltage by their nominal ones"
    )
    return highest * float(battery.nominal_voltage) / sum(float(other.nominal_voltage) for other in string)


def _held(source: Subject) -> float:
    """Return the highest voltage that a charging source holds, as set or by its regulator."""
    if isinstance(source.model, ChargeProfile):
        return float(source.absorption_voltage)
    if isinstance(source.model, Alternator):
        return float(source.charging_voltage)
    if isinstance(source.model, SolarPanel):
        return float(source.string_cold_voltage)  # nothing between it and the battery holds it
    return float(source.output_voltage)


@fact(
    Battery,
    list_of(text()),
    formula="profile set other than the battery's chemistry; `fixed voltage` is judged by its voltage",
    source="the spec",
)
def unfit_chargers(battery: Subject) -> tuple[str, ...]:
    """Charging sources set to another chemistry."""
    chemistry = battery.chemistry
    wrong = [c.name for c in chargers(battery) if c.profile not in (chemistry, "fixed voltage")]
    return tuple(wrong)


@fact(
    Battery,
    list_of(text()),
    formula="loads that the battery reaches on the positive core without passing a hand-operated disconnect; "
    "none where one stands in its negative lead; alarms and emergency lights left out",
    source="the graph",
)
def loads_without_disconnect(battery: Subject) -> tuple[str, ...]:
    """Loads that stay live when every disconnect is open."""
    facts = battery.van
    live = _past_disconnects(battery, "positive")
    returns = _past_disconnects(battery, "negative")
    components = facts.build.components
    loads = [name for name in live if name in returns and not isinstance(components[name], SelfPowered)]
    return tuple(facts.name_of(name) for name in sorted(loads))


def _past_disconnects(battery: Subject, core: str) -> set[str]:
    """Return the loads that one core of a battery reaches past no open disconnect."""
    facts = battery.van
    ways = ways_of(facts, core)
    start = pole(facts, battery.id, core)
    seen, queue = {start}, [start]
    while queue:
        for other, edge in facts.net.around(queue.pop()):
            if other not in seen and _closed(edge, facts):
                seen.add(other)
                queue.append(other)
    return {ways.loads[terminal] for terminal in seen if terminal in ways.loads}


def _closed(edge: Edge, facts: Facts) -> bool:
    opened = isinstance(facts.build.components.get(edge.owner), DisconnectSwitch)
    return edge.kind in CONDUCTING and not opened


@fact(
    Battery,
    list_of(text()),
    formula="batteries of its role in parallel or series with another chemistry, capacity or voltage",
    source="the spec",
)
def unlike_in_parallel(battery: Subject) -> tuple[str, ...]:
    """Batteries in parallel or in series with it that are not its like."""
    tops = [n for n in _joined(battery) if isinstance(battery.van.build.components[n], Battery)]
    names = {n for top in (battery.id, *tops) for n in string_of(battery.van, top)} - {battery.id}
    others = [battery.van.subject(name) for name in sorted(names)]
    alike = [other for other in others if other.role == battery.role]
    return tuple(other.name for other in alike if not _like(battery, other))


def _like(one: Subject, other: Subject) -> bool:
    fields = ("chemistry", "capacity", "nominal_voltage")
    return all(getattr(one, name) == getattr(other, name) for name in fields)


@fact(
    Shunt,
    list_of(text()),
    formula="loads whose return reaches the negative of a battery at the shunt without passing the shunt",
    source="the graph",
)
def bypassing_loads(shunt: Subject) -> tuple[str, ...]:
    """Loads whose current the shunt does not see."""
    facts, ways = shunt.van, ways_of(shunt.van, "negative")
    start = Terminal(shunt.id, "battery", "negative")
    seen, queue = {start}, [start]
    while queue:
        for other, edge in facts.net.around(queue.pop()):
            if other not in seen and ways.admits(edge) and edge.owner != shunt.id:
                seen.add(other)
                queue.append(other)
    found = {ways.loads[terminal] for terminal in seen if terminal in ways.loads}
    return tuple(facts.name_of(name) for name in sorted(found))


@fact(
    Alternator,
    list_of(text()),
    formula="lithium batteries that it charges through conductors and contacts, whose management can cut off",
    source="the graph",
)
def cut_off_by(alternator: Subject) -> tuple[str, ...]:
    """Batteries whose management may part it from its load at full current."""
    facts = alternator.van
    ways = ways_of(facts, "positive")
    part = ways.tree.part(Terminal(alternator.id, "positive", "positive"))
    stores = [facts.subject(ways.stores[t]) for t in part if t in ways.stores]
    tops = [store.id for store in stores if isinstance(store.model, Battery)]
    batteries = [facts.subject(name) for top in tops for name in string_of(facts, top)]
    if any(_stays_on(battery) for battery in batteries):
        return ()  # it takes up the surge
    return tuple(sorted(battery.name for battery in batteries))


def _stays_on(battery: Subject) -> bool:
    """Tell whether no electronics can part a battery from its circuit. Raises Missing for lithium unsaid."""
    if battery.get("management") is None and battery.chemistry != "lithium iron phosphate":
        return True
    return bool(battery.management == "none")
