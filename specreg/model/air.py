"""Air: vents, fans, windows and hatches, ducts and outlets."""

from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, LoadKind, System
from specreg.model.field import told
from specreg.model.fluid import InLine, branches, into, out
from specreg.model.port import Link, LinkKind, Medium, Port
from specreg.model.quantity import Area, Flow, HeatTransfer, Length, Share

AIR = Medium.air
Surface = Literal["roof", "left wall", "right wall", "rear doors", "side door", "floor", "cab"]


class Vent(Component):
    """A fixed ventilation opening."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "N"
    kind: Literal["vent"]
    free_area: Area | None = told("Free area, mesh and louvres taken off.", example="20 cm²")
    area_known_from: Literal["maker", "measured", "estimated"] | None = told("How that area is known.")
    surface: Surface | None = told("The surface that it is cut into.", example="floor")
    position: Literal["high", "low"] | None = told("Where it sits; needed where its place is not given.")
    opens_into: str | None = told(
        "The enclosure that it ventilates, where that is not the living space.", example="fridge-cabinet"
    )
    closable: bool | None = told("Whether it can be shut.")
    covered_by: str | None = told("What stands before it, in any mode.")
    mesh: bool | None = told("Whether a mesh keeps insects out.")

    def ports(self) -> tuple[Port, ...]:
        """Return its opening, for a duct."""
        return (Port("duct", AIR, main=True),)


class Fan(Consumer):
    """What fans have."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "G"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    greatest_flow: Flow | None = told("Air moved at full speed in free air.", example="1500 m³/h")
    least_flow: Flow | None = told("Air moved at the lowest speed.", example="180 m³/h")
    night_flow: Flow | None = told("Air moved at the speed used at night.", example="240 m³/h")
    reversible: bool | None = told("Whether it can blow in as well as out.")


class RoofFan(Fan):
    """A fan in a roof opening, with a lid."""

    kind: Literal["roof-fan"]
    free_area: Area | None = told("Free area with the lid open and the fan at rest.", example="400 cm²")
    free_area_closed: Area | None = told("Free area with the lid shut.", example="0 cm²")
    opening_size: tuple[Length, Length] | None = told("Cut-out along and across.", example="[400 mm, 400 mm]")
    lid: Literal["hand", "motor"] | None = told("What moves the lid.")
    rain_sensor: bool | None = told("Whether it shuts itself when it rains.")
    heat_transfer: HeatTransfer | None = told("U-value of the shut lid.", example="4 W/(m²·K)")


class DuctFan(Fan):
    """A fan in a duct, such as that of a dry toilet or a fridge."""

    kind: Literal["duct-fan"]

    def ports(self) -> tuple[Port, ...]:
        """Return supply and both sides."""
        return (SUPPLY, into("in", AIR, main=True), out("out", AIR, main=True))

    def links(self) -> tuple[Link, ...]:
        """Return the way through."""
        return (Link("in", "out"),)


class ExtractorHood(Fan):
    """A hood over the hob."""

    kind: Literal["extractor-hood"]
    ducted: bool = told("Whether it blows outside rather than through a filter.", default=True)
    height_above_hob: Length | None = told("Its height above the hob.", example="600 mm")
    free_area: Area | None = told("Free area to outside with the fan at rest.", example="60 cm²")

    def ports(self) -> tuple[Port, ...]:
        """Return supply, and the duct of a hood that blows outside."""
        return (SUPPLY, out("duct", AIR, main=True)) if self.ducted else (SUPPLY,)


class Glazing(Component):
    """What windows have."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "N"
    surface: Surface | None = told("The surface that it is cut into.", example="left wall")
    area: Area | None = told("Area of the opening in the body.", example="0.45 m²")
    heat_transfer: HeatTransfer | None = told("Thermal transmittance (U-value).", example="2.9 W/(m²·K)")
    glazing_mark: str | None = told("Approval mark on the pane.", example="E1 43R-000000")
    material: Literal["acrylic", "glass"] | None = told("What the pane is made of.")


class FixedWindow(Glazing):
    """A window that does not open."""

    kind: Literal["fixed-window"]


class OpeningGlazing(Glazing):
    """What windows and hatches that open have."""

    opening_area: Area | None = told("Free area for air when fully open.", example="0.2 m²")
    night_area: Area | None = told("Free area on the ventilation catch.", example="30 cm²")
    fixed_area: Area | None = told("Free area of the ventilation that cannot be shut.", example="150 cm²")
    clear_width: Length | None = told("Clear width when fully open.", example="700 mm")
    clear_height: Length | None = told("Clear height, or length of a hatch, when fully open.")
    sill_height: Length | None = told("Height of its lower edge above the floor or bed inside.")
    worked_from_inside: Literal["hand", "tool", "key", "motor", "not"] | None = told(
        "What opens it from inside."
    )
    insect_screen: bool | None = told("Whether an insect screen is before it.")
    exit_sign: bool | None = told("Whether a sign marks it as a way out.")
    blocked_by: tuple[str, ...] = told("Components that stand before it, in any mode.", default=())


class OpeningWindow(OpeningGlazing):
    """A window that opens."""

    kind: Literal["opening-window"]
    form: Literal["top-hung", "sliding", "wind-down"] | None = told("How it opens.")


class RoofHatch(OpeningGlazing):
    """A hatch or roof window."""

    kind: Literal["roof-hatch"]
    open_under_way: bool | None = told("Whether the maker lets it stand open while driving.")


class AirOutlet(Component):
    """The end of a warm-air or ventilation duct."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "X"
    kind: Literal["air-outlet"]
    closable: bool | None = told("Whether it can be shut.")
    bore: Length | None = told("Inner diameter.", example="60 mm")
    opens_into: str | None = told("The enclosure that it blows into, if not the living space.")

    def ports(self) -> tuple[Port, ...]:
        """Return the duct to it."""
        return (into("in", AIR, needed=True, main=True),)


class DuctBranch(Component):
    """A branch in a duct, with or without a flap."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "W"
    kind: Literal["duct-branch"]
    outlets: int = told("How many ducts leave it; they are ports 1, 2, 3 …", default=2)
    flap: bool = told("Whether a flap can shut its outlets.", default=False)
    flap_leaves: Share | None = told("Share of the air that still passes with the flap shut.")

    def _names(self) -> tuple[str, ...]:
        return tuple(str(n) for n in range(1, self.outlets + 1))

    def ports(self) -> tuple[Port, ...]:
        """Return the inlet and the numbered outlets."""
        return (into("in", AIR, main=True), *branches(self._names(), AIR))

    def links(self) -> tuple[Link, ...]:
        """Return the way to each outlet."""
        kind = LinkKind.valve if self.flap else LinkKind.plain
        return tuple(Link("in", name, kind, name=name) for name in self._names())


class DuctSilencer(InLine):
    """A silencer in a duct."""

    system: ClassVar[System] = System.air
    letter: ClassVar[str] = "R"
    carries: ClassVar[Medium] = Medium.air
    kind: Literal["duct-silencer"]
    bore: Length | None = told("Inner diameter.", example="60 mm")


KINDS: tuple[type[Component], ...] = (
    Vent,
    RoofFan,
    DuctFan,
    ExtractorHood,
    FixedWindow,
    OpeningWindow,
    RoofHatch,
    AirOutlet,
    DuctBranch,
    DuctSilencer,
)
