"""Liquefied petroleum gas as vapour: its pressure by temperature, the boiling point of a mixture.

ln(p/Pa) = A + B/T + C·ln T + D·T², with the coefficients of a chemical engineers' handbook, from memory,
checked against published charts.
"""

from math import exp, log

ATMOSPHERE = 101_325.0
MOLAR_MASS = {"propane": 44.096e-3, "butane": 58.122e-3}
"""In kg/mol."""

COEFFICIENTS = {
    "propane": (59.078, -3492.6, -6.0669, 1.0919e-5),
    "butane": (66.343, -4363.2, -7.0460, 9.4509e-6),
}
"""By gas: A, B, C, D."""


def vapour_pressure(gas: str, kelvin: float) -> float:
    """Absolute vapour pressure in Pa of pure `propane` or (normal) `butane`; raises KeyError for others."""
    a, b, c, d = COEFFICIENTS[gas]
    return exp(a + b / kelvin + c * log(kelvin) + d * kelvin**2)


def mixture_pressure(propane_share: float, kelvin: float) -> float:
    """Absolute pressure in Pa over a fresh mixture of propane and butane, by Raoult's law.

    `propane_share` is propane's share of the liquid's mass.
    """
    moles = {
        "propane": propane_share / MOLAR_MASS["propane"],
        "butane": (1 - propane_share) / MOLAR_MASS["butane"],
    }
    total = sum(moles.values())
    return sum(share / total * vapour_pressure(gas, kelvin) for gas, share in moles.items())


def boiling_point(propane_share: float) -> float:
    """Temperature in K at which a fresh mixture boils at 101 kPa."""
    low, high = 190.0, 300.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if mixture_pressure(propane_share, middle) > ATMOSPHERE else (middle, high)
    return low
