"""What every component has, and the traits that several kinds share."""

from typing import Any, ClassVar, Literal

from specreg.model.field import Reader, Spec, Word, told
from specreg.model.port import Feed, Link, Medium, Port, Role, Way
from specreg.model.quantity import (
    Current,
    Day,
    Duration,
    Length,
    Mass,
    Offset,
    Power,
    Share,
    Voltage,
)


class System(Word):
    """The systems of a van, as pages and findings are grouped."""

    dc = "dc"
    solar = "solar"
    mains = "mains"
    water = "water"
    waste = "waste"
    gas = "gas"
    heat = "heat"
    air = "air"
    seating = "seating"
    space = "space"
    mass = "mass"
    fire = "fire"
    vehicle = "vehicle"
    records = "records"
    codes = "codes"


class MassStatus(Word):
    """How a mass came to be known."""

    estimated = "estimated"
    data_sheet = "data sheet"
    weighed = "weighed"


class SupplyState(Word):
    """Where a component is between the order and the van."""

    to_order = "to order"
    ordered = "ordered"
    here = "here"
    fitted = "fitted"


class Component(Spec):
    """A thing fitted in the van."""

    system: ClassVar[System]
    letter: ClassVar[str] = "U"
    """Class letter of IEC 81346-2 for the reference designation."""

    kind: str
    title: str | None = told("What people call it, where the id is not plain enough.", example="Water pump")
    part: str | None = told("The catalogue entry that it is one of.", example="diaphragm-pump-10l")
    at: tuple[Offset, Offset, Offset] | None = told(
        "Foremost, leftmost, lowest corner: back from the front axle, right of the centre line, "
        "up from the load floor.",
        example="[2150 mm, 620 mm, 150 mm]",
    )
    size: tuple[Length, Length, Length] | None = told(
        "Size along, across and up.", example="[300 mm, 200 mm, 150 mm]"
    )
    zone: str | None = told(
        "A named zone of the vehicle that serves as its place.", example="galley-low-left"
    )
    mass: Mass | None = told("Mass of one, without contents.", example="1.9 kg")
    mass_status: MassStatus | None = told("How the mass is known.", example="data sheet")
    centre_of_mass: tuple[Offset, Offset, Offset] | None = told(
        "Centre of mass in the van's frame, where it is not the middle of the box."
    )
    count: int = told("How many alike stand here as one.", default=1)
    fixed_to: str | None = told("What it is fastened to: a component or `body`.", example="body")
    fastening: str | None = told("How it is fastened.", example="4 × M6 through backing plates")
    label: str | None = told("The words on the label beside it.", example="Water pump")
    maker: str | None = told("Who made it.", reader=Reader.owner)
    maker_model: str | None = told("The maker's name or number for it.", reader=Reader.owner, written="model")
    serial: str | None = told("Serial or lot number.", reader=Reader.owner)
    made_on: Day | None = told("Date of manufacture.", reader=Reader.owner)
    fitted_on: Day | None = told("Day on which it was fitted.", reader=Reader.owner)
    expires_on: Day | None = told("Day after which it must be renewed.", example="2031-06-30")
    manual: str | None = told("Where its manual is.", reader=Reader.owner)
    supplier: str | None = told("Who sells it to the workshop.", reader=Reader.workshop)
    price: str | None = told("Price paid, with the currency.", reader=Reader.workshop, example="129 GBP")
    sale_price: str | None = told(
        "Price that the client pays for it.", reader=Reader.workshop, example="168 GBP"
    )
    lead_time: Duration | None = told(
        "Time from order to delivery.", reader=Reader.workshop, example="10 days"
    )
    state: SupplyState | None = told("Where it is between order and van.", reader=Reader.workshop)
    approval: str | None = told("Approval mark on its plate.", example="E1 122R-000000")
    potable: bool | None = told("Whether the maker states it for drinking water.")
    note: str | None = told("A remark for the owner.")

    def ports(self) -> tuple[Port, ...]:
        """Return the ports of this component; the way to its supports is implied."""
        return ()

    def links(self) -> tuple[Link, ...]:
        """Return what joins the ports inside."""
        return ()

    def feeds(self) -> tuple[Feed, ...]:
        """Return the ports at which it can feed a short circuit."""
        return ()


