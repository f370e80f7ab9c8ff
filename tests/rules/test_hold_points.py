"""Each hold point asks for what must be recorded before it, and the answer is said in words."""

from pathlib import Path

import pytest

from specreg.model.build import Stage
from specreg.output.going_on import going_on
from specreg.rules.pack import Rule, load_pack
from specreg.workshop import inspect_all, load

ROOT = Path(__file__).parents[2]
RULES = load_pack(ROOT / "rules")[0].by_identity()

ASKED = [
    ("panels-close", "records/hidden-runs-are-photographed"),
    ("panels-close", "dc/cables-past-edges"),
    ("panels-close", "dc/battery-fastened"),
    ("panels-close", "gas/joints-hold"),
    ("energise", "mains/insulation-measured"),
    ("energise", "mains/earth-continuity-measured"),
    ("energise", "dc/terminal-torque-recorded"),
    ("gas-on", "gas/tightness-measured"),
    ("gas-on", "gas/hose-age"),
    ("gas-on", "gas/regulator-age"),
    ("commissioning", "mains/polarity-tested"),
    ("commissioning", "records/devices-are-labelled"),
    ("hand-over", "gas/engineer-signs"),
    ("hand-over", "records/walk-round-agrees"),
    ("hand-over", "records/hand-over-data-is-complete"),
]
"""What the trade records before each point: photographs and fixings, continuity and insulation, tightness …"""


def asks(point: str, rule: Rule) -> bool:
    """Whether from a point on, what is missing or not signed is a failure."""
    header = rule.header
    first = header.signed_from if header.decides and header.passes is None else header.open_from
    return Stage(point) in (first, header.signed_from)


@pytest.mark.parametrize(("point", "rule"), ASKED)
def test_the_hold_point_asks_for_it(point: str, rule: str) -> None:
    """From that stage on, what is missing or not signed is a failure."""
    assert asks(point, RULES[rule])


@pytest.mark.parametrize(
    ("point", "begins"),
    [
        ("gas-on", "May the gas be turned on? By what is written, yes"),
        ("hand-over", "May it be handed over? No: 3 are not signed."),
    ],
)
def test_the_answer_is_said_with_what_is_missing(point: str, begins: str) -> None:
    """In one line, then a line for each matter with its rule; the word safe is never said."""
    (report,) = inspect_all(load(ROOT / "builds" / "fieldwork"), stage=Stage(point)).reports
    lines = list(going_on(report))
    assert lines[0].startswith(begins)
    assert len(lines) == 1 + report.counts.errors
    assert "safe" not in " ".join(lines)
