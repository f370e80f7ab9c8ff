"""Solar: panels, what gathers their strings, controllers."""

from typing import Any, ClassVar, Literal

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.component import Component, System
from specreg.model.conversion import ChargeProfile
from specreg.model.device import ProtectiveDevice, fitted
from specreg.model.field import told
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import (
    Angle,
    Area,
    Current,
    Length,
    PerKelvin,
    Power,
    Share,
    Temperature,
    Voltage,
)

PANEL = Port("panel", Medium.dc, Role.pair, Way.into)


class SolarPanel(Component):
    """A panel, or `count` alike ones that meet in one pair of leads; figures are those of one panel."""

    system: ClassVar[System] = System.solar
    letter: ClassVar[str] = "G"
    kind: Literal["solar-panel"]
    peak_power: Power | None = told("Peak power at standard test conditions.", example="175 W")
    open_circuit_voltage: Voltage | None = told("Open-circuit voltage.", example="24.2 V")
    peak_voltage: Voltage | None = told("Voltage at peak power.", example="20.1 V")
    short_circuit_current: Current | None = told("Short-circuit current.", example="9.2 A")
    peak_current: Current | None = told("Current at peak power.", example="8.7 A")
    voltage_coefficient: PerKelvin | None = told(
        "Temperature coefficient of the open-circuit voltage, negative.", example="-0.28 %/K"
    )
    current_coefficient: PerKelvin | None = told(
        "Temperature coefficient of the short-circuit current.", example="0.05 %/K"
    )
    power_coefficient: PerKelvin | None = told(
        "Temperature coefficient of the peak power, negative.", example="-0.35 %/K"
    )
    nominal_cell_temperature: Temperature | None = told(
        "Cell temperature at 800 W/m², 20 °C and 1 m/s of wind.", example="45 °C"
    )
    greatest_series_fuse: Current | None = told("Greatest series fuse by its maker.", example="15 A")
    greatest_system_voltage: Voltage | None = told("Greatest voltage of its string.", example="600 V")
    in_series: int = told("How many of the `count` panels are in series in one string.", default=1)
    bypass_diodes: int | None = told("Bypass diodes in one panel.", example="2")
    tilt: Angle | None = told("Tilt from level, as fitted.", example="0°")
    faces: Angle | None = told(
        "Compass bearing to which a tilted panel is turned in use: 180° is south.", example="180°"
    )
    panel_area: Area | None = told("Area of one panel.", example="0.9 m²")
    mounting: Literal["roof rack", "roof spoilers", "bonded", "portable"] | None = told("How it is carried.")
    air_gap: Length | None = told("Air gap between panel and roof.", example="30 mm")
    shade: Share | None = told("Share of a day's yield lost to what stands on the roof.", example="5 %")

    @model_validator(mode="after")
    def _whole_strings(self) -> "SolarPanel":
        if self.in_series < 1 or self.count % self.in_series:
            raise PydanticCustomError(
                "strings",
                "{count} panels do not make whole strings of {in_series}: "
                "`count` is a multiple of `in_series`",
                {"count": self.count, "in_series": self.in_series},
            )
        return self

    @property
    def strings(self) -> int:
        """Return how many strings are in parallel here."""
        return self.count // self.in_series

    def ports(self) -> tuple[Port, ...]:
        """Return its leads."""
        return (Port("leads", Medium.dc, Role.pair, Way.out, main=True),)

    def feeds(self) -> tuple[Feed, ...]:
        """Return the panel as a source that cannot exceed its short-circuit current."""
        one, voltage = self.short_circuit_current, self.peak_voltage
        limit = one * self.strings if one else None
        nominal = voltage * self.in_series if voltage else None
        return (Feed("leads", limit, limit, nominal, missing=() if limit else ("short_circuit_current",)),)


class SolarCombiner(Component):
    """A box or branch connector where strings meet, each through its fuse where one is fitted."""

    system: ClassVar[System] = System.solar
    letter: ClassVar[str] = "X"
    kind: Literal["solar-combiner"]
    ways: dict[str, ProtectiveDevice | None] = told(
        "The strings by number or name, each with its fuse; `~` is a string without one.",
        factory=dict,
        example="{1: {fuse: 15 A}}",
    )
    rated_current: Current | None = told("Greatest current of its output.", example="40 A")
    rated_voltage: Voltage | None = told("Greatest voltage.", example="150 V")

    def ports(self) -> tuple[Port, ...]:
        """Return a port for each string, and the output."""
        strings = (Port(way, Medium.dc, Role.pair, Way.into) for way in self.ways)
        return (*strings, Port("out", Medium.dc, Role.pair, Way.out))

    def links(self) -> tuple[Link, ...]:
        """Return each string's joint to the output, through its fuse in the positive."""
        return tuple(link for way, device in self.ways.items() for link in _string(way, device))


