"""Laws that the look-ups obey, their limits, and what is said where a table ends."""

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from specreg.tables import (
    conductors,
    designations,
    environment,
    liquefied_gas,
    materials,
    overcurrent,
    photovoltaic,
    vehicle,
)
from specreg.tables.constant import DATA, Constant, NotTabulatedError, rows
from specreg.tables.tyres import LOAD_INDEX, tyre_load
from specreg.units import AWG_SIZES, METRIC_SIZES, ConductorSize, parse_conductor
from specreg.units.conductor import size_mm2

SIZES = sorted(AWG_SIZES + METRIC_SIZES, key=lambda size: size.area)
TABULATED = [size for size in SIZES if size.area >= 0.82e-6]
INSULATIONS = st.floats(60, 200)
CURRENTS = st.floats(0.1, 5000)
FAMILIES = st.sampled_from(overcurrent.families())
BASES = {"read", "read-lib", "corrected", "derived", "practice", "memory"}


@given(st.sampled_from(TABULATED), st.sampled_from(TABULATED), INSULATIONS)
def test_ampacity_never_falls_with_area(one: ConductorSize, other: ConductorSize, insulation: float) -> None:
    """A larger conductor of the same insulation carries at least as much, in mm² and in AWG.

    Not from one to the other: ISO 10133 gives 4 mm² at 60 °C less than the US table the smaller 12 AWG.
    """
    small, large = sorted((one, other), key=lambda size: size.area)
    assume(small.notation == large.notation)
    assert conductors.ampacity(small, insulation).value <= conductors.ampacity(large, insulation).value


@given(st.sampled_from(TABULATED), INSULATIONS, INSULATIONS)
def test_ampacity_never_falls_with_insulation(size: ConductorSize, one: float, other: float) -> None:
    """Insulation that stands more heat admits at least as much current."""
    low, high = sorted((one, other))
    assert conductors.ampacity(size, low).value <= conductors.ampacity(size, high).value


@pytest.mark.parametrize("sizes", [AWG_SIZES, METRIC_SIZES], ids=["awg", "mm2"])
@pytest.mark.parametrize("celsius", [-20, 20, 75])
def test_resistance_falls_with_area(sizes: tuple[ConductorSize, ...], celsius: float) -> None:
    """Within a series each thicker size has less resistance."""
    found = [conductors.resistance_per_metre(s, temperature_kelvin=celsius + 273.15) for s in sizes]
    assert found == sorted(found, reverse=True)
    assert len(set(found)) == len(found)


@given(st.sampled_from(TABULATED), INSULATIONS, st.integers(1, 40), st.floats(20, 90))
def test_derating_never_adds(size: ConductorSize, insulation: float, bundled: int, ambient: float) -> None:
    """Bundles and warmth only take away, and a 12 V bundle leaves the regulation's value alone."""
    plain = conductors.ampacity(size, insulation)
    found = conductors.ampacity(size, insulation, bundled=bundled, ambient_celsius=ambient)
    assert found.derated <= plain.value + 1e-9
    assert found.value == plain.value


@given(CURRENTS, INSULATIONS, st.sampled_from(["mm2", "awg"]))
def test_smallest_conductor_is_smallest(current: float, insulation: float, notation: str) -> None:
    """The size found carries the current, and the next thinner one does not."""
    size = conductors.smallest_conductor_for(current, insulation, notation)
    sizes = [s for s in conductors.standard_sizes(notation) if s in TABULATED]
    thinner = sizes if size is None else sizes[: sizes.index(size)]
    assert all(conductors.ampacity(s, insulation).derated < current for s in thinner)
    if size is not None:
        assert conductors.ampacity(size, insulation).derated >= current


