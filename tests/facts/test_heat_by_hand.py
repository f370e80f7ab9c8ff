"""One small van worked by hand: what it loses in a night at 0 °C, and where its air's water condenses.

6 m² of roof under 40 mm of foam of 0.04 W/(m·K), a left wall of 6 m² of bare sheet with half a square metre
of window in it, 36 m³ of air an hour, and no other side. Surfaces resist 0.10 (up), 0.13 and 0.04 m²·K/W
(EN ISO 6946), a side on which mould may grow 0.25 (ISO 13788); a m³ of air takes 0.33 Wh for a kelvin.
"""

from functools import cache
from math import exp, log

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.moist_air import air_to_hold

ZERO = 273.15
SHELL = (
    "roof: 6 m², left_wall: 6 m², right_wall: 0 m², rear_doors: 0 m², side_door: 0 m², floor: 0 m², cab: 0 m²"
)
VAN = """
vehicle: {{interior: {{length: 3 m, width: 2 m, height: 2 m}}, shell: {{{shell}{leaks}}}}}
use:
  people: {{adults: 2}}
  night: 8 h
  inside_temperature: 20 °C
  places: [{{latitude: 46 deg, night_temperature: 0 °C}}]
  {use}
components:
  foam: {{kind: insulation-layer, surface: roof, material: wool, conductivity: 0.04 W/(m·K), thickness: 40 mm, bridged_by_metal: {ribs} %}}
  pane: {{kind: fixed-window, surface: left wall, area: 0.5 m², heat_transfer: {pane} W/(m²·K)}}
{more}
"""


@cache
def van(
    leakage: float | None = 36,
    use: str = "",
    ribs: float = 0,
    pane: float = 3,
    more: str = "",
    cab: float = 0,
) -> Subject:
    """The small van with some of it changed."""
    leaks = "" if leakage is None else f", leakage: {leakage} m³/h"
    shell = SHELL.replace("cab: 0", f"cab: {cab}")
    return Facts(build(VAN.format(shell=shell, leaks=leaks, use=use, ribs=ribs, pane=pane, more=more))).whole


ROOF, WALL, PANE, AIR = 6 / 1.14 * 20, 5.5 / 0.17 * 20, 0.5 * 3 * 20, 0.33 * 36 * 20


def test_what_leaves_by_each_way() -> None:
    """105, 647, 30 and 238 W: most by the bare wall, from which its window is cut."""
    found = [(one.name, one.side, one.least, one.greatest) for one in van().heat_losses]
    assert found == [
        ("roof", "roof", pytest.approx(ROOF), pytest.approx(ROOF)),
        ("left wall", "left wall", pytest.approx(WALL), pytest.approx(WALL)),
        ("pane", "left wall", pytest.approx(PANE), pytest.approx(PANE)),
        ("air that is changed", "air", pytest.approx(AIR, rel=1e-3), pytest.approx(AIR, rel=1e-3)),
    ]
    assert van().largest_way_of_heat == "left wall"


def test_what_a_night_of_it_takes() -> None:
    """1020 W, 8.2 kWh of them in eight hours; half as much when it is 10 °C outside."""
    whole, watts = van(), ROOF + WALL + PANE + AIR
    assert (whole.least_heat_loss, whole.greatest_heat_loss) == pytest.approx((watts, watts), rel=1e-3)
    assert whole.mild_heat_loss == pytest.approx(watts / 2, rel=1e-3)
    joules = watts * 8 * 3600
    found = (whole.least_heat_of_a_night, whole.greatest_heat_of_a_night)
    assert found == pytest.approx((joules, joules), rel=1e-3)


def test_ribs_and_leaks_make_it_a_range() -> None:
    """A tenth of the roof bridged by metal loses 0.9/1.14 + 0.1/0.14 a kelvin; leaks 0 to 0.33 · 12 W."""
    whole = van(ribs=10, leakage=0)
    roof = next(one for one in whole.heat_losses if one.name == "roof")
    assert (roof.least, roof.greatest) == pytest.approx((ROOF, 6 * 20 * (0.9 / 1.14 + 0.1 / 0.14)))
    assert whole.greatest_heat_loss - whole.least_heat_loss == pytest.approx(roof.greatest - roof.least)
    air = van(leakage=None).heat_losses[-1]
    assert (air.least, air.greatest) == (0, pytest.approx(0.33 * 12 * 20, rel=1e-3))


