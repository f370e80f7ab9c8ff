"""What alternator and shore give the house batteries, and what these take: power balances by hand."""

from math import inf

import pytest
from dc_van import dc_facts

from specreg.facts.charging_power import bank, too_cold
from specreg.facts.missing import Missing

HOUR = 3600
DRIVING = """
components:
  alternator: {kind: alternator, rated_current: %s, present_draw: %s, charging_voltage: 14 V}
  charger: {kind: dc-charger, output_current: 30 A, efficiency: 80 %%}
runs:
  in: {medium: dc, from: alternator/positive, to: charger/input, return: chassis}
  out: {medium: dc, from: charger/output, to: box/feed, return: ground}
"""
BOTH = """
components: {second: {kind: alternator, rated_current: 20 A, present_draw: 10 A, charging_voltage: 14 V}}
runs: {in-2: {medium: dc, from: second/positive, to: charger/input, return: chassis}}
"""


@pytest.mark.parametrize(
    ("rated", "draw", "more", "watts"),
    [
        ("100 A", "40 A", [], 30 * 12),  # 60 A × 14 V × 80 % would be 672 W
        ("60 A", "40 A", [], 20 * 14 * 0.8),
        ("60 A", "40 A", [BOTH], (20 + 10) * 14 * 0.8),
        ("40 A", "60 A", [], 0),
        ("40 A", "60 A", [BOTH], 10 * 14 * 0.8),  # what one lacks the other does not owe
    ],
)
def test_a_charger_gives_its_output_or_what_is_to_spare(
    rated: str, draw: str, more: list[str], watts: float
) -> None:
    """The lesser of 30 A at 12 V and what alternators have left at rated speed, through the charger."""
    facts = dc_facts(DRIVING % (rated, draw), *more)
    charger = facts.subject("charger")
    with facts.recording() as frame:
        assert charger.charging_power == pytest.approx(watts)
    assert any("hot idling and slow traffic not counted" in sentence for sentence in frame.assumptions)
    assert charger.charge_per_driving_hour == pytest.approx(watts * HOUR)
    assert facts.whole.charging_power_driving == pytest.approx(watts)


TWO = """
components: {charger-2: {kind: dc-charger, output_current: 30 A, efficiency: 90 %}}
runs:
  in-2: {medium: dc, from: alternator/positive, to: charger-2/input, return: chassis}
  out-2: {medium: dc, from: charger-2/output, to: box/feed, return: ground}
"""
TWO_ALTERNATORS = """
components: {second: {kind: alternator, rated_current: 20 A, present_draw: 10 A, charging_voltage: 14 V}}
runs: {in-2: {from: second/positive}}
"""


@pytest.mark.parametrize(
    ("rated", "more", "watts"),
    [
        ("200 A", [], 360 + 360),
        # 20 A x 14 V go in: 224 W and 252 W are what each would give alone, half of each goes in
        ("60 A", [], (224 + 252) / 2),
        ("40 A", [], 0),
        # each on an alternator of its own: neither takes from the other
        ("60 A", [TWO_ALTERNATORS], 224 + 10 * 14 * 0.9),
    ],
)
def test_two_chargers_share_what_an_alternator_has_to_spare(
    rated: str, more: list[str], watts: float
) -> None:
    """What both ask for at once is no more than is there, once."""
    whole = dc_facts(DRIVING % (rated, "40 A"), TWO, *more).whole
    assert whole.charging_power_driving == pytest.approx(watts)


def test_a_charger_without_an_alternator_gives_nothing_known() -> None:
    """Its input hangs on nothing: that is said."""
    facts = dc_facts(DRIVING % ("100 A", "40 A"), "runs: {in: ~}")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("charger").charging_power
    assert absent.value.reason == "no alternator is joined to charger"


def test_an_efficiency_of_nothing_is_asked_for() -> None:
    """0 % is a slip of the pen."""
    facts = dc_facts(DRIVING % ("100 A", "40 A"), "components: {charger: {efficiency: 0 %}}")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("charger").charging_power
    assert absent.value.fields == ("charger.efficiency",)


def test_a_battery_on_a_contact_gets_all_that_is_spare() -> None:
    """(100 A − 40 A) × 14 V; a charger beside the contact adds nothing to that, and it is said."""
    relay = """
    components: {relay: {kind: split-relay}}
    runs:
      up: {medium: dc, from: alternator/positive, to: relay/starter}
      on: {medium: dc, from: relay/house, to: box/feed, return: ground}
    """
    facts = dc_facts(DRIVING % ("100 A", "40 A"), relay)
    with facts.recording() as frame:
        assert facts.whole.charging_power_driving == pytest.approx(60 * 14)
    assert any("by a contact taken to get all" in sentence for sentence in frame.assumptions)
    assert dc_facts().whole.charging_power_driving == 0


