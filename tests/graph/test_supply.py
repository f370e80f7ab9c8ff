"""What supplies a thing, what isolates it, what stops with it: on a small van with pump and tap."""

import pytest
from building import build

from specreg.graph.network import Network, network
from specreg.graph.supply import (
    Step,
    Supplied,
    Trail,
    downstream,
    isolated_by,
    stops_with,
    supplied,
    trail_to,
    upstream,
    working,
)
from specreg.model.port import Medium

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


@pytest.fixture
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


def asked(spec: str) -> Supplied:
    """A build, ready for questions."""
    made = build(spec)
    return supplied(made, network(made))


@pytest.mark.parametrize(
    ("thing", "reached"),
    [
        ("battery", "main-switch box panel water-pump light converter radio"),
        ("box", "panel water-pump light converter radio"),
        ("panel", "water-pump"),
        ("tank", "water-pump tap"),
        ("light", ""),
        ("drain", ""),
    ],
)
def test_what_lies_behind_a_thing(van: Supplied, thing: str, reached: str) -> None:
    """From its outgoing side along the live core, never back by the return nor into what feeds it; pipes by their sense."""
    assert downstream(van, thing) == tuple(reached.split())


GAS = """
components:
  cylinder: {kind: gas-cylinder}
  regulator: {kind: regulator}
  cut: {kind: gas-valve}
  manifold: {kind: gas-manifold, ways: {hob: {}, outlet: {}}}
  hob: {kind: hob}
  outlet: {kind: gas-outlet}
runs:
  a: {medium: gas, from: cylinder, to: regulator/in}
  b: {medium: gas, from: regulator/out, to: cut/in}
  c: {medium: gas, from: cut/out, to: manifold/in}
  d: {medium: gas, from: manifold/hob, to: hob}
  e: {medium: gas, from: manifold/outlet, to: outlet}
"""


def test_the_way_of_gas() -> None:
    """From the hob back over pipe, manifold, valve and regulator to the cylinder; the valve shuts it off."""
    of = asked(GAS)
    (fuel,) = upstream(of, "hob")
    assert [(step.form, step.id) for step in fuel.steps if step.form != "run"][-3:] == [
        ("valve", "cut"),
        ("component", "regulator"),
        ("source", "cylinder"),
    ]
    assert fuel.source == "cylinder"
    assert Step("valve", "cut") in isolated_by(of, "hob")
    assert set(stops_with(of, "cut")) == {"manifold", "hob", "outlet"}
    assert set(stops_with(of, "a")) == {"regulator", "manifold", "hob", "outlet"}
    assert stops_with(of, "d") == ("hob",)
    assert downstream(of, "regulator") == ("cut", "manifold", "hob", "outlet")


def test_each_outlet_of_a_manifold_has_its_own_valve() -> None:
    """Shutting that of the hob stops nothing else; a way without one is no valve, and water's are named alike."""
    of = asked(GAS)
    assert isolated_by(of, "hob") == (Step("valve", "manifold/hob"), Step("valve", "cut"))
    assert stops_with(of, "manifold/hob") == ("hob",)
    assert stops_with(of, "manifold/none") == ()
    assert isolated_by(asked(GAS.replace("hob: {}", "hob: {shut_off: false}")), "hob") == (
        Step("valve", "cut"),
    )
    water = asked("""
    components:
      tank: {kind: fresh-tank}
      tee: {kind: water-manifold, shut_offs: true}
      near: {kind: tap, form: cold}
      far: {kind: tap, form: cold}
    runs:
      a: {medium: water, from: tank/outlet, to: tee/in}
      b: {medium: water, from: tee/1, to: near/cold}
      c: {medium: water, from: tee/2, to: far/cold}
    """)
    assert isolated_by(water, "far") == (Step("valve", "tee/2"),)
    assert stops_with(water, "tee/2") == ("far",)