@given(CURRENTS, FAMILIES)
def test_standard_ratings_enclose_the_current(current: float, family: str) -> None:
    """The next rating is at or above the current, the largest at most is at or below it."""
    above, below = (
        overcurrent.next_standard(current, family),
        overcurrent.largest_standard_at_most(current, family),
    )
    assert above is None or above >= current * (1 - 1e-9)
    assert below is None or below <= current * (1 + 1e-9)
    assert above is not None or below is not None


def test_rounding_does_not_cost_a_size() -> None:
    """A current that floating point carries just over 30 A still takes a 30 A device."""
    assert overcurrent.next_standard(0.1 * 3 * 100, "blade") == 30


@pytest.mark.parametrize(
    ("current", "above", "below"),
    [
        (0.5, 1, None),
        (1, 1, 1),
        (2, 3, 1),
        (30, 30, 30),
        (30 * (1 + 9e-10), 30, 30),
        (30 * (1 + 1.05e-9), 35, 30),
        (30 * (1 - 9e-10), 30, 30),
        (30 * (1 - 1.05e-9), 30, 25),
        (33, 35, 30),
        (6000, 6000, 6000),
        (6001, None, 6000),
        (20000, None, 6000),
    ],
)
def test_standard_ratings_of_the_code(current: float, above: float | None, below: float | None) -> None:
    """NEC 240.6(A): … 25 30 35 … 5000 6000, for fuses 1 3 6 10 too; a billionth beside a rating is that rating."""
    assert overcurrent.next_standard(current) == above
    assert overcurrent.largest_standard_at_most(current) == below


@pytest.mark.parametrize(
    ("size", "cap"),
    [
        ("18 AWG", 7),
        ("16 AWG", 10),
        ("14 AWG", 15),
        ("12 AWG", 20),
        ("10 AWG", 30),
        ("8 AWG", None),
        ("20 AWG", None),
        ("2.5 mm²", None),
    ],
)
def test_small_conductors_have_a_cap(size: str, cap: float | None) -> None:
    """NEC 240.4(D), copper; it names 18 to 10 AWG and nothing else."""
    found = overcurrent.small_conductor_cap(parse_conductor(size))
    assert (found.value if found else None) == cap


def test_bundle_below_50_volt_is_practice() -> None:
    """At 12 V the bundle factor is offered as practice, at 120 V it is the regulation's."""
    low, high = conductors.bundle_factor(6, 12), conductors.bundle_factor(6, 120)
    assert (low.practice, high.practice) == (True, False)
    assert (low.basis, high.basis) == ("practice", "read")
    assert [factor.source.endswith("not asked for by 33 CFR 183.435(b)") for factor in (low, high)] == [
        True,
        False,
    ]
    assert low.value == high.value == 0.6
    assert conductors.ampacity(parse_conductor("10 AWG"), 105, bundled=6).derated == pytest.approx(36)


def test_from_memory_is_said() -> None:
    """An engine-space factor from memory makes the ampacity's basis memory."""
    size = parse_conductor("10 AWG")
    assert conductors.ampacity(size, 90, engine_space=True).basis == "memory"
    assert conductors.ampacity(size, 105, engine_space=True).basis == "read"
    assert overcurrent.ratings_basis("blade") == "memory"
    assert overcurrent.ratings_basis(overcurrent.NEC_LIST) == "read"
    assert overcurrent.ratings_basis("breaker") == "read"


def test_insulation_between_columns_takes_the_lower() -> None:
    """90 °C for 100 °C insulation, and the note says so."""
    found = conductors.ampacity(parse_conductor("10 AWG"), 100)
    assert (found.value, found.insulation_column) == (55, 90)
    assert "100 °C judged by the 90 °C column" in found.note


@pytest.mark.parametrize(
    ("family", "voltage", "expected"),
    [
        ("terminal", 14.6, 5000),
        ("terminal", 12.8, 10000),
        ("terminal", 14, 10000),
        ("terminal", 48, 2000),
        ("terminal", 58, 2000),
        ("blade", 29.2, 1000),
        ("blade", 32, 1000),
        ("mega", 24, 2000),
    ],
)
def test_breaking_capacity_by_voltage(family: str, voltage: float, expected: float) -> None:
    """Breaking capacity is that of the next higher tabulated voltage, never of a lower one."""
    assert overcurrent.breaking_capacity(family, voltage).value == expected


