"""Conditions and texts that were read, checked and compiled: judged often, on views of facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from math import isfinite
from types import CodeType
from typing import Any

from specreg.facts.missing import Missing
from specreg.facts.value_type import ValueType
from specreg.rules.condition_run import Judge, judge_of

Namespace = Mapping[str, object]


@dataclass(frozen=True)
class Expression:
    """One expression that has been checked; it is compiled once, on first use."""

    source: str
    """The text as it was written."""
    kind: ValueType
    reads: tuple[str, ...]
    """The dotted names that it mentions, in the order of first mention."""
    code: Callable[[], CodeType] = field(repr=False, compare=False)
    """Gives its code when first asked for: most texts are never needed."""

    @cached_property
    def judge(self) -> Judge:
        """The compiled function."""
        return judge_of(self.code())

    def value(self, namespace: Namespace, system: object = None) -> Any:
        """The expression's value; raises Missing where data is absent."""
        try:
            found = self.judge(namespace, system)
        except (KeyError, AttributeError) as error:
            raise self._missing(error, namespace) from error
        if isinstance(found, float) and not isfinite(found):
            raise Missing(reason=f"no number comes of it: {self.source}")
        return found

    def _missing(self, error: KeyError | AttributeError, namespace: Namespace) -> Exception:
        """Missing where one of our own names is not there; any other fault stays what it is."""
        if isinstance(error, KeyError):
            lost = [name for name in self.reads if name.split(".")[0] not in namespace]
        else:
            lost = [name for name in self.reads if error.name in name.split(".")[1:]]
        return Missing(*lost) if lost else error


@dataclass(frozen=True)
class Condition(Expression):
    """An expression that answers yes or no."""

    def evaluate(self, namespace: Namespace) -> bool:
        """Yes or no; raises Missing, naming the absent fields, where neither can be said."""
        answer: bool = self.value(namespace)
        return answer


@dataclass(frozen=True)
class Part:
    """One `{{ … }}` of a text."""

    expression: Expression
    write: Callable[[Any, Any], str]

    def render(self, namespace: Namespace, system: object) -> str:
        """The value in words; `unknown` where data is missing."""
        try:
            return self.write(self.expression.value(namespace, system), system)
        except Missing:
            return "unknown"


@dataclass(frozen=True)
class Text:
    """A sentence with `{{ … }}` parts."""

    parts: tuple[str | Part, ...]

    @property
    def reads(self) -> tuple[str, ...]:
        """The dotted names that the parts mention, in the order of first mention."""
        inner = [part.expression.reads for part in self.parts if isinstance(part, Part)]
        return tuple(dict.fromkeys(name for reads in inner for name in reads))

    def render(self, namespace: Namespace, system: object) -> str:
        """The sentence about one target, with figures in the reader's unit system."""
        return "".join(
            part.render(namespace, system) if isinstance(part, Part) else part for part in self.parts
        )
