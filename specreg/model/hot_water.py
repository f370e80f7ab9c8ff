"""Hot water: heaters by the energies that they take, and the mixer that bounds the temperature."""

from dataclasses import replace
from typing import ClassVar, Literal, Self

from pydantic import model_validator
from pydantic_core import PydanticCustomError

from specreg.model.combustion import FUEL_MEDIUM, Burner, burning, flue_ports
from specreg.model.component import (
    MAINS,
    SUPPLY,
    Component,
    Consumer,
    Flue,
    LoadKind,
    System,
    joined,
)
from specreg.model.field import told
from specreg.model.fluid import into, out
from specreg.model.port import Link, Medium, Port
from specreg.model.quantity import (
    Area,
    HeatTransfer,
    Power,
    Pressure,
    Temperature,
    Volume,
)

Energy = Literal["gas", "diesel", "dc", "mains", "engine coolant"]
WATER = Medium.water


def optional(port: Port) -> Port:
    """Return the port as one that the component can do without."""
    return replace(port, needed=False)


class WaterHeater(Consumer, Burner):
    """A water heater; its ports follow from the energies that it takes."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "E"
    kind: Literal["water-heater"]
    default_load: ClassVar[LoadKind] = LoadKind.resistance
    energies: tuple[Energy, ...] = told(
        "The energies that can heat it; any one of them is enough.", default=(), example="[gas, mains]"
    )
    volume: Volume | None = told("Water that it holds; none for one that heats as it flows.", example="10 L")
    temperature: Temperature | None = told("Temperature that its thermostat is set to.", example="60 °C")
    limit_temperature: Temperature | None = told("Temperature of its safety cut-out.", example="80 °C")
    mains_power: Power | None = told("Power of its mains element.", example="750 W")
    coolant_power: Power | None = told("Heat taken from the engine's coolant.", example="3 kW")
    gas_electronics: bool = told("Whether its burner needs current.", default=True)
    relief_pressure: Pressure | None = told("Pressure at which its relief valve opens.", example="3 bar")
    relief_discharges_to: str | None = told("Where the relief valve discharges.", example="outside")
    relief_combined: bool | None = told("Whether the relief valve also opens on temperature.")
    mixer_built_in: bool | None = told("Whether a thermostatic mixer is part of it.")
    mixed_temperature: Temperature | None = told("Temperature that its own mixer is set to.", example="45 °C")
    standing_loss: HeatTransfer | None = told("U-value of its insulation.", example="1.2 W/(m²·K)")
    surface_area: Area | None = told("Area of its jacket.", example="0.5 m²")

    @model_validator(mode="after")
    def _one_fuel(self) -> Self:
        media = {Medium.gas if e == "gas" else Medium.fuel for e in self.energies if e in ("gas", "diesel")}
        if len(media) > 1 or (self.burns and {FUEL_MEDIUM.get(self.burns)} != media):
            raise PydanticCustomError(
                "energies", "`energies:` and `burns:` name one and the same fuel at most"
            )
        return self

    def _energy_ports(self) -> tuple[Port, ...]:
        burns = self._burning_ports()
        electric = "dc" in self.energies or (bool(burns) and self.gas_electronics)
        coolant = (into("coolant-in", WATER), out("coolant-out", WATER))
        return joined(
            (SUPPLY,) if electric else (),
            (MAINS,) if "mains" in self.energies else (),
            burns,
            coolant if "engine coolant" in self.energies else (),
        )

    def _burning_ports(self) -> tuple[Port, ...]:
        fuels = [e for e in self.energies if e in ("gas", "diesel")]
        if not fuels:
            return ()
        medium = Medium.gas if fuels[0] == "gas" else Medium.fuel
        flue = self.flue_type or Flue.room_sealed
        return (into("fuel", medium, needed=True, main=True), *flue_ports(flue))

    def ports(self) -> tuple[Port, ...]:
        """Return cold, hot, a drain, and what its energies need."""
        energy = self._energy_ports()
        # With several energies none of them alone is indispensable.
        several = len(self.energies) > 1
        shown = tuple(optional(port) if several else port for port in energy)
        water = (into("cold", WATER, needed=True, main=True), out("hot", WATER, main=True))
        return joined(shown, water, (out("drain", WATER),))

    def links(self) -> tuple[Link, ...]:
        """Return the water's way through, the coolant's, and combustion."""
        coolant = (Link("coolant-in", "coolant-out"),) if "engine coolant" in self.energies else ()
        water = (Link("cold", "hot"), Link("cold", "drain"))
        return joined(burning(self._burning_ports()), coolant, water)


class MixingValve(Component):
    """A thermostatic mixer that bounds the temperature at the taps."""

    system: ClassVar[System] = System.water
    letter: ClassVar[str] = "Q"
    kind: Literal["mixing-valve"]
    temperature: Temperature | None = told("Temperature that it is set to.", example="43 °C")
    limit_temperature: Temperature | None = told("Highest temperature that it can be set to.")
    closes_without_cold: bool | None = told("Whether it shuts the hot side when cold water fails.")
    check_valves: bool | None = told("Whether both its inlets have check valves.")

    def ports(self) -> tuple[Port, ...]:
        """Return both inlets and the mixed outlet."""
        return (
            into("cold", WATER, needed=True),
            into("hot", WATER, needed=True),
            out("mixed", WATER, main=True),
        )

    def links(self) -> tuple[Link, ...]:
        """Return the way of each inlet to the outlet."""
        return tuple(Link(side, "mixed", one_way=True) for side in ("cold", "hot"))


KINDS: tuple[type[Component], ...] = (
    WaterHeater,
    MixingValve,
)