TWO = """
components:
  one: {kind: battery}
  two: {kind: battery}
  plus: {kind: bus-bar}
  minus: {kind: bus-bar, polarity: negative}
  box: {kind: fuse-box, ways: {lights: {fuse: 5 A}, free: {}}}
  wall: {kind: switch}
  light: {kind: ceiling-light}
  lamp: {kind: ceiling-light}
runs:
  p1: {medium: dc, from: one/positive, to: plus/1, return: m1, protection: {a: {fuse: 50 A, distance: 0 m}}}
  p2: {medium: dc, from: two/positive, to: plus/2, return: m2, protection: {a: {fuse: 50 A, distance: 0 m}}}
  m1: {medium: dc, from: one/negative, to: minus/1}
  m2: {medium: dc, from: two/negative, to: minus/2}
  feed: {medium: dc, from: plus/3, to: box/feed, return: back, protection: {a: {fuse: 40 A, distance: 0 m}}}
  back: {medium: dc, from: minus/3, to: box/feed}
  lights: {medium: dc, from: box/lights, to: wall/in, return: same cable}
  lights-on: {medium: dc, from: wall/out, to: light, return: same cable}
  free: {medium: dc, from: box/free, to: lamp, return: same cable}
"""


@pytest.mark.parametrize(
    ("thing", "stops"),
    [
        ("one", ""),
        ("p1", ""),
        ("p1/a", ""),
        ("m2", ""),
        ("feed", "box light lamp"),
        ("feed/a", "box light lamp"),
        ("back", "box light lamp"),
        ("plus", "box light lamp"),
        ("box", "light lamp"),
        ("box/lights", "light"),
        ("wall", "light"),
        ("box/free", ""),
        ("lamp", ""),
        ("not-there", ""),
    ],
)
def test_what_two_batteries_feed_stops_with_neither(thing: str, stops: str) -> None:
    """What both feed goes on when one is gone; a way without a fuse is no device that could fail."""
    of = asked(TWO)
    found = set(stops_with(of, thing)) - {"plus", "minus", "wall", "one", "two"}
    assert found == set(stops.split())


def test_what_is_fed_twice_is_not_isolated_by_one_fuse() -> None:
    """The wall switch, its own fuse and the one of the feed cut the light off; a battery's fuse does not."""
    assert isolated_by(asked(TWO), "light") == (
        Step("switch", "wall"),
        Step("device", "box/lights"),
        Step("device", "feed/a"),
    )


MAINS = """
components:
  battery: {kind: battery}
  inverter: {kind: inverter}
  inlet: {kind: shore-inlet}
  transfer: {kind: transfer-switch}
  board: {kind: mains-board, ways: {sockets: {breaker: 10 A}}}
  bond: {kind: bonding-point}
  socket: {kind: socket}
  charger: {kind: shore-charger}
runs:
  plus: {medium: dc, from: battery/positive, to: inverter/positive, return: minus, protection: {a: {fuse: 100 A, distance: 0 m}}}
  minus: {medium: dc, from: battery/negative, to: inverter/negative}
  shore: {medium: ac, from: inlet, to: transfer/shore}
  inverted: {medium: ac, from: inverter/ac-out, to: transfer/inverter}
  onward: {medium: ac, from: transfer/out, to: board/feed}
  earth: {medium: ac, from: board/earth, to: bond}
  sockets: {medium: ac, from: board/sockets, to: socket/mains}
  charge: {medium: ac, from: socket/loop, to: charger/mains}
"""


@pytest.mark.parametrize(
    ("thing", "stops"),
    [
        ("inlet", ""),
        ("inverter", ""),
        ("plus/a", "inverter"),
        ("onward", "board socket charger"),
        ("board/sockets", "socket charger"),
        ("sockets", "socket charger"),
        ("earth", ""),
    ],
)
def test_what_stops_on_mains(thing: str, stops: str) -> None:
    """Sockets have shore or inverter behind a transfer switch; without its battery the inverter alone stops."""
    found = set(stops_with(asked(MAINS), thing)) - {"transfer", "bond"}
    assert found == set(stops.split())


