"""Mains: from the shore inlet to the sockets and what is plugged into them."""

from typing import ClassVar, Literal

from specreg.model.component import MAINS, AcConsumer, Component, System
from specreg.model.conversion import AC_OUT, NeutralBond, limited
from specreg.model.field import told
from specreg.model.mains_device import (
    OUT,
    MainsBoard,
    MainsBreaker,
    MainsIsolator,
    ResidualCurrentDevice,
    ResidualProtected,
    joint,
    residual_joint,
)
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import (
    Area,
    Conductor,
    Current,
    Frequency,
    Length,
    Power,
    Resistance,
    Share,
    Voltage,
)


class ShoreInlet(Component):
    """The inlet for the shore lead: the place at which the supply on shore begins for the van."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "X"
    kind: Literal["shore-inlet"]
    rated_current: Current | None = told("Rated current.", example="16 A")
    rated_voltage: Voltage | None = told("Rated voltage.", example="230 V")
    frequency: Frequency | None = told("Frequency of the supply.", example="50 Hz")
    pattern: str | None = told("Standard pattern of its pins.", example="IEC 60309-2, 2P+E")
    height_above_ground: Length | None = told("Height of its middle above the ground.", example="900 mm")
    lid: Literal["none", "loose", "sprung"] | None = told("Its lid.", example="sprung")
    plate: str | None = told("What is written on the plate beside it.", example="230 V 50 Hz 16 A")
    site_current: Current | None = told(
        "Smallest rating of a site supply that it is meant for.", example="6 A"
    )
    fault_current: Current | None = told("Prospective fault current of the site supply.", example="1 kA")

    def ports(self) -> tuple[Port, ...]:
        """Return its van side."""
        return (Port("out", Medium.ac, Role.cable, Way.out, main=True),)

    def feeds(self) -> tuple[Feed, ...]:
        """Return the supply on shore; what limits it is on the site."""
        missing = () if self.fault_current else ("fault_current",)
        return (Feed("out", None, self.fault_current, self.rated_voltage, frozenset({"shore"}), missing),)


class ShoreLead(Component):
    """The portable lead from the site to the inlet, or an adapter for it."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "W"
    kind: Literal["shore-lead"]
    form: Literal["lead", "adapter"] = told("Whether it is the lead or an adapter.", default="lead")
    length: Length | None = told("Its length.", example="25 m")
    conductor: Conductor | None = told("Cross-section of its cores.", example="2.5 mm²")
    cable_type: str | None = told("Type of the cable.", example="H07RN-F 3G2.5")
    rated_current: Current | None = told("Rated current of its plugs.", example="16 A")
    site_end: str | None = told("Pattern of the end at the site.", example="IEC 60309-2, 2P+E")
    van_end: str | None = told("Pattern of the end at the van.", example="IEC 60309-2, 2P+E")


class TransferSwitch(Component):
    """A changeover switch: one of several sources feeds the output."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "Q"
    kind: Literal["transfer-switch"]
    sources: dict[str, Literal["shore", "inverter", "generator"]] = told(
        "Its inputs by name, each with the source mode in which it is chosen.",
        factory=lambda: {"shore": "shore", "inverter": "inverter"},
        example="{shore: shore, inverter: inverter}",
    )
    works: Literal["by hand", "by itself"] | None = told("Who changes it over.")
    switched_cores: Literal["line", "line and neutral"] | None = told("What it changes over.")
    rated_current: Current | None = told("Rated current.", example="25 A")

    def ports(self) -> tuple[Port, ...]:
        """Return its inputs and its output."""
        return (*(Port(name, Medium.ac, Role.cable, Way.into) for name in self.sources), OUT)

    def links(self) -> tuple[Link, ...]:
        """Return the contact of each input; what it does not change over is always joined."""
        single = self.switched_cores == "line"
        cores = ("line",) if single else ("line", "neutral")
        through = ("neutral", "earth") if single else ("earth",)
        contacts = (
            Link(name, "out", LinkKind.contact, cores, modes=frozenset({mode}), name=name)
            for name, mode in self.sources.items()
        )
        return (*contacts, *(Link(name, "out", cores=through) for name in self.sources))


class BondingPoint(Component):
    """A stud that bonds the protective conductor to the body and other metal."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "X"
    kind: Literal["bonding-point"]
    bonds: tuple[str, ...] = told(
        "The metal parts that meet here.", default=(), example="[body, gas pipe, sink]"
    )
    measured_resistance: Resistance | None = told(
        "Resistance from here to the earth pin of the inlet, as measured.", example="50 mΩ"
    )

    def ports(self) -> tuple[Port, ...]:
        """Return the stud."""
        return (Port("stud", Medium.ac, Role.earth, main=True),)