@pytest.mark.parametrize(
    ("family", "volts"), [("terminal", 58), ("class t", 125), ("blade", 32), ("breaker", None)]
)
def test_greatest_voltage_with_a_breaking_capacity(family: str, volts: float | None) -> None:
    """The highest of the table's voltages for the family; for breakers it has none: their data sheet tells."""
    found = overcurrent.greatest_voltage(family)
    assert (found.value if found else None) == volts


def test_what_a_breaking_capacity_says() -> None:
    """At which voltage it was stated, then what is remarked there; a row without a remark ends at the voltage."""
    assert overcurrent.breaking_capacity("mega", 12).note == "at 32 V d.c."
    assert overcurrent.breaking_capacity("mini blade", 12).note == "at 32 V d.c.; type F"


@pytest.mark.parametrize(
    "family", ["blade", "mini blade", "maxi", "midi", "mega", "anl", "terminal", "class t"]
)
def test_a_family_is_listed_with_its_ratings(family: str) -> None:
    """From small to large, and never beyond what the family is made for."""
    assert family in overcurrent.families()
    found = overcurrent.ratings(family)
    assert found and list(found) == sorted(set(found))


@pytest.mark.parametrize(
    "ask",
    [
        overcurrent.ratings_basis,
        overcurrent.greatest_voltage,
        lambda family: overcurrent.breaking_capacity(family, 12),
    ],
    ids=["basis", "voltage", "breaking"],
)
def test_a_family_that_is_unknown_is_told_with_the_nearest(ask: Callable[[str], object]) -> None:
    """A slip of the pen is no family without figures."""
    with pytest.raises(NotTabulatedError, match="no device family 'blad' in the table; did you mean 'blade'"):
        ask("blad")


@pytest.mark.parametrize(
    ("in_sheath", "notation", "square_millimetres"),
    [(True, "awg", 0.823), (False, "awg", 1.309), (True, "mm2", 0.75), (False, "mm2", 1.0)],
)
def test_least_area(in_sheath: bool, notation: str, square_millimetres: float) -> None:
    """18 and 16 AWG of 33 CFR 183.425(d), (e); 0.75 and 1 mm² of ISO 10133 7.7."""
    least = conductors.least_area(notation=notation, in_sheath=in_sheath)
    assert least.value * 1e6 == pytest.approx(square_millimetres, abs=0.001)


def test_hose_ages_differ_by_jurisdiction() -> None:
    """Five years in the United Kingdom, ten in Germany, unknown elsewhere."""
    ages = [environment.service_years("gas hose", place) for place in ("GB", "DE", "FR")]
    assert [age.value if age else None for age in ages] == [5, 10, None]


@pytest.mark.parametrize(("bore", "gap"), [(0.008, 0.020), (0.010, 0.020), (0.020, 0.040)])
def test_air_gap(bore: float, gap: float) -> None:
    """Twice the bore, at least 20 mm."""
    assert environment.air_gap(bore).value == pytest.approx(gap)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: conductors.ampacity(parse_conductor("0.5 mm²"), 105), "begins at 18 AWG"),
        (lambda: conductors.ampacity(parse_conductor("6 mm²"), 50), "begins at 60 °C"),
        (lambda: conductors.resistance_per_metre(size_mm2(0.4)), "begins at 0.5 mm²"),
        (lambda: overcurrent.ratings("blad"), "did you mean 'blade'"),
        (lambda: overcurrent.breaking_capacity("blade", 58.4), "data sheet"),
        (lambda: overcurrent.breaking_capacity("breaker", 12), "data sheet"),
        (lambda: environment.constant("co-alarm-distance-lest"), "did you mean 'co-alarm-distance-least'"),
        (lambda: environment.fixed_vents(12, open_combustion=False), "no row for 12 m²"),
        (lambda: environment.copper_pipe_capacity(0.0095, 15), "up to 40 ft"),
        (lambda: materials.material("birch plywod"), "did you mean 'birch plywood'"),
        (lambda: designations.designation_class("fuze"), "did you mean 'fuse'"),
        (lambda: photovoltaic.cold_voltage_factor(-45), "ends at -40 °C"),
    ],
)
def test_where_a_table_ends(call: Callable[[], object], says: str) -> None:
    """Outside a table the error says what the table holds or names the nearest word."""
    with pytest.raises(NotTabulatedError, match=says):
        call()


