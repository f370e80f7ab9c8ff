"""Rules tried at their edges: each limit in each jurisdiction, each clause by itself, what a rule is not about.

`trials/` has a file for each system. An entry names a rule and what must come of fragments laid on the rules' base
build: `passes`, `fails`, `review`, `open`, or `none` where the rule is about nothing there. With `lay`, the words of
a list stand in the place of its `$`; `where` says in which jurisdictions each is tried.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from pathlib import Path

import pytest
import yaml
from test_documents import PACK, base

from specreg.facts.engine import Facts
from specreg.rules.document import Fragment
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, Rule
from specreg.rules.proof import laid
from specreg.rules.result import Answer, Result
from specreg.source import Mapping, merge, read_yaml

FOLDER = Path(__file__).with_name("trials")
EXPECTED = {
    "passes": Answer.passes,
    "fails": Answer.fails,
    "review": Answer.review,
    "open": Answer.open,
    "none": Answer.not_applicable,
}


@dataclass(frozen=True)
class Trial:
    """One fragment in one jurisdiction (that of the base build, where none is named), and what must come of it."""

    rule: str
    where: str
    fragment: str
    expects: str

    def facts(self) -> Facts:
        """The facts of the base build with the fragment laid over it."""
        system = self.rule.partition("/")[0]
        build, problems = laid(
            Fragment("", self.fragment, 1), placed(system, self.where), f"trials/{system}.yaml"
        )
        assert build is not None, f"{self.fragment}: {[problem.text() for problem in problems]}"
        return Facts(build)

    def complaint(self, results: tuple[Result, ...]) -> str:
        """What was expected and what came instead; empty where all is well."""
        answers = {result.answer for result in results}
        wanted = EXPECTED[self.expects]
        if wanted is Answer.fails:
            fine = wanted in answers
        elif wanted is Answer.open:
            fine = wanted in answers and Answer.fails not in answers
        else:
            fine = answers == {wanted}
        shown = ", ".join(f"{r.subject or 'build'}: {r.answer.value} {r.message}" for r in results)
        return "" if fine else f"{self.where}: {self.fragment.strip()}: expected {self.expects}, got {shown}"


@cache
def placed(system: str, where: str) -> Mapping:
    """The base build of a system in a jurisdiction."""
    if not where:
        return base(system)
    over, _ = read_yaml(f"jurisdictions: [{where}]".encode(), "trials")
    assert over is not None
    laid_over = merge(base(system), over)
    assert isinstance(laid_over, Mapping)
    return laid_over


def trials() -> Iterator[Trial]:
    """Every trial of every file, in their order."""
    for path in sorted(FOLDER.glob("*.yaml")):
        for entry in yaml.safe_load(path.read_text(encoding="utf-8")):
            assert set(entry) <= {"rule", "lay", "where", *EXPECTED}, entry
            lay = entry.get("lay", "$")
            for expects in EXPECTED:
                for word in entry.get(expects, ()):
                    for where in entry.get("where", "").split() or ("",):
                        yield Trial(entry["rule"], where, lay.replace("$", str(word)), expects)


TRIALS = {
    rule: tuple(those) for rule, those in groupby(sorted(trials(), key=lambda t: t.rule), lambda t: t.rule)
}
RULES = {rule.identity: rule for rule in PACK.rules}


def test_every_trial_is_of_a_rule() -> None:
    """No entry names a rule that there is not, and none is said twice."""
    assert set(TRIALS) <= set(RULES)
    assert [those for those in TRIALS.values() if len(set(those)) != len(those)] == []


@pytest.mark.parametrize("rule", sorted(TRIALS))
def test_rule_at_its_edges(rule: str) -> None:
    """Each trial of the rule gives what it must."""
    assert [wrong for one in TRIALS[rule] if (wrong := tried(one, RULES[rule], one.facts()))] == []


def tried(trial: Trial, rule: Rule, facts: Facts) -> str:
    """What is wrong with a rule's answer to a trial; empty where all is well."""
    return trial.complaint(judge(Pack((rule,)), facts))
