"""What each thing takes from the battery in a day, and how long it lasts: P · t / η by hand."""

import json
from itertools import product

import pytest
from dc_van import dc_facts

from specreg.facts.energy import battery_loads, halves
from specreg.facts.missing import Missing

WH = 3600.0
TAKEN = [
    # what stands in place of the lamp, Wh a day by hand
    ("dc-appliance, power: 10 W, hours_per_day: 5 h", 10 * 5),
    ("dc-appliance, power: 10 W, hours_per_day: 5 h, count: 3", 3 * 10 * 5),
    ("dc-appliance, current: 4 A, hours_per_day: 5 h", 4 * 12 * 5),
    ("dc-appliance, power: 10 W, current: 4 A, hours_per_day: 5 h", 10 * 5),  # a stated power goes first
    ("dc-appliance, power: 10 W, hours_per_day: 5 h, duty: 40 %", 10 * 5 * 0.4),
    ("dc-appliance, power: 10 W, hours_per_day: 5 h, duty: 0 %", 0),
    ("dc-appliance, power: 10 W, hours_per_day: 5 h, standby: 2 W", 10 * 5 + 2 * 19),
    ("dc-appliance, power: 10 W, hours_per_day: 24 h, standby: 2 W", 240),
    ("dc-appliance, power: 10 W, hours_per_day: 30 h, standby: 2 W", 300),  # no hour is left to wait in
    ("dc-appliance, hours_per_day: 0 h, standby: 2 W, count: 2", 2 * 2 * 24),  # what never runs needs no power
    ("dc-appliance, hours_per_day: 0 h", 0),
    ("fridge, power: 50 W, daily_energy: 400 Wh, duty: 30 %, count: 2", 2 * 400),  # its maker's figure goes first
    ("fridge, power: 50 W, duty: 30 %, count: 2", 2 * 50 * 24 * 0.3),
    ("fridge, current: 4 A, duty: 25 %", 4 * 12 * 24 * 0.25),
    ("dc-outlet, expected_power: 60 W, hours_per_day: 2 h, count: 3", 3 * 60 * 2),
    ("dc-converter, idle_power: 1.5 W, output_voltage: 24 V", 1.5 * 24),
    ("dc-converter, idle_power: 1.5 W, output_voltage: 24 V, count: 2", 2 * 1.5 * 24),
]  # fmt: skip


def alone(what: str) -> str:
    """A thing fed from way a of the box, where the lamp hung."""
    port = {"dc-converter": "input", "dc-outlet": "supply"}.get(what.partition(",")[0], "supply")
    return (
        f"components: {{it: {{kind: {what}}}, lamp: ~, pump: {{hours_per_day: 0 h}}}}\n"
        f"runs: {{lamp-feed: {{to: it/{port}}}}}"
    )


@pytest.mark.parametrize(("what", "wh"), TAKEN)
def test_energy_of_a_day(what: str, wh: float) -> None:
    """Power × hours × duty, the rest of the day in standby, × how many stand there as one."""
    facts = dc_facts(alone(what))
    assert facts.subject("it").energy_per_day == pytest.approx(wh * WH)
    assert facts.whole.daily_energy_use == pytest.approx(wh * WH)


INVERTER = """
components:
  inverter: {kind: inverter, rated_power: 2 kW, output_voltage: 230 V, idle_power: 12 W, hours_per_day: 4 h%s}
runs:
  up: {medium: dc, from: battery/positive, to: inverter/positive, return: down, conductor: 50 mm², length: 1 m}
  down: {medium: dc, from: battery/negative, to: inverter/negative, conductor: 50 mm², length: 1 m}
"""


@pytest.mark.parametrize("count", [1, 2])
def test_an_inverter_idles(count: int) -> None:
    """12 W in each of 4 hours, for each that stands there."""
    inverter = dc_facts(INVERTER % f", count: {count}").subject("inverter")
    assert inverter.energy_per_day == pytest.approx(count * 48 * WH)


CONVERTED = """
components:
  converter: {kind: dc-converter, output_voltage: 12 V, output_current: 10 A, idle_power: 2 W%s}
  lamp: {hours_per_day: 5 h}
  pump: {hours_per_day: 0 h}
runs:
  lamp-feed: {to: converter/input}
  on: {medium: dc, from: converter/output, to: lamp, return: same cable, conductor: 1.5 mm², length: 1 m}
"""
SECOND = """
components: {second: {kind: dc-converter, output_voltage: 12 V, output_current: 10 A, efficiency: 60 %}}
runs:
  pump-feed: {to: second/input}
  on-2: {medium: dc, from: second/output, to: lamp, return: same cable, conductor: 1.5 mm², length: 1 m}
"""
BESIDE = "runs: {beside: {medium: dc, from: battery/positive, to: lamp, return: ground, conductor: 1.5 mm²}}"
HANDED_ON = [
    ([", efficiency: 80 %"], 0.8, False),
    ([""], 0.9, True),
    ([", efficiency: 80 %", SECOND], 0.6, False),  # the worse of two
    ([", efficiency: 80 %", BESIDE], 1.0, False),  # a battery is joined to it as well
]


