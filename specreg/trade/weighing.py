"""The weighbridge ticket as lines of a sheet: what is read, and what the plate permits."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from specreg.facts.engine import Facts
from specreg.facts.loading import ABOARD, holds
from specreg.model.vehicle import Weighing
from specreg.units import Dimension

WEIGHING = "weighing"
"""What stands in the place of a test's name for a reading of the weighbridge."""

FIELDS: dict[str, Dimension | None] = {
    "front_axle": Dimension.mass,
    "rear_axle": Dimension.mass,
    "left": Dimension.mass,
    "right": Dimension.mass,
    "fuel": Dimension.share,
    **dict.fromkeys(ABOARD, Dimension.share),
    "driver": None,
    "scale_step": Dimension.mass,
}
"""Fields of a ticket that are filled in; one without a dimension is yes or no."""


class Weighed(NamedTuple):
    """One field of the ticket, with what the plate permits and what the last final ticket says."""

    field: str
    dimension: Dimension | None
    permitted: float | None
    record: Weighing | None

    @property
    def on(self) -> str:
        """Return the word for it on a sheet."""
        return self.field.replace("_", "-")


def weighed(facts: Facts) -> Iterator[Weighed]:
    """Yield the fields of a ticket of the finished van; of vessels only what it has."""
    header = facts.build.header
    finals = [ticket for ticket in header.records.weighings if ticket.stage == "final"]
    asked = {name: of for name, of in FIELDS.items() if name not in ABOARD or holds(facts, name)}
    for name, dimension in asked.items():
        permitted = getattr(header.vehicle.permitted, name, None) if dimension is Dimension.mass else None
        yield Weighed(name, dimension, permitted, finals[-1] if finals else None)
