"""Charging and converting: alternator, chargers, converters, inverters, relays between batteries."""

from typing import ClassVar, Literal

from specreg.model.component import AcConsumer, Component, System, joined
from specreg.model.conversion import (
    DRIVING,
    FED_BY_MAINS,
    SIGNAL,
    STANDING,
    ChargeProfile,
    DcConversion,
    limited,
)
from specreg.model.field import told
from specreg.model.inverting import Inverter, InverterCharger
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Current, Power, Share, Voltage


class Alternator(Component):
    """The alternator of the base vehicle."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "G"
    kind: Literal["alternator"]
    nominal_voltage: Voltage | None = told("Nominal voltage.", example="12 V")
    rated_current: Current | None = told("Rated output current.", example="180 A")
    idle_current: Current | None = told("Output current at idle when hot.", example="70 A")
    present_draw: Current | None = told("What the base vehicle itself takes while driving.", example="60 A")
    charging_voltage: Voltage | None = told("Highest voltage that its regulator holds.", example="14.6 V")
    least_voltage: Voltage | None = told("Least voltage while driving.", example="12.4 V")
    regulation: Literal["fixed", "variable"] | None = told(
        "Whether the engine control lowers its voltage at times."
    )
    self_limiting: bool | None = told(
        "Whether its maker states that its output cannot exceed the rated current."
    )
    short_circuit_current: Current | None = told("Greatest current into a short circuit, by its maker.")
    surge_protection: bool | None = told("Whether it survives the sudden loss of its battery.")

    def ports(self) -> tuple[Port, ...]:
        """Return its output and its negative."""
        return (
            Port("positive", Medium.dc, Role.positive, Way.out, main=True),
            Port("negative", Medium.dc, Role.negative),
        )

    def feeds(self) -> tuple[Feed, ...]:
        """Return the alternator as a source while driving."""
        limit = self.rated_current if self.self_limiting else None
        greatest = self.short_circuit_current or limit
        missing = () if greatest else ("short_circuit_current",)
        return (Feed("positive", limit, greatest, self.nominal_voltage, DRIVING, missing),)


class StarterMotor(Component):
    """The starter motor: a cable that ends here starts the engine."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "M"
    kind: Literal["starter-motor"]
    power: Power | None = told("Rated power.", example="2 kW")
    start_current: Current | None = told("Greatest current while it turns the engine.", example="600 A")

    def ports(self) -> tuple[Port, ...]:
        """Return its supply and its return."""
        return (
            Port("positive", Medium.dc, Role.positive, Way.into, needed=True, main=True),
            Port("negative", Medium.dc, Role.negative),
        )


