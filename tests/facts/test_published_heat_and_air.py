"""Heat and air against worked examples (tests/published/heat-and-air.csv).

Kinds: published (a printed result), rule (a stated limit or scope), derived (arithmetic by hand on stated
values), memory. A table of which several cells are tested counts as one check.
"""

import csv
from collections.abc import Callable
from math import pi
from pathlib import Path

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.heat_layers import (
    Sheet,
    layers_resistance,
    still_air,
    surface_temperature,
    transmittance,
    with_ribs,
)
from specreg.facts.moist_air import (
    dew_point,
    saturation_pressure,
    vapour_density,
    vapour_removed,
)
from specreg.facts.shell_areas import Span
from specreg.facts.sleepers import carbon_dioxide_of_all
from specreg.facts.sleeping_air import Cooling, concentration
from specreg.facts.vent_stream import Opening, stack_flow, wind_flow
from specreg.tables import environment

PUBLISHED = Path(__file__).parents[1] / "published" / "heat-and-air.csv"
ZERO = 273.15
OUTDOORS = environment.constant("co2-outdoors").value
PPM = 1e6
BTU_FILM = 5.678263
STEFAN_BOLTZMANN = 5.670374e-8


def rows() -> list[dict[str, str]]:
    """All rows of the file."""
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


BOX = "vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}}"
LAMP = "components: {lamp: {kind: strip-light}}"


def van(text: str) -> Facts:
    """The facts of a box of 3 × 2 × 2 m with more of a spec laid over it."""
    laid = text if "vehicle:" in text else f"{BOX}\n{text}"
    return Facts(build(laid if "components:" in laid else f"{laid}\n{LAMP}"))


def dew(celsius: float, *percent: float) -> str | float:
    """Dew points in °C at some relative humidities in percent."""
    found = [dew_point(p / 100 * saturation_pressure(celsius + ZERO)) - ZERO for p in percent]
    return found[0] if len(found) == 1 else ", ".join(f"{one:.3f}" for one in found)


def removed(outside: float) -> float:
    """Grams an hour that 30 m³/h of 20 °C 60 % carry off, outside air at 70 % (each at its own temperature)."""
    inside = vapour_density(0.6 * saturation_pressure(20 + ZERO), 20 + ZERO)
    entering = vapour_density(0.7 * saturation_pressure(outside + ZERO), outside + ZERO)
    return vapour_removed(inside, entering, 30.0) * 1000


def couple() -> float:
    """m³/s at 0 °C of a man and a woman of 30 to 40 asleep."""
    return sum(environment.carbon_dioxide_generation(sex, 35, 0.95).value for sex in "MF")


def side(text: str, name: str) -> float:
    """Least U-value of a side of a van whose layers are stated."""
    return float(next(part.u_least for part in van(text).whole.shell_parts if part.name == name))


ROOF = """
components:
  skin: {kind: insulation-layer, surface: roof, order: 1, role: skin, material: steel, thickness: 1 mm}
  foam: {kind: insulation-layer, surface: roof, order: 2, material: foam, conductivity: 0.035 W/(m·K), thickness: 40 mm, bridged_by_metal: 0 %}
  board: {kind: insulation-layer, surface: roof, order: 3, role: lining, material: poplar plywood, thickness: 4 mm}
"""
FLOOR = """
components:
  under: {kind: insulation-layer, surface: floor, order: 1, role: covering, material: plywood, thickness: 12 mm}
  foam: {kind: insulation-layer, surface: floor, order: 2, material: expanded polystyrene, thickness: 30 mm, bridged_by_metal: 0 %}
  over: {kind: insulation-layer, surface: floor, order: 3, role: lining, material: plywood, thickness: 9 mm}
"""
SHUT = """
vehicle: {interior: {length: 3 m, width: 2 m, height: 2 m}, shell: {leakage: LEAK m³/h}}
use: {inside_temperature: 20 °C, places: [{latitude: 46 deg, months: [1], night_temperature: OUT °C}]}
components: {lining: {kind: insulation-layer, surface: roof, role: lining, material: plywood, thickness: 4 mm}}
"""
NIGHT = "use: {night: 1 h, inside_temperature: 20 °C, places: [{latitude: 46 deg, months: [1], altitude: HEIGHT, night_temperature: -40 °C}]}\n"
HEATED = (
    NIGHT
    + "components: {wall: {kind: insulation-layer, surface: roof, role: lining, material: plywood, thickness: 4 mm}, heater: HEATER}\n"
)
COOKING = "components: {hob: {kind: hob, burns: propane, input: 1.287 kW, input_basis: net, burn_hours_per_day: 1 h}}"


