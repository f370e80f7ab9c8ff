"""What switches, measures and controls: switches, dimmers, relays, timers, sensors, remote controls."""

from typing import ClassVar, Literal

from specreg.model.component import Component, System
from specreg.model.field import told
from specreg.model.port import Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Current, Duration, Power, Temperature, TemperatureDifference, Voltage

CONTROL = Port("control", Medium.control)


class Switching(Component):
    """What stands in the supply of a load and opens it."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "S"
    pole: Literal["positive", "negative"] = told("The conductor that it opens.", default="positive")
    rated_current: Current | None = told("Greatest continuous current.", example="10 A")
    rated_voltage: Voltage | None = told("Greatest direct voltage.", example="24 V")

    joint: ClassVar[LinkKind] = LinkKind.switch

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides and its control lead."""
        return (
            Port("in", Medium.dc, Role.pair, Way.into),
            Port("out", Medium.dc, Role.pair, Way.out),
            CONTROL,
        )

    def links(self) -> tuple[Link, ...]:
        """Return the conductor that it opens and the one that passes through."""
        other = "negative" if self.pole == "positive" else "positive"
        return (Link("in", "out", self.joint, (self.pole,)), Link("in", "out", cores=(other,)))


class Switch(Switching):
    """A single switch in a cable, or one that tells another thing what to do by its control lead."""

    kind: Literal["switch"]
    form: Literal["rocker", "toggle", "push button", "rotary", "touch", "float", "door contact"] | None = (
        told("What works it.")
    )
    indicator: bool | None = told("Whether a lamp in it shows that it is on.")


class Dimmer(Switching):
    """A dimmer for lights."""

    kind: Literal["dimmer"]
    form: Literal["rotary", "push button", "touch", "remote"] | None = told("What works it.")
    switches_off: bool | None = told("Whether its lowest setting parts the lights from the supply.")
    standby: Power | None = told("Power while it waits.", example="0.1 W")


class Relay(Switching):
    """A relay or contactor that closes when its control lead asks for it."""

    letter: ClassVar[str] = "K"
    kind: Literal["relay"]
    coil_power: Power | None = told("Power of its coil while closed.", example="1.6 W")
    rests: Literal["open", "closed"] | None = told("How its contact rests without a signal.")

    joint: ClassVar[LinkKind] = LinkKind.contact


class Timer(Switching):
    """A timer that closes a circuit for a while."""

    letter: ClassVar[str] = "K"
    kind: Literal["timer"]
    on_time: Duration | None = told("How long it stays closed, as set.", example="15 min")
    standby: Power | None = told("Power while it waits.", example="0.1 W")

    joint: ClassVar[LinkKind] = LinkKind.contact


class Thermostat(Switching):
    """A contact or signal that follows a temperature."""

    letter: ClassVar[str] = "K"
    kind: Literal["thermostat"]
    acts_for: Literal["heating", "cooling", "frost protection"] | None = told("What it calls for.")
    setting: Temperature | None = told("Temperature that is set.", example="19 °C")
    differential: TemperatureDifference | None = told("Between switching on and off.", example="1 K")

    joint: ClassVar[LinkKind] = LinkKind.contact


class RemoteControl(Component):
    """A panel or handset that tells another thing what to do."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "S"
    kind: Literal["remote-control"]
    form: Literal["panel", "handset", "telephone"] | None = told("What it is.")
    cells: str | None = told("The cells that it takes.", example="2 × AAA")
    kept: str | None = told("Where it is kept.", example="in the holder beside the side door")
    works_without: str | None = told("What one does when it is lost.", example="the button on the unit")
    controls: str | None = told(
        "The component that it works without a cable; a cable is a control run.", example="roof-fan"
    )

    def ports(self) -> tuple[Port, ...]:
        """Return its control lead."""
        return (Port("control", Medium.control, main=True),)


class Sensor(Component):
    """A sensor that sends a signal to a gauge, a controller or a thermostat."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "B"
    kind: Literal["sensor"]
    measures: Literal["level", "temperature", "pressure", "flow", "current", "voltage", "humidity"] | None = (
        told("What it measures.")
    )
    of: str | None = told("The component that it measures.", example="fresh-tank")
    output: str | None = told("Its signal.", example="0 Ω to 190 Ω")
    cells: str | None = told("The cells that it takes, where it has its own.", example="1 × CR2032")

    def ports(self) -> tuple[Port, ...]:
        """Return its signal lead."""
        return (Port("signal", Medium.control, way=Way.out, main=True),)
