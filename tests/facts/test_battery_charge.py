"""What charges a battery, and what may be parted from its alternator: small systems by hand."""

import pytest
from dc_van import dc_facts

from specreg.facts.missing import Missing

SUNS = """
components:
  first: {kind: solar-controller, rated_current: 10 A, absorption_voltage: 14.2 V}
  second: {kind: solar-controller, rated_current: 10 A, absorption_voltage: 14.6 V}
runs:
  one: {medium: dc, from: first/battery, to: box/feed, return: same cable}
  two: {medium: dc, from: second/battery, to: box/feed, return: same cable}
"""
ALTERNATOR = """
components:
  battery: {%s}
  alternator: {kind: alternator, rated_current: 100 A}
runs: {charge: {medium: dc, from: alternator/positive, to: box/feed, return: chassis, conductor: 16 mm², length: 3 m}}
"""
BESIDE = """
components: {other: {kind: battery, nominal_voltage: 12 V, chemistry: %s}}
runs: {beside: {medium: dc, from: other/positive, to: box/feed, return: chassis, conductor: 16 mm², length: 1 m}}
"""


def test_the_highest_of_all_charging_voltages_counts() -> None:
    """14.2 V and 14.6 V on one battery are 14.6 V for it; without a charger there is none."""
    assert dc_facts(SUNS).subject("battery").greatest_charging_voltage == pytest.approx(14.6)
    assert dc_facts().subject("battery").greatest_charging_voltage == 0


@pytest.mark.parametrize(
    ("battery", "more", "named"),
    [
        ("chemistry: lithium iron phosphate, management: built in", [], ("battery",)),
        ("chemistry: lithium iron phosphate, management: none", [], ()),
        ("chemistry: lithium iron phosphate, management: built in", [BESIDE % "agm"], ()),
        ("chemistry: agm", [], ()),
        ("chemistry: agm, management: built in", [], ("battery",)),
    ],
    ids=["lithium", "without electronics", "beside lead", "lead", "lead with electronics"],
)
def test_what_electronics_may_part_from_the_alternator(
    battery: str, more: list[str], named: tuple[str, ...]
) -> None:
    """A battery that nothing can cut off takes up the surge; one whose management can does not."""
    assert dc_facts(ALTERNATOR % battery, *more).subject("alternator").cut_off_by == named


def test_the_management_of_lithium_is_not_guessed() -> None:
    """Whether electronics can part it has to be stated."""
    with pytest.raises(Missing, match=r"battery\.management"):
        _ = dc_facts(ALTERNATOR % "chemistry: lithium iron phosphate").subject("alternator").cut_off_by
