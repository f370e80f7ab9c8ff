"""Ways of current that are longer, unlike or over the body, panels apart, strings half known: worked by hand."""

from collections.abc import Iterable

import pytest
from dc_van import dc_facts

from specreg.facts.current_path import ways_of
from specreg.facts.missing import Missing
from specreg.facts.voltage_drop import drop_to
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


def test_cables_without_a_length_are_not_taken_as_alike() -> None:
    """Their length is estimated, 1 m × the factor for the route of each: one carries all, and that is said."""
    facts = dc_facts(
        """
        defaults: {routing_factor: 1.5}
        components: {battery: {at: [1 m, 0 m, 0 m]}, box: {at: [2 m, 0 m, 0 m]}}
        runs:
          main: {length: ~}
          main-2: {medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm²}
        """
    )
    with facts.recording() as frame:
        drop = facts.subject("lamp").supply_drop
    assert drop == pytest.approx((1.5 + 2) * R_10 * 10 + 2 * 3 * R_1_5 * 4)
    assert any("taken as the only way of its current" in sentence for sentence in frame.assumptions)


@pytest.mark.parametrize(
    ("back", "over", "ohms"),
    [
        ("return: same cable", "", 3 * R_1_5),
        ("return: same cable, return_conductor: 10 mm²", "", 3 * R_10),
        ("return: ground", "", 2 * R_10),
        ("return: chassis", "stud: {kind: chassis-point, measured_resistance: 5 mΩ}", 5e-3),
        (
            "return: chassis",
            "stud: {kind: chassis-point, measured_resistance: 5 mΩ}, "
            "other: {kind: chassis-point, measured_resistance: 9 mΩ}",
            9e-3,
        ),
    ],
)
def test_the_way_back_of_one_run(back: str, over: str, ohms: float) -> None:
    """Its own second core, another run, or the body by the worst that was measured; 4 A flow."""
    feed = dc_facts(f"components: {{{over}}}\nruns: {{lamp-feed: {{{back}}}}}").subject("lamp-feed")
    assert feed.return_resistance == pytest.approx(ohms)
    assert feed.run_drop == pytest.approx(4 * (3 * R_1_5 + ohms))


@pytest.mark.parametrize(
    ("over", "run", "said"),
    [
        ("runs: {lamp-feed: {return: chassis}}", "lamp-feed", "no chassis point has a measured resistance"),
        (
            "components: {stud: {kind: chassis-point}}\nruns: {lamp-feed: {return: chassis}}",
            "lamp-feed",
            r"stud\.measured_resistance",
        ),
        ("components: {}", "ground", r"ground does not carry the positive conductor"),
    ],
)
def test_a_drop_that_is_not_known(over: str, run: str, said: str) -> None:
    """A body that nobody measured is no conductor of 0 Ω; a negative cable counts with what it returns for."""
    with pytest.raises(Missing, match=said):
        _ = dc_facts(over).subject(run).run_drop


