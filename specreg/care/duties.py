"""The duties of care: on what, how often, by whom, and from where that is known.

Intervals are in months. Where no code was read, they are common practice without a source and are said to be
so; an interval that the maker of a thing states in the spec comes before them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from specreg.facts.engine import Facts
from specreg.model.build import Build, Jurisdiction
from specreg.model.component import CombustionAppliance, Component
from specreg.model.field import Word
from specreg.model.mains_device import ResidualProtected


class Carer(Word):
    """Who does it."""

    owner = "owner"
    workshop = "workshop"
    electrician = "electrician"
    gas_engineer = "gas engineer"


class Basis(Word):
    """From where an interval is known."""

    maker = "maker"
    memory = "memory"
    practice = "common practice, no source"


Finds = Callable[[Facts], tuple[str, ...]]
"""The things that a duty is about, nothing where none is fitted; the empty name is the van itself."""


@dataclass(frozen=True)
class Duty:
    """One duty; `elsewhere` holds other intervals by jurisdiction, in months."""

    name: str
    on: Finds
    months: int
    who: Carer
    basis: Basis = Basis.practice
    document: str = ""
    elsewhere: dict[Jurisdiction, int] = field(default_factory=dict)

    def interval(self, build: Build) -> int:
        """Return the shortest interval of the van's jurisdictions, in months."""
        words = build.header.jurisdictions
        return min((self.elsewhere.get(word, self.months) for word in words), default=self.months)


def kinds(*words: str) -> Finds:
    """Find the components of some kinds."""
    return lambda facts: tuple(n for n, one in facts.build.components.items() if one.kind in words)


def where(holds: Callable[[Component], bool]) -> Finds:
    """Find the components for which something holds."""
    return lambda facts: tuple(n for n, one in facts.build.components.items() if holds(one))


def whole(_facts: Facts) -> tuple[str, ...]:
    """Find the van itself."""
    return ("",)


def residual(facts: Facts) -> tuple[str, ...]:
    """Find what trips on residual current: switches in boards and sockets, breakers that do both."""
    built_in = [
        name
        for name, one in facts.build.components.items()
        if one.kind == "residual-current-device" or (isinstance(one, ResidualProtected) and one.residual)
    ]
    return (*built_in, *(name for name, one in facts.devices.items() if one.residual_current is not None))


def mains(facts: Facts) -> tuple[str, ...]:
    """Find the mains of a van as a whole, by its boards or its inlet."""
    found = kinds("mains-board")(facts) or kinds("shore-inlet", "inverter", "inverter-charger")(facts)
    return found[:1]


def _burns_gas(one: Component) -> bool:
    burns = getattr(one, "burns", None)
    return isinstance(one, CombustionAppliance) and one.kind != "portable-stove" and burns in GASES


def gas(facts: Facts) -> tuple[str, ...]:
    """Find the gas system as a whole, by its first appliance; a portable stove is none."""
    return where(_burns_gas)(facts)[:1]


def _heats_with_diesel(one: Component) -> bool:
    return isinstance(one, CombustionAppliance) and getattr(one, "burns", None) in ("diesel", "petrol")


def _lead(one: Component) -> bool:
    return one.kind == "battery" and "lithium" not in (getattr(one, "chemistry", None) or "lithium")


def _lithium(one: Component) -> bool:
    return one.kind == "battery" and "lithium" in (getattr(one, "chemistry", None) or "")


GASES = ("propane", "butane", "lpg")
RESIDUAL_CODES = "BS 7671 514.12.2; UL 943"
MAINS_NOTICE = "IEC 60364-7-721, notice at the isolator"
AUSTRALASIA = {Jurisdiction.au: 48, Jurisdiction.nz: 48}
AMERICA = {Jurisdiction.us: 1, Jurisdiction.ca: 1}

DUTIES = (
    Duty("test-alarms", kinds("smoke-alarm", "co-alarm", "gas-alarm"), 1, Carer.owner),
    Duty("look-at-extinguisher", kinds("extinguisher"), 1, Carer.owner),
    Duty("press-residual-button", residual, 6, Carer.owner, Basis.memory, RESIDUAL_CODES, AMERICA),
    Duty("run-diesel-heater", where(_heats_with_diesel), 1, Carer.owner),
    Duty("check-tyres", whole, 1, Carer.owner),
    Duty("charge-stored-lithium", where(_lithium), 3, Carer.owner),
    Duty("charge-lead-battery", where(_lead), 3, Carer.owner),
    Duty("clean-strainer", kinds("strainer"), 6, Carer.owner),
    Duty("clean-vents", kinds("vent", "roof-fan", "gas-drop-out", "flue-terminal"), 6, Carer.owner),
    Duty("look-at-seals", whole, 6, Carer.owner),
    Duty("clean-solar-panels", kinds("solar-panel"), 6, Carer.owner),
    Duty("change-water-filter", kinds("water-filter"), 6, Carer.owner),
    Duty("sanitise-water", kinds("fresh-tank"), 12, Carer.owner),
    Duty("tighten-terminals", kinds("battery", "bus-bar", "fuse-box"), 12, Carer.workshop),
    Duty("look-at-fixings", whole, 12, Carer.workshop),
    Duty("service-diesel-heater", where(_heats_with_diesel), 12, Carer.workshop),
    Duty("inspect-gas", gas, 12, Carer.gas_engineer, elsewhere={Jurisdiction.eu: 24}),
    Duty("inspect-mains", mains, 36, Carer.electrician, Basis.memory, MAINS_NOTICE, AUSTRALASIA),
)
"""Every duty, from the most frequent to the rarest."""
