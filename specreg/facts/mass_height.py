"""How high the centre of gravity stands above the ground, in each loading case."""

from __future__ import annotations

from specreg.facts.axle_loads import AS_WEIGHED, WHEN_WEIGHED, total
from specreg.facts.engine import Subject
from specreg.facts.loading import Load
from specreg.facts.registry import Axis, fact
from specreg.facts.value_type import number
from specreg.model.build import Header
from specreg.units import Dimension

HEIGHT = number(Dimension.length)
MOMENTS = "(mass as received × its height + Σ mass × (height above the load floor + the floor's)) ÷ Σ mass"


def height_moment(entries: tuple[Load, ...], floor: float) -> float:
    """Return Σ mass × height above the ground in kg·m; `floor` is the load floor's height in m."""
    return sum(entry.mass * (entry.z + floor) for entry in entries)


def parted(entries: tuple[Load, ...]) -> tuple[Load, tuple[Load, ...]]:
    """Return the vehicle as weighed, whose height only its maker knows, and everything else."""
    (weighed,) = (entry for entry in entries if entry.name == AS_WEIGHED)
    return weighed, tuple(entry for entry in entries if entry is not weighed)


@fact(Header, HEIGHT, axis=Axis.loading, formula=MOMENTS, source="moments about the ground")
def centre_of_gravity_height_laden(build: Subject) -> float:
    """Height of the centre of gravity above the ground in this case."""
    base, floor = build.vehicle.centre_of_gravity_height, build.vehicle.interior.floor_height
    weighed, others = parted(build.loads)
    return float((weighed.mass * base + height_moment(others, floor)) / build.laden_mass)


@fact(
    Header,
    HEIGHT,
    axis=Axis.loading,
    formula="Σ (mass doubt × |height − result| + mass × height doubt) ÷ Σ mass; the base vehicle's as stated",
    source="worst case, linear",
)
def centre_of_gravity_height_doubt(build: Subject) -> float:
    """How far that height may be off."""
    middle, floor = float(build.centre_of_gravity_height_laden), build.vehicle.interior.floor_height
    _, others = parted(build.loads)
    astray = sum(
        entry.mass_doubt * abs(entry.z + floor - middle) + abs(entry.mass) * entry.z_doubt for entry in others
    )
    return float(astray / build.laden_mass)


@fact(Header, HEIGHT, formula="Σ mass × height ÷ Σ mass of what was fitted and taken out",
      source="moments about the load floor")  # fmt: skip
def height_of_what_was_fitted(build: Subject) -> float:
    """Height above the load floor of the centre of gravity of what the conversion added."""
    _, others = parted(build.fitted_loads)
    fitted = tuple(entry for entry in others if not entry.name.endswith(WHEN_WEIGHED))
    return height_moment(fitted, 0.0) / total(fitted)


@fact(Header, number(Dimension.share), axis=Axis.loading, formula="front axle load ÷ laden mass",
      source="arithmetic")  # fmt: skip
def front_share(build: Subject) -> float:
    """Share of the mass that stands on the front axle in this case."""
    return float(build.front_axle_load / build.laden_mass)