@given(st.floats(-40, 40), st.floats(-40, 40))
def test_colder_is_higher(one: float, other: float) -> None:
    """The cold factor never falls as it gets colder."""
    cold, warm = sorted((one, other))
    assert photovoltaic.cold_voltage_factor(cold).value >= photovoltaic.cold_voltage_factor(warm).value


@pytest.mark.parametrize(
    ("label", "grams"), [("1.5 mm²", 19), ("2.5 mm²", 32), ("6 mm²", 66), ("35 mm²", 370)]
)
def test_cable_mass_is_near_trade_sheets(label: str, grams: float) -> None:
    """Single PVC cores weigh what trade sheets print (from memory) within the stated fifth."""
    assert conductors.mass_per_metre(parse_conductor(label)).value * 1000 == pytest.approx(grams, rel=0.2)


def test_sheet_mass() -> None:
    """One square metre of 12 mm plywood of 500 kg/m³ weighs 6 kg."""
    assert materials.sheet_mass("plywood", 1.0, 0.012) == pytest.approx(6.0)


def test_seventeen_classes() -> None:
    """IEC 81346-2:2019 has seventeen entry classes, and every kind has one of them."""
    assert len(designations.class_letters()) == 17
    letters = {designations.designation_class(kind).letter for kind in designations.kinds()}
    assert letters <= set(designations.class_letters())


def test_running_order_driver_and_belted_seats() -> None:
    """75 kg for the driver in Europe, 150 lb for a belted seat in the United States."""
    assert vehicle.DRIVER_MASS_EU.value == 75
    assert vehicle.least_capacity_us(4) == pytest.approx(272.16, abs=0.01)


@pytest.mark.parametrize("path", sorted(DATA.glob("*.csv")), ids=lambda path: path.stem)
def test_every_row_states_its_source(path: Path) -> None:
    """No shipped row lacks a source or a known basis."""
    table = rows(path.stem)
    assert table
    assert all(row["source"] and row["basis"] in BASES for row in table)


def test_every_module_constant_states_its_source() -> None:
    """No named constant lacks a source or a known basis."""
    modules = (conductors, overcurrent, photovoltaic, vehicle)
    found = [value for module in modules for value in vars(module).values() if isinstance(value, Constant)]
    assert len(found) > 20
    assert all(constant.source and constant.basis in BASES for constant in found)


def test_bundles_count_from_50_volt() -> None:
    """33 CFR 183.435(b): below 50 V nothing is taken off, at 50 V it is; 6 bundled conductors carry 60 %."""
    size = parse_conductor("10 AWG")
    below, at = (conductors.ampacity(size, 105, bundled=6, voltage=volts).value for volts in (49.9, 50.0))
    assert below == 60
    assert at == pytest.approx(36)


@pytest.mark.parametrize("bundled", [0, 1, 2])
def test_a_lone_conductor_is_no_bundle(bundled: int) -> None:
    """Up to two conductors nothing is taken off, and that is nobody's practice but the table's."""
    found = conductors.bundle_factor(bundled, 12)
    assert (found.value, found.practice) == (1, False)


