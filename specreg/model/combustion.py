"""Combustion appliances: ports that follow from the fuel and the flue."""

from typing import ClassVar

from specreg.model.component import CombustionAppliance, Flue, Fuel, joined
from specreg.model.fluid import into, out
from specreg.model.port import Link, LinkKind, Medium, Port

FUEL_MEDIUM: dict[Fuel, Medium] = {
    Fuel.propane: Medium.gas,
    Fuel.butane: Medium.gas,
    Fuel.lpg: Medium.gas,
    Fuel.diesel: Medium.fuel,
    Fuel.petrol: Medium.fuel,
}
"""What the pipe to an appliance carries; spirit and wood come in by hand."""


def fuel_ports(burns: Fuel) -> tuple[Port, ...]:
    """Return the fuel port of an appliance, where the fuel comes by pipe."""
    medium = FUEL_MEDIUM.get(burns)
    return (into("fuel", medium, needed=True, main=True),) if medium else ()


def flue_ports(flue: Flue) -> tuple[Port, ...]:
    """Return the ports for combustion air and exhaust that this kind of flue has."""
    air = into("combustion-air", Medium.air, main=True)
    exhaust = out("exhaust", Medium.exhaust, main=True)
    return {Flue.room_sealed: (air, exhaust), Flue.open_flued: (exhaust,), Flue.flueless: ()}[flue]


def burning(ports: tuple[Port, ...]) -> tuple[Link, ...]:
    """Return the conversion of fuel and air into exhaust between the ports that there are."""
    names = {port.name for port in ports}
    if "exhaust" not in names:
        return ()
    return tuple(
        Link(source, "exhaust", LinkKind.conversion, one_way=True)
        for source in ("fuel", "combustion-air")
        if source in names
    )


class Burner(CombustionAppliance):
    """A combustion appliance whose ports follow from its fuel and flue."""

    letter: ClassVar[str] = "E"
    default_fuel: ClassVar[Fuel] = Fuel.propane
    default_flue: ClassVar[Flue] = Flue.flueless

    def combustion_ports(self) -> tuple[Port, ...]:
        """Return the ports for fuel, combustion air and exhaust; what is not stated is as the kind is."""
        fuel = fuel_ports(self.burns or self.default_fuel)
        return joined(fuel, flue_ports(self.flue_type or self.default_flue))

    def ports(self) -> tuple[Port, ...]:
        """Return the ports for fuel, combustion air and exhaust."""
        return self.combustion_ports()

    def links(self) -> tuple[Link, ...]:
        """Return the conversion of fuel and air into exhaust."""
        return burning(self.combustion_ports())
