"""Rows of the tables at and beside their limits, worked by hand from what each one prints."""

from collections.abc import Callable
from math import pi

import pytest

from specreg.tables import designations, environment, materials, photovoltaic, pipes, vehicle, water
from specreg.tables.constant import NotTabulatedError, citation, not_tabulated
from specreg.tables.pipes import mass_per_metre

BTU = 1055.05585262
FOOT = 0.3048
INCH = 0.0254
POUND = 0.45359237


@pytest.mark.parametrize(
    ("floor", "open_combustion", "square_millimetres"),
    [
        (0.5, True, (7500, 7500, 1000)),
        (5, True, (7500, 7500, 1000)),
        (5.01, True, (10000, 10000, 1500)),
        (10, True, (10000, 10000, 1500)),
        (15, True, (12500, 12500, 2000)),
        (20, True, (15000, 15000, 2500)),
        (0.5, False, (1500, 3000, 500)),
        (10, False, (1500, 3000, 500)),
    ],
)
def test_fixed_vents_by_floor(
    floor: float, open_combustion: bool, square_millimetres: tuple[float, float, float]
) -> None:
    """EN 721: roof, other high and low vents of the row up to whose floor it reaches; a floor on it is in it."""
    found = environment.fixed_vents(floor, open_combustion=open_combustion)
    assert (found.roof, found.other_high, found.low) == pytest.approx(
        tuple(area * 1e-6 for area in square_millimetres)
    )


@pytest.mark.parametrize(
    ("input_watts", "berths", "square_millimetres"),
    [(0, 2, 4000), (1e7 / 3600, 3, 8050), (5e6 / 3600, 1, 4000), (6e6 / 3600, 1, 4310)],
)
def test_total_vents_of_the_australian_standard(
    input_watts: float, berths: int, square_millimetres: float
) -> None:
    """AS/NZS 5601.2 section 7: 10 MJ/h and three berths, 610 · 10 + 650 · 3 = 8050 mm²; 4000 at least."""
    found = environment.total_vent_area_au(input_watts, berths).value
    assert found == pytest.approx(square_millimetres * 1e-6, rel=1e-9)


@pytest.mark.parametrize(
    ("floor", "single", "split", "us"),
    [(0.2, 0.010, 0.005, 0.004), (0.5, 0.010, 0.005, 0.010), (0.64, 0.0128, 0.0064, 0.0128)],
)
def test_vents_of_a_gas_locker(floor: float, single: float, split: float, us: float) -> None:
    """EN 1949: 2 % of the floor and 100 cm², or 1 % and 50 cm² twice; 675 IAC 15-2-74: 2 % without a least."""
    assert environment.locker_vent_area(floor).value == pytest.approx(single, rel=1e-9)
    assert environment.locker_vent_area_split(floor).value == pytest.approx(split, rel=1e-9)
    assert environment.locker_vent_area_us(floor).value == pytest.approx(us, rel=1e-9)


@pytest.mark.parametrize(
    ("item", "jurisdiction", "years"),
    [
        ("gas hose", "GB", 5),
        ("gas hose", "AT", 10),
        ("gas regulator", "DE", 10),
        ("gas inspection", "DE", 2),
        ("gas regulator", "GB", None),
    ],
)
def test_years_of_service(item: str, jurisdiction: str, years: float | None) -> None:
    """Each thing by itself, in each country by itself; nothing where no source is known."""
    found = environment.service_years(item, jurisdiction)
    assert (found.value if found else None) == years


@pytest.mark.parametrize(
    ("distance", "from_edge", "on_wall", "on_ceiling"),
    [
        (1.0, 0.3, True, True),
        (0.999, 0.3, False, False),
        (3.0, 0.3, True, True),
        (3.001, 0.3, False, False),
        (2.0, 0.299, True, False),
        (2.0, 0.15, True, False),
        (2.0, 0.149, False, False),
    ],
)
def test_where_a_carbon_monoxide_alarm_may_hang(
    distance: float, from_edge: float, on_wall: bool, on_ceiling: bool
) -> None:
    """EN 50292: 1 to 3 m from the source, 150 mm below the ceiling, on the ceiling 300 mm from every wall."""
    assert environment.alarm_distance_admissible(distance, from_edge) is on_wall
    assert environment.ceiling_alarm_admissible(distance, from_edge) is on_ceiling


