"""What flows when: the table says the facts, and a van without loads has no such page."""

from __future__ import annotations

from published import REGISTER, van, van_of

from specreg.facts.axes import OPERATIONS
from specreg.pages.content import Section, Table, Words
from specreg.pages.flow import flow_page
from specreg.workshop import load

LAMP = """
components:
  bank: {kind: battery, nominal_voltage: 12 V, capacity: 100 Ah}
  night-lamp: {kind: reading-light, power: 12 W, supply_voltage: 12 V, load: constant power, runs_in: [night]}
runs:
  feed: {medium: dc, from: bank/positive, to: night-lamp, conductor: 1.5 mm², length: 2 m, return: back}
  back: {medium: dc, from: bank/negative, to: night-lamp, conductor: 1.5 mm², length: 2 m}
"""


def table(text: str, anchor: str) -> dict[str, list[str]]:
    """One table of a small van by the words of its first column."""
    page = flow_page(van(text))
    assert page is not None
    (section,) = [block for block in page.blocks if isinstance(block, Section) and block.anchor == anchor]
    (found,) = [block for block in section.blocks if isinstance(block, Table)]
    said = [["".join(p.text for p in one if isinstance(p, Words)) for one in row.cells] for row in found.rows]
    return {row[0]: row[1:] for row in said}


def test_a_lamp_that_burns_at_night_only_draws_then_and_with_everything_on() -> None:
    """About 1 A at 12 W and 12 V, nothing by day; the columns are the ways of using the van."""
    row = table(LAMP, "currents")["Feed"]
    by_operation = dict(zip(OPERATIONS, row, strict=False))
    assert by_operation["day"] == by_operation["driving"] == by_operation["shore"] == "0 A"
    assert by_operation["night"] == by_operation["everything on"] != "0 A"
    assert 0.9 < float(by_operation["night"].split()[0]) < 1.3


def test_a_van_without_loads_has_no_such_page() -> None:
    """Nothing is shown of nothing."""
    assert flow_page(van("components: {}")) is None


def test_every_load_of_a_demo_that_has_a_voltage_is_in_the_table() -> None:
    """As many rows as loads whose voltage is known, and no raw value of the program in any cell."""
    (build,) = load(REGISTER / "fieldwork").sound
    page = flow_page(van_of(build))
    assert page is not None
    assert "LoadVoltage" not in str([one for one in page.blocks if not isinstance(one, Section)])
    assert "water pump" in str(page.blocks)