def saturation(celsius: float) -> float:
    """Magnus over water: WMO-No. 8, annex 4.B."""
    return 611.2 * exp(17.62 * celsius / (243.12 + celsius))


def dew(pressure: float) -> float:
    """Its inverse in K."""
    ratio = log(pressure / 611.2)
    return ZERO + 243.12 * ratio / (17.62 - ratio)


OUTSIDE = 0.9 * saturation(0) / (461.5 * 293.15)
"""kg/m³ in air of 0 °C and 90 %, once it is warmed to 20 °C."""
MADE = 0.1 / 3600
"""kg/s of two people asleep, 50 g an hour each."""
ROOF_SURFACE = 20 - 20 * 0.25 / 1.29
WALL_SURFACE = 20 - 20 * 0.25 / 0.29
PANE_SURFACE = 20 - 20 * 0.13 * 3


def test_the_dew_point_of_two_sleepers_air() -> None:
    """36 m³/h carry their 100 g an hour off at 6.8 g/m³: 9.3 hPa, a dew point of 5.9 °C, 40 % at 20 °C."""
    pressure = (OUTSIDE + MADE / 0.01) * 461.5 * 293.15
    assert (van().least_dew_point, van().greatest_dew_point) == pytest.approx((dew(pressure),) * 2)
    assert van().least_dew_point - ZERO == pytest.approx(5.87, abs=0.01)
    assert van().greatest_humidity == pytest.approx(pressure / saturation(20))
    assert van().greatest_humidity == pytest.approx(0.396, abs=0.001)


def test_air_that_does_not_move_is_full() -> None:
    """In a shut van without leaks it drips at 20 °C."""
    assert van(leakage=0).greatest_dew_point - ZERO == pytest.approx(20)
    assert van(leakage=0).greatest_humidity == pytest.approx(1)


def test_how_cold_each_surface_is() -> None:
    """The roof's lining 16.1 °C, bare sheet 2.8 °C, the pane 12.2 °C; the skin behind the foam 0.7 °C."""
    found = {one.name: one for one in van().surfaces}
    assert {name: one.surface - ZERO for name, one in found.items()} == pytest.approx(
        {"roof": ROOF_SURFACE, "left wall": WALL_SURFACE, "pane": PANE_SURFACE}
    )
    assert [found["roof"].skin - ZERO, found["left wall"].skin - ZERO] == pytest.approx(
        [20 * 0.04 / 1.14, 20 * 0.04 / 0.17]
    )
    assert [one.glazed for one in van().surfaces] == [False, False, True]
    assert [one.open_to_vapour for one in van().surfaces] == [True, False, False]
    assert {one.ribs for one in van().surfaces} == {None}
    assert van().coldest_side - ZERO == pytest.approx(WALL_SURFACE)
    assert van().coldest_side_is == "left wall"
    assert van().coldest_pane - ZERO == pytest.approx(PANE_SURFACE)


def test_ribs_are_as_cold_as_bare_sheet() -> None:
    """Behind no lining a rib has the surfaces alone."""
    whole = van(ribs=10)
    (ribbed,) = [one for one in whole.surfaces if one.ribs is not None]
    assert (ribbed.name, ribbed.ribs - ZERO) == ("roof", pytest.approx(WALL_SURFACE))
    assert whole.coldest_rib - ZERO == pytest.approx(WALL_SURFACE)


@pytest.mark.parametrize(
    ("leakage", "pane", "ribs", "sides", "panes", "wet_ribs", "skins"),
    [
        # Dew at 5.9 °C: above bare sheet at 2.8 and the skin at 0.7, below a pane at 12.2.
        (36, 3, 10, ("left wall",), (), ("roof",), ("roof",)),
        # A pane of 5.6 W/(m²·K) is at 5.44 °C, one of 5.4 at 5.96.
        (36, 5.6, 0, ("left wall",), ("pane",), (), ("roof",)),
        (36, 5.4, 0, ("left wall",), (), (), ("roof",)),
        # 90 m³/h: 1.11 g/m³ on top of 4.07, dew at 2.0 °C; 180: at 0.35 °C, which leaves even the skin dry.
        (90, 3, 10, (), (), (), ("roof",)),
        (180, 3, 10, (), (), (), ()),
        # Without air everything is wet.
        (0, 3, 10, ("roof", "left wall"), ("pane",), ("roof",), ("roof",)),
    ],
)
def test_what_gets_wet(
    leakage: float,
    pane: float,
    ribs: float,
    sides: tuple[str, ...],
    panes: tuple[str, ...],
    wet_ribs: tuple[str, ...],
    skins: tuple[str, ...],
) -> None:
    """What is colder than the dew point, and nothing else."""
    whole = van(leakage=leakage, pane=pane, ribs=ribs)
    assert (whole.wet_sides, whole.surely_wet_sides) == (sides, sides)
    assert (whole.wet_panes, whole.wet_ribs, whole.wet_skins) == (panes, wet_ribs, skins)


