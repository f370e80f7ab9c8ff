"""Water and gas against the outside: tests/published/water-and-gas.csv and three published tables.

Kinds are counted apart: published, rule, derived. A table counts once.
"""

import csv
from collections.abc import Callable
from math import log, pi
from pathlib import Path

import pytest
from building import build
from fluids.friction import friction_factor as library_friction_factor
from water_system import water_system

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.freeze_order import cooling_time
from specreg.facts.gas_pressure import pipe_loss, propane_vapour
from specreg.facts.gas_vapour import LATENT_HEAT, pressure_over, vapour, wetted_area
from specreg.facts.hot_water import heat_content
from specreg.facts.pipe_friction import friction_factor, friction_loss
from specreg.facts.tap_flow import GRAVITY
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Answer
from specreg.tables import environment, liquefied_gas
from specreg.tables.constant import rows as table_rows
from specreg.tables.water import density
from specreg.units import Dimension, parse

TESTS = Path(__file__).parents[1]
RULES, _ = load_pack(TESTS.parent / "rules")
BTU = 1055.05585262
BTU_PER_HOUR = BTU / 3600
INCH, FOOT, POUND, GALLON = 0.0254, 0.3048, 0.45359237, 0.003785411784
PSI, INCH_OF_WATER, CUP = 6894.757, 249.08891, 0.2365882365e-3
GROSS = environment.constant("propane-gross-heating-value-vaporised").value
SMALL_TUBE, LARGE_TUBE = 0.305 * INCH, 0.402 * INCH
STEEL = 46e-6
"""Roughness of commercial steel in m (from memory)."""


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a file of published checks."""
    with (TESTS / "published" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


CHECKS = {row["id"]: row for row in rows("water-and-gas.csv")}


def kelvin(fahrenheit: float) -> float:
    """A temperature in K."""
    return (fahrenheit + 459.67) / 1.8


def one(kind: str, fields: str) -> Subject:
    """A component alone."""
    return Facts(build(f"components: {{thing: {{kind: {kind}, {fields}}}}}")).subject("thing")


def passes(identity: str, text: str) -> bool:
    """Whether one rule of the pack passes on a spec."""
    pack = Pack((RULES.by_identity()[identity],))
    found = {r.answer for r in judge(pack, Facts(build(text)))} - {Answer.not_applicable}
    assert found <= {Answer.passes, Answer.fails} and len(found) == 1
    return found == {Answer.passes}


def burner_hours(pounds: float) -> float:
    """Hours that some propane lasts at 131 742 BTU/h."""
    van = Facts(
        build(
            f"""
            components:
              cylinder: {{kind: gas-cylinder, content: {pounds} lb, usable: 100 %}}
              burner: {{kind: oven, burns: propane, input: {131_742 * BTU_PER_HOUR:.4f} W, input_basis: gross}}
            runs: {{pipe: {{medium: gas, from: cylinder/valve, to: burner}}}}
            """
        )
    )
    return float(van.subject("cylinder").lasts_at_full_output) / 3600


def two_appliances() -> float:
    """Hours of a cylinder at full output of two appliances of different basis."""
    van = Facts(
        build(
            """
            components:
              cylinder: {kind: gas-cylinder, content: 6 kg, usable: 90 %}
              hob: {kind: hob, burns: propane, input: 1.2 kW, input_basis: net}
              oven: {kind: oven, burns: propane, input: 2 kW, input_basis: gross}
              manifold: {kind: gas-manifold, ways: {a: {}, b: {}}}
            runs:
              main: {medium: gas, from: cylinder/valve, to: manifold}
              one: {medium: gas, from: manifold/a, to: hob}
              two: {medium: gas, from: manifold/b, to: oven}
            """
        )
    )
    return float(van.subject("cylinder").lasts_at_full_output) / 3600


def dose(use: str, tank: str) -> float:
    """Bleach in m³ for a tank."""
    text = f"use: {{{use}}}\ncomponents: {{tank: {{kind: fresh-tank, volume: {tank}}}}}"
    return float(Facts(build(text)).subject("tank").sanitising_bleach)


def pressure(gas: str, fahrenheit: float) -> float:
    """Pressure of pure gas above the air's, in psi."""
    return pressure_over(1.0 if gas == "propane" else 0.0, kelvin(fahrenheit)) / PSI