def air_loss(volume: float, changes: float, difference: float) -> float:
    """W with the air of a shut van of which the leakage is measured."""
    text = SHUT.replace("LEAK", f"{volume * changes}").replace("OUT", f"{20 - difference}")
    losses = van(text).whole.heat_losses
    return float(next(loss.greatest for loss in losses if loss.side == "air"))


def heated(heater: str, height: str = "0 m") -> Facts:
    """A van with a heater that cannot keep up, so that it runs at full output all night."""
    return van(HEATED.replace("HEATER", heater).replace("HEIGHT", height))


def outside_that_wets() -> float:
    """Outside °C at which a pane of U 6 in 18.3 °C at 50 % is at its dew point (by interval halving)."""
    layers = 1 / 6 - 0.17
    target = dew(18.3, 50)
    assert isinstance(target, float)
    low, high = -40.0, 18.0
    for _ in range(50):
        middle = (low + high) / 2
        cold = surface_temperature(layers, 18.3 + ZERO, middle + ZERO, 0.13) - ZERO < target
        low, high = (middle, high) if cold else (low, middle)
    return low


def asleep(text: str) -> float:
    """Greatest carbon dioxide of all that sleep, in m³/s."""
    return carbon_dioxide_of_all(van(text)).greatest


TWO = (Opening(0.0, 0.01), Opening(2.0, 0.01))
RADIATION = 0.9 * 4 * STEFAN_BOLTZMANN * 293.15**3
BRICKS = layers_resistance([Sheet(0.1, 1.0), Sheet(0.05, 0.04), Sheet(0.01, 0.25)])

