"""Gas, combustion, ventilation, water and heat: published values and the areas and ages they ask for."""

from dataclasses import dataclass

from specreg.tables.constant import (
    Constant,
    NotTabulatedError,
    citation,
    constants,
    not_tabulated,
    rows,
)

SQUARE_MILLIMETRE = 1e-6
FOOT = 0.3048
INCH = 0.0254
WATT_PER_KBTU_PER_HOUR = 1055.05585262e3 / 3600
RESPIRATORY_QUOTIENT = 0.85  # Persily & de Jonge 2017, Table 4


@dataclass(frozen=True)
class VentAreas:
    """Free areas in m²: a roof vent, or other high vents instead, and low vents."""

    roof: float
    other_high: float
    low: float
    source: str
    basis: str
    note: str


def constant(name: str) -> Constant:
    """A value by name (`co-alarm-distance-least`); raises NotTabulatedError with the nearest name."""
    table = constants("environment")
    if name not in table:
        raise not_tabulated("environment value", name, table)
    return table[name]


def fixed_vents(floor_area: float, *, open_combustion: bool) -> VentAreas:
    """Least fixed vents by EN 721 for a floor area in m².

    `open_combustion`: an open-flued or flueless appliance (a cooker is one); else none or room-sealed only.
    Raises NotTabulatedError above the largest floor area known (20 m², or 10 m² without open combustion).
    """
    appliance = "open" if open_combustion else "room-sealed"
    table = [row for row in rows("fixed-vents") if row["appliance"] == appliance]
    row = next((r for r in table if 0 < floor_area <= float(r["up_to_floor_m2"])), None)
    if row is None:
        raise NotTabulatedError(f"EN 721 vents: no row for {floor_area:g} m² of floor ({appliance})")
    roof, other, low = (float(row[part]) * SQUARE_MILLIMETRE for part in ("roof", "other_high", "low"))
    return VentAreas(roof, other, low, citation(row), row["basis"], row["note"])


def total_vent_area_au(open_input: float, berths: int) -> Constant:
    """Total vent area in m² by AS/NZS 5601.2:2020 section 7: max(4000, 610·U + 650·P) mm².

    `open_input` is the input of all appliances that are not room-sealed, in W; U is that in MJ/h.
    """
    megajoule_per_hour = open_input * 3600 / 1e6
    area = max(4000.0, 610 * megajoule_per_hour + 650 * berths) * SQUARE_MILLIMETRE
    return Constant(area, "area", "AS/NZS 5601.2:2020 section 7", "read")


def locker_vent_area(floor_area: float) -> Constant:
    """Free area in m² of a gas locker's single low vent: 2 % of its floor, at least 10 000 mm² (EN 1949)."""
    return Constant(max(0.02 * floor_area, 0.01), "area", "EN 1949 via DVGW G 607", "read")


def locker_vent_area_split(floor_area: float) -> Constant:
    """Free area in m² of each of a low and a high vent: 1 % of the floor, at least 5000 mm² (EN 1949)."""
    return Constant(max(0.01 * floor_area, 0.005), "area", "EN 1949 via DVGW G 607", "read")


def locker_vent_area_us(floor_area: float) -> Constant:
    """Free area in m² of a gas compartment's vents together, half low and half high: 2 % of the floor."""
    return Constant(0.02 * floor_area, "area", "675 IAC 15-2-74(c)(2), 2024", "read")


def service_years(item: str, jurisdiction: str) -> Constant | None:
    """Years after which `gas hose` or `gas regulator` is replaced, `gas inspection` repeated, if known."""
    table = [row for row in rows("service-life") if row["item"] == item]
    if not table:
        raise not_tabulated("item", item, {row["item"] for row in rows("service-life")})
    row = next((r for r in table if r["jurisdiction"] == jurisdiction), None)
    if row is None:
        return None
    return Constant(float(row["value"]), "years", citation(row), row["basis"], row["note"])


def alarm_distance_admissible(distance: float, below_ceiling: float) -> bool:
    """Whether a wall-mounted CO alarm is 1 to 3 m from the source, 150 mm below the ceiling (EN 50292)."""
    least, greatest = constant("co-alarm-distance-least"), constant("co-alarm-distance-greatest")
    return (
        least.value <= distance <= greatest.value
        and below_ceiling >= constant("co-alarm-below-ceiling").value
    )


