"""Heaters against one small van: 6 m² of roof under foam of R 1, nothing else, 20 °C inside and 0 °C outside.

It loses 6/1.14 · 20 = 105.3 W, at most 6 · 20 · (0.9/1.14 + 0.1/0.14) = 180.5 W over a tenth of metal ribs.
"""

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing

SHELL = "roof: 6 m², left_wall: 0 m², right_wall: 0 m², rear_doors: 0 m², side_door: 0 m², floor: 0 m², cab: 0 m², leakage: 0 m³/h"
VAN = """
vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}, shell: {%s}}
use: {people: {adults: 2}, night: 8 h, inside_temperature: 20 °C, places: [{latitude: 46 deg, night_temperature: 0 °C%s}]}
components:
  foam: {kind: insulation-layer, surface: roof, material: wool, conductivity: 0.04 W/(m·K), thickness: 40 mm, bridged_by_metal: 10 %%}
%s
"""
LEAST, GREATEST = 6 / 1.14 * 20, 6 * 20 * (0.9 / 1.14 + 0.1 / 0.14)
DIESEL = "kind: air-heater, burns: diesel, output: 1 kW, fuel_flow: 0.12 L/h, power: 30 W"
GAS = "kind: combined-heater, burns: propane, output: 1 kW, gas_flow: 80 g/h, power: 20 W"


def van(*parts: str, runs: str = "{}", place: str = "") -> Subject:
    """The small van with some parts, which are called a, b, c …"""
    lines = "\n".join(f"  {chr(97 + n)}: {{{part}}}" for n, part in enumerate(parts))
    return Facts(build(VAN % (SHELL, place, lines) + f"runs: {runs}\n")).whole


@pytest.mark.parametrize("count", [1, 2])
def test_fuel_and_electricity_of_a_night(count: int) -> None:
    """105 to 180 W of a kilowatt at 0.12 L/h and 30 W for eight hours; two heaters each run half as long."""
    whole = van(f"{DIESEL}, count: {count}")
    assert whole.heater_output == 1000 * count
    assert whole.heat_to_spare == pytest.approx(1000 * count - GREATEST)
    litres = (whole.least_fuel_of_a_night * 1000, whole.greatest_fuel_of_a_night * 1000)
    assert litres == pytest.approx((LEAST / 1000 * 0.12 * 8, GREATEST / 1000 * 0.12 * 8))
    assert whole.greatest_electricity_of_heating / 3600 == pytest.approx(GREATEST / 1000 * 30 * 8)
    assert (whole.least_gas_of_a_night, whole.greatest_gas_of_a_night) == (0, 0)


@pytest.mark.parametrize("count", [1, 2])
@pytest.mark.parametrize(
    ("stated", "grams"), [("gas_flow: 80 g/h", 80), ("input: 1.287 kW, input_basis: net", 100)]
)
def test_gas_of_a_night(count: int, stated: str, grams: float) -> None:
    """As stated, else 1.287 kW over 46.33 MJ/kg: 100 g an hour at full output."""
    whole = van(f"{GAS.replace('gas_flow: 80 g/h', stated)}, count: {count}")
    found = (whole.least_gas_of_a_night * 1000, whole.greatest_gas_of_a_night * 1000)
    assert found == pytest.approx((LEAST / 1000 * grams * 8, GREATEST / 1000 * grams * 8), rel=1e-3)
    assert whole.greatest_fuel_of_a_night == 0


def test_diesel_from_the_input_is_said() -> None:
    """2.5 kW over 9.948 kWh/L; of petrol no heating value is known."""
    part = "kind: air-heater, burns: %s, input: 2.5 kW, output: 2 kW"
    whole = van(part % "diesel")
    with whole.van.recording() as frame:
        litres = whole.greatest_fuel_of_a_night * 1000
    assert litres == pytest.approx(GREATEST / 2000 * 2.5 / 9.948 * 8, rel=1e-3)
    assert any("a: fuel from its input and 9.948 kWh/L" in text for text in frame.assumptions)
    with pytest.raises(Missing) as caught:
        _ = van(part % "petrol").greatest_fuel_of_a_night
    assert caught.value.fields == ("a.fuel_flow",)


def test_a_heater_that_gives_nothing_runs_all_night() -> None:
    """0.12 L/h for eight hours, and no more than that where it gives too little."""
    for output in ("0 W", "100 W"):
        whole = van(DIESEL.replace("1 kW", output))
        assert whole.greatest_fuel_of_a_night * 1000 == pytest.approx(0.96)


