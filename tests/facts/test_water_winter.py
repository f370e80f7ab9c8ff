"""Draining, freezing, vents and motorised valves: what follows from the runs and the places."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from water_system import water_system

from specreg.facts.freeze_order import FREEZING, START, cooling_time
from specreg.facts.missing import Missing


@pytest.mark.parametrize(
    ("valve", "empties"),
    [("drain-valve", ("fresh-tank", "fresh-drain", "suction")), ("grey-valve", ("grey-tank",))],
)
def test_what_a_valve_empties(valve: str, empties: tuple[str, ...]) -> None:
    """The tank behind it by the graph, and the pipes that name it."""
    change = "{runs: {fresh-drain: {drains_to: drain-valve}, suction: {drains_to: drain-valve}}}"
    assert water_system(change).subject(valve).empties == empties


def test_a_pump_stands_between_a_valve_and_the_tank() -> None:
    """A drain valve behind the pump empties the heater and no tank."""
    change = """
        components: {pipe-drain: {kind: valve, purpose: drain, potable: true, zone: bay}, tee: {outlets: 4}}
        runs: {drain-pipe: {medium: water, from: water-heater/drain, to: pipe-drain/in}}
        """
    assert water_system(change).subject("pipe-drain").empties == ("water-heater",)


@pytest.mark.parametrize(
    ("stated", "drains"),
    [
        ("kind: valve, purpose: drain", True),
        ("kind: valve, purpose: dump", True),
        ("kind: valve, purpose: shut-off", False),
        ("kind: valve", False),
        ("kind: frost-valve", True),
        ("kind: waste-valve, purpose: dump", True),
        ("kind: waste-valve", False),
    ],
)
def test_which_valves_are_there_to_empty_something(stated: str, drains: bool) -> None:
    """By what they are for; a frost valve is for nothing else."""
    assert water_system(f"{{components: {{other: {{{stated}}}}}}}").subject("other").drains is drains


OTHER = "{components: {tee: {outlets: 4}, other: {%s}}, runs: {to-other: {medium: water, from: %s, to: other/in}}}"


@pytest.mark.parametrize(
    ("change", "empties"),
    [
        # Before the pump, at the tank's outlet or its drain.
        (OTHER % ("kind: valve, purpose: drain", "fresh-tank/outlet"), ("fresh-tank",)),
        (OTHER % ("kind: valve, purpose: shut-off", "fresh-tank/outlet"), ()),
        (OTHER % ("kind: frost-valve", "water-heater/drain"), ("water-heater",)),
        # Behind the pump, through a tee: no tank; the heater's water leaves by its drain.
        (OTHER % ("kind: valve, purpose: drain", "tee/4"), ()),
        # Through a tee of its own, but not through a valve that may be shut.
        (
            "{components: {other: {kind: valve, purpose: drain}, fork: {kind: water-manifold}}, runs: {fresh-drain:"
            " {to: fork/in}, a: {medium: water, from: fork/1, to: drain-valve/in},"
            " b: {medium: water, from: fork/2, to: other/in}}}",
            ("fresh-tank",),
        ),
        (
            "{components: {other: {kind: valve, purpose: drain}}, runs:"
            " {a: {medium: water, from: drain-valve/out, to: other/in}}}",
            (),
        ),
        (
            "{components: {other: {kind: waste-valve, purpose: dump}, lift: {kind: waste-pump}}, runs: {grey-drain:"
            " {to: lift/inlet}, a: {medium: waste, from: lift/outlet, to: other/in}}}",
            (),
        ),
        (
            "{components: {other: {kind: waste-valve, purpose: dump}, fork: {kind: waste-tee}}, runs: {grey-drain:"
            " {to: fork/1}, a: {medium: waste, from: fork/out, to: other/in}}}",
            ("grey-tank",),
        ),
        # What names it and is no valve for water is not emptied by it.
        (
            "{components: {other: {kind: gas-valve, purpose: drain}}, runs: {suction: {drains_to: other}}}",
            (),
        ),
        (
            "{components: {other: {kind: valve, purpose: drain}}, runs: {suction: {drains_to: other}}}",
            ("suction",),
        ),
    ],
)
def test_what_another_valve_empties(change: str, empties: tuple[str, ...]) -> None:
    """Vessels whose water comes to it past no pump and no other valve."""
    assert water_system(change).subject("other").empties == empties


def test_a_pipe_that_is_long_holds_more() -> None:
    """π/4 · 12² mm² · 2.5 m are 0.2827 L."""
    pipe = water_system("{runs: {suction: {bore: 12 mm, length: 2.5 m}}}").subject("suction")
    assert pipe.water_in_it * 1000 == pytest.approx(0.28274, abs=1e-5)


def test_water_stays_where_a_pipe_sags() -> None:
    """10 mm of bore and a metre of length hold 0.0785 L, and all of it may stay."""
    van = water_system("{runs: {cold-tap: {lowest: -50 mm}}}")
    (left,) = van.whole.left_in_low_points
    assert (left.name, left.volume) == ("cold tap", pytest.approx(0.0785398e-3))
    mended = water_system("{runs: {cold-tap: {lowest: -50 mm, drains_to: drain-valve}}}")
    assert mended.whole.left_in_low_points == ()


def test_parts_that_keep_water() -> None:
    """Pump, filter and a trap with a seal keep some; a filter that frost spares is left out."""
    change = """
        components:
          filter: {kind: water-filter, frost_safe: false}
          proof: {kind: water-filter, frost_safe: true}
          bend: {kind: drain-trap, form: siphon}
          flap: {kind: drain-trap, form: waterless valve}
        """
    assert water_system(change).whole.left_in_parts == ("water pump", "sink", "filter", "bend")


TEMPERATURES = st.floats(min_value=200, max_value=FREEZING - 0.1)
SIZES = st.floats(min_value=1.0, max_value=1e6)


@given(TEMPERATURES, TEMPERATURES, SIZES, SIZES)
def test_colder_air_freezes_sooner(one: float, other: float, capacity: float, resistance: float) -> None:
    """The time grows with heat capacity and resistance and falls as the air gets colder."""
    cold, mild = sorted((one, other))
    assert cooling_time(capacity, resistance, START, cold) <= cooling_time(capacity, resistance, START, mild)
    assert cooling_time(2 * capacity, resistance, START, cold) > cooling_time(
        capacity, resistance, START, cold
    )


@pytest.mark.parametrize(("start", "air"), [(START, 280.0), (START, 273.15), (270.0, 260.0)])
def test_what_does_not_freeze_is_refused(start: float, air: float) -> None:
    """Air above 0 °C freezes nothing, and ice does not cool to 0 °C."""
    with pytest.raises(ValueError, match="water cools"):
        cooling_time(1.0, 1.0, start, air)


def test_water_at_0_degrees_has_no_way_to_go() -> None:
    """ln 1 is 0."""
    assert cooling_time(1.0, 1.0, 273.15, 260.0) == 0


PIPES = """
use: {places: [{latitude: 50 deg, night_temperature: -10 °C}]}
runs:
  cold-tap: {outside: true}
  cold-heater: {outside: true, insulated: true}
  delivery: {insulated: true}
