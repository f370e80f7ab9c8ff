"""Ways of current that are longer, unlike or over the body, panels apart, strings half known: worked by hand."""

from collections.abc import Iterable

import pytest
from dc_van import dc_facts

from specreg.facts.current_path import ways_of
from specreg.facts.missing import Missing
from specreg.model.port import Terminal

R_10, R_1_5 = 1.91e-3, 13.3e-3
"""Ω/m of IEC 60228 class 5, plain."""


@pytest.mark.parametrize("longer", ["3 m", "9 m"])
def test_of_two_unlike_cables_the_shorter_is_reckoned(longer: str) -> None:
    """Nobody knows how current divides between unlike cables: the shorter is taken for all of it, and that is said."""
    facts = dc_facts(
        f"runs: {{second: {{medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: {longer}}}}}"
    )
    with facts.recording() as frame:
        drop = facts.subject("lamp").supply_drop
    assert drop == pytest.approx(2 * 2 * R_10 * 10 + 2 * 3 * R_1_5 * 4)
    assert any("taken as the only way of its current" in sentence for sentence in frame.assumptions)


def test_a_load_without_a_way_back_has_no_drop() -> None:
    """Its return goes to the body, and no battery is joined to that: no drop of 0 V, but nothing."""
    facts = dc_facts("runs: {lamp-feed: {return: chassis}}")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lamp").supply_drop
    assert absent.value.reason == f"no way back from {facts.name_of('lamp')} to the battery is written"


def test_a_cable_to_a_stud_of_its_own() -> None:
    """1 m from the lamp to its stud, through the body with the 5 mΩ measured there, and by the bond to the battery."""
    facts = dc_facts(
        """
        components: {stud: {kind: chassis-point, measured_resistance: 5 mΩ}, bond-stud: {kind: chassis-point}}
        runs:
          bond: {medium: dc, from: battery/negative, to: bond-stud, conductor: 10 mm², length: 1 m}
          lamp-feed: {return: lamp-back}
          lamp-back: {medium: dc, from: stud, to: lamp, conductor: 1.5 mm², length: 1 m}
        """
    )
    there, back = 2 * R_10 * 10 + 3 * R_1_5 * 4, R_1_5 * 4 + 4 * 5e-3
    assert facts.subject("lamp").supply_drop == pytest.approx(there + back)


def test_a_string_of_which_one_battery_is_silent_has_no_voltage() -> None:
    """Neither nominal nor highest voltage of a string is that of the one battery which states it."""
    base = """
components:
  upper: {kind: battery, nominal_voltage: 12 V, highest_charge_voltage: 14.4 V, short_circuit_current: 2 kA}
  lower: {kind: battery, short_circuit_current: 2 kA%s}
  box: {kind: fuse-box, ways: {a: {fuse: 20 A, family: blade}}}
runs:
  link: {medium: dc, from: upper/negative, to: lower/positive, conductor: 35 mm², length: 0.2 m}
  main: {medium: dc, from: upper/positive, to: box/feed, return: back, conductor: 10 mm², length: 1 m}
  back: {medium: dc, from: lower/negative, to: box/feed, conductor: 10 mm², length: 1 m}
"""
    known = dc_facts(base=base % ", nominal_voltage: 12 V, highest_charge_voltage: 14.4 V")
    assert known.subject("main").nominal_voltage == 24
    assert known.subject("box/a").highest_voltage == pytest.approx(28.8)
    silent = dc_facts(base=base % "")
    with pytest.raises(Missing):
        _ = silent.subject("main").nominal_voltage
    with pytest.raises(Missing):
        _ = silent.subject("box/a").highest_voltage


SUN = """
components:
  a: {kind: solar-panel, peak_power: 100 W%s}
  b: {kind: solar-panel, peak_power: 200 W, short_circuit_current: 9 A}
  gather: {kind: solar-combiner, ways: {'1': {%s}, '2': {%s}}}
  sun: {kind: solar-controller, rated_current: 30 A}
runs:
  l1: {medium: dc, from: a/leads, to: gather/1, return: same cable}
  l2: {medium: dc, from: b/leads, to: gather/2, return: same cable}
  down: {medium: dc, from: gather/out, to: sun/panel, return: same cable}
"""
BREAKER = "breaker: 15 A"


@pytest.mark.parametrize(
    ("one", "other", "isolated"),
    [(BREAKER, BREAKER, True), (BREAKER, "", False), ("", BREAKER, False), ("", "", False)],
)
def test_every_panel_can_be_parted(one: str, other: str, isolated: bool) -> None:
    """A breaker in the lead of one panel does not isolate the other."""
    assert dc_facts(base=SUN % ("", one, other)).subject("sun").panels_isolated is isolated


