"""What is bare, what a tap is, what the devices let through: lengths and currents worked by hand."""

import pytest
from dc_van import dc_facts

from specreg.facts.missing import Missing

FUSE = "{fuse: 20 A, distance: 0.1 m}"
TWO_CONDUCTORS = f"""
components:
  battery: {{kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}}
  bar: {{kind: bus-bar, studs: 5}}
  lamp: {{kind: dc-appliance, current: 4 A, load: motor}}
runs:
  lead: {{medium: dc, from: battery/positive, to: bar/1, conductor: 10 mm², length: 0.4 m}}
  onward: {{medium: dc, from: bar/2, to: lamp, return: chassis, conductor: 2.5 mm², length: 3 m, protection: [{FUSE}]}}
"""


def another_lead(rest: str) -> str:
    """A second conductor between the battery and the bar."""
    return f"runs: {{lead-2: {{medium: dc, from: battery/positive, to: bar/3, conductor: 10 mm², {rest}}}}}"


@pytest.mark.parametrize(
    ("over", "metres"),
    [
        ([], 0.5),
        ([another_lead("length: 0.25 m")], 0.35),
        ([another_lead("length: 0.7 m")], 0.5),
        ([another_lead("length: 0.25 m, protection: [{fuse: 60 A, distance: 0 m}]")], 0.5),
        (["runs: {lead: {length: 0.7 m}}", another_lead("length: 0.6 m")], 0.7),
    ],
    ids=["one lead", "a shorter one", "a longer one", "the shorter is fused", "both longer"],
)
def test_bare_length_is_along_all_conductors(over: list[str], metres: float) -> None:
    """33 CFR 183.455(b) measures from the source along the conductor: 0.4 m of lead and 0.1 m to the fuse."""
    assert dc_facts(*over, base=TWO_CONDUCTORS).subject("onward").bare_length == pytest.approx(metres)


def second(length: str, rest: str = "") -> str:
    """A second battery with a lead of its own to the bar."""
    lead = f"medium: dc, from: second/positive, to: bar/3, conductor: 10 mm², length: {length}{rest}"
    battery = "kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA"
    return f"components: {{second: {{{battery}}}}}\nruns: {{lead-2: {{{lead}}}}}"


@pytest.mark.parametrize(
    ("over", "metres"),
    [
        (second("0.6 m"), 0.7),
        (second("0.2 m"), 0.5),
        (second("0.6 m", ", protection: [{fuse: 60 A, distance: 0 m}]"), 0.5),
    ],
    ids=["farther off", "nearer", "farther off, fused at its post"],
)
def test_the_device_is_measured_from_every_source(over: str, metres: float) -> None:
    """33 CFR 183.455(b): in each conductor, at its source. A fuse near one battery leaves the other's cable bare for long."""
    assert dc_facts(over, base=TWO_CONDUCTORS).subject("onward").bare_length == pytest.approx(metres)


@pytest.mark.parametrize(("near", "far", "passes"), [("0.01 m", "0.07 m", True), ("0.01 m", "0.09 m", False)])
def test_two_batteries_within_seven_inches_of_one_fuse(near: str, far: str, passes: bool) -> None:
    """0.07 m + 0.1 m is within 7 in (178 mm) of the farther battery, 0.09 m + 0.1 m is not, however near the first one is."""
    facts = dc_facts(f"runs: {{lead: {{length: {near}}}}}", second(far), base=TWO_CONDUCTORS)
    found = max(facts.subject(run).bare_length for run in ("lead", "lead-2", "onward"))
    assert (found <= 7 * 0.0254) is passes


ENGINE = """
components:
  starter: {kind: starter-motor}
  alternator: {kind: alternator, nominal_voltage: 12 V, rated_current: 120 A}
runs:
  crank: {medium: dc, from: battery/positive, to: starter, return: chassis, conductor: 35 mm², length: 1 m}
  charge: {medium: dc, from: alternator/positive, to: starter, return: chassis, conductor: 16 mm², length: 2 m}
"""


@pytest.mark.parametrize(
    ("over", "metres"),
    [
        ([ENGINE], 0.5),
        ([ENGINE, "runs: {charge: {to: bar/4}}"], 2.1),
        ([ENGINE, "runs: {crank: {length: ~}}"], 0.5),
        ([ENGINE, "runs: {lead: {from: bar/1, to: starter}}"], 1.5),
        ([ENGINE, "runs: {lead: {from: bar/1, to: starter}, charge: {length: 0.3 m}}"], 0.8),
    ],
    ids=[
        "behind the starter motor",
        "on the bar",
        "of unknown length",
        "tapped at the motor",
        "alternator nearer",
    ],
)
def test_what_a_starter_motors_cable_brings_is_no_farther_source(over: list[str], metres: float) -> None:
    """0.4 m of lead and 0.1 m from the battery; 2 m from an alternator on the same bar; 1 m of crank cable where it alone feeds."""
    facts = dc_facts(*over, base=TWO_CONDUCTORS)
    assert facts.subject("onward").bare_length == pytest.approx(metres)


