"""Heat that the living space loses on the coldest night, part by part, as a range."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.engine import Subject
from specreg.facts.heat_shell import Part
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.shell_areas import SIDES
from specreg.facts.value_type import list_of, number, text, view
from specreg.model.build import Header
from specreg.tables import environment
from specreg.units import Dimension

POWER = number(Dimension.power)
THROUGH = "Σ A·U·(Ti − Te) of sides and windows"
STANDARDS = "EN ISO 6946; ventilation 0.33·n·V·ΔT from the lineage of EN 12831 (from memory)"


@dataclass(frozen=True)
class Loss:
    """Heat in W that leaves by one side, one window, or with the air."""

    name: str
    side: str
    least: float
    greatest: float


LOSS = view("way of heat", {"name": text(), "side": text(*SIDES, "air"), "least": POWER, "greatest": POWER})


def _through(part: Part, difference: float) -> Loss:
    least = part.area_least * part.u_least * difference
    return Loss(part.name, part.side, least, part.area_greatest * part.u_greatest * difference)


@fact(
    Header,
    list_of(LOSS),
    formula=f"{THROUGH}; 0.33 Wh/(m³·K) × air of a calm night to that of a breeze × (Ti − Te)",
    source=STANDARDS,
)
def heat_losses(build: Subject) -> tuple[Loss, ...]:
    """Heat that leaves by each side, each window and with the air."""
    difference = float(build.design_difference)
    capacity = environment.constant("air-heat-capacity").value
    air = Loss(
        "air that is changed",
        "air",
        capacity * build.least_cold_air * difference,
        capacity * build.greatest_cold_air * difference,
    )
    return (*(_through(part, difference) for part in build.shell_parts), air)


@fact(Header, POWER, formula=f"{THROUGH}, no ribs, calm night", source=STANDARDS)
def least_heat_loss(build: Subject) -> float:
    """Heat lost at the design temperature, at least."""
    return float(sum(loss.least for loss in build.heat_losses))


@fact(
    Header,
    POWER,
    formula=f"{THROUGH}, ribs as bare metal behind the lining, a breeze and leaks",
    source=STANDARDS,
)
def greatest_heat_loss(build: Subject) -> float:
    """Heat lost at the design temperature, at most."""
    return float(sum(loss.greatest for loss in build.heat_losses))


@fact(Header, text(), formula="largest of the greatest losses", source=STANDARDS)
def largest_way_of_heat(build: Subject) -> str:
    """Where most heat leaves at most."""
    return max(build.heat_losses, key=lambda loss: loss.greatest).name  # type: ignore[no-any-return]


@fact(
    Header,
    POWER,
    formula="greatest loss × 10 K / (Ti − Te)",
    source=STANDARDS,
)
def mild_heat_loss(build: Subject) -> float:
    """Heat lost, at most, when it is 10 K colder outside than inside."""
    difference = float(build.design_difference)
    if not difference:
        raise Missing(reason="no night is stated that is colder than it is to be inside")
    return float(build.greatest_heat_loss) * 10 / difference


@fact(Header, number(Dimension.energy), formula="least loss × length of a night", source="E = P·t")
def least_heat_of_a_night(build: Subject) -> float:
    """Heat of a night at the design temperature, at least."""
    return float(build.least_heat_loss * build.night_length)


@fact(Header, number(Dimension.energy), formula="greatest loss × length of a night", source="E = P·t")
def greatest_heat_of_a_night(build: Subject) -> float:
    """Heat of a night at the design temperature, at most: what an electric heater would have to give."""
    return float(build.greatest_heat_loss * build.night_length)
