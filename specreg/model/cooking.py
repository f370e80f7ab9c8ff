"""Cooking: hobs, ovens and stoves."""

from typing import ClassVar, Literal

from specreg.model.combustion import Burner
from specreg.model.component import (
    SUPPLY,
    AcConsumer,
    Component,
    Consumer,
    System,
    joined,
)
from specreg.model.field import told
from specreg.model.port import Link, Port
from specreg.model.quantity import (
    Mass,
    MassFlow,
    Power,
    Volume,
)


class Cooker(Consumer, Burner):
    """A built-in gas appliance for cooking."""

    system: ClassVar[System] = System.heat
    ignition: Literal["match", "piezo", "own battery", "12 V"] | None = told("How it is lit.")
    gas_flow: MassFlow | None = told("Gas use at full setting.", example="130 g/h")

    def ports(self) -> tuple[Port, ...]:
        """Return the fuel, and a supply where it is lit from the van's battery."""
        supply = (SUPPLY,) if self.ignition == "12 V" else ()
        return joined(supply, self.combustion_ports())


class Hob(Cooker):
    """A built-in hob."""

    kind: Literal["hob"]
    burners: int | None = told("How many burners it has.", example="2")
    lid: Literal["none", "plain", "shuts the gas"] | None = told("What its lid does.")
    behind: str | None = told("What the wall behind it is made of.", example="steel sheet")


class Oven(Cooker):
    """A built-in oven or grill."""

    kind: Literal["oven"]
    grill: bool | None = told("Whether it has a grill.")
    volume: Volume | None = told("Volume inside.", example="20 L")
    oven_flue: str | None = told("Where its hot gases come out.", example="rear of the hob")


class PortableStove(Burner):
    """A stove with its own cartridge or tank, carried in and out."""

    system: ClassVar[System] = System.heat
    kind: Literal["portable-stove"]
    cartridge: Mass | None = told("Content of one cartridge or of its tank.", example="227 g")
    spare_cartridges: int | None = told("How many spare cartridges the van carries.", example="2")
    stored_in: str | None = told("The component that it and its cartridges are stored in.")
    used: Literal["inside", "outside"] | None = told("Where it is meant to be used.")

    def ports(self) -> tuple[Port, ...]:
        """Return no ports: it is joined to nothing."""
        return ()

    def links(self) -> tuple[Link, ...]:
        """Return nothing."""
        return ()


class InductionHob(AcConsumer):
    """An induction hob on mains or on the inverter."""

    system: ClassVar[System] = System.heat
    letter: ClassVar[str] = "E"
    kind: Literal["induction-hob"]
    plates: int | None = told("How many plates it has.", example="1")
    power_limit: Power | None = told("Greatest power that it can be set to.", example="1.2 kW")
    built_in: bool | None = told("Whether it is built in.")


KINDS: tuple[type[Component], ...] = (
    Hob,
    Oven,
    PortableStove,
    InductionHob,
)
