"""Copper conductors: resistance, ampacity with its factors, mass, least and standard sizes."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, lru_cache

from specreg.tables.constant import Constant, NotTabulatedError, citation, rows
from specreg.units import AWG_SIZES, METRIC_SIZES, ConductorSize, awg_diameter

CELSIUS_ZERO = 273.15
COPPER_RESISTIVITY_20 = Constant(1 / 58e6, "Ω·m", "IEC 60028:1925, 100 % IACS at 20 °C", "read")
COPPER_COEFFICIENT_20 = Constant(
    0.00393,
    "per_kelvin",
    "handbook of industrial power engineering, properties of standard copper",
    "read",
    "the digits were read, the power of ten is from memory",
)
COPPER_DENSITY = Constant(8890.0, "density", "NBS Handbook 100, copper at 20 °C", "read")
STRANDING_LAY = Constant(
    1.02,
    "plain",
    "NEC chapter 9 table 8: stranded against solid",
    "derived",
    "the strands of a twisted conductor are about 2 % longer than the conductor",
)
TABLE_5_AMBIENT = Constant(30.0, "°C", "33 CFR 183.425 Table 5 (as reprinted)", "read")
BELOW_50_VOLT = 50.0
ISO_10133 = "ISO 10133 Annex A Table A.1"


@dataclass(frozen=True)
class Factor:
    """A factor on the ampacity; `practice` marks one that the cited regulation does not ask for."""

    value: float
    source: str
    basis: str
    practice: bool = False


@dataclass(frozen=True)
class Ampacity:
    """Ampacity in ampere: `value` by the regulation, `derated` with physics and practice as well."""

    value: float
    row_used: str
    insulation_column: int
    note: str
    source: str
    basis: str
    factors: tuple[Factor, ...]

    @property
    def derated(self) -> float:
        """The value with every factor that is not part of the regulation applied as well, in ampere."""
        return self.value * math.prod(factor.value for factor in self.factors if factor.practice)


def gauge_label(gauge: int) -> str:
    """An AWG number as written: 10, 1/0, 4/0."""
    return str(gauge) if gauge > 0 else f"{1 - gauge}/0"


def gauge_area(gauge: int) -> float:
    """Copper area of an AWG size in m² (ASTM B258)."""
    return math.pi / 4 * awg_diameter(gauge) ** 2


def standard_sizes(notation: str) -> tuple[ConductorSize, ...]:
    """The sizes of `mm2` or `awg` that cable is sold in, ascending."""
    return AWG_SIZES if notation == "awg" else METRIC_SIZES


@cache
def _metric_resistances(finish: str = "plain") -> dict[float, float]:
    """Greatest resistance in Ω/m at 20 °C by area in mm², class 5."""
    return {
        float(row["area_mm2"]): float(row["value"]) / 1000
        for row in rows("resistance-mm2")
        if row["finish"] == finish
    }


def resistance_per_metre(
    size: ConductorSize, *, temperature_kelvin: float = 20 + CELSIUS_ZERO, finish: str = "plain"
) -> float:
    """Resistance of a conductor in Ω/m at its temperature.

    mm²: greatest resistance of IEC 60228 class 5 (of the next smaller standard size where the size is not a
    standard one). AWG: ASTM B258 area, IACS resistivity, 2 % for the lay of the strands. To the working
    temperature by R20·(1 + α·(T − 20 °C)). These are greatest values: a fault current computed with them is
    on the low side. Raises NotTabulatedError below 0.5 mm².
    """
    rise = temperature_kelvin - CELSIUS_ZERO - 20
    warming = 1 + COPPER_COEFFICIENT_20.value * rise
    if size.notation == "awg":
        return COPPER_RESISTIVITY_20.value * STRANDING_LAY.value / size.area * warming
    area = size.area * 1e6
    table = _metric_resistances(finish)
    standard = [a for a in table if a <= area * (1 + 1e-9)]
    if not standard:
        raise NotTabulatedError(f"IEC 60228 class 5 begins at {min(table):g} mm²; read {size.label}")
    return table[max(standard)] * warming


@cache
def _table_5() -> dict[int, dict[int, float]]:
    """Ampacity in ampere by AWG number and insulation temperature in °C."""
    table: dict[int, dict[int, float]] = {}
    for row in rows("ampacity-awg"):
        table.setdefault(_gauge(row["gauge"]), {})[int(row["insulation_celsius"])] = float(row["value"])
    return table


def _gauge(text: str) -> int:
    return 1 - int(text[:-2]) if text.endswith("/0") else int(text)


def _table_5_row(size: ConductorSize) -> int:
    """The size's own row, else the row of the next smaller AWG area."""
    smaller = [gauge for gauge in _table_5() if gauge_area(gauge) <= size.area * (1 + 1e-9)]
    if not smaller:
        raise NotTabulatedError(f"33 CFR 183.425 Table 5 begins at 18 AWG (0.82 mm²); read {size.label}")
    return max(smaller, key=gauge_area)