@pytest.mark.parametrize(
    ("ambient", "share"), [(30, 1.0), (60, (45 / 75) ** 0.5), (105, 0.0), (110, 0.0), (10, 1.0)]
)
def test_warm_places_take_off_by_the_heat_balance(ambient: float, share: float) -> None:
    """√((105 − Tₐ)/(105 − 30)) of what is carried at 30 °C; a cool place adds nothing, a hot one leaves nothing."""
    found = conductors.ampacity(parse_conductor("10 AWG"), 105, ambient_celsius=ambient)
    assert found.value == 60
    assert found.derated == pytest.approx(60 * share)


@pytest.mark.parametrize(
    ("size", "row"),
    [
        ("6 mm²", "10 AWG"),
        ("4 mm²", "12 AWG"),
        ("70 mm²", "2/0 AWG"),
        ("50 mm²", "1 AWG"),
        ("1 AWG", "1 AWG"),
        ("1/0 AWG", "1/0 AWG"),
    ],
)
def test_the_row_that_is_used_is_never_larger(size: str, row: str) -> None:
    """ASTM B258: 10 AWG is 5.26 mm², 12 AWG 3.31, 2/0 AWG 67.4; 1/0 AWG is 53.5, more than 50 mm²."""
    assert conductors.ampacity(parse_conductor(size), 105).row_used == row


def test_load_index_grows_by_the_series_of_eighty() -> None:
    """Preferred numbers R80 (ISO 3): each step × 10^(1/80) = 1.0292; the table's rounding stays within 2 %."""
    values = [LOAD_INDEX[index] for index in sorted(LOAD_INDEX)]
    for index, mass in LOAD_INDEX.items():
        assert mass == pytest.approx(800 * 10 ** ((index - 100) / 80), rel=0.02), index
    assert values == sorted(set(values))


@pytest.mark.parametrize(
    ("label", "kilograms"), [("70/70", 335), ("69/70", None), ("130/130", 1900), ("131/130", None)]
)
def test_the_table_of_load_indices_ends(label: str, kilograms: float | None) -> None:
    """At 70 and at 130, and what is beyond is not told."""
    found = tyre_load(f"225/75 R16 C {label}R")
    assert (found.single if found else None) == kilograms


def test_an_index_that_is_not_in_the_table_carries_nothing_known() -> None:
    """No figure is made up for it."""
    assert tyre_load("225/75 R16 C 999/998R") is None
    assert tyre_load("225/75 R16 C") is None
    assert tyre_load("225/75 R16 C 121/999R") == (1450, None)


@pytest.mark.parametrize(("engine_space", "label"), [(None, "6 mm²"), (False, "6 mm²"), (True, "10 mm²")])
def test_the_engine_space_asks_for_more(engine_space: bool | None, label: str) -> None:
    """60 A at 105 °C: 6 mm² carries 60 A, 85 % of it (note 1 of Table 5) do not suffice; it is cool unless told."""
    asked = {} if engine_space is None else {"engine_space": engine_space}
    found = conductors.smallest_conductor_for(60, 105, "mm2", **asked)
    assert found is not None and found.label == label


@pytest.mark.parametrize(
    ("label", "amperes"),
    [("2 AWG", 210), ("1 AWG", 245), ("1/0 AWG", 285), ("2/0 AWG", 330), ("3/0 AWG", 385), ("4/0 AWG", 445)],
)
def test_gauges_beyond_one(label: str, amperes: float) -> None:
    """33 CFR 183.425 Table 5 at 105 °C: each gauge its own row, those with a stroke as well."""
    found = conductors.ampacity(parse_conductor(label), 105)
    assert (found.value, found.row_used) == (amperes, label)


@pytest.mark.parametrize("many", [25, 60, 200])
def test_a_bundle_without_an_end(many: int) -> None:
    """Table 5 note 2: 25 and more in a bundle carry 40 %, however many they are."""
    assert conductors.bundle_factor(many, 120).value == 0.4


