"""Conditions and texts of rules: read once, checked against the facts' types, compiled, then judged often."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from jinja2 import nodes

from specreg.facts.missing import Missing
from specreg.facts.value_type import ValueType
from specreg.rules.condition_check import CHECKS
from specreg.rules.condition_checker import Checker
from specreg.rules.condition_compile import Judge, build
from specreg.rules.condition_parse import LONGEST_TEXT, Source, parse, too_long
from specreg.rules.condition_types import describe
from specreg.rules.wording import wording
from specreg.source.place import Place
from specreg.source.problem import Problem

Namespace = Mapping[str, object]
Schema = Mapping[str, ValueType]

_PART = re.compile(r"\{\{(.*?)\}\}", re.DOTALL)
_STRAY = re.compile(r"\{\{|\}\}|\{%|%\}|\{#|#\}")


@dataclass(frozen=True)
class Expression:
    """One expression that has been checked; it is compiled once, on first use."""

    source: str
    """The text as it was written."""
    kind: ValueType
    reads: tuple[str, ...]
    """The dotted names that it mentions, in the order of first mention."""
    tree: nodes.Expr = field(repr=False, compare=False)

    @cached_property
    def judge(self) -> Judge:
        """The compiled function, built when first asked for: most texts are never needed."""
        return build(self.tree, self.source)

    def value(self, namespace: Namespace, system: object = None) -> Any:
        """The expression's value; raises Missing where data is absent."""
        try:
            return self.judge(namespace, system)
        except (KeyError, AttributeError) as error:
            raise self._missing(error, namespace) from error

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


def compile_condition(text: str, schema: Schema, place: Place) -> tuple[Condition | None, list[Problem]]:
    """The condition, or every problem in it; never raises, whatever the text."""
    found, problems = _expression(Source(text, place), schema, wording=False)
    if found is None:
        return None, problems
    if found.kind.form != "truth":
        message = f"a condition answers yes or no, and this is {describe(found.kind)}"
        return None, [Problem(place, message, read=text.strip(), remedy="compare it with something")]
    return Condition(found.source, found.kind, found.reads, found.tree), []


def compile_text(text: str, schema: Schema, place: Place) -> tuple[Text | None, list[Problem]]:
    """The sentence, or every problem in its parts; never raises, whatever the text."""
    if len(text) > LONGEST_TEXT:
        return None, [too_long(place, len(text))]
    parts: list[str | Part] = []
    problems: list[Problem] = []
    end = 0
    for match in _PART.finditer(text):
        parts.append(text[end : match.start()])
        end = match.end()
        part, found = _part(Source(match[1], place, text, match.start(1)), schema)
        problems += found
        parts += [part] if part else []
    parts.append(text[end:])
    problems += _strays(text, place)
    return (None, sorted(problems)) if problems else (Text(tuple(part for part in parts if part)), [])


def _part(source: Source, schema: Schema) -> tuple[Part | None, list[Problem]]:
    """One `{{ … }}`; a dash at a bracket means something else to the template language than a minus."""
    if source.expression[:1] in ("-", "+") or source.expression[-1:] in ("-", "+"):
        return None, [Problem(source.place_of(0), "a sign directly at `{{` or `}}` is not allowed")]
    found, problems = _expression(source, schema, wording=True)
    return (Part(found, wording(found.kind)), []) if found else (None, problems)


def _strays(text: str, place: Place) -> list[Problem]:
    """Brackets of the template language outside complete `{{ … }}` parts."""
    outside = _PART.sub(lambda match: " " * len(match[0]), text)
    source = Source(text, place)
    message = "only `{{ … }}` parts are allowed in a text"
    return [
        Problem(source.place_of(match.start()), message, read=match[0]) for match in _STRAY.finditer(outside)
    ]


def _expression(source: Source, schema: Schema, *, wording: bool) -> tuple[Expression | None, list[Problem]]:
    """Parsed, checked and compiled, or every problem."""
    tree = parse(source)
    if isinstance(tree, Problem):
        return None, [tree]
    checker = Checker(source, schema, CHECKS, wording=wording)
    kind = checker.check(tree)
    if kind is None or checker.problems:
        return None, sorted(set(checker.problems))
    text = source.expression.strip()
    return Expression(text, kind, tuple(checker.reads), tree), []
