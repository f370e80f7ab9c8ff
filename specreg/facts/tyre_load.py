"""What the tyres carry by their load index, against what the plate permits on each axle."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.tables import tyres
from specreg.units import Dimension

MASS = number(Dimension.mass)


def _tyre(build: Subject) -> tyres.TyreLoad:
    fitted = build.van.build.header.vehicle.tyres
    if fitted is None or fitted.size is None:
        raise Missing("vehicle.tyres.size")
    found = tyres.tyre_load(fitted.size)
    if found is None:
        raise Missing(reason=f"no load index at the end of {fitted.size}")
    return found


@fact(Header, MASS, formula="2 × load index, single", source=tyres.SOURCE)
def front_tyres_carry(build: Subject) -> float:
    """Mass that the front tyres carry at their reference pressure."""
    return 2 * _tyre(build).single


@fact(
    Header,
    MASS,
    formula="2 × load index, single; 4 × load index, paired, on an axle of four",
    source=tyres.SOURCE,
)
def rear_tyres_carry(build: Subject) -> float:
    """Mass that the rear tyres carry at their reference pressure."""
    tyre = _tyre(build)
    fitted = build.van.build.header.vehicle.tyres
    assert fitted is not None
    paired = fitted.paired_rear
    if paired is None:
        build.van.assume("whether rear wheels are paired is not stated, taken as single")
    if not paired:
        return 2 * tyre.single
    if tyre.paired is None:
        raise Missing(reason="the load index for paired tyres is not in the designation")
    return 4 * tyre.paired