def _insulation_column(insulation_celsius: float) -> int:
    columns = sorted(_table_5()[10])
    lower = [column for column in columns if column <= insulation_celsius]
    if not lower:
        raise NotTabulatedError(
            f"33 CFR 183.425 Table 5 begins at 60 °C insulation; read {insulation_celsius:g} °C"
        )
    return lower[-1]


def engine_space_factor(insulation_celsius: float) -> Factor:
    """Factor for conductors in an engine space of 50 °C (33 CFR 183.425 Table 5 note 1)."""
    column = str(_insulation_column(insulation_celsius))
    row = next(r for r in rows("ampacity-factors") if r["kind"] == "engine space" and r["key"] == column)
    return Factor(float(row["value"]), citation(row), row["basis"])


def bundle_factor(conductors: int, voltage: float) -> Factor:
    """Factor for `conductors` current-carrying conductors bundled (33 CFR 183.425 Table 5 note 2).

    The regulation asks for it from 50 V upward. Below 50 V the same number is returned as practice: the
    regulation has no reduction there.
    """
    table = [row for row in rows("ampacity-factors") if row["kind"] == "bundle"]
    steps = [row for row in table if int(row["key"]) <= max(conductors, 1)]
    row = max(steps, key=lambda r: int(r["key"]))
    practice = voltage < BELOW_50_VOLT and float(row["value"]) < 1
    source = citation(row) + ("; below 50 V not asked for by 33 CFR 183.435(b)" if practice else "")
    return Factor(float(row["value"]), source, "practice" if practice else row["basis"], practice)


def ambient_factor(insulation_celsius: float, ambient_celsius: float) -> Factor:
    """√((Tins − Tamb)/(Tins − 30 °C)), at most 1: equal conductor temperature at another ambient.

    Physics, not part of the regulation; with the ambient at or above the insulation's temperature it is 0.
    """
    base = TABLE_5_AMBIENT.value
    ratio = max(0.0, insulation_celsius - ambient_celsius) / (insulation_celsius - base)
    source = "steady heat balance of a conductor: loss proportional to the temperature rise"
    return Factor(min(1.0, math.sqrt(ratio)), source, "derived", practice=True)


@lru_cache(maxsize=1024)
def ampacity(
    size: ConductorSize,
    insulation_celsius: float,
    *,
    engine_space: bool = False,
    bundled: int = 1,
    voltage: float = 12.0,
    ambient_celsius: float = 30.0,
) -> Ampacity:
    """Ampacity by 33 CFR 183.425 Table 5, in ampere; for a van a published basis, not law.

    mm² sizes take the row of the next smaller AWG area, or the cell of ISO 10133 where that was read and is
    lower; insulation temperatures between columns take the next lower column. Raises NotTabulatedError below
    18 AWG or 60 °C.
    """
    row, column = _table_5_row(size), _insulation_column(insulation_celsius)
    found = [bundle_factor(bundled, voltage)]
    if engine_space:
        found.append(engine_space_factor(insulation_celsius))
    else:
        found.append(ambient_factor(column, ambient_celsius))
    factors = tuple(factor for factor in found if factor.value != 1)
    regulated = math.prod(factor.value for factor in factors if not factor.practice)
    memory = any(factor.basis == "memory" for factor in factors)
    base = _table_5()[row][column]
    least = min((base, *_iso_10133(size, column)))
    takes_iso = least < base
    return Ampacity(
        value=least * regulated,
        row_used=f"{ISO_10133}, {size.label}" if takes_iso else f"{gauge_label(row)} AWG",
        insulation_column=column,
        note=_ampacity_note(size, row, column, insulation_celsius),
        source=ISO_10133 if takes_iso else "33 CFR 183.425 Table 5",
        basis="memory" if memory else "read",
        factors=factors,
    )