"""


def test_the_order_of_freezing() -> None:
    """Outside and bare first, then outside and insulated, inside and bare, inside and insulated; tanks last."""
    names = [one.name for one in water_system(PIPES).whole.freeze_order]
    order = ["cold tap", "cold heater", "suction", "delivery", "fresh tank"]
    assert sorted(order, key=names.index) == order


def test_nothing_freezes_in_the_warm() -> None:
    """Nights above 0 °C freeze nothing, and without a night the question stays open."""
    mild = "{use: {places: [{latitude: 50 deg, night_temperature: 3 °C}]}}"
    assert water_system(mild).whole.freeze_order == ()
    with pytest.raises(Missing) as caught:
        _ = water_system("{use: {places: []}}").whole.freeze_order
    assert caught.value.fields == ("use.places.night_temperature",)


@pytest.mark.parametrize(
    ("change", "outside"),
    [
        ("{}", True),
        ("{components: {tank-vent: {opens_to: living space}}}", False),
        ("{runs: {tank-air: ~}}", False),
        ("{runs: {tank-air: {to: tap/cold}}, components: {tap: {kind: tap, form: cold}}}", False),
    ],
)
def test_a_fresh_tank_breathes_by_the_graph(change: str, outside: bool) -> None:
    """Only a vent pipe that ends outside lets it breathe."""
    if "to: tap/cold" in change:
        change = "{runs: {tank-air: {to: spare}}, components: {spare: {kind: tap, form: cold}}}"
    assert water_system(change).subject("fresh-tank").breathes_outside is outside


MOTOR = """
components:
  fuse-box: {{ways: {{valve: {{fuse: 5 A, family: blade}}}}}}
  grey-valve: {{drive: motor}}
  dump-switch: {{kind: switch}}
  dump-relay: {{kind: relay}}
  frost: {{kind: thermostat}}
  probe: {{kind: sensor}}
  other-valve: {{kind: waste-valve, drive: motor}}
  handset: {{kind: remote-control{handset}}}