def test_what_lies_behind_an_inverter() -> None:
    """Along the live core to the sockets; earth leads on to no consumer."""
    of = asked(MAINS)
    behind = downstream(of, "inverter")
    assert {"transfer", "board", "socket", "charger"} <= set(behind)
    assert "bond" not in behind and "battery" not in behind
    assert isolated_by(of, "charger") == (Step("device", "board/sockets"),)


def test_no_source_supplies_another_behind_a_changeover() -> None:
    """Shore and inverter both reach the sockets, through the contact of their own; neither reaches the other."""
    of = asked(MAINS)
    behind = {"transfer", "board", "socket", "charger"}
    assert set(downstream(of, "inlet")) == set(downstream(of, "inverter")) == behind
    assert set(downstream(of, "transfer")) == behind - {"transfer"}


BETWEEN = MAINS.replace(
    "  inverted: {medium: ac, from: inverter/ac-out, to: transfer/inverter}",
    """  inverted: {medium: ac, from: inverter/ac-out, to: own/feed}
  own-on: {medium: ac, from: own/on, to: transfer/inverter}
  own-out: {medium: ac, from: own/tea, to: kettle}""",
).replace(
    "  bond:",
    """  own: {kind: mains-board, ways: {on: {breaker: 10 A}, tea: {breaker: 6 A}}}
  kettle: {kind: socket}
  bond:""",
)


def test_no_charger_supplies_another_on_the_same_bar() -> None:
    """The battery and what it feeds lie behind the mains charger; a second charger beside it does not."""
    of = asked("""
    components:
      battery: {kind: battery}
      bar: {kind: bus-bar}
      first: {kind: shore-charger}
      second: {kind: shore-charger}
      light: {kind: ceiling-light}
    runs:
      one: {medium: dc, from: battery/positive, to: bar/1, return: none-1}
      none-1: {medium: dc, from: battery/negative, to: light/supply}
      two: {medium: dc, from: first/positive, to: bar/2, return: none-1}
      three: {medium: dc, from: second/positive, to: bar/3, return: none-1}
      four: {medium: dc, from: bar/4, to: light/supply, return: none-1}
    """)
    assert downstream(of, "first") == ("battery", "bar", "light")
    assert downstream(of, "second") == ("battery", "bar", "light")


def test_what_hangs_on_one_source_alone_stops_with_it() -> None:
    """A board between inverter and changeover has the inverter and no shore; what is behind the changeover goes on."""
    of = asked(BETWEEN)
    assert {"own", "kettle"} <= set(stops_with(of, "inverter"))
    assert "socket" not in stops_with(of, "inverter")
    assert not {"own", "kettle", "inverter"} & set(downstream(of, "inlet"))
    assert {"own", "kettle", "socket"} <= set(downstream(of, "inverter"))


def test_an_inverter_charger_hands_shore_on_and_nothing_back() -> None:
    """Its transfer contact carries shore to the sockets; what it makes of the battery is nobody's supply at the inlet."""
    of = asked("""
    components:
      battery: {kind: battery}
      inlet: {kind: shore-inlet}
      outside: {kind: socket}
      both: {kind: inverter-charger}
      socket: {kind: socket}
    runs:
      plus: {medium: dc, from: battery/positive, to: both/positive, return: minus, protection: {a: {fuse: 100 A, distance: 0 m}}}
      minus: {medium: dc, from: battery/negative, to: both/negative}
      first: {medium: ac, from: inlet, to: outside}
      shore: {medium: ac, from: outside/loop, to: both/ac-in}
      onward: {medium: ac, from: both/ac-out, to: socket}
    """)
    assert downstream(of, "both") == ("socket",)
    assert downstream(of, "battery") == ("both", "socket")
    assert {"both", "socket", "outside"} <= set(downstream(of, "inlet"))
    assert "outside" in stops_with(of, "inlet") and "socket" not in stops_with(of, "inlet")


