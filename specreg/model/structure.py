"""The body and what hangs on it: exits, linings, carriers, pop-top, and what was taken out."""

from typing import ClassVar, Literal

from specreg.model.component import Component, Consumer, Fuel, System
from specreg.model.field import Reader, Spec, told
from specreg.model.quantity import (
    Area,
    BurnRate,
    Day,
    Density,
    Force,
    Length,
    Mass,
    Offset,
    Pressure,
    Volume,
)
from specreg.model.shape import Shaped

Origin = Literal["base vehicle", "retrofitted"]
Lock = Literal["positive", "friction", "none"]


class Original(Component):
    """A thing that the base vehicle may have brought with it."""

    origin: Origin | None = told(
        "Whether it came with the base vehicle, so that its mass is in the ticket as received, or was fitted."
    )


class Carrier(Component):
    """Something that carries a load."""

    load_limit: Mass | None = told("Greatest load that its maker allows.", example="50 kg")
    carried: Mass | None = told("Load that it carries in the loaded cases.", example="20 kg")


class RoofRack(Carrier):
    """A rack or rails on the roof."""

    system: ClassVar[System] = System.mass
    kind: Literal["roof-rack"]
    feet: int | None = told("How many feet it stands on.", example="8")
    mounting: Literal["original roof points", "rail", "through the roof", "bonded"] | None = told(
        "How it meets the roof."
    )


class Ladder(Carrier):
    """A ladder to a bunk or to the roof."""

    system: ClassVar[System] = System.space
    kind: Literal["ladder"]
    serves: str | None = told("The component that it leads to.", example="bunk")
    place: Literal["inside", "outside"] | None = told("Where it is used.")
    stowed_in: str | None = told("Where it is kept under way, if it is loose.", example="wardrobe")
    lock: Lock | None = told("What holds it in use.")


class AwningBody(Shaped, Original):
    """What awnings have."""

    system: ClassVar[System] = System.space
    length: Length | None = told("Length of the case.", example="3.2 m")
    projection: Length | None = told("How far it reaches out when open.", example="2.5 m")
    side: Literal["left", "right", "rear"] | None = told("Which side of the van it is on.")
    lock: Lock | None = told("What keeps it closed under way.")


class Awning(AwningBody):
    """An awning worked by hand."""

    kind: Literal["awning"]


class PoweredAwning(AwningBody, Consumer):
    """An awning with a motor."""

    letter: ClassVar[str] = "M"
    kind: Literal["powered-awning"]
    hand_crank: bool | None = told("Whether it can be wound in by hand when the motor is dead.")


class BikeCarrier(Carrier, Shaped):
    """A carrier for bicycles at the rear."""

    system: ClassVar[System] = System.mass
    kind: Literal["bike-carrier"]
    mounting: Literal["rear door", "tow-bar", "body", "inside"] | None = told("What it hangs on.")
    bikes: int | None = told("How many bicycles it takes.", example="2")
    overhang: Length | None = told("How far it reaches behind the body when loaded.", example="650 mm")
    covers: tuple[Literal["registration plate", "lamps", "exit"], ...] = told(
        "What it covers when loaded.", default=()
    )


class TowBar(Carrier, Original):
    """A coupling for a trailer; `load_limit` and `carried` are the vertical load on it."""

    system: ClassVar[System] = System.mass
    kind: Literal["tow-bar"]
    trailer_limit: Mass | None = told("Greatest mass of a braked trailer.", example="2000 kg")
    d_value: Force | None = told("D value on its plate.", example="11.5 kN")
    overhang: Length | None = told("Distance of the ball behind the rear axle.", example="1150 mm")


class Layer(Spec):
    """One sheet, board or filling."""

    material: str | None = told("What it is made of.", example="poplar plywood")
    area: Area | None = told("Area of one face, cut-outs taken off.", example="1.8 m²")
    thickness: Length | None = told("Thickness.", example="15 mm")
    density: Density | None = told("Density by its data sheet.", example="460 kg/m³")
    count: int = told("How many alike.", default=1)


