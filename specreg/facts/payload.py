"""What may still be loaded: against the plate, on the roof, on the tow ball, and against what people need."""

from __future__ import annotations

from specreg.facts.axle_loads import total
from specreg.facts.engine import Subject
from specreg.facts.loading import content_when_full, contents, vehicle_fuel
from specreg.facts.mass_ledger import weigh_whole
from specreg.facts.missing import Missing
from specreg.facts.people import kept_in
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.build import Header
from specreg.model.component import Component
from specreg.model.safety import Notice
from specreg.model.solar import SolarPanel
from specreg.model.structure import BikeCarrier, RoofRack, SpareWheel, TowBar
from specreg.tables import vehicle
from specreg.units import Dimension

MASS = number(Dimension.mass)
PLATE = "the vehicle's plate"


@fact(Header, MASS, axis=Axis.loading, formula="permitted total − laden mass", source=PLATE)
def payload_left(build: Subject) -> float:
    """Mass that may still be added in this case."""
    return float(build.vehicle.permitted.total - build.laden_mass)


@fact(Header, MASS, axis=Axis.loading, formula="permitted front − front axle load", source=PLATE)
def front_axle_left(build: Subject) -> float:
    """Load that the front axle may still take in this case."""
    return float(build.vehicle.permitted.front_axle - build.front_axle_load)


@fact(Header, MASS, axis=Axis.loading, formula="permitted rear − rear axle load", source=PLATE)
def rear_axle_left(build: Subject) -> float:
    """Load that the rear axle may still take in this case."""
    return float(build.vehicle.permitted.rear_axle - build.rear_axle_load)


def _all_masses_known(build: Subject) -> None:
    """Raise Missing for every mass that would be needed for a worst end."""
    unknown = build.masses_unknown
    if unknown:
        raise Missing(*(name for entry in unknown for name in entry.needs.split(", ")))


@fact(Header, TRUTH, formula="no component or run is without a mass", source="the spec")
def all_masses_known(build: Subject) -> bool:
    """Whether every mass is known or bounded; unknown, with their names, while some are not."""
    _all_masses_known(build)
    return True


LEAST = "what is left − its doubt; unknown while any mass is unknown"


@fact(Header, MASS, axis=Axis.loading, formula=LEAST, source="worst case, linear")
def payload_left_least(build: Subject) -> float:
    """Mass that may still be added for certain in this case."""
    _all_masses_known(build)
    return float(build.payload_left - build.laden_mass_doubt)


@fact(Header, MASS, axis=Axis.loading, formula=LEAST, source="worst case, linear")
def front_axle_left_least(build: Subject) -> float:
    """Load that the front axle may still take for certain in this case."""
    _all_masses_known(build)
    return float(build.front_axle_left - build.front_axle_doubt)


@fact(Header, MASS, axis=Axis.loading, formula=LEAST, source="worst case, linear")
def rear_axle_left_least(build: Subject) -> float:
    """Load that the rear axle may still take for certain in this case."""
    _all_masses_known(build)
    return float(build.rear_axle_left - build.rear_axle_doubt)


@fact(
    Header,
    number(Dimension.share),
    axis=Axis.loading,
    formula="(left wheels as received + Σ mass × (1/2 − y ÷ track)) ÷ Σ mass",
    source="moments about the centre line",
)
def left_share(build: Subject) -> float:
    """Share of the mass that stands on the left wheels in this case."""
    ticket = build.vehicle.as_received
    added = total(build.loads)
    lean = (ticket.left - ticket.right) / 2
    track = build.vehicle.track
    moments = sum(entry.mass * entry.y for entry in build.loads)
    return float((added / 2 + lean - moments / track) / added)


@fact(Header, MASS, axis=Axis.loading, formula="share of the left wheels × laden mass", source="arithmetic")
def left_wheels_load(build: Subject) -> float:
    """Load of the left wheels in this case."""
    return float(build.left_share * build.laden_mass)


@fact(Header, MASS, axis=Axis.loading, formula="laden mass − left wheels", source="arithmetic")
def right_wheels_load(build: Subject) -> float:
    """Load of the right wheels in this case."""
    return float(build.laden_mass - build.left_wheels_load)


@fact(
    Header,
    number(Dimension.share),
    axis=Axis.loading,
    formula="|right − left| ÷ the whole",
    source="van maker's body equipment manual 1.15.2",
)
def side_difference(build: Subject) -> float:
    """Difference between the sides as a share of the whole in this case."""
    return float(abs(1 - 2 * build.left_share))


