"""What the kinds of water, waste, gas, fuel and air share: plain ports, gauges and valves."""

from collections.abc import Iterable
from typing import ClassVar, Literal

from specreg.model.component import SUPPLY, Component, Consumer, LoadKind
from specreg.model.field import told
from specreg.model.port import Link, LinkKind, Medium, Port, Way
from specreg.model.quantity import Length, Pressure, Share, Volume


def into(name: str, medium: Medium, *, needed: bool = False, main: bool = False) -> Port:
    """Return a port through which the medium enters."""
    return Port(name, medium, way=Way.into, needed=needed, main=main)


def out(name: str, medium: Medium, *, main: bool = False) -> Port:
    """Return a port through which the medium leaves."""
    return Port(name, medium, way=Way.out, main=main)


def through(medium: Medium, *, needed: bool = False) -> tuple[Port, Port]:
    """Return the two sides of a thing that sits in a pipe."""
    return (into("in", medium, needed=needed, main=True), out("out", medium, main=True))


def branches(names: Iterable[str], medium: Medium) -> tuple[Port, ...]:
    """Return the outgoing ports of a manifold."""
    return tuple(out(name, medium) for name in names)


def numbered(word: str, count: int) -> tuple[str, ...]:
    """Return `word` alone for one, else `word-1`, `word-2` …"""
    return (word,) if count == 1 else tuple(f"{word}-{n}" for n in range(1, count + 1))


class InLine(Component):
    """Something that sits in a pipe and lets the medium through one way or both."""

    carries: ClassVar[Medium] = Medium.water
    one_way: ClassVar[bool] = False

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return through(self.carries)

    def links(self) -> tuple[Link, ...]:
        """Return the way through."""
        return (Link("in", "out", one_way=self.one_way),)


class Tank(Component):
    """A tank, whose volume decides the days and whose place decides the load on the axles."""

    letter: ClassVar[str] = "C"
    volume: Volume | None = told("Volume that it holds when full, to the last drop.", example="70 L")
    material: str | None = told("What it is made of.", example="polyethylene, food grade")
    delivered_fill: Share | None = told("How full it is when the van is handed over.", example="0 %")
    gauge: Literal["none", "sight", "float", "probes", "pressure", "ultrasonic", "capacitive"] | None = told(
        "How its level is read."
    )
    heated_space: bool | None = told("Whether it stands inside the heated space.")
    tank_heater: bool | None = told("Whether a heating pad is fitted to it.")


class Valve(Consumer):
    """A valve worked by hand or by a motor; only the motorised one has a supply."""

    letter: ClassVar[str] = "Q"
    default_load: ClassVar[LoadKind] = LoadKind.motor
    carries: ClassVar[Medium] = Medium.water

    drive: Literal["hand", "motor", "solenoid"] = told("What moves it.", default="hand")
    purpose: Literal["shut-off", "drain", "dump", "fill", "diverter"] | None = told("What it is for.")
    normally: Literal["open", "closed"] | None = told("Its position at rest, or without current.")
    while_driving: Literal["open", "closed"] | None = told("Its position under way.", example="closed")
    positions: dict[str, Literal["open", "closed"]] = told(
        "Its position by mode, where that matters.", factory=dict, example="{night: closed}"
    )
    manual_override: str | None = told("How a motorised valve is moved by hand.", example="lever below")
    driving_interlock: str | None = told("What keeps it shut under way.", example="ignition relay")
    cap: bool | None = told("Whether a cap closes its outlet as well.")
    reachable: str | None = told("How a hand gets to it.", example="behind the galley drawer")
    bore: Length | None = told("Inner diameter.", example="19 mm")
    rated_pressure: Pressure | None = told("Greatest pressure that it is rated for.", example="10 bar")
    discharges_to: str | None = told(
        "Where an open end discharges: `outside`, or a component.", example="outside"
    )

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides, and supply and control lead of a motorised one."""
        electric = () if self.drive == "hand" else (SUPPLY, Port("control", Medium.control))
        return (*electric, *through(self.carries))

    def links(self) -> tuple[Link, ...]:
        """Return the way through, which it opens and closes."""
        return (Link("in", "out", LinkKind.valve),)
