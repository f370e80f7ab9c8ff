"""Electrical limits as their sources print them, in their units, each tried through reader, graph, facts and rule.

A row of tests/published/electrics-rules.csv lays two fragments on the rules' base build: one at the limit, which
passes, one just beyond it, which fails. The kinds are counted apart; a row counts once.
"""

import csv
import json
from functools import cache
from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Answer
from specreg.source import Mapping, merge, read_yaml

ROOT = Path(__file__).parents[2]
KINDS = {"published", "rule", "derived", "memory"}
with (ROOT / "tests/published/electrics-rules.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))


@cache
def pack() -> Pack:
    """The rules that ship with the program."""
    return load_pack(ROOT / "rules")[0]


def tree(text: bytes) -> Mapping:
    """A text as a tree."""
    found, problems = read_yaml(text, "spec.yaml")
    assert isinstance(found, Mapping) and not problems, problems
    return found


def build_of(row: dict[str, str], fragment: str) -> Build:
    """The base build of a row's system and jurisdiction with a fragment laid over it."""
    system = row["rule"].partition("/")[0]
    where = json.dumps({"jurisdictions": [row["where"]]})
    parts = [(ROOT / "rules/base.yaml").read_bytes(), (ROOT / f"rules/{system}/base.yaml").read_bytes()]
    laid = tree(parts[0])
    for text in (parts[1], where.encode(), fragment.encode()):
        merged = merge(laid, tree(text))
        assert isinstance(merged, Mapping)
        laid = merged
    build, problems = read_build(laid)
    assert build is not None and not problems, [problem.text() for problem in problems]
    return build


def answers(row: dict[str, str], fragment: str) -> set[Answer]:
    """What the rule of a row answers on the base build with a fragment laid over it."""
    rule = pack().by_identity()[row["rule"]]
    return {result.answer for result in judge(Pack((rule,)), Facts(build_of(row, fragment)))}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['id']}-{row['kind']}")
def test_limit_as_printed(row: dict[str, str]) -> None:
    """At the limit nothing fails and something passes; just beyond it the rule fails."""
    at, beyond = answers(row, row["at_the_limit"]), answers(row, row["beyond_it"])
    assert Answer.passes in at and Answer.fails not in at, at
    assert Answer.fails in beyond, beyond


def test_rows_say_where_they_come_from() -> None:
    """Each has a source and a kind, and an id of its own."""
    assert all(row["source"] and row["kind"] in KINDS for row in ROWS)
    assert len({row["id"] for row in ROWS}) == len(ROWS)
