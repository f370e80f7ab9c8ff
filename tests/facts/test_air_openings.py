"""What opens near the hob, and what lets air in and out at night: cases by hand."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing


def component(name: str, *listed: str) -> Subject:
    """A component of a van of 2 m × 2 m in which these are listed."""
    lines = "".join(f"  {line}\n" for line in listed)
    return Facts(build(f"vehicle: {{interior: {{length: 2 m, width: 2 m}}}}\ncomponents:\n{lines}")).subject(
        name
    )


HOB = "hob: {kind: hob, at: [1 m, 0 m, 0.9 m], size: [0.5 m, 0.5 m, 0.1 m]}"
EVERY_OPENING = (
    "ducted: {kind: extractor-hood, at: [1 m, 0 m, 1.6 m]}",
    "filtering: {kind: extractor-hood, ducted: false, at: [1 m, 0 m, 1 m]}",
    "window: {kind: opening-window, at: [1 m, 0.7 m, 0.9 m]}",
    "pane: {kind: fixed-window, at: [1 m, 0.5 m, 0.9 m]}",
    "hatch: {kind: roof-hatch, at: [1 m, 0 m, 1.9 m]}",
    "fan: {kind: roof-fan, at: [2.5 m, 0 m, 1.9 m]}",
)


def test_what_opens_while_cooking() -> None:
    """A hood that filters and a pane that is fixed let nothing out; 0.2 m to the window, 0.6 m to the ducted hood."""
    hob = component("hob", HOB, *EVERY_OPENING)
    assert hob.openings == ("ducted", "window", "hatch", "fan")
    assert hob.nearest_opening == pytest.approx(0.2)
    without = component("hob", HOB, *(line for line in EVERY_OPENING if not line.startswith("window")))
    assert without.nearest_opening == pytest.approx(0.6)


def test_where_nothing_opens_there_is_no_distance() -> None:
    """A hood with a filter is no way out for fumes."""
    hob = component("hob", HOB, "filtering: {kind: extractor-hood, ducted: false, at: [1 m, 0 m, 1 m]}")
    assert hob.openings == ()
    with pytest.raises(Missing) as raised:
        _ = hob.nearest_opening
    assert raised.value.reason == "nothing that opens is listed"


def test_the_place_of_the_hob_is_asked_for_first() -> None:
    """Without it no other place helps."""
    with pytest.raises(Missing) as raised:
        _ = component("hob", "hob: {kind: hob}", "window: {kind: opening-window}").nearest_opening
    assert raised.value.fields == ("hob.at",)


HIGH = "high: {kind: vent, surface: roof, closable: false, free_area: 80 cm²}"
LOW = "low: {kind: vent, surface: floor, closable: false, free_area: 20 cm²}"
SHUT = "shut: {kind: opening-window}"
CATCH = "caught: {kind: opening-window, night_area: 30 cm²}"


@pytest.mark.parametrize(
    ("listed", "air"),
    [
        ((HIGH, LOW), True),
        ((HIGH, LOW, SHUT), True),
        ((HIGH,), False),
        ((LOW,), False),
        ((SHUT,), False),
        ((CATCH,), True),
        ((CATCH, SHUT), True),
        ((SHUT, CATCH), True),
        ((LOW, CATCH), True),
        ((), False),
    ],
    ids=lambda value: "-".join(line.partition(":")[0] for line in value) or "none" if isinstance(value, tuple) else "",
)  # fmt: skip
def test_air_at_night_comes_in_and_goes_out(listed: tuple[str, ...], air: bool) -> None:
    """By fixed vents both high and low, or by one opening on its catch, whatever else stays shut."""
    assert component("bed", "bed: {kind: bed}", *listed).air_at_night is air
