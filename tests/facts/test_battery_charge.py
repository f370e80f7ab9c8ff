"""What charges a battery, and what may be parted from its alternator: small systems by hand."""

import pytest
from dc_van import dc_facts

from specreg.facts.missing import Missing

SUNS = """
components:
  first: {kind: solar-controller, rated_current: 10 A, absorption_voltage: 14.2 V}
  second: {kind: solar-controller, rated_current: 10 A, absorption_voltage: 14.6 V}
runs:
  one: {medium: dc, from: first/battery, to: box/feed, return: same cable}
  two: {medium: dc, from: second/battery, to: box/feed, return: same cable}
"""
ALTERNATOR = """
components:
  battery: {%s}
  alternator: {kind: alternator, rated_current: 100 A}
runs: {charge: {medium: dc, from: alternator/positive, to: box/feed, return: chassis, conductor: 16 mm², length: 3 m}}
"""
BESIDE = """
components: {other: {kind: battery, nominal_voltage: 12 V, chemistry: %s}}
runs: {beside: {medium: dc, from: other/positive, to: box/feed, return: chassis, conductor: 16 mm², length: 1 m}}
"""


def test_the_highest_of_all_charging_voltages_counts() -> None:
    """14.2 V and 14.6 V on one battery are 14.6 V for it; without a charger there is none."""
    assert dc_facts(SUNS).subject("battery").greatest_charging_voltage == pytest.approx(14.6)
    assert dc_facts().subject("battery").greatest_charging_voltage == 0


def test_a_battery_alone_shares_its_voltage_with_none() -> None:
    """What charges it stands across it, whatever its nominal voltage is; nothing is assumed."""
    facts = dc_facts(SUNS, "components: {battery: {nominal_voltage: ~}}")
    with facts.recording() as frame:
        assert facts.subject("battery").greatest_charging_voltage == pytest.approx(14.6)
    assert not frame.assumptions


SERIES = """
components:
  battery: {nominal_voltage: 12 V}
  lower: {kind: battery, nominal_voltage: 6 V}
runs:
  link: {medium: dc, from: battery/negative, to: lower/positive}
  ground: {from: lower/negative}
"""


@pytest.mark.parametrize(("over", "upper", "lower"), [([SUNS], 14.6 * 2 / 3, 14.6 / 3), ([], 0, 0)])
def test_unlike_batteries_in_series_share_by_their_nominal_voltages(
    over: list[str], upper: float, lower: float
) -> None:
    """14.6 V over 12 V and 6 V, which is said to be assumed; of no charger there is nothing to share or to say."""
    facts = dc_facts(SERIES, *over)
    for battery, volts in (("battery", upper), ("lower", lower)):
        with facts.recording() as frame:
            assert facts.subject(battery).greatest_charging_voltage == pytest.approx(volts)
        said = [sentence for sentence in frame.assumptions if "taken as sharing the voltage" in sentence]
        assert len(said) == len(over)


@pytest.mark.parametrize(
    ("battery", "more", "named"),
    [
        ("chemistry: lithium iron phosphate, management: built in", [], ("battery",)),
        ("chemistry: lithium iron phosphate, management: none", [], ()),
        ("chemistry: lithium iron phosphate, management: built in", [BESIDE % "agm"], ()),
        ("chemistry: agm", [], ()),
        ("chemistry: agm, management: built in", [], ("battery",)),
    ],
    ids=["lithium", "without electronics", "beside lead", "lead", "lead with electronics"],
)
def test_what_electronics_may_part_from_the_alternator(
    battery: str, more: list[str], named: tuple[str, ...]
) -> None:
    """A battery that nothing can cut off takes up the surge; one whose management can does not."""
    assert dc_facts(ALTERNATOR % battery, *more).subject("alternator").cut_off_by == named