def test_the_return_of_a_negative_cable_is_not_asked_twice() -> None:
    """It is the way back itself: what it names as its own return is missing."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts().subject("ground").return_resistance
    assert absent.value.fields == ("ground.return",)


def test_like_cables_halve_the_drop_of_their_core() -> None:
    """10 A over two positive cables and back over one."""
    facts = dc_facts(
        "runs: {main-2: {medium: dc, from: battery/positive, to: box/feed, return: ground, conductor: 10 mm², length: 2 m}}"
    )
    with facts.recording() as frame:
        drop = facts.subject("lamp").supply_drop
    assert drop == pytest.approx((2 * R_10 / 2 + 2 * R_10) * 10 + 2 * 3 * R_1_5 * 4)
    assert not any("the only way of its current" in sentence for sentence in frame.assumptions)


@pytest.mark.parametrize(("metres", "drop"), [(5, 5), (1, 2)])
def test_of_two_house_batteries_the_farther_counts(metres: float, drop: float) -> None:
    """Either may be the one that still gives: the drop is reckoned from the worse, out by its own cable and back by its own."""
    facts = dc_facts(
        f"""
        components: {{second: {{kind: battery, nominal_voltage: 12 V}}}}
        runs:
          main-2: {{medium: dc, from: second/positive, to: box/feed, return: ground-2, conductor: 10 mm², length: {metres} m}}
          ground-2: {{medium: dc, from: second/negative, to: box/feed, conductor: 10 mm², length: {metres} m}}
        """
    )
    lamp = facts.subject("lamp")
    assert lamp.supply_drop == pytest.approx(2 * drop * R_10 * 10 + 2 * 3 * R_1_5 * 4)


def test_between_two_batteries_each_sends_what_lies_beyond() -> None:
    """Through the 5 m between two boxes go the lamp's 4 A from the one battery, the pump's 6 A from the other.

    The lamp has more to lose from the second: 10 A over 2 × 1 m, 4 A over 2 × 5 m, and its own cable.
    """
    facts = dc_facts(
        """
        components:
          second: {kind: battery, nominal_voltage: 12 V}
          box-2: {kind: fuse-box, ways: {a: {fuse: 20 A}}}
        runs:
          link: {medium: dc, from: box/b, to: box-2/feed, return: same cable, conductor: 10 mm², length: 5 m}
          main-2: {medium: dc, from: second/positive, to: box-2/feed, return: ground-2, conductor: 10 mm², length: 1 m}
          ground-2: {medium: dc, from: second/negative, to: box-2/feed, conductor: 10 mm², length: 1 m}
          pump-feed: {from: box-2/a}
        """
    )
    from_second = 2 * 1 * R_10 * 10 + 2 * 5 * R_10 * 4 + 2 * 3 * R_1_5 * 4
    assert facts.subject("lamp").supply_drop == pytest.approx(from_second)


def test_out_by_one_cable_and_back_by_another() -> None:
    """The cable to the second box has a thick core back, which the lamp, with a return of its own, does not use."""
    facts = dc_facts(
        """
        components: {box-2: {kind: fuse-box, ways: {a: {fuse: 20 A}}}}
        runs:
          link:
            {medium: dc, from: box/a, to: box-2/feed, return: same cable, conductor: 2.5 mm², return_conductor: 10 mm²,
             length: 5 m}
          lamp-feed: {from: box-2/a, return: lamp-back}
          lamp-back: {medium: dc, from: battery/negative, to: lamp, conductor: 1.5 mm², length: 4 m}
        """
    )
    out = 2 * R_10 * 10 + 5 * 7.98e-3 * 4 + 3 * R_1_5 * 4
    assert facts.subject("lamp").supply_drop == pytest.approx(out + 4 * R_1_5 * 4)


def test_a_drop_by_another_measure_of_the_loads() -> None:
    """1 A in the lamp and nothing in the pump, whatever both are rated for."""
    now = {"lamp": 1.0, "pump": 0.0}
    found = drop_to(dc_facts().subject("lamp"), lambda name: now[name])
    assert found == pytest.approx(2 * 2 * R_10 * 1 + 2 * 3 * R_1_5 * 1)


def test_a_return_core_of_its_own_size_counts_on_the_way_back() -> None:
    """1.5 mm² out and 10 mm² back in one cable; a device on it does not count it twice."""
    plain = 2 * 2 * R_10 * 10
    thick = dc_facts("runs: {lamp-feed: {return_conductor: 10 mm²}}").subject("lamp")
    assert thick.supply_drop == pytest.approx(plain + 3 * (R_1_5 + R_10) * 4)
    fused = dc_facts("runs: {lamp-feed: {protection: [{fuse: 5 A, distance: 1 m}]}}").subject("lamp")
    assert fused.supply_drop == pytest.approx(plain + 2 * 3 * R_1_5 * 4)


@pytest.mark.parametrize(
    ("thing", "critical"),
    [
        ("dc-appliance", False),
        ("dc-appliance, critical: true", True),
        ("fridge", True),
        ("fridge, critical: false", False),
        ("gas-alarm", True),
        ("emergency-light", True),
        ("air-heater", True),
        ("cabin-fan", False),
    ],
)
def test_what_people_depend_on(thing: str, critical: bool) -> None:
    """As it is stated; else what warns, lights the way out, keeps food or heats."""
    it = dc_facts(base=f"components: {{it: {{kind: {thing}}}}}").subject("it")
    assert it.critical_supply is critical


@pytest.mark.parametrize(
    ("main", "by", "way"),
    [
        ("length: ~", "0.48 m", "b1, b2, lamp feed"),
        ("length: ~", "0.52 m", "main, lamp feed"),
        ("length: 2 m", "0.9 m", "b1, b2, lamp feed"),
        ("length: 2 m", "1.1 m", "main, lamp feed"),
        ("length: 2 m, protection: [{fuse: 50 A, distance: 1 m}]", "1.1 m", "main, lamp feed"),
    ],
)
def test_the_shorter_way_is_taken(main: str, by: str, way: str) -> None:
    """Of the main and two cables over a bar; without a length it counts as 1 m, with a fuse in it once."""
    facts = dc_facts(
        f"""
        components: {{bar: {{kind: bus-bar, studs: 2}}}}
        runs:
          main: {{{main}}}
          b1: {{medium: dc, from: battery/positive, to: bar/1, return: ground, conductor: 10 mm², length: {by}}}
          b2: {{medium: dc, from: bar/2, to: box/feed, return: ground, conductor: 10 mm², length: {by}}}
        """
    )
    assert facts.subject("lamp").supply_way == way


BOOSTER = """
components:
  starter: {kind: battery, nominal_voltage: 12 V, role: starter}
  booster: {kind: dc-charger, output_current: 20 A, input_current: 30 A}
