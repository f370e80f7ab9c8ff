"""Density, thermal conductivity and heat capacity of the materials of a conversion, by plain names."""

from dataclasses import dataclass
from functools import cache

from specreg.tables.constant import citation, not_tabulated, rows


@dataclass(frozen=True)
class Material:
    """Design values: density in kg/m³, conductivity in W/(m·K), heat capacity in J/(kg·K) where printed."""

    name: str
    density: float
    conductivity: float
    heat_capacity: float | None
    row_as_printed: str
    source: str
    basis: str
    note: str


@cache
def _materials() -> dict[str, Material]:
    return {row["name"]: _material(row) for row in rows("materials")}


def _material(row: dict[str, str]) -> Material:
    return Material(
        name=row["name"],
        density=float(row["density"]),
        conductivity=float(row["conductivity"]),
        heat_capacity=float(row["heat_capacity"]) if row["heat_capacity"] else None,
        row_as_printed=row["row_as_printed"],
        source=citation(row),
        basis=row["basis"],
        note=row["note"],
    )


def material(name: str) -> Material:
    """A material by name (`birch plywood`); raises NotTabulatedError with the nearest name."""
    table = _materials()
    if name not in table:
        raise not_tabulated("material", name, table)
    return table[name]


def material_names() -> tuple[str, ...]:
    """All names that `material` knows."""
    return tuple(_materials())


def sheet_mass(name: str, area: float, thickness: float) -> float:
    """Mass in kg of a sheet of `area` m² and `thickness` m."""
    return material(name).density * area * thickness