SHARE = [
    # rated current and voltage of the alternator, what it is to give: its own 40 A and 360 W / 80 % / 14 V
    ("100 A", "14 V", (40 + 360 / 0.8 / 14) / 100),
    ("0 A", "14 V", None),
    ("100 A", "0 V", None),
]


@pytest.mark.parametrize(("rated", "volts", "share"), SHARE)
def test_share_of_an_alternator(rated: str, volts: str, share: float | None) -> None:
    """What the vehicle and the charger joined to it take; one that hangs on another and gives does not."""
    other = """
    components:
      second: {kind: alternator, rated_current: 50 A, present_draw: 0 A, charging_voltage: 14 V}
      charger-2: {kind: dc-charger, output_current: 30 A}
    runs:
      in-2: {medium: dc, from: second/positive, to: charger-2/input, return: chassis}
      out-2: {medium: dc, from: charger-2/output, to: charger/input, return: chassis}
    """
    facts = dc_facts(
        DRIVING % ("100 A", "40 A"),
        other,
        f"components: {{alternator: {{rated_current: {rated}, charging_voltage: {volts}}}}}",
    )
    alternator = facts.subject("alternator")
    if share is not None:
        assert alternator.share_taken == pytest.approx(share)
        return
    with pytest.raises(Missing) as absent:
        _ = alternator.share_taken
    assert set(absent.value.fields) == {"alternator.rated_current", "alternator.charging_voltage"}


SHORE = """
components:
  shore: {kind: shore-charger, charge_current: 20 A}
  combi: {kind: inverter-charger, charge_current: 50 A}
  sun: {kind: solar-controller, rated_current: 30 A}
  beside: {kind: shore-charger, charge_current: 99 A}
runs:
  one: {medium: dc, from: shore/positive, to: box/feed, return: chassis}
  two: {medium: dc, from: battery/positive, to: combi/positive, return: chassis}
  three: {medium: dc, from: sun/battery, to: box/feed, return: chassis}
"""


@pytest.mark.parametrize(("volts", "watts"), [("12 V", 70 * 12), ("12.8 V", 70 * 12.8)])
def test_power_on_shore(volts: str, watts: float) -> None:
    """20 A and 50 A from mains; neither the sun nor a charger that hangs on no battery."""
    facts = dc_facts(SHORE, f"components: {{battery: {{nominal_voltage: {volts}}}}}")
    assert facts.whole.charging_power_on_shore == pytest.approx(watts)


LIKE = "nominal_voltage: 12 V, capacity: 100 Ah, usable: 80 %, charge_current: 50 A, discharge_current: 80 A"


def test_a_string_is_charged_at_the_sum_of_its_voltages() -> None:
    """Two of 12 V in series take 20 A at 24 V, whichever of the two is written first."""
    series = f"""
    components:
      lower: {{kind: battery, {LIKE}}}
      shore: {{kind: shore-charger, charge_current: 20 A}}
    runs:
      link: {{medium: dc, from: battery/negative, to: lower/positive}}
      ground: {{from: lower/negative}}
      up: {{medium: dc, from: shore/positive, to: box/feed, return: chassis}}
    """
    facts = dc_facts(series, f"components: {{battery: {{{LIKE}}}}}")
    assert facts.whole.charging_power_on_shore == pytest.approx(20 * 24)
    assert facts.whole.battery_takes_at_most == pytest.approx(50 * 24)


def test_a_bank_of_two_voltages_is_reckoned_at_the_lower() -> None:
    """20 A at 12 V, not at 12.8 V; what the batteries take and give is the sum of both."""
    other = """
    components:
      other: {kind: battery, nominal_voltage: 12.8 V, charge_current: 100 A, discharge_current: 150 A}
      shore: {kind: shore-charger, charge_current: 20 A}
      engine: {kind: battery, role: starter, nominal_voltage: 6 V, charge_current: 10 A, discharge_current: 10 A}
    runs: {up: {medium: dc, from: shore/positive, to: box/feed, return: chassis}}
    """
    whole = dc_facts(other, f"components: {{battery: {{{LIKE}}}}}").whole
    assert whole.charging_power_on_shore == pytest.approx(20 * 12)
    assert whole.battery_takes_at_most == pytest.approx(50 * 12 + 100 * 12.8)
    assert whole.battery_gives_at_most == pytest.approx(80 * 12 + 150 * 12.8)


def test_without_a_house_battery_there_is_nothing_to_charge() -> None:
    """A starter battery is none, and that is said."""
    whole = dc_facts("components: {battery: {role: starter}}").whole
    for name in ("charging_power_driving", "charging_power_on_shore", "battery_takes_at_most"):
        with pytest.raises(Missing) as absent:
            getattr(whole, name)
        assert absent.value.reason == "the spec has no house battery"


