"""What each combustion appliance burns, where its air comes from and where its fumes go."""

from __future__ import annotations

from math import inf

from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.graph.walk import reached
from specreg.model.build import Header
from specreg.model.combustion import Burner
from specreg.model.component import CombustionAppliance, Component, Flue, Fuel
from specreg.model.cooking import PortableStove
from specreg.model.fuel import AirIntake, FlueTerminal
from specreg.model.heat import Heater
from specreg.model.hot_water import WaterHeater
from specreg.model.port import Medium, Terminal
from specreg.model.safety import Notice
from specreg.units import Dimension

FLUES = tuple(flue.value for flue in Flue)
GASES = ("propane", "butane", "lpg")


def burns_in(facts: Facts, name: str) -> bool:
    """Tell whether a combustion appliance burns anything: a water heater may be electric only."""
    appliance = facts.build.components[name]
    if isinstance(appliance, WaterHeater):
        return any(energy in ("gas", "diesel") for energy in appliance.energies)
    return True


@fact(CombustionAppliance, TRUTH, formula="it takes gas or liquid fuel", source="the spec")
def has_flame(appliance: Subject) -> bool:
    """Whether it burns a fuel at all."""
    return burns_in(appliance.van, appliance.id)


@fact(
    CombustionAppliance,
    text(*(fuel.value for fuel in Fuel)),
    formula="as stated, else the kind's usual fuel",
    source="the spec",
)
def burnt_fuel(appliance: Subject) -> str:
    """Fuel that it burns."""
    model = appliance.model
    if appliance.get("burns") is not None:
        return str(appliance.burns)
    if isinstance(model, WaterHeater):
        return "diesel" if "diesel" in model.energies else "lpg"
    assert isinstance(model, Burner)
    appliance.van.assume(f"{appliance.name}: burns {model.default_fuel.value}, as its kind usually does")
    return model.default_fuel.value


@fact(CombustionAppliance, TRUTH, formula="its fuel is liquefied petroleum gas", source="the spec")
def burns_gas(appliance: Subject) -> bool:
    """Whether it burns liquefied gas."""
    return bool(appliance.has_flame) and appliance.burnt_fuel in GASES


@fact(
    CombustionAppliance, text(*FLUES), formula="the ports that it has for air and exhaust", source="the spec"
)
def flue(appliance: Subject) -> str:
    """Kind of flue by its ports for combustion air and exhaust."""
    names = {port.name for port in appliance.van.build.components[appliance.id].ports()}
    if appliance.get("flue_type") is None:
        appliance.van.assume(f"{appliance.name}: the flue that its kind usually has")
    if "combustion-air" in names:
        return Flue.room_sealed.value
    return Flue.open_flued.value if "exhaust" in names else Flue.flueless.value


def _ends(appliance: Subject, port: str, medium: Medium, kind: type[Component]) -> tuple[str, ...]:
    """Return the components of a kind to which pipes or ducts lead from a port."""

    def passes(edge: Edge, *_: Terminal) -> bool:
        return edge.medium is medium

    seen = reached(appliance.van.net, [Terminal(appliance.id, port, "flow")], passes)
    components = appliance.van.build.components
    names = {terminal.component for terminal in seen}
    return tuple(sorted(name for name in names if isinstance(components[name], kind)))


@fact(CombustionAppliance, list_of(text()), formula="followed from its exhaust port", source="the graph")
def flue_terminals(appliance: Subject) -> tuple[str, ...]:
    """Places at which its exhaust leaves the van."""
    return _ends(appliance, "exhaust", Medium.exhaust, FlueTerminal)


@fact(
    CombustionAppliance, list_of(text()), formula="followed from its combustion-air port", source="the graph"
)
def combustion_intakes(appliance: Subject) -> tuple[str, ...]:
    """Intakes from which its combustion air comes."""
    return _ends(appliance, "combustion-air", Medium.air, AirIntake)


@fact(
    CombustionAppliance,
    TRUTH,
    formula="it has an intake by the graph, and each of them draws from outside",
    source="UN R122 5.3.5.1",
)
def air_from_outside(appliance: Subject) -> bool:
    """Whether its combustion air comes from outside alone."""
    intakes = [appliance.van.subject(name) for name in appliance.combustion_intakes]
    return bool(intakes) and all(intake.draws_from == "outside" for intake in intakes)


@fact(
    CombustionAppliance,
    TRUTH,
    formula="unless a room-sealed flue is complete by the graph, or it is used outside only",
    source="EN 721 as quoted by a TÜV leaflet; the graph",
)
def needs_room_air(appliance: Subject) -> bool:
    """Whether it burns the air of the living space, so that fixed vents must feed it."""
    if not appliance.has_flame:
        return False
    if isinstance(appliance.model, PortableStove):
        return bool(appliance.used != "outside")
    sealed = appliance.flue == Flue.room_sealed.value and bool(appliance.flue_terminals)
    return not (sealed and appliance.air_from_outside)


@fact(Header, list_of(text()), formula="appliances that burn the air of the living space", source="the graph")
def room_air_appliances(build: Subject) -> tuple[str, ...]:
    """Appliances for which the living space must be ventilated."""
    return tuple(a.name for a in build.van.of_class(CombustionAppliance) if a.needs_room_air)


@fact(Header, list_of(text()), formula="open-flued appliances of the living space", source="the graph")
def open_flued_appliances(build: Subject) -> tuple[str, ...]:
    """Appliances whose fumes a fan can draw back into the room."""
    appliances = build.van.of_class(CombustionAppliance)
    return tuple(a.name for a in appliances if a.flue == Flue.open_flued.value)


@fact(
    Header,
    list_of(text()),
    formula="appliances that burn gas from the van's supply; a portable stove has its own cartridge",
    source="the spec",
)
def gas_appliances(build: Subject) -> tuple[str, ...]:
    """Appliances that burn gas from the van's own supply."""
    appliances = build.van.of_class(CombustionAppliance)
    return tuple(a.name for a in appliances if a.burns_gas and not isinstance(a.model, PortableStove))


@fact(
    CombustionAppliance,
    TRUTH,
    formula="words at the filler are stated (`none` where there are none), or a notice is listed",
    source="the spec",
)
def refuelling_notice(appliance: Subject) -> bool:
    """Whether a notice says that it is switched off before refuelling."""
    if any(notice.get("purpose") == "refuelling" for notice in appliance.van.of_class(Notice)):
        return True
    if not isinstance(appliance.model, Heater):
        raise Missing(reason="no notice on refuelling is listed")
    return bool(appliance.off_when_refuelling != "none")


@fact(Header, number(Dimension.length), formula="highest of the stated places", source="the spec")
def greatest_altitude(build: Subject) -> float:
    """Greatest height above the sea at which the van is meant to stand."""
    heights = [place.altitude for place in build.van.build.header.use.places if place.altitude is not None]
    if not heights:
        raise Missing("use.places.altitude")
    return max(heights)


@fact(
    CombustionAppliance,
    number(Dimension.length),
    formula="the maker's limit; none with a kit that adjusts it",
    source="maker's data; about 1500 to 2200 m is usual (memory)",
)
def altitude_allowed(appliance: Subject) -> float | None:
    """Height above the sea up to which it may burn."""
    if not isinstance(appliance.model, Heater):
        return None
    return inf if appliance.get("altitude_kit") else float(appliance.altitude_limit)
