"""Who may sit where under way: children, papers for the category, swivel bases, and what carries what."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.seats import offered
from specreg.facts.value_type import TRUTH, list_of, number, text
from specreg.model.build import Header
from specreg.model.safety import Notice
from specreg.model.seating import Seat, Seating, SwivelBase

STRENGTH = {"M1": 20.0, "N1": 20.0, "M2": 10.0, "N2": 10.0, "M3": 6.6}
"""How many times its weight a seat with belts on it bears besides, by category (UN R14 6.4.4, memory)."""


@fact(
    Seating,
    TRUTH,
    formula="the report's category asks for no less than the vehicle's: M1, N1 20 ×; M2, N2 10 ×; M3 6.6 ×",
    source="UN R14 6.4.4, from memory",
)
def report_covers_category(seat: Subject) -> bool:
    """Whether its test report is for a category that asks for as much as the vehicle's."""
    tested, category = str(seat.tested_for), seat.van.build.header.vehicle.category
    if category is None:
        raise Missing("vehicle.category")
    if category not in STRENGTH:
        raise Missing(reason=f"nothing is known of the category {category}")
    return STRENGTH[tested] >= STRENGTH[category]


@fact(Seating, number(), formula="places whose belt is a lap belt", source="the spec")
def lap_belts(seat: Subject) -> int:
    """Places with a lap belt only."""
    return sum(belt == "lap" for belt in seat.belts)


@fact(
    Seating,
    list_of(text()),
    formula="child places without an ISOFIX anchorage or a belt of their own place",
    source="physics: a restraint that nothing holds does not hold",
)
def child_places_unheld(seat: Subject) -> tuple[str, ...]:
    """Places for children where nothing holds the restraint."""
    unheld = []
    for child in seat.child_places:
        if child.held_by is None:
            raise Missing(f"{seat.id}.child_places.{child.place}.held_by")
        held = (
            seat.get("isofix_places") if child.held_by == "isofix" else seat.belts[child.place - 1] != "none"
        )
        if not held:
            unheld.append(f"place {child.place} of {seat.name}")
    return tuple(unheld)


@fact(Header, number(), formula="Σ child places of seats that are offered under way", source="the spec")
def child_places_under_way(build: Subject) -> int:
    """Places for child restraints under way."""
    return sum(len(seat.child_places) for seat in build.van.of_class(Seating) if offered(seat))


@fact(Header, list_of(text()), formula="seating that is not offered under way", source="the spec")
def seats_not_for_travel(build: Subject) -> tuple[str, ...]:
    """Seats on which nobody may sit under way."""
    return tuple(seat.name for seat in build.van.of_class(Seating) if not offered(seat))


@fact(
    Header,
    list_of(text()),
    formula="notices about travel seats, and those that forbid one",
    source="the spec",
)
def seat_notices(build: Subject) -> tuple[str, ...]:
    """Notices that tell on which seats people may travel."""
    about = ("travel seat", "not a travel seat")
    return tuple(notice.name for notice in build.van.of_class(Notice) if notice.get("purpose") in about)


WIRED = {
    "side_airbag": "side airbag",
    "belt_tensioner": "belt tensioner",
    "occupant_sensor": "occupant sensor",
}


@fact(
    SwivelBase,
    list_of(text()),
    formula="what the seat on it has of airbag, tensioner, sensor",
    source="the spec",
)
def wired_parts(base: Subject) -> tuple[str, ...]:
    """What the seat on it has that a lead must reach while it turns."""
    seat = base.get("under")
    if seat is None:
        raise Missing(f"{base.id}.under")
    on_it = base.van.subject(seat)
    return tuple(
        words for field, words in WIRED.items() if isinstance(on_it.model, Seat) and on_it.get(field)
    )


@fact(SwivelBase, list_of(text()), formula="papers named in the spec", source="the spec")
def papers(base: Subject) -> tuple[str, ...]:
    """Papers on the strength of the swivel base under this seat."""
    named = {
        "type_approval": "type approval",
        "test_report": "test report",
        "maker_guidance": "maker's guidance",
    }
    return tuple(words for field, words in named.items() if base.get(field))