def in_water(watts_thousand_btu: float, feet: float, bore: float) -> float:
    """Pressure in inches of water that a copper pipe takes."""
    return pipe_loss(watts_thousand_btu * 1000 * BTU_PER_HOUR / GROSS, feet * FOOT, bore) / INCH_OF_WATER


def in_steel(thousand_btu: float, feet: float) -> float:
    """Pressure in inches of water that half-inch black iron pipe takes."""
    fluid = propane_vapour()
    flow = thousand_btu * 1000 * BTU_PER_HOUR / GROSS / fluid.density
    return friction_loss(flow, feet * FOOT, 0.622 * INCH, fluid, STEEL) / INCH_OF_WATER


def cold(gas: str, celsius: int) -> str:
    """A spec with a cylinder and a night."""
    return f"""
        use: {{places: [{{latitude: 50 deg, night_temperature: {celsius} °C}}]}}
        components: {{cylinder: {{kind: gas-cylinder, gas: {gas}}}}}
        """


def tightness(where: str, drop: str) -> bool:
    """Whether a recorded loss passes somewhere."""
    text = f"""
        jurisdictions: [{where}]
        components: {{hob: {{kind: hob, burns: propane}}}}
        records: {{tests: [{{test: gas-tightness, on: gas, value: {drop}, date: 2026-04-01}}]}}
        """
    return passes("gas/tightness-measured", text)


def hose(where: str) -> bool:
    """Whether a hose of six years passes somewhere."""
    text = f"""
        jurisdictions: [{where}]
        as_of: 2026-06-01
        components: {{cylinder: {{kind: gas-cylinder}}, regulator: {{kind: regulator}}}}
        runs: {{hose: {{medium: gas, from: cylinder/valve, to: regulator, form: hose, made_on: 2020-06-01}}}}
        """
    return passes("gas/hose-age", text)


def vent(bore: str) -> bool:
    """Whether the vent of a grey tank is wide enough in the United States."""
    text = f"""
        jurisdictions: [us]
        components: {{tank: {{kind: grey-tank}}, end: {{kind: waste-vent}}}}
        runs: {{air: {{medium: waste, from: tank/vent, to: end, bore: {bore}}}}}
        """
    return passes("water/waste-vent-bore", text)


def filled(share: str) -> bool:
    """Whether a tank with a stop at some share passes."""
    return passes(
        "gas/tank-fill-limit",
        f"components: {{tank: {{kind: gas-tank, fill_limit: {share}, stop_fill_valve: true}}}}",
    )


def freezing_tube() -> float:
    """Hours of a small insulated tube, the film of air neglected as the handbook does."""
    water = heat_content(pi / 4 * (0.545 * INCH) ** 2, 1.0)
    conductivity = 0.25 * BTU_PER_HOUR * INCH / (FOOT**2 / 1.8)
    resistance = log(2.625 / 0.625) / (2 * pi * conductivity)
    return cooling_time(water, resistance, kelvin(42), kelvin(-18)) / 3600


def combined() -> float:
    """Minutes of a combined heater's element."""
    heater = one(
        "combined-heater",
        "burns: diesel, output: 4 kW, water_volume: 10 L, water_temperature: 60 °C, mains_power: 400 W",
    )
    return float({way.name: way.time for way in heater.heat_up_times}["mains"]) / 60


def lower_limit() -> float:
    """Propane that makes 12 m³ flammable, in kg."""
    text = "vehicle: {interior: {starts: 1 m, length: 4 m, width: 1.5 m, height: 2 m}}"
    return float(Facts(build(text)).whole.gas_to_lower_limit)


def stay() -> float:
    """Days of 90 L for two at 15 L, the use written by purpose."""
    text = """
        use: {people: {adults: 2}, water_use: {drinking: 4 L, food: 3 L, washing: 8 L}}
        components: {tank: {kind: fresh-tank, volume: 90 L}}
        """
    return float(Facts(build(text)).whole.fresh_days)