def test_water_goes_on_by_a_pipe_between_two_ports_of_one_thing() -> None:
    """A heat exchanger whose two sides are joined in series hands the engine's coolant on to the radiator."""
    of = asked("""
    components:
      takeoff: {kind: engine-coolant-takeoff}
      exchanger: {kind: heat-exchanger}
      radiator: {kind: radiator}
    runs:
      in: {medium: water, from: takeoff/engine-coolant-flow, to: exchanger/engine-coolant-in}
      joined: {medium: water, from: exchanger/engine-coolant-out, to: exchanger/coolant-in}
      out: {medium: water, from: exchanger/coolant-out, to: radiator/coolant-in}
      back: {medium: water, from: radiator/coolant-out, to: takeoff/engine-coolant-return}
    """)
    assert downstream(of, "takeoff") == ("exchanger", "radiator")
    assert downstream(of, "radiator") == ("takeoff", "exchanger")


def test_a_check_valve_is_on_the_way() -> None:
    """What lets water through one way only is named on the way back, a filter that lets it through is not."""
    of = asked("""
    components:
      filler: {kind: filler}
      filter: {kind: water-filter}
      check: {kind: check-valve}
      tap: {kind: tap, form: cold}
    runs:
      a: {medium: water, from: filler, to: filter/in}
      b: {medium: water, from: filter/out, to: check/in}
      c: {medium: water, from: check/out, to: tap}
    """)
    (cold,) = upstream(of, "tap")
    assert [step.id for step in cold.steps] == ["c", "check", "b", "a", "filler"]
    assert cold.steps[1] == Step("component", "check")
    assert "tap" in stops_with(of, "filler")


@pytest.mark.parametrize(
    ("steps", "source"),
    [
        ((), None),
        ((Step("run", "lead"),), None),
        ((Step("source", "battery"),), "battery"),
        ((Step("run", "lead"), Step("source", "battery")), "battery"),
        ((Step("source", "battery"), Step("run", "lead")), None),
    ],
)
def test_a_trail_ends_at_its_source(steps: tuple[Step, ...], source: str | None) -> None:
    """The last step tells; a trail that ends elsewhere, or nowhere, has none."""
    assert Trail("supply", Medium.dc, steps).source == source


def test_one_core_is_followed_where_it_is_asked_for(van: Supplied) -> None:
    """The return of the light leads by the bus-bar of the returns; without a name the live core is followed."""
    (port,) = van.needed("light")
    assert "box/lights" in [step.id for step in trail_to(van, "light", port).steps]
    back = [step.id for step in trail_to(van, "light", port, "negative").steps]
    assert back == ["lights", "back", "minus", "battery"]


def test_water_runs_from_the_start_of_a_pipe_to_its_end() -> None:
    """What lets it through either way has before it what the pipe comes from."""
    of = asked("""
    components:
      filler: {kind: filler}
      near: {kind: accumulator}
      far: {kind: accumulator}
      hose: {kind: tap, form: cold}
    runs:
      a: {medium: water, from: filler, to: near/in}
      b: {medium: water, from: near/out, to: far/in}
      c: {medium: water, from: far/out, to: hose}
    """)
    assert downstream(of, "near") == ("far", "hose")
    assert downstream(of, "far") == ("hose",)


def test_where_nothing_is_live_what_needs_nothing_is_whole() -> None:
    """A bar without a source is no broken bar; a light without one is dark."""
    of = asked("components: {bar: {kind: bus-bar, polarity: positive}, light: {kind: ceiling-light}}")
    assert of.live == {}
    assert working(of) == {"bar"}


