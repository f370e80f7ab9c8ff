"""The base vehicle: what may be loaded, what it weighed, and the room inside."""

from typing import Literal

from specreg.model.field import Reader, Spec, must, told
from specreg.model.quantity import Day, Length, Mass, Offset, Pressure, Share, Volume
from specreg.model.shell import Shell


class PermittedMasses(Spec):
    """The greatest masses on the vehicle's plate."""

    total: Mass | None = told("Greatest permitted mass of the laden vehicle.", example="3500 kg")
    front_axle: Mass | None = told("Greatest permitted load of the front axle.", example="1850 kg")
    rear_axle: Mass | None = told("Greatest permitted load of the rear axle.", example="2250 kg")
    roof: Mass | None = told("Greatest load on the roof.", example="150 kg")
    tow_ball: Mass | None = told("Greatest load on the tow ball.", example="100 kg")
    with_trailer: Mass | None = told("Greatest mass of vehicle and trailer together.", example="6000 kg")
    centre_of_gravity_height: Length | None = told(
        "Greatest height of the laden centre of gravity above the ground that the vehicle's maker allows.",
        example="1100 mm",
    )
    least_front_share: Share | None = told(
        "Least share of the mass on the front axle that the vehicle's maker allows.", example="35 %"
    )


class Weighing(Spec):
    """A weighbridge ticket, with what was in the vehicle when it was weighed."""

    stage: Literal["intake", "mid-build", "final"] = told("When in the build.", default="final")
    date: Day | None = told("Day of the ticket.", example="2026-03-02")
    front_axle: Mass | None = told("Front axle as weighed.", example="1180 kg")
    rear_axle: Mass | None = told("Rear axle as weighed.", example="870 kg")
    left: Mass | None = told("Left wheels as weighed.")
    right: Mass | None = told("Right wheels as weighed.")
    driver: bool | None = told("Whether the driver sat in it.")
    fuel: Share | None = told("How full the fuel tank was.", example="50 %")
    fresh_water: Share | None = told("How full the fresh-water tanks were.", example="0 %")
    hot_water: Share | None = told("How full the water heaters were.", example="0 %")
    waste_water: Share | None = told("How full the waste tanks were.", example="0 %")
    gas: Share | None = told("How full the gas cylinders and tanks were.", example="100 %")
    heater_fuel: Share | None = told(
        "How full the fuel tanks beside the base vehicle's were, such as a heater's own.", example="100 %"
    )
    spare_wheel: bool | None = told("Whether the spare wheel was in it.")
    scale_step: Mass | None = told("Smallest step of the scale.", example="20 kg")
    ticket: str | None = told("Number of the ticket.", reader=Reader.owner)


class WallWidth(Spec):
    """The width between the walls at one height."""

    height: Length = must("Height above the load floor.", example="1500 mm")
    width: Length = must("Width at that height, even about the centre line.", example="1700 mm")


class WheelArch(Spec):
    """The box around a wheel arch inside."""

    at: tuple[Offset, Offset, Offset] = must("Foremost, leftmost, lowest corner.")
    size: tuple[Length, Length, Length] = must("Size along, across and up.")


class Interior(Spec):
    """The room inside, as a box in the van's frame."""

    starts: Offset | None = told("How far behind the front axle it starts.", example="1150 mm")
    floor_height: Length | None = told("Height of the load floor above the ground.", example="620 mm")
    length: Length | None = told("Length of the load space.", example="3705 mm")
    width: Length | None = told("Width between the linings, or the ribs where there are none.")
    height: Length | None = told("Clear height.", example="1900 mm")
    widths: tuple[WallWidth, ...] = told(
        "Widths by height, where the walls lean in; straight between them.",
        default=(),
        example="[{height: 900 mm, width: 1870 mm}, {height: 1900 mm, width: 1600 mm}]",
    )
    wheel_arches: tuple[WheelArch, ...] = told("Boxes around the wheel arches.", default=())


class Zone(Spec):
    """A named part of the room that serves as a place."""

    at: tuple[Offset, Offset, Offset] = must("Foremost, leftmost, lowest corner.")
    size: tuple[Length, Length, Length] = must("Size along, across and up.")
    title: str | None = told("What people call it.", example="Galley, low, left")


class Identity(Spec):
    """What identifies the vehicle and its owner; never for the open web."""

    vin: str | None = told("Vehicle identification number.", reader=Reader.owner)
    plate: str | None = told("Registration mark.", reader=Reader.owner)
    first_registered: Day | None = told("Day of first registration.", reader=Reader.owner)
    owner: str | None = told("Name of the owner.", reader=Reader.owner)
    contact: str | None = told("How to reach the owner.", reader=Reader.workshop)
    keys: str | None = told("Key numbers.", reader=Reader.owner)


class FuelTank(Spec):
    """The vehicle's own fuel tank."""

    volume: Volume | None = told("Volume.", example="75 L")
    fuel: Literal["diesel", "petrol", "electric"] | None = told("What it holds.")
    at: tuple[Offset, Offset, Offset] | None = told("Its foremost, leftmost, lowest corner.")
    size: tuple[Length, Length, Length] | None = told("Its size along, across and up.")


class Tyres(Spec):
    """Tyres and their pressures at the permitted axle loads."""

    size: str | None = told("Size and load index.", example="225/75 R16 C 121/120R")
    paired_rear: bool | None = told("Whether the rear axle has paired wheels, four in all.")
    front: Pressure | None = told("Pressure of the front tyres.", example="4.5 bar")
    rear: Pressure | None = told("Pressure of the rear tyres.", example="5.5 bar")


class Vehicle(Spec):
    """The base vehicle."""

    description: str | None = told("What it is, in words.", example="panel van, long wheelbase, high roof")
    category: str | None = told("Vehicle category.", example="M1")
    wheelbase: Length | None = told("Distance between the axles.", example="4035 mm")
    track: Length | None = told("Distance between the middles of left and right tyres.", example="1750 mm")
    overall_length: Length | None = told("Length over all.", example="5998 mm")
    front_overhang: Length | None = told("How far it reaches before the front axle.", example="948 mm")
    overall_height: Length | None = told("Height over all, as built.", example="2790 mm")
    overall_width: Length | None = told("Width over all, mirrors in.")
    permitted: PermittedMasses = told("What the plate permits.", factory=PermittedMasses)
    as_received: Weighing | None = told("Weighbridge ticket before the conversion.")
    centre_of_gravity_height: Length | None = told(
        "Height of the centre of gravity of the vehicle as received above the ground, by its maker.",
        example="720 mm",
    )
    interior: Interior = told("The room inside.", factory=Interior)
    shell: Shell = told("Areas of its sides and its leakage, for heat.", factory=Shell)
    zones: dict[str, Zone] = told("Named parts of the room that serve as places.", factory=dict)
    fuel_tank: FuelTank | None = told("The vehicle's own fuel tank.")
    tyres: Tyres | None = told("Tyres and pressures.")
    identity: Identity = told("What identifies it.", factory=Identity, reader=Reader.owner)
