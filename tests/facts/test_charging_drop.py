"""Voltage lost between a charger and its battery: I · R of the cables out and back, by hand.

Resistances of IEC 60228 class 5 at 20 °C: 3.30 mΩ/m at 6 mm², 1.91 mΩ/m at 10 mm², 1.21 mΩ/m at 16 mm².
"""

import pytest
from dc_van import dc_facts

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing

FED = """
components: {sun: {kind: solar-controller, rated_current: 20 A, absorption_voltage: 14.2 V, battery_voltage: 12 V}}
runs: {out: {medium: dc, from: sun/battery, to: box/feed, return: same cable, conductor: 6 mm², length: 1 m}}
"""
MAIN = 2 * 2 * 1.91e-3
"""Battery to box, 2 m of 10 mm² and as much back."""


def sun(*over: str) -> Subject:
    return dc_facts(FED, *over).subject("sun")


STARTER = """
components: {starter: {kind: battery, role: starter, nominal_voltage: 12 V}}
runs:
  s: {medium: dc, from: starter/positive, to: box/feed, return: s-back, conductor: 16 mm², length: 1 m}
  s-back: {medium: dc, from: starter/negative, to: box/feed, conductor: 16 mm², length: 1 m}
"""
STARTER_FIRST = """
components: {battery: {role: starter}, house: {kind: battery, nominal_voltage: 12 V}}
runs:
  s: {medium: dc, from: house/positive, to: box/feed, return: s-back, conductor: 16 mm², length: 1 m}
  s-back: {medium: dc, from: house/negative, to: box/feed, conductor: 16 mm², length: 1 m}
"""
DROPS = [
    # what is laid over it, ohm, volt
    ("{}", 2 * 3.30e-3 + MAIN, 14.2),
    ("runs: {out: {protection: [{fuse: 30 A, family: blade, distance: 0.5 m}]}}", 2 * 3.30e-3 + MAIN, 14.2),
    ("runs: {out: {return_conductor: 10 mm²}}", 3.30e-3 + 1.91e-3 + MAIN, 14.2),
    (
        "runs: {out: {return: back}, back: {medium: dc, from: sun/battery, to: box/feed, conductor: 16 mm², length: 3 m}}",
        3.30e-3 + 3 * 1.21e-3 + MAIN,
        14.2,
    ),
    # out by the cable of 1 m, back by one of 0.5 m that belongs to a longer way out
    (
        "runs: {out: {return_conductor: 10 mm²}, "
        "long: {medium: dc, from: sun/battery, to: box/feed, return: short, conductor: 16 mm², length: 3 m}, "
        "short: {medium: dc, from: sun/battery, to: box/feed, conductor: 16 mm², length: 0.5 m}}",
        3.30e-3 + 0.5 * 1.21e-3 + MAIN,
        14.2,
    ),
    ("components: {sun: {absorption_voltage: ~}}", 2 * 3.30e-3 + MAIN, 12),
    (STARTER, 2 * 3.30e-3 + MAIN, 14.2),  # the house battery, though a starter battery is nearer
    (STARTER_FIRST, 2 * 3.30e-3 + 2 * 1.21e-3, 14.2),
    (
        "components: {battery: {role: starter}}",
        2 * 3.30e-3 + MAIN,
        14.2,
    ),  # where there is none, whichever is there
]


@pytest.mark.parametrize(("over", "ohm", "volt"), DROPS)
def test_share_that_is_lost(over: str, ohm: float, volt: float) -> None:
    """20 A × the cables out and back / the voltage at which it charges."""
    found = sun(over)
    assert found.charges_a_battery is True
    assert found.charging_drop_share == pytest.approx(20 * ohm / volt)


UNKNOWN = [
    ("runs: {main: ~}", (), "sun is joined to no battery"),
    ("components: {sun: {rated_current: ~}}", ("sun.rated_current",), ""),
    ("components: {sun: {absorption_voltage: ~, battery_voltage: ~}}", ("sun.absorption_voltage",), ""),
    ("runs: {out: {return: chassis}}", (), "no way back from sun to the battery is written"),
    (
        "components: {stud: {kind: chassis-point, measured_resistance: 5 mΩ}}\n"
        "runs: {out: {from: battery/positive, to: sun/battery, return: chassis}, bond: {medium: dc, from: battery/negative, to: stud, conductor: 10 mm²}}",
        (),
        "sun returns through the chassis",
    ),
]


@pytest.mark.parametrize(("over", "fields", "reason"), UNKNOWN)
def test_what_is_not_known_is_asked_for(over: str, fields: tuple[str, ...], reason: str) -> None:
    """Each is named, none is taken for nothing."""
    with pytest.raises(Missing) as absent:
        _ = sun(over).charging_drop_share
    assert (absent.value.fields, absent.value.reason) == (fields, reason)


def test_a_charger_on_no_battery_charges_none() -> None:
    """It feeds a lamp alone."""
    assert sun("runs: {main: ~}").charges_a_battery is False


@pytest.mark.parametrize(("stated", "senses"), [("true", True), ("false", False), ("~", False)])
def test_a_sense_lead(stated: str, senses: bool) -> None:
    """Only one that is stated counts."""
    assert sun(f"components: {{sun: {{remote_sense: {stated}}}}}").senses_at_battery is senses