def test_water_does_not_come_back_past_a_check_valve() -> None:
    """A filler behind the valve feeds the accumulator, and no tap before the valve."""
    of = asked("""
    components:
      filler: {kind: filler}
      accumulator: {kind: accumulator}
      check: {kind: check-valve}
      manifold: {kind: water-manifold}
      tap: {kind: tap, form: cold}
      hose: {kind: tap, form: cold}
    runs:
      a: {medium: water, from: filler, to: accumulator/in}
      b: {medium: water, from: accumulator/out, to: hose}
      c: {medium: water, from: manifold/1, to: tap}
      d: {medium: water, from: manifold/2, to: check/in}
      e: {medium: water, from: check/out, to: accumulator/in}
    """)
    assert "hose" in working(of)
    assert "tap" not in working(of)
    assert upstream(of, "tap")[0].steps == ()
    assert set(downstream(of, "filler")) == {"accumulator", "hose"}


@pytest.mark.parametrize("thing", ["battery", "ground", "panel", "box", "light", "tank", "drain"])
def test_what_is_missing_does_not_work(van: Supplied, thing: str) -> None:
    """A source, what needs a supply and what needs none: what is not there is none of those that work."""
    assert thing in working(van)
    assert thing not in working(van, frozenset({thing}))


def test_a_way_that_nothing_feeds_is_dead_beside_one_that_is_fed() -> None:
    """Of two switches in one panel the one has a supply; what works of the panel makes nothing of the other live."""
    of = asked("""
    components:
      battery: {kind: battery}
      panel: {kind: switch-panel, ways: {dead: {}, fed: {}}}
      light: {kind: ceiling-light}
      lamp: {kind: ceiling-light}
    runs:
      minus: {medium: dc, from: battery/negative, to: panel/fed}
      plus: {medium: dc, from: battery/positive, to: panel/fed, return: minus}
      to-light: {medium: dc, from: panel/fed, to: light, return: same cable}
      to-lamp: {medium: dc, from: panel/dead, to: lamp, return: same cable}
    """)
    assert "light" in working(of) and "lamp" not in working(of)


def test_what_opens_one_conductor_leaves_the_other_through() -> None:
    """The lamp has its plus from the box and its minus by way of the panel, whose switch opens the plus of the light."""
    of = asked("""
    components:
      battery: {kind: battery}
      ground: {kind: bus-bar, polarity: negative}
      box: {kind: fuse-box, ways: {light: {fuse: 5 A}, lamp: {fuse: 5 A}}}
      panel: {kind: switch-panel, ways: {light: {}}}
      next: {kind: fuse-box, ways: {light: {fuse: 1 A}}}
      light: {kind: ceiling-light}
      far: {kind: bus-bar, polarity: negative}
      lamp: {kind: ceiling-light}
    runs:
      plus: {medium: dc, from: battery/positive, to: box/feed, return: back}
      minus: {medium: dc, from: battery/negative, to: ground/1}
      back: {medium: dc, from: ground/2, to: box/feed}
      panel-feed: {medium: dc, from: box/light, to: panel/light, return: same cable}
      onward: {medium: dc, from: panel/light, to: next/feed, return: same cable}
      to-light: {medium: dc, from: next/light, to: light, return: same cable}
      past: {medium: dc, from: far/1, to: next/feed}
      lamp-plus: {medium: dc, from: box/lamp, to: lamp, return: lamp-minus}
      lamp-minus: {medium: dc, from: far/2, to: lamp}
    """)
    assert {"light", "lamp"} <= working(of)
    assert stops_with(of, "panel/light") == ("next", "light")
    assert stops_with(of, "panel") == ("next", "light", "lamp")


def test_what_is_converted_begins_at_the_converter_on_every_core() -> None:
    """On the way of the neutral the inverter is met as on that of the line, and behind it the battery's plus."""
    of = asked("""
    components:
      battery: {kind: battery}
      inverter: {kind: inverter}
      socket: {kind: socket}
    runs:
      plus: {medium: dc, from: battery/positive, to: inverter/positive, return: minus}
      minus: {medium: dc, from: battery/negative, to: inverter/negative}
      mains: {medium: ac, from: inverter/ac-out, to: socket/mains}
    """)
    (mains,) = of.needed("socket")
    way = ("run mains", "component inverter", "run plus", "source battery")
    for core in ("line", "neutral"):
        assert tuple(f"{s.form} {s.id}" for s in trail_to(of, "socket", mains, core).steps) == way


