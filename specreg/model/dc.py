"""Direct current: batteries, boxes of fuses, bus-bars, disconnects, switches."""

from typing import ClassVar, Literal, Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.component import Component, System
from specreg.model.device import ProtectiveDevice, fitted
from specreg.model.field import Spec, told
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Area, Charge, Current, Resistance, Share, Temperature, Voltage

POSITIVE = Port("positive", Medium.dc, Role.positive)
NEGATIVE = Port("negative", Medium.dc, Role.negative)


class Battery(Component):
    """A battery or a bank sold as one; several in parallel or series are several components."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "G"
    kind: Literal["battery"]
    chemistry: Literal["lithium iron phosphate", "agm", "gel", "flooded"] | None = told(
        "Chemistry of its cells."
    )
    nominal_voltage: Voltage | None = told("Nominal voltage.", example="12.8 V")
    capacity: Charge | None = told("Rated capacity.", example="100 Ah")
    usable: Share | None = told("Share of the capacity that is used day by day.", example="80 %")
    internal_resistance: Resistance | None = told("Internal resistance.", example="4 mΩ")
    short_circuit_current: Current | None = told(
        "Greatest short-circuit current that the maker states, without credit for a management board.",
        example="2.5 kA",
    )
    charge_current: Current | None = told("Greatest charging current.", example="100 A")
    discharge_current: Current | None = told("Greatest continuous discharge current.", example="150 A")
    least_charging_temperature: Temperature | None = told(
        "Below this it must not be charged.", example="0 °C"
    )
    cold_charge_lockout: bool | None = told("Whether charging stops by itself below that temperature.")
    heated: bool | None = told("Whether it warms itself before charging.")
    kept_above: Temperature | None = told(
        "Temperature that its place is kept above while people are aboard.", example="5 °C"
    )
    highest_charge_voltage: Voltage | None = told("Highest voltage while charging.", example="14.4 V")
    management: Literal["built in", "external", "none"] | None = told("Where its management board sits.")
    role: Literal["house", "starter"] = told("What it is for.", default="house")
    vent_area_low: Area | None = told("Free area of the low vent of its box to outside.", example="1100 mm²")
    vent_area_high: Area | None = told("Free area of the high vent of its box to outside.")
    terminals_covered: bool | None = told("Whether its live terminals are covered.")

    @model_validator(mode="after")
    def _one_entry_each(self) -> Self:
        """Refuse several batteries as one: how they are joined decides what a short circuit gives."""
        if self.count != 1:
            raise PydanticCustomError(
                "battery", "one battery to an entry: each has its own lead and its own fuse"
            )
        return self

    def ports(self) -> tuple[Port, ...]:
        """Return its two poles."""
        return (POSITIVE, NEGATIVE)

    def feeds(self) -> tuple[Feed, ...]:
        """Return the battery as a source that does not limit itself."""
        missing = () if self.fault_current else ("short_circuit_current", "internal_resistance")
        return (Feed("positive", None, self.fault_current, self.nominal_voltage, missing=missing),)

    @property
    def fault_current(self) -> float | None:
        """Return the prospective current at its terminals in ampere: the maker's, else E/R."""
        if self.short_circuit_current is not None:
            return self.short_circuit_current
        if self.internal_resistance and self.nominal_voltage:
            return (self.highest_charge_voltage or self.nominal_voltage) / self.internal_resistance
        return None


class FuseBox(Component):
    """A box of fused ways with a common feed, with or without a bar for the returns."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "F"
    kind: Literal["fuse-box"]
    ways: dict[str, ProtectiveDevice | None] = told(
        "The ways by number or name, each with its device; `{}` is a way without one.",
        factory=dict,
        example="{4: {fuse: 10 A, family: blade, label: Water pump}}",
    )
    way_count: int | None = told("How many ways it has, the free ones included.")
    negative_bar: bool = told("Whether it carries a bar for the returns.", default=True)
    rated_current: Current | None = told("Greatest current of the whole box.", example="100 A")
    way_current: Current | None = told("Greatest current of one way.", example="30 A")
    cover: bool | None = told("Whether a cover keeps tools and fingers off.")

    def ports(self) -> tuple[Port, ...]:
        """Return its feed and its ways."""
        role = Role.pair if self.negative_bar else Role.positive
        feed = Port("feed", Medium.dc, role, Way.into, needed=True, main=True)
        return (feed, *(Port(way, Medium.dc, role, Way.out) for way in self.ways))

    def links(self) -> tuple[Link, ...]:
        """Return the joint of the feed to each way, through its device where there is one."""
        fused = tuple(
            Link(
                "feed",
                way,
                LinkKind.device if fitted(device) else LinkKind.plain,
                ("positive",),
                device=fitted(device),
                name=way,
            )
            for way, device in self.ways.items()
        )
        bar = tuple(Link("feed", way, cores=("negative",)) for way in self.ways) if self.negative_bar else ()
        return fused + bar


class BusBar(Component):
    """A bar that joins several cables of one polarity."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "W"
    kind: Literal["bus-bar"]
    polarity: Literal["positive", "negative"] = told("Its polarity.", default="positive")
    studs: int = told("How many studs it has; they are ports 1, 2, 3 …", default=4)
    rated_current: Current | None = told("Greatest continuous current.", example="250 A")
    cover: bool | None = told("Whether a cover keeps tools and fingers off.")

    def ports(self) -> tuple[Port, ...]:
        """Return a port for each stud."""
        return tuple(Port(str(n), Medium.dc, Role(self.polarity)) for n in range(1, self.studs + 1))

    def links(self) -> tuple[Link, ...]:
        """Return the bar itself."""
        return tuple(Link("1", str(n)) for n in range(2, self.studs + 1))