def test_between_calm_and_breeze_what_may_get_wet_and_what_surely_does() -> None:
    """Leaks of 0 to 12 m³/h: full at 20 °C on a calm night; in a breeze 12.4 g/m³, dew at 14.8 °C, the roof at 16.1."""
    whole = van(leakage=None)
    pressure = (OUTSIDE + MADE / (12 / 3600)) * 461.5 * 293.15
    assert whole.greatest_dew_point - ZERO == pytest.approx(20)
    assert whole.least_dew_point == pytest.approx(dew(pressure))
    assert whole.least_dew_point - ZERO == pytest.approx(14.78, abs=0.01)
    assert whole.wet_sides == ("roof", "left wall")
    assert whole.surely_wet_sides == ("left wall",)
    # The air of a calm night carries nothing off.
    assert whole.water_carried_off == 0


def test_a_stated_humidity_and_the_surfaces_about_it() -> None:
    """60 % at 20 °C: dew at 12.0 °C wets bare sheet, and a pane of 3.2 W/(m²·K) at 11.7 °C, not one of 3 at 12.2."""
    stated = "inside_humidity: 60 %"
    expected = dew(0.6 * saturation(20))
    assert van(use=stated).greatest_dew_point == pytest.approx(expected)
    assert van(use=stated).greatest_humidity == pytest.approx(0.6)
    assert (van(use=stated).wet_panes, van(use=stated, pane=3.2).wet_panes) == ((), ("pane",))
    with pytest.raises(Missing) as caught:
        _ = van(use="inside_humidity: 0 %").greatest_dew_point
    assert caught.value.fields == ("use.inside_humidity",)


def test_hardly_any_humidity_is_some() -> None:
    """A ten-thousandth of saturation has a dew point, far below any side."""
    assert van(use="inside_humidity: 0.01 %").greatest_dew_point - ZERO < -60


def test_what_is_assumed_of_the_night_is_said() -> None:
    """The humidity outside, and panes without their blinds."""
    text = VAN.format(shell=SHELL, leaks="", use="", ribs=0, pane=3, more="")
    whole = Facts(build(text)).whole
    with whole.van.recording() as frame:
        _ = whole.wet_sides
    said = " | ".join(frame.assumptions)
    assert "outside air of the coldest night at 90 % relative humidity" in said
    assert "panes reckoned without their blinds" in said


WOOL = "kind: insulation-layer, material: wool, conductivity: 0.04 W/(m·K)"


def test_of_ribs_the_coldest_and_of_the_cab_no_skin() -> None:
    """Under a lining of 10 mm of wool ribs are warmer than those under nothing; the cab has no metal behind its mat."""
    lined = (
        f"  wall-foam: {{{WOOL}, surface: left wall, thickness: 40 mm, bridged_by_metal: 10 %}}\n"
        f"  wall-mat: {{{WOOL}, surface: left wall, role: lining, order: 2, thickness: 10 mm}}\n"
        f"  mat: {{{WOOL}, surface: cab, thickness: 20 mm, bridged_by_metal: 0 %}}\n"
    )
    whole = van(ribs=10, more=lined, cab=2)
    ribs = {one.name: one.ribs - ZERO for one in whole.surfaces if one.ribs is not None}
    # Rsi 0.25, 10 mm of wool 0.25, Rse 0.04
    assert ribs == pytest.approx({"roof": WALL_SURFACE, "left wall": 20 - 20 * 0.25 / 0.54})
    assert whole.coldest_rib - ZERO == pytest.approx(WALL_SURFACE)
    assert {one.name for one in whole.surfaces if one.open_to_vapour} == {"roof", "left wall"}


