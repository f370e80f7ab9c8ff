"""What loads take and what conductors, devices, contacts and batteries are to carry: worked cases."""

import pytest
from dc_van import SYSTEM, dc_facts

from specreg.facts.missing import Missing

LOADS = [
    # what is stated, running current, greatest current: by hand from U·I
    ("power: 60 W, supply_voltage: 12 V, load: motor", 5.0, 5.0),
    ("power: 60 W, supply_voltage: 12 V, load: constant power", 5.0, 60 / 10.5),
    ("power: 60 W, supply_voltage: 12 V, least_voltage: 10 V", 5.0, 6.0),
    ("current: 5 A, supply_voltage: 24 V, least_voltage: 20 V", 5.0, 6.0),
    ("power: 60 W, supply_voltage: 12 V, load: resistance", 5.0, 5 * 14.4 / 12),
    ("power: 60 W, supply_voltage: 12 V, load: motor, count: 3", 15.0, 15.0),
    ("current: 5 A, supply_voltage: 24 V", 5.0, 5 * 24 / 21),
    ("current: 5 A, supply_voltage: 24 V, load: resistance", 5.0, 5 * 28.8 / 24),
]


@pytest.mark.parametrize(("stated", "running", "greatest"), LOADS)
def test_load_by_kind(stated: str, running: float, greatest: float) -> None:
    """Constant power takes most at its least voltage, a resistance at the highest, a motor its rating."""
    lamp = dc_facts(base=f"components: {{lamp: {{kind: dc-appliance, {stated}}}}}").subject("lamp")
    assert (lamp.running_current, lamp.greatest_current) == pytest.approx((running, greatest))


CONVERTERS = [
    ("kind: inverter, rated_power: 1 kW, efficiency: 80 %, least_input_voltage: 10 V", 1000 / (0.8 * 10)),
    ("kind: inverter, rated_power: 1 kW, input_current: 140 A", 140.0),
    ("kind: dc-charger, output_current: 30 A, output_voltage: 12 V, absorption_voltage: 14 V, "
     "efficiency: 84 %, least_input_voltage: 12.5 V", 14 * 30 / (0.84 * 12.5)),
    ("kind: dc-outlet, rated_current: 10 A, outlets: 2", 20.0),
]  # fmt: skip


@pytest.mark.parametrize(("stated", "current"), CONVERTERS)
def test_input_current(stated: str, current: float) -> None:
    """A converter takes its output power over efficiency and least voltage, or what its maker states."""
    facts = dc_facts(base=f"components: {{thing: {{{stated}}}}}")
    assert facts.subject("thing").greatest_current == pytest.approx(current)


@pytest.mark.parametrize(
    "stated",
    [
        "kind: inverter, rated_power: 1 kW, efficiency: 0 %, least_input_voltage: 10 V",
        "kind: dc-charger, output_current: 30 A, output_voltage: 12 V, efficiency: 0 %, input_voltage: 12 V",
    ],
)
def test_a_converter_that_hands_on_nothing_has_no_current(stated: str) -> None:
    """An efficiency of 0 % is a slip of the pen: the current is not known, and the words name the field."""
    thing = dc_facts(base=f"components: {{thing: {{{stated}}}}}").subject("thing")
    for name in ("running_current", "greatest_current"):
        with pytest.raises(Missing, match=r"thing\.efficiency is written as nothing"):
            getattr(thing, name)


RUNNING = [
    ("kind: inverter, rated_power: 1 kW, efficiency: 80 %, input_voltage: 12 V", 1000 / (0.8 * 12)),
    ("kind: dc-converter, output_voltage: 12 V, output_current: 10 A, efficiency: 90 %, input_voltage: 24 V, "
     "count: 2", 2 * 12 * 10 / (0.9 * 24)),
    ("kind: dc-charger, output_current: 30 A, output_voltage: 12 V, efficiency: 84 %, input_voltage: 12 V",
     12 * 30 / (0.84 * 12)),
    ("kind: dc-charger, output_current: 30 A, output_voltage: 12 V, absorption_voltage: 14 V, efficiency: 84 %, "
     "input_voltage: 12 V", 14 * 30 / (0.84 * 12)),
    ("kind: dc-outlet, rated_current: 10 A, outlets: 2, count: 3", 60.0),
]  # fmt: skip


@pytest.mark.parametrize(("stated", "current"), RUNNING)
def test_running_current_of_what_converts(stated: str, current: float) -> None:
    """Output power over efficiency and nominal input voltage; a charger's output is at its absorption voltage."""
    facts = dc_facts(base=f"components: {{thing: {{{stated}}}}}")
    assert facts.subject("thing").running_current == pytest.approx(current)


def test_what_takes_no_direct_current_has_none() -> None:
    """Neither 0 A nor a slip: that is said."""
    for name in ("running_current", "greatest_current"):
        with pytest.raises(Missing, match="takes no direct current"):
            getattr(dc_facts(base="components: {thing: {kind: mains-board}}").subject("thing"), name)


def test_a_voltage_taken_from_what_feeds_it_is_said() -> None:
    """60 W at the 12 V of a battery of 12.8 V: 5 A, and beside the figure that nobody stated the 12 V."""
    lamp = (
        "components: {battery: {nominal_voltage: 12.8 V}, lamp: {current: ~, supply_voltage: ~, power: 60 W}}"
    )
    facts = dc_facts(lamp)
    with facts.recording() as frame:
        assert facts.subject("lamp").running_current == pytest.approx(5)
    assert "lamp taken as made for 12 V, the voltage of what feeds it" in frame.assumptions