@pytest.mark.parametrize(("stated", "share", "assumed"), HANDED_ON)
def test_a_converter_takes_its_share(stated: list[str], share: float, assumed: bool) -> None:
    """240 Wh at the lamp are 240 Wh / efficiency at the battery; beside them the converter's own 2 W."""
    facts = dc_facts(CONVERTED % stated[0], *stated[1:])
    with facts.recording() as frame:
        assert facts.subject("lamp").energy_per_day == pytest.approx(240 / share * WH)
    said = "converter taken to hand on 90% (common practice, no source)"
    assert (said in frame.assumptions) is assumed
    assert facts.subject("converter").energy_per_day == pytest.approx(48 * WH)


IN_A_ROW = """
components:
  first: {kind: dc-converter, output_voltage: 12 V, output_current: 10 A, idle_power: 0 W, efficiency: 80 %}
runs:
  lamp-feed: {to: first/input}
  between: {medium: dc, from: first/output, to: converter/input, return: same cable}
"""


def test_converters_in_a_row_each_take_their_share() -> None:
    """240 Wh behind 75 % behind 80 %; what the second takes for itself comes through the first."""
    facts = dc_facts(CONVERTED % ", efficiency: 75 %", IN_A_ROW)
    assert facts.subject("lamp").energy_per_day == pytest.approx(240 / 0.75 / 0.8 * WH)
    assert facts.subject("converter").energy_per_day == pytest.approx(48 / 0.8 * WH)


def test_converters_in_a_ring_end() -> None:
    """Each feeds the other and no battery does: the one that the lamp hangs on is counted."""
    ring = "runs: {lamp-feed: ~, back: {medium: dc, from: converter/output, to: first/input, return: same cable}}"
    facts = dc_facts(CONVERTED % ", efficiency: 75 %", IN_A_ROW, ring)
    assert facts.subject("lamp").energy_per_day == pytest.approx(240 / 0.75 * WH)


def test_converters_beside_and_behind_each_other_end() -> None:
    """Thirty pairs in a row are thirty times 90 %, and not a thousand million ways."""
    kind = {"kind": "dc-converter", "output_voltage": "12 V", "output_current": "10 A", "efficiency": "90 %"}
    wire = {"medium": "dc", "return": "same cable"}
    pairs = [(f"left-{level}", f"right-{level}") for level in range(30)]
    runs = {
        "lamp-feed": {"to": "left-0/input"},
        "pump-feed": {"to": "right-0/input"},
    }
    for pair, behind in zip(pairs, [*pairs[1:], ("lamp",)], strict=True):
        for one, other in product(pair, behind):
            finish = other if other == "lamp" else f"{other}/input"
            runs[f"{one}-{other}"] = {**wire, "from": f"{one}/output", "to": finish}
    parts = {name: kind for pair in pairs for name in pair}
    lamp = "components: {lamp: {hours_per_day: 5 h}}"
    facts = dc_facts(lamp, json.dumps({"components": parts, "runs": runs}))
    assert facts.subject("lamp").energy_per_day == pytest.approx(240 / 0.9**30 * WH)


def test_a_load_on_nothing_takes_what_it_takes() -> None:
    """No source reaches it: nothing is divided."""
    facts = dc_facts("components: {lamp: {hours_per_day: 5 h}}\nruns: {main: ~}")
    assert facts.subject("lamp").energy_per_day == pytest.approx(240 * WH)


def test_a_controller_is_no_converter() -> None:
    """What the sun gives without a battery between is not divided by what the controller loses."""
    sun = "components: {lamp: {hours_per_day: 5 h}, sun: {kind: solar-controller, efficiency: 50 %}}"
    fed = "runs: {main: ~, up: {medium: dc, from: sun/battery, to: box/feed, return: chassis}}"
    assert dc_facts(sun, fed).subject("lamp").energy_per_day == pytest.approx(240 * WH)