@pytest.mark.parametrize(
    ("parts", "nights"),
    [
        # 20 L less 8 over 0.1732 L a night are 69.3, twice 20 less 8 are 184.7, 5 less 8 none.
        ((DIESEL, "kind: fuel-tank, volume: 20 L", "kind: fuel-takeoff, reserve_left: 8 L"), 69.0),
        ((DIESEL, "kind: fuel-tank, volume: 20 L, count: 2", "kind: fuel-takeoff, reserve_left: 8 L"), 184.5),
        ((DIESEL, "kind: fuel-tank, volume: 5 L", "kind: fuel-takeoff, reserve_left: 8 L"), 0.0),
        ((DIESEL,), None),
        ((GAS, "kind: fuel-tank, volume: 20 L"), None),
    ],
)
def test_nights_that_the_fuel_lasts(parts: tuple[str, ...], nights: float | None) -> None:
    """In halves, rounded down; without a tank or a heater that burns from it there are none to tell."""
    if nights is not None:
        assert van(*parts).nights_of_heating_fuel == nights
        return
    with pytest.raises(Missing, match="no heater burns liquid fuel from a listed tank"):
        _ = van(*parts).nights_of_heating_fuel


HYDRONIC = "kind: hydronic-heater, burns: diesel, output: 5 kW"


@pytest.mark.parametrize(
    ("parts", "watts"),
    [
        ((HYDRONIC,), 5000),
        ((HYDRONIC, "kind: radiator, output: 1 kW, count: 2"), 2000),
        ((HYDRONIC, "kind: radiator, output: 1 kW", "kind: radiator"), 1000),
        ((HYDRONIC, "kind: radiator, output: 9 kW"), 5000),
        ((DIESEL, "kind: radiator, output: 200 W"), 1000),
        (("kind: electric-heater, energy: dc, power: 120 W, count: 2",), 240),
    ],
)
def test_what_the_heaters_give(parts: tuple[str, ...], watts: float) -> None:
    """A hydronic heater no more than its radiators, of which one that does not say is left out."""
    assert van(*parts).heater_output == watts


@pytest.mark.parametrize(
    ("place", "low", "liquid"),
    [("", True, False), (", altitude: 0 m", False, False), (", altitude: 1500 m", False, True)],
)
def test_what_is_said_of_height(place: str, low: bool, liquid: bool) -> None:
    """No place that tells its height is taken at the sea's; liquid fuel is not reduced, which is said."""
    whole = van(DIESEL, place=place)
    with whole.van.recording() as frame:
        assert whole.heater_output == 1000
    assert any("heaters reckoned at sea level" in text for text in frame.assumptions) is low
    assert (
        any("output of liquid fuel not reduced with height" in text for text in frame.assumptions) is liquid
    )


@pytest.mark.parametrize(
    ("parts", "watts"),
    [
        (("kind: electric-heater, mains_power: 1 kW, count: 2", f"{GAS}, mains_power: 1.8 kW"), 3800),
        (
            (
                "kind: electric-heater, mains_power: 1 kW",
                "kind: electric-heater, energy: dc, power: 120 W",
                GAS,
            ),
            1000,
        ),
        ((GAS,), 0),
    ],
)
def test_heat_on_hook_up(parts: tuple[str, ...], watts: float) -> None:
    """Electric heaters on the mains and elements of combined ones; nothing on the battery."""
    assert van(*parts).hook_up_heat == watts


TAP, RADIATOR = "kind: engine-coolant-takeoff", "kind: radiator, output: 2 kW, count: 2"
DIRECT = "{o: {medium: water, from: a/engine-coolant-flow, to: b/coolant-in}, i: {medium: water, from: b/coolant-out, to: a/engine-coolant-return}"
BEHIND = (
    "{o: {medium: water, from: a/engine-coolant-flow, to: c/engine-coolant-in}, i: {medium: water, from:"
    " c/engine-coolant-out, to: a/engine-coolant-return}, s: {medium: water, from: c/coolant-out, to: b/coolant-in}}"
)


@pytest.mark.parametrize(
    ("parts", "runs", "watts"),
    [
        ((TAP, RADIATOR), DIRECT + "}", 4000),
        ((TAP, RADIATOR), "{}", 0),
        ((TAP, RADIATOR, "kind: heat-exchanger, output: 1 kW, count: 3"), BEHIND, 3000),
        ((TAP, RADIATOR, "kind: heat-exchanger, output: 9 kW"), BEHIND, 4000),
        # An exchanger that no coolant reaches, or that warms water, passes nothing on to a radiator.
        (
            (TAP, RADIATOR, "kind: heat-exchanger, output: 9 kW", RADIATOR),
            DIRECT + ", s: {medium: water, from: c/coolant-out, to: d/coolant-in}}",
            4000,
        ),
        (
            (TAP, "kind: tap, form: hot", "kind: heat-exchanger, secondary: water"),
            BEHIND.replace("c/coolant-out, to: b/coolant-in", "c/hot, to: b"),
            0,
        ),
        ((DIESEL,), "{}", 0),
    ],
)
def test_what_the_engine_gives(parts: tuple[str, ...], runs: str, watts: float) -> None:
    """All radiators that its coolant reaches, behind exchangers no more than these pass on."""
    assert van(*parts, runs=runs).engine_heat == watts