class LayeredPanel(Component):
    """Part of the inner shell; its boards count for heat where no `insulation-layer` tells the lining."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "N"
    surface: Literal["floor", "ceiling", "left", "right", "front", "rear", "door"] | None = told(
        "The side of the shell that it lines."
    )
    layers: tuple[Layer, ...] = told("Its layers from the body inwards.", default=())
    burn_rate: BurnRate | None = told("Horizontal burn rate of the inner layer.", example="60 mm/min")
    burn_test: str | None = told("The test that the burn rate comes from.", example="ISO 3795 report")


class Floor(LayeredPanel):
    """A floor laid on the load floor."""

    kind: Literal["floor"]


class Lining(LayeredPanel):
    """A wall or ceiling lining."""

    kind: Literal["lining"]
    hides: tuple[str, ...] = told("The runs that it covers once it is closed.", default=())


class InsulatedPanel(LayeredPanel):
    """A ready-made sandwich panel."""

    kind: Literal["insulated-panel"]


class RemovedItem(Component):
    """A part of the base vehicle that was taken out: its mass counts against the ticket as received."""

    system: ClassVar[System] = System.mass
    mass_sign: ClassVar[int] = -1
    kind: Literal["removed-item"]
    removed_on: Day | None = told("Day on which it was taken out.", reader=Reader.owner)
    kept: Literal["given to the owner", "kept by the workshop", "disposed of"] | None = told(
        "Where it went.", reader=Reader.owner
    )


class SpareWheel(Original):
    """A spare wheel, or a repair kit in its place."""

    system: ClassVar[System] = System.vehicle
    kind: Literal["spare-wheel"]
    form: Literal["full size", "temporary", "repair kit"] | None = told("What it is.")
    tyre: str | None = told("Size and load index of the tyre.", example="225/75 R16 CP 116R")
    pressure: Pressure | None = told("Tyre pressure.", example="4.75 bar")
    place: Literal["under the floor", "rear door", "inside", "roof"] | None = told("Where it is carried.")


class Exit(Original):
    """A door, window or hatch through which a person can leave; `at` and `size` are its opening."""

    system: ClassVar[System] = System.fire
    letter: ClassVar[str] = "Q"
    kind: Literal["exit"]
    form: Literal["sliding door", "hinged door", "window", "hatch"] | None = told("What it is.")
    where: Literal["side", "rear", "roof", "cab"] | None = told("Where in the body it is.")
    is_part: str | None = told("The window or hatch component that it is, if listed.", example="rear-window")
    opening_width: Length | None = told("Clear width of the opening.", example="610 mm")
    opening_height: Length | None = told("Clear height, in a roof the clear length.", example="430 mm")
    sill_height: Offset | None = told("Height of its lower edge above the floor.", example="900 mm")
    opens_from_inside: bool | None = told("Whether a person inside can open it when it is locked.")
    opens_with: str | None = told("What it takes to open it from inside.", example="two levers, no tool")
    needs_power: bool | None = told("Whether it opens only with electric power.")
    shut_by: tuple[str, ...] = told(
        "Components that keep it shut or covered, such as a carrier on the door.", default=()
    )
    sign: str | None = told("The sign at it.", example="EXIT, pull red lever")


class FuelCan(Carrier):
    """Fuel carried beside the vehicle's own tank."""

    system: ClassVar[System] = System.mass
    letter: ClassVar[str] = "C"
    kind: Literal["fuel-can"]
    content: Fuel | None = told("What is in it.", example="diesel")
    volume: Volume | None = told("Volume when full.", example="10 l")
    place: Literal["inside", "outside", "locker open to outside only"] | None = told("Where it is carried.")
    restraint: str | None = told("What holds it.", example="bracket with strap")


class Luggage(Component):
    """Loose things that travel along: clothes, food, chairs; `mass` is the allowance for them."""

    system: ClassVar[System] = System.mass
    kind: Literal["luggage"]
    stowed_in: str | None = told("The cabinet, rack or zone where it travels.", example="rear-garage")
    restraint: str | None = told("What holds it under way.", example="net with four hooks")


class PopTop(Shaped, Original):
    """A roof that can be raised."""

    system: ClassVar[System] = System.space
    letter: ClassVar[str] = "N"
    kind: Literal["pop-top"]
    raised_height: Length | None = told("Inner height gained when it is up.", example="900 mm")
    roof_load: Mass | None = told("Greatest load on its shell.", example="30 kg")
    lock: Lock | None = told("What keeps it down under way.")
    latches: int | None = told("How many latches hold it down.", example="2")
    warning_contact: bool | None = told("Whether a contact warns the driver when it is not shut.")
    test_report: str | None = told("Report on the strength of the opened roof.", example="report 0000")
    fabric_burn_rate: BurnRate | None = told("Horizontal burn rate of its fabric.", example="80 mm/min")


KINDS: tuple[type[Component], ...] = (
    RoofRack,
    Ladder,
    Awning,
    PoweredAwning,
    BikeCarrier,
    TowBar,
    Floor,
    Lining,
    InsulatedPanel,
    RemovedItem,
    SpareWheel,
    Exit,
    FuelCan,
    Luggage,
    PopTop,
)