def cartridge() -> bool:
    """Whether a cartridge of half a kilogram passes in Indiana."""
    return passes(
        "gas/cartridge-size",
        "jurisdictions: [us]\ncomponents: {stove: {kind: portable-stove, cartridge: 500 g}}",
    )


def liquid_pounds() -> float:
    """Pounds of propane in 4.7 US gal of liquid."""
    tank = one("gas-tank", f"volume: {4.7 * GALLON / 0.8 * 1000:.6f} L, fill_limit: 80 %")
    return float(tank.gas_when_full) / POUND


CASES: dict[str, Callable[[], float | bool]] = {
    "W-01": lambda: friction_loss(4 * GALLON / 60, FOOT, 0.485 * INCH) / PSI,
    "W-02": lambda: environment.constant("water-density").value * GRAVITY * 2.31 * FOOT / PSI,
    "W-03": lambda: 40_000 * 0.8 * BTU / heat_content(1.0, 70 / 1.8) / GALLON,
    "W-04": lambda: 40 * (density(kelvin(90)) / density(kelvin(140)) - 1),
    "W-05": lambda: one("water-heater", "volume: 10 L, temperature: 60 °C").expansion_volume * 1000,
    "W-06": lambda: density(277.15),
    "W-07": lambda: density(293.15),
    "W-08": lambda: density(333.15),
    "W-09": lambda: dose("bleach: 5.25 %", f"{15 * GALLON * 1000:.6f} L") / (CUP / 4),
    "W-10": lambda: dose("bleach: 8.25 %", "100 L") / dose("bleach: 5.25 %", "100 L"),
    "W-11": lambda: dose("bleach: 5.25 %", "100 L") * 1e6,
    "W-12": stay,
    "W-13": freezing_tube,
    "W-14": combined,
    "W-15": lambda: vent("1.25 in"),
    "W-16": lambda: vent("1 in"),
    "G-11": lambda: burner_hours(20),
    "G-12": lambda: burner_hours(100),
    "G-13": lambda: environment.constant("propane-net-heating-value").value / 1e6,
    "G-14": lambda: environment.constant("propane-gross-heating-value").value / 1e6,
    "G-15": lambda: LATENT_HEAT / BTU * POUND,
    "G-16": lambda: liquefied_gas.boiling_point(1.0) - 273.15,
    "G-17": lambda: liquefied_gas.boiling_point(0.0) - 273.15,
    "G-18": lambda: pressure("butane", 100),
    "G-19": lambda: pressure("propane", 100),
    "G-20": lambda: pressure("propane", 0),
    "G-21": lambda: pressure("propane", 40),
    "G-22": lambda: pressure("propane", 70),
    "G-23": lambda: passes("gas/vapour-in-the-cold", cold("butane", 2)),
    "G-24": lambda: passes("gas/vapour-in-the-cold", cold("propane", -20)),
    "G-25": lambda: Facts(build(cold("propane", -40))).subject("cylinder").pressure_in_the_cold > 0,
    "G-26": liquid_pounds,
    "G-27": lambda: in_water(35, 20, SMALL_TUBE) > 0.5,
    "G-28": lambda: in_water(35, 20, LARGE_TUBE) > 0.5,
    "G-29": lambda: pipe_loss(160e6 / 3600 / GROSS, 6.5, LARGE_TUBE) > 250,
    "G-30": lambda: in_steel(291, 10),
    "G-31": lambda: in_steel(122, 50),
    "G-32": lower_limit,
    "G-33": lambda: tightness("us", "0 mbar"),
    "G-34": lambda: tightness("us", "1 mbar"),
    "G-35": lambda: tightness("au", "1 mbar"),
    "G-36": lambda: hose("uk"),
    "G-37": lambda: hose("eu"),
    "G-38": cartridge,
    "G-39": lambda: filled("80 %"),
    "G-40": lambda: filled("85 %"),
    "G-41": lambda: parse("11 inWC", Dimension.pressure) / 100,
    "G-42": lambda: 3000 / parse("1 inWC", Dimension.pressure),
    "G-43": two_appliances,
}