def _iso_10133(size: ConductorSize, column: int) -> tuple[float, ...]:
    """What ISO 10133 prints, in ampere, for the few metric cells that were read; nothing for the others."""
    return tuple(
        float(row["value"])
        for row in rows("ampacity-mm2")
        if f"{row['area_mm2']} mm²" == size.label and int(row["insulation_celsius"]) == column
    )


def _ampacity_note(size: ConductorSize, row: int, column: int, insulation_celsius: float) -> str:
    notes = []
    base = _table_5()[row][column]
    least = min((base, *_iso_10133(size, column)))
    if least < base:
        notes.append(
            f"{size.label} judged by {least:g} A of {ISO_10133} at {column} °C: lower than the "
            f"{base:g} A of the next smaller AWG area in 33 CFR 183.425 Table 5"
        )
    elif size.gauge != row:
        notes.append(
            f"{size.label} judged by the row of {gauge_label(row)} AWG ({gauge_area(row) * 1e6:.2f} mm²), "
            "the next smaller area in the table"
        )
    if column != insulation_celsius:
        notes.append(f"insulation of {insulation_celsius:g} °C judged by the {column} °C column")
    return "; ".join(notes)


def smallest_conductor(notation: str, sufficient: Callable[[ConductorSize], bool]) -> ConductorSize | None:
    """The smallest standard size that satisfies the condition; none if no size does."""
    return next((size for size in standard_sizes(notation) if sufficient(size)), None)


def smallest_conductor_for(
    current: float, insulation_celsius: float, notation: str, *, engine_space: bool = False
) -> ConductorSize | None:
    """The smallest standard size whose ampacity at 12 V carries `current` (A); none if none does."""

    def carries(size: ConductorSize) -> bool:
        try:
            return ampacity(size, insulation_celsius, engine_space=engine_space).value >= current
        except NotTabulatedError:
            return False

    return smallest_conductor(notation, carries)


def least_area(*, notation: str, in_sheath: bool) -> Constant:
    """Least conductor area in m²: 33 CFR 183.425(d), (e) for AWG, ISO 10133 7.7 for mm²."""
    if notation == "awg":
        gauge, clause = (18, "(d)") if in_sheath else (16, "(e)")
        return Constant(gauge_area(gauge), "area", f"33 CFR 183.425{clause}: {gauge} AWG", "read")
    area, text = (0.75, "in a multi-core sheath") if in_sheath else (1.0, "separate, longer than 200 mm")
    return Constant(area * 1e-6, "area", f"ISO 10133:2012 7.7: {area:g} mm² {text}", "read")


def mass_per_metre(size: ConductorSize, cores: int = 1) -> Constant:
    """Estimated mass of a cable in kg/m: copper with its lay, and an allowance for insulation.

    Common practice, no source: each core has a wall of 0.6 mm or 12 % of its diameter, whichever is more, of
    PVC (1390 kg/m³, DIN EN 12524), strands fill 78 % of the core, a common sheath adds a fifth. Good to
    about ±20 %; a data sheet or a scale is better.
    """
    copper = size.area * STRANDING_LAY.value * COPPER_DENSITY.value
    diameter = math.sqrt(4 * size.area / (math.pi * 0.78))
    wall = max(0.6e-3, 0.12 * diameter)
    core = copper + math.pi * (diameter + wall) * wall * 1390
    mass = cores * core * (1.2 if cores > 1 else 1.0)
    return Constant(mass, "kg/m", "copper by area, insulation allowance", "practice", "±20 %")
