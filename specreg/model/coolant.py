"""Coolant circuits: radiators, exchangers, pump and header tank."""

from typing import ClassVar, Literal

from specreg.model.component import (
    SUPPLY,
    Component,
    Consumer,
    LoadKind,
    System,
    joined,
)
from specreg.model.field import told
from specreg.model.fluid import into, out
from specreg.model.port import Link, Medium, Port
from specreg.model.quantity import (
    Flow,
    Power,
    Share,
    Temperature,
    Volume,
)


def coolant_ports() -> tuple[Port, Port]:
    """Return the coolant's way through; these pipes carry coolant and no drinking water."""
    return (into("coolant-in", Medium.water, needed=True), out("coolant-out", Medium.water))


class Radiator(Consumer):
    """A radiator or fan convector on a coolant circuit."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "E"
    kind: Literal["radiator"]
    default_load: ClassVar[LoadKind] = LoadKind.motor
    fan: bool = told("Whether a fan blows through it.", default=False)
    output: Power | None = told("Heat given off at the coolant temperature stated.", example="2 kW")
    coolant_temperature: Temperature | None = told("Coolant temperature for that output.", example="75 °C")
    coolant_volume: Volume | None = told("Coolant that it holds.", example="0.5 L")

    def ports(self) -> tuple[Port, ...]:
        """Return the coolant's way through, and the supply of a fan."""
        return joined((SUPPLY,) if self.fan else (), coolant_ports())

    def links(self) -> tuple[Link, ...]:
        """Return the coolant's way through."""
        return (Link("coolant-in", "coolant-out"),)


class HeatExchanger(Component):
    """A plate exchanger between the engine's coolant and a second circuit."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "E"
    kind: Literal["heat-exchanger"]
    secondary: Literal["coolant", "water"] = told("What the second side carries.", default="coolant")
    output: Power | None = told("Heat passed on at rated flow.", example="10 kW")
    double_wall: bool | None = told("Whether two walls with a drained gap part the circuits.")

    def ports(self) -> tuple[Port, ...]:
        """Return both ways through."""
        names = ("coolant-in", "coolant-out") if self.secondary == "coolant" else ("cold", "hot")
        return (
            into("engine-coolant-in", Medium.water, needed=True),
            out("engine-coolant-out", Medium.water),
            into(names[0], Medium.water, main=True),
            out(names[1], Medium.water, main=True),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the two ways through, which do not mix."""
        second = ("coolant-in", "coolant-out") if self.secondary == "coolant" else ("cold", "hot")
        return (Link("engine-coolant-in", "engine-coolant-out"), Link(*second))


class EngineCoolantTakeoff(Component):
    """The place where the engine's cooling circuit is tapped."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "X"
    kind: Literal["engine-coolant-takeoff"]
    coolant_temperature: Temperature | None = told("Highest coolant temperature.", example="95 °C")
    maker_allows: str | None = told("The vehicle maker's instruction that admits it.")

    def ports(self) -> tuple[Port, ...]:
        """Return flow and return."""
        return (
            out("engine-coolant-flow", Medium.water, main=True),
            into("engine-coolant-return", Medium.water, main=True),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the engine's circuit between them."""
        return (Link("engine-coolant-return", "engine-coolant-flow"),)


class CoolantTank(Component):
    """A header or expansion tank of a coolant circuit."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "C"
    kind: Literal["coolant-tank"]
    volume: Volume | None = told("Volume when full.", example="1 L")
    antifreeze: Share | None = told("Share of antifreeze in the coolant.", example="50 %")

    def ports(self) -> tuple[Port, ...]:
        """Return its connection."""
        return (Port("coolant", Medium.water, main=True),)


class CoolantPump(Consumer):
    """A circulating pump in a coolant circuit."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "G"
    kind: Literal["coolant-pump"]
    default_load: ClassVar[LoadKind] = LoadKind.motor
    greatest_flow: Flow | None = told("Flow against no head.", example="14 L/min")

    def ports(self) -> tuple[Port, ...]:
        """Return supply and the coolant's way through."""
        return joined((SUPPLY,), coolant_ports())

    def links(self) -> tuple[Link, ...]:
        """Return the way through, which it pushes one way."""
        return (Link("coolant-in", "coolant-out", one_way=True),)


KINDS: tuple[type[Component], ...] = (
    Radiator,
    HeatExchanger,
    EngineCoolantTakeoff,
    CoolantTank,
    CoolantPump,
)