class IgnitionSignal(Component):
    """A wire of the base vehicle that is live while the engine runs."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "B"
    kind: Literal["ignition-signal"]
    signal: Literal["ignition", "engine running", "charge lamp"] | None = told("What makes it live.")

    def ports(self) -> tuple[Port, ...]:
        """Return where it is tapped."""
        return (Port("signal", Medium.control, way=Way.out, main=True),)


class DcConverter(DcConversion):
    """A converter from one direct voltage to another, such as 24 V to 12 V."""

    kind: Literal["dc-converter"]


class DcCharger(ChargeProfile, DcConversion):
    """A battery-to-battery charger: the house battery charges while driving."""

    kind: Literal["dc-charger"]
    starts_by: Literal["ignition signal", "voltage", "switch"] | None = told("What lets it start.")
    start_voltage: Voltage | None = told("Input voltage at which it starts.", example="13.2 V")
    stop_voltage: Voltage | None = told("Input voltage at which it stops.", example="12.8 V")
    return_charge_current: Current | None = told(
        "Current with which it also charges the starter battery from the house battery.", example="2 A"
    )

    run_modes: ClassVar[frozenset[str]] = DRIVING

    def ports(self) -> tuple[Port, ...]:
        """Return its pairs and its start signal."""
        return (*super().ports(), SIGNAL)

    def links(self) -> tuple[Link, ...]:
        """Return the conversion, and the one back where it has it."""
        back = Link(
            "output", "input", LinkKind.conversion, ("positive",), modes=STANDING, one_way=True, name="back"
        )
        return super().links() + ((back,) if self.return_charge_current else ())

    def feeds(self) -> tuple[Feed, ...]:
        """Return its output, and its input where it also charges backwards."""
        back = limited(
            "input", self.return_charge_current, "return_charge_current", self.input_voltage, STANDING
        )
        return super().feeds() + ((back,) if self.return_charge_current else ())


class SplitRelay(Component):
    """A relay that joins the starter battery and the house battery while the engine runs."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "K"
    kind: Literal["split-relay"]
    rated_current: Current | None = told("Greatest continuous current of its contact.", example="140 A")
    starts_by: Literal["ignition signal", "voltage"] | None = told("What makes it close.")
    senses: Literal["starter", "both"] | None = told(
        "With voltage sensing: the side whose voltage closes it; `both` also joins them on shore."
    )
    closing_voltage: Voltage | None = told("Voltage at which it closes.", example="13.3 V")
    opening_voltage: Voltage | None = told("Voltage at which it opens.", example="12.8 V")
    manual_override: bool | None = told("Whether a button can close it by hand.")
    coil_power: Power | None = told("Power of its coil while closed.", example="2 W")

    def ports(self) -> tuple[Port, ...]:
        """Return its two sides and its signal."""
        return (
            Port("starter", Medium.dc, Role.positive),
            Port("house", Medium.dc, Role.positive),
            Port("negative", Medium.dc, Role.negative),
            SIGNAL,
        )

    def links(self) -> tuple[Link, ...]:
        """Return the contact with the modes in which it closes."""
        modes = DRIVING | FED_BY_MAINS if self.senses == "both" else DRIVING
        return (Link("starter", "house", LinkKind.contact, modes=modes),)


class LowVoltageDisconnect(Component):
    """A contact that parts the loads from a battery when its voltage or its management asks for it."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "K"
    kind: Literal["low-voltage-disconnect"]
    rated_current: Current | None = told("Greatest continuous current of its contact.", example="100 A")
    opening_voltage: Voltage | None = told("Voltage at which it opens.", example="11.5 V")
    closing_voltage: Voltage | None = told("Voltage at which it closes again.", example="12.8 V")
    both_directions: bool | None = told("Whether it may carry current both ways.")

    def ports(self) -> tuple[Port, ...]:
        """Return its battery side, its load side and its signal."""
        return (
            Port("battery", Medium.dc, Role.positive),
            Port("loads", Medium.dc, Role.positive),
            Port("negative", Medium.dc, Role.negative),
            SIGNAL,
        )

    def links(self) -> tuple[Link, ...]:
        """Return the contact, closed unless the battery is low."""
        return (Link("battery", "loads", LinkKind.contact),)


class ShoreCharger(ChargeProfile, AcConsumer):
    """A charger that fills a battery from the mains."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "T"
    kind: Literal["shore-charger"]
    output_voltage: Voltage | None = told("Nominal output voltage.", example="12 V")
    charge_current: Current | None = told(
        "Greatest charging current, which it limits itself.", example="30 A"
    )
    efficiency: Share | None = told("Efficiency at rated output.", example="88 %")
    power_factor: Share | None = told("Power factor on mains at rated output.", example="95 %")
    smooth_residual_current: bool | None = told(
        "Whether its maker says that its leakage may be smooth direct current, which a type A device misses."
    )

    def ports(self) -> tuple[Port, ...]:
        """Return its mains side and its two poles."""
        return joined(
            super().ports(),
            (Port("positive", Medium.dc, Role.positive, Way.out), Port("negative", Medium.dc, Role.negative)),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the conversion to direct current."""
        return (Link("mains", "positive", LinkKind.conversion, modes=FED_BY_MAINS, one_way=True),)

    def feeds(self) -> tuple[Feed, ...]:
        """Return its output, limited by itself."""
        return (
            limited("positive", self.charge_current, "charge_current", self.output_voltage, FED_BY_MAINS),
        )


KINDS: tuple[type[Component], ...] = (
    Alternator,
    StarterMotor,
    IgnitionSignal,
    DcCharger,
    DcConverter,
    SplitRelay,
    LowVoltageDisconnect,
    ShoreCharger,
    Inverter,
    InverterCharger,
)
"""The kinds of this module."""
