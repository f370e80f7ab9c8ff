"""What sources that convert or charge have in common: modes, charging profile, neutral bond, limits."""

from typing import ClassVar, Literal

from specreg.model.component import Component, System
from specreg.model.field import Spec, told
from specreg.model.port import Feed, Link, LinkKind, Medium, Port, Role, Way
from specreg.model.quantity import Current, Power, Share, Temperature, Voltage

INPUT = Port("input", Medium.dc, Role.pair, Way.into, needed=True)
OUTPUT = Port("output", Medium.dc, Role.pair, Way.out)
SIGNAL = Port("signal", Medium.control, way=Way.into)
AC_OUT = Port("ac-out", Medium.ac, Role.cable, Way.out)

SOURCE_MODES = ("shore", "inverter", "generator", "driving", "parked")
"""The words for what supplies the van at a time."""

DRIVING = frozenset({"driving"})
STANDING = frozenset({"parked", "shore"})
INVERTING = frozenset({"inverter"})
FED_BY_MAINS = frozenset({"shore", "generator"})


class NeutralBond(Spec):
    """How a mains source joins neutral to earth: what is fitted, not whether it is right."""

    neutral_bond: Literal["none", "fixed", "relay"] | None = told(
        "How neutral and earth are joined inside: not at all, for good, or by a relay that closes only "
        "while it is itself the source.",
        example="relay",
    )


class ChargeProfile(Component):
    """What every source that charges a battery states about its charging."""

    profile: Literal["lithium iron phosphate", "agm", "gel", "flooded", "fixed voltage"] | None = told(
        "The charging profile that is set.", example="lithium iron phosphate"
    )
    absorption_voltage: Voltage | None = told("Highest voltage while charging, as set.", example="14.2 V")
    float_voltage: Voltage | None = told("Voltage held when the battery is full, as set.", example="13.5 V")
    equalisation: bool | None = told("Whether an equalising charge is switched on.")
    remote_sense: bool | None = told("Whether it measures the voltage at the battery by a lead of its own.")
    temperature_sensor: bool | None = told("Whether it has a sensor at the battery.")
    stops_below: Temperature | None = told(
        "Battery temperature below which it stops charging, as set.", example="3 °C"
    )


class DcConversion(Component):
    """What converters and chargers between two direct-current networks share."""

    system: ClassVar[System] = System.dc
    letter: ClassVar[str] = "T"
    input_voltage: Voltage | None = told("Nominal input voltage.", example="12 V")
    output_voltage: Voltage | None = told("Nominal output voltage.", example="12 V")
    output_current: Current | None = told("Greatest output current, which it limits itself.", example="30 A")
    input_current: Current | None = told("Greatest input current.", example="45 A")
    least_input_voltage: Voltage | None = told("Least input voltage at which it works.", example="10.5 V")
    efficiency: Share | None = told("Efficiency at rated output.", example="90 %")
    idle_power: Power | None = told("Power that it takes without load.", example="1 W")
    isolated: bool | None = told("Whether its input and output negatives are apart.")

    run_modes: ClassVar[frozenset[str]] = frozenset()

    def ports(self) -> tuple[Port, ...]:
        """Return its input and output pairs."""
        return (INPUT, OUTPUT)

    def links(self) -> tuple[Link, ...]:
        """Return the conversion; without isolation the negatives are one."""
        if self.isolated:
            return (Link("input", "output", LinkKind.conversion, modes=self.run_modes, one_way=True),)
        return (
            Link("input", "output", LinkKind.conversion, ("positive",), modes=self.run_modes, one_way=True),
            Link("input", "output", cores=("negative",)),
        )

    def feeds(self) -> tuple[Feed, ...]:
        """Return its output, limited by itself."""
        volts, amperes = self.output_voltage, self.output_current
        return (limited("output", amperes, "output_current", volts, self.run_modes),)


def limited(port: str, limit: float | None, field: str, nominal: float | None, modes: frozenset[str]) -> Feed:
    """Return a feed that limits itself; without its figure it counts as unlimited and names the field."""
    return Feed(port, limit, limit, nominal, modes, () if limit else (field,))