class Socket(ResidualProtected):
    """A mains socket; what is plugged into it is run from its `outlet`."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "X"
    kind: Literal["socket"]
    outlets: int = told("How many outlets it has.", default=1)
    rated_current: Current | None = told("Rated current.", example="13 A")
    pattern: str | None = told("Standard pattern of the outlet.", example="BS 1363")
    earth_contact: bool | None = told("Whether it has an earth contact.")
    shutters: bool | None = told("Whether shutters close its holes.")
    switched_poles: int | None = told("Poles that its own switch opens; 0 is none.", example="2")
    outside: bool | None = told("Whether it is on the outside of the van.")
    enclosure: str | None = told("Degree of protection.", example="IP44")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply, its outlet, and where the cable loops on to the next socket."""
        return (
            MAINS,
            Port("outlet", Medium.ac, Role.cable, Way.out),
            Port("loop", Medium.ac, Role.cable, Way.out),
        )

    def links(self) -> tuple[Link, ...]:
        """Return its joints; with a residual-current switch in it, the loop lies behind that too."""
        if self.residual:
            return (*residual_joint("mains", "outlet", self.residual), Link("outlet", "loop"))
        return (Link("mains", "loop"), *self._outlet())

    def _outlet(self) -> tuple[Link, ...]:
        kind = LinkKind.switch if self.switched_poles else LinkKind.plain
        return joint(Link("mains", "outlet", kind), self.switched_poles)


class Generator(NeutralBond, Component):
    """An engine that makes mains, built in or portable."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "G"
    kind: Literal["generator"]
    rated_power: Power | None = told("Continuous output power.", example="1.6 kW")
    surge_power: Power | None = told("Output power for a short time.", example="1.8 kW")
    output_voltage: Voltage | None = told("Output voltage.", example="230 V")
    frequency: Frequency | None = told("Output frequency.", example="50 Hz")
    short_circuit_current: Current | None = told("Greatest output current into a short circuit.")
    burns: Literal["petrol", "diesel", "lpg"] | None = told("The fuel that it burns.")
    built_in: bool | None = told("Whether it is fitted in the van rather than set up outside.")
    compartment_vent_area: Area | None = told("Free area of the vents of its compartment to outside.")

    def ports(self) -> tuple[Port, ...]:
        """Return its output; a built-in one also has fuel and exhaust."""
        fitted = (
            Port("fuel", Medium.gas if self.burns == "lpg" else Medium.fuel, way=Way.into, needed=True),
            Port("exhaust", Medium.exhaust, way=Way.out),
        )
        return (AC_OUT, *(fitted if self.built_in else ()))

    def feeds(self) -> tuple[Feed, ...]:
        """Return its output as a source; nothing but a stated figure is taken for its limit."""
        greatest, volts = self.short_circuit_current, self.output_voltage
        return (limited("ac-out", greatest, "short_circuit_current", volts, frozenset({"generator"})),)


class MainsAppliance(AcConsumer):
    """Anything that runs on mains and has no kind of its own: kettle, induction hob, laptop."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "E"
    kind: Literal["mains-appliance"]
    mains_voltage: Voltage | None = told("Rated voltage.", example="230 V")
    start_power: Power | None = told("Power at start.", example="3 kW")
    power_factor: Share | None = told("Power factor.", example="90 %")
    continuous: bool | None = told("Whether it runs for three hours or more at a stretch.")
    plugged: bool | None = told("Whether it is plugged in rather than wired.")
    protection_class: Literal["I", "II", "III"] | None = told(
        "Class of protection against shock: earthed, double insulated, or safety extra-low voltage."
    )
    modes: tuple[Literal["shore", "inverter", "generator"], ...] = told(
        "The source modes in which people are meant to use it; none stated is all.",
        default=(),
        example="[shore]",
    )


KINDS: tuple[type[Component], ...] = (
    ShoreInlet,
    ShoreLead,
    MainsBoard,
    ResidualCurrentDevice,
    MainsBreaker,
    MainsIsolator,
    TransferSwitch,
    BondingPoint,
    Socket,
    Generator,
    MainsAppliance,
)
"""The kinds of this module."""
