"""What supplies a thing, what isolates it, what stops with it: on a small van with pump and tap."""

import pytest
from building import build

from specreg.graph.network import network
from specreg.graph.supply import (
    Step,
    Supplied,
    downstream,
    isolated_by,
    stops_with,
    supplied,
    upstream,
    working,
)

VAN = """
components:
  battery: {kind: battery, nominal_voltage: 12.8 V}
  main-switch: {kind: disconnect}
  box: {kind: fuse-box, ways: {pump: {fuse: 10 A}, lights: {fuse: 5 A}, heater: {fuse: 15 A}}}
  ground: {kind: bus-bar, polarity: negative}
  panel: {kind: switch-panel, ways: {pump: {label: Water pump}}}
  water-pump: {kind: pump}
  tank: {kind: fresh-tank, volume: 60 L}
  tap: {kind: tap, form: cold}
  drain: {kind: valve, purpose: drain}
  light: {kind: ceiling-light}
  converter: {kind: dc-converter, input_voltage: 12 V, output_voltage: 24 V}
  radio: {kind: audio}
runs:
  lead: {medium: dc, from: battery/positive, to: main-switch/in, protection: [{fuse: 100 A, distance: 0.1 m}]}
  main: {medium: dc, from: main-switch/out, to: box/feed, return: back}
  back: {medium: dc, from: ground/1, to: box/feed}
  minus: {medium: dc, from: battery/negative, to: ground/2}
  pump-feed: {medium: dc, from: box/pump, to: panel/pump, return: same cable}
  pump-load: {medium: dc, from: panel/pump, to: water-pump, return: same cable}
  lights: {medium: dc, from: box/lights, to: light, return: same cable}
  converter-feed: {medium: dc, from: box/heater, to: converter/input, return: same cable}
  radio-feed: {medium: dc, from: converter/output, to: radio, return: same cable}
  suction: {medium: water, from: tank/outlet, to: water-pump}
  pressure: {medium: water, from: water-pump, to: tap}
"""


@pytest.fixture(scope="module")
def van() -> Supplied:
    """The van, ready for questions."""
    made = build(VAN)
    return supplied(made, network(made))


def test_everything_works_while_nothing_is_missing(van: Supplied) -> None:
    """Whatever needs a supply has one."""
    assert {"box", "water-pump", "tap", "light", "converter", "radio"} <= working(van)


@pytest.mark.parametrize(
    ("thing", "stops"),
    [
        ("box/lights", {"light"}),
        ("box/pump", {"water-pump", "tap"}),
        ("panel/pump", {"water-pump", "tap"}),
        ("pump-load", {"water-pump", "tap"}),
        ("suction", {"water-pump", "tap"}),
        ("pressure", {"tap"}),
        ("box/heater", {"converter", "radio"}),
        ("converter", {"radio"}),
        ("lead/1", {"box", "water-pump", "tap", "light", "converter", "radio"}),
        ("minus", {"box", "water-pump", "tap", "light", "converter", "radio"}),
        ("main-switch", {"box", "water-pump", "tap", "light", "converter", "radio"}),
    ],
)
def test_what_stops_with_a_thing(van: Supplied, thing: str, stops: set[str]) -> None:
    """A tap stops with the pump, the pump with its fuse, the radio with the converter before it."""
    assert set(stops_with(van, thing)) - {"ground", "panel", "drain"} == stops


def test_the_way_back_is_walked_nearest_first(van: Supplied) -> None:
    """From the pump: its cable, the switch, the cable before it, its fuse, the mains and the battery."""
    supply, suction = upstream(van, "water-pump")
    assert [step.id for step in supply.steps] == [
        "pump-load",
        "panel/pump",
        "pump-feed",
        "box/pump",
        "main",
        "main-switch",
        "lead",
        "lead/1",
        "lead",
        "battery",
    ]
    assert supply.source == "battery"
    assert [step.id for step in suction.steps] == ["suction", "tank"]


def test_what_moves_the_water_is_on_the_way(van: Supplied) -> None:
    """From the tap the way leads through the pump to the tank."""
    (cold,) = upstream(van, "tap")
    assert cold.steps == (
        Step("run", "pressure"),
        Step("component", "water-pump"),
        Step("run", "suction"),
        Step("source", "tank"),
    )


def test_what_isolates_a_thing(van: Supplied) -> None:
    """The switch first, then the fuses, then the main switch."""
    assert isolated_by(van, "water-pump") == (
        Step("switch", "panel/pump"),
        Step("device", "box/pump"),
        Step("switch", "main-switch"),
        Step("device", "lead/1"),
    )


def test_what_a_thing_supplies(van: Supplied) -> None:
    """Downstream of the converter is the radio; downstream of the pump is the tap."""
    assert downstream(van, "converter") == ("radio",)
    assert downstream(van, "water-pump") == ("tap",)


def test_a_dead_end_has_no_source() -> None:
    """A light whose cable leads from an unfed box is dead, and the trail says so by being empty."""
    made = build(
        """
        components:
          box: {kind: fuse-box, ways: {1: {fuse: 5 A}}}
          light: {kind: ceiling-light}
        runs:
          feed: {medium: dc, from: box/1, to: light, return: same cable}
        """
    )
    of = supplied(made, network(made))
    assert "light" not in working(of)
    assert upstream(of, "light")[0].source is None
