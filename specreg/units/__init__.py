"""Quantities as people write them, and the SI numbers that they mean."""

from specreg.units.conductor import AWG_SIZES, METRIC_SIZES, ConductorSize, awg_diameter, parse_conductor
from specreg.units.dimension import Dimension, System
from specreg.units.error import NotAQuantity
from specreg.units.notation import usual_units
from specreg.units.reading import parse, parse_any
from specreg.units.writing import unit_of, write

__all__ = [
    "AWG_SIZES",
    "METRIC_SIZES",
    "ConductorSize",
    "Dimension",
    "NotAQuantity",
    "System",
    "awg_diameter",
    "parse",
    "parse_any",
    "parse_conductor",
    "unit_of",
    "usual_units",
    "write",
]