@pytest.mark.parametrize(
    ("feet", "share"), [(-100, 1), (1999, 1), (2000.5, 1 - 0.08002), (10_000, 0.6), (25_000, 0), (30_000, 0)]
)
def test_a_flame_gets_less_air_high_up(feet: float, share: float) -> None:
    """NFPA 54 Table E.1.1(d): from 2000 ft on 4 % less for each 1000 ft above the sea, and never below nothing."""
    assert environment.altitude_factor(feet * FOOT) == pytest.approx(share, abs=1e-9)


def test_the_line_of_2000_feet_is_not_above_it() -> None:
    """The share falls above 2000 ft, so that nothing is taken off on the line."""
    assert environment.altitude_factor(2000 * FOOT) == 1.0


@pytest.mark.parametrize(
    ("sex", "age", "megajoule_per_day"),
    [("M", 30, 7.83), ("M", 29.9, 8.24), ("M", 0, 1.86), ("F", 30, 6.08), ("F", 99, 5.19)],
)
def test_carbon_dioxide_by_age(sex: str, age: float, megajoule_per_day: float) -> None:
    """Persily & de Jonge 2017: 0.000569 L/s · 0.85 · basal rate · met, as gas at 0 °C; warmer gas takes more room."""
    at_freezing = 0.000569 * 0.85 * megajoule_per_day * 1.2 / 1000
    assert environment.carbon_dioxide_generation(sex, age, 1.2).value == pytest.approx(at_freezing, rel=1e-9)
    warm = environment.carbon_dioxide_generation(sex, age, 1.2, 20).value
    assert warm == pytest.approx(at_freezing * 293.15 / 273.15, rel=1e-9)


@pytest.mark.parametrize(
    ("millimetres", "up", "across", "down"),
    [
        (4.9, 0, 0, 0),
        (5, 0.11, 0.11, 0.11),
        (15, 0.16, 0.17, 0.17),
        (24.9, 0.16, 0.17, 0.17),
        (25, 0.16, 0.18, 0.19),
        (300, 0.16, 0.18, 0.21),
    ],
)
def test_resistance_of_a_shut_air_layer(millimetres: float, up: float, across: float, down: float) -> None:
    """EN ISO 6946 Table 8 by the direction of the heat; a layer as thick as a row takes that row."""
    found = [
        environment.air_gap_resistance(millimetres / 1000, direction)
        for direction in ("up", "across", "down")
    ]
    assert found == [up, across, down]


@pytest.mark.parametrize(
    ("share", "celsius"),
    [
        (0, 0),
        (0.19, 0),
        (0.2, -8),
        (0.3 - 9e-10, -15),
        (0.3 - 1.05e-9, -8),
        (0.49, -24),
        (0.5, -36),
        (1, -36),
    ],
)
def test_freezing_of_coolant(share: float, celsius: float) -> None:
    """By the row at or below the share; a share that arithmetic carries just under a row is in it."""
    assert environment.coolant_freezes_at(share) == pytest.approx(273.15 + celsius, abs=1e-9)


@pytest.mark.parametrize(
    ("chlorine", "millilitres", "basis"), [(None, 95.238, "memory"), (100.0, 50.0, "read")]
)
def test_bleach_for_a_tank(chlorine: float | None, millilitres: float, basis: str) -> None:
    """50 mg/L in 100 L are 5 g of chlorine: 95 mL of 5.25 %, 50 mL of 10 %; the usual strength is from memory."""
    found = environment.bleach_volume(0.1, chlorine)
    assert found.value * 1e6 == pytest.approx(millilitres, abs=0.001)
    assert found.basis == basis


@pytest.mark.parametrize(
    ("outside", "feet", "kilo_btu_per_hour"),
    [
        (3 / 8 * INCH, 10, 45),
        (3 / 8 * INCH, 10 * (1 + 9e-10), 45),
        (3 / 8 * INCH, 10 * (1 + 2e-9), 31),
        (3 / 8 * INCH, 3, 45),
        (3 / 8 * INCH + 0.09e-3, 30.5, 21),
        (3 / 8 * INCH - 0.09e-3, 40, 21),
        (7 / 8 * INCH, 20, 321),
    ],
)
def test_what_a_copper_pipe_carries(outside: float, feet: float, kilo_btu_per_hour: float) -> None:
    """IFGC Table 402.4(30): the next longer length counts; a pipe within a tenth of a millimetre is that size."""
    found = environment.copper_pipe_capacity(outside, feet * FOOT).value
    assert found == pytest.approx(kilo_btu_per_hour * BTU * 1000 / 3600, rel=1e-9)