CASES: dict[str, Callable[[], float | str | bool]] = {
    "C2.22": lambda: (concentration(0.6e-3 / 3600, 15 / 3600, 12, OUTDOORS, 1e6) - OUTDOORS) * PPM,
    "C3.07": lambda: (concentration(0.0052e-3, 7.5e-3, 12, OUTDOORS, 1e7) - OUTDOORS) * PPM,
    "C3.11": lambda: couple() / (1200e-6 - 420e-6) * 1000,
    "C3.12": lambda: concentration(couple(), 5 / 3600, 10, 420e-6, 8 * 3600) * PPM,
    "C3.12b": lambda: concentration(5 / 3600, 500 / 3600, 500, OUTDOORS, 3600) - OUTDOORS,
    "C3.13": lambda: removed(0),
    "C3.13b": lambda: removed(10),
    "C3.15": lambda: van("use: {people: {adults: 2}, night: 8 h}").whole.water_of_a_night * 1000,
    "C3.16": lambda: van(
        "components: {fan: {kind: roof-fan, greatest_flow: 900 cfm}}\n"
    ).subject("fan").air_changes,
    "C4.02": lambda: transmittance(0.036 + 0.132 + 0.182 + 0.023, "left wall"),
    "C4.03": lambda: Sheet(0.102, 0.84).resistance,
    "C4.03b": lambda: 1 / (0.055 + layers_resistance([Sheet(0.215, 0.84), Sheet(0.013, 0.5)]) + 0.123),
    "C4.04": lambda: 1 / (0.12 + BRICKS + 0.06),
    "C4.06": lambda: side(ROOF, "roof"),
    "C4.07": lambda: side(FLOOR, "floor"),
    "C4.08": lambda: 1 / (1 / 1.46 + 1 / 6.0 + Sheet(0.003175, 0.2).resistance * BTU_FILM),
    "C4.10": lambda: transmittance(layers_resistance([Sheet(0.003, 0.2)] * 2, 0.18), "left wall"),
    "C4.10b": lambda: transmittance(Sheet(0.004, 1.0).resistance, "left wall"),
    "C4.10c": lambda: still_air(0.025, "left wall"),
    "C4.12": lambda: air_loss(12, 1, 20),
    "C4.12b": lambda: air_loss(200, 2, 15),
    "C4.14": lambda: dew(20, 60),
    "C4.15": lambda: dew(25, 50),
    "C4.16": lambda: dew(15, 80),
    "C4.17": lambda: dew(20, 50, 60, 70, 80),
    "C4.17b": lambda: dew(18, 50, 60, 70, 80),
    "C4.17c": lambda: dew(30, 55),
    "C4.17d": lambda: dew(10, 90),
    "C4.18": lambda: float(dew(20, 50)) > 4.4,
    "C4.18b": outside_that_wets,
    "C4.19": lambda: 1 / with_ribs(1 / 0.59, 1 / 0.88, 0.1),
    "C4.20": lambda: saturation_pressure(24.5 + ZERO) / 1000,
    "C4.20b": lambda: saturation_pressure(15 + ZERO) / 1000,
    "C4.20c": lambda: ", ".join(f"{saturation_pressure(t + ZERO):.2f}" for t in (5, 25, 50)),
    "C4.21": lambda: stack_flow(TWO, 293.15, 273.15) * 3600,
    "C4.22": lambda: wind_flow(TWO, 1.0, 3.0) * 3600,
    "C4.23": lambda: heated("{kind: air-heater, burns: diesel, input: 2.5 kW, output: 2 kW}")
    .whole.greatest_fuel_of_a_night * 1000,
    "C4.24": lambda: heated(
        "{kind: combined-heater, burns: propane, output: 80000 BTU/h}", "5000 ft"
    ).subject("heater").output_at_height / 1055.05585262 * 3600,
    "C4.25": lambda: heated("{kind: air-heater, burns: diesel, output: 2 kW}", "1500 m")
    .subject("heater").output_at_height,
    "C4.26": lambda: 1 / (2.5 + RADIATION),
    "C4.27": lambda: 1 / (5.0 + RADIATION),
    "C4.28": lambda: 1 / (0.7 + RADIATION),
    "C4.29": lambda: 1 / (4 + 4 * 4 + 0.9 * 4 * STEFAN_BOLTZMANN * 283.15**3 * 0.98),
    "C4.30": lambda: Cooling(Span(50, 50), Span(5e5, 5e5), 291.15, 269.15, 0).at(3 * 3600)[0] - ZERO,
    "C4.31": lambda: with_ribs(1 / 0.9, 1 / 0.17, 0.08),
    "C4.32": lambda: van(COOKING).whole.water_of_burnt_gas * 1000,
}  # fmt: skip


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["id"])
def test_published(row: dict[str, str]) -> None:
    """What is computed agrees with what is printed, or with the sum done by hand."""
    found, tolerance = CASES[row["id"]](), float(row["tolerance"])
    if row["expected"] in ("True", "False"):
        assert str(found) == row["expected"]
        return
    pairs = zip(str(found).split(", "), row["expected"].split(", "), strict=True)
    for mine, theirs in pairs:
        assert float(mine) == pytest.approx(float(theirs), abs=tolerance)


def test_every_row_is_checked_and_no_check_is_without_a_row() -> None:
    assert set(CASES) == {row["id"] for row in rows()}


def test_surface_resistances_of_the_table_are_those_of_the_film_coefficients() -> None:
    """The four values that are read or remembered agree with convection and radiation of annex A."""
    for name, expected in (("horizontal", "C4.26"), ("up", "C4.27"), ("down", "C4.28"), ("outside", "C4.29")):
        computed = float(CASES[expected]())
        assert environment.constant(f"surface-resistance-{name}").value == pytest.approx(computed, abs=0.005)


def test_a_round_duct_of_a_known_size_is_an_opening_like_any_other() -> None:
    """π·d²/4 of 113 mm passes as much as 100 cm² does."""
    round_one = (Opening(0.0, pi / 4 * 0.1128379**2), Opening(2.0, 0.01))
    assert stack_flow(round_one, 293.15, 273.15) == pytest.approx(stack_flow(TWO, 293.15, 273.15), rel=1e-5)


def test_the_wall_of_the_air_is_counted_in_litres_of_each_sleeper() -> None:
    """Two adults breathe out more than one, whatever the dogs do."""
    assert asleep("use: {people: {adults: 2}}") > asleep(
        "use: {people: {adults: 1, dogs: 1}, dog_mass: 20 kg}"
    )