@pytest.mark.parametrize("check", CHECKS)
def test_facts_and_rules_agree(check: str) -> None:
    """Each check by its id; sources stand in the file."""
    found, row = CASES[check](), CHECKS[check]
    if isinstance(found, bool):
        assert str(found) == row["expected"]
    else:
        assert found == pytest.approx(float(row["expected"]), abs=max(float(row["tolerance"]), 1e-9))


def test_no_case_is_without_a_row() -> None:
    """What is computed is compared."""
    assert CASES.keys() == CHECKS.keys()


COPPER = table_rows("propane-copper-pipe")


@pytest.mark.parametrize("row", COPPER, ids=[f"{r['outside_in']}-{r['length_ft']}" for r in COPPER])
def test_copper_table_is_drawn_for_half_an_inch(row: dict[str, str]) -> None:
    """IFGC Table 402.4(30): what a pipe may carry loses about 0.5 in of water (one table, 20 cells).

    The code's own sizing equation is coarser than Darcy's for smooth tube: 0.40 to 0.54 in.
    """
    bore = {"0.375": 0.305, "0.5": 0.402, "0.625": 0.527, "0.75": 0.652, "0.875": 0.745}
    inside = bore[f"{float(row['outside_in']):g}"] * INCH
    assert in_water(float(row["value"]), float(row["length_ft"]), inside) == pytest.approx(0.5, abs=0.1)


CHART = rows("propane-vaporisation.csv")


@pytest.mark.parametrize("row", CHART, ids=[r["content_lb"] for r in CHART])
def test_the_estimate_of_vapour_is_careful(row: dict[str, str]) -> None:
    """A 100 lb cylinder (375 mm wide, from memory): 70 to 96 % of the chart, never more (one chart, 50 cells)."""
    area = wetted_area(float(row["content_lb"]) * POUND, 0.375)
    for fahrenheit in (0, 20, 40, 60, 70):
        found = vapour(area, 1.0, kelvin(fahrenheit)) * GROSS / BTU_PER_HOUR
        assert 0.70 <= found / float(row[f"at_{fahrenheit}F"]) <= 0.96


PRESSURES = rows("propane-vapour-pressure.csv")


@pytest.mark.parametrize("row", PRESSURES, ids=[r["fahrenheit"] for r in PRESSURES])
def test_vapour_pressure_follows_the_chart(row: dict[str, str]) -> None:
    """Within 6 % of the absolute pressure: the chart is of commercial propane (one chart, 15 cells)."""
    found, told = pressure("propane", float(row["fahrenheit"])) + 14.7, float(row["psi"]) + 14.7
    assert found == pytest.approx(told, rel=0.06)


@pytest.mark.parametrize("reynolds", [500, 2000, 5e3, 1e4, 5e4, 1e5, 1e6])
@pytest.mark.parametrize("roughness", [0.0, 1e-5, 1e-4, 1e-3, 1e-2])
def test_friction_factor_is_the_librarys(reynolds: float, roughness: float) -> None:
    """Within 2.5 % of a general library's Colebrook solution; laminar flow exactly (kind: derived, one check)."""
    told = library_friction_factor(reynolds, roughness)
    assert friction_factor(reynolds, roughness) == pytest.approx(told, rel=0.025 if reynolds > 2300 else 1e-9)


@pytest.mark.parametrize("feet", [1.0, 10.0])
def test_the_flow_of_the_water_system_is_the_librarys(feet: float) -> None:
    """The tap's flow, put into the library's friction, gives back the pump's pressure (kind: derived)."""
    tap = water_system(f"{{runs: {{delivery: {{length: {feet} ft}}}}}}").subject("tap")
    flow, bore = float(tap.tap_flow_least), 0.010
    speed = flow / (pi / 4 * bore**2)
    told = library_friction_factor(998.21 * speed * bore / 1.307e-3, 1.5e-6 / bore)
    lost = 2 * told * (2 + feet * FOOT) / bore * 998.21 * speed**2 / 2
    assert 2.1e5 * (1 - flow / (10e-3 / 60)) == pytest.approx(lost, rel=0.02)