@pytest.mark.parametrize(
    ("celsius", "kilograms"),
    [
        (0, 999.84), (4, 999.97), (10, 999.70), (20, 998.21), (30, 995.65), (40, 992.22), (50, 988.04),
        (60, 983.20), (70, 977.76), (80, 971.79), (90, 965.31), (100, 958.36),
    ],
)  # fmt: skip
def test_density_of_water(celsius: float, kilograms: float) -> None:
    """As handbooks of chemistry print it, to two hundredths; at both ends of the range as well."""
    assert water.density(celsius + 273.15) == pytest.approx(kilograms, abs=0.02)


@pytest.mark.parametrize("celsius", [-0.01, 100.01, -273.15, 200])
def test_ice_and_steam_have_no_density_here(celsius: float) -> None:
    """The formula is good for water only."""
    with pytest.raises(ValueError, match="water is liquid from 0 to 100 °C"):
        water.density(celsius + 273.15)


@pytest.mark.parametrize(
    ("material", "air", "density", "thin", "thick"),
    [
        ("copper", False, 8900, 0.6, 1.0),
        ("Copper, soft", True, 8900, 0.6, 1.0),
        ("stainless steel", False, 7900, 0.3, 1.5),
        ("aluminium", False, 2800, 0.1, 1.0),
        ("polyethylene", False, 1100, 1.0, 3.5),
        (None, False, 1100, 1.0, 3.5),
        (None, True, 1100, 0.1, 1.2),
        ("laminated paper", True, 1100, 0.1, 1.2),
    ],
)
def test_mass_of_a_pipe(material: str | None, air: bool, density: float, thin: float, thick: float) -> None:
    """A tube of 20 mm bore by the usual walls in mm and the density of DIN EN 12524; metals by their word."""
    least, greatest = (pi * (0.020 + wall / 1000) * wall / 1000 * density for wall in (thin, thick))
    assert mass_per_metre(0.020, material, air=air) == pytest.approx((least, greatest), rel=1e-9)


def test_a_pipe_is_no_duct_unless_it_is_said() -> None:
    """The thin walls are those of ducts for air only."""
    assert pipes.stuff_of(None) == pipes.stuff_of(None, air=False) == pipes.POLYMER
    assert mass_per_metre(0.020, None) == mass_per_metre(0.020, None, air=False)


def test_copper_tube_weighs_what_the_trade_prints() -> None:
    """15 × 1 mm is 0.391 kg/m in tables of the trade (EN 1057): a bore of 13 mm at its thickest wall."""
    assert mass_per_metre(0.013, "copper")[1] == pytest.approx(0.391, abs=0.001)


@pytest.mark.parametrize(
    ("celsius", "factor"),
    [(30, 1.0), (25, 1.0), (24.9, 1.02), (20, 1.02), (19.9, 1.04), (0, 1.10), (-0.1, 1.12), (-25, 1.20), (-40, 1.25)],
)  # fmt: skip
def test_cold_factor_of_the_printed_rows(celsius: float, factor: float) -> None:
    """NEC Table 690.7(A): between two rows the colder one, and nothing to add from 25 °C on."""
    assert photovoltaic.cold_voltage_factor(celsius).value == factor


def test_factors_on_a_panels_current() -> None:
    """NEC 690.8(A)(1), 690.8(B), 690.9(B): 125 % and 125 % of that, 1.5625 in all."""
    assert photovoltaic.SOURCE_CURRENT.value * photovoltaic.CONDUCTOR_CURRENT.value == 1.5625
    assert photovoltaic.SOURCE_CURRENT.value == photovoltaic.DEVICE_CURRENT.value == 1.25


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("DRIVER_MASS_EU", 75),
        ("PASSENGER_MASS_EU", 75),
        ("PASSENGER_MASS_US", 150 * POUND),
        ("FUEL_SHARE_EU", 0.9),
        ("WATER_MASS_US", 1000),
        ("WATER_MASS_TRADE", 8.3 * POUND / 3.785411784e-3),
        ("LPG_MASS_TRADE", 4.2 * POUND / 3.785411784e-3),
        ("LPG_FILL_SHARE", 0.8),
        ("LATERAL_DIFFERENCE", 0.04),
        ("RELABEL_SHARE", 0.015),
        ("RELABEL_MASS", 45.359237),
        ("BURN_RATE_GREATEST", 0.0017),
        ("FMVSS_110_GREATEST_RATING", 4535.9237),
    ],
)
def test_what_vehicle_regulations_count_with(name: str, value: float) -> None:
    """As the cited text prints it: pounds of 0.45359237 kg, US gallons of 3.785411784 L, 102 mm in a minute."""
    assert getattr(vehicle, name).value == pytest.approx(value, rel=1e-9)


