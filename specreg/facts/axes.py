"""The cases of each axis for one build."""

from __future__ import annotations

from typing import TYPE_CHECKING

from specreg.facts.registry import Axis

if TYPE_CHECKING:
    from specreg.facts.engine import Facts

LOADING_CASES = ("as converted", "full tanks", "all seats", "everything", "grey full, fresh empty")
"""The loading cases, from the lightest to the heaviest and the one on the way home."""

SOURCE_MODES = ("shore", "inverter", "generator")
"""Where mains power can come from."""

OPERATIONS = ("night", "day", "driving", "shore", "everything on")
"""The ways in which the electrical system is used; the last is the greatest load."""


def cases(axis: Axis | None, facts: Facts) -> tuple[str | None, ...]:
    """Return the cases in which a fact with this axis is asked for; a single None without an axis."""
    match axis:
        case None:
            return (None,)
        case Axis.loading:
            return LOADING_CASES
        case Axis.source_mode:
            return SOURCE_MODES
        case Axis.mode:
            return tuple(facts.build.header.modes) or ("day",)
        case Axis.operation:
            return OPERATIONS
        case Axis.month:
            months = {month for place in facts.build.header.use.places for month in place.months}
            return tuple(str(month) for month in sorted(months))
