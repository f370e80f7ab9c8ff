"""Lists to tick off: what is fitted chooses the lines, what the spec says fills them."""

from __future__ import annotations

import pytest
from published import van

from specreg.pages.checklists import LISTS, checklists_page
from specreg.pages.content import Checklist, Section, Words

VAN = """
components:
  bank: {kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12 V}
  stove: {kind: hob, burns: propane}
  bottle: {kind: gas-cylinder, gas: propane}
  heater: {kind: air-heater, burns: diesel}
  hatch: {kind: roof-hatch}
  door-step: {kind: powered-step, place: entrance}
  bed-step: {kind: step, place: inside, form: loose}
  grey-dump: {kind: waste-valve, purpose: dump, while_driving: closed}
  low-point: {kind: valve, purpose: drain}
  stop-cock: {kind: valve, purpose: shut-off}
"""


def lines(text: str, name: str) -> list[str]:
    """The lines of one list as a person reads them; empty where the list has none."""
    found = [block for block in checklists_page(van(text)).blocks if isinstance(block, Section)]
    blocks = [one for section in found if section.anchor == name for one in section.blocks]
    return [
        "".join(piece.text for piece in item if isinstance(piece, Words))
        for one in blocks
        if isinstance(one, Checklist)
        for item in one.items
    ]


@pytest.mark.parametrize(
    ("name", "thing", "words"),
    [
        ("before-you-drive", "Hatch", "shut and locked"),
        ("before-you-drive", "Bottle", "valve shut by hand"),
        ("before-you-drive", "Door step", "in and locked"),
        ("before-you-drive", "Grey dump", "closed"),
        ("on-arrival", "Bottle", "smell first"),
        ("before-winter", "Low point", "leave it open"),
        ("before-winter", "Bank", "four fifths"),
        ("waking-it-in-spring", "Low point", "shut again"),
        ("waking-it-in-spring", "Stove", "look at the flame"),
        ("waking-it-in-spring", "Heater", "full output"),
    ],
)
def test_what_is_fitted_has_its_line_and_without_it_there_is_none(name: str, thing: str, words: str) -> None:
    """Each thing brings its line, and takes it away."""
    assert any(line.startswith(thing) and words in line for line in lines(VAN, name))
    key = thing.lower().replace(" ", "-")
    without = "\n".join(line for line in VAN.splitlines() if not line.startswith(f"  {key}:"))
    assert not any(line.startswith(thing) for line in lines(without, name))


@pytest.mark.parametrize("thing", ["Bed step", "Stop cock"])
def test_what_stays_as_it_is_has_no_line(thing: str) -> None:
    """A step inside is not taken in, and a shut-off drains nothing."""
    assert not any(line.startswith(thing) for name in LISTS for line in lines(VAN, name))


def test_a_valve_goes_to_the_state_that_the_spec_gives_for_driving() -> None:
    """The spec says how a valve stands under way."""
    (line,) = [one for one in lines(VAN.replace("while_driving: closed", "while_driving: open"), "before-you-drive")
               if one.startswith("Grey dump")]  # fmt: skip
    assert line.endswith(": open.")


def test_gas_that_may_run_under_way_is_not_shut_in_silence() -> None:
    """With `gas_while_driving` the line says so, and names where it is shut all the same."""
    (line,) = [
        one for one in lines(VAN + "use: {gas_while_driving: true}\n", "before-you-drive") if "Bottle" in one
    ]
    assert "ferries" in line


def test_shapes_for_driving_come_from_the_mode() -> None:
    """What the mode `driving` says of a thing is a line."""
    more = (
        VAN
        + "  bunk: {kind: bed, shapes: {stowed: {at: [2 m, 0 m, 1 m], size: [1 m, 1 m, 100 mm]}, made: {at: [2 m, 0 m, 1 m], size: [2 m, 1 m, 100 mm]}}}\nmodes: {driving: {bunk: stowed}}\n"
    )
    assert any(
        line.startswith("Bunk") and line.endswith("stowed.") for line in lines(more, "before-you-drive")
    )


def test_no_line_calls_anything_safe() -> None:
    """The lists promise nothing."""
    said = " ".join(line for name in LISTS for line in lines(VAN, name)).lower()
    assert said
    assert " safe" not in said