@pytest.mark.parametrize(("seats", "kilograms"), [(0, 0), (1, 0), (2, 75), (4, 225)])
def test_passengers_beside_the_driver(seats: int, kilograms: float) -> None:
    """75 kg for each seat but the driver's, and never less than nothing."""
    assert vehicle.conventional_load_eu(seats) == kilograms


def test_allowances() -> None:
    """10 kg for each of four people and each of 6 m; 150 lb a belted seat; 1.5 % of the rating up to 100 lb."""
    assert vehicle.personal_effects_eu(4, 6.0) == 100
    assert vehicle.least_capacity_us(3) == pytest.approx(450 * POUND)
    assert vehicle.occupant_and_cargo_capacity_us(4000, 3000, 20) == 980
    assert vehicle.relabel_threshold_us(2000) == pytest.approx(30)
    assert vehicle.relabel_threshold_us(4000) == pytest.approx(100 * POUND)


def test_design_values_of_a_material() -> None:
    """DIN EN 12524: birch plywood as plywood of 700 kg/m³; two square metres of 15 mm weigh 21 kg."""
    birch = materials.material("birch plywood")
    assert (birch.density, birch.conductivity, birch.heat_capacity) == (700, 0.17, 1600)
    assert materials.sheet_mass("birch plywood", 2.0, 0.015) == pytest.approx(21)
    assert {"birch plywood", "cork tile"} <= set(materials.material_names())


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: environment.fixed_vents(0, open_combustion=True), r"no row for 0 m² of floor \(open\)"),
        (lambda: environment.fixed_vents(20.1, open_combustion=True), r"no row for 20.1 m² of floor \(open\)"),
        (lambda: environment.fixed_vents(10.1, open_combustion=False), r"10.1 m² of floor \(room-sealed\)"),
        (lambda: environment.service_years("gas hos", "GB"), "no item 'gas hos' .* did you mean 'gas hose'"),
        (lambda: environment.carbon_dioxide_generation("X", 30, 1), "sex is M or F"),
        (lambda: environment.carbon_dioxide_generation("M", -1, 1), "age 0 or more; read M, -1"),
        (lambda: environment.copper_pipe_capacity(0.0095 - 0.15e-3, 3), "read 9.3 mm, 3 m"),
        (lambda: environment.copper_pipe_capacity(3 / 8 * INCH + 0.105e-3, 3), "read 9.6 mm, 3 m"),
        (lambda: environment.copper_pipe_capacity(3 / 8 * INCH, 40.1 * FOOT), "up to 40 ft"),
        (lambda: photovoltaic.cold_voltage_factor(-40.1), "ends at -40 °C; read -40.1 °C"),
    ],
)  # fmt: skip
def test_beyond_the_last_row(call: Callable[[], object], says: str) -> None:
    """Nothing is read out of a table beyond its rows."""
    with pytest.raises(NotTabulatedError, match=says):
        call()


@pytest.mark.parametrize(
    ("read", "says"),
    [
        ("plywod", "no material 'plywod' in the table; did you mean 'plywood'?"),
        ("zzz", "no material 'zzz' in the table; known: cork, plywood"),
    ],
)
def test_an_unknown_name_is_told_with_the_nearest_or_with_all(read: str, says: str) -> None:
    """Where nothing is like it, all names are shown, sorted."""
    assert str(not_tabulated("material", read, ("plywood", "cork"))) == says


@pytest.mark.parametrize(
    ("row", "text"),
    [
        ({"source": "EN 721", "clause": "table", "edition": "2004"}, "EN 721, table, 2004"),
        ({"source": "EN 721", "clause": "", "edition": "2004"}, "EN 721, 2004"),
        ({"source": "EN 721"}, "EN 721"),
    ],
)
def test_a_source_is_cited_on_one_line(row: dict[str, str], text: str) -> None:
    """What a row does not tell leaves no gap."""
    assert citation(row) == text


def test_kinds_of_object_have_their_letter() -> None:
    """IEC 81346-2: a fuse protects (F), a battery supplies (G), a pump moves (M)."""
    letters = {kind: designations.designation_class(kind).letter for kind in designations.kinds()}
    assert {kind: letters[kind] for kind in ("fuse", "battery", "pump")} == {
        "fuse": "F",
        "battery": "G",
        "pump": "M",
    }
