"""Runs: one cable, pipe, hose or duct between two ports."""

from typing import ClassVar, Literal

from specreg.model.component import System
from specreg.model.device import InlineDevices
from specreg.model.field import Reader, Spec, must, told
from specreg.model.port import Medium
from specreg.model.quantity import Angle, Conductor, Day, Length, Mass, Offset, Temperature


class Run(Spec):
    """One cable, pipe, hose or duct between two ports."""

    system: ClassVar[System]
    letter: ClassVar[str] = "W"

    medium: Medium
    start: str = must("The port that it comes from.", example="fuse-box/4", written="from")
    finish: str = must("The port that it goes to.", example="water-pump", written="to")
    title: str | None = told("What people call it.")
    part: str | None = told("The catalogue entry that it is cut from.")
    length: Length | None = told("Length one way, as laid.", example="4.2 m")
    mass: Mass | None = told("Mass, where it was weighed.")
    route: tuple[str, ...] = told("Where it passes: zones, bulkheads, voids.", default=())
    hidden: bool | None = told("Whether panels will cover it.")
    protection_at_edges: str | None = told("Grommets or edging where it passes metal.")
    fixed_every: Length | None = told("Distance between its fixings.", example="250 mm")
    note: str | None = told("A remark.")
    label: str | None = told("The words on its marker.")
    maker: str | None = told("Who made it.", reader=Reader.owner)


class Cable(Run):
    """What all electrical runs have."""

    conductor: Conductor | None = told("Cross-section of the current-carrying cores.", example="1.5 mm²")
    insulation: Temperature | None = told("Insulation temperature class.", example="105 °C")
    ambient: Temperature | None = told("Highest ambient temperature along it.", example="50 °C")
    engine_space: bool | None = told("Whether any of it lies in the engine space.")
    bundled_with: int | None = told(
        "Current-carrying conductors in its bundle, its own included.", example="6"
    )
    covering: Literal["none", "sheath", "conduit", "enclosure"] | None = told(
        "What covers the conductor for its whole length."
    )
    colour: str | None = told("Colour of the cores.", example="red and black")
    protection: InlineDevices = told(
        "In-line devices on it by name; one alone may stand in a list, and is then called 1.",
        factory=dict,
        example="{main: {fuse: 100 A, family: mega, distance: 150 mm}}",
    )


class DcRun(Cable):
    """A direct-current cable. Its polarity follows from the ports at its ends."""

    system: ClassVar[System] = System.dc
    medium: Literal[Medium.dc] = Medium.dc
    returns: str | None = told(
        "How the current comes back: `same cable`, `chassis`, or the id of another run.",
        example="same cable",
        written="return",
    )
    return_conductor: Conductor | None = told("Cross-section of the return core, where it differs.")


class AcRun(Cable):
    """A mains cable with line, neutral and protective conductor."""

    system: ClassVar[System] = System.mains
    medium: Literal[Medium.ac] = Medium.ac
    protective_conductor: Conductor | None = told("Cross-section of the protective conductor.")
    cable_type: str | None = told("Type of the cable.", example="H07RN-F 3G2.5")
    strands: Literal["solid", "stranded", "fine-stranded"] | None = told("How its cores are made.")
    separated_from_dc: bool | None = told("Whether it is kept apart from extra-low-voltage cables.")


class Pipe(Run):
    """What pipes and hoses have."""

    letter: ClassVar[str] = "W"
    bore: Length | None = told("Inner diameter.", example="10 mm")
    material: str | None = told("What it is made of.", example="polyethylene, food grade")
    potable: bool | None = told("Whether the maker states it for drinking water.")
    lowest: Offset | None = told("Height of its lowest point above the load floor.", example="-120 mm")
    highest: Offset | None = told("Height of its highest point above the load floor.")
    drains_to: str | None = told("The valve that empties its lowest point.", example="drain-valve")
    insulated: bool | None = told("Whether it is insulated against frost.")
    outside: bool | None = told("Whether it runs outside the heated space.")


class WaterRun(Pipe):
    """A fresh-water pipe, cold or hot."""

    system: ClassVar[System] = System.water
    medium: Literal[Medium.water] = Medium.water
    hot: bool | None = told("Whether it carries hot water.")


class WasteRun(Pipe):
    """A waste pipe or vent."""

    system: ClassVar[System] = System.waste
    medium: Literal[Medium.waste] = Medium.waste
    fall: str | None = told("Its fall along the way.", example="2 %")


class GasRun(Run):
    """A gas pipe or hose."""

    system: ClassVar[System] = System.gas
    medium: Literal[Medium.gas] = Medium.gas
    form: Literal["pipe", "hose"] | None = told("Rigid pipe or flexible hose.")
    bore: Length | None = told("Inner diameter.", example="6 mm")
    material: str | None = told("What it is made of.", example="copper")
    joints: str | None = told("How its joints are made.", example="compression")
    pressure_side: Literal["cylinder", "regulated"] | None = told("Which side of the regulator it is on.")
    made_on: Day | None = told("Date of manufacture of a hose.", example="2026-01-15")
    expires_on: Day | None = told("Date by which the maker wants it renewed.")
    through_wall: bool | None = told("Whether a hose passes through a wall or floor.")
    moving: bool | None = told("Whether it follows a moving part.")


class FuelRun(Run):
    """A liquid-fuel line to a heater or hob."""

    system: ClassVar[System] = System.heat
    medium: Literal[Medium.fuel] = Medium.fuel
    bore: Length | None = told("Inner diameter.", example="2 mm")
    material: str | None = told("What it is made of.")


class AirRun(Run):
    """A duct for warm air, combustion air or ventilation."""

    system: ClassVar[System] = System.air
    medium: Literal[Medium.air] = Medium.air
    bore: Length | None = told("Inner diameter.", example="60 mm")
    bends: Angle | None = told("Sum of its bends.", example="180°")


class ExhaustRun(Run):
    """The exhaust pipe or flue of a combustion appliance."""

    system: ClassVar[System] = System.heat
    medium: Literal[Medium.exhaust] = Medium.exhaust
    bore: Length | None = told("Inner diameter.", example="24 mm")
    bends: Angle | None = told("Sum of its bends.", example="180°")
    clearance_to_combustibles: Length | None = told("Least distance to anything that burns.")
    shielded: bool | None = told("Whether it is shielded or sleeved where it passes the floor.")


class ControlRun(Run):
    """A control or data cable: a switch, sensor or remote to what it acts on."""

    system: ClassVar[System] = System.dc
    medium: Literal[Medium.control] = Medium.control
    conductor: Conductor | None = told("Cross-section of its cores.", example="0.75 mm²")


RUNS: dict[str, type[Run]] = {
    "dc": DcRun,
    "ac": AcRun,
    "water": WaterRun,
    "waste": WasteRun,
    "gas": GasRun,
    "fuel": FuelRun,
    "air": AirRun,
    "exhaust": ExhaustRun,
    "control": ControlRun,
}
"""The kinds of run by medium."""
