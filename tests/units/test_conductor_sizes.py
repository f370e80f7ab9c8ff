"""Conductor sizes against published gauge tables, and the notations in which cable is ordered."""

import csv
from math import pi, sqrt
from pathlib import Path

import pytest

from specreg.units import AWG_SIZES, METRIC_SIZES, ConductorSize, NotAQuantity, awg_diameter, parse_conductor
from specreg.units.conductor import size_awg, size_mm2

# NEC Chapter 9 Table 8 (circular mils: read) and the rows that follow from ASTM B258 (derived).
_TABLE = Path(__file__).parents[1] / "published" / "conductor-gauges.csv"
ROWS = list(csv.DictReader(_TABLE.open(encoding="utf-8")))
MIL = 25.4e-6


def _rows(ending: str) -> list[tuple[str, float]]:
    return [(row["id"].split(".")[1], float(row["value"])) for row in ROWS if row["id"].endswith(ending)]


@pytest.mark.parametrize(("gauge", "mils"), _rows(".cmil"))
def test_area_agrees_with_nec_table_8(gauge: str, mils: float) -> None:
    """Published: the table rounds to three or four figures, 0.27 % at most (18 AWG: 1620 for 1624)."""
    area = parse_conductor(f"{gauge} AWG").area
    assert area == pytest.approx(mils * pi / 4 * MIL**2, rel=3e-3)


@pytest.mark.parametrize(("gauge", "millimetres"), _rows(".dia_mm"))
def test_diameter_agrees_with_astm_b258(gauge: str, millimetres: float) -> None:
    """Derived: diameters of ASTM B258, given to a ten-thousandth of a millimetre."""
    diameter = sqrt(4 / pi * parse_conductor(f"{gauge} AWG").area)
    assert diameter == pytest.approx(millimetres * 1e-3, abs=0.51e-7)


@pytest.mark.parametrize(("gauge", "square_millimetres"), _rows(".area_mm2"))
def test_area_agrees_with_astm_b258(gauge: str, square_millimetres: float) -> None:
    """Derived: areas of ASTM B258, given to a ten-thousandth of a square millimetre."""
    assert parse_conductor(f"{gauge} AWG").area == pytest.approx(square_millimetres * 1e-6, abs=0.51e-10)


def test_table_covers_the_gauges_of_trade() -> None:
    """Every gauge but the thinnest has a published row, so no gauge goes unchecked by accident."""
    assert {f"{gauge} AWG" for gauge, _ in _rows(".cmil")} == {size.label for size in AWG_SIZES} - {"20 AWG"}


@pytest.mark.parametrize(
    ("text", "label", "gauge"),
    [
        ("10 AWG", "10 AWG", 10),
        ("AWG 10", "10 AWG", 10),
        ("10AWG", "10 AWG", 10),
        ("10 awg", "10 AWG", 10),
        ("1 AWG", "1 AWG", 1),
        ("1/0 AWG", "1/0 AWG", 0),
        ("0 AWG", "1/0 AWG", 0),
        ("2/0 AWG", "2/0 AWG", -1),
        ("AWG 2/0", "2/0 AWG", -1),
        ("00 AWG", "2/0 AWG", -1),
        ("4/0 AWG", "4/0 AWG", -3),
        ("1.5 mm²", "1.5 mm²", None),
        ("1.5 mm2", "1.5 mm²", None),
        ("1.5mm²", "1.5 mm²", None),
        ("1.5 sq mm", "1.5 mm²", None),
        ("16.0 mm²", "16 mm²", None),
        ("1.5" + 54 * " " + "mm²", "1.5 mm²", None),  # 60 characters
    ],
)
def test_reads(text: str, label: str, gauge: int | None) -> None:
    """Each notation names its size, and the label reads back as itself."""
    size = parse_conductor(text)
    assert (size.label, size.gauge) == (label, gauge)
    assert size.notation == ("mm2" if gauge is None else "awg")
    assert parse_conductor(size.label) is size


@pytest.mark.parametrize(
    ("text", "units", "nearest"),
    [
        ("12 mm²", ("10 mm²", "16 mm²"), "16 mm²"),
        ("1.25 mm²", ("1 mm²", "1.5 mm²"), "1.5 mm²"),
        ("300 mm²", ("240 mm²",), "240 mm²"),
        ("0.25 mm²", ("0.5 mm²",), "0.5 mm²"),
        ("5 AWG", ("6 AWG", "4 AWG"), "4 AWG"),
        ("26 AWG", ("20 AWG",), "20 AWG"),
        ("5/0 AWG", ("4/0 AWG",), "4/0 AWG"),
    ],
)
def test_names_the_neighbours(text: str, units: tuple[str, ...], nearest: str) -> None:
    """A size that is not sold is refused with its neighbours; the thicker one is suggested."""
    with pytest.raises(NotAQuantity) as caught:
        parse_conductor(text)
    assert (caught.value.units, caught.value.nearest) == (units, nearest)
    assert all(unit in caught.value.reason for unit in units)


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("10", "no unit"),
        ("2/0", "no unit"),
        ("1,5 mm²", "decimal sign is a point"),
        ("10 gauge", "which gauge"),
        ("#10", "which gauge"),
        ("0/0 AWG", "not a conductor size"),
        ("-1 AWG", "not a conductor size"),
        ("1.5 mm", "not a conductor size"),
        ("", "nothing is written"),
        ("9" * 5000 + " AWG", "too long"),
        ("1.5" + 55 * " " + "mm²", "too long"),
        ("10 ga", "which gauge"),
        ("12 swg", "which gauge"),
        ("thick", "thick is not a conductor size"),
    ],
)
def test_refuses_with_a_reason(text: str, reason: str) -> None:
    """What is no conductor size says why."""
    with pytest.raises(NotAQuantity, match=reason):
        parse_conductor(text)


@pytest.mark.parametrize("sizes", [AWG_SIZES, METRIC_SIZES], ids=["gauges", "mm²"])
def test_sizes_grow(sizes: tuple[ConductorSize, ...]) -> None:
    """Sizes are listed thin to thick, as look-ups for the next size rely on it."""
    areas = [size.area for size in sizes]
    assert areas == sorted(set(areas))


def test_the_sizes_of_trade_are_all_there() -> None:
    """IEC 60228 Table 3 from 0.5 to 240 mm²; the even gauges, and each from 4 AWG on, to 4/0."""
    metric = "0.5 0.75 1 1.5 2.5 4 6 10 16 25 35 50 70 95 120 150 185 240"
    gauges = "20 18 16 14 12 10 8 6 4 3 2 1 1/0 2/0 3/0 4/0"
    assert [size.label for size in METRIC_SIZES] == [f"{area} mm²" for area in metric.split()]
    assert [size.area for size in METRIC_SIZES] == pytest.approx([float(a) * 1e-6 for a in metric.split()])
    assert [size.label for size in AWG_SIZES] == [f"{gauge} AWG" for gauge in gauges.split()]


def test_a_size_is_made_as_the_listed_ones_are() -> None:
    """A square millimetre is a millionth of a square metre; a gauge is a circle of its diameter."""
    for square_millimetres in (0.5, 35, 240):
        assert size_mm2(square_millimetres).area == pytest.approx(square_millimetres * 1e-6, rel=1e-12)
    for size in AWG_SIZES:
        assert size.gauge is not None
        assert size_awg(size.gauge) == size
        assert size.area == pytest.approx(pi * (awg_diameter(size.gauge) / 2) ** 2, rel=1e-12)
