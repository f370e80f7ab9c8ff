"""Where leaked gas would lie: gas parts inside the van, the openings that drain them, fixed tanks, stoves."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.engine import Subject
from specreg.facts.gas_supply import stands_in
from specreg.facts.registry import fact
from specreg.facts.stated import stated
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.graph.network import Edge
from specreg.graph.walk import reached
from specreg.model.air import Vent
from specreg.model.build import Header
from specreg.model.component import CombustionAppliance
from specreg.model.cooking import PortableStove
from specreg.model.gas import (
    GasCylinder,
    GasDropOut,
    GasFiller,
    GasLocker,
    GasManifold,
    GasOutlet,
    GasStore,
    GasTank,
    GasValve,
    Regulator,
)
from specreg.model.port import Medium, Terminal
from specreg.model.safety import CoAlarm
from specreg.tables import environment
from specreg.units import Dimension

JOINTED = (GasValve, GasManifold, GasOutlet, Regulator)


def open_drop_outs(build: Subject) -> list[Subject]:
    """Return the openings in the floor that cannot be shut and that nothing covers."""
    openings = build.van.of_class(GasDropOut)
    return [o for o in openings if not o.closable and o.get("covered_by") in (None, "none")]


def _inside(part: Subject) -> bool:
    """Tell whether a gas part stands inside the van, outside every locker."""
    if stated(part, "outside") or stated(part, "mounted") == "on the cylinder":
        return False
    return not any(stands_in(locker, part.id) for locker in part.van.of_class(GasLocker))


def _gas_parts(build: Subject) -> list[Subject]:
    burning = [
        a
        for a in build.van.of_class(CombustionAppliance)
        if a.burns_gas and not isinstance(a.model, PortableStove)
    ]
    jointed = [part for kind in JOINTED for part in build.van.of_class(kind)]
    return [part for part in (*burning, *jointed) if _inside(part)]


def _drained(part: Subject, openings: list[Subject]) -> bool:
    zone, cupboard = part.get("zone"), part.get("fixed_to")
    return any(
        part.id in o.below
        or (zone is not None and o.get("zone") == zone)
        or (cupboard != "body" and cupboard in o.below)
        for o in openings
    )


@fact(
    Header,
    list_of(text()),
    formula="gas appliances, valves, manifolds and outlets inside the van that no open drain in the floor "
    "names, by themselves or by their cupboard, and that share no zone with one",
    source="the spec",
)
def gas_pools_at(build: Subject) -> tuple[str, ...]:
    """Parts whose leaking gas would lie on the floor: no opening in the floor drains their place."""
    openings = open_drop_outs(build)
    return tuple(part.name for part in _gas_parts(build) if not _drained(part, openings))


@fact(
    Header,
    number(Dimension.mass),
    formula="interior volume × 2.15 % ÷ 0.53 m³/kg",
    source="property table (flammable range); CAN/CGA-B149.2 (vapour volume)",
)
def gas_to_lower_limit(build: Subject) -> float:
    """Propane that, spread evenly, makes the air of the living space flammable; on the floor less does."""
    interior = build.vehicle.interior
    volume = interior.length * interior.width * interior.height
    share = environment.constant("propane-flammable-least").value
    return float(volume * share / environment.constant("propane-vapour-volume").value)


@fact(
    GasCylinder,
    TRUTH,
    formula="the locker that it names is a gas locker, or `none`: it stands outside",
    source="the spec",
)
def kept_from_the_living_space(cylinder: Subject) -> bool:
    """Whether it stands in a gas locker or outside."""
    place = cylinder.locker
    known = cylinder.van.build.components.get(place)
    return bool(place == "none" or isinstance(known, GasLocker))


@fact(Header, number(), formula="cylinders and fixed tanks, spares included", source="the spec's components")
def gas_container_count(build: Subject) -> float:
    """Gas containers that the van carries."""
    return float(sum(store.count for store in build.van.of_class(GasStore)))


@fact(GasTank, list_of(text()), formula="followed back from its fill port", source="the graph")
def fill_points(tank: Subject) -> tuple[str, ...]:
    """Fill points from which it is filled."""

    def passes(edge: Edge, here: Terminal, other: Terminal) -> bool:
        return edge.medium is Medium.gas and edge.owner != tank.id

    seen = {t.component for t in reached(tank.van.net, [Terminal(tank.id, "fill", "flow")], passes)}
    parts = tank.van.build.components
    return tuple(n for n, part in parts.items() if n in seen and isinstance(part, GasFiller))


@fact(
    PortableStove,
    TRUTH,
    formula="it is stored in a gas locker, or in something with an open vent or drain in its floor",
    source="the spec",
)
def stored_where_gas_drains(stove: Subject) -> bool:
    """Whether gas that leaks from its cartridges falls out of the van."""
    place = stove.stored_in
    if isinstance(stove.van.build.components.get(place), GasLocker):
        return True
    floor = (v for v in stove.van.of_class(Vent) if v.get("surface") == "floor" and not v.closable)
    if any(v.get("opens_into") == place and v.get("covered_by") in (None, "none") for v in floor):
        return True
    return any({place, stove.id} & set(o.below) for o in open_drop_outs(stove.van.whole))


def _asked(stove: Subject) -> Iterator[tuple[str, bool]]:
    """Yield what the stated use asks for, and whether it is there."""
    build = stove.van.whole
    if stove.used == "inside":
        yield "the maker's word for use inside", bool(stove.indoor_use)
        yield "a high fixed vent", bool(build.high_vents)
        yield "a low fixed vent", bool(build.low_vents)
        yield "a carbon monoxide alarm", any(True for _ in stove.van.of_class(CoAlarm))
    yield "a place for its cartridges that drains outside", bool(stove.stored_where_gas_drains)


@fact(
    PortableStove,
    list_of(text()),
    formula="used inside: the maker's word, fixed vents high and low, a carbon monoxide alarm; everywhere: "
    "a place for it and its cartridges that drains outside",
    source="TÜV leaflet 740 (the maker's word); common practice, no source",
)
def lacks_for_its_use(stove: Subject) -> tuple[str, ...]:
    """What its stated use needs and the spec does not show."""
    return tuple(name for name, there in _asked(stove) if not there)