def ceiling_alarm_admissible(distance: float, from_wall: float) -> bool:
    """Whether a ceiling-mounted CO alarm stands 1 to 3 m from the source, 300 mm from walls (EN 50292)."""
    least, greatest = constant("co-alarm-distance-least"), constant("co-alarm-distance-greatest")
    return (
        least.value <= distance <= greatest.value
        and from_wall >= constant("co-alarm-ceiling-from-wall").value
    )


def altitude_factor(altitude: float) -> float:
    """Share of a gas appliance's rated input at an altitude in m: 4 % less for each 1000 ft above sea level.

    Applies above 2000 ft (NFPA 54 Table E.1.1(d)); a trade variant counts from the 2000 ft line instead.
    """
    feet = altitude / FOOT
    return 1.0 if feet <= 2000 else max(0.0, 1 - constant("altitude-derate-per-1000-ft").value * feet / 1000)


def carbon_dioxide_generation(sex: str, age: float, metabolic_rate: float, celsius: float = 0.0) -> Constant:
    """Carbon dioxide that one person gives off, in m³/s of gas at `celsius` and 101 kPa.

    Basal rate by sex (`M`, `F`) and age (Persily & de Jonge 2017, Table 4); V = 0.000569 L/s · RQ · BMR · met
    at 0 °C, RQ 0.85 (the factor is from memory and reproduces the printed table).
    """
    table = [r for r in rows("basal-metabolic-rate") if r["sex"] == sex and float(r["least_age"]) <= age]
    if not table:
        raise NotTabulatedError(f"basal metabolic rate: sex is M or F and age 0 or more; read {sex}, {age:g}")
    row = max(table, key=lambda r: float(r["least_age"]))
    litres = 0.000569 * RESPIRATORY_QUOTIENT * float(row["value"]) * metabolic_rate
    return Constant(litres / 1000 * (273.15 + celsius) / 273.15, "flow", citation(row), "memory")


def air_gap_resistance(thickness: float, direction: str) -> float:
    """Thermal resistance in m²·K/W of a shut air layer, heat going `up`, `across` or `down` (ISO 6946).

    The row of the next smaller thickness counts.
    """
    row = [row for row in rows("air-gaps") if float(row["least_thickness_m"]) <= thickness][-1]
    return float(row[direction])


def coolant_freezes_at(share: float) -> float:
    """Temperature in K at which coolant with a share of ethylene glycol freezes, by the next lower row."""
    row = [row for row in rows("coolant") if float(row["least_share"]) <= share + 1e-9][-1]
    return 273.15 + float(row["celsius"])


def air_gap(bore: float) -> Constant:
    """Least unrestricted air gap (type AA) in m above a spill-over level: twice the bore, at least 20 mm."""
    return Constant(max(0.020, 2 * bore), "length", "UK Water Fittings Regulations, EN 1717 type AA", "read")


def bleach_volume(water: float, chlorine: float | None = None) -> Constant:
    """Bleach in m³ that sanitises `water` m³; `chlorine` is the bleach's kg/m³ (52.5 for 5.25 %)."""
    strength = constant("bleach-chlorine").value if chlorine is None else chlorine
    dose = constant("sanitising-dose")
    basis = "memory" if chlorine is None else dose.basis
    return Constant(water * dose.value / strength, "volume", dose.source, basis, dose.note)


def copper_pipe_capacity(outside_diameter: float, length: float) -> Constant:
    """Propane input in W that a copper pipe carries (IFGC 2018 Table 402.4(30), next longer length).

    11 in water column with 0.5 in drop; not for 30 mbar systems. Raises NotTabulatedError outside the table.
    """
    fitting = [
        row
        for row in rows("propane-copper-pipe")
        if abs(float(row["outside_in"]) * INCH - outside_diameter) < 0.1e-3
        and float(row["length_ft"]) * FOOT >= length * (1 - 1e-9)
    ]
    if not fitting:
        raise NotTabulatedError(
            f"IFGC Table 402.4(30) has 3/8 to 7/8 in outside and up to 40 ft; "
            f"read {outside_diameter * 1000:.1f} mm, {length:g} m"
        )
    row = min(fitting, key=lambda r: float(r["length_ft"]))
    watts = float(row["value"]) * WATT_PER_KBTU_PER_HOUR
    return Constant(watts, "power", citation(row), row["basis"], row["note"])
