"""Conditions and texts of rules: read once, checked against the facts' types, compiled, then judged often."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import partial

from specreg.facts.value_type import ValueType
from specreg.rules.condition_check import CHECKS
from specreg.rules.condition_checker import Checker
from specreg.rules.condition_compile import compiled
from specreg.rules.condition_parse import LONGEST_TEXT, Source, parse, too_long
from specreg.rules.condition_types import describe
from specreg.rules.expression import Condition, Expression, Part, Text
from specreg.rules.wording import wording
from specreg.source.place import Place
from specreg.source.problem import Problem

Schema = Mapping[str, ValueType]

_PART = re.compile(r"\{\{(.*?)\}\}", re.DOTALL)
_STRAY = re.compile(r"\{\{|\}\}|\{%|%\}|\{#|#\}")


def compile_condition(text: str, schema: Schema, place: Place) -> tuple[Condition | None, list[Problem]]:
    """The condition, or every problem in it; never raises, whatever the text."""
    found, problems = _expression(Source(text, place), schema, wording=False)
    if found is None:
        return None, problems
    if found.kind.form != "truth":
        message = f"a condition answers yes or no, and this is {describe(found.kind)}"
        return None, [Problem(place, message, read=text.strip(), remedy="compare it with something")]
    return Condition(found.source, found.kind, found.reads, found.code), []


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
    if checker.problems:
        return None, sorted(set(checker.problems))
    assert kind is not None
    text = source.expression.strip()
    return Expression(text, kind, tuple(checker.reads), partial(compiled, tree, text)), []