runs:
  boost-in: {medium: dc, from: starter/positive, to: booster/input, return: boost-ground}
  boost-ground: {medium: dc, from: starter/negative, to: booster/input}
  boost-out: {medium: dc, from: booster/output, to: box/feed, return: same cable}
"""


def test_on_a_common_return_each_circuit_has_its_own_loads() -> None:
    """The starter battery supplies the charger's 30 A and none of the lamps, though all negatives meet."""
    facts = dc_facts(BOOSTER)
    names = ("boost-in", "boost-ground", "main", "ground")
    assert [facts.subject(name).supplied_current for name in names] == pytest.approx([30, 30, 10, 10])


def test_each_network_has_a_voltage_of_its_own() -> None:
    """A lamp of 96 W behind the house battery of 12 V, a booster of 240 W behind a starter battery of 24 V."""
    facts = dc_facts(
        BOOSTER,
        """
        components:
          starter: {nominal_voltage: 24 V, highest_charge_voltage: 28.8 V}
          booster: {input_current: ~, output_voltage: 12 V, efficiency: 80 %}
          lamp: {current: ~, supply_voltage: ~, power: 96 W, load: resistance}
        """,
    )
    lamp = facts.subject("lamp")
    assert (lamp.running_current, lamp.greatest_current) == pytest.approx((8, 8 * 14.4 / 12))
    assert facts.subject("booster").running_current == pytest.approx(20 * 12 / (0.8 * 24))


@pytest.mark.parametrize(("other", "system"), [("12 V", 12), ("13.8 V", 12), ("24 V", None), ("48 V", None)])
def test_on_a_bar_of_12_and_24_volts_no_load_is_made_for_either(other: str, system: int | None) -> None:
    """Nobody can tell which of both it is for: taken for 24 V, the current of 96 W would be half of what it may be."""
    facts = dc_facts(
        f"""
        components:
          second: {{kind: battery, nominal_voltage: {other}}}
          lamp: {{current: ~, supply_voltage: ~, power: 96 W}}
        runs: {{main-2: {{medium: dc, from: second/positive, to: box/feed, return: ground}}}}
        """
    )
    lamp = facts.subject("lamp")
    if system is None:
        with pytest.raises(Missing) as absent:
            _ = lamp.running_current
        assert absent.value.fields == ("lamp.supply_voltage",)
    else:
        assert lamp.running_current == pytest.approx(96 / system)


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


