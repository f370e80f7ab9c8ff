"""The ordered checks for one dead thing: easiest first, nearest first among equals.

The order follows from what a check costs the person who stands in the van, and from the graph: what is
worked by hand and seen at a glance comes first, then what a hand pulls, then what is the workshop's or a
licensed person's. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from specreg.facts.engine import Facts
from specreg.facts.schedule import supply_of
from specreg.faults.dead import Fault, faults
from specreg.faults.way import Met, met_on_the_way
from specreg.graph.supply import Step, Supplied, downstream, stops_with
from specreg.model.control import RemoteControl
from specreg.model.device import Family
from specreg.model.field import Word
from specreg.model.mains_device import ResidualProtected
from specreg.model.port import Medium

OWNER_FUSES = frozenset({Family.blade, Family.mini_blade, Family.maxi, Family.glass})
"""Families that a hand pulls and pushes in; the others are bolted and for the workshop."""


class Look(Word):
    """What is looked at."""

    own = "own"
    works = "works"
    control = "control"
    switch = "switch"
    valve = "valve"
    plug = "plug"
    level = "level"
    gas = "gas"
    fuel = "fuel"
    engine = "engine"
    sun = "sun"
    battery = "battery"
    blocked = "blocked"
    residual = "residual"
    fuse = "fuse"
    breaker = "breaker"
    strainer = "strainer"
    converter = "converter"
    bolted = "bolted"
    passed = "passed"
    contact = "contact"
    joints = "joints"


class Who(Word):
    """Who may do what the check asks for."""

    owner = "owner"
    workshop = "workshop"
    electrician = "electrician"
    gas_engineer = "gas engineer"


class Check(NamedTuple):
    """One thing to look at. `stops` is what people use that is dead, too, when this is the cause.

    So if one of those works, this is in order.

    `things` are several only for the joints of cables and pipes, which come last. `for_what` is the
    component that needs it: the pump, where the tap is dry.
    """

    look: Look
    things: tuple[str, ...]
    medium: Medium | None
    for_what: str
    stops: tuple[str, ...]
    who: Who
    distance: int


EFFORT = {
    Look.own: 0, Look.works: 0, Look.control: 1, Look.switch: 1, Look.valve: 1, Look.plug: 1,
    Look.level: 2, Look.gas: 2, Look.fuel: 2, Look.engine: 2, Look.sun: 2, Look.battery: 2,
    Look.blocked: 3, Look.residual: 4, Look.fuse: 4, Look.breaker: 4, Look.strainer: 5,
    Look.converter: 5, Look.bolted: 7, Look.passed: 7, Look.contact: 8, Look.joints: 9,
}  # fmt: skip
"""What a check costs; within one cost the nearest comes first."""

SOURCE_LOOKS = {
    "battery": Look.battery,
    "fresh-tank": Look.level,
    "filler": Look.level,
    "gas-cylinder": Look.gas,
    "gas-tank": Look.gas,
    "fuel-tank": Look.fuel,
    "fuel-takeoff": Look.fuel,
    "shore-inlet": Look.plug,
    "alternator": Look.engine,
    "solar-panel": Look.sun,
    "engine-coolant-takeoff": Look.engine,
    "generator": Look.converter,
}
"""What is asked of a source, by its kind."""

COMPONENT_LOOKS = {
    "pump": Look.works,
    "inverter": Look.converter,
    "inverter-charger": Look.converter,
    "dc-converter": Look.converter,
    "dc-charger": Look.converter,
    "shore-charger": Look.converter,
    "solar-controller": Look.converter,
    "water-heater": Look.works,
    "air-heater": Look.works,
    "combined-heater": Look.works,
    "hydronic-heater": Look.works,
}
"""What is asked of a component on the way, by its kind; the others only pass something on."""

BREATHES = ("flue-terminal", "air-intake")
"""Where a burner breathes: what snow, mud or a sack in front of it stops."""

TELLS = ("switch", "remote-control", "thermostat", "timer", "ignition-signal", "switch-panel")
"""Kinds that tell another thing by a control lead what to do."""


def checks(facts: Facts, fault: Fault) -> tuple[Check, ...]:
    """Return what to look at when a thing is dead, in order, each once."""
    of = facts.once(supply_of)
    met = met_on_the_way(of, fault.thing, fault.ports)
    if fault.sort == "cold":
        met = (*met, *_heating(of, met))
    found = [Check(Look.own, (fault.thing,), None, fault.thing, (), Who.owner, 0)]
    found += _controls(of, fault.thing)
    found += _blocked(of, fault.thing)
    for one in met:
        found += _on_the_way(facts, of, fault, one)
    found += _sieves(of, met)
    found += _plugs(of, fault, met)
    found += _joints(of, met, {fault.thing, *(thing for check in found for thing in check.things)})
    unique = {(check.look, check.things): check for check in reversed(found)}
    return tuple(sorted(unique.values(), key=lambda check: (EFFORT[check.look], check.distance)))


def _heating(of: Supplied, met: Iterable[Met]) -> Iterator[Met]:
    """Yield the heaters through which hot water comes, with what they need: cold water passes them, too."""
    for one in met:
        if one.step.form != "run":
            continue
        for name in _ends(of, one.step.id):
            if of.build.components[name].kind in ("water-heater", "combined-heater"):
                yield Met(Step("component", name), one.medium, one.for_what, one.distance)
                yield from met_on_the_way(of, name)


def _on_the_way(facts: Facts, of: Supplied, fault: Fault, met: Met) -> Iterator[Check]:
    thing, form = met.step.id, met.step.form
    look = _look(facts, of, met)
    if look is not None:
        used = facts.once(_used)
        stops = tuple(name for name in stops_with(of, thing) if name in used and name != fault.thing)
        yield Check(look, (thing,), met.medium, met.for_what, stops, _who(look, met.medium), met.distance)
    if form == "component":
        yield from _controls(of, thing, met.distance)
        yield from _blocked(of, thing, met.distance)


def _sieves(of: Supplied, met: Iterable[Met]) -> Iterator[Check]:
    """Yield the strainers and filters in the pipes on the way, which are no steps of their own."""
    for one in met:
        for name in _ends(of, one.step.id) if one.step.form == "run" else ():
            if of.build.components[name].kind in ("strainer", "water-filter"):
                yield Check(Look.strainer, (name,), one.medium, one.for_what, (), Who.owner, one.distance)


def _used(facts: Facts) -> frozenset[str]:
    """Return the things that people see working or not."""
    return frozenset(one.thing for one in faults(facts.build) if one.sort in ("dead", "dry"))


def _plugs(of: Supplied, fault: Fault, met: Iterable[Met]) -> Iterator[Check]:
    """Yield the shore inlets from which a thing on mains works, too: the way met leads to one source only."""
    if not any(one.medium is Medium.ac for one in met):
        return
    for name, one in of.build.components.items():
        if one.kind == "shore-inlet" and fault.thing in downstream(of, name):
            yield Check(Look.plug, (name,), Medium.ac, fault.thing, (), Who.owner, 1)


def _look(facts: Facts, of: Supplied, met: Met) -> Look | None:
    """Return what is looked at for one step; None for a run, whose joints come last."""
    thing, form = met.step.id, met.step.form
    if form == "device":
        return _device(facts, thing)
    if form in ("switch", "valve"):
        owner = of.build.components.get(thing.partition("/")[0])
        hidden = isinstance(owner, ResidualProtected) and form == "switch"
        return Look.residual if hidden else Look(form)
    if form == "source":
        return SOURCE_LOOKS.get(of.build.components[thing].kind)
    if form == "component":
        return COMPONENT_LOOKS.get(of.build.components[thing].kind, Look.passed)
    return None


def _device(facts: Facts, thing: str) -> Look:
    device = facts.devices[thing]
    if device.residual_current is not None:
        return Look.residual
    if device.breaker is not None:
        return Look.breaker
    return Look.fuse if device.family in OWNER_FUSES else Look.bolted


def _who(look: Look, medium: Medium) -> Who:
    """Return who may do it: what an owner works by hand, else the trade of the medium."""
    if look in (Look.bolted, Look.passed, Look.contact, Look.joints):
        trades = {Medium.ac: Who.electrician, Medium.gas: Who.gas_engineer}
        return trades.get(medium, Who.workshop)
    return Who.owner


def _controls(of: Supplied, thing: str, distance: int = 0) -> Iterator[Check]:
    """Yield what tells a thing what to do, by a control lead or without one."""
    told = set(_joined(of, thing, Medium.control))
    for name, one in of.build.components.items():
        without_lead = isinstance(one, RemoteControl) and one.controls == thing
        if without_lead or (name in told and one.kind in TELLS):
            yield Check(Look.control, (name,), Medium.control, thing, (), Who.owner, distance + 1)


def _joined(of: Supplied, thing: str, *media: Medium) -> Iterator[str]:
    """Yield the components at the other ends of a thing's runs of some media."""
    for name, run in of.build.runs.items():
        ends = _ends(of, name)
        if run.medium in media and thing in ends:
            yield from (other for other in ends if other != thing)


