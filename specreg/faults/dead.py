"""What can be dead in this van, so that somebody looks for the fault."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from specreg.model.build import Build
from specreg.model.charging import DcCharger, ShoreCharger
from specreg.model.component import AcConsumer, CombustionAppliance, Component, Consumer, System
from specreg.model.dc import FuseBox
from specreg.model.inverting import Inverting
from specreg.model.loads import DcOutlet
from specreg.model.mains import Socket
from specreg.model.solar import SolarController
from specreg.model.water import Draw

GROUPS = {
    System.water: "water",
    System.waste: "water",
    System.gas: "heat",
    System.heat: "heat",
    System.air: "heat",
}
"""The chapter of a system; the others belong to `power`."""

USED = (Consumer, AcConsumer, CombustionAppliance, Socket, DcOutlet, Inverting)
"""What people use and see working or not."""

CHARGED_BY = {"solar-controller": "panel", "dc-charger": "input", "split-relay": "starter"}
"""The port at which a charger by sun or engine takes its energy."""


class Fault(NamedTuple):
    """One thing that may be dead, and the question that a person asks about it.

    `sort` is `dead`, `dry` (no water at a tap), `cold` (no hot water there), `dark` (a whole box of fuses)
    or `uncharged`. `group` is the chapter: `water`, `power`, `heat` or `charging`. `ports` are the needs
    that are looked at, all that it has where none is named.
    """

    thing: str
    sort: str
    group: str
    ports: tuple[str, ...] = ()

    @property
    def anchor(self) -> str:
        """Return where links to it point."""
        return self.thing if self.sort in ("dead", "dry", "dark") else f"{self.thing}-{self.sort}"


def faults(build: Build) -> tuple[Fault, ...]:
    """Return every question of this van, in the order of the spec."""
    return tuple(one for name, thing in build.components.items() for one in _of(name, thing))


def _of(name: str, thing: Component) -> Iterator[Fault]:
    if isinstance(thing, Draw):
        yield from _draw(name, thing)
    elif isinstance(thing, FuseBox):
        yield Fault(name, "dark", "power")
    elif isinstance(thing, USED) and thing.kind != "regulator" and any(p.needed for p in thing.ports()):
        yield Fault(name, "dead", GROUPS.get(type(thing).system, "power"))
    if (ports := _charging(thing)) is not None:
        yield Fault(name, "uncharged", "charging", ports)


def _draw(name: str, draw: Draw) -> Iterator[Fault]:
    pipes = tuple(port.name for port in draw.ports())
    yield Fault(name, "dry", "water", pipes[:1])
    if "hot" in pipes:
        yield Fault(name, "cold", "water", ("hot",))


def _charging(thing: Component) -> tuple[str, ...] | None:
    """Return the ports at which a charger takes its energy; None for what charges nothing."""
    if isinstance(thing, SolarController | DcCharger) or thing.kind == "split-relay":
        return (CHARGED_BY[thing.kind],)
    if isinstance(thing, ShoreCharger):
        return ("mains",)
    if thing.kind == "inverter-charger":
        return ("ac-in",)
    return None