BOND = "bond: {medium: dc, from: battery/negative, to: bond-stud, conductor: 10 mm², length: 1 m}"
BACK = "{medium: dc, from: stud, to: %s, conductor: 1.5 mm², length: 1 m}"


@pytest.mark.parametrize(
    ("studs", "runs", "back"),
    [
        # Both over the body: 10 A pass the bond, whose measured 5 mΩ stand for it and for the body.
        (
            "bond-stud: {kind: chassis-point, measured_resistance: 5 mΩ}",
            f"{BOND}, lamp-feed: {{return: chassis}}, pump-feed: {{return: chassis}}",
            10 * 5e-3,
        ),
        # The lamp alone over the body.
        (
            "bond-stud: {kind: chassis-point, measured_resistance: 5 mΩ}",
            f"{BOND}, lamp-feed: {{return: chassis}}",
            4 * 5e-3,
        ),
        # Both by a stud of their own that was measured, with a cable of 1 m each to it.
        (
            "bond-stud: {kind: chassis-point}, stud: {kind: chassis-point, measured_resistance: 7 mΩ}",
            f"{BOND}, lamp-feed: {{return: lamp-back}}, lamp-back: {BACK % 'lamp'}, "
            f"pump-feed: {{return: pump-back}}, pump-back: {BACK % 'pump'}",
            10 * 7e-3 + 1 * R_1_5 * 4,
        ),
    ],
)
def test_what_shares_a_stud_shares_its_drop(studs: str, runs: str, back: float) -> None:
    """The current of all that comes through the measured stud, and the lamp's own cables."""
    facts = dc_facts(f"components: {{{studs}}}\nruns: {{{runs}}}")
    assert facts.subject("lamp").supply_drop == pytest.approx(2 * R_10 * 10 + 3 * R_1_5 * 4 + back)


@pytest.mark.parametrize(
    ("studs", "runs", "said"),
    [
        ("bond-stud: {kind: chassis-point}", f"{BOND}, lamp-feed: {{return: chassis}}", "bond-stud"),
        (
            "bond-stud: {kind: chassis-point, measured_resistance: 5 mΩ}, stud: {kind: chassis-point}",
            f"{BOND}, lamp-feed: {{return: lamp-back}}, lamp-back: {BACK % 'lamp'}",
            "stud",
        ),
    ],
)
def test_a_stud_that_nobody_measured(studs: str, runs: str, said: str) -> None:
    """That at the load counts where there is one, else that at the battery: its field is asked for."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(f"components: {{{studs}}}\nruns: {{{runs}}}").subject("lamp").supply_drop
    assert absent.value.fields == (f"{said}.measured_resistance",)


def test_a_cable_is_taken_although_the_body_is_nearer() -> None:
    """Battery and box are both bonded to the body, 0.1 m away: the current is reckoned over the 2 m of the ground."""
    facts = dc_facts(
        """
        components: {one: {kind: chassis-point}, other: {kind: chassis-point}}
        runs:
          bond: {medium: dc, from: battery/negative, to: one, conductor: 10 mm², length: 0.1 m}
          bond-2: {medium: dc, from: other, to: box/feed, conductor: 10 mm², length: 0.1 m}
        """
    )
    assert facts.subject("lamp").supply_drop == pytest.approx(2 * 2 * R_10 * 10 + 2 * 3 * R_1_5 * 4)


def test_a_box_that_returns_over_the_body() -> None:
    """Its bar is on the body: the lamp's own cable back to it, then 10 A through the 5 mΩ measured at the battery."""
    facts = dc_facts(
        "components: {bond-stud: {kind: chassis-point, measured_resistance: 5 mΩ}}\n"
        f"runs: {{{BOND}, main: {{return: chassis}}, ground: ~}}"
    )
    there, back = 2 * R_10 * 10 + 3 * R_1_5 * 4, 3 * R_1_5 * 4 + 10 * 5e-3
    assert facts.subject("lamp").supply_drop == pytest.approx(there + back)