class LoadKind(Word):
    """How the current of a load follows its voltage."""

    constant_power = "constant power"
    resistance = "resistance"
    motor = "motor"


class Consumer(Component):
    """Something that takes direct current from one supply."""

    power: Power | None = told("Rated power when running.", example="60 W")
    current: Current | None = told("Rated current, where the maker states it instead of a power.")
    supply_voltage: Voltage | None = told("Nominal supply voltage.", example="12 V")
    least_voltage: Voltage | None = told(
        "Least voltage at its terminals at which it works.", example="10.8 V"
    )
    load: LoadKind | None = told("How its current follows the voltage.", example="motor")
    start_current: Current | None = told("Current at start.", example="15 A")
    hours_per_day: Duration | None = told("Time in use on a typical day.", example="2 h")
    duty: Share | None = told("Share of that time in which it really runs.", example="40 %")
    standby: Power | None = told("Power while it waits.", example="0.4 W")
    runs_in: tuple[Literal["night", "day", "driving", "shore"], ...] | None = told(
        "When it runs; not stated, it is taken to run always.", example="[night, day]"
    )
    critical: bool | None = told("Whether people depend on it: alarms, heater controls, fridge, electronics.")

    default_load: ClassVar[LoadKind] = LoadKind.constant_power

    def ports(self) -> tuple[Port, ...]:
        """Return the supply port."""
        return (SUPPLY,)


SUPPLY = Port("supply", Medium.dc, Role.pair, Way.into, needed=True, main=True)


class AcConsumer(Component):
    """Something that takes mains power."""

    mains_power: Power | None = told("Rated power on mains.", example="1.8 kW")
    mains_hours_per_day: Duration | None = told("Time in use on mains on a typical day.", example="30 min")

    def ports(self) -> tuple[Port, ...]:
        """Return the mains port."""
        return (MAINS,)


MAINS = Port("mains", Medium.ac, Role.cable, Way.into, needed=True, main=True)


class Fuel(Word):
    """What an appliance burns."""

    propane = "propane"
    butane = "butane"
    lpg = "lpg"
    diesel = "diesel"
    petrol = "petrol"
    methylated_spirit = "methylated spirit"
    wood = "wood"


class Flue(Word):
    """Where an appliance takes its air and sends its fumes."""

    room_sealed = "room-sealed"
    open_flued = "open-flued"
    flueless = "flueless"


class CombustionAppliance(Component):
    """Something that burns a fuel in the van."""

    burns: Fuel | None = told("The fuel that it burns.", example="propane")
    input: Power | None = told("Heat input at full output.", example="1.8 kW")
    input_basis: Literal["net", "gross"] | None = told("Heating value that the input is stated on.")
    output: Power | None = told("Heat output at full setting.", example="2 kW")
    working_pressure: Literal["28-30/37 mbar", "30 mbar", "50 mbar", "11 inWC", "2.75 kPa"] | None = told(
        "Gas pressure on its plate."
    )
    flue_type: Flue | None = told("Where it takes its air and sends its fumes.", example="room-sealed")
    flame_failure_device: bool | None = told("Whether a flame-failure device is fitted to every burner.")
    clearance_to_combustibles: Length | None = told("Least distance to anything that burns, as fitted.")
    required_clearance: Length | None = told("Least distance that the maker asks for.")
    burn_hours_per_day: Duration | None = told("Time burning on a typical day.", example="1 h")
    burn_hours_in_winter: Duration | None = told(
        "Time burning on a winter day, where it differs.", example="8 h"
    )
    indoor_use: bool | None = told("Whether the maker states it for use inside a vehicle.")


def joined(*parts: tuple[Any, ...]) -> tuple[Any, ...]:
    """Chain the ports or links of several traits."""
    return tuple(item for part in parts for item in part)
