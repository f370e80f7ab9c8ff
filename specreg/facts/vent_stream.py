"""Air that moves through openings by warmth and wind: area is not airflow; pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt

GRAVITY = 9.80665
DISCHARGE = 0.6
"""Share of the free area that a sharp-edged opening lets through: handbooks of ventilation."""
WIND_COEFFICIENT = 0.3
"""Difference of the wind's pressure coefficients between two levels: common practice, no source."""
STEPS = 60


@dataclass(frozen=True, slots=True)
class Opening:
    """A free area in m² at a height in m."""

    height: float
    area: float


def halves(height: float, extent: float, area: float) -> tuple[Opening, ...]:
    """Return an upright opening as its lower and upper half, so that air can pass both ways through it."""
    if extent <= 0:
        return (Opening(height, area),)
    return (Opening(height - extent / 4, area / 2), Opening(height + extent / 4, area / 2))


def stack_flow(openings: Sequence[Opening], inside: float, outside: float) -> float:
    """Return the m³/s that warmth drives through openings, temperatures in K.

    Each opening passes 0.6·A·√(2·g·Δh·ΔT/T) from the neutral level (orifice equation with the pressure of a
    column of warm air; ASHRAE Fundamentals, chapter on ventilation). The neutral level is where as much
    comes in as goes out.
    """
    if not openings:
        return 0.0
    draught = 2 * GRAVITY * abs(inside - outside) / max(inside, outside)

    def passed(neutral: float, upward: bool) -> float:
        spans = ((o.height - neutral if upward else neutral - o.height, o.area) for o in openings)
        return sum(DISCHARGE * area * sqrt(draught * span) for span, area in spans if span > 0)

    low, high = min(o.height for o in openings), max(o.height for o in openings)
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if passed(middle, True) > passed(middle, False) else (low, middle)
    return (passed(low, True) + passed(low, False)) / 2


def wind_flow(openings: Sequence[Opening], middle: float, speed: float) -> float:
    """Return the m³/s that a wind in m/s drives from the openings below a height to those above it.

    Q = 0.6·A·v·√ΔCp with A of both groups in series: 1/A² = 1/A₁² + 1/A₂².
    """
    below = sum(o.area for o in openings if o.height <= middle)
    above = sum(o.area for o in openings if o.height > middle)
    if not above:
        return 0.0
    return DISCHARGE * below * above / hypot(below, above) * speed * sqrt(WIND_COEFFICIENT)


def together(stack: float, wind: float) -> float:
    """Return the flow of warmth and wind at once: their pressures add, so their squares do."""
    return hypot(stack, wind)