def test_a_body_that_is_reached_without_a_stud() -> None:
    """The box lies on the body, and what the body resists from there was never measured."""
    facts = dc_facts("runs: {main: {return: chassis}, lamp-feed: {return: chassis}}")
    with pytest.raises(Missing, match="the chassis at box was not measured"):
        _ = facts.subject("lamp").supply_drop


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


PANEL = """
use: {{places: [{{latitude: 60°, night_temperature: {night} °C}}]}}
components: {{panel: {{kind: solar-panel, open_circuit_voltage: 20 V, peak_voltage: 16 V{more}}}}}
"""


@pytest.mark.parametrize(
    ("night", "more", "volts", "said"),
    [
        (-10, ", voltage_coefficient: -0.3 %/K", 20 * (1 + 0.003 * 35), False),
        (-10, ", voltage_coefficient: -0.3 %/K, count: 4, in_series: 2", 40 * (1 + 0.003 * 35), False),
        (25, ", voltage_coefficient: -0.3 %/K", 20, False),
        (35, ", voltage_coefficient: -0.3 %/K", 20, False),  # not below what the plate says
        (-10, "", 20 * 1.14, True),
        (-12, "", 20 * 1.16, True),  # the colder row
        (-10, ", count: 4, in_series: 2", 40 * 1.14, True),
    ],
)
def test_a_string_on_the_coldest_morning(night: int, more: str, volts: float, said: bool) -> None:
    """By the coefficient of its sheet from 25 °C down; without one by NEC Table 690.7(A), and that is said."""
    facts = dc_facts(base=PANEL.format(night=night, more=more))
    with facts.recording() as frame:
        assert facts.subject("panel").string_cold_voltage == pytest.approx(volts)
    assert any("NEC Table 690.7(A) taken" in sentence for sentence in frame.assumptions) is said


def test_a_string_colder_than_the_table() -> None:
    """NEC Table 690.7(A) ends at -40 °C: the coefficient is asked for, and why."""
    with pytest.raises(Missing, match="ends at -40 °C") as absent:
        _ = dc_facts(base=PANEL.format(night=-41, more="")).subject("panel").string_cold_voltage
    assert absent.value.fields == ("panel.voltage_coefficient",)


@pytest.mark.parametrize("coefficient", ["0.3 %/K", "0 %/K"])
def test_a_coefficient_without_its_minus_decides_nothing(coefficient: str) -> None:
    """A panel's voltage rises in the cold: written the other way round it would seem to bear any morning."""
    base = PANEL.format(night=-10, more=f", voltage_coefficient: {coefficient}")
    for name in ("string_cold_voltage", "string_hot_voltage"):
        with pytest.raises(Missing, match=r"panel\.voltage_coefficient is not below 0"):
            getattr(dc_facts(base=base).subject("panel"), name)


def test_a_string_on_a_hot_roof() -> None:
    """45 K above 25 °C at -0.4 %/K leave 82 % of 2 × 16 V; without a coefficient it is asked for."""
    hot = PANEL.format(night=0, more=", voltage_coefficient: -0.4 %/K, count: 2, in_series: 2")
    facts = dc_facts(base=hot)
    with facts.recording() as frame:
        assert facts.subject("panel").string_hot_voltage == pytest.approx(32 * 0.82)
    assert any("taken at 70 °C on a hot roof" in sentence for sentence in frame.assumptions)
    with pytest.raises(Missing, match=r"panel\.voltage_coefficient"):
        _ = dc_facts(base=PANEL.format(night=0, more="")).subject("panel").string_hot_voltage


def test_a_controller_sums_its_panels_and_minds_the_weakest_string() -> None:
    """Four of 100 W and 5 A in strings of two beside one of 200 W and 9 A: 600 W, 19 A; hot 2 × 16 V or 30 V × 86.5 %."""
    unlike = ", count: 4, in_series: 2, short_circuit_current: 5 A, peak_voltage: 16 V, voltage_coefficient: -0.3 %/K"
    facts = dc_facts(
        "components: {b: {peak_voltage: 30 V, voltage_coefficient: -0.3 %/K}}", base=SUN % (unlike, "", "")
    )
    sun = facts.subject("sun")
    assert (sun.panel_power, sun.panel_short_circuit_current) == pytest.approx((600, 19))
    assert sun.panel_hot_voltage == pytest.approx(30 * 0.865)


