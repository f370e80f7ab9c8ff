"""Each rule proves in its own document that it fires and that it can stay quiet."""

from functools import cache
from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.rules.pack import Rule, load_pack
from specreg.rules.proof import prove
from specreg.source import Mapping, merge, read_yaml

RULES = Path(__file__).parents[2] / "rules"
PACK, PROBLEMS = load_pack(RULES)


@cache
def base(system: str) -> Mapping:
    """The pack's base build with what a system's own base adds."""
    tree, problems = read_yaml((RULES / "base.yaml").read_bytes(), "rules/base.yaml")
    own = RULES / system / "base.yaml"
    if own.is_file():
        over, more = read_yaml(own.read_bytes(), f"rules/{system}/base.yaml")
        problems += more
        assert tree is not None and over is not None
        tree = merge(tree, over)
    assert not problems, [problem.text() for problem in problems]
    assert isinstance(tree, Mapping)
    return tree


def test_every_rule_loads() -> None:
    """No rule of the pack has a problem."""
    assert not PROBLEMS, "\n".join(problem.text() for problem in PROBLEMS)


@pytest.mark.parametrize("rule", PACK.rules, ids=lambda rule: rule.identity)
def test_rule_proves_itself(rule: Rule) -> None:
    """Each fragment gives what its heading says."""
    proofs = prove(rule, base(rule.identity.partition("/")[0]))
    complaints = [
        f"{rule.document.file}:{proof.fragment.line}: {proof.fragment.heading}: {proof.complaint} "
        + "; ".join(problem.text() for problem in proof.problems)
        for proof in proofs
        if proof.complaint
    ]
    assert not complaints, "\n".join(complaints)


@pytest.mark.parametrize("rule", PACK.rules, ids=lambda rule: rule.identity)
def test_rule_has_both_proofs(rule: Rule) -> None:
    """A rule that decides something shows a conforming and a non-conforming fragment."""
    headings = {fragment.heading for fragment in rule.document.fragments}
    wanted = {"Conforms"} if rule.header.passes is None else {"Conforms", "Does not conform"}
    assert wanted <= headings
