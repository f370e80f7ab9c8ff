"""What came of judging one rule on one target."""

from __future__ import annotations

from dataclasses import dataclass

from specreg.facts.engine import Input
from specreg.model.field import Word
from specreg.model.records import Concession, SignOff
from specreg.rules.document import Level
from specreg.source import Place


class Answer(Word):
    """The five answers (SARIF 2.1.0 `kind`)."""

    passes = "pass"
    fails = "fail"
    open = "open"
    review = "review"
    not_applicable = "notApplicable"


@dataclass(frozen=True, slots=True)
class Result:
    """One rule's answer about one target, with the figures behind it.

    `reason` says in a word why a question that was open or for review has become a failure (`missing`,
    `not signed`), or why a rule does not apply. `fingerprint` is what a sign-off must cover.
    """

    rule: str
    title: str
    system: str
    level: Level
    answer: Answer
    subject: str
    subject_name: str
    place: Place
    origin: tuple[Place, ...] = ()
    case: str | None = None
    jurisdiction: str | None = None
    message: str = ""
    remedy: str = ""
    evidence: tuple[Input, ...] = ()
    assumptions: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    reason: str = ""
    decides: str = ""
    fingerprint: str = ""
    sign_off: SignOff | None = None
    concession: Concession | None = None

    @property
    def failed(self) -> bool:
        """Tell whether it is a failure that no concession covers."""
        return self.answer is Answer.fails and self.concession is None

    @property
    def stops(self) -> bool:
        """Tell whether it is a failure at level error that no concession covers."""
        return self.failed and self.level is Level.error

    @property
    def waiting(self) -> bool:
        """Tell whether it waits for data or for a competent person."""
        return self.answer is Answer.open or (self.answer is Answer.review and self.sign_off is None)