def test_mass_of_a_cable_by_hand() -> None:
    """10 mm² of 1.02 × 8890 kg/m³ and, round strands 4.04 mm across, 0.6 mm of PVC; two cores with a sheath, × 1.2."""
    one = 10e-6 * 1.02 * 8890 + 3.14159 * (4.04025e-3 + 0.6e-3) * 0.6e-3 * 1390
    size = parse_conductor("10 mm²")
    assert conductors.mass_per_metre(size).value == pytest.approx(one, rel=2e-5)
    assert conductors.mass_per_metre(size, 2).value == pytest.approx(2 * 1.2 * one, rel=2e-5)
    thick = 95e-6 * 1.02 * 8890 + 3.14159 * 1.12 * 12.45287e-3 * 0.12 * 12.45287e-3 * 1390
    assert conductors.mass_per_metre(parse_conductor("95 mm²")).value == pytest.approx(thick, rel=2e-5)


def test_a_size_between_two_resists_like_the_smaller() -> None:
    """3 mm² is not sold: 7.98 mΩ/m of 2.5 mm² (IEC 60228 class 5), more than it has."""
    assert conductors.resistance_per_metre(size_mm2(3)) == pytest.approx(7.98e-3)


@pytest.mark.parametrize(
    ("label", "insulation", "amperes", "row", "source"),
    [
        ("1.5 mm²", 60, 12, "ISO 10133 Annex A Table A.1, 1.5 mm²", "ISO 10133 Annex A Table A.1"),
        ("1.5 mm²", 75, 15, "16 AWG", "33 CFR 183.425 Table 5"),
        ("1.5 mm²", 105, 25, "16 AWG", "33 CFR 183.425 Table 5"),
        ("4 mm²", 60, 22, "ISO 10133 Annex A Table A.1, 4 mm²", "ISO 10133 Annex A Table A.1"),
        ("6 mm²", 60, 40, "10 AWG", "33 CFR 183.425 Table 5"),
    ],
)
def test_the_lower_of_two_tables_counts(
    label: str, insulation: float, amperes: float, row: str, source: str
) -> None:
    """33 CFR 183.425 Table 5 gives 15 A to 16 AWG at 60 °C and ISO 10133 12 A to 1.5 mm²; at 105 °C both 25 A."""
    found = conductors.ampacity(parse_conductor(label), insulation)
    assert (found.value, found.row_used, found.source) == (amperes, row, source)
    assert ("lower than the" in found.note) is row.startswith("ISO")


def test_one_factor_from_memory_makes_the_whole_from_memory() -> None:
    """At 90 °C the engine space's 0.82 is from memory, a bundle's 0.6 was read; what takes off nothing is no factor."""
    size = parse_conductor("10 AWG")
    both = conductors.ampacity(size, 90, engine_space=True, bundled=4, voltage=120)
    assert both.value == pytest.approx(55 * 0.82 * 0.6)
    assert both.basis == "memory"
    none = conductors.ampacity(size, 200, engine_space=True)
    assert (none.value, none.basis, none.factors) == (70, "read", ())


@pytest.mark.parametrize(("persons", "length", "kilograms"), [(4, 6.5, 105), (2, 0, 20), (0, 6, 60)])
def test_personal_effects(persons: int, length: float, kilograms: float) -> None:
    """EN 1646-2 as a handbook prints it: 10·N + 10·L."""
    assert vehicle.personal_effects_eu(persons, length) == pytest.approx(kilograms)


@pytest.mark.parametrize(("seats", "kilograms"), [(0, 0), (1, 0), (2, 75), (4, 225)])
def test_passengers_but_the_driver(seats: int, kilograms: float) -> None:
    """75 kg a seat; the driver, and a van without seats, add nothing."""
    assert vehicle.conventional_load_eu(seats) == kilograms


