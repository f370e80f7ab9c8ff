"""The final weighbridge ticket against the computed mass: what nobody can explain is named."""

from __future__ import annotations

from collections.abc import Iterator

from specreg.facts.axle_loads import MOMENTS, aboard, doubt, on_rear, rear_share, ticket_load, total
from specreg.facts.engine import Facts, Subject
from specreg.facts.loading import Load
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import DATE, number
from specreg.model.build import Header
from specreg.model.vehicle import Weighing
from specreg.units import Dimension

MASS = number(Dimension.mass)
PATH = "records.weighings"


def final_ticket(van: Facts) -> Weighing:
    """Return the last final ticket in the order of the spec. Raises Missing without one."""
    found = [ticket for ticket in van.build.header.records.weighings if ticket.stage == "final"]
    if not found:
        raise Missing(PATH)
    return found[-1]


def expected_loads(build: Subject) -> tuple[Load, ...]:
    """Return what should have stood on the scale: the van as built, with what the ticket says was in it."""
    return (*build.fitted_loads, *_aboard(build.van))


def _aboard(van: Facts) -> Iterator[Load]:
    yield from aboard(van, final_ticket(van), PATH)


def _on_scale(build: Subject) -> Load:
    return ticket_load(build.van, final_ticket(build.van), PATH)


@fact(Header, DATE, formula="the last final ticket", source="the spec")
def weighed_on(build: Subject) -> object:
    """Day of the final weighing."""
    day = final_ticket(build.van).date
    if day is None:
        raise Missing(f"{PATH}.date")
    return day


@fact(Header, MASS, formula="front + rear axle as weighed", source="final weighbridge ticket")
def weighed_mass(build: Subject) -> float:
    """Mass of the finished van as weighed."""
    return _on_scale(build).mass


@fact(
    Header,
    MASS,
    formula="the van as built + driver, fuel, water and gas as the ticket says",
    source="the spec",
)
def expected_mass(build: Subject) -> float:
    """Mass that the finished van should have had on the scale."""
    return total(expected_loads(build))


@fact(Header, MASS, formula="as weighed − as expected", source="arithmetic")
def unexplained_mass(build: Subject) -> float:
    """Mass on the scale that the spec does not account for; negative where the spec has too much."""
    return float(build.weighed_mass - build.expected_mass)


@fact(Header, MASS, formula=f"as weighed − as expected; {MOMENTS}", source="arithmetic")
def unexplained_rear(build: Subject) -> float:
    """Load of the rear axle that the spec does not account for."""
    wheelbase = build.vehicle.wheelbase
    weighed = on_rear((_on_scale(build),), wheelbase)
    return weighed - on_rear(expected_loads(build), wheelbase)


@fact(Header, MASS, formula="scale step of both tickets + doubt of every mass", source="worst case, linear")
def reconciliation_doubt(build: Subject) -> float:
    """Difference that rounding scales and estimated masses can explain."""
    return doubt(expected_loads(build), lambda _: 1.0, 0.0) + _on_scale(build).mass_doubt


@fact(
    Header,
    MASS,
    formula="as above on the rear axle, places by their zone as well",
    source="worst case, linear",
)
def reconciliation_rear_doubt(build: Subject) -> float:
    """Difference on the rear axle that rounding scales, estimated masses and guessed places can explain."""
    wheelbase = build.vehicle.wheelbase
    expected = doubt(expected_loads(build), lambda entry: rear_share(entry, wheelbase), 1 / wheelbase)
    return expected + _on_scale(build).mass_doubt / 2


@fact(Header, MASS, formula="|unexplained| − what can be explained, at least 0", source="arithmetic")
def discrepancy(build: Subject) -> float:
    """Mass that neither the spec nor its doubts explain."""
    return max(0.0, abs(float(build.unexplained_mass)) - float(build.reconciliation_doubt))


@fact(Header, MASS, formula="|unexplained| − what can be explained, at least 0", source="arithmetic")
def rear_discrepancy(build: Subject) -> float:
    """Load of the rear axle that neither the spec nor its doubts explain."""
    return max(0.0, abs(float(build.unexplained_rear)) - float(build.reconciliation_rear_doubt))