@pytest.mark.parametrize(
    "cable", ["from: sun/battery, to: box/feed", "from: battery/positive, to: sun/panel"]
)
def test_a_controller_without_panels(cable: str) -> None:
    """No panel, no figure: none of 0 V, 0 A or 0 W, though a battery is joined to one of its sides."""
    lone = dc_facts(
        "components: {sun: {kind: solar-controller}}\n"
        f"runs: {{out: {{medium: dc, {cable}, return: chassis}}}}"
    ).subject("sun")
    for name in ("panel_cold_voltage", "panel_short_circuit_current", "panel_power", "panels_isolated"):
        with pytest.raises(Missing, match="no panel is joined to sun"):
            getattr(lone, name)


@pytest.mark.parametrize(
    ("gate", "isolated"),
    [
        ("kind: solar-disconnect", True),
        ("kind: solar-disconnect, device: {breaker: 20 A}", True),
        ("kind: solar-disconnect, device: {fuse: 20 A}", True),  # a holder that is made to be opened by hand
        ("kind: solar-combiner, ways: {panel: {fuse: 20 A}}", False),
        ("kind: disconnect", True),
    ],
)
def test_what_a_hand_can_open(gate: str, isolated: bool) -> None:
    """A switch, a breaker, a disconnect that holds a fuse; a fuse in a box of strings is none."""
    into = "in" if gate == "kind: disconnect" else "panel"
    out = "controller" if "solar-disconnect" in gate else "out"
    base = f"""
components:
  panel: {{kind: solar-panel}}
  gate: {{{gate}}}
  sun: {{kind: solar-controller}}
runs:
  up: {{medium: dc, from: panel/leads, to: gate/{into}, return: chassis}}
  down: {{medium: dc, from: gate/{out}, to: sun/panel, return: chassis}}
"""
    assert dc_facts(base=base).subject("sun").panels_isolated is isolated


@pytest.mark.parametrize(("device", "isolated"), [("breaker: 20 A", True), ("fuse: 20 A", False)])
def test_a_breaker_on_the_lead_itself(device: str, isolated: bool) -> None:
    """A fuse in a lead is no switch."""
    base = (
        "components: {panel: {kind: solar-panel}, sun: {kind: solar-controller}}\n"
        "runs: {lead: {medium: dc, from: panel/leads, to: sun/panel, return: same cable, protection: [{%s}]}}"
    )
    assert dc_facts(base=base % device).subject("sun").panels_isolated is isolated


def test_the_battery_side_is_as_it_is_set() -> None:
    """What nobody set is asked for."""
    base = "components: {sun: {kind: solar-controller%s}}"
    assert dc_facts(base=base % ", absorption_voltage: 14.2 V").subject("sun").battery_side_voltage == 14.2
    with pytest.raises(Missing) as absent:
        _ = dc_facts(base=base % "").subject("sun").battery_side_voltage
    assert absent.value.fields == ("sun.absorption_voltage",)


def test_only_what_is_joined_can_push_back() -> None:
    """Of a panel at another controller nothing need be known; of one beside it all."""
    apart = """
components:
  c: {kind: solar-panel}
  moon: {kind: solar-controller}
runs:
  l3: {medium: dc, from: c/leads, to: moon/panel, return: same cable}
"""
    assert dc_facts(apart, base=SUN % ("", "", "")).subject("a").reverse_current == 9
    with pytest.raises(Missing) as absent:
        _ = dc_facts(base=SUN % ("", "", "")).subject("b").reverse_current
    assert absent.value.fields == ("a.short_circuit_current",)


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


