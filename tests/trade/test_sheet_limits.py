"""Limits as a sheet shows them: on which side the figure must lie, whose value it is, which one is the strictest."""

from __future__ import annotations

import pytest
from building import build

from specreg.rules.document import RuleSource
from specreg.rules.pack import Pack, Rule, load_rule
from specreg.trade.limits import Judges, held, limits_of, source_words, strictest

RULE = """---
title: A test
system: gas
level: warning
judges: build
{judged}
finding: it is so
remedy: mend it
limits: {limits}
sources: [{{how: common practice}}]
---
Why.
"""
DROP, HOLD = "build.recorded_gas_drop", "build.recorded_water_hold"


def rule(passes: str, limits: str, identity: str = "gas/a") -> Rule:
    """A rule with a condition, or that a person decides."""
    judged = f"passes: {passes}" if passes else "decides: gas engineer"
    found, problems = load_rule(RULE.format(judged=judged, limits=limits), identity, "a.md")
    assert found is not None, [problem.text() for problem in problems]
    return found


@pytest.mark.parametrize(
    ("passes", "value", "kept"),
    [
        (f"{DROP} <= limits.most", 999, True),
        (f"{DROP} <= limits.most", 1000, True),
        (f"{DROP} <= limits.most", 1001, False),
        (f"{DROP} <= (limits.most)", 1001, False),
        (f"{DROP} >= limits.most", 999, False),
        (f"{DROP} >= limits.most", 1000, True),
        (f"{DROP} >= limits.most", 1001, True),
        (f"{DROP} >= 0 and {DROP} <= limits.most", 1001, False),
        (f"limits.most >= {DROP}", 1001, True),  # not said plainly: nothing is told of a reading
        ("", 1001, True),
    ],
)
def test_the_side_of_a_limit_is_read_from_the_condition(passes: str, value: float, kept: bool) -> None:
    """A reading at the limit keeps it; where the condition does not say it plainly, no reading is refused."""
    [limit] = limits_of(rule(passes, "{most: {any: 10 mbar}}"), "uk")
    assert limit.kept_by(value) is kept


def test_a_limit_has_the_side_of_its_own_name() -> None:
    """Of two names of which one begins like the other, each is found where it stands."""
    two = rule(
        f"{DROP} >= limits.most and {DROP} <= limits.most_ever",
        "{most: {any: 1 mbar}, most_ever: {any: 2 mbar}}",
    )
    assert [(limit.name, limit.bound) for limit in limits_of(two, "uk")] == [
        ("most", ">="),
        ("most_ever", "<="),
    ]
    ever = rule(
        f"{DROP} <= limits.most_ever and limits.most > {DROP}",
        "{most: {any: 1 mbar}, most_ever: {any: 2 mbar}}",
    )
    assert [limit.bound for limit in limits_of(ever, "uk")] == [None, "<="]


@pytest.mark.parametrize(
    ("where", "value", "own"),
    [("uk", 1000.0, "uk"), ("us", 0.0, None), (None, 0.0, None)],
)
def test_whose_value_a_limit_is(where: str | None, value: float, own: str | None) -> None:
    """A jurisdiction is named where the value is its own, not where it holds everywhere else."""
    [limit] = limits_of(rule(f"{DROP} <= limits.most", "{most: {any: 0 mbar, uk: 10 mbar}}"), where)
    assert (limit.rule, limit.value, limit.jurisdiction) == ("gas/a", value, own)


@pytest.mark.parametrize(
    ("passes", "limits", "name", "value"),
    [
        (f"{DROP} <= limits.most", "{most: {any: 3 mbar, uk: 10 mbar, eu: 5 mbar}}", None, 500.0),
        (f"{DROP} >= limits.most", "{most: {any: 3 mbar, uk: 10 mbar, eu: 5 mbar}}", None, 1000.0),
        (f"{DROP} <= limits.most", "{most: {us: 10 mbar}}", None, None),
        (
            f"{DROP} <= limits.most and {HOLD} >= limits.least",
            "{most: {any: 10 mbar}, least: {any: 30 min}}",
            None,
            None,
        ),
        (
            f"{DROP} <= limits.most and {HOLD} >= limits.least",
            "{most: {any: 10 mbar}, least: {any: 30 min, uk: 20 min}}",
            "least",
            1800.0,
        ),
        (
            f"{DROP} <= limits.most and {HOLD} >= limits.least",
            "{most: {any: 10 mbar}, least: {any: 30 min}}",
            "most",
            1000.0,
        ),
    ],
)
def test_the_strictest_of_two_jurisdictions(
    passes: str, limits: str, name: str | None, value: float | None
) -> None:
    """The least of what may be at most, the greatest of what must be at least; none without a name among two."""
    van = build("jurisdictions: [uk, eu]")
    assert held(van) == ("uk", "eu")
    found = strictest(rule(passes, limits), van, name)
    assert (found.value if found else None) == value


def test_the_limit_of_one_jurisdiction() -> None:
    """Where a van is judged for one alone, its limit is the strictest there is."""
    found = strictest(
        rule(f"{DROP} <= limits.most", "{most: {any: 3 mbar, uk: 10 mbar}}"), build("jurisdictions: [uk]")
    )
    assert found is not None
    assert (found.value, found.jurisdiction) == (1000.0, "uk")


def test_the_first_rule_that_reads_a_test_judges_it() -> None:
    """A test that no rule reads has none, and a rule that a person decides reads nothing."""
    first = rule(f"{DROP} <= limits.most and {DROP}_known", "{most: {any: 1 mbar}}", "gas/first")
    second = rule(f"{DROP} <= limits.most", "{most: {any: 2 mbar}}", "gas/second")
    judges = Judges(Pack((rule("", "{most: {any: 3 mbar}}", "gas/asked"), first, second)))
    assert judges.of_test("gas-tightness") is first
    assert judges.of_test("gas-lock-up") is None
    assert judges.of_test("road-test") is None
    assert judges.named("gas/second") is second
    assert judges.named("gas/third") is None


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ({"how": "common practice"}, "common practice"),
        ({"document": "EN 1949", "how": "read"}, "EN 1949 (read)"),
        (
            {"document": "EN 1949", "clause": "4.3", "edition": "2011", "how": "memory"},
            "EN 1949, 4.3, 2011 (memory)",
        ),
    ],
)
def test_where_a_limit_comes_from(source: dict[str, str], words: str) -> None:
    """With clause and edition where they are stated, and how it is known."""
    assert source_words(RuleSource.model_validate(source)) == words
