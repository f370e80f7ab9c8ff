"""What the spec declares present or absent, against what stands in it, so that nothing passes by omission."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, text
from specreg.model.build import SYSTEMS, Header
from specreg.model.component import CombustionAppliance, Component, System
from specreg.model.dc import Battery
from specreg.model.gas import GasStore
from specreg.model.seating import Seating
from specreg.model.sleeping import Bed
from specreg.model.solar import SolarPanel
from specreg.model.waste import BlackTank, Cassette, GreyTank, Toilet, UrineTank
from specreg.model.water import Draw, FreshTank

SPEC = "the spec's components"


def _is(*models: type[Component]) -> Callable[[Component], bool]:
    return lambda part: isinstance(part, models)


SIGNS: Mapping[str, Callable[[Component], bool]] = {
    "dc": _is(Battery),
    "solar": _is(SolarPanel),
    "mains": lambda part: part.system is System.mains,
    "water": _is(FreshTank, Draw),
    "grey-water": _is(GreyTank),
    "black-water": _is(BlackTank, Cassette, UrineTank, Toilet),
    "gas": _is(GasStore),
    "combustion": _is(CombustionAppliance),
    "travel-seats": lambda part: isinstance(part, Seating) and _used_on_the_road(part),
    "beds": _is(Bed),
}
"""What shows that a system is there: components of these kinds."""


def _used_on_the_road(seat: Seating) -> bool:
    return bool(seat.used_under_way or seat.belted_places)


def _fitted(build: Subject) -> dict[str, tuple[str, ...]]:
    """Return the components that show each system, for those systems that are there."""
    parts = build.van.build.components
    found = {name: tuple(n for n, part in parts.items() if sign(part)) for name, sign in SIGNS.items()}
    return {name: shown for name, shown in found.items() if shown}


@fact(
    Header, list_of(text()), formula="systems in neither list of `systems:`", source="the spec's `systems:`"
)
def undeclared_systems(build: Subject) -> tuple[str, ...]:
    """Systems that the spec declares neither present nor absent."""
    said = build.van.build.header.systems
    return tuple(name for name in SYSTEMS if name not in (*said.present, *said.none))


@fact(Header, list_of(text()), formula="systems in both lists of `systems:`", source="the spec's `systems:`")
def doubly_declared_systems(build: Subject) -> tuple[str, ...]:
    """Systems that the spec declares both present and absent."""
    said = build.van.build.header.systems
    return tuple(name for name in SYSTEMS if name in said.present and name in said.none)


@fact(Header, list_of(text()), formula="components that show each system", source=SPEC)
def fitted_systems(build: Subject) -> tuple[str, ...]:
    """Systems of which something is fitted."""
    return tuple(_fitted(build))


@fact(Header, list_of(text()), formula="components of systems declared absent", source=SPEC)
def fitted_though_declared_absent(build: Subject) -> tuple[str, ...]:
    """Components of systems that the spec declares absent."""
    absent, fitted = build.van.build.header.systems.none, _fitted(build)
    return tuple(part for name in SYSTEMS if name in absent for part in fitted.get(name, ()))


@fact(Header, list_of(text()), formula="systems declared present of which no component is there", source=SPEC)
def present_but_unspecified(build: Subject) -> tuple[str, ...]:
    """Systems that the spec declares present without any component of theirs."""
    present, fitted = build.van.build.header.systems.present, _fitted(build)
    return tuple(name for name in SYSTEMS if name in present and name not in fitted)
