"""Mains: the board and the devices that open a mains cable, and how their poles join its cores."""

from dataclasses import replace
from typing import ClassVar, Literal

from specreg.model.component import Component, System
from specreg.model.device import ProtectiveDevice, fitted
from specreg.model.field import Spec, told
from specreg.model.port import Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Current, Duration

IN = Port("in", Medium.ac, Role.cable, Way.into)
OUT = Port("out", Medium.ac, Role.cable, Way.out)


class ResidualCurrentSwitch(Spec):
    """A switch that trips on residual current only: it protects people, not cables."""

    rated_current: Current | None = told("Rated current of its contacts.", example="40 A")
    residual_current: Current | None = told("Rated residual current.", example="30 mA")
    residual_type: Literal["AC", "A", "F", "B", "GFCI"] | None = told(
        "Type of residual current that it detects.", example="A"
    )
    poles: int | None = told("Poles that it opens.", example="2")
    trip_time: Duration | None = told("Greatest time to trip, by its maker.", example="40 ms")


def joint(link: Link, poles: int | None) -> tuple[Link, ...]:
    """Return a joint that opens the line, with two poles the neutral too, and never the earth.

    Unknown poles count as one: the neutral is then through-connected.
    """
    if link.kind is LinkKind.plain:
        return (link,)
    opened, through = (("line", "neutral"), ("earth",)) if poles == 2 else (("line",), ("neutral", "earth"))
    return (replace(link, cores=opened), Link(link.a, link.b, cores=through))


def device_joint(a: str, b: str, device: ProtectiveDevice | None, name: str = "") -> tuple[Link, ...]:
    """Return a joint through a device, or a straight one where none is fitted."""
    device = fitted(device)
    kind = LinkKind.device if device else LinkKind.plain
    return joint(Link(a, b, kind, device=device, name=name), device.poles if device else None)


def residual_joint(a: str, b: str, switch: ResidualCurrentSwitch | None) -> tuple[Link, ...]:
    """Return a joint through a residual-current switch, or a straight one where none is fitted."""
    if switch is None:
        return (Link(a, b),)
    return joint(Link(a, b, LinkKind.switch, name="residual"), switch.poles)


class ResidualProtected(Component):
    """A component that may hold a residual-current switch; its link is named `residual`."""

    residual: ResidualCurrentSwitch | None = told(
        "The residual-current switch in it.",
        example="{rated_current: 40 A, residual_current: 30 mA, residual_type: A, poles: 2}",
    )


class MainsBoard(ResidualProtected):
    """The distribution board: incoming devices, an inner bar and the ways."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "F"
    kind: Literal["mains-board"]
    main: ProtectiveDevice | None = told(
        "The incoming breaker, after the residual-current switch where both are fitted.",
        example="{breaker: 16 A, poles: 2}",
    )
    ways: dict[str, ProtectiveDevice | None] = told(
        "The ways by number or name, each with its device; `{}` is a way without one.",
        factory=dict,
        example="{1: {breaker: 10 A, poles: 2, label: Sockets}}",
    )
    way_count: int | None = told("How many ways it has, the free ones included.")
    rated_current: Current | None = told("Rated current of the board.", example="40 A")
    enclosure: str | None = told("Degree of protection of its housing.", example="IP40")
    neutral_bond: Literal["none", "fixed"] | None = told("Whether a strap joins neutral to earth in it.")

    def ports(self) -> tuple[Port, ...]:
        """Return its feed, its inner bars, its earth bar and its ways."""
        middle = (Port("middle", Medium.ac, Role.cable),) if self.residual and self.main else ()
        return (
            Port("feed", Medium.ac, Role.cable, Way.into, needed=True, main=True),
            *middle,
            Port("bar", Medium.ac, Role.cable),
            Port("earth", Medium.ac, Role.earth),
            *(Port(way, Medium.ac, Role.cable, Way.out) for way in self.ways),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the incoming devices in order, the earth bar, and the device of each way."""
        ways = (link for way, device in self.ways.items() for link in device_joint("bar", way, device, way))
        return (*self._incoming(), Link("feed", "earth"), *ways)

    def _incoming(self) -> tuple[Link, ...]:
        if self.residual and self.main:
            first = residual_joint("feed", "middle", self.residual)
            return first + device_joint("middle", "bar", self.main, "main")
        if self.residual:
            return residual_joint("feed", "bar", self.residual)
        return device_joint("feed", "bar", self.main, "main")


class ResidualCurrentDevice(ResidualProtected):
    """A residual-current switch in a housing of its own."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "F"
    kind: Literal["residual-current-device"]

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return (IN, OUT)

    def links(self) -> tuple[Link, ...]:
        """Return the switch."""
        return residual_joint("in", "out", self.residual)


class MainsBreaker(Component):
    """A breaker or fuse for mains in a housing of its own."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "F"
    kind: Literal["mains-breaker"]
    device: ProtectiveDevice | None = told("The device in it.", example="{breaker: 10 A, poles: 2}")

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return (IN, OUT)

    def links(self) -> tuple[Link, ...]:
        """Return the device."""
        return device_joint("in", "out", self.device)


class MainsIsolator(Component):
    """A switch that parts the mains, or a branch of it, by hand."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "Q"
    kind: Literal["mains-isolator"]
    rated_current: Current | None = told("Rated current.", example="40 A")
    poles: int | None = told("Poles that it opens.", example="2")
    reachable: str | None = told("How a hand gets to it.", example="inside the side door")

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return (IN, OUT)

    def links(self) -> tuple[Link, ...]:
        """Return its contacts."""
        return joint(Link("in", "out", LinkKind.switch), self.poles)
