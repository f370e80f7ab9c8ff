"""Which way water takes through a small system, laid out by the base of the water rules."""

import pytest
from water_system import water_system

from specreg.facts.missing import Missing


@pytest.mark.parametrize(
    ("change", "subject", "fact", "expected"),
    [
        ("{}", "tap", "fed_by_tanks", ("fresh-tank",)),
        ("{}", "tap", "fed_by_pumps", ("water-pump",)),
        ("{runs: {delivery: ~}}", "tap", "fed_by_tanks", ()),
        ("{runs: {delivery: ~}}", "tap", "fed_by_pumps", ()),
        # Water that also runs past the pump does not need it.
        (
            "{components: {tee-2: {kind: water-manifold, outlets: 1}}, runs: {suction: {to: tee-2/in},"
            " delivery: ~, past: {medium: water, from: tee-2/1, to: tee/in}}}",
            "tap",
            "fed_by_pumps",
            (),
        ),
        ("{}", "tap", "heated_by", ("water-heater",)),
        ("{runs: {hot-mixer: ~}}", "tap", "heated_by", ()),
        ("{runs: {hot-mixer: ~}}", "tap", "gives_hot_water", False),
        ("{}", "water-pump", "own_switches", ("pump-switch",)),
        ("{components: {water-pump: {strainer: false}}}", "water-pump", "strained", False),
        (
            "{components: {water-pump: {strainer: false}, net: {kind: strainer}},"
            " runs: {suction: {to: net/in}, strained: {medium: water, from: net/out, to: water-pump/inlet}}}",
            "water-pump",
            "strained",
            True,
        ),
        ("{}", "fresh-tank", "emptying_valves", ("drain-valve",)),
        ("{runs: {fresh-drain: ~}}", "fresh-tank", "emptying_valves", ()),
        ("{}", "filler", "carries_drinking_water", True),
        ("{}", "sink", "carries_drinking_water", False),
        ("{}", "house-battery", "carries_drinking_water", False),
        ("{}", "mixed-tap", "leads_drinking_water", True),
        ("{runs: {suction: ~}}", "mixed-tap", "leads_drinking_water", False),
        ("{}", "suction", "holds_water", False),
        ("{runs: {suction: {lowest: 89 mm}}}", "suction", "holds_water", True),
        ("{runs: {suction: {lowest: 91 mm}}}", "suction", "holds_water", False),
        ("{runs: {suction: {drains_to: drain-valve}}}", "suction", "low_point_drained", True),
        ("{runs: {suction: {drains_to: sink}}}", "suction", "low_point_drained", False),
        ("{}", "sink", "drains_into", ("grey-tank",)),
        ("{runs: {sink-drain: {to: grey-outlet}, grey-out: ~}}", "sink", "drains_into", ("grey-outlet",)),
        ("{}", "toilet", "empties_into", ("cassette",)),
        ("{components: {sink: {trap: none}}}", "sink", "odour_trapped", False),
        (
            "{components: {sink: {trap: none}, loop: {kind: drain-trap}},"
            " runs: {sink-drain: {to: loop/in}, on: {medium: waste, from: loop/out, to: grey-tank}}}",
            "sink",
            "odour_trapped",
            True,
        ),
        ("{}", "grey-tank", "drain_closable", True),
        ("{runs: {grey-drain: {to: grey-outlet}, grey-out: ~}}", "grey-tank", "drain_closable", False),
        ("{}", "grey-valve", "holds_a_tank", True),
        ("{runs: {grey-drain: ~}}", "grey-valve", "holds_a_tank", False),
        ("{}", "cassette", "waste_vents", ("soil-vent",)),
        ("{}", "cassette", "vented_outside", True),
        ("{components: {soil-vent: {passes: inwards}}}", "cassette", "vented_outside", False),
        ("{runs: {soil-air: ~}}", "cassette", "vented_outside", False),
        ("{runs: {soil: {to: grey-tank}, sink-drain: ~}}", "grey-tank", "foreign_inflow", ("toilet",)),
        ("{}", "grey-tank", "foreign_inflow", ()),
        ("{}", "cassette", "soil_stands_in_it", False),
        ("{components: {black: {kind: black-tank}}}", "black", "soil_stands_in_it", True),
        ("{components: {can: {kind: urine-tank, removable: true}}}", "can", "soil_stands_in_it", False),
    ],
)
def test_ways_of_water(change: str, subject: str, fact: str, expected: object) -> None:
    """What the graph says about one thing after one change."""
    assert getattr(water_system(change).subject(subject), fact) == expected


@pytest.mark.parametrize(
    ("change", "subject", "fact", "field"),
    [
        ("{components: {water-pump: {strainer: ~}}}", "water-pump", "strained", "water-pump.strainer"),
        ("{components: {sink: {trap: ~}}}", "sink", "odour_trapped", "sink.trap"),
        ("{components: {soil-vent: {opens_to: ~}}}", "cassette", "vented_outside", "soil-vent.opens_to"),
        ("{runs: {suction: {lowest: ~}}}", "suction", "holds_water", "suction.lowest"),
        ("{components: {mixer: {temperature: ~}}}", "tap", "hottest_water", "mixer.temperature"),
    ],
)
def test_missing_fields_are_named(change: str, subject: str, fact: str, field: str) -> None:
    """What is not stated is named, and nothing is guessed."""
    with pytest.raises(Missing) as caught:
        getattr(water_system(change).subject(subject), fact)
    assert caught.value.fields == (field,)
