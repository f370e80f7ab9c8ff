"""Overcurrent devices: standard ratings, breaking capacity, caps for small conductors."""

from functools import cache

from specreg.tables.constant import Constant, NotTabulatedError, citation, not_tabulated, rows
from specreg.units import ConductorSize

NEC_LIST = "nec 240.6(a)"
TOLERANCE = 1e-9  # so that a current computed as 30.000000000000004 A still takes a 30 A device
CONTINUOUS_LOAD = Constant(1.25, "plain", "NEC 210.20(A), 215.3: continuous loads", "read", "US practice")
FUSE_CONTINUOUS_SHARE = Constant(0.8, "plain", "fuse maker's catalogue 2023 p. 64, citing NEC", "read")


@cache
def _ratings() -> dict[str, tuple[float, ...]]:
    table: dict[str, list[float]] = {}
    for row in rows("overcurrent-ratings"):
        table.setdefault(row["family"], []).append(float(row["value"]))
    return {family: tuple(sorted(values)) for family, values in table.items()}


def families() -> tuple[str, ...]:
    """The device families with tabulated ratings."""
    return tuple(_ratings())


def ratings(family: str) -> tuple[float, ...]:
    """Standard ratings of a family in ampere, ascending; raises NotTabulatedError for an unknown family."""
    table = _ratings()
    if family not in table:
        raise not_tabulated("device family", family, table)
    return table[family]


def ratings_basis(family: str) -> str:
    """`read` or `memory`: how the ratings of a family are known."""
    ratings(family)
    bases = {row["basis"] for row in rows("overcurrent-ratings") if row["family"] == family}
    return "memory" if "memory" in bases else "read"


def next_standard(current: float, family: str = NEC_LIST) -> float | None:
    """The smallest standard rating at or above `current` (A); none above the largest."""
    return next((rating for rating in ratings(family) if rating >= current * (1 - TOLERANCE)), None)


def largest_standard_at_most(current: float, family: str = NEC_LIST) -> float | None:
    """The largest standard rating at or below `current` (A); none below the smallest."""
    fitting = [rating for rating in ratings(family) if rating <= current * (1 + TOLERANCE)]
    return fitting[-1] if fitting else None


def small_conductor_cap(size: ConductorSize) -> Constant | None:
    """Greatest device rating for small copper conductors (NEC 240.4(D)); none where it sets no cap.

    The rule names AWG sizes 18 to 10 only; metric sizes are outside it.
    """
    row = next((r for r in rows("small-conductor") if size.gauge == int(r["gauge"])), None)
    if row is None:
        return None
    return Constant(float(row["value"]), "current", citation(row), row["basis"], row["note"])


def breaking_capacity(family: str, voltage: float) -> Constant:
    """Direct-current breaking capacity of a family in ampere at `voltage` (next higher voltage tabulated).

    A value of the family, not of a part: the maker's data sheet comes first. Raises NotTabulatedError
    where no value at this voltage or above is known.
    """
    ratings(family)
    known = [r for r in rows("breaking-capacity") if r["family"] == family and float(r["voltage"]) >= voltage]
    if not known:
        raise NotTabulatedError(
            f"no breaking capacity known for '{family}' at {voltage:g} V d.c.: see the data sheet"
        )
    row = min(known, key=lambda r: float(r["voltage"]))
    note = "; ".join(part for part in (f"at {row['voltage']} V d.c.", row["note"]) if part)
    return Constant(float(row["value"]), "current", citation(row), row["basis"], note)


def greatest_voltage(family: str) -> Constant | None:
    """The highest voltage with a known d.c. breaking capacity, in volt; none where none is known."""
    ratings(family)
    known = [row for row in rows("breaking-capacity") if row["family"] == family]
    if not known:
        return None
    row = max(known, key=lambda r: float(r["voltage"]))
    return Constant(float(row["voltage"]), "voltage", citation(row), row["basis"], row["note"])