def test_an_efficiency_of_nothing_is_asked_for() -> None:
    """0 % is a slip of the pen."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(CONVERTED % ", efficiency: 0 %").subject("lamp").energy_per_day
    assert absent.value.fields == ("converter.efficiency",)


def test_power_without_load_that_is_not_stated_is_not_counted_and_said() -> None:
    """The load behind it is counted all the same."""
    facts = dc_facts(CONVERTED.replace(", idle_power: 2 W", "") % ", efficiency: 80 %")
    with facts.recording() as frame:
        assert facts.subject("converter").energy_per_day == 0
        assert facts.whole.daily_energy_use == pytest.approx(300 * WH)
    assert "converter: power without load is not stated and not counted" in frame.assumptions
    stated = dc_facts(CONVERTED % "")
    with stated.recording() as frame:
        assert stated.subject("converter").energy_per_day == pytest.approx(48 * WH)
    assert not frame.assumptions


def test_what_runs_on_hook_up_only_takes_nothing_from_the_battery() -> None:
    """Its hours need not be known, and that it is left out is said; by day as well, it is counted."""
    facts = dc_facts(
        "components: {lamp: {runs_in: [shore]}, pump: {hours_per_day: 1 h, runs_in: [day, shore]}}"
    )
    with facts.recording() as frame:
        assert facts.whole.daily_energy_use == pytest.approx(6 * 12 * WH)
    assert [one for one in frame.assumptions if "hook-up" in one] == [
        "lamp runs on hook-up only and is left out"
    ]


def test_what_is_no_load_takes_nothing_known() -> None:
    """A fuse box is asked in vain, and the answer says so."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts().subject("box").energy_per_day
    assert absent.value.reason == "box takes no energy from the battery"


def test_what_is_absent_is_named_once_for_each_load() -> None:
    """In the order of the spec; a load with all its figures does not hide the others."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(
            "components: {another: {kind: dc-appliance, power: 1 W, hours_per_day: 1 h}}"
        ).whole.daily_energy_use
    assert absent.value.fields == ("lamp.hours_per_day", "pump.hours_per_day")


def test_what_takes_from_the_battery() -> None:
    """All that is wired and takes by itself: no charger, no box, nothing that lies in the shed."""
    facts = dc_facts(
        CONVERTED % "",
        INVERTER % "",
        """
        components:
          socket: {kind: dc-outlet}
          shed: {kind: dc-appliance, power: 5 W}
          charger: {kind: dc-charger, output_current: 30 A}
        runs:
          s: {medium: dc, from: battery/positive, to: socket/supply, return: ground}
          c: {medium: dc, from: charger/output, to: box/feed, return: ground}
        """,
    )
    assert set(battery_loads(facts)) == {"lamp", "pump", "converter", "inverter", "socket"}


MAINS = """
components:
  {inverter}: {{kind: inverter, rated_power: 2 kW, output_voltage: 230 V, idle_power: 0 W, hours_per_day: 0 h{more}}}
runs:
  {inverter}-up: {{medium: dc, from: battery/positive, to: {inverter}/positive, return: ground}}
  {inverter}-out: {{medium: ac, from: {inverter}/ac-out, to: kettle}}
"""
KETTLE = """
components:
  lamp: {hours_per_day: 0 h}
  pump: {hours_per_day: 0 h}
  kettle: {kind: mains-appliance, mains_power: 900 W, mains_hours_per_day: 20 min%s}
"""
ASSUMED = "taken to hand on 85% (common practice, no source)"


@pytest.mark.parametrize(
    ("kettle", "inverters", "wh", "assumed"),
    [
        ("", [", efficiency: 90 %"], 300 / 0.9, False),
        ("", [""], 300 / 0.85, True),
        (", count: 2", [", efficiency: 75 %"], 2 * 300 / 0.75, False),
        ("", [", efficiency: 90 %", ", efficiency: 60 %"], 300 / 0.6, False),  # the worse of two
        (", modes: [shore]", [", efficiency: 90 %"], 0, False),
        (", modes: [shore, inverter]", [", efficiency: 90 %"], 300 / 0.9, False),
    ],
)
def test_mains_from_the_battery(kettle: str, inverters: list[str], wh: float, assumed: bool) -> None:
    """900 W for 20 minutes are 300 Wh, more by what the inverter loses; none where it is meant for shore."""
    fitted = [MAINS.format(inverter=f"inverter-{n}", more=more) for n, more in enumerate(inverters)]
    facts = dc_facts(KETTLE % kettle, *fitted)
    with facts.recording() as frame:
        assert facts.subject("kettle").energy_through_inverter == pytest.approx(wh * WH)
    assert (f"inverter 0 {ASSUMED}" in frame.assumptions) is assumed
    with facts.recording() as frame:
        assert facts.whole.daily_energy_use == pytest.approx(wh * WH)
    assert "plugged-in things without an entry of their own are not in the daily energy" in frame.assumptions
    assert "water heaters are taken to heat on mains only while the van is hooked up" in frame.assumptions


def test_an_inverter_of_no_efficiency_is_asked_for_it() -> None:
    """0 % is a slip of the pen, not a fault of the program."""
    facts = dc_facts(KETTLE % "", MAINS.format(inverter="inverter", more=", efficiency: 0 %"))
    with pytest.raises(Missing) as absent:
        _ = facts.subject("kettle").energy_through_inverter
    assert absent.value.fields == ("inverter.efficiency",)


def test_the_charger_on_mains_is_no_load_of_the_battery() -> None:
    """It hangs on the inverter's output as on the hook-up, and is not counted."""
    facts = dc_facts(
        KETTLE % "",
        MAINS.format(inverter="inverter", more=""),
        """
        components: {charger: {kind: shore-charger, mains_power: 400 W, mains_hours_per_day: 2 h}}
        runs: {charger-mains: {medium: ac, from: inverter/ac-out, to: charger}}
        """,
    )
    assert facts.subject("charger").energy_through_inverter == 0