def test_a_controller_is_no_end_of_the_measure() -> None:
    """A source that limits itself, however near, does not shorten the way to the battery."""
    sun = """
    components: {sun: {kind: solar-controller, rated_current: 10 A, battery_voltage: 12 V}}
    runs: {sun-out: {medium: dc, from: sun/battery, to: bar/4, return: chassis, conductor: 6 mm², length: 0.05 m}}
    """
    assert dc_facts(sun, base=TWO_CONDUCTORS).subject("onward").bare_length == pytest.approx(0.5)


def test_what_is_bare_is_not_bounded() -> None:
    """Of a lead with nothing before it there is no current that a device lets through: its length is judged."""
    facts = dc_facts(base=TWO_CONDUCTORS)
    assert facts.subject("lead").let_through_current == 0
    assert facts.subject("lead").bare_length == pytest.approx(0.4)
    assert facts.subject("onward").let_through_current == 20


@pytest.mark.parametrize(("main", "metres"), [("25 A", 0.0), ("26 A", 0.3)])
def test_a_tap_is_what_carries_less_than_is_pushed_into_it(main: str, metres: float) -> None:
    """1.5 mm² of 105 °C carries 25 A (33 CFR 183.425 Table 5, 16 AWG): 25 A before it protect it, 26 A do not."""
    facts = dc_facts(
        f"""
        runs:
          lead: {{protection: [{{fuse: {main}, distance: 0 m}}]}}
          onward: {{conductor: 1.5 mm², insulation: 105 °C, protection: [{{fuse: 10 A, distance: 0.3 m}}]}}
        """,
        base=TWO_CONDUCTORS.replace(f"[{FUSE}]", "[]"),
    )
    assert facts.subject("onward").ampacity == 25
    assert facts.subject("onward").tap_length == pytest.approx(metres)


def test_no_conductor_carries_what_is_let_through() -> None:
    """The table ends; what it does not hold is said, not invented."""
    facts = dc_facts("runs: {lead: {protection: [{fuse: 2000 A, distance: 0 m}]}}", base=TWO_CONDUCTORS)
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lead").smallest_conductor
    assert absent.value.reason == "no conductor of the table is that large"


SECOND = """
components: {second: {kind: battery, nominal_voltage: 24 V}}
runs: {lead-2: {medium: dc, from: second/positive, to: bar/3, length: 1 m}}
"""


def test_greatest_nominal_voltage_of_those_that_are_known() -> None:
    """12 V and 24 V on one bar are 24 V; one that is not stated is passed over, none stated is missing."""
    unknown = "components: {battery: {nominal_voltage: ~}}"
    assert dc_facts(SECOND, base=TWO_CONDUCTORS).subject("onward").nominal_voltage == 24
    assert dc_facts(SECOND, unknown, base=TWO_CONDUCTORS).subject("onward").nominal_voltage == 24
    with pytest.raises(Missing, match=r"battery\.nominal_voltage"):
        _ = dc_facts(unknown, base=TWO_CONDUCTORS).subject("onward").nominal_voltage
    with pytest.raises(Missing) as absent:
        _ = (
            dc_facts(base=TWO_CONDUCTORS.replace("from: battery/positive", "from: bar/5"))
            .subject("onward")
            .nominal_voltage
        )
    assert absent.value.reason == "no source reaches it"


@pytest.mark.parametrize(
    ("lead", "back"),
    [("[]", "[]"), ("[{fuse: 60 A, distance: 0 m}]", "[{fuse: 60 A, distance: 0 m, end: to}]")],
    ids=["bare", "fused"],
)
def test_it_does_not_matter_from_which_end_a_run_is_written(lead: str, back: str) -> None:
    """A conductor has no direction: what is bare, what is let through and what devices bound it stay the same."""
    one = dc_facts(f"runs: {{lead: {{protection: {lead}}}}}", base=TWO_CONDUCTORS)
    other = dc_facts(
        f"runs: {{lead: {{from: bar/1, to: battery/positive, protection: {back}}}}}", base=TWO_CONDUCTORS
    )
    for run in ("lead", "onward"):
        for fact in FACTS_OF_A_RUN:
            found = getattr(one.subject(run), fact)
            assert getattr(other.subject(run), fact) == found, (run, fact)
    assert one.subject("lead").let_through_current == (60 if "60" in lead else 0)


FACTS_OF_A_RUN = (
    "bare_length",
    "tap_length",
    "let_through_current",
    "fault_sources",
    "bare_sources",
    "protecting_devices",
)


def test_only_what_carries_the_positive_pole_is_judged() -> None:
    """The ground conductor of a van is no positive run; one cable with both cores is."""
    facts = dc_facts()
    assert [run for run in facts.build.runs if facts.subject(run).positive] == [
        "main",
        "lamp-feed",
        "pump-feed",
    ]


def test_the_cable_of_the_starter_motor() -> None:
    """It alone starts the engine (33 CFR 183.455 leaves it unprotected)."""
    facts = dc_facts(
        """
        components: {starter: {kind: starter-motor}}
        runs: {crank: {medium: dc, from: battery/positive, to: starter, return: chassis, conductor: 35 mm², length: 1 m}}
        """
    )
    assert [run for run in facts.build.runs if facts.subject(run).starts_engine] == ["crank"]