@pytest.mark.parametrize(
    ("fact", "reason"),
    [
        ("coldest_pane", "no window is listed"),
        ("coldest_side", "no side is listed"),
        ("coldest_side_is", "no side is listed"),
        ("coldest_rib", "no metal bridges the insulation"),
    ],
)
def test_what_is_not_there_is_not_the_coldest(fact: str, reason: str) -> None:
    """A van of glass alone, or without any."""
    none = SHELL.replace("6 m²", "0 m²")
    text = VAN.format(shell=none, leaks="", use="", ribs=0, pane=3, more="")
    if fact == "coldest_pane":
        text = "\n".join(line for line in text.splitlines() if "pane:" not in line)
    with pytest.raises(Missing, match=reason):
        getattr(Facts(build(text)).whole, fact)


HELD = saturation(WALL_SURFACE) / (461.5 * 293.15)
"""kg/m³ in the van when its bare wall is just dry."""


def test_air_that_keeps_the_wall_dry_and_what_a_night_of_it_carries_off() -> None:
    """100 g an hour over 5.51 − 4.07 g/m³ take 69 m³ an hour; 36 carry 415 of the 800 g off while it is dry."""
    assert van().air_to_keep_dry == pytest.approx(MADE / (HELD - OUTSIDE))
    assert van().water_of_a_night == pytest.approx(0.8)
    assert van().water_carried_off == pytest.approx(0.01 * (HELD - OUTSIDE) * 8 * 3600)
    assert van().air_to_keep_dry * 3600 == pytest.approx(69.5, abs=0.1)
    assert van().water_carried_off == pytest.approx(0.4145, abs=0.0005)


COOKING = """
  hob: {kind: hob, burns: propane, flue_type: flueless, input: 1.287 kW, input_basis: net, burn_hours_per_day: 1 h%s}
  grill: {kind: hob, burns: propane, input: 1.287 kW, input_basis: net}
"""


@pytest.mark.parametrize(("hobs", "times"), [("", 1), (", count: 2", 2)])
def test_water_of_cooking(hobs: str, times: int) -> None:
    """600 to 1500 g an hour of each cooker that says how long it burns, of all that are alike."""
    whole = van(more=COOKING % hobs)
    found = (whole.least_water_of_cooking, whole.greatest_water_of_cooking)
    assert found == pytest.approx((0.6 * times, 1.5 * times))


@pytest.mark.parametrize(("hobs", "times"), [("", 1), (", count: 2", 2)])
def test_water_of_gas_that_burns_in_the_room(hobs: str, times: int) -> None:
    """1.287 kW for an hour are 4.633 MJ, of propane of 46.35 MJ/kg 0.1 kg, whose water weighs 1.634 as much."""
    whole = van(more=(COOKING % hobs).partition("  grill")[0])
    assert whole.water_of_burnt_gas == pytest.approx(0.1634 * times, rel=2e-3)


@pytest.mark.parametrize(
    "part",
    [
        "kind: air-heater, burns: propane, flue_type: room-sealed, output: 2 kW",
        "kind: air-heater, burns: propane, flue_type: open-flued, output: 2 kW",
        "kind: hob, burns: diesel, flue_type: flueless",
        "kind: portable-stove, burns: propane, used: outside",
    ],
)
def test_water_that_no_gas_of_the_room_gives_off(part: str) -> None:
    """What has a flue or stands outside sends its water there; of diesel another table would tell."""
    burning = "input: 1.287 kW, input_basis: net, burn_hours_per_day: 1 h"
    assert van(more=f"  thing: {{{part}, {burning}}}\n").water_of_burnt_gas == 0


@pytest.mark.parametrize("night", [20, 25])
def test_where_no_night_is_colder_than_inside_no_mild_one_is_reckoned(night: int) -> None:
    """Nothing lost at 20 °C says nothing of 10 °C."""
    text = VAN.format(shell=SHELL, leaks="", use="", ribs=0, pane=3, more="")
    whole = Facts(build(text.replace("night_temperature: 0 °C", f"night_temperature: {night} °C"))).whole
    assert whole.greatest_heat_loss == 0
    with pytest.raises(Missing, match="no night is stated that is colder"):
        _ = whole.mild_heat_loss


@pytest.mark.parametrize(
    ("inside", "outside", "air"), [(0.005, 0.004, 2.0), (0.004, 0.004, None), (0.003, 0.004, None)]
)
def test_no_air_dries_that_is_as_moist(inside: float, outside: float, air: float | None) -> None:
    """2 g/s over 1 g/m³ take 2 m³/s; over nothing none is enough."""
    found = air_to_hold(0.002, inside, outside)
    assert found == (None if air is None else pytest.approx(air))