def test_the_management_of_lithium_is_not_guessed() -> None:
    """Whether electronics can part it has to be stated."""
    with pytest.raises(Missing, match=r"battery\.management"):
        _ = dc_facts(ALTERNATOR % "chemistry: lithium iron phosphate").subject("alternator").cut_off_by


LITHIUM = "components: {battery: {chemistry: lithium iron phosphate, least_charging_temperature: 0 °C%s}}"


def charged_by(kind: str, port: str = "battery") -> str:
    """Something called `it` that is joined to the box on the battery."""
    return (
        f"components: {{it: {{kind: {kind}}}}}\n"
        f"runs: {{up: {{medium: dc, from: it/{port}, to: box/feed, return: chassis, conductor: 16 mm², length: 1 m}}}}"
    )


SUN = "solar-controller, rated_current: 10 A"
COLD = [
    # what charges, its port, whether it goes on below 0 °C
    (f"{SUN}, stops_below: 1 °C", "battery", False),
    (f"{SUN}, stops_below: 0 °C", "battery", False),
    (f"{SUN}, stops_below: -1 °C", "battery", True),
    (SUN, "battery", True),
    ("shore-charger, charge_current: 10 A, stops_below: 3 °C", "positive", False),
    ("shore-charger, charge_current: 10 A", "positive", True),
    ("dc-charger, output_current: 10 A", "output", True),
    ("alternator, rated_current: 100 A", "positive", True),
    ("split-relay", "house", False),
    ("dc-converter, output_current: 10 A", "output", True),
    ("solar-panel, short_circuit_current: 9 A", "leads", True),
    ("battery, role: starter", "positive", False),
]


@pytest.mark.parametrize(("kind", "port", "goes_on"), COLD)
def test_what_goes_on_charging_in_the_cold(kind: str, port: str, goes_on: bool) -> None:
    """Whatever charges and does not stop by itself at 0 °C or above; an alternator, a converter, a panel never do."""
    battery = dc_facts(LITHIUM % "", charged_by(kind, port)).subject("battery")
    assert battery.chargers_in_the_cold == (("it",) if goes_on else ())


@pytest.mark.parametrize(
    ("lockout", "stops", "prevented"),
    [
        ("true", "~", True),
        ("true", "1 °C", True),
        ("false", "1 °C", True),
        ("~", "1 °C", True),
        ("false", "~", False),
        ("~", "~", None),
    ],
)
def test_a_lockout_or_a_stop_prevents_charge_in_the_cold(
    lockout: str, stops: str, prevented: bool | None
) -> None:
    """One of the two is enough; without a stop the battery's own lockout has to be stated."""
    over = LITHIUM % f", cold_charge_lockout: {lockout}"
    battery = dc_facts(over, charged_by(f"{SUN}, stops_below: {stops}")).subject("battery")
    if prevented is not None:
        assert battery.cold_charging_prevented is prevented
        return
    with pytest.raises(Missing) as absent:
        _ = battery.cold_charging_prevented
    assert absent.value.fields == ("battery.cold_charge_lockout",)


HELD = [
    (f"{SUN}, absorption_voltage: 14.2 V", "battery", 14.2),
    ("alternator, rated_current: 100 A, charging_voltage: 14.8 V", "positive", 14.8),
    ("dc-converter, output_current: 10 A, output_voltage: 13.8 V", "output", 13.8),
    ("dc-charger, output_current: 10 A, output_voltage: 12 V, absorption_voltage: 14.4 V", "output", 14.4),
    # a panel of 20 V at -0.3 %/K, 35 K below the 25 °C of its data sheet, with nothing between
    ("solar-panel, open_circuit_voltage: 20 V, voltage_coefficient: -0.3 %/K", "leads", 20 * 1.105),
    ("battery, role: starter, highest_charge_voltage: 16 V", "positive", 0.0),
]