def test_without_an_inverter_mains_is_not_asked_about() -> None:
    """A kettle on the hook-up needs no hours, and nothing is said of plugged-in things."""
    facts = dc_facts(KETTLE.replace(", mains_hours_per_day: 20 min", "") % "")
    with facts.recording() as frame:
        assert facts.whole.daily_energy_use == 0
    assert not any("plugged-in" in said or "water heaters" in said for said in frame.assumptions)


LASTS = """
components:
  battery: {{capacity: 100 Ah, usable: {usable} %}}
  lamp: {{current: ~, power: {watt} W, hours_per_day: 10 h}}
  pump: {{hours_per_day: 0 h}}
"""


@pytest.mark.parametrize(
    ("usable", "watt", "most", "least"),
    [
        # 1200 Wh × usable / (W × 10 h), down to half days; worn: of 80 % as much
        (100, 120, 1.0, 0.5),
        (100, 60, 2.0, 1.5),  # worn 1.6
        (100, 48, 2.5, 2.0),  # exactly both
        (80, 47, 2.0, 1.5),  # 2.04, 1.63
        (80, 49, 1.5, 1.5),  # 1.96, 1.57
        (50, 200, 0.0, 0.0),  # 0.3
    ],
)
def test_days_without_charge(usable: int, watt: int, most: float, least: float) -> None:
    """A division, down to halves; a worn battery has 80 % of its capacity left, and that is said."""
    whole = dc_facts(LASTS.format(usable=usable, watt=watt)).whole
    assert whole.most_days_without_charge == most
    with whole.van.recording() as frame:
        assert whole.least_days_without_charge == least
    assert "worn battery taken at 80 % of its capacity (common practice, no source)" in frame.assumptions


def test_nothing_that_takes_energy_gives_no_days() -> None:
    """No division by nothing: the reason is told."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts(LASTS.format(usable=80, watt=0)).whole.most_days_without_charge
    assert absent.value.reason == "nothing takes energy from the battery"


@pytest.mark.parametrize(
    ("days", "told"),
    [(0.0, 0.0), (0.49, 0.0), (0.5, 0.5), (0.99, 0.5), (1.0, 1.0), (2.7, 2.5), (3 * 0.1 / 0.2, 1.5), (0.4999999999, 0.5), (0.5 - 0.525e-9, 0.0)],
)  # fmt: skip
def test_down_to_halves(days: float, told: float) -> None:
    """What lacks less than a billionth of a half is that half: divisions of floats are not exact."""
    assert halves(days) == told


BANK = [
    # over the battery of 12 V with 100 Ah, Wh
    ("battery: {usable: 80 %}", "", 960),
    ("battery: {usable: 80 %}", "use: {reserve: 30 %}", 840),
    ("battery: {usable: 50 %}", "use: {reserve: 30 %}", 600),
    ("battery: {}", "use: {reserve: 30 %}", 840),
    ("battery: {usable: 80 %}, two: {kind: battery, nominal_voltage: 24 V, capacity: 50 Ah, usable: 50 %}", "", 960 + 600),
    ("battery: {usable: 80 %}, two: {kind: battery, role: starter, nominal_voltage: 12 V, capacity: 70 Ah}", "", 960),
]  # fmt: skip


@pytest.mark.parametrize(("batteries", "use", "wh"), BANK)
def test_usable_energy(batteries: str, use: str, wh: float) -> None:
    """Ah × V × the lesser of the battery's window and what the reserve leaves, of house batteries alone."""
    facts = dc_facts("components: {battery: {capacity: 100 Ah}}", f"components: {{{batteries}}}", use or "{}")
    assert facts.whole.usable_energy == pytest.approx(wh * WH)


def test_usable_energy_that_is_not_known() -> None:
    """Neither a window nor a reserve; or no house battery at all."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts("components: {battery: {capacity: 100 Ah}}").whole.usable_energy
    assert absent.value.fields == ("battery.usable",)
    with pytest.raises(Missing) as absent:
        _ = dc_facts("components: {battery: {role: starter}}").whole.usable_energy
    assert absent.value.reason == "the spec has no house battery"