class DisconnectSwitch(Component):
    """A switch that parts a battery, or a branch, from the rest by hand."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "Q"
    kind: Literal["disconnect"]
    polarity: Literal["positive", "negative"] = told("The conductor that it opens.", default="positive")
    rated_current: Current | None = told("Greatest continuous current.", example="300 A")
    reachable: str | None = told("How a hand gets to it.", example="behind the flap beside the side door")

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        role = Role(self.polarity)
        return (Port("in", Medium.dc, role), Port("out", Medium.dc, role))

    def links(self) -> tuple[Link, ...]:
        """Return its contact."""
        return (Link("in", "out", LinkKind.switch),)


class FuseHolder(Component):
    """A stand-alone fuse holder or breaker between two cables."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "F"
    kind: Literal["fuse-holder"]
    device: ProtectiveDevice | None = told(
        "The fuse or breaker in it.", example="{fuse: 100 A, family: mega}"
    )

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return (Port("in", Medium.dc, Role.positive), Port("out", Medium.dc, Role.positive))

    def links(self) -> tuple[Link, ...]:
        """Return the device, or a straight joint where none is fitted."""
        device = fitted(self.device)
        return (Link("in", "out", LinkKind.device if device else LinkKind.plain, device=device),)


class Shunt(Component):
    """A measuring resistor in the negative lead of a battery."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "B"
    kind: Literal["shunt"]
    rated_current: Current | None = told("Greatest continuous current.", example="500 A")

    def ports(self) -> tuple[Port, ...]:
        """Return the battery side and the system side."""
        return (
            Port("battery", Medium.dc, Role.negative),
            Port("system", Medium.dc, Role.negative),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the resistor."""
        return (Link("battery", "system"),)


class PanelWay(Spec):
    """One way of a switch panel."""

    label: str | None = told("The words beside the switch.", example="Water pump")
    rated_current: Current | None = told("Greatest current of the switch.", example="10 A")
    form: Literal["switch", "dimmer", "push button", "always on"] = told("What it is.", default="switch")


class SwitchPanel(Component):
    """A panel of switches; each way has an incoming and an outgoing side."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "S"
    kind: Literal["switch-panel"]
    ways: dict[str, PanelWay] = told(
        "The ways by number or name.", factory=dict, example="{1: {label: Water pump, rated_current: 10 A}}"
    )

    def ports(self) -> tuple[Port, ...]:
        """Return two ports of each way, in and out."""
        sides = (("in", Way.into), ("out", Way.out))
        return tuple(
            Port(way, Medium.dc, Role.pair, direction, side=side)
            for way in self.ways
            for side, direction in sides
        )

    def links(self) -> tuple[Link, ...]:
        """Return the switch of each way and the through-connected return."""
        switches = tuple(
            Link(
                f"{way} in",
                f"{way} out",
                LinkKind.plain if spec.form == "always on" else LinkKind.switch,
                ("positive",),
                name=way,
            )
            for way, spec in self.ways.items()
        )
        returns = tuple(Link(f"{way} in", f"{way} out", cores=("negative",)) for way in self.ways)
        return switches + returns


class ChassisPoint(Component):
    """A stud that bonds negative conductors to the body."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "X"
    kind: Literal["chassis-point"]
    measured_resistance: Resistance | None = told("Resistance to the battery negative, as measured.")

    def ports(self) -> tuple[Port, ...]:
        """Return the stud."""
        return (Port("stud", Medium.dc, Role.negative, main=True),)


KINDS: tuple[type[Component], ...] = (
    Battery,
    FuseBox,
    BusBar,
    DisconnectSwitch,
    FuseHolder,
    Shunt,
    SwitchPanel,
    ChassisPoint,
)
"""The kinds of this module."""