runs:
{runs}
"""
CABLE = "medium: dc, conductor: 1.5 mm², length: 2 m, return: same cable"
DIRECT = f"  feed: {{{CABLE}, from: fuse-box/valve, to: grey-valve/supply}}\n"


@pytest.mark.parametrize(
    ("runs", "handset", "worked_by"),
    [
        (DIRECT, "", ()),
        (
            DIRECT + "  lead: {medium: control, from: dump-switch, to: grey-valve/control}",
            "",
            ("dump switch",),
        ),
        (DIRECT, ", controls: grey-valve", ("handset",)),
        (
            f"  feed: {{{CABLE}, from: fuse-box/valve, to: dump-switch/in}}\n"
            f"  on: {{{CABLE}, from: dump-switch/out, to: grey-valve/supply}}",
            "",
            ("dump switch",),
        ),
        (
            f"  feed: {{{CABLE}, from: fuse-box/valve, to: dump-relay/in}}\n"
            f"  on: {{{CABLE}, from: dump-relay/out, to: grey-valve/supply}}\n"
            "  lead: {medium: control, from: dump-switch/control, to: dump-relay/control}",
            "",
            ("dump switch",),
        ),
    ],
    ids=["nothing", "control lead", "remote control", "switch in the supply", "switch on a relay"],
)
def test_what_works_a_motorised_valve(runs: str, handset: str, worked_by: tuple[str, ...]) -> None:
    """Switches in the supply, and what tells the valve or its relay by a lead."""
    van = water_system(MOTOR.format(runs=runs, handset=handset))
    assert van.subject("grey-valve").worked_by == worked_by


def _through(contact: str) -> str:
    return (
        f"  feed: {{{CABLE}, from: fuse-box/valve, to: {contact}/in}}\n"
        f"  on: {{{CABLE}, from: {contact}/out, to: grey-valve/supply}}\n"
    )


@pytest.mark.parametrize(
    ("runs", "handset", "worked_by"),
    [
        (_through("dump-relay"), "", ()),
        (_through("dump-relay"), ", controls: dump-relay", ("handset",)),
        (_through("frost"), "", ("frost",)),
        (
            _through("frost") + "  lead: {medium: control, from: dump-switch, to: grey-valve/control}",
            "",
            ("frost", "dump switch"),
        ),
        (DIRECT + "  lead: {medium: control, from: probe, to: grey-valve/control}", "", ("probe",)),
        (DIRECT + "  lead: {medium: control, from: handset, to: grey-valve/control}", "", ("handset",)),
        (
            DIRECT + "  lead: {medium: control, from: handset, to: grey-valve/control}",
            ", controls: grey-valve",
            ("handset",),
        ),
        (DIRECT + "  lead: {medium: control, from: other-valve/control, to: grey-valve/control}", "", ()),
        (DIRECT, ", controls: other-valve", ()),
        (
            _through("dump-relay")
            + "  a: {medium: control, from: dump-switch/control, to: dump-relay/control}\n"
            + "  b: {medium: control, from: probe, to: dump-relay/control}",
            "",
            ("dump switch", "probe"),
        ),
    ],
    ids=[
        "a relay that nothing closes",
        "a relay closed from afar",
        "a thermostat in the supply",
        "in the supply and on a lead",
        "sensor",
        "remote control by a lead",
        "remote control, said twice",
        "another valve",
        "remote control of another valve",
        "two on one relay",
    ],
)
def test_what_works_a_valve_by_itself_or_through_others(
    runs: str, handset: str, worked_by: tuple[str, ...]
) -> None:
    """A relay works nothing until something closes it; a thermostat acts by itself; a valve tells no other valve."""
    van = water_system(MOTOR.format(runs=runs, handset=handset))
    assert van.subject("grey-valve").worked_by == worked_by


def test_a_hand_valve_is_worked_by_hand() -> None:
    """Nothing electric is asked of it, and no handset moves it."""
    assert water_system().subject("grey-valve").worked_by == ()
    handset = "components: {handset: {kind: remote-control, controls: grey-valve}}"
    assert water_system(handset).subject("grey-valve").worked_by == ()


@pytest.mark.parametrize(
    ("change", "room"),
    [
        ("{}", ()),
        (
            "{components: {vessel: {kind: accumulator}}, runs: {delivery: {to: vessel/in}, "
            "on: {medium: water, from: vessel/out, to: tee/in}}}",
            ("vessel",),
        ),
        (
            "{components: {vessel: {kind: accumulator}, stop: {kind: check-valve}}, runs: {delivery: {to: "
            "vessel/in}, on: {medium: water, from: vessel/out, to: stop/in}, "
            "on-2: {medium: water, from: stop/out, to: tee/in}}}",
            (),
        ),
    ],
    ids=["pump only", "vessel", "vessel behind a check valve"],
)
def test_where_warming_water_finds_room(change: str, room: tuple[str, ...]) -> None:
    """A vessel counts when neither pump nor check valve keeps the water from it."""
    assert water_system(change).subject("water-heater").expands_into == room
