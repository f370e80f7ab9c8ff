"""Furniture: what stands where, what it weighs, what it holds and what keeps it shut."""

from typing import ClassVar, Literal

from specreg.model.component import Component, Consumer, LoadKind, System
from specreg.model.field import told
from specreg.model.quantity import Angle, BurnRate, Length, Mass, Volume
from specreg.model.shape import Shaped
from specreg.model.structure import Layer, Lock

Latch = Literal["positive latch", "magnetic", "friction", "none"]
OpenSide = Literal["front", "rear", "left", "right", "top", "bottom"]


class Furniture(Shaped):
    """What all furniture has; its mass, where not stated, follows from its sheets."""

    system: ClassVar[System] = System.space
    sheets: tuple[Layer, ...] = told(
        "The sheets that it is made of, for its mass.",
        default=(),
        example="[{material: poplar plywood, area: 1.8 m², thickness: 15 mm}]",
    )
    fittings_mass: Mass | None = told(
        "Mass of hinges, runners and edging beside the sheets.", example="1.2 kg"
    )
    fixed_into: Literal["frame member", "threaded insert", "floor", "sheet metal", "wood"] | None = told(
        "What its fixings hold in."
    )
    fixings: int | None = told("How many fixings hold it.", example="6")
    edge_radius: Length | None = told("Radius of its exposed edges.", example="3 mm")
    burn_rate: BurnRate | None = told("Horizontal burn rate of its surface.", example="40 mm/min")


class Storage(Furniture):
    """Furniture that things are kept in."""

    letter: ClassVar[str] = "C"
    latch: Latch | None = told("What keeps its doors or drawers shut under way.")
    open_side: OpenSide | None = told("The side that it opens to; with a shelf, the side without a rail.")
    opens_by: Length | None = told("How far its door or drawer reaches out when open.", example="400 mm")
    hinged_at: OpenSide | None = told(
        "The edge that its door turns on; not given, it slides out like a drawer.", example="rear"
    )
    opens_to: Angle | None = told("How far its door turns; a quarter turn where not given.", example="110°")
    doors: int | None = told("How many doors.", example="2")
    volume: Volume | None = told("Storage volume.", example="65 l")
    contents_limit: Mass | None = told("Greatest mass of its contents.", example="15 kg")
    contents: Mass | None = told("Mass of its contents in the loaded cases.", example="8 kg")
    vented: str | None = told("Openings to the outside or to the living space.", example="grille 100 cm²")


class Cabinet(Storage):
    """A cabinet on the floor or overhead."""

    kind: Literal["cabinet"]


class Shelf(Storage):
    """An open shelf."""

    kind: Literal["shelf"]
    rail_height: Length | None = told("Height of the rail that holds things back.", example="60 mm")


class DrawerUnit(Storage):
    """A unit of drawers."""

    kind: Literal["drawer-unit"]
    drawers: int | None = told("How many drawers.", example="3")
    runner_limit: Mass | None = told("Greatest load of one pair of runners.", example="45 kg")


class Wardrobe(Storage):
    """A tall cabinet."""

    kind: Literal["wardrobe"]


class Worktop(Furniture):
    """A worktop."""

    kind: Literal["worktop"]
    carries: tuple[str, ...] = told("Components let into it.", default=(), example="[hob, sink]")
    flap: Lock | None = told("What holds a flap, if it has one.")


class Table(Furniture):
    """A table."""

    kind: Literal["table"]
    stands_on: str | None = told("Its pedestal or rail.", example="table-pedestal")
    load_limit: Mass | None = told("Greatest load on it, as part of a bed too.", example="120 kg")
    lock: Lock | None = told("What holds it under way.")
    stowed_in: str | None = told("Where it is kept under way, if it is loose.", example="wardrobe")


class TablePedestal(Furniture):
    """The leg, arm or rail of a table."""

    kind: Literal["table-pedestal"]
    form: Literal["plug-in leg", "lift pedestal", "swing arm", "wall rail"] | None = told("What it is.")
    load_limit: Mass | None = told("Greatest load on it.", example="100 kg")
    removed_under_way: bool | None = told("Whether it is taken out before driving.")
    lock: Lock | None = told("What holds it in use.")


class Partition(Furniture):
    """A wall inside the van, or a bulkhead behind the seats."""

    kind: Literal["partition"]
    parts: tuple[str, ...] = told("The two spaces that it parts.", default=(), example="[cab, living]")
    retention: str | None = told("Load-restraint standard that its maker states.", example="ISO 27956")
    opening_width: Length | None = told("Clear width of the passage through it.", example="550 mm")
    opening_height: Length | None = told("Clear height of that passage.", example="1750 mm")


class InteriorDoor(Furniture):
    """A door between two spaces inside."""

    kind: Literal["interior-door"]
    form: Literal["hinged", "sliding", "folding", "roller"] | None = told("How it opens.")
    opening_width: Length | None = told("Clear width when open.", example="520 mm")
    opening_height: Length | None = told("Clear height when open.", example="1750 mm")
    open_side: OpenSide | None = told("The side that it opens to.", example="rear")
    hinged_at: OpenSide | None = told("The edge that it turns on.", example="left")
    opens_to: Angle | None = told("How far it turns; a quarter turn where not given.", example="110°")
    latch: Latch | None = told("What keeps it from moving under way.")
    opens_from_both_sides: bool | None = told("Whether a person on either side can open it when bolted.")
    gap_below: Length | None = told("Gap below it for air.", example="20 mm")


class StepBody(Shaped):
    """What steps have."""

    system: ClassVar[System] = System.space
    place: Literal["inside", "entrance"] | None = told("Where it is.")
    rise: Length | None = told("Height of one step.", example="220 mm")
    depth: Length | None = told("Depth of the tread.", example="250 mm")
    load_limit: Mass | None = told("Greatest load on it.", example="150 kg")
    lock: Lock | None = told("What keeps it in under way.")
    out_warning: bool | None = told("Whether a signal tells the driver that it is out.")


class Step(StepBody):
    """A step, fixed or worked by hand or foot."""

    kind: Literal["step"]
    form: Literal["fixed", "slide-out", "folding", "loose"] | None = told("What it is.")


class PoweredStep(StepBody, Consumer):
    """An entrance step with a motor."""

    letter: ClassVar[str] = "M"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    kind: Literal["powered-step"]
    retracts_with_ignition: bool | None = told("Whether it retracts when the ignition is switched on.")
    hand_way: str | None = told("How it is moved when the motor is dead.", example="pull the pin, push in")


KINDS: tuple[type[Component], ...] = (
    Cabinet,
    Shelf,
    DrawerUnit,
    Wardrobe,
    Worktop,
    Table,
    TablePedestal,
    Partition,
    InteriorDoor,
    Step,
    PoweredStep,
)
