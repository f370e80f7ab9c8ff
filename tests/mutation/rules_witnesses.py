"""What notices that a rule was changed: its own fragments, and then the other tests of single rules.

Each witness asks what a test of the suite asks, of builds whose facts are computed once for all changes of a rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache

import opening
import test_documents
import test_findings
import test_hold_points
import test_published_electrics
import test_second_hand
import test_starter
import test_trials
import test_weights

from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, Rule
from specreg.rules.proof import complaint, laid
from specreg.rules.result import Answer, Result
from specreg.source.register import read_source

Witness = Callable[[Rule], bool]
"""Asked about a rule, says whether a test fails on it."""


class Fragments:
    """The fragments of one rule's document, laid on the base build once."""

    def __init__(self, rule: Rule) -> None:
        base = test_documents.base(rule.identity.partition("/")[0])
        file = rule.document.file
        builds = [(one, laid(one, base, file)[0]) for one in rule.document.fragments]
        self._laid = [(one, Facts(build)) for one, build in builds if build is not None]

    def notice(self, rule: Rule) -> bool:
        """Tell whether a fragment no longer gives what its heading says."""
        return any(complaint(rule, one, judge(Pack((rule,)), facts)) for one, facts in self._laid)


def published_limits(rule: Rule) -> bool:
    """Tell whether a printed limit is no longer where it is printed."""
    return any(
        _answers(rule, row["id"], side) != expected
        for row in test_published_electrics.ROWS
        if row["rule"] == rule.identity
        for side, expected in (("at_the_limit", True), ("beyond_it", False))
    )


def _answers(rule: Rule, row: str, side: str) -> bool | None:
    """Whether nothing fails and something passes; None where neither passes nor fails."""
    found = {result.answer for result in judge(Pack((rule,)), _row_facts(row, side))}
    if Answer.fails in found:
        return False
    return True if Answer.passes in found else None


@cache
def _row_facts(row: str, side: str) -> Facts:
    (found,) = [one for one in test_published_electrics.ROWS if one["id"] == row]
    return Facts(test_published_electrics.build_of(found, found[side]))


def demo_vans(rule: Rule) -> bool:
    """Tell whether a sound van has an error (one of them, a warning), or a known defect is found no more."""
    sound = any(result.stops for van in SOUND for result in _results(rule, van))
    warned = any(result.failed and result.level == "warning" for result in _results(rule, "fieldwork"))
    defects = _shown(rule.identity)
    return sound or warned or any(not _finds(rule, van, subject, heavy) for van, subject, heavy in defects)


SOUND = ("fieldwork", "pocket", "winter-tourer", "starter")


def _finds(rule: Rule, van: str, subject: str, heavy: bool) -> bool:
    """Tell whether the rule fails on a subject for what is written; `heavy`: and is no note."""
    failing = [one for one in _results(rule, van) if one.answer is Answer.fails and one.reason != "missing"]
    return any(one.subject == subject and not (heavy and one.level == "note") for one in failing)


def _results(rule: Rule, van: str) -> tuple[Result, ...]:
    return judge(Pack((rule,)), _van(van))


@cache
def _van(name: str) -> Facts:
    """The facts of a van, asked for by the whole pack first: some tell which rules there are."""
    facts = Facts(_build(name))
    judge(opening.pack(), facts)
    return facts


def _build(name: str) -> Build:
    if name in test_findings.SMALL:
        return test_findings.small(name)
    if name == "starter":
        read = read_source(test_starter.REGISTER, test_starter.STARTER / "first-van")
    elif name == "second-hand":
        read = opening.source(name)
    else:
        return opening.sound(name)
    assert read.tree is not None
    build, _ = read_build(read.tree)
    assert build is not None
    return build


@cache
def _shown(rule: str) -> tuple[tuple[str, str, bool], ...]:
    """Each van and subject on which a rule is known to fail, and whether it must weigh more than a note there."""
    heavy = {("second-hand", subject, True) for _, name, subject in test_second_hand.DEFECTS if name == rule}
    shown = [one for row in test_findings.rows() for one in test_findings.shown(row)]
    return tuple(sorted(heavy | {(van, subject, False) for van, name, subject in shown if name == rule}))


def trials(rule: Rule) -> bool:
    """Tell whether a trial at an edge of the rule gives another answer."""
    those = test_trials.TRIALS.get(rule.identity, ())
    return any(test_trials.tried(one, rule, _trial_facts(one)) for one in those)


@cache
def _trial_facts(trial: test_trials.Trial) -> Facts:
    return trial.facts()


def hold_points(rule: Rule) -> bool:
    """Tell whether a hold point no longer asks for what it must."""
    return any(
        not test_hold_points.asks(point, rule)
        for point, name in test_hold_points.ASKED
        if name == rule.identity
    )


def weights(rule: Rule) -> bool:
    """Tell whether the rule weighs other than is written beside the tests."""
    return not test_weights.as_written(rule)


def others() -> Iterator[tuple[str, Witness]]:
    """Yield the witnesses beyond a rule's own document, the cheap ones first."""
    yield "weights", weights
    yield "hold points", hold_points
    yield "trials", trials
    yield "published limits", published_limits
    yield "demo vans", demo_vans
