"""The bill of parts: what a van is made of, one line for each thing that can be bought.

Components that name one catalogue entry are one line; cable, pipe, hose and duct of one size are one line by
their lengths with the routing; fuses and breakers by family and rating.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any, NamedTuple

from specreg.facts.engine import Facts, Subject
from specreg.model.build import Build, Stage
from specreg.model.component import Component, SupplyState
from specreg.model.device import ProtectiveDevice
from specreg.model.port import Medium
from specreg.model.run import AcRun, Cable, DcRun, Run
from specreg.model.works import Supply, Works
from specreg.units import Dimension, System, write
from specreg.works.money import Money, read_money, with_share

NOT_BOUGHT = frozenset(
    {
        "removed-item",
        "chassis-point",
        "ignition-signal",
        "exit",
        "luggage",
        "notice",
        "alternator",
        "starter-motor",
    }
)
"""Kinds that are part of the base vehicle, taken out of it, or the owner's own, unless a price is stated."""

WORDS = {
    Medium.water: "water pipe", Medium.waste: "waste pipe", Medium.gas: "gas pipe", Medium.fuel: "fuel line",
    Medium.air: "air duct", Medium.exhaust: "exhaust pipe", Medium.control: "control cable",
}  # fmt: skip
STATES = tuple(SupplyState)


class Line(NamedTuple):
    """Something to buy in one state for one van: how much, from whom, for what, and when it is needed.

    `number` counts pieces, or metres where `unit` is `m`. `things` are the ids that it is for; it is the
    van's `own` where it has no entry in the catalogue. `lead_time` is in seconds.
    """

    build: str
    item: str
    title: str
    unit: str
    number: Decimal
    state: SupplyState
    supplier: str = ""
    price: Money | None = None
    sale_price: Money | None = None
    lead_time: float | None = None
    things: tuple[str, ...] = ()
    system: str = ""
    own: bool = False

    @property
    def cost(self) -> Money | None:
        """Return what it costs the workshop."""
        return self.price.times(self.number) if self.price else None

    def sale(self, margin: float | None) -> Money | None:
        """Return what the client pays: the stated sale price, else cost and margin; None where neither is."""
        if self.sale_price is not None:
            return self.sale_price.times(self.number)
        cost = self.cost
        return with_share(cost, margin) if cost is not None and margin is not None else None


@dataclass(frozen=True)
class Bill:
    """The lines of one van, with what was taken for granted and what is not known."""

    build: str
    lines: tuple[Line, ...]
    assumptions: tuple[str, ...] = ()
    unknown: tuple[str, ...] = field(default=())


def bill_of(facts: Facts) -> Bill:
    """Return the bill of one van: the same thing in the same state is one line, in the spec's order."""
    found = _Found(facts)
    lines = [*found.components(), *found.runs(), *found.devices()]
    return Bill(facts.build.name, _merged(lines), tuple(found.assumptions), tuple(found.unknown))


