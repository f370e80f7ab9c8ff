"""What follows from a failure of each rule, written a second time: no slip lowers it unseen.

`weights.csv` has a row for each rule. Whoever changes a rule's level, the stage from which it counts, who decides or
whose concession counts, changes it in both places. A new rule gets the row that the failing test prints.
"""

import csv
from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.rules.pack import Rule, load_pack

FOLDER = Path(__file__).parent
RULES = load_pack(FOLDER.parents[1] / "rules")[0].rules
with (FOLDER / "weights.csv").open(encoding="utf-8", newline="") as file:
    WRITTEN = {row["rule"]: row for row in csv.DictReader(file)}


def weight(rule: Rule) -> dict[str, str]:
    """What follows from a failure of a rule, as a row of the table."""
    header = rule.header
    return {
        "rule": rule.identity,
        "level": header.level.value,
        "where": " ".join(word.value for word in header.jurisdictions),
        "open_from": header.open_from.value,
        "signed_from": header.signed_from.value if header.decides is not None else "",
        "decides": header.decides or "",
        "covers": " ".join(header.covers),
        "concession": header.concession,
    }


def as_written(rule: Rule) -> bool:
    """Whether a rule's weight is that of its row; a rule without a row is not held to one."""
    return WRITTEN.get(rule.identity, weight(rule)) == weight(rule)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.identity)
def test_the_weight_is_as_written(rule: Rule) -> None:
    """Level, place, stages, who decides and whose concession counts."""
    assert weight(rule) == WRITTEN.get(rule.identity), ",".join(weight(rule).values())


def test_each_row_is_of_a_rule() -> None:
    """No row is of a rule that there is no more."""
    assert set(WRITTEN) == {rule.identity for rule in RULES}
