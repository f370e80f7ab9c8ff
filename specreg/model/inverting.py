"""Inverters: mains from the battery, with or without charging from an incoming supply."""

from typing import ClassVar, Literal

from specreg.model.component import Component, System
from specreg.model.conversion import (
    AC_OUT,
    FED_BY_MAINS,
    INVERTING,
    SIGNAL,
    ChargeProfile,
    NeutralBond,
    limited,
)
from specreg.model.field import told
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Current, Duration, Frequency, Power, Share, Voltage


class Inverting(NeutralBond, Component):
    """What every inverter states."""

    system: ClassVar[System] = System.mains
    letter: ClassVar[str] = "T"
    input_voltage: Voltage | None = told("Nominal battery voltage.", example="12 V")
    least_input_voltage: Voltage | None = told("Battery voltage at which it shuts off.", example="10.8 V")
    input_current: Current | None = told("Greatest input current, by its maker.", example="140 A")
    rated_power: Power | None = told("Continuous output power.", example="1.2 kW")
    surge_power: Power | None = told("Output power for a short time.", example="2.4 kW")
    surge_time: Duration | None = told("How long it bears the surge.", example="5 s")
    efficiency: Share | None = told("Efficiency at rated output.", example="88 %")
    idle_power: Power | None = told("Power that it takes while on without load.", example="12 W")
    search_mode: bool | None = told("Whether it sleeps until a load asks for it.")
    hours_per_day: Duration | None = told("Time switched on, on a typical day.", example="4 h")
    output_voltage: Voltage | None = told("Output voltage.", example="230 V")
    frequency: Frequency | None = told("Output frequency.", example="50 Hz")
    waveform: Literal["sine", "modified"] | None = told("Shape of its output.")
    short_circuit_current: Current | None = told("Greatest output current into a short circuit.")
    input_fuse: Current | None = told("The supply fuse that its maker asks for.", example="200 A")

    def ports(self) -> tuple[Port, ...]:
        """Return its battery side, its mains output and its remote switch."""
        return (
            Port("positive", Medium.dc, Role.positive, Way.into, needed=True),
            Port("negative", Medium.dc, Role.negative),
            AC_OUT,
            SIGNAL,
        )

    def links(self) -> tuple[Link, ...]:
        """Return the conversion to mains."""
        return (Link("positive", "ac-out", LinkKind.conversion, modes=INVERTING, one_way=True),)

    def feeds(self) -> tuple[Feed, ...]:
        """Return its mains output; electronics let through no more than the surge."""
        surge = self.surge_power / self.output_voltage if self.surge_power and self.output_voltage else None
        greatest = self.short_circuit_current or surge
        return (limited("ac-out", greatest, "short_circuit_current", self.output_voltage, INVERTING),)


class Inverter(Inverting):
    """An inverter that makes mains from the battery."""

    kind: Literal["inverter"]


class InverterCharger(ChargeProfile, Inverting):
    """An inverter that hands on and charges from an incoming mains supply when there is one."""

    kind: Literal["inverter-charger"]
    charge_current: Current | None = told(
        "Greatest charging current, which it limits itself.", example="50 A"
    )
    transfer_current: Current | None = told("Rated current of its transfer contact.", example="16 A")
    input_limit: Current | None = told("Greatest current taken from the supply, as set.", example="6 A")
    power_assist: bool | None = told("Whether it adds battery power when the supply is too weak.")
    switched_cores: Literal["line", "line and neutral"] | None = told(
        "What its transfer contact opens.", example="line and neutral"
    )
    smooth_residual_current: bool | None = told(
        "Whether its maker says that its leakage may be smooth direct current, which a type A device misses."
    )

    def ports(self) -> tuple[Port, ...]:
        """Return the inverter's ports and the mains input."""
        return (*super().ports(), Port("ac-in", Medium.ac, Role.cable, Way.into))

    def links(self) -> tuple[Link, ...]:
        """Return conversion both ways and the transfer contact; earth is through-connected."""
        single = self.switched_cores == "line"
        cores = ("line",) if single else ("line", "neutral")
        through = ("neutral", "earth") if single else ("earth",)
        return (
            *super().links(),
            Link("ac-in", "positive", LinkKind.conversion, modes=FED_BY_MAINS, one_way=True, name="charge"),
            Link("ac-in", "ac-out", LinkKind.contact, cores, modes=FED_BY_MAINS, name="transfer"),
            Link("ac-in", "ac-out", cores=through),
        )

    def feeds(self) -> tuple[Feed, ...]:
        """Return its mains output while inverting and its battery side while charging."""
        charge = limited("positive", self.charge_current, "charge_current", self.input_voltage, FED_BY_MAINS)
        return (*super().feeds(), charge)
