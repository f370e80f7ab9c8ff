"""The tool that changes rules changes what it says, refuses what the pack refuses, and sees what tests see."""

import sys
from pathlib import Path

import pytest

for folder in ("mutation", "rules", "demos"):
    sys.path.insert(0, str(Path(__file__).parents[1] / folder))

from rules_conditions import changed, tree_of, written  # noqa: E402 - found by the lines above
from rules_mutants import Mutant, mutants, unread_limits  # noqa: E402 - found by the lines above
from rules_witnesses import Fragments  # noqa: E402 - found by the lines above
from test_documents import PACK  # noqa: E402 - found by the lines above

RULES = PACK.by_identity()


@pytest.mark.parametrize(
    ("condition", "others"),
    [
        ("x.a < 2", {"x.a <= 2", "x.a > 2", "x.a < 3", "x.a < 1", "(not x.a) < 2"}),
        ("x.a and not x.b", {"x.a or (not x.b)", "x.a", "not x.b", "x.a and x.b"}),
        ("x.k in ['a', 'b']", {"x.k not in ['a', 'b']", "x.k in ['a']", "x.k in ['b']"}),
        ("x.d | every('ok')", {"x.d | some('ok')"}),
        ("x.a <= (1 if x.b else 2)", {"x.a <= 1", "x.a <= 2", "x.a <= (1 if (not x.b) else 2)"}),
    ],
)
def test_changes_of_a_condition(condition: str, others: set[str]) -> None:
    """One thing at a time, none of them the condition itself."""
    found = {text for _, text in changed(condition)}
    assert others <= found
    assert written(tree_of(condition)) not in found


def test_a_condition_is_written_as_it_was_read() -> None:
    """What is written of a tree has that tree again: nothing is changed but what is said to be."""
    for rule in PACK.rules:
        for text in (rule.header.applies, rule.header.passes):
            if text is not None:
                again = written(tree_of(text))
                assert written(tree_of(again)) == again
                assert tree_of(again) == tree_of(text)


def test_changes_of_a_rule_are_noticed_by_its_fragments() -> None:
    """The rule as it is passes; the limit moved by a hundredth does not."""
    rule = RULES["gas/hose-length"]
    fragments = Fragments(rule)
    assert not fragments.notice(rule)
    found = {one.change: one for one in mutants(rule) if isinstance(one, Mutant)}
    doubled = found["limits.greatest.any: 1 m to 2 m"]
    assert fragments.notice(doubled.rule)
    assert doubled.place.startswith("rules/gas/hose-length.md:")
    assert "level: warning to note" in found


def test_every_limit_is_read() -> None:
    """A limit that no condition and no text mentions is none."""
    assert {rule.identity: unread for rule in PACK.rules if (unread := unread_limits(rule))} == {}