def test_capacity_is_what_is_left_of_the_rating() -> None:
    """Of 3500 kg, 2600 kg unladen and 20 kg of propane leave 880 kg; both count against it."""
    assert vehicle.occupant_and_cargo_capacity_us(3500, 2600, 20) == pytest.approx(880)


@pytest.mark.parametrize(
    ("rating", "threshold"), [(2000, 30), (3000, 45), (3100, 45.359237), (4500, 45.359237)]
)
def test_added_mass_that_must_be_told(rating: float, threshold: float) -> None:
    """72 FR 68442: the lesser of 1.5 % of the rating and 100 lb (45.36 kg)."""
    assert vehicle.relabel_threshold_us(rating) == pytest.approx(threshold)


@pytest.mark.parametrize(
    ("gas", "celsius", "kilopascals"),
    [("propane", -42.1, 101.3), ("propane", 20, 836), ("butane", -0.5, 101.3), ("butane", 20, 207.6)],
)
def test_vapour_pressure_of_pure_gases(gas: str, celsius: float, kilopascals: float) -> None:
    """Normal boiling points and pressures at 20 °C as tables of properties print them (from memory), within 1.5 %."""
    found = liquefied_gas.vapour_pressure(gas, celsius + 273.15)
    assert found / 1000 == pytest.approx(kilopascals, rel=0.015)


@pytest.mark.parametrize("celsius", [-20, 0, 20])
@pytest.mark.parametrize("share", [0, 0.3, 0.5, 1])
def test_a_mixture_is_between_its_gases(share: float, celsius: float) -> None:
    """Raoult: partial pressures by moles. A kilogram of propane is 22.678 mol, one of butane 17.205 mol."""
    kelvin = celsius + 273.15
    propane, butane = (liquefied_gas.vapour_pressure(gas, kelvin) for gas in ("propane", "butane"))
    moles = share * 22.678, (1 - share) * 17.205
    expected = (moles[0] * propane + moles[1] * butane) / sum(moles)
    assert liquefied_gas.mixture_pressure(share, kelvin) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("share", [0, 0.2, 0.5, 0.8, 1])
def test_at_its_boiling_point_a_mixture_has_the_pressure_of_the_air(share: float) -> None:
    """101.325 kPa, the standard atmosphere."""
    boiling = liquefied_gas.boiling_point(share)
    assert liquefied_gas.mixture_pressure(share, boiling) == pytest.approx(101_325, rel=1e-9)


@pytest.mark.parametrize(
    ("constant", "value"),
    [
        (overcurrent.CONTINUOUS_LOAD, 1.25),
        (overcurrent.FUSE_CONTINUOUS_SHARE, 0.8),
        (vehicle.DRIVER_MASS_EU, 75),
        (vehicle.PASSENGER_MASS_EU, 75),
        (vehicle.PASSENGER_MASS_US, 68.0388555),
        (vehicle.FUEL_SHARE_EU, 0.9),
        (vehicle.WATER_MASS_US, 1000),
        (vehicle.WATER_MASS_TRADE, 994.55),
        (vehicle.LPG_MASS_TRADE, 503.27),
        (vehicle.LPG_FILL_SHARE, 0.8),
        (vehicle.LATERAL_DIFFERENCE, 0.04),
        (vehicle.RELABEL_SHARE, 0.015),
        (vehicle.RELABEL_MASS, 45.359237),
        (vehicle.BURN_RATE_GREATEST, 0.0017),
        (vehicle.FMVSS_110_GREATEST_RATING, 4535.9237),
    ],
)
def test_constants_as_they_are_printed(constant: Constant, value: float) -> None:
    """In SI: 7, 40, 72 in; 150, 100, 10,000 lb; 8.3 and 4.2 lb in a US gallon of 3.785412 L; 102 mm in a minute."""
    assert constant.value == pytest.approx(value, rel=1e-5)
