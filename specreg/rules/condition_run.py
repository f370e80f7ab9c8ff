"""What a compiled condition may call, and the function that its code becomes: no builtins, no parser."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import isclose
from types import CodeType
from typing import Any

from specreg.facts.missing import Missing
from specreg.rules.filters import FILTERS

Judge = Callable[[Mapping[str, object], object], Any]
"""Called with the namespace and the reader's unit system."""


def absent(name: str) -> None:
    """Called where a view gave None for a value that the expression needs."""
    raise Missing(name)


def present(look: Callable[[], object]) -> bool:
    """Whether looking at a value finds one."""
    try:
        return look() is not None
    except Missing:
        return False


def divide(left: float, right: float, expression: str) -> float:
    """A quotient; by zero there is none, and the answer is missing rather than a crash."""
    if right == 0:
        raise Missing(reason=f"divides by zero: {expression}")
    return left / right


HAIR = 1e-9
"""Share of a figure by which sums of decimal fractions miss what they stand for: 0.05 + 0.1 is not 0.15."""

NOTHING = 1e-10
"""What such a sum may leave, in SI units, where nothing is left: a tenth of a microgram, of a nanometre."""


def at_most(left: Any, right: Any) -> bool:
    """Whether the left side is no more than the right; what is at a limit by all that is written meets it."""
    return bool(left <= right) or alike(left, right)


def below(left: Any, right: Any) -> bool:
    """Whether the left side is less than the right, and not just by the last digits of a sum."""
    return bool(left < right) and not alike(left, right)


def at_least(left: Any, right: Any) -> bool:
    """Whether the left side is no less than the right."""
    return at_most(right, left)


def above(left: Any, right: Any) -> bool:
    """Whether the left side is more than the right."""
    return below(right, left)


def alike(left: Any, right: Any) -> bool:
    """Whether two figures differ by no more than the arithmetic of fractions does; days are exact."""
    return isinstance(left, int | float) and isclose(left, right, rel_tol=HAIR, abs_tol=NOTHING)


GLOBALS: Mapping[str, object] = {
    "__builtins__": {},
    "absent": absent,
    "present": present,
    "divide": divide,
    "at_most": at_most,
    "below": below,
    "at_least": at_least,
    "above": above,
    "filters": {name: each.run for name, each in FILTERS.items()},
}


def judge_of(code: CodeType) -> Judge:
    """Return the function of a condition's code, which was built from whitelisted nodes only."""
    judge: Judge = eval(code, dict(GLOBALS))
    return judge