@pytest.mark.parametrize(("kind", "port", "volts"), HELD)
def test_whatever_charges_holds_a_voltage(kind: str, port: str, volts: float) -> None:
    """As set, or by its regulator; a panel that nothing controls goes up to its cold open-circuit voltage."""
    place = "use: {places: [{latitude: 60°, night_temperature: -10 °C}]}"
    battery = dc_facts(place, charged_by(kind, port)).subject("battery")
    assert battery.greatest_charging_voltage == pytest.approx(volts)


@pytest.mark.parametrize(
    ("kind", "port", "field"),
    [
        (SUN, "battery", "it.absorption_voltage"),
        ("alternator, rated_current: 100 A", "positive", "it.charging_voltage"),
        ("dc-converter, output_current: 10 A", "output", "it.output_voltage"),
    ],
)
def test_a_voltage_that_is_not_stated_is_asked_for(kind: str, port: str, field: str) -> None:
    """Nobody knows whether the battery bears it."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(charged_by(kind, port)).subject("battery").greatest_charging_voltage
    assert absent.value.fields == (field,)


def test_alternators_that_nothing_limits() -> None:
    """Straight, or through a relay's contact: named once each, in order; behind a charger it is limited."""
    facts = dc_facts(
        """
        components:
          b-alternator: {kind: alternator, rated_current: 100 A}
          a-alternator: {kind: alternator, title: The second, rated_current: 100 A}
          limited: {kind: alternator, rated_current: 100 A}
          relay: {kind: split-relay}
          charger: {kind: dc-charger, output_current: 30 A}
        runs:
          one: {medium: dc, from: b-alternator/positive, to: relay/starter}
          on: {medium: dc, from: relay/house, to: box/feed, return: ground}
          two: {medium: dc, from: a-alternator/positive, to: box/feed, return: ground}
          three: {medium: dc, from: limited/positive, to: charger/input, return: chassis}
          four: {medium: dc, from: charger/output, to: box/feed, return: ground}
        """
    )
    assert facts.subject("battery").direct_alternators == ("The second", "b alternator")


@pytest.mark.parametrize(
    ("profile", "unfit"),
    [("agm", False), ("fixed voltage", False), ("gel", True), ("lithium iron phosphate", True)],
)
def test_a_profile_of_another_chemistry(profile: str, unfit: bool) -> None:
    """The battery's own, or a fixed voltage, which is judged as a voltage."""
    over = f"components: {{battery: {{chemistry: agm}}, it: {{profile: {profile}}}}}"
    assert dc_facts(charged_by(SUN), over).subject("battery").unfit_chargers == (("it",) if unfit else ())


def test_a_profile_that_nobody_set_is_asked_for() -> None:
    """A converter has none, and is not asked."""
    agm = "components: {battery: {chemistry: agm}}"
    with pytest.raises(Missing, match=r"it\.profile"):
        _ = dc_facts(charged_by(SUN), agm).subject("battery").unfit_chargers
    converter = charged_by("dc-converter, output_current: 10 A", "output")
    assert dc_facts(converter, agm).subject("battery").unfit_chargers == ()


SWITCH = "switch: {kind: disconnect, polarity: %s}"
DISCONNECTED = [
    # components, runs, loads that stay live with every disconnect open
    ("", "", ("lamp", "pump")),
    (
        SWITCH % "positive",
        "main: {to: switch/in}, on: {medium: dc, from: switch/out, to: box/feed, return: ground}",
        (),
    ),
    (
        SWITCH % "negative",
        "ground: {from: battery/negative, to: switch/in}, on: {medium: dc, from: switch/out, to: box/feed}",
        (),
    ),
    (
        SWITCH % "positive",
        "main: {to: switch/in}, on: {medium: dc, from: switch/out, to: box/feed, return: ground}, "
        "pump-feed: {from: battery/positive, return: back}, back: {medium: dc, from: battery/negative, to: pump}",
        ("pump",),
    ),
    (
        f"{SWITCH % 'positive'}, lamp: ~, alarm: {{kind: co-alarm, powered_by: van}}",
        "main: {to: switch/in}, on: {medium: dc, from: switch/out, to: box/feed, return: ground}, lamp-feed: ~, "
        "alarm-feed: {medium: dc, from: battery/positive, to: alarm, return: back}, "
        "back: {medium: dc, from: battery/negative, to: alarm}",
        (),
    ),
    ("relay: {kind: relay}", "lamp-feed: {to: relay/in}, on: {medium: dc, from: relay/out, to: lamp, return: same cable}",
     ("lamp", "pump")),
    ("converter: {kind: dc-converter, output_current: 5 A}",
     "lamp-feed: {to: converter/input}, on: {medium: dc, from: converter/output, to: lamp, return: same cable}",
     ("converter", "pump")),
]  # fmt: skip


