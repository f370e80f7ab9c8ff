"""Fumes measured in the room with everything burning."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.recorded_tests import RECORD, reading
from specreg.facts.registry import fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.units import Dimension


@fact(Header, number(Dimension.fraction_of_air), formula="greatest recorded reading", source=RECORD)
def recorded_carbon_monoxide(build: Subject) -> float:
    """Greatest share of carbon monoxide recorded in the room's air with everything burning."""
    return reading(build, "carbon-monoxide")