def _merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Join lines that differ in their number and in what they are for alone."""
    found: dict[Any, Line] = {}
    for line in lines:
        key = (line.item, line.own, line.title, line.unit, line.state, line.supplier, line.price,
               line.sale_price, line.lead_time)  # fmt: skip
        seen = found.get(key)
        if seen is None:
            found[key] = line
        else:
            found[key] = seen._replace(number=seen.number + line.number, things=(*seen.things, *line.things))
    return tuple(found.values())


class _Found:
    """Gathers the lines of one van."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.build: Build = facts.build
        self.works: Works = facts.build.header.works
        self.assumptions: dict[str, None] = {}
        self.unknown: dict[str, None] = {}

    def components(self) -> Iterator[Line]:
        for name, one in self.build.components.items():
            if one.price or (one.kind not in NOT_BOUGHT and not of_the_vehicle(one)):
                yield self._component(name, one)

    def _component(self, name: str, one: Component) -> Line:
        item = one.part or name
        shared = self.works.materials.get(item, Supply())
        return Line(
            self.build.name,
            item,
            one.kind.replace("-", " ") if one.part else (one.title or one.kind.replace("-", " ")),
            "",
            Decimal(one.count),
            self._state(one, shared),
            one.supplier or shared.supplier or "",
            self._price(name, "price", one.price or shared.price),
            self._price(name, "sale_price", one.sale_price or shared.sale_price),
            one.lead_time if one.lead_time is not None else shared.lead_time,
            (name,),
            type(one).system.value,
            one.part is None,
        )

    def _price(self, name: str, key: str, text: str | None) -> Money | None:
        found = read_money(text)
        if found is None and text is not None:
            self.unknown[f"{name}.{key}: a price is an amount with its currency, such as 129 GBP"] = None
        return found

    def _state(self, one: Component | None, shared: Supply) -> SupplyState:
        """Return the stated state; else fitted where a day or the stage says so, else its material's."""
        if one is not None and one.state is not None:
            return one.state
        if one is not None and one.fitted_on is not None:
            return SupplyState.fitted
        header = self.build.header
        if header.stage.reached(Stage.commissioning):
            said = f"what states no `state` is taken as fitted: {header.build} is at {header.stage.value}"
            self.assumptions[said] = None
            return SupplyState.fitted
        if shared.state is not None:
            return shared.state
        self.assumptions["what states no `state` is taken as still to be ordered"] = None
        return SupplyState.to_order

    def runs(self) -> Iterator[Line]:
        for subject in self.facts.of_class(Run):
            run: Any = subject.model
            names = (run.part,) if run.part else item_names(subject)
            length = self._length(subject)
            for item, share in _counted(names):
                yield self._bought(item, "m", length * share, subject.id, type(run).system.value)

    def _length(self, subject: Subject) -> Decimal:
        from specreg.facts.registry import kinds_for  # noqa: PLC0415 - beside its only use

        fact = self.facts.ask(subject, kinds_for(type(subject.model))["laid_length"])
        self.assumptions |= dict.fromkeys(fact.assumptions)
        if not fact.known:
            self.unknown |= dict.fromkeys(fact.missing)
            return Decimal()
        return Decimal(repr(round(float(fact.value), 3)))

    def devices(self) -> Iterator[Line]:
        for name, device in self.facts.devices.items():
            owner = name.partition("/")[0]
            if owner not in self.build.components or _is_in_box(self.build, name):
                system = self.build.runs[owner].system if owner in self.build.runs else None
                shown = system or type(self.build.components[owner]).system
                yield self._bought(device_name(device), "", Decimal(1), name, shown.value)

    def _bought(self, item: str, unit: str, number: Decimal, thing: str, system: str) -> Line:
        """Return a line for what has no entry of its own: all that is known of it stands under materials."""
        known = self.works.materials.get(item, Supply())
        return Line(
            self.build.name,
            item,
            "",
            unit,
            number,
            self._state(None, known),
            known.supplier or "",
            read_money(known.price),
            read_money(known.sale_price),
            known.lead_time,
            (thing,),
            system,
        )


def of_the_vehicle(one: Component) -> bool:
    """Tell whether it came with the base vehicle."""
    return getattr(one, "origin", None) == "base vehicle" or getattr(one, "role", None) == "starter"


def _is_in_box(build: Build, device: str) -> bool:
    """Tell whether a device sits in a way of a box, not whether it is a component of its own."""
    return "/" in device and device.partition("/")[0] in build.components


def _counted(names: Iterable[str]) -> Iterator[tuple[str, int]]:
    counts: dict[str, int] = {}
    for name in names:
        counts[name] = counts.get(name, 0) + 1
    yield from counts.items()


def item_names(subject: Subject) -> tuple[str, ...]:
    """Return what a run is cut from: cable by cores and size, pipe by what it carries, material and bore."""
    run: Any = subject.model
    if isinstance(run, Cable):
        return _cable_names(run)
    words = WORDS[run.medium]
    if run.medium is Medium.gas and run.form == "hose":
        words = "gas hose"
    size = run.conductor.label if getattr(run, "conductor", None) else ""
    bore = getattr(run, "bore", None)
    if bore is not None:
        size = write(bore, Dimension.length, System.metric)
    material = getattr(run, "material", None)
    return (" ".join(part for part in (words, size, f"({material})" if material else "") if part),)


def _cable_names(run: Cable) -> tuple[str, ...]:
    size = run.conductor.label if run.conductor else "of a size not stated"
    if isinstance(run, AcRun):
        return (run.cable_type or f"mains cable {size}",)
    if isinstance(run, DcRun) and run.returns == "same cable":
        back = run.return_conductor.label if run.return_conductor else size
        return (f"two-core cable {size}",) if back == size else (f"cable {size}", f"cable {back}")
    return (f"cable {size}",)


def device_name(device: ProtectiveDevice) -> str:
    """Return what a fuse or breaker is bought as."""
    family = f" {device.family.value}" if device.family and device.family.value != "miniature breaker" else ""
    rating = write(device.rating, Dimension.current, System.metric)
    trip = device.residual_current
    tripping = f" with {write(trip, Dimension.current, System.metric)} residual trip" if trip else ""
    return f"{device.word} {rating}{family}{tripping}"


def unused_materials(bills: Mapping[str, Bill], works: Iterable[Works]) -> tuple[str, ...]:
    """Return the names under `materials` that no line of any van bears."""
    stated = dict.fromkeys(name for one in works for name in one.materials)
    used = {line.item for bill in bills.values() for line in bill.lines}
    return tuple(name for name in stated if name not in used)
