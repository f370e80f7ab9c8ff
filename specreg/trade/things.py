"""The things of a van that a trade tests: circuits, outlets, residual-current devices, bonds, gas, seats.

Every thing says which parts of the spec its test rests on: when one of them changes, the test is due again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from pydantic import BaseModel

from specreg.facts.engine import Facts
from specreg.model.component import AcConsumer, CombustionAppliance, Component, Consumer
from specreg.model.dc import Battery
from specreg.model.gas import Regulator
from specreg.model.inverting import Inverting
from specreg.model.mains import BondingPoint, Generator, ShoreInlet, Socket
from specreg.model.mains_device import (
    MainsBoard,
    MainsBreaker,
    MainsIsolator,
    ResidualCurrentDevice,
    ResidualCurrentSwitch,
)
from specreg.model.port import Medium
from specreg.model.safety import Alarm
from specreg.model.seating import Anchorage
from specreg.model.waste import Basin, GreyTank
from specreg.model.water import FreshTank, Pump
from specreg.rules.fingerprint import fingerprint, mark_of
from specreg.units import Dimension, write


class Thing(NamedTuple):
    """What one test is made on.

    `id` is a component, a device or a word for a whole system; `parts` are what the test rests on, `system`
    a whole system instead. `wider` are the ids under which a record may speak of this thing among others.
    `detail` is the figure that matters beside it, `expects` what is right for this thing alone.
    """

    id: str
    parts: tuple[str, ...] = ()
    system: str = ""
    fields: tuple[str, ...] = ()
    wider: tuple[str, ...] = ()
    detail: str = ""
    expects: str = ""

    def mark(self, facts: Facts) -> str:
        """Return the fingerprint of what the test rests on; empty where that is no part of the spec."""
        if self.system:
            return fingerprint(facts.build, "", (f"system:{self.system}",))
        models = {name: _model(facts, name) for name in sorted(self.parts)}
        return mark_of(models, self.fields) if models else ""


Find = Callable[[Facts], Iterable[Thing]]
"""Finds the things of a van on which a test is made."""


def _model(facts: Facts, name: str) -> BaseModel:
    return facts.build.components.get(name) or facts.build.runs.get(name) or facts.devices[name]


def _of(facts: Facts, *classes: type[Component]) -> Iterator[tuple[str, Component]]:
    return ((name, one) for name, one in facts.build.components.items() if isinstance(one, classes))


def whole(word: str, system: str, *signs: type[Component]) -> Find:
    """Return a finder of one whole system, there where a component of its signs is fitted."""

    def find(facts: Facts) -> Iterator[Thing]:
        if any(True for _ in _of(facts, *signs)):
            yield Thing(word, system=system)

    return find


def each(*classes: type[Component]) -> Find:
    """Return a finder of every component of some classes."""
    return lambda facts: (Thing(name, (name,)) for name, _ in _of(facts, *classes))


MAINS_SIGNS = (ShoreInlet, Inverting, Generator, MainsBoard, Socket)
mains = whole("mains", "mains", *MAINS_SIGNS)
direct_current = whole("dc", "dc", Battery)
vehicle = whole("vehicle", "", Component)
body = whole("body", "", Component)


def circuits(facts: Facts) -> Iterator[Thing]:
    """Yield the mains as a whole, then every circuit by the device at its head."""
    yield from mains(facts)
    for name, board in _of(facts, MainsBoard):
        assert isinstance(board, MainsBoard)
        for way in board.ways:
            head = f"{name}/{way}"
            fed = behind(facts, name, way)
            if fed:
                device = (head,) if head in facts.devices else ()
                yield Thing(head, (*device, *fed), wider=(name, "mains"))
    for name, _ in _of(facts, MainsBreaker):
        yield Thing(name, (name, *behind(facts, name, "out")), wider=("mains",))


PASSED = (Socket, MainsIsolator, ResidualCurrentDevice, MainsBreaker)
"""What a circuit goes on behind; at a board, a source or a changeover it ends."""


def behind(facts: Facts, component: str, port: str) -> tuple[str, ...]:
    """Return the runs behind a port of the mains and what they feed, as far as the circuit goes."""
    joints = [(component, port)]
    found: dict[str, None] = {}
    while joints:
        here = joints.pop()
        for name, far in _cables_at(facts, *here):
            if name in found:
                continue
            found[name] = None
            fed = facts.build.components[far]
            if isinstance(fed, (*PASSED, AcConsumer)):
                found[far] = None
            if isinstance(fed, PASSED):
                joints += [(far, one.name) for one in fed.ports()]
    return tuple(found)


def _cables_at(facts: Facts, component: str, port: str) -> Iterator[tuple[str, str]]:
    """Yield the mains cables at a port, each with the component at its other end."""
    for name, run in facts.build.runs.items():
        ends = facts.build.ends[name]
        if run.medium is Medium.ac:
            for near, far in ((ends.start, ends.finish), (ends.finish, ends.start)):
                if (near.component, near.port.name) == (component, port):
                    yield name, far.component


def outlets(facts: Facts) -> Iterator[Thing]:
    """Yield every mains socket, with the cables that lead to it."""
    for name, _ in _of(facts, Socket):
        yield Thing(name, (name, *_leading_to(facts, name)), wider=("mains",))


def _leading_to(facts: Facts, name: str) -> tuple[str, ...]:
    return tuple(run for run, ends in facts.build.ends.items() if ends.finish.component == name)


def earthed(facts: Facts) -> Iterator[Thing]:
    """Yield what must have a path to earth: bonding points, outlets and fixed appliances."""
    for name, bond in _of(facts, BondingPoint):
        assert isinstance(bond, BondingPoint)
        runs = tuple(
            r for r, e in facts.build.ends.items() if name in (e.start.component, e.finish.component)
        )
        yield Thing(name, (name, *runs), wider=("mains",), detail=", ".join(bond.bonds))
    yield from (thing for thing in outlets(facts) if _has_earth(facts, thing.id))
    for name, _ in _of(facts, AcConsumer):
        leads = _leading_to_mains(facts, name)
        if leads and _has_earth(facts, name):
            yield Thing(name, (name, *leads), wider=("mains",))


def _leading_to_mains(facts: Facts, name: str) -> tuple[str, ...]:
    return tuple(run for run in _leading_to(facts, name) if facts.build.runs[run].medium is Medium.ac)


def _has_earth(facts: Facts, name: str) -> bool:
    """Tell whether a thing is one with an earth: no insulated or plugged-in one, no outlet without."""
    one = facts.build.components[name]
    doubly = getattr(one, "protection_class", None) in ("II", "III")
    return not (doubly or getattr(one, "plugged", False) or getattr(one, "earth_contact", None) is False)


def residual_devices(facts: Facts) -> Iterator[Thing]:
    """Yield everything that trips on residual current: in boards, outlets, housings and breakers."""
    for name, part in facts.build.components.items():
        switch = getattr(part, "residual", None)
        if isinstance(switch, ResidualCurrentSwitch):
            detail = _residual(switch.residual_current, switch.residual_type)
            yield Thing(name, (name,), fields=("residual",), wider=("mains",), detail=detail)
    for name, device in facts.devices.items():
        if device.residual_current is not None:
            detail = _residual(device.residual_current, device.residual_type)
            yield Thing(name, (name,), wider=(name.partition("/")[0], "mains"), detail=detail)


def _residual(current: float | None, kind: str | None) -> str:
    rated = write(current, Dimension.current) if current is not None else ""
    return ", ".join(part for part in (rated, f"type {kind}" if kind else "") if part)


NO_BOND = "none in the van"
ONE_BOND = "exactly one, at the source"


def sources(facts: Facts) -> Iterator[Thing]:
    """Yield each source of mains, with the neutral-earth bonds that are right while it feeds the van."""
    for name, _ in _of(facts, ShoreInlet, Inverting, Generator):
        expects = NO_BOND if isinstance(facts.build.components[name], ShoreInlet) else ONE_BOND
        yield Thing(name, system="mains", wider=("mains",), expects=expects)


def critical_loads(facts: Facts) -> Iterator[Thing]:
    """Yield the consumers that fail first when voltage is low."""
    for subject in facts.of_class(Consumer):
        if subject.get("wired") and subject.get("critical_supply"):
            yield Thing(subject.id, (subject.id, *_leading_to(facts, subject.id)), wider=("dc",))


def inverters(facts: Facts) -> Iterator[Thing]:
    """Yield the inverters; without one the whole of the extra-low voltage, where there is a battery."""
    found = [
        Thing(name, (name, *_leading_to(facts, name)), wider=("dc",)) for name, _ in _of(facts, Inverting)
    ]
    yield from found or direct_current(facts)


def banks(facts: Facts) -> Iterator[Thing]:
    """Yield the lithium batteries, whose settings are read from every charger."""
    for name, battery in _of(facts, Battery):
        if "lithium" in (getattr(battery, "chemistry", None) or ""):
            yield Thing(name, (name,), wider=("dc",))


GASES = ("propane", "butane", "lpg")


def burns_gas(part: BaseModel) -> bool:
    """Tell whether something burns liquefied petroleum gas."""
    return isinstance(part, CombustionAppliance) and str(part.burns or "") in GASES


def gas_system(facts: Facts) -> Iterator[Thing]:
    """Yield the gas system as a whole, where gas is piped to anything."""
    if any(run.medium is Medium.gas for run in facts.build.runs.values()):
        yield Thing("gas", system="gas")


def gas_appliances(facts: Facts) -> Iterator[Thing]:
    """Yield what burns gas."""
    return (Thing(name, (name,)) for name, one in _of(facts, CombustionAppliance) if burns_gas(one))


def other_burners(facts: Facts) -> Iterator[Thing]:
    """Yield what burns another fuel."""
    for name, one in _of(facts, CombustionAppliance):
        if getattr(one, "burns", None) and not burns_gas(one):
            yield Thing(name, (name,))


def anchorages(facts: Facts) -> Iterator[Thing]:
    """Yield the anchorages of seats and belts that a converter made, with the torque written for them."""
    for name, one in _of(facts, Anchorage):
        assert isinstance(one, Anchorage)
        if one.origin == "retrofitted" and one.purpose != "load":
            written = one.tightening or ""
            yield Thing(name, (name,), expects=f"{written} as written" if written else "")


def drains(facts: Facts) -> Iterator[Thing]:
    """Yield every basin, whose drain is run; a record on the tank below speaks of all of them."""
    tanks = tuple(name for name, _ in _of(facts, GreyTank))
    return (Thing(name, (name,), wider=(*tanks, "waste")) for name, _ in _of(facts, Basin))


def water(facts: Facts) -> Iterator[Thing]:
    """Yield the fresh water as a whole; a record on its pump speaks of the same."""
    pumps = tuple(name for name, _ in _of(facts, Pump))
    if any(True for _ in _of(facts, FreshTank)):
        yield Thing("water", system="water", wider=pumps)


def regulators(facts: Facts) -> Iterator[Thing]:
    """Yield the regulators with the pressure on their plates."""
    for name, one in _of(facts, Regulator):
        assert isinstance(one, Regulator)
        known = one.outlet_pressure is not None
        detail = write(one.outlet_pressure or 0.0, Dimension.pressure) if known else ""
        yield Thing(name, (name,), wider=("gas",), detail=detail)


alarms = each(Alarm)
fresh_tanks = each(FreshTank)