def test_a_panel_of_one_string_needs_no_figure_of_its_own() -> None:
    """What comes back through it is what the other gives: 9 A; its own current counts from two strings on."""
    assert dc_facts(base=SUN % ("", "", "")).subject("a").reverse_current == 9
    two = dc_facts(base=SUN % (", count: 2, short_circuit_current: 5 A", "", ""))
    assert two.subject("a").reverse_current == 14
    with pytest.raises(Missing, match=r"a\.short_circuit_current"):
        _ = dc_facts(base=SUN % (", count: 2", "", "")).subject("a").reverse_current


def test_the_coldest_of_all_places_counts() -> None:
    """And one that states no night leaves the others as they are."""
    places = "use: {places: [{latitude: 60°, night_temperature: -10 °C}, {latitude: 40°, night_temperature: 5 °C}, {latitude: 50°}]}"
    assert dc_facts(places).whole.coldest == pytest.approx(263.15)


def test_without_a_night_there_is_no_coldest() -> None:
    """Nobody guesses how cold it will be."""
    with pytest.raises(Missing, match=r"use\.places"):
        _ = dc_facts("use: {places: [{latitude: 60°}]}").whole.coldest


@pytest.mark.parametrize(
    ("held", "highest"), [("absorption_voltage: 14.6 V", 14.6), ("absorption_voltage: 14.2 V", 14.4)]
)
def test_a_charger_may_hold_more_than_its_battery_states(held: str, highest: float) -> None:
    """The higher of the battery's 14.4 V and the controller's own setting stands across a device."""
    sun = f"""
    components: {{sun: {{kind: solar-controller, rated_current: 10 A, {held}}}}}
    runs: {{out: {{medium: dc, from: sun/battery, to: box/feed, return: same cable}}}}
    """
    assert dc_facts(sun).subject("box/a").highest_voltage == pytest.approx(highest)


STARTER = """
components: {starter: {kind: battery, role: starter, nominal_voltage: 12 V}}
runs: {far: {medium: dc, from: starter/positive, to: box/feed, return: ground, conductor: 2.5 mm², length: 9 m}}
"""


def test_the_house_battery_feeds_the_house() -> None:
    """A starter battery that is joined, too, is not what the drop is reckoned from; where it is alone, it is."""
    drop = 2 * 2 * R_10 * 10 + 2 * 3 * R_1_5 * 4
    assert dc_facts(STARTER).subject("lamp").supply_drop == pytest.approx(drop)
    alone = dc_facts("components: {battery: {role: starter}}")
    assert alone.subject("lamp").supply_drop == pytest.approx(drop)


def test_the_cables_on_the_way_are_named() -> None:
    """From the battery to the load, each once; nothing where no source is joined."""
    facts = dc_facts()
    assert facts.subject("lamp").supply_way == "main, lamp feed"
    assert (
        dc_facts("runs: {main: ~, ground: ~, lamp-feed: {return: same cable}}").subject("lamp").supply_way
        == ""
    )


def test_a_load_that_no_source_reaches_has_no_drop() -> None:
    """And that is said."""
    facts = dc_facts("runs: {main: ~, ground: ~}")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lamp").supply_drop
    assert absent.value.reason == f"no battery or converter reaches {facts.name_of('lamp')}"


def test_what_panels_alone_feed() -> None:
    """The leads before a controller; neither the cables behind a battery nor one that nothing feeds."""
    facts = dc_facts(base=SUN % ("", "", ""))
    assert facts.subject("l1").fed_by_panels is True
    assert dc_facts().subject("main").fed_by_panels is False
    assert dc_facts("runs: {main: ~, ground: ~}").subject("lamp-feed").fed_by_panels is False


def test_a_return_beside_another_carries_what_returns_by_it() -> None:
    """Two unlike negative cables: the one that the main names is taken to carry the main's 10 A; of the other nothing is known."""
    facts = dc_facts(
        "runs: {spare: {medium: dc, from: battery/negative, to: box/feed, conductor: 6 mm², length: 5 m}}"
    )
    with facts.recording() as frame:
        assert facts.subject("ground").design_current == pytest.approx(10)
    assert any("that name it as their return" in sentence for sentence in frame.assumptions)
    assert facts.subject("ground").in_a_ring and facts.subject("spare").in_a_ring
    assert not facts.subject("main").in_a_ring
    with pytest.raises(Missing, match="how current divides is open"):
        _ = facts.subject("spare").design_current