def _string(way: str, device: ProtectiveDevice | None) -> tuple[Link, Link]:
    device = fitted(device)
    kind = LinkKind.device if device else LinkKind.plain
    return (
        Link(way, "out", kind, ("positive",), device=device, name=way),
        Link(way, "out", cores=("negative",)),
    )


class SolarDisconnect(Component):
    """A switch between panels and controller."""

    system: ClassVar[System] = System.solar
    letter: ClassVar[str] = "Q"
    kind: Literal["solar-disconnect"]
    rated_current: Current | None = told("Greatest current that it breaks.", example="32 A")
    rated_voltage: Voltage | None = told("Direct voltage that it breaks.", example="150 V")
    direct_current: bool | None = told("Whether its maker rates it for direct current.")
    poles: int | None = told("Poles that it opens.", example="2")
    device: ProtectiveDevice | None = told("The breaker, where it is one.", example="{breaker: 20 A}")

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides."""
        return (PANEL, Port("controller", Medium.dc, Role.pair, Way.out))

    def links(self) -> tuple[Link, ...]:
        """Return its contacts; with one pole the negative is through-connected."""
        device = fitted(self.device)
        kind = LinkKind.device if device else LinkKind.switch
        poles = self.poles or (device.poles if device else None)
        positive = Link("panel", "controller", kind, ("positive",), device=device)
        rest = LinkKind.switch if poles == 2 else LinkKind.plain
        return (positive, Link("panel", "controller", rest, ("negative",)))


class SolarController(ChargeProfile):
    """A charge controller between panels and a battery."""

    system: ClassVar[System] = System.solar
    letter: ClassVar[str] = "T"
    kind: Literal["solar-controller"]
    type: Literal["mppt", "pwm"] | None = told(
        "Whether it follows the point of greatest power or only switches the panel on and off."
    )
    greatest_input_voltage: Voltage | None = told("Greatest panel voltage that it bears.", example="100 V")
    greatest_short_circuit_current: Current | None = told(
        "Greatest short-circuit current of the panels.", example="35 A"
    )
    greatest_panel_power: Power | None = told("Greatest panel power that it uses.", example="440 W")
    rated_current: Current | None = told("Greatest charging current, which it limits itself.", example="30 A")
    battery_voltage: Voltage | None = told("Nominal battery voltage.", example="12 V")
    start_margin: Voltage | None = told(
        "How far the panel voltage must exceed the battery voltage for charging to start.", example="5 V"
    )
    efficiency: Share | None = told("Efficiency at rated output.", example="96 %")
    idle_power: Power | None = told("Power that it takes by night.", example="0.2 W")
    load_current: Current | None = told("Rated current of its load output, if it has one.", example="20 A")

    def ports(self) -> tuple[Port, ...]:
        """Return panel side and battery side, and the load output where it has one."""
        load: tuple[Any, ...] = (Port("load", Medium.dc, Role.pair, Way.out),) if self.load_current else ()
        return (PANEL, Port("battery", Medium.dc, Role.pair, Way.either), *load)

    def links(self) -> tuple[Link, ...]:
        """Return the conversion; negatives are one."""
        load = (
            Link("battery", "load", LinkKind.contact, ("positive",)),
            Link("battery", "load", cores=("negative",)),
        )
        return (
            Link("panel", "battery", LinkKind.conversion, ("positive",), one_way=True),
            Link("panel", "battery", cores=("negative",)),
            *(load if self.load_current else ()),
        )

    def feeds(self) -> tuple[Feed, ...]:
        """Return its battery side, limited to its rated current."""
        missing = () if self.rated_current else ("rated_current",)
        limit = self.rated_current
        return (Feed("battery", limit, limit, self.battery_voltage, missing=missing),)


KINDS: tuple[type[Component], ...] = (SolarPanel, SolarCombiner, SolarDisconnect, SolarController)
"""The kinds of this module."""
