"""Heat: heaters and insulation; with cooking, fuel and coolant it makes the heat system."""

from typing import ClassVar, Literal

from specreg.model import cooking, coolant, fuel
from specreg.model.combustion import Burner, burning
from specreg.model.component import (
    MAINS,
    SUPPLY,
    AcConsumer,
    Component,
    Consumer,
    Flue,
    Fuel,
    LoadKind,
    System,
    joined,
)
from specreg.model.coolant import coolant_ports
from specreg.model.field import told
from specreg.model.fluid import into, numbered, out
from specreg.model.port import Link, Medium, Port, Way
from specreg.model.quantity import (
    Angle,
    Area,
    BurnRate,
    Conductivity,
    Density,
    Duration,
    Flow,
    HeatTransfer,
    Length,
    MassFlow,
    Power,
    Pressure,
    Share,
    Temperature,
    Volume,
)


class Heater(Consumer, Burner):
    """What the fuel-burning heaters have."""

    system: ClassVar[System] = System.heat
    default_fuel: ClassVar[Fuel] = Fuel.diesel
    default_flue: ClassVar[Flue] = Flue.room_sealed
    default_load: ClassVar[LoadKind] = LoadKind.constant_power

    least_output: Power | None = told("Heat output at the lowest setting.", example="0.9 kW")
    fuel_flow: Flow | None = told("Liquid fuel used at full output.", example="0.24 L/h")
    least_fuel_flow: Flow | None = told("Liquid fuel used at the lowest setting.", example="0.1 L/h")
    gas_flow: MassFlow | None = told("Gas used at full output.", example="160 g/h")
    altitude_limit: Length | None = told("Altitude up to which the maker allows it.", example="1500 m")
    altitude_kit: bool | None = told("Whether it adjusts itself to altitude beyond that.")
    run_on: Duration | None = told("Time that it needs current after it is switched off.", example="3 min")
    greatest_intake_length: Length | None = told("Longest combustion-air pipe allowed.", example="2 m")
    greatest_exhaust_length: Length | None = told("Longest exhaust pipe allowed.", example="2 m")
    greatest_bends: Angle | None = told("Greatest sum of bends allowed in either pipe.", example="270°")
    off_when_refuelling: str | None = told(
        "The words of the notice at the filler.", example="Heater off before refuelling"
    )
    thermostat: str | None = told("The thermostat or controller that switches it.", example="heater-control")

    def base_ports(self) -> tuple[Port, ...]:
        """Return supply, fuel, combustion air and exhaust."""
        return joined((SUPPLY,), self.combustion_ports())


class WarmAirHeater(Heater):
    """What heaters that blow warm air have."""

    air_flow: Flow | None = told("Air moved at full setting.", example="90 m³/h")
    outlets: int = told("How many ducts leave it; more than one are ports warm-air-1, -2 …", default=1)
    draws_from: Literal["living space", "outside"] | None = told("Where it takes the air that it warms.")
    greatest_duct_length: Length | None = told("Longest warm-air duct allowed.", example="5 m")

    def ports(self) -> tuple[Port, ...]:
        """Return the heater's ports, the air to be warmed, and the warm air."""
        warm = tuple(out(n, Medium.air) for n in numbered("warm-air", self.outlets))
        return joined(self.base_ports(), (into("room-air", Medium.air),), warm)

    def links(self) -> tuple[Link, ...]:
        """Return combustion and the air that passes the heat exchanger."""
        warm = numbered("warm-air", self.outlets)
        air = tuple(Link("room-air", name, one_way=True) for name in warm)
        return burning(self.combustion_ports()) + air


class AirHeater(WarmAirHeater):
    """A heater that blows warm air."""

    kind: Literal["air-heater"]


