"""What a compiled condition may call, and the function that its code becomes: no builtins, no parser."""

from __future__ import annotations

from collections.abc import Callable, Mapping
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


GLOBALS: Mapping[str, object] = {
    "__builtins__": {},
    "absent": absent,
    "present": present,
    "divide": divide,
    "filters": {name: each.run for name, each in FILTERS.items()},
}


def judge_of(code: CodeType) -> Judge:
    """Return the function of a condition's code, which was built from whitelisted nodes only."""
    judge: Judge = eval(code, dict(GLOBALS))
    return judge