@pytest.mark.parametrize(("parts", "runs", "live"), DISCONNECTED)
def test_what_stays_live_with_every_disconnect_open(parts: str, runs: str, live: tuple[str, ...]) -> None:
    """In either pole; a relay, a fuse or a converter is no disconnect, an alarm may stay live."""
    facts = dc_facts(f"components: {{{parts}}}\nruns: {{{runs}}}")
    assert facts.subject("battery").loads_without_disconnect == live


UNLIKE = [
    ("", ()),
    ("chemistry: gel", ("it",)),
    ("capacity: 90 Ah", ("it",)),
    ("nominal_voltage: 6 V", ("it",)),
    ("chemistry: gel, role: starter", ()),
]


@pytest.mark.parametrize(("other", "named"), UNLIKE)
def test_batteries_of_a_role_are_alike(other: str, named: tuple[str, ...]) -> None:
    """In chemistry, capacity and voltage; one of another role may differ."""
    agm = "nominal_voltage: 12 V, chemistry: agm, capacity: 100 Ah"
    facts = dc_facts(
        f"components: {{battery: {{{agm}}}}}",
        charged_by(f"battery, {agm}", "positive"),
        f"components: {{it: {{{other}}}}}",
    )
    assert facts.subject("battery").unlike_in_parallel == named


SHUNT = "runs: {ground: {from: battery/negative, to: shunt/battery}%s}"


@pytest.mark.parametrize(
    ("more", "bypassing"),
    [
        (", on: {medium: dc, from: shunt/system, to: box/feed}", ()),
        (
            ", on: {medium: dc, from: shunt/system, to: box/feed}, lamp-feed: {return: back}, "
            "back: {medium: dc, from: battery/negative, to: lamp}",
            ("lamp",),
        ),
        (", on: {medium: dc, from: battery/negative, to: box/feed}", ("lamp", "pump")),
        (
            ", on: {medium: dc, from: shunt/system, to: box/feed}, lamp-feed: {to: socket/supply, return: back}, "
            "back: {medium: dc, from: battery/negative, to: socket/supply}, "
            "plugged: {medium: dc, from: socket/outlet, to: lamp, return: same cable}}\n"
            "components: {socket: {kind: dc-outlet}",
            ("socket",),
        ),
    ],
    ids=["all through it", "one past it", "all past it", "a socket past it"],
)
def test_loads_that_a_shunt_does_not_see(more: str, bypassing: tuple[str, ...]) -> None:
    """Those whose return reaches the battery's pole by another cable; a socket stands for what is plugged in."""
    assert (
        dc_facts("components: {shunt: {kind: shunt}}", SHUNT % more).subject("shunt").bypassing_loads
        == bypassing
    )


def test_an_alternator_on_a_controllers_panel_side_charges_no_battery_itself() -> None:
    """The controller is no battery that could be cut off: nothing is named, and nothing fails."""
    facts = dc_facts(
        """
        components: {alternator: {kind: alternator, rated_current: 100 A}, sun: {kind: solar-controller}}
        runs: {up: {medium: dc, from: alternator/positive, to: sun/panel, return: chassis}}
        """
    )
    assert facts.subject("alternator").cut_off_by == ()