def test_the_return_of_a_load_whose_current_is_unknown_is_unknown() -> None:
    """Beside another cable, too: the load's field is named, not a sum without it."""
    over = "runs: {spare: {medium: dc, from: battery/negative, to: box/feed, conductor: 6 mm², length: 5 m}}"
    with pytest.raises(Missing, match=r"lamp\.power"):
        _ = dc_facts(over, "components: {lamp: {current: ~}}").subject("ground").design_current


def test_a_return_carries_what_does_not_name_it_too() -> None:
    """A lamp from elsewhere comes back by the box: its unknown current is asked for, the main's 10 A are not all."""
    over = """
    components: {flood: {kind: dc-appliance, supply_voltage: 12 V, load: motor%s}}
    runs:
      flood-feed: {medium: dc, from: battery/positive, to: flood, return: flood-back}
      flood-back: {medium: dc, from: box/a, to: flood}
    """
    assert dc_facts(over % ", current: 7 A").subject("ground").design_current == pytest.approx(17)
    with pytest.raises(Missing, match=r"flood\.power"):
        _ = dc_facts(over % "").subject("ground").design_current


@pytest.mark.parametrize(("stated", "share", "said"), [("", 0.85, True), (", efficiency: 90 %", 0.9, False)])
def test_a_charger_hands_on_a_part(stated: str, share: float, said: bool) -> None:
    """(30 A − 10 A) × 14 V of an alternator × what is handed on, less than 40 A × 12 V; an assumed share is said."""
    facts = dc_facts(
        f"""
        components:
          alternator: {{kind: alternator, rated_current: 30 A, present_draw: 10 A, charging_voltage: 14 V}}
          charger: {{kind: dc-charger, output_current: 40 A{stated}}}
        runs:
          in: {{medium: dc, from: alternator/positive, to: charger/input, return: chassis, conductor: 10 mm², length: 3 m}}
          out: {{medium: dc, from: charger/output, to: box/feed, return: ground, conductor: 10 mm², length: 1 m}}
        """
    )
    with facts.recording() as frame:
        assert facts.subject("charger").charging_power == pytest.approx(20 * 14 * share)
    assert any("to hand on 85%" in sentence for sentence in frame.assumptions) is said


EVERYTHING = """
components:
  upper: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}
  lower: {kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}
  plus: {kind: bus-bar, studs: 9}
  minus: {kind: bus-bar, studs: 12, polarity: negative}
  panel: {kind: solar-panel, short_circuit_current: 9 A}
  sun: {kind: solar-controller, rated_current: 30 A}
  engine: {kind: alternator, rated_current: 100 A}
  charger: {kind: dc-charger, output_current: 30 A, input_current: 40 A}
  shore: {kind: shore-charger, charge_current: 20 A}
  inverter: {kind: inverter, input_current: 90 A}
  socket: {kind: dc-outlet, rated_current: 10 A}
  fan: {kind: cabin-fan, current: 2 A, supply_voltage: 12 V}
  hob: {kind: hob}
  main-valve: {kind: gas-valve}
  lamp: {kind: strip-light, current: 1 A, load: motor}
runs:
  link: {medium: dc, from: upper/negative, to: lower/positive}
  up: {medium: dc, from: upper/positive, to: plus/1, return: minus-1}
  minus-1: {medium: dc, from: lower/negative, to: minus/1}
  leads: {medium: dc, from: panel/leads, to: sun/panel, return: same cable}
  sun-out: {medium: dc, from: sun/battery, to: plus/2, return: minus-2}
  minus-2: {medium: dc, from: sun/battery, to: minus/2}
  engine-out: {medium: dc, from: engine/positive, to: charger/input, return: minus-3}
  minus-3: {medium: dc, from: engine/negative, to: charger/input}
  charger-out: {medium: dc, from: charger/output, to: plus/3, return: minus-4}
  minus-4: {medium: dc, from: charger/output, to: minus/4}
  shore-out: {medium: dc, from: shore/positive, to: plus/4, return: minus-5}
  minus-5: {medium: dc, from: shore/negative, to: minus/5}
  inverter-in: {medium: dc, from: plus/5, to: inverter/positive, return: minus-6}
  minus-6: {medium: dc, from: inverter/negative, to: minus/6}
  socket-in: {medium: dc, from: plus/6, to: socket/supply, return: minus-7}
  minus-7: {medium: dc, from: minus/7, to: socket/supply}
  fan-in: {medium: dc, from: socket/outlet, to: fan, return: same cable}
  lamp-in: {medium: dc, from: plus/7, to: lamp, return: minus-8}
  minus-8: {medium: dc, from: minus/8, to: lamp}
"""


