"""Load index of tyres: what one tyre carries at its reference pressure."""

from __future__ import annotations

import re
from typing import NamedTuple

LOAD_INDEX = dict(
    zip(
        range(70, 131),
        (335, 345, 355, 365, 375, 387, 400, 412, 425, 437, 450, 462, 475, 487, 500, 515, 530, 545, 560, 580,
         600, 615, 630, 650, 670, 690, 710, 730, 750, 775, 800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030,
         1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360, 1400, 1450, 1500, 1550, 1600, 1650, 1700,
         1750, 1800, 1850, 1900),
        strict=True,
    )
)  # fmt: skip
"""Load in kg by load index (UN R54 Annex 4, ETRTO), as tables of the tyre trade print it."""

SOURCE = "load index, UN R54 Annex 4 (as tables of the tyre trade print it)"

INDEX = re.compile(r"\b(\d{2,3})(?:/(\d{2,3}))?\s?[A-Z]\b\s*$")


class TyreLoad(NamedTuple):
    """What one tyre carries in kg standing alone, and as one of a pair; None where not told."""

    single: float
    paired: float | None


def tyre_load(designation: str) -> TyreLoad | None:
    """Return what a tyre carries by its designation (`225/75 R16 C 121/120R`); None without an index."""
    found = INDEX.search(designation.strip())
    if found is None or int(found[1]) not in LOAD_INDEX:
        return None
    paired = LOAD_INDEX.get(int(found[2])) if found[2] else None
    return TyreLoad(LOAD_INDEX[int(found[1])], paired)