class HydronicHeater(Heater):
    """A heater that warms a coolant."""

    kind: Literal["hydronic-heater"]
    pump_built_in: bool | None = told("Whether its circulating pump is built in.")
    coolant_volume: Volume | None = told("Coolant in the heater itself.", example="0.4 L")

    def ports(self) -> tuple[Port, ...]:
        """Return the heater's ports and the coolant's way through."""
        return joined(self.base_ports(), coolant_ports())

    def links(self) -> tuple[Link, ...]:
        """Return combustion and the coolant's way through."""
        return (*burning(self.combustion_ports()), Link("coolant-in", "coolant-out"))


class CombinedHeater(WarmAirHeater):
    """A heater that blows warm air and keeps hot water; on gas or diesel, with or without mains."""

    kind: Literal["combined-heater"]
    water_volume: Volume | None = told("Hot water that it holds.", example="10 L")
    water_temperature: Temperature | None = told("Highest water temperature it is set to.", example="60 °C")
    mains_power: Power | None = told("Power of its mains element, where it has one.", example="1.8 kW")
    relief_pressure: Pressure | None = told("Pressure at which its relief valve opens.", example="3.5 bar")
    relief_discharges_to: str | None = told("Where the relief valve discharges.", example="outside")

    def ports(self) -> tuple[Port, ...]:
        """Return the air heater's ports, cold and hot water, and mains where it has an element."""
        element = (Port("mains", Medium.ac, MAINS.role, Way.into, main=True),) if self.mains_power else ()
        water = (into("cold", Medium.water, main=True), out("hot", Medium.water, main=True))
        return joined(super().ports(), element, water)

    def links(self) -> tuple[Link, ...]:
        """Return combustion, the warm air and the water's way through."""
        return (*super().links(), Link("cold", "hot"))


class ElectricHeater(Consumer, AcConsumer):
    """An electric heater or heating mat, on direct current or mains."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "E"
    kind: Literal["electric-heater"]
    default_load: ClassVar[LoadKind] = LoadKind.resistance
    energy: Literal["dc", "mains"] = told("What it runs on.", default="mains")
    thermostat: bool | None = told("Whether a thermostat switches it.")
    overheat_cut_out: bool | None = told("Whether it switches itself off when too hot.")
    surface_temperature: Temperature | None = told("Highest surface temperature.", example="60 °C")

    def ports(self) -> tuple[Port, ...]:
        """Return the supply that it runs on."""
        return (SUPPLY,) if self.energy == "dc" else (MAINS,)


class InsulationLayer(Component):
    """One layer of a wall, roof or floor, from the skin to the lining."""

    system: ClassVar[System] = System.heat
    kind: Literal["insulation-layer"]
    surface: Literal["roof", "left wall", "right wall", "floor", "rear doors", "side door", "cab"] | None = (
        told("The surface that it is part of.", example="roof")
    )
    order: int | None = told("Its place counted from the outer skin inwards.", example="2")
    role: Literal["skin", "insulation", "air gap", "vapour barrier", "lining", "covering"] = told(
        "What it does in the build-up.", default="insulation"
    )
    material: str | None = told("What it is made of.", example="polyethylene foam")
    thickness: Length | None = told("Its thickness.", example="40 mm")
    area: Area | None = told("Area that it covers.", example="6.2 m²")
    conductivity: Conductivity | None = told("Thermal conductivity.", example="0.036 W/(m·K)")
    bridged_by_metal: Share | None = told("Share of the area that metal ribs bridge.", example="8 %")
    heat_transfer: HeatTransfer | None = told("U-value, for a build-up that was measured as a whole.")
    density: Density | None = told("Density, for its mass.", example="33 kg/m³")
    burn_rate: BurnRate | None = told("Horizontal burning rate from its certificate.", example="60 mm/min")


KINDS: tuple[type[Component], ...] = (
    *cooking.KINDS,
    AirHeater,
    HydronicHeater,
    CombinedHeater,
    ElectricHeater,
    *coolant.KINDS,
    *fuel.KINDS,
    InsulationLayer,
)