def called(terminals: Iterable[Terminal]) -> set[str]:
    """Terminals as `component/port`."""
    return {f"{terminal.component}/{terminal.port}" for terminal in terminals}


@pytest.mark.parametrize(
    ("core", "pole", "inverter", "engine", "shore"),
    [
        ("positive", "upper/positive", "inverter/positive", "engine/positive", "shore/positive"),
        ("negative", "lower/negative", "inverter/negative", "engine/negative", "shore/negative"),
    ],
)
def test_what_takes_gives_and_stores_current(
    core: str, pole: str, inverter: str, engine: str, shore: str
) -> None:
    """Each at its own terminal of the core: a string at its outer pole, what has one port for both cores there."""
    ways = ways_of(dc_facts(base=EVERYTHING), core)
    loads = {"fan/supply", "lamp/supply", "socket/supply", "charger/input", inverter}
    assert called(ways.loads) == loads
    assert {name: called([terminal]) for terminal, name in ways.loads.items()} == {
        load.partition("/")[0]: {load} for load in loads
    }
    assert called(ways.sources) == {pole, "panel/leads", "sun/battery", engine, "charger/output", shore}
    assert {source.component for source in ways.sources.values()} == {
        "upper", "panel", "sun", "engine", "charger", "shore"
    }  # fmt: skip
    assert {f"{t.component}/{t.port}": name for t, name in ways.stores.items()} == {
        pole: "upper",
        "sun/panel": "sun",
    }
    assert called(ways.outlets) == {"socket/outlet"}


def test_a_common_return_knows_the_circuits_that_it_serves() -> None:
    """Four positive networks: the batteries', the panel's, the engine's, and what is plugged into the socket."""
    facts = dc_facts(base=EVERYTHING)
    assert not ways_of(facts, "positive").circuits
    groups: dict[int, set[str]] = {}
    for terminal, circuit in ways_of(facts, "negative").circuits.items():
        groups.setdefault(circuit, set()).update(called([terminal]))
    assert sorted(map(sorted, groups.values())) == sorted(
        [
            ["charger/input", "engine/negative"],
            ["fan/supply", "socket/outlet"],
            ["panel/leads", "sun/panel"],
            ["charger/output", "inverter/negative", "lamp/supply", "lower/negative", "shore/negative", "socket/supply",
             "sun/battery"],
        ]
    )  # fmt: skip


def test_the_returns_of_four_circuits_on_one_bar() -> None:
    """Each negative lead carries what its own circuit does: the panel's 9 A, the socket's 10 A, the lamp's 1 A."""
    facts = dc_facts(base=EVERYTHING)
    for run, current in (("leads", 9), ("minus-7", 10), ("minus-8", 1), ("minus-5", 20), ("fan-in", 2)):
        assert facts.subject(run).design_current == current


@pytest.mark.parametrize(
    ("runs", "current"),
    [
        ("lead: {medium: dc, from: panel/leads, to: lamp, return: same cable}", 4),
        ("lead: {medium: dc, from: panel/leads, to: pump, return: same cable}", 5),
    ],
)
def test_a_panel_with_nothing_to_charge_gives_what_is_asked(runs: str, current: float) -> None:
    """A lamp of 4 A straight on a panel of 5 A takes 4 A; a pump of 6 A gets no more than the panel's 5 A."""
    facts = dc_facts(
        "components: {panel: {kind: solar-panel, short_circuit_current: 5 A}}",
        f"runs: {{lamp-feed: ~, pump-feed: ~, {runs}}}",
    )
    assert facts.subject("lead").design_current == current


def test_a_controllers_panel_side_takes_what_stands_before_it() -> None:
    """Fed by an alternator in place of panels: its 100 A count, for nobody knows what the controller leaves."""
    facts = dc_facts(
        """
        components: {engine: {kind: alternator, rated_current: 100 A}, sun: {kind: solar-controller, rated_current: 30 A}}
        runs: {lead: {medium: dc, from: engine/positive, to: sun/panel, return: chassis}}
        """
    )
    assert facts.subject("lead").design_current == 100


def test_an_unknown_load_elsewhere_leaves_a_branch_as_it_is() -> None:
    """From the lamp to the pump no current flows, whatever the pump takes: the lamp's branch carries 4 A."""
    facts = dc_facts("components: {pump: {current: ~}}")
    assert facts.subject("lamp-feed").design_current == 4