def on_roof(thing: Subject) -> bool:
    """Tell whether a component is carried by the roof: by kind, holder or height."""
    van, model = thing.van, thing.model
    if isinstance(model, RoofRack):
        return True
    if isinstance(model, SolarPanel) and model.mounting is not None:
        return model.mounting != "portable"
    if isinstance(model, SpareWheel) and model.place == "roof":
        return True
    holder = van.build.components.get(thing.get("fixed_to"))
    if isinstance(holder, RoofRack):
        return True
    height, corner = van.build.header.vehicle.interior.height, thing.get("at")
    return height is not None and corner is not None and bool(corner[2] >= height)


@fact(Header, list_of(text()), formula="by kind, by what they are fixed to, by height", source="the spec")
def things_on_roof(build: Subject) -> tuple[str, ...]:
    """What the roof carries."""
    return tuple(thing.name for thing in build.van.of_class(Component) if on_roof(thing))


@fact(
    Header,
    MASS,
    formula="Σ mass of what the roof carries, of what is kept in it, full, and of the load on its racks",
    source="the spec",
)
def roof_load(build: Subject) -> float:
    """Load on the roof, racks loaded."""
    load = 0.0
    absent: list[str] = []
    for thing in build.van.of_class(Component):
        if not on_roof(thing):
            continue
        try:
            load += weigh_whole(thing).mass + kept_in(thing) + content_when_full(thing)
        except Missing as missing:
            absent += missing.fields
    if absent:
        raise Missing(*absent)
    return load


@fact(
    Header,
    MASS,
    formula="Σ load on tow bars + mass and load of carriers on them",
    source="the spec",
)
def tow_ball_load(build: Subject) -> float:
    """Vertical load on the tow ball."""
    bars = list(build.van.of_class(TowBar))
    if not bars:
        raise Missing(reason="there is no tow bar")
    load = sum(kept_in(bar) for bar in bars)
    for carrier in build.van.of_class(BikeCarrier):
        if carrier.get("mounting") == "tow-bar":
            load += weigh_whole(carrier).mass + kept_in(carrier)
    return float(load)


@fact(Header, MASS, formula="least of the plate's and every tow bar's limit", source=PLATE)
def tow_ball_limit(build: Subject) -> float:
    """Load that the tow ball may take."""
    limits = [bar.load_limit for bar in build.van.of_class(TowBar)]
    plate = build.van.build.header.vehicle.permitted.tow_ball
    if plate is None and not limits:
        raise Missing("vehicle.permitted.tow_ball")
    return float(min([*limits, *([plate] if plate is not None else [])]))


@fact(
    Header,
    MASS,
    formula="75 kg for each travel seat but the driver's + 10·N + 10·L, N all travel seats, L overall length",
    source="EN 1646-2 5.3.2 per a motor-caravan handbook; (EU) 1230/2012",
)
def least_user_payload_eu(build: Subject) -> float:
    """Mass of passengers and their effects that must find room beside the running order."""
    seats = int(build.travel_seats)
    passengers = vehicle.conventional_load_eu(seats)
    return passengers + vehicle.personal_effects_eu(seats, build.vehicle.overall_length)


@fact(
    Header,
    MASS,
    formula="gross rating − (as built with full fuel, without water, people and goods + full gas)",
    source="FMVSS 110 S9 per an article on the 2008 rule",
)
def occupant_and_cargo_capacity(build: Subject) -> float:
    """Occupant and cargo carrying capacity as the US counts it."""
    van = build.van
    unladen = total((*build.fitted_loads, *vehicle_fuel(van, 1.0), *contents(van, {"fuel": 1.0})))
    gas = total(tuple(contents(van, {"gas": 1.0})))
    rating = build.vehicle.permitted.total
    return vehicle.occupant_and_cargo_capacity_us(rating, unladen, gas)


@fact(
    Header,
    MASS,
    formula="permitted total − laden mass as converted",
    source="(EU) 1230/2012 Art. 2 per a motor-caravan handbook",
)
def user_payload(build: Subject) -> float:
    """Mass that is left for passengers and what they bring."""
    return float(build.in_case("as converted").payload_left)


@fact(Header, MASS, formula="150 lb for each belted seat", source="NHTSA interpretation 08-003469drn")
def least_capacity_us(build: Subject) -> float:
    """What that capacity may not fall below."""
    return vehicle.least_capacity_us(int(build.travel_seats))


@fact(Header, list_of(text()), formula="notices about masses or an alteration", source="the spec")
def load_labels(build: Subject) -> tuple[str, ...]:
    """Labels that tell what may be loaded."""
    about = ("vehicle masses", "alteration")
    return tuple(notice.name for notice in build.van.of_class(Notice) if notice.get("purpose") in about)


@fact(Header, MASS, formula="lesser of 1.5 % of the gross rating and 100 lb", source="72 FR 68442")
def relabel_threshold(build: Subject) -> float:
    """Mass added after certification from which US labels must tell."""
    return vehicle.relabel_threshold_us(build.vehicle.permitted.total)