BANKS = [
    # chemistry, share that comes back least and most, share over which charging falls off
    ("lithium iron phosphate", 0.92, 0.98, 0.05),
    ("agm", 0.75, 0.85, 0.20),
]


@pytest.mark.parametrize(("chemistry", "least", "most", "taper"), BANKS)
@pytest.mark.parametrize("aged", [1.0, 0.8])
def test_a_bank_as_one_store(chemistry: str, least: float, most: float, taper: float, aged: float) -> None:
    """100 Ah at 12 V of which 80 % are used; what it loses and how it fills by chemistry, said as assumed."""
    facts = dc_facts(f"components: {{battery: {{{LIKE}, chemistry: {chemistry}}}}}")
    with facts.recording() as frame:
        low = bank(facts.whole, most=False, aged=aged)
    full = 100 * HOUR * 12 * aged
    assert (low.full, low.reserve) == pytest.approx((full, 0.2 * full))
    assert (low.efficiency, low.taper) == (least, taper)
    assert (low.greatest_power, low.greatest_draw) == pytest.approx((50 * 12, 80 * 12))
    assert bank(facts.whole, most=True, aged=aged).efficiency == most
    (said,) = frame.assumptions
    assert said.startswith("of the charge 92 to 98 % comes back from lithium, 75 to 85 % from lead")


def test_a_bank_of_two_chemistries_fills_like_lead() -> None:
    """One lead battery in it is enough: the worse of both is taken."""
    lead = f"{LIKE}, chemistry: agm"
    facts = dc_facts(
        f"components: {{battery: {{{LIKE}, chemistry: lithium iron phosphate}}, other: {{kind: battery, {lead}}}}}"
    )
    assert bank(facts.whole, most=False, aged=1.0).efficiency == 0.75


def test_a_limit_that_is_not_stated_bounds_nothing_and_is_said() -> None:
    """Charging and discharging each by itself."""
    facts = dc_facts("components: {battery: {capacity: 100 Ah, usable: 80 %, chemistry: agm}}")
    with facts.recording() as frame:
        found = bank(facts.whole, most=False, aged=1.0)
    assert (found.greatest_power, found.greatest_draw) == (inf, inf)
    said = [sentence for sentence in frame.assumptions if sentence.startswith("greatest current in")]
    assert [sentence.split()[3] for sentence in said] == ["charging", "discharging"]


def test_a_bank_of_no_capacity_is_asked_for_it() -> None:
    """0 Ah is a slip of the pen: each battery's field is named."""
    facts = dc_facts("components: {battery: {capacity: 0 Ah, usable: 80 %, chemistry: agm}}")
    with pytest.raises(Missing) as absent:
        bank(facts.whole, most=False, aged=1.0)
    assert absent.value.fields == ("battery.capacity",)


COLD = [
    # what the battery states, the outside in °C, whether it must not be charged
    ("least_charging_temperature: 5 °C, kept_above: -30 °C", 4.9, True),
    ("least_charging_temperature: 5 °C, kept_above: -30 °C", 5.0, False),
    ("least_charging_temperature: 5 °C, kept_above: 6 °C", -20.0, False),
    ("least_charging_temperature: 5 °C, kept_above: 4 °C", -20.0, True),
    ("least_charging_temperature: 5 °C, kept_above: 4 °C", 10.0, False),
    ("least_charging_temperature: 5 °C", -20.0, True),
    ("least_charging_temperature: 5 °C, heated: true", -20.0, False),
    ("least_charging_temperature: 5 °C, heated: false", -20.0, True),
    ("kept_above: -30 °C", -0.1, True),
    ("kept_above: -30 °C", 0.1, False),
    ("chemistry: agm", -20.0, False),
]


@pytest.mark.parametrize(("stated", "celsius", "cold"), COLD)
def test_too_cold_to_charge(stated: str, celsius: float, cold: bool) -> None:
    """Lithium below its least temperature, by the makers 0 °C, where it is neither heated nor kept warm."""
    lithium = "chemistry: lithium iron phosphate, " if "chemistry" not in stated else ""
    facts = dc_facts(f"components: {{battery: {{{lithium}{stated}}}}}")
    with facts.recording() as frame:
        assert too_cold(facts.whole, celsius + 273.15) is cold
    reckoned = "agm" not in stated and "heated: true" not in stated
    for field, words in (
        ("least_charging", "no charging below 0 °C taken"),
        ("kept_above", "as cold as the air"),
    ):
        said = any(words in sentence for sentence in frame.assumptions)
        assert said is (reckoned and field not in stated)


def test_one_battery_that_is_too_cold_is_enough() -> None:
    """A lead battery beside it may be charged at any temperature."""
    facts = dc_facts(
        "components: {battery: {chemistry: agm}, other: {kind: battery, chemistry: lithium iron phosphate}}"
    )
    assert too_cold(facts.whole, 260) is True
