"""What runs from the inverter comes out of the battery, too: derived by hand, P · t / η."""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

VAN = """
components:
  battery: {{kind: battery, nominal_voltage: 12 V, capacity: 200 Ah, usable: 80 %}}
  inverter: {{kind: inverter, rated_power: 2 kW, surge_power: 4 kW, output_voltage: 230 V, efficiency: 90 %, idle_power: 0 W, hours_per_day: 0 h}}
  hob: {{kind: induction-hob, mains_power: 1.8 kW{hours}}}
runs:
  plus: {{medium: dc, from: battery/positive, to: inverter/positive}}
  minus: {{medium: dc, from: battery/negative, to: inverter/negative}}
  hob-cable: {{medium: ac, from: {source}, to: hob}}
"""


def facts(
    hours: str = ", mains_hours_per_day: 30 min", source: str = "inverter/ac-out", more: str = ""
) -> Facts:
    text = VAN.format(hours=hours, source=source)
    return Facts(build(text.replace("runs:", f"{more}\nruns:", 1)))


def test_the_hob_takes_its_energy_through_the_inverter() -> None:
    """1.8 kW for half an hour are 0.9 kWh, of which the inverter makes 1 kWh from the battery."""
    van = facts()
    assert van.subject("hob").energy_through_inverter == pytest.approx(1000 * 3600)
    assert van.whole.daily_energy_use == pytest.approx(1000 * 3600)
    # 200 Ah × 12 V × 80 % = 1920 Wh, down to half days
    assert van.whole.most_days_without_charge == 1.5


def test_on_shore_alone_it_takes_none() -> None:
    """What only the hook-up feeds is no load of the battery."""
    inlet = "  inlet: {kind: shore-inlet, rated_current: 16 A}"
    assert facts(source="inlet", more=inlet).subject("hob").energy_through_inverter == 0


def test_hours_that_are_not_stated_are_asked_for() -> None:
    """Nothing is guessed, and the field is named."""
    with pytest.raises(Missing) as raised:
        _ = facts(hours="").whole.daily_energy_use
    assert raised.value.fields == ("hob.mains_hours_per_day",)
