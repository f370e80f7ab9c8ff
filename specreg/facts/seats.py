"""Travel seats: how many, which papers there are, and what they are bolted to; never whether they hold."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.build import Header, Jurisdiction
from specreg.model.seating import Anchorage, Seat, Seating, SwivelBase
from specreg.model.sleeping import Bed
from specreg.units import Dimension

DRIVING = "driving"
"""The mode that holds under way."""

WEAK_SUBSTRATES = frozenset({"floor sheet", "wood", "furniture"})

EVIDENCE = {"type_approval": "type approval", "test_report": "test report"}
AMERICAN = frozenset({Jurisdiction.us, Jurisdiction.ca})


def offered(seat: Subject) -> bool:
    """Tell whether a seat is offered under way; the driver's always is. Raises Missing."""
    return bool(seat.get("driver") if isinstance(seat.model, Seat) else False) or bool(seat.used_under_way)


def travel_places_of(seat: Subject) -> int:
    """Return the places with a belt that are offered under way. Raises Missing where belts are not stated."""
    return sum(belt != "none" for belt in seat.belts) * int(seat.count) if offered(seat) else 0


@fact(Seating, TRUTH, formula="offered under way; the driver's seat always is", source="the spec")
def travel_seat(seat: Subject) -> bool:
    """Whether people sit on it under way."""
    return offered(seat)


@fact(Seating, number(), formula="places with a belt, where it is offered under way", source="the spec")
def travel_places(seat: Subject) -> int:
    """Places on which people may travel."""
    return travel_places_of(seat)


@fact(
    Seating, number(), formula="places − places with a belt, where it is offered under way", source="the spec"
)
def unbelted_places(seat: Subject) -> int:
    """Places offered under way that have no belt."""
    return int(seat.places * seat.count) - travel_places_of(seat) if offered(seat) else 0


@fact(Seating, TRUTH, formula="offered under way and not of the base vehicle", source="the spec")
def retrofitted_travel_seat(seat: Subject) -> bool:
    """Whether it was fitted by a converter and people sit on it under way."""
    return offered(seat) and seat.origin == "retrofitted"


@fact(Seating, list_of(text()), formula="papers named in the spec", source="the spec")
def evidence(seat: Subject) -> tuple[str, ...]:
    """Papers on the strength of the seat in this body."""
    held = [words for field, words in EVIDENCE.items() if seat.get(field)]
    return (*held, *(["vehicle maker's guidance"] if seat.get("maker_guidance") else []))


@fact(
    Seating,
    list_of(text()),
    formula="type approval or test report; the body that a report was made for; belt approval outside the US "
    "and Canada",
    source="UN R14, R16, R17 and FMVSS 207, 210: from memory and secondary sources",
)
def evidence_wanting(seat: Subject) -> tuple[str, ...]:
    """Papers that a seat fitted by a converter needs and that are not named."""
    held = seat.evidence
    wanting = [] if {"type approval", "test report"} & set(held) else ["type approval or test report"]
    if "test report" in held and not seat.get("tested_in"):
        wanting.append("the body that the report was made for")
    if set(seat.van.build.header.jurisdictions) - AMERICAN and not seat.get("belt_approval"):
        wanting.append("belt approval")
    return tuple(wanting)


def anchorages_of(seat: Subject) -> list[Subject]:
    """Return the anchorages that hold a seat, its belts or its swivel base."""
    bases = [base.id for base in seat.van.of_class(SwivelBase) if base.get("under") == seat.id]
    held = {seat.id, *bases}
    return [joint for joint in seat.van.of_class(Anchorage) if held & set(joint.holds)]


@fact(Seating, list_of(text()), formula="anchorages that name it, or its swivel base", source="the spec")
def anchorages(seat: Subject) -> tuple[str, ...]:
    """What joins it and its belts to the body."""
    return tuple(joint.name for joint in anchorages_of(seat))


@fact(
    Seating,
    list_of(text()),
    formula="anchorages through sheet, wood or furniture without a backing plate",
    source="trade practice: the load needs a structure behind the sheet",
)
def weak_anchorages(seat: Subject) -> tuple[str, ...]:
    """Anchorages that pass through sheet, wood or furniture alone."""
    joints = anchorages_of(seat)
    if not joints:
        raise Missing(reason=f"no anchorage names {seat.id} under `holds`")
    weak = [joint.name for joint in joints if joint.substrate in WEAK_SUBSTRATES and not joint.get("plate")]
    return tuple(weak)


@fact(
    SwivelBase,
    number(Dimension.angle),
    formula="the angle of its shape in the mode `driving`, else of its usual shape",
    source="the spec",
)
def turned_under_way(base: Subject) -> float:
    """Angle by which it is turned from facing forward under way."""
    mode = base.van.build.header.modes.get(DRIVING, {})
    assert isinstance(base.model, SwivelBase)
    shape = base.model.in_shape(mode.get(base.id))
    if shape.turned is None:
        raise Missing(f"{base.id}.shapes")
    return float(shape.turned)


@fact(Header, number(), formula="Σ places with a belt that are offered under way", source="the spec")
def travel_seats(build: Subject) -> int:
    """Places on which people may travel, the driver's included."""
    return sum(int(seat.travel_places) for seat in build.van.of_class(Seating))


@fact(Header, number(), formula="adults + children", source="the spec")
def people_under_way(build: Subject) -> int:
    """People who travel in the van."""
    people = build.van.build.header.use.people
    if not people.adults + people.children:
        raise Missing("use.people")
    return people.adults + people.children


@fact(Header, number(), formula="Σ places of beds", source="the spec")
def berths(build: Subject) -> int:
    """People who can sleep in the van."""
    return sum(int(bed.places * bed.count) for bed in build.van.of_class(Bed))
