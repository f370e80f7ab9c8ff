"""A rule tried on a build: what it read of each target, and what it answered, for whoever writes it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specreg.facts.engine import Facts, Input
from specreg.facts.missing import Missing
from specreg.model.build import Stage
from specreg.rules.judge import Question, answer, questions
from specreg.rules.pack import Rule
from specreg.rules.result import Result


@dataclass(frozen=True)
class Attempt:
    """One target in one case and jurisdiction: whether the rule is about it, what was read, what came of it.

    `about` holds the figures that `applies:` read. Without a result the rule is not about the target.
    """

    target: str
    case: str | None
    jurisdiction: str | None
    about: tuple[Input, ...]
    result: Result | None


def attempts(rule: Rule, facts: Facts, stage: Stage | None = None) -> Iterator[Attempt]:
    """Yield what a rule makes of each of its targets, those that it is not about as well."""
    held = [word.value for word in facts.build.header.jurisdictions]
    for question in questions(rule, facts, held):
        yield Attempt(
            question.target.id,
            question.target.case,
            question.jurisdiction,
            _read(question, facts),
            answer(question, facts, stage or facts.build.header.stage),
        )


def _read(question: Question, facts: Facts) -> tuple[Input, ...]:
    """Return the figures that the condition of applicability reads."""
    with facts.recording() as frame:
        try:
            if question.rule.applies is not None:
                question.rule.applies.evaluate(question.names)
        except Missing:
            pass  # the answer names what is missing
        return tuple(frame.inputs.values())