def _ends(of: Supplied, run: str) -> tuple[str, str]:
    """Return the components at the two ends of a run."""
    return of.build.ends[run].start.component, of.build.ends[run].finish.component


def _blocked(of: Supplied, thing: str, distance: int = 0) -> Iterator[Check]:
    """Yield the openings through which a burner breathes."""
    for other in _joined(of, thing, Medium.air, Medium.exhaust):
        if of.build.components[other].kind in BREATHES:
            yield Check(Look.blocked, (other,), Medium.air, thing, (), Who.owner, distance + 1)


def _joints(of: Supplied, met: Iterable[Met], named: set[str]) -> Iterator[Check]:
    """Yield the cables and pipes of one medium with what joins them, such as bars and boxes.

    They are looked at last, by the trade of the medium.
    """
    by_medium: dict[Medium, list[Met]] = {}
    for one in met:
        if one.step.form == "run":
            by_medium.setdefault(of.build.runs[one.step.id].medium, []).append(one)
    for medium, runs in by_medium.items():
        ids = [one.step.id for one in runs]
        joining = [end for name in ids for end in _ends(of, name) if end not in named and end != CHASSIS]
        things = tuple(dict.fromkeys((*ids, *joining)))
        who, first = _who(Look.joints, medium), runs[0]
        yield Check(Look.joints, things, medium, first.for_what, (), who, first.distance)


CHASSIS = "chassis"
"""The body as a return: no component that could be looked at."""