def test_each_piece_is_judged_once() -> None:
    """Bare up to its fuse: by that length alone. Fed through a device and without one of its own: by the current."""
    bare = dc_facts(base=TWO_CONDUCTORS).subject("onward")
    assert (bare.bare_length, bare.tap_length) == (pytest.approx(0.5), 0)
    fed = dc_facts(
        "runs: {lead: {protection: [{fuse: 60 A, distance: 0 m}]}}",
        base=TWO_CONDUCTORS.replace(f"[{FUSE}]", "[]"),
    )
    assert (fed.subject("onward").let_through_current, fed.subject("onward").tap_length) == (60, 0)


def test_between_two_devices_nothing_else_bounds_it() -> None:
    """A cable from a fuse holder to a fuse box: either end is a device, so no current is let through beside them."""
    facts = dc_facts(
        """
        components: {holder: {kind: fuse-holder, device: {fuse: 60 A}}}
        runs:
          main: {from: holder/out}
          first: {medium: dc, from: battery/positive, to: holder/in, conductor: 10 mm², length: 0.1 m}
        """
    )
    assert facts.subject("first").let_through_current == 0
    assert facts.subject("first").bare_length == pytest.approx(0.1)
    assert facts.subject("main").let_through_current == 0


@pytest.mark.parametrize(
    ("leads", "fact"),
    [("[]", "bare_length"), ("[{fuse: 60 A, distance: 0 m}]", "tap_length")],
    ids=["bare", "tap"],
)
@pytest.mark.parametrize("middle", ["0.3 m", "2.7 m"])
def test_of_two_pieces_the_longer_counts(leads: str, fact: str, middle: str) -> None:
    """3 m between two batteries with one fuse 0.3 m from an end: 2.7 m of it can burn."""
    facts = dc_facts(
        f"""
        components: {{second: {{kind: battery, nominal_voltage: 12 V}}, far: {{kind: bus-bar, studs: 3}}}}
        runs:
          lead: {{length: 0 m, protection: {leads}}}
          lead-2: {{medium: dc, from: second/positive, to: far/1, conductor: 10 mm², length: 0 m, protection: {leads}}}
          joint:
            {{medium: dc, from: bar/4, to: far/2, conductor: 1.5 mm², length: 3 m,
             protection: [{{fuse: 10 A, distance: {middle}}}]}}
        """,
        base=TWO_CONDUCTORS,
    )
    assert getattr(facts.subject("joint"), fact) == pytest.approx(2.7)


def test_a_piece_that_nothing_feeds_needs_no_conductor() -> None:
    """Behind its fuse a run is fed by no load: what it would carry is not asked for."""
    assert dc_facts("runs: {onward: {conductor: ~}}", base=TWO_CONDUCTORS).subject("onward").tap_length == 0


def test_the_shortest_way_is_found_behind_two_ways_to_one_bar() -> None:
    """1 m of lead, then 0.2 m or 0.3 m between the bars, then 0.1 m to the fuse."""
    facts = dc_facts(
        """
        components: {first: {kind: bus-bar, studs: 4}}
        runs:
          lead: {to: first/1, length: 1 m}
          short: {medium: dc, from: first/2, to: bar/1, conductor: 10 mm², length: 0.2 m}
          long: {medium: dc, from: first/3, to: bar/3, conductor: 10 mm², length: 0.3 m}
        """,
        base=TWO_CONDUCTORS,
    )
    assert facts.subject("onward").bare_length == pytest.approx(1.3)


def test_a_charger_is_no_way_to_a_battery() -> None:
    """A starter battery 0.1 m away behind a charger that converts feeds nothing bare: the house battery does."""
    facts = dc_facts(
        """
        components:
          starter-battery: {kind: battery, nominal_voltage: 12 V}
          charger: {kind: dc-charger, output_current: 10 A}
        runs:
          in: {medium: dc, from: starter-battery/positive, to: charger/input, return: chassis, conductor: 6 mm², length: 0.05 m}
          out: {medium: dc, from: charger/output, to: bar/4, return: chassis, conductor: 6 mm², length: 0.05 m}
        """,
        base=TWO_CONDUCTORS,
    )
    assert facts.subject("onward").bare_length == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("insulation", "device", "conductor"),
    [("105 °C", 60, "6 mm²"), ("85 °C", 50, "10 mm²"), ("60 °C", 40, "16 mm²")],
)
def test_what_would_protect_it(insulation: str, device: float, conductor: str) -> None:
    """33 CFR 183.425 Table 5: 6 mm² (10 AWG) carries 60, 50 or 40 A; behind 60 A the next sizes carry 60, 70, 80 A."""
    lead = dc_facts(
        f"runs: {{lead: {{conductor: 6 mm², insulation: {insulation}, protection: [{{fuse: 60 A, distance: 0 m}}]}}}}",
        base=TWO_CONDUCTORS,
    ).subject("lead")
    assert lead.largest_device == device
    assert lead.smallest_conductor == conductor
