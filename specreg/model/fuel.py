"""Liquid fuel and flues: what a heater is fed from, and where its air and exhaust pass the body."""

from typing import ClassVar, Literal

from specreg.model.component import (
    Component,
    System,
)
from specreg.model.field import told
from specreg.model.fluid import InLine, Valve, into, out
from specreg.model.port import Medium, Port
from specreg.model.quantity import (
    Angle,
    Length,
    Offset,
    Volume,
)


class FuelTank(Component):
    """A tank for liquid fuel: the base vehicle's, or one of its own."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "C"
    kind: Literal["fuel-tank"]
    contents: Literal["diesel", "petrol"] | None = told("What it holds.")
    volume: Volume | None = told("Volume when full.", example="75 L")
    base_vehicle: bool | None = told("Whether it is the base vehicle's own tank.")
    filler: Literal["outside", "inside"] | None = told("Where it is filled.")
    filler_at: tuple[Offset, Offset, Offset] | None = told("Place of the filler, in the van's frame.")

    def ports(self) -> tuple[Port, ...]:
        """Return the place where fuel is taken."""
        return (out("out", Medium.fuel, main=True),)


class FuelTakeoff(InLine):
    """A stand-pipe, or the vehicle maker's own take-off, in a fuel tank."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "X"
    carries: ClassVar[Medium] = Medium.fuel
    one_way: ClassVar[bool] = True
    kind: Literal["fuel-takeoff"]
    form: Literal["maker's take-off", "stand-pipe", "tee in the feed", "tee in the return"] | None = told(
        "How the fuel is taken."
    )
    reserve_left: Volume | None = told("Fuel below it, which the heater cannot take.", example="12 L")


class FuelPump(InLine):
    """A dosing pump, driven by its heater through a control cable."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "G"
    carries: ClassVar[Medium] = Medium.fuel
    one_way: ClassVar[bool] = True
    kind: Literal["fuel-pump"]
    tilt: Angle | None = told("How far it points up from level.", example="30°")
    suction_height: Offset | None = told("Height of the pump above the lowest fuel level.", example="400 mm")
    greatest_suction_height: Length | None = told("Greatest such height that the maker allows.")
    rubber_mounted: bool | None = told("Whether it hangs in rubber.")


class FuelValve(Valve):
    """A valve in a liquid-fuel line."""

    system: ClassVar[System] = System.heat
    carries: ClassVar[Medium] = Medium.fuel
    kind: Literal["fuel-valve"]


class FlueTerminal(Component):
    """The place where exhaust leaves the van; distances to openings follow from its place."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "X"
    kind: Literal["flue-terminal"]
    exits: Literal["left", "right", "rear", "front", "roof", "below"] | None = told(
        "The side of the van on which the exhaust leaves; `below` is under the floor.", example="left"
    )
    points: Literal["outwards", "down", "up", "rearwards", "forwards"] | None = told("Where it points.")
    bore: Length | None = told("Inner diameter.", example="24 mm")
    least_distance_to_openings: Length | None = told("The maker's least distance to openings.")
    least_distance_to_fuel: Length | None = told("The maker's least distance to the fuel filler and vent.")
    drain_hole: bool | None = told("Whether condensate runs out at the lowest point.")

    def ports(self) -> tuple[Port, ...]:
        """Return the end of the flue."""
        return (into("in", Medium.exhaust, needed=True, main=True),)


class AirIntake(Component):
    """The place where combustion air, or air to be warmed, is taken."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "X"
    kind: Literal["air-intake"]
    draws_from: Literal["outside", "living space", "engine space", "enclosed void"] | None = told(
        "The space that it takes air from.", example="outside"
    )
    silencer: bool | None = told("Whether an intake silencer is fitted.")
    bore: Length | None = told("Inner diameter.", example="24 mm")

    def ports(self) -> tuple[Port, ...]:
        """Return the start of the intake pipe."""
        return (out("out", Medium.air, main=True),)


KINDS: tuple[type[Component], ...] = (
    FuelTank,
    FuelTakeoff,
    FuelPump,
    FuelValve,
    FlueTerminal,
    AirIntake,
)