@pytest.mark.parametrize(
    ("battery", "source", "leads", "volts"),
    [
        ("14.4 V", "kind: alternator, charging_voltage: 14.8 V", "source/positive", 14.8),
        ("14.4 V", "kind: shore-charger, absorption_voltage: 14.7 V", "source/positive", 14.7),
        ("14.4 V", "kind: dc-converter, output_voltage: 15 V", "source/output", 15),
        ("~", "kind: dc-converter, output_voltage: 13.8 V", "source/output", 13.8),
        ("14.4 V", "kind: dc-converter", "source/output", 14.4),
        ("14.4 V", "kind: dc-charger, output_voltage: 15 V", "source/output", 14.4),  # its class, not what it holds
        ("14.4 V", "kind: dc-charger, absorption_voltage: 14.6 V", "source/output", 14.6),
    ],
)  # fmt: skip
def test_the_highest_voltage_at_a_resistance(battery: str, source: str, leads: str, volts: float) -> None:
    """4 A at 12 V grow with the voltage: the highest that any source joined to it states to hold."""
    facts = dc_facts(
        f"""
        components:
          battery: {{highest_charge_voltage: {battery}}}
          lamp: {{load: resistance}}
          source: {{{source}}}
        runs: {{more: {{medium: dc, from: {leads}, to: box/feed, return: ground}}}}
        """
    )
    assert facts.subject("lamp").greatest_current == pytest.approx(4 * volts / 12)


@pytest.mark.parametrize(
    ("nominal", "system"), [("12.8 V", 12), ("13.2 V", 12), ("24 V", 24), ("25.6 V", 24), ("51.2 V", 48)]
)
def test_a_battery_counts_by_its_class(nominal: str, system: int) -> None:
    """Cells of 3.2 V make 12.8 V, and lamps for it are made for 12 V; a controller that states nothing changes nothing."""
    facts = dc_facts(
        f"""
        components:
          battery: {{nominal_voltage: {nominal}}}
          lamp: {{current: ~, supply_voltage: ~, power: 96 W}}
          sun: {{kind: solar-controller, rated_current: 10 A}}
        runs: {{out: {{medium: dc, from: sun/battery, to: box/feed, return: same cable}}}}
        """
    )
    assert facts.subject("lamp").running_current == pytest.approx(96 / system)


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


SUN_FAR = """
components: {sun: {kind: solar-controller, rated_current: 20 A}}
runs: {far: {medium: dc, from: sun/battery, to: box/feed, return: same cable, conductor: 2.5 mm², length: 9 m}}
"""


@pytest.mark.parametrize("role", ["house", "starter"])
def test_a_charger_farther_away_is_not_what_the_drop_is_reckoned_from(role: str) -> None:
    """It is the battery that must still do when nothing charges; one of the base vehicle where there is no other."""
    drop = 2 * 2 * R_10 * 10 + 2 * 3 * R_1_5 * 4
    facts = dc_facts(SUN_FAR, f"components: {{battery: {{role: {role}}}}}")
    assert facts.subject("lamp").supply_drop == pytest.approx(drop)


def test_behind_a_converter_the_drop_begins_at_its_output() -> None:
    """No battery is joined to the lamp: 1 m of 2.5 mm² from the converter, out and back."""
    facts = dc_facts(
        """
        components: {down: {kind: dc-converter, output_voltage: 12 V, output_current: 10 A}}
        runs:
          to-down: {medium: dc, from: box/a, to: down/input, return: same cable}
          lamp-feed: {from: down/output, conductor: 2.5 mm², length: 1 m}
        """
    )
    assert facts.subject("lamp").supply_drop == pytest.approx(2 * 1 * 7.98e-3 * 4)


ALARM = "components: {alarm: {kind: smoke-alarm, powered_by: own battery}}"


def test_a_load_is_wired_when_a_cable_ends_at_it() -> None:
    """Be it the only one, from the battery itself; an alarm with its own cells takes no current, and says so."""
    alone = "lamp-feed: {from: battery/positive, return: chassis}, main: ~, ground: ~, pump-feed: ~"
    facts = dc_facts(f"runs: {{{alone}}}")
    assert (facts.subject("lamp").wired, facts.subject("pump").wired) == (True, False)
    alarm = dc_facts(ALARM).subject("alarm")
    assert alarm.wired is False
    for name in ("supply_drop", "supply_way"):
        with pytest.raises(Missing, match="alarm takes no direct current"):
            getattr(alarm, name)


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
