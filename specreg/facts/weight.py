"""A mass with how far it may be off, and how it is known."""

from __future__ import annotations

from typing import NamedTuple

from specreg.model.component import MassStatus

PRACTICE = "common practice, no source"

DOUBT = {MassStatus.weighed: 0.01, MassStatus.data_sheet: 0.03, MassStatus.estimated: 0.20}
"""How far a mass may be off by how it is known, as a share of it: common practice, no source."""


class Weight(NamedTuple):
    """A mass in kg, how far it may be off, and how it is known."""

    mass: float
    doubt: float
    known: str


def between(least: float, greatest: float, known: str) -> Weight:
    """Return the middle of two bounds, ± half of what is between them."""
    return Weight((least + greatest) / 2, (greatest - least) / 2, known)
