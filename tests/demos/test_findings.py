"""The 66 findings of the trade: each has rules that answer it, and each that a spec or a record shows is shown."""

import csv
from functools import cache
from pathlib import Path

import pytest
from building import build
from opening import answers, pack, source

from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.rules.judge import judge
from specreg.rules.result import Answer
from specreg.source import Mapping

TABLE = Path(__file__).with_name("findings.csv")
CLASSES = {"SPEC", "REC", "EYES"}

AMERICAN = """
format: 1
build: us-van
title: Van for the United States
stage: commissioning
jurisdictions: [us]
units: us
as_of: 2026-05-01
use: {people: {adults: 2}}
vehicle:
  wheelbase: 4 m
  overall_length: 6 m
  permitted: {total: 3500 kg, front_axle: 1850 kg, rear_axle: 2250 kg}
  as_received: {stage: intake, front_axle: 1200 kg, rear_axle: 800 kg, driver: false, fuel: 100 %, scale_step: 10 kg}
  fuel_tank: {volume: 100 L, fuel: diesel, at: [2 m, -0.3 m, -0.4 m]}
  interior: {starts: 1 m, length: 4 m, width: 1.8 m, height: 1.9 m}
"""

SMALL = {
    # a label that promises more than the van may carry; a van with no label of masses
    "us-label": AMERICAN
    + "components: {label: {kind: notice, purpose: vehicle masses, mass: 0 kg, at: [1 m, 0 m, 1 m], "
    + "text: The combined weight of occupants and cargo should never exceed 1600 kg}}\n",
    "us-no-label": AMERICAN
    + "components: {label: {kind: notice, purpose: tyres, mass: 0 kg, at: [1 m, 0 m, 1 m]}}\n",
}
"""Vans for what the survey van's country does not ask."""


def rows() -> list[dict[str, str]]:
    """The table as it is kept."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@cache
def failing(van: str) -> frozenset[tuple[str, str]]:
    """Rule and subject of what fails for what is written of a van, not for what is missing."""
    tree = source("second-hand").tree
    assert tree is not None
    results = answers(tree) if van == "second-hand" else judge(pack(), Facts(small(van)))
    shown = (r for r in results if r.answer is Answer.fails and r.reason != "missing")
    return frozenset((r.rule, r.subject) for r in shown)


def small(van: str) -> Build:
    """One of the small vans."""
    return build(SMALL[van])


def shown(row: dict[str, str]) -> list[tuple[str, str, str]]:
    """Van, rule and subject of every defect that shows a finding."""
    found = []
    for word in row["shown_by"].split():
        van, _, rest = word.rpartition(":")
        rule, _, subject = rest.partition("@")
        found.append((van or "second-hand", rule, "" if subject == "build" else subject))
    return found


def test_the_table_has_every_finding_once() -> None:
    """Findings are numbered 1 to 66, and each has a class that is known."""
    assert [int(row["number"]) for row in rows()] == list(range(1, 67))
    assert all(set(row["class"].split()) <= CLASSES and row["class"] for row in rows())


@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['number']} {row['finding']}")
def test_rules_answer_a_finding(row: dict[str, str]) -> None:
    """Every rule of the row exists; what only eyes can see is put to a person or can at least fail."""
    known = {rule.identity: rule for rule in pack().rules}
    named = row["rules"].split()
    assert named and set(named) <= set(known), set(named) - set(known)
    if row["class"] == "EYES":
        assert row["shown_by"] or any(known[name].header.decides for name in named)


@pytest.mark.parametrize(
    "row", [row for row in rows() if row["shown_by"]], ids=lambda row: f"{row['number']} {row['finding']}"
)
def test_a_finding_is_shown(row: dict[str, str]) -> None:
    """The rule fails on the thing that has the defect, by what is written of it."""
    for van, rule, subject in shown(row):
        assert rule in row["rules"].split()
        assert (rule, subject) in failing(van), f"{rule} does not fail on {subject or 'the build'} of {van}"


def test_what_a_spec_or_record_shows_is_shown() -> None:
    """No finding that a spec or a record can show is without a defect."""
    bare = [row["number"] for row in rows() if row["class"] != "EYES" and not row["shown_by"]]
    assert bare == []


def test_a_measured_finding_is_shown_by_a_reading() -> None:
    """What only a record decides is shown by a rule that loses its failure when the records are gone."""
    tree = source("second-hand").tree
    assert tree is not None
    kept = {key: entry for key, entry in tree.entries.items() if key != "records"}
    without = answers(Mapping(kept, tree.place))
    left = {(r.rule, r.subject) for r in without if r.answer is Answer.fails and r.reason != "missing"}
    for row in rows():
        if row["class"] == "REC":
            assert all((rule, subject) not in left for _, rule, subject in shown(row)), row["finding"]
