"""Seats, their belts and anchorages: what is fitted and which papers there are, never whether it holds."""

from typing import ClassVar, Literal, Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.component import Component, System
from specreg.model.field import Reader, Spec, told
from specreg.model.quantity import BurnRate, Day, Force, Length, Mass, Volume
from specreg.model.shape import Corner, Shaped
from specreg.model.structure import Lock, Origin

Belt = Literal["three-point", "lap", "none"]


class Evidence(Component):
    """Something whose strength only a test or a type approval shows."""

    origin: Origin | None = told(
        "Whether it came with the base vehicle, so that its mass is in the ticket as received, or was fitted."
    )
    type_approval: str | None = told("Type-approval number.", example="e1*17R*0000")
    test_report: str | None = told("Reference of the test report.", example="report 0000 of 2026-02-11")
    tested_in: str | None = told("The body that the report was made for.", example="panel van, high roof")
    tested_for: Literal["M1", "M2", "M3", "N1", "N2"] | None = told(
        "Vehicle category that the report was made for."
    )
    maker_guidance: str | None = told(
        "Clause of the vehicle maker's body-builder guidance that covers it.", example="section 4.7"
    )
    fitted_by: str | None = told("Who fitted it, by role.", reader=Reader.owner, example="seat installer")


class ChildPlace(Spec):
    """What one place offers for a child restraint."""

    place: int = told("The place, counted from the left.", default=1)
    held_by: Literal["isofix", "belt"] | None = told("What holds the child restraint.")
    top_tether: bool | None = told("Whether there is an anchorage for a top tether.")
    support_leg: bool | None = told("Whether the floor before it may take a support leg.")
    positions: tuple[Literal["forward", "rearward"], ...] = told(
        "Which way a child restraint may face there by the vehicle's or seat's manual.", default=()
    )


class Seating(Evidence, Shaped):
    """What seats and benches have."""

    system: ClassVar[System] = System.seating
    places: int = told("How many people it seats.", default=1)
    faces: Literal["forward", "rearward", "sideways"] | None = told("Which way people face under way.")
    used_under_way: bool | None = told("Whether it is offered for use on the road.")
    belts: tuple[Belt, ...] | None = told(
        "The belt of each place, from the left.", example="[three-point, three-point]"
    )
    belts_anchored_on: Literal["seat", "body"] | None = told("What takes the load of the belts.")
    belt_approval: str | None = told("Approval mark on the belts.", example="E4 16R-000000")
    belts_made_on: Day | None = told("Date of manufacture of the belts.", reader=Reader.owner)
    head_restraints: int | None = told("How many places have a head restraint.", example="2")
    isofix_places: int | None = told("How many places have ISOFIX lower anchorages.", example="2")
    child_places: tuple[ChildPlace, ...] = told("Places meant for child restraints.", default=())
    front_airbag: bool | None = told("Whether a front airbag acts on it.")
    airbag_switch: bool | None = told("Whether that airbag can be switched off.")
    side_airbag: bool | None = told("Whether an airbag is built into it.")
    belt_tensioner: bool | None = told("Whether a pyrotechnic belt tensioner is built into it.")
    occupant_sensor: bool | None = told("Whether a sensor in it tells that someone sits there.")
    mounting: Literal["fixed", "rails", "removable"] | None = told("How it stands in the van.")
    seated_at: tuple[Corner, ...] = told(
        "Centre of the person on each place, from the left, where it is not the middle of the box.",
        default=(),
    )
    seat_height: Length | None = told("Height of the cushion above the floor.", example="420 mm")
    place_width: Length | None = told("Width of one place.", example="450 mm")
    burn_rate: BurnRate | None = told("Horizontal burn rate of the upholstery.", example="50 mm/min")
    burn_test: str | None = told("The test that the burn rate comes from.", example="ISO 3795 report")

    @model_validator(mode="after")
    def _lists_have_an_entry_for_each_place(self) -> Self:
        lists = (("belts", self.belts or ()), ("seated_at", self.seated_at))
        for field, entries in lists:
            if entries and len(entries) != self.places:
                self._refuse(f"`{field}` has {len(entries)} entries for {self.places} places")
        beyond = [child.place for child in self.child_places if not 1 <= child.place <= self.places]
        if beyond:
            self._refuse(f"`child_places` names place {beyond[0]} of {self.places}")
        return self

    @staticmethod
    def _refuse(reason: str) -> None:
        raise PydanticCustomError("places", "{reason}", {"reason": reason})

    @property
    def belted_places(self) -> int | None:
        """Return how many places have a belt, or None where the belts are not stated."""
        return None if self.belts is None else sum(belt != "none" for belt in self.belts)


class Seat(Seating):
    """A single or double seat."""

    kind: Literal["seat"]
    driver: bool = told("Whether it is the driver's.", default=False)


class Bench(Seating):
    """A bench in the living space, with or without belts."""

    kind: Literal["bench"]
    back_lock: Lock | None = told("What holds a folding back-rest.")
    volume: Volume | None = told("Storage volume below it.", example="90 l")
    contents: Mass | None = told("Mass of what is kept below it in the loaded cases.", example="12 kg")


class SwivelBase(Evidence, Shaped):
    """A turning plate under a seat; its shapes are its positions, with the angle `turned` of each."""

    system: ClassVar[System] = System.seating
    kind: Literal["swivel-base"]
    under: str | None = told("The seat that it carries.", example="passenger-seat")
    lock: Lock | None = told("What holds it in a position.")
    lock_warning: bool | None = told("Whether a signal tells that it is not locked.")
    raises_by: Length | None = told("How much it raises the seat.", example="40 mm")
    carries_belt: bool | None = told("Whether a belt anchorage sits on what turns.")
    wiring_free: Length | None = told("Free length of the seat's own wiring for the turn.", example="350 mm")


class Anchorage(Evidence):
    """What joins a seat, belt or child restraint to the body."""

    system: ClassVar[System] = System.seating
    letter: ClassVar[str] = "X"
    kind: Literal["anchorage"]
    holds: tuple[str, ...] = told("The components that it holds.", default=(), example="[rear-bench]")
    purpose: Literal["seat", "belt", "seat and belt", "isofix", "top tether", "load"] | None = told(
        "What it is for."
    )
    bolts: int | None = told("How many bolts.", example="6")
    bolt_size: str | None = told("Thread of the bolts.", example="M10")
    bolt_class: str | None = told("Property class of the bolts.", example="10.9")
    tightening: str | None = told("Tightening torque, as done.", example="60 N·m")
    plate: tuple[Length, Length, Length] | None = told(
        "Length, width and thickness of each backing plate.", example="[100 mm, 100 mm, 6 mm]"
    )
    substrate: (
        Literal["original seat point", "frame member", "reinforced floor", "floor sheet", "wood", "furniture"]
        | None
    ) = told("What the bolts pass through.")
    rated_force: Force | None = told("Greatest force by its maker or report.", example="13.5 kN")


KINDS: tuple[type[Component], ...] = (Seat, Bench, SwivelBase, Anchorage)