def test_what_is_passed_twice_in_a_row_is_named_once() -> None:
    """From the load output of a controller the way leads over its contact and its conversion: one controller."""
    of = asked("""
    components:
      sun: {kind: solar-panel}
      controller: {kind: solar-controller, load_current: 10 A}
      light: {kind: ceiling-light}
    runs:
      roof: {medium: dc, from: sun, to: controller/panel, return: same cable}
      load: {medium: dc, from: controller/load, to: light, return: same cable}
    """)
    (light,) = upstream(of, "light")
    assert light.steps == (
        Step("run", "load"),
        Step("component", "controller"),
        Step("run", "roof"),
        Step("source", "sun"),
    )


def test_a_battery_supplies_no_panel_behind_its_controller() -> None:
    """What the controller makes of the sun goes on to the battery, and nothing comes back to the switch on the roof."""
    of = asked("""
    components:
      sun: {kind: solar-panel}
      roof-switch: {kind: disconnect}
      controller: {kind: solar-controller}
      battery: {kind: battery}
    runs:
      roof: {medium: dc, from: sun/leads, to: roof-switch/in, return: back}
      back: {medium: dc, from: sun/leads, to: controller/panel}
      down: {medium: dc, from: roof-switch/out, to: controller/panel, return: back}
      charge: {medium: dc, from: controller/battery, to: battery/positive, return: minus}
      minus: {medium: dc, from: battery/negative, to: controller/battery}
    """)
    assert downstream(of, "battery") == ("controller",)
    assert downstream(of, "sun") == ("roof-switch", "controller", "battery")


def test_a_cable_leads_on_whichever_way_it_is_written() -> None:
    """From bar to bar current flows either way: what lies behind the first is the second, from each of them."""
    of = asked("""
    components:
      near: {kind: bus-bar}
      far: {kind: bus-bar}
    runs:
      between: {medium: dc, from: near/1, to: far/1}
    """)
    assert (downstream(of, "near"), downstream(of, "far")) == (("far",), ("near",))


def test_nothing_leads_back_through_an_inverter() -> None:
    """Shore reaches the inverter's output through the transfer switch, and never the battery behind it."""
    behind = downstream(asked(MAINS), "inlet")
    assert {"transfer", "board", "socket", "charger"} <= set(behind)
    assert "battery" not in behind


def test_the_protective_conductor_feeds_nothing() -> None:
    """A socket to which no earth leads is live: it works, and kills."""
    of = asked(MAINS)
    around = {
        terminal: tuple((other, edge) for other, edge in joined if not (edge.is_run and edge.core == "earth"))
        for terminal, joined in of.net.neighbours.items()
    }
    cut = Supplied(of.build, Network(of.net.joints, around, of.net.devices), of.ports)
    assert {"board", "socket", "charger"} <= working(cut)


@pytest.mark.parametrize("at", ["one", "two"])
def test_of_two_batteries_side_by_side_the_nearer_one_is_the_source(at: str) -> None:
    """A lamp at the poles of one of them is fed from there, not by way of the other one's cables."""
    of = asked(f"""
    components:
      one: {{kind: battery}}
      two: {{kind: battery}}
      lamp: {{kind: ceiling-light}}
    runs:
      plus: {{medium: dc, from: one/positive, to: two/positive}}
      minus: {{medium: dc, from: one/negative, to: two/negative}}
      lamp-plus: {{medium: dc, from: {at}/positive, to: lamp, return: lamp-minus}}
      lamp-minus: {{medium: dc, from: {at}/negative, to: lamp}}
    """)
    (port,) = of.needed("lamp")
    assert trail_to(of, "lamp", port).steps == (Step("run", "lamp-plus"), Step("source", at))
    assert trail_to(of, "lamp", port, "negative").steps == (Step("run", "lamp-minus"), Step("source", at))