@pytest.mark.parametrize(
    ("battery", "lamp", "current", "said"),
    [
        ("highest_charge_voltage: 14.8 V", "", 4 * 14.8 / 12, False),
        ("highest_charge_voltage: ~", "", 4 * 14.4 / 12, True),
        ("highest_charge_voltage: 14.8 V", "supply_voltage: 24 V, ", 4, False),  # never below its rating
    ],
)
def test_a_resistance_takes_most_while_the_battery_is_charged(
    battery: str, lamp: str, current: float, said: bool
) -> None:
    """At the highest voltage that its battery states; else at 14.4 V, which is said to be practice."""
    facts = dc_facts(f"components: {{battery: {{{battery}}}, lamp: {{{lamp}load: resistance}}}}")
    with facts.recording() as frame:
        assert facts.subject("lamp").greatest_current == pytest.approx(current)
    assert any("taken at up to 14.4 V while charging" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(
    ("stated", "start"),
    [
        ("load: resistance", 4 * 14.4 / 12),
        ("load: constant power, least_voltage: 10 V, count: 2", 2 * 4 * 12 / 10),
        ("load: ~", 4 * 12 / 10.5),  # an appliance of which nothing is said takes constant power
        ("load: resistance, start_current: 9 A, count: 2", 18.0),
    ],
)
def test_what_is_no_motor_starts_with_its_greatest_current(stated: str, start: float) -> None:
    """Unless its maker states more."""
    facts = dc_facts(f"components: {{lamp: {{{stated}}}}}")
    assert facts.subject("lamp").greatest_start_current == pytest.approx(start)


def test_assumed_least_voltage_is_said() -> None:
    """A default carries a sentence."""
    facts = dc_facts("components: {lamp: {load: constant power}}")
    lamp = facts.subject("lamp")
    with facts.recording() as frame:
        assert lamp.greatest_current == pytest.approx(4 * 12 / 10.5)
    assert any("10.5 V" in sentence for sentence in frame.assumptions)


def test_start_current_is_apart() -> None:
    """A motor without a start current has none assumed."""
    facts = dc_facts("components: {pump: {start_current: 18 A, count: 2}}")
    assert facts.subject("pump").greatest_start_current == 36.0
    with pytest.raises(Missing, match=r"lamp\.start_current"):
        _ = facts.subject("lamp").greatest_start_current


def test_a_small_load_makes_a_small_current() -> None:
    """Nothing flows back from where no source stands: half an ampere is all, and a stub carries none."""
    facts = dc_facts(
        "components: {lamp: {current: 0.5 A}, bar: {kind: bus-bar}}",
        "runs: {stub: {medium: dc, from: battery/positive, to: bar/1}}",
    )
    assert (facts.subject("lamp-feed").design_current, facts.subject("stub").design_current) == (0.5, 0.0)


def test_feed_adds_its_branches() -> None:
    """The main and its return carry both loads, each branch its own."""
    facts = dc_facts()
    found = {run: facts.subject(run).design_current for run in ("main", "ground", "lamp-feed", "pump-feed")}
    assert found == {"main": 10.0, "ground": 10.0, "lamp-feed": 4.0, "pump-feed": 6.0}
    assert facts.subject("box/b").carried_current == 6.0


def test_unknown_loads_are_all_named() -> None:
    """The main is unknown for want of both, the lamp's own branch for want of one."""
    facts = dc_facts("components: {lamp: {current: ~}, pump: {current: ~}}")
    with pytest.raises(Missing) as main:
        _ = facts.subject("main").design_current
    assert main.value.fields == ("lamp.power", "pump.power")
    with pytest.raises(Missing) as branch:
        _ = facts.subject("lamp-feed").design_current
    assert branch.value.fields == ("lamp.power",)


SUN = """
components:
  sun: {kind: solar-controller, rated_current: %s, battery_voltage: 12 V, absorption_voltage: 14.2 V}
runs:
  sun-out: {medium: dc, from: sun/battery, to: box/feed, return: same cable, conductor: 6 mm², length: 1 m}
"""


@pytest.mark.parametrize(("sun", "main"), [("30 A", 30.0), ("8 A", 10.0)])
def test_greater_of_both_directions(sun: str, main: float) -> None:
    """By night the main carries the loads, by day the charging current."""
    facts = dc_facts(SUN % sun)
    assert facts.subject("main").design_current == main
    assert facts.subject("sun-out").design_current == float(sun.removesuffix(" A"))
    assert facts.subject("battery").charge_offered == float(sun.removesuffix(" A"))
    assert facts.subject("battery").discharge_demand == 10.0


@pytest.mark.parametrize("device", ["", ", protection: [{fuse: 10 A, distance: 10 mm}]"])
def test_like_parallel_cables_share(device: str) -> None:
    """Equal resistances divide current evenly, with a device in each or without."""
    twin = "{medium: dc, from: battery/positive, to: box/feed, return: ground, %s}"
    device = "conductor: 10 mm², length: 2 m" + device
    facts = dc_facts(f"runs: {{main: {twin % device}, main-2: {twin % device}}}")
    assert (facts.subject("main").design_current, facts.subject("main-2").design_current) == (5.0, 5.0)
    assert facts.subject("lamp-feed").design_current == 4.0
    if "fuse" in device:
        assert facts.subject("main/1").carried_current == 5.0


def test_like_parallel_cables_share_what_passes_them_only() -> None:
    """A lamp straight at the battery: the two cables to the box carry the pump's 6 A, 3 A each."""
    twin = (
        "{medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: 2 m}"
    )
    facts = dc_facts(
        f"runs: {{main: {twin}, main-2: {twin}, lamp-feed: {{from: battery/positive, return: ground}}}}"
    )
    assert (facts.subject("main").design_current, facts.subject("main-2").design_current) == (3.0, 3.0)


def main_cable(
    start: str = "battery/positive", finish: str = "box/feed", size: str = "10 mm²", length: str = "2 m"
) -> str:
    """A cable like the main of the small system, but for what is other about it."""
    return f"{{medium: dc, from: {start}, to: {finish}, return: ground, conductor: {size}, length: {length}}}"


PIPE = "components: {tank: {kind: fresh-tank}, tap-pump: {kind: pump}}\nruns: {pipe: {medium: water, from: tank/outlet, to: tap-pump/inlet}}"
BAR = "components: {bar: {kind: bus-bar, studs: 3}, end: {kind: bus-bar, studs: 3}}\nruns: {%s}"


@pytest.mark.parametrize(
    ("runs", "alike"),
    [
        (f"main-2: {main_cable()}", ("main", "main-2")),
        (f"main-2: {main_cable()}, main-3: {main_cable()}", ("main", "main-2", "main-3")),
        (
            f"main: {{to: bar/1}}, main-2: {main_cable(finish='bar/2')}, on: {main_cable(start='bar/3')}",
            ("main", "main-2"),
        ),
        (
            f"main: {{to: bar/1}}, one: {main_cable('bar/2', 'end/1')}, other: {main_cable('end/2', 'bar/3')}, "
            f"on: {main_cable('end/3')}",
            ("one", "other"),
        ),
    ],
    ids=["two", "three", "two studs of a bar", "written from either end"],
)
def test_like_cables_share_wherever_they_are_bolted(runs: str, alike: tuple[str, ...]) -> None:
    """10 A over two or three alike, and that is said; a water pipe beside them is no cable."""
    facts = dc_facts(BAR % runs, PIPE)
    with facts.recording() as frame:
        found = [facts.subject(name).design_current for name in alike]
    assert found == pytest.approx([10 / len(alike)] * len(alike))
    assert any("taken as sharing their current evenly" in sentence for sentence in frame.assumptions)


def test_like_cables_share_what_charges_too() -> None:
    """A controller of 30 A at the box sends 15 A back through each: more than their half of the loads' 10 A."""
    facts = dc_facts(SUN % "30 A", f"runs: {{main-2: {main_cable()}}}")
    assert [facts.subject(name).design_current for name in ("main", "main-2")] == [15.0, 15.0]


PANEL = """
components:
  panel: {kind: switch-panel, ways: {x: {}, y: {}}}
runs:
  lamp-feed: {to: panel/x, conductor: 2.5 mm², length: 3 m}
  pump-feed: {to: panel/y, conductor: 2.5 mm², length: 3 m}
  lamp-on: {medium: dc, from: panel/x, to: lamp, return: same cable, conductor: 2.5 mm², length: 1 m}
  pump-on: {medium: dc, from: panel/y, to: pump, return: same cable, conductor: 2.5 mm², length: 1 m}
"""
SECOND = "runs: {lamp-feed-2: {medium: dc, from: box/a, to: panel/x, return: same cable, conductor: 2.5 mm², length: 3 m}}"


def test_cables_between_two_ways_and_two_ways_are_not_in_parallel() -> None:
    """Alike as they are, each carries what hangs on its own way; a second one on the lamp's way halves that alone."""
    facts = dc_facts(PANEL)
    found = {name: facts.subject(name).design_current for name in ("lamp-feed", "pump-feed")}
    assert found == {"lamp-feed": 4.0, "pump-feed": 6.0}
    twice = dc_facts(PANEL, SECOND)
    found = {name: twice.subject(name).design_current for name in ("lamp-feed", "lamp-feed-2", "pump-feed")}
    assert found == {"lamp-feed": 2.0, "lamp-feed-2": 2.0, "pump-feed": 6.0}
    main, on = 2 * 2 * 1.91e-3 * 10, 2 * 1 * 7.98e-3 * 4  # IEC 60228 class 5: 1.91 and 7.98 Ω/km
    assert facts.subject("lamp").supply_drop == pytest.approx(main + on + 2 * 3 * 7.98e-3 * 4)
    assert twice.subject("lamp").supply_drop == pytest.approx(main + on + 2 * 3 * 7.98e-3 * 4 / 2)


ALIKE = "{{medium: dc, from: {}, to: {}, return: chassis, conductor: 2.5 mm², length: 1 m}}"
THERE_AND_BACK = f"""
components:
  battery: {{kind: battery, nominal_voltage: 12 V}}
  panel: {{kind: switch-panel, ways: {{x: {{}}, y: {{}}}}}}
  bar: {{kind: bus-bar, studs: 4}}
  lamp: {{kind: dc-appliance, current: 4 A, supply_voltage: 12 V, load: motor}}
runs:
  main: {{medium: dc, from: battery/positive, to: panel/x, return: chassis}}
  there: {ALIKE.format("panel/x", "bar/1")}
  there-2: {ALIKE.format("panel/x", "bar/2")}
  back: {ALIKE.format("bar/3", "panel/y")}
  back-2: {ALIKE.format("bar/4", "panel/y")}
  lamp-feed: {{medium: dc, from: panel/y, to: lamp, return: chassis}}
"""


def test_cables_there_and_back_between_two_places_are_two_pairs() -> None:
    """From one way of a panel to a bar and from there to another way: all four alike, two and two in parallel."""
    facts = dc_facts(base=THERE_AND_BACK)
    names = ("there", "there-2", "back", "back-2")
    assert [facts.subject(name).design_current for name in names] == [2.0] * 4


def test_like_cables_from_two_batteries_share_by_battery() -> None:
    """Two from one way of the panel to the bar, one from another way that has a battery of its own: 4 A over two."""
    second = f"""
    components: {{second: {{kind: battery, nominal_voltage: 12 V}}, panel: {{ways: {{z: {{}}}}}}, bar: {{studs: 5}}}}
    runs:
      main-2: {{medium: dc, from: second/positive, to: panel/z, return: chassis}}
      other: {ALIKE.format("panel/z", "bar/5")}
    """
    facts = dc_facts(second, base=THERE_AND_BACK)
    assert [facts.subject(name).design_current for name in ("there", "there-2", "other")] == [2.0, 2.0, 4.0]


def test_like_cables_to_a_charger_carry_what_it_takes() -> None:
    """30 A over two: the house behind it is another network, though its current comes through the charger."""
    lead = "medium: dc, from: starter/positive, to: booster/input, return: chassis, conductor: 10 mm², length: 3 m"
    facts = dc_facts(
        f"""
        components:
          starter: {{kind: battery, nominal_voltage: 12 V, role: starter}}
          booster: {{kind: dc-charger, output_current: 20 A, input_current: 30 A}}
        runs:
          in: {{{lead}}}
          in-2: {{{lead}}}
          out: {{medium: dc, from: booster/output, to: box/feed, return: same cable}}
        """
    )
    assert [facts.subject(name).design_current for name in ("in", "in-2")] == [15.0, 15.0]


@pytest.mark.parametrize(
    "runs",
    [
        f"main-2: {main_cable(size='6 mm²')}",
        f"main-2: {main_cable(length='2.5 m')}",
        f"main: {{length: ~}}, main-2: {main_cable(length='~')}",
        f"main: {{conductor: ~}}, main-2: {main_cable(size='~')}",
        f"main-2: {main_cable()}, by: {main_cable(finish='bar/1')}, on: {main_cable(start='bar/2')}",
        f"link: {main_cable(finish='bar/1', length='0.3 m')}, main-2: {main_cable(start='bar/2')}",
    ],
    ids=[
        "conductor",
        "length",
        "no length",
        "no conductor",
        "a third way over a bar",
        "one begins behind a link",
    ],
)
def test_cables_that_are_not_alike_or_not_alone_stay_open(runs: str) -> None:
    """What nobody stated makes no likeness: half the current might be far too little for the shorter one."""
    with pytest.raises(Missing, match="how current divides is open"):
        _ = dc_facts(BAR % runs).subject("main").design_current


def test_unlike_parallel_cables_stay_open() -> None:
    """How current divides between two cables is not guessed."""
    facts = dc_facts("runs: {main-2: {medium: dc, from: battery/positive, to: box/feed, return: ground}}")
    assert facts.subject("main").in_a_ring
    with pytest.raises(Missing, match="ring"):
        _ = facts.subject("main").design_current


def test_outlet_counts_once() -> None:
    """What is plugged into an outlet is within the outlet's rating upstream and by itself downstream."""
    facts = dc_facts(
        """
        components:
          lamp: ~
          outlet: {kind: dc-outlet, rated_current: 10 A}
          fan: {kind: cabin-fan, current: 2 A, supply_voltage: 12 V}
        runs:
          lamp-feed: {to: outlet/supply}
          fan-lead: {medium: dc, from: outlet/outlet, to: fan, return: same cable}
        """
    )
    assert facts.subject("lamp-feed").design_current == 10.0
    assert facts.subject("fan-lead").design_current == 2.0


def test_switch_panel_names_the_overloaded_way() -> None:
    """A contact rated below its load is named with both figures; one that is never opened is not judged."""
    panel = """
    components:
      panel: {kind: switch-panel, ways: {x: {label: Lamp, rated_current: %s, form: %s}}}
    runs:
      lamp-feed: {to: panel/x}
      lamp-on: {medium: dc, from: panel/x, to: lamp, return: same cable}
    """
    (joint,) = dc_facts(panel % ("3 A", "switch")).subject("panel").overloaded_joints
    assert (joint.name, joint.current, joint.rated) == ("panel, Lamp", 4.0, 3.0)
    assert dc_facts(panel % ("4 A", "switch")).subject("panel").overloaded_joints == ()
    assert dc_facts(panel % ("3 A", "always on")).subject("panel").overloaded_joints == ()


def test_common_return_keeps_circuits_apart() -> None:
    """A charger's own return does not carry the house loads, although all negatives meet."""
    facts = dc_facts(
        """
        components:
          starter: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA, role: starter}
          booster: {kind: dc-charger, output_current: 20 A, input_current: 30 A}
        runs:
          boost-in: {medium: dc, from: starter/positive, to: booster/input, return: boost-ground}
          boost-ground: {medium: dc, from: starter/negative, to: booster/input}
          boost-out: {medium: dc, from: booster/output, to: box/feed, return: same cable}
        """
    )
    assert facts.subject("boost-ground").design_current == 30.0
    assert facts.subject("boost-out").design_current == 20.0


def test_way_without_a_fuse_overloads_nothing() -> None:
    """An empty way is no device; one above the box's limit for a way is named."""
    facts = dc_facts("components: {box: {way_current: 15 A, ways: {a: {fuse: ~, family: ~}}}}")
    assert facts.subject("box").overloaded_ways == ("b",)


@pytest.mark.parametrize(("limit", "over"), [("19.9 A", ("a", "b")), ("20 A", ("b",)), ("25 A", ())])
def test_a_way_bears_a_device_of_its_own_rating(limit: str, over: tuple[str, ...]) -> None:
    """20 A in one way and 25 A in the other."""
    facts = dc_facts(f"components: {{box: {{way_current: {limit}, ways: {{b: {{fuse: 25 A}}}}}}}}")
    assert facts.subject("box").overloaded_ways == over


SWITCHED = """
components:
  lamp: {kind: strip-light%s}
  off: {kind: disconnect}
  low: {kind: low-voltage-disconnect, title: Low-voltage relay}
  panel: {kind: switch-panel, title: Panel, ways: {x: {label: Lamp}, y: {form: always on}}}
runs:
  main: {to: off/in}
  from-off: {medium: dc, from: off/out, to: low/battery, return: ground}
  from-low: {medium: dc, from: low/loads, to: box/feed, return: ground}
  lamp-feed: {to: panel/%s}
  lamp-on: {medium: dc, from: panel/%s, to: lamp, return: same cable}
"""


@pytest.mark.parametrize(
    ("own", "way", "by"),
    [
        ("", "x", ("Low-voltage relay", "Panel")),
        ("", "y", ("Low-voltage relay",)),  # that way is always on
        (", own_switch: true", "x", ("lamp", "Low-voltage relay", "Panel")),
        (", own_switch: false", "y", ("Low-voltage relay",)),
    ],
)
def test_what_switches_a_load_off(own: str, way: str, by: tuple[str, ...]) -> None:
    """Its own switch, a contact, a way of the panel; the main disconnect, that puts out the whole van, is none."""
    base = SYSTEM.replace("lamp: {kind: dc-appliance, current: 4 A, supply_voltage: 12 V, load: motor}", "")
    facts = dc_facts(SWITCHED % (own, way, way), base=base)
    assert facts.subject("lamp").switched_by == by


SEVERAL_WAYS = """
components:
  lamp: {kind: strip-light}
  panel: {kind: switch-panel, title: Panel, ways: {x: {}, y: {}, z: {}}}
  low: {kind: low-voltage-disconnect, title: Low-voltage relay}
  second: {kind: battery, nominal_voltage: 12 V}
  bar: {kind: bus-bar, studs: 5}
runs:
  main: {to: low/battery, return: chassis}
  joined: {medium: dc, from: low/loads, to: bar/1}
  onward: {medium: dc, from: bar/2, to: box/feed, return: chassis}
  lamp-feed: {to: panel/x}
  lamp-on: {medium: dc, from: panel/x, to: lamp, return: same cable}
"""


@pytest.mark.parametrize(
    ("runs", "by"),
    [
        ("", ("Low-voltage relay", "Panel")),
        # another source comes in behind the relay, or before it
        ("other: {medium: dc, from: second/positive, to: bar/3}", ("Panel",)),
        ("other: {medium: dc, from: second/positive, to: low/battery}", ("Low-voltage relay", "Panel")),
        # a cable goes past the relay, or past the panel
        ("past: {medium: dc, from: battery/positive, to: bar/3}", ("Panel",)),
        ("past: {medium: dc, from: box/b, to: lamp, return: chassis}", ("Low-voltage relay",)),
        # two sources, each with a way of the panel: neither way by itself switches anything off
        (
            "main: {to: panel/y}, joined: {from: panel/y, return: chassis}, to-z: {medium: dc, from: second/positive, "
            "to: panel/z, return: chassis}, from-z: {medium: dc, from: panel/z, to: bar/3, return: chassis}, "
            "lamp-feed: {to: lamp}, lamp-on: ~",
            (),
        ),
    ],
    ids=["one way", "behind", "before", "past the relay", "past the panel", "each its own"],
)
def test_what_is_gone_round_switches_nothing_off(runs: str, by: tuple[str, ...]) -> None:
    """A relay before the battery is no switch for what a second source feeds, too: the pump would run on in silence."""
    base = SYSTEM.replace("lamp: {kind: dc-appliance, current: 4 A, supply_voltage: 12 V, load: motor}", "")
    facts = dc_facts(SEVERAL_WAYS, *([f"runs: {{{runs}}}"] if runs else []), base=base)
    assert facts.subject("lamp").switched_by == by


@pytest.mark.parametrize(
    ("stated", "by"), [("", ()), (", own_switch: true", ("lamp",)), (", own_switch: false", ())]
)
def test_a_lamp_that_nothing_feeds_has_its_own_switch_at_most(stated: str, by: tuple[str, ...]) -> None:
    """No way, no switch on it."""
    lamp = dc_facts(base=f"components: {{lamp: {{kind: strip-light{stated}}}}}").subject("lamp")
    assert lamp.switched_by == by


@pytest.mark.parametrize(
    ("joint", "passes"),
    [
        ("{kind: shunt, rated_current: 5 A}", True),
        ("{kind: disconnect, rated_current: 5 A}", True),
        ("{kind: bus-bar, studs: 3, rated_current: 5 A}", True),
        ("{kind: switch-panel, ways: {a: {}}}", True),
        ("{kind: solar-controller, rated_current: 5 A}", False),
        ("{kind: dc-outlet}", False),
        ("{kind: dc-appliance}", False),
        ("{kind: fuse-holder, device: {fuse: 5 A}}", False),
    ],
)
def test_what_passes_the_current_of_others(joint: str, passes: bool) -> None:
    """Bars, shunts, contacts and panels do; what converts, takes or hands out current does not."""
    assert dc_facts(f"components: {{it: {joint}}}").subject("it").passes_dc is passes


@pytest.mark.parametrize(("rated", "overloaded"), [("9 A", True), ("10 A", False)])
@pytest.mark.parametrize(
    ("joint", "runs"),
    [
        (
            "disconnect",
            "main: {to: it/in}, on: {medium: dc, from: it/out, to: box/feed, return: ground, conductor: 10 mm²}",
        ),
        (
            "disconnect, polarity: negative",
            "ground: {from: battery/negative, to: it/in}, back: {medium: dc, from: it/out, to: box/feed}",
        ),
    ],
    ids=["positive", "negative"],
)
def test_a_contact_carries_all_behind_it(joint: str, runs: str, rated: str, overloaded: bool) -> None:
    """4 A and 6 A pass a disconnect in either pole: 9 A is too little for it, 10 A just enough."""
    facts = dc_facts(f"components: {{it: {{kind: {joint}, rated_current: {rated}}}}}\nruns: {{{runs}}}")
    assert bool(facts.subject("it").overloaded_joints) is overloaded


def test_a_load_that_nothing_feeds_has_no_voltage() -> None:
    """Neither its own supply voltage nor a source: the field is named, a power makes no current."""
    lamp = dc_facts(base="components: {lamp: {kind: strip-light, power: 10 W}}").subject("lamp")
    with pytest.raises(Missing, match=r"lamp\.supply_voltage"):
        _ = lamp.greatest_current


BARS = """
components:
  bar: {kind: bus-bar, studs: 6, rated_current: %s}
runs:
  main: {to: bar/1, conductor: 10 mm², length: 2 m}
  main-2: {medium: dc, from: battery/positive, to: bar/2, return: ground, conductor: %s, length: 2 m}
  lamp-feed: {from: bar/3, return: ground}
  pump-feed: {from: bar/4, return: ground}
"""


@pytest.mark.parametrize(("rated", "overloaded"), [("9 A", True), ("10 A", False)])
def test_what_like_cables_bring_meets_on_the_bar(rated: str, overloaded: bool) -> None:
    """Two cables of 5 A each and loads of 4 A and 6 A: between them and the loads the bar carries 10 A."""
    facts = dc_facts(BARS % (rated, "10 mm²"))
    assert [joint.current for joint in facts.subject("bar").overloaded_joints] == [10.0] * overloaded


def test_unlike_cables_are_left_out_of_what_a_bar_carries() -> None:
    """How they divide 10 A is open: the greater load's 6 A is what is known, and the rest is said."""
    facts = dc_facts(BARS % ("5 A", "16 mm²"))
    with facts.recording() as frame:
        (joint,) = facts.subject("bar").overloaded_joints
    assert (joint.name, joint.current, joint.rated) == ("bar", 6.0, 5.0)
    assert any("current of main, main 2 at bar left out" in sentence for sentence in frame.assumptions)


@pytest.mark.parametrize("second", ["10 mm²", "16 mm²"])
def test_a_bar_with_an_unknown_load_is_open(second: str) -> None:
    """Its field is asked for, beside like cables and beside unlike ones."""
    facts = dc_facts(BARS % ("100 A", second), "components: {lamp: {current: ~}}")
    with pytest.raises(Missing, match=r"lamp\.power"):
        _ = facts.subject("bar").overloaded_joints


BOTH = [
    # the device, what is laid over, whether current can pass it either way
    ("main/1", "runs: {}", False),
    ("main/1", SUN % "30 A", True),
    ("box/a", SUN % "30 A", False),
    ("main/1", "runs: {more: {medium: dc, from: battery/positive, to: box/feed, return: ground}}", True),
]


@pytest.mark.parametrize(("device", "over", "both"), BOTH)
def test_which_devices_current_can_pass_both_ways(device: str, over: str, both: bool) -> None:
    """Between battery and charger, and in a ring; not on the way to a load."""
    facts = dc_facts("runs: {main: {protection: [{breaker: 60 A, distance: 0 m}]}}", over)
    assert facts.subject(device).fed_from_both_sides is both


def test_what_stands_in_direct_current() -> None:
    """A device of a mains board does not; it has its rating like any other."""
    facts = dc_facts("components: {board: {kind: mains-board, main: {breaker: 16 A, poles: 2}}}")
    (name,) = [device for device in facts.devices if device.startswith("board")]
    assert (facts.subject(name).carries_dc, facts.subject("box/a").carries_dc) == (False, True)
    assert (facts.subject(name).rated_current, facts.subject("box/a").rated_current) == (16.0, 20.0)


STRINGS = """
components:
  p1: {kind: solar-panel, short_circuit_current: 9 A}
  p2: {kind: solar-panel, short_circuit_current: 7 A}
  gather: {kind: solar-combiner, rated_current: %s, ways: {'1': {fuse: 15 A}, '2': {}}}
  sun: {kind: solar-controller, rated_current: 30 A}
runs:
  l1: {medium: dc, from: p1/leads, to: gather/1, return: same cable}
  l2: {medium: dc, from: p2/leads, to: gather/2, return: same cable}
  down: {medium: dc, from: gather/out, to: sun/panel, return: same cable}
"""


@pytest.mark.parametrize(("rated", "overloaded"), [("15.9 A", [16.0]), ("16 A", [])])
def test_the_output_of_a_combiner_carries_all_strings(rated: str, overloaded: list[float]) -> None:
    """9 A and 7 A meet in it: the output's rating is for both together, not for the greater string."""
    joints = dc_facts(base=STRINGS % rated).subject("gather").overloaded_joints
    assert [joint.current for joint in joints] == overloaded


@pytest.mark.parametrize(("output", "overloaded"), [("3.9 A", [(4.0, 3.9)]), ("4 A", [])])
def test_the_load_output_of_a_controller_has_a_rating_of_its_own(
    output: str, overloaded: list[tuple[float, float]]
) -> None:
    """A lamp of 4 A hangs on the load output: what the controller charges with, 30 A, says nothing of that."""
    facts = dc_facts(
        f"""
        components: {{sun: {{kind: solar-controller, rated_current: 30 A, load_current: {output}}}}}
        runs:
          out: {{medium: dc, from: sun/battery, to: box/feed, return: same cable}}
          lamp-feed: {{from: sun/load}}
        """
    )
    assert facts.subject("sun").passes_dc
    joints = facts.subject("sun").overloaded_joints
    assert [(joint.current, joint.rated) for joint in joints] == overloaded


@pytest.mark.parametrize(
    ("joint", "overloaded"),
    [
        ("relay, rated_current: 3.9 A", True),
        ("relay, rated_current: 4 A", False),
        ("relay, pole: negative, rated_current: 3.9 A", True),
        ("relay, pole: negative, rated_current: 4 A", False),
    ],
)
def test_a_relay_carries_what_it_switches(joint: str, overloaded: bool) -> None:
    """In the pole that it opens: 4 A of the lamp there and back."""
    facts = dc_facts(
        f"""
        components: {{it: {{kind: {joint}}}}}
        runs: {{lamp-feed: {{to: it/in}}, on: {{medium: dc, from: it/out, to: lamp, return: same cable}}}}
        """
    )
    assert bool(facts.subject("it").overloaded_joints) is overloaded


@pytest.mark.parametrize(
    ("joint", "runs"),
    [
        (
            "shunt",
            "ground: {from: battery/negative, to: it/battery}, on: {medium: dc, from: it/system, to: box/feed}",
        ),
        (
            "split-relay",
            "main: {to: it/starter}, on: {medium: dc, from: it/house, to: box/feed, return: ground, conductor: 10 mm²}",
        ),
        (
            "bus-bar, studs: 3, polarity: negative",
            "ground: {from: battery/negative, to: it/1}, on: {medium: dc, from: it/2, to: box/feed}",
        ),
    ],
    ids=["shunt", "split relay", "negative bar"],
)
@pytest.mark.parametrize(("rated", "overloaded"), [("9.9 A", True), ("10 A", False)])
def test_a_joint_carries_all_behind_it(joint: str, runs: str, rated: str, overloaded: bool) -> None:
    """4 A and 6 A pass it, in whichever pole it stands."""
    facts = dc_facts(f"components: {{it: {{kind: {joint}, rated_current: {rated}}}}}\nruns: {{{runs}}}")
    assert facts.subject("it").passes_dc
    assert [joint.current for joint in facts.subject("it").overloaded_joints] == [10.0] * overloaded


@pytest.mark.parametrize(("rated", "overloaded"), [("9.9 A", [10.0]), ("10 A", [])])
def test_a_box_carries_its_feed_and_not_the_returns_of_others(rated: str, overloaded: list[float]) -> None:
    """4 A and 6 A of its own ways; a lamp of 50 A from elsewhere that only returns by its bar is not on its feed."""
    facts = dc_facts(
        f"""
        components:
          box: {{rated_current: {rated}}}
          flood: {{kind: dc-appliance, current: 50 A, supply_voltage: 12 V, load: motor}}
        runs:
          flood-feed: {{medium: dc, from: battery/positive, to: flood, return: flood-back}}
          flood-back: {{medium: dc, from: box/a, to: flood}}
        """
    )
    assert [joint.current for joint in facts.subject("box").overloaded_joints] == overloaded


def test_what_hangs_on_no_circuit_is_overloaded_by_nothing() -> None:
    """Its kind has a rating, and no current passes through it; of a kind without one nothing can be said."""
    assert (
        dc_facts("components: {it: {kind: alternator, rated_current: 0.5 A}}").subject("it").overloaded_joints
        == ()
    )
    assert (
        dc_facts("components: {it: {kind: bus-bar, rated_current: 0.5 A}}").subject("it").overloaded_joints
        == ()
    )
    with pytest.raises(Missing) as absent:
        _ = dc_facts().subject("lamp").overloaded_joints
    assert absent.value.reason == "its kind states no rated current of its own"


def test_every_way_of_a_panel_is_looked_at() -> None:
    """One that is always on is passed over, not the ways behind it; one without a rating asks for it."""
    panel = """
    components:
      panel: {kind: switch-panel, ways: {x: {form: always on}, y: {label: Pump, rated_current: 5 A}, z: {%s}}}
    runs:
      lamp-feed: {to: panel/x}
      lamp-on: {medium: dc, from: panel/x, to: lamp, return: same cable}
      pump-feed: {to: panel/y}
      pump-on: {medium: dc, from: panel/y, to: pump, return: same cable}
    """
    joints = dc_facts(panel % "rated_current: 5 A").subject("panel").overloaded_joints
    assert [(joint.name, joint.current, joint.rated) for joint in joints] == [("panel, Pump", 6.0, 5.0)]
    with pytest.raises(Missing, match=r"panel\.ways\.z\.rated_current"):
        _ = dc_facts(panel % "").subject("panel").overloaded_joints


def test_a_contact_beside_a_cable_is_open() -> None:
    """A cable round a disconnect: how current divides is not guessed, whatever the contact is rated for."""
    facts = dc_facts(
        """
        components: {it: {kind: disconnect, rated_current: 1 A}}
        runs:
          main: {to: it/in}
          on: {medium: dc, from: it/out, to: box/feed, return: ground, conductor: 10 mm²}
          round: {medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm²}
        """
    )
    with pytest.raises(Missing, match="lies in a ring"):
        _ = facts.subject("it").overloaded_joints


def test_like_cables_to_different_switches_do_not_share() -> None:
    """Each way of a panel feeds a load of its own: 4 A and 6 A, though the two cables before it are alike."""
    facts = dc_facts(
        """
        components: {panel: {kind: switch-panel, ways: {x: {}, y: {}}}}
        runs:
          lamp-feed: {to: panel/x, conductor: 2.5 mm², length: 5 m}
          lamp-on: {medium: dc, from: panel/x, to: lamp, return: chassis}
          pump-feed: {to: panel/y, conductor: 2.5 mm², length: 5 m}
          pump-on: {medium: dc, from: panel/y, to: pump, return: chassis}
        """
    )
    assert facts.subject("lamp-feed").design_current == 4.0
    assert facts.subject("pump-feed").design_current == 6.0


NOTHING = """
components: {lamp: ~, it: {kind: dc-converter, output_current: 5 A, output_voltage: 12 V, input_voltage: 12 V, efficiency: 0 %}}
runs: {lamp-feed: {to: it/input}}
"""


def test_a_load_of_which_only_the_reason_is_known_leaves_the_feed_open() -> None:
    """A converter that hands on nothing: the main is not reckoned without it, and the words are the converter's."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(NOTHING).subject("main").design_current
    assert (absent.value.fields, absent.value.reason[:13]) == ((), "it.efficiency")


def test_fields_that_are_missing_come_before_reasons() -> None:
    """Beside such a converter a pump that states nothing: its field would decide more, and is what is asked for."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(NOTHING, "components: {pump: {current: ~}}").subject("main").design_current
    assert (absent.value.fields, absent.value.reason) == (("pump.power",), "")


@pytest.mark.parametrize(
    ("alternator", "offered", "field"),
    [
        ("rated_current: 100 A", 100, ""),
        ("rated_current: 100 A, self_limiting: true", 100, ""),
        ("rated_current: 100 A, short_circuit_current: 250 A", 100, ""),
        ("short_circuit_current: 250 A", None, "it.rated_current"),
    ],
)
def test_an_alternator_offers_its_rated_current(alternator: str, offered: float | None, field: str) -> None:
    """Whatever it gives into a short; without the figure its field is named, and that of a controller likewise."""
    facts = dc_facts(
        SUN % "30 A",
        f"components: {{it: {{kind: alternator, {alternator}}}}}",
        "runs: {up: {medium: dc, from: it/positive, to: box/feed, return: chassis}}",
    )
    if offered is not None:
        assert facts.subject("battery").charge_offered == offered + 30
        return
    with pytest.raises(Missing) as absent:
        _ = facts.subject("battery").charge_offered
    assert absent.value.fields == (field,)


def test_a_bar_between_cables_side_by_side_asks_for_an_unknown_load() -> None:
    """Two like cables come and two go: nothing but rings at the bar, and yet what is unknown is not left out."""
    twin = "conductor: 10 mm², length: 2 m, return: ground, medium: dc"
    facts = dc_facts(
        f"""
        components: {{bar: {{kind: bus-bar, studs: 4, rated_current: 100 A}}, lamp: {{current: ~}}}}
        runs:
          main: {{to: bar/1}}
          main-2: {{{twin}, from: battery/positive, to: bar/2}}
          on: {{{twin}, from: bar/3, to: box/feed}}
          on-2: {{{twin}, from: bar/4, to: box/feed}}
        """
    )
    with pytest.raises(Missing, match=r"lamp\.power"):
        _ = facts.subject("bar").overloaded_joints
    known = dc_facts(BARS % ("10 A", "10 mm²"))
    with known.recording() as frame:
        assert known.subject("bar").overloaded_joints == ()
    assert not any("left out" in sentence for sentence in frame.assumptions)


def test_a_bar_with_a_load_of_which_only_the_reason_is_known_is_open() -> None:
    """A converter that hands on nothing lies in no ring: it is not left out."""
    bar = "components: {box: {rated_current: 100 A}}"
    with pytest.raises(Missing) as absent:
        _ = dc_facts(NOTHING, bar).subject("box").overloaded_joints
    assert absent.value.reason.startswith("it.efficiency")


def test_like_cables_that_lie_in_no_ring_do_not_add() -> None:
    """A converter takes 40 A from a bar and gives 30 A to it by a cable of the same sort: 50 A come from the battery."""
    facts = dc_facts(
        """
        components:
          bar: {kind: bus-bar, studs: 4, rated_current: 49 A}
          it: {kind: dc-converter, output_current: 30 A, input_current: 40 A}
        runs:
          main: {to: bar/1}
          on: {medium: dc, from: bar/2, to: box/feed, return: ground}
          in: {medium: dc, from: bar/3, to: it/input, return: ground, conductor: 10 mm², length: 1 m}
          out: {medium: dc, from: it/output, to: bar/4, return: ground, conductor: 10 mm², length: 1 m}
        """
    )
    assert [joint.current for joint in facts.subject("bar").overloaded_joints] == [50.0]


FED_BY_TWO = """
components:
  one: {{kind: shore-charger, charge_current: {one}}}
  two: {{kind: shore-charger, charge_current: {two}}}
  bar: {{kind: bus-bar, studs: 5, rated_current: 1 A}}
  minus: {{kind: bus-bar, polarity: negative, studs: 5, rated_current: 1 A}}
  lamp: {{kind: dc-appliance, current: 40 A, supply_voltage: 12 V, load: motor}}
  pump: {{kind: dc-appliance, current: 20 A, supply_voltage: 12 V, load: motor}}
runs:
  plus-1: {{medium: dc, from: one/positive, to: bar/1, return: minus-1}}
  plus-2: {{medium: dc, from: two/positive, to: bar/2, return: minus-2}}
  plus-3: {{medium: dc, from: bar/3, to: lamp, return: minus-3}}
  plus-4: {{medium: dc, from: bar/4, to: pump, return: minus-4}}
  minus-1: {{medium: dc, from: one/negative, to: minus/1}}
  minus-2: {{medium: dc, from: two/negative, to: minus/2}}
  minus-3: {{medium: dc, from: minus/3, to: lamp}}
  minus-4: {{medium: dc, from: minus/4, to: pump}}
"""
"""Two chargers on one side of a bar, a lamp of 40 A and a pump of 20 A on the other, and no battery."""


@pytest.mark.parametrize(
    ("one", "two", "greatest", "section"),
    [
        (
            "30 A",
            "30 A",
            40.0,
            60.0,
        ),  # all that both bring passes the middle; no cable carries more than the lamp's
        ("35 A", "45 A", 45.0, 60.0),  # no more than what the loads take
        (
            "10 A",
            "15 A",
            25.0,
            25.0,
        ),  # no more than what the sources give, which the lamp's cable may carry whole
    ],
)
def test_what_limited_sources_bring_together_passes_a_bar(
    one: str, two: str, greatest: float, section: float
) -> None:
    """Kirchhoff's law at a cut through the middle of the bar, of either polarity: more than any cable at it carries."""
    facts = dc_facts(base=FED_BY_TWO.format(one=one, two=two))
    for bar, sort in (("bar", "plus"), ("minus", "minus")):
        assert max(facts.subject(f"{sort}-{n}").design_current for n in range(1, 5)) == pytest.approx(
            greatest
        )
        (joint,) = facts.subject(bar).overloaded_joints
        assert joint.current == pytest.approx(section)


def test_networks_apart_add_on_their_common_return() -> None:
    """One charger feeds the lamp, the other the pump: 30 A and 20 A come back over one bar, and no cable of it has both."""
    apart = """
    components: {other: {kind: bus-bar, studs: 2}}
    runs: {plus-2: {to: other/1}, plus-4: {from: other/2}}
    """
    facts = dc_facts(apart, base=FED_BY_TWO.format(one="30 A", two="35 A"))
    assert [joint.current for joint in facts.subject("minus").overloaded_joints] == [50.0]
    assert [joint.current for joint in facts.subject("bar").overloaded_joints] == [30.0]


def test_a_battery_on_the_bar_carries_by_its_own_cable_all_that_passes() -> None:
    """50 A to the loads or 65 A from both chargers; what they give beside it adds nothing to a section."""
    stored = FED_BY_TWO.replace("{{kind: dc-appliance, current: 40 A", "{{kind: dc-appliance, current: 30 A")
    joined = (
        "components: {house: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 1 kA}}\nruns: {%s}"
    )
    leads = (
        "house: {medium: dc, from: house/positive, to: bar/5, return: house-minus}, "
        "house-minus: {medium: dc, from: house/negative, to: minus/5}"
    ).replace("house: {", "house-plus: {", 1)
    for one, two, expected in (("30 A", "10 A", 50.0), ("30 A", "35 A", 65.0)):
        facts = dc_facts(joined % leads, base=stored.format(one=one, two=two))
        for bar in ("bar", "minus"):
            (joint,) = facts.subject(bar).overloaded_joints
            assert joint.current == pytest.approx(expected)


def test_a_control_lead_at_a_bar_carries_no_load() -> None:
    """It ends on the bar's monitor: what it carries is not reckoned, and the bar is judged."""
    facts = dc_facts(
        BARS % ("9 A", "10 mm²"),
        """
        components: {remote: {kind: remote-control}}
        runs: {lead: {medium: control, from: remote, to: bar}}
        """,
    )
    assert [joint.current for joint in facts.subject("bar").overloaded_joints] == [10.0]
