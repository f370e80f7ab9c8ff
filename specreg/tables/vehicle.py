"""Masses that vehicle regulations count with, and the allowances computed from them, in SI units."""

from specreg.tables.constant import Constant

POUND = 0.45359237
US_GALLON = 0.003785411784

DRIVER_MASS_EU = Constant(
    75.0, "mass", "motor-caravan handbook citing (EU) 1230/2012", "read", "in running order"
)
PASSENGER_MASS_EU = Constant(75.0, "mass", "motor-caravan handbook 2015", "read", "per further seat")
PASSENGER_MASS_US = Constant(
    150 * POUND,
    "mass",
    "49 CFR 567.4(g)(3), quoted in an NHTSA interpretation",
    "read",
    "150 lb per belted seat",
)
FUEL_SHARE_EU = Constant(0.9, "share", "(EU) 1230/2012 Art. 2(4)(a)", "read", "least, in running order")
WATER_MASS_US = Constant(
    1000.0, "density", "FMVSS 110 S9.3, 120 S10.4", "memory", "1 kg/L, 8.3 lb/gal on the label"
)
WATER_MASS_TRADE = Constant(
    8.3 * POUND / US_GALLON, "density", "motor-home owner's manual", "read", "8.3 lb/gal"
)
COOLANT_MASS = Constant(
    67.05 * POUND / 0.3048**3,
    "density",
    "ASHRAE Fundamentals, densities of aqueous ethylene glycol, printed in a pipe maker's design manual",
    "read",
    "half of it by volume, 70 °F: 67.05 lb/ft³",
)
LPG_MASS_TRADE = Constant(
    4.2 * POUND / US_GALLON, "density", "motor-home owner's manual", "read", "4.2 lb/gal"
)
LPG_FILL_SHARE = Constant(0.8, "share", "motor-home owner's manual", "read", "of the tank's volume")
LATERAL_DIFFERENCE = Constant(
    0.04,
    "share",
    "van maker's body equipment manual 1.15.2",
    "read",
    "|right - left| of the whole; one maker's limit",
)
RELABEL_SHARE = Constant(0.015, "share", "72 FR 68442, FMVSS 110 and 120", "read", "of the gross rating")
RELABEL_MASS = Constant(100 * POUND, "mass", "72 FR 68442, FMVSS 110 and 120", "read", "100 lb")
BURN_RATE_GREATEST = Constant(
    0.102 / 60, "speed", "49 CFR 571.302 S4.3, test-lab summary", "read", "102 mm/min"
)
FMVSS_110_GREATEST_RATING = Constant(
    10_000 * POUND, "mass", "NHTSA interpretation 08-003469drn", "read", "FMVSS 120 above"
)


def personal_effects_eu(persons: int, length: float) -> float:
    """Least allowance for personal effects in kg: 10·N + 10·L, L in metres (EN 1646-2, per a handbook)."""
    return 10.0 * persons + 10.0 * length


def conventional_load_eu(seats: int) -> float:
    """Mass of passengers in kg: 75 kg for each seat but the driver's, who is in the running order."""
    return PASSENGER_MASS_EU.value * max(0, seats - 1)


def occupant_and_cargo_capacity_us(gross_rating: float, unladen: float, propane: float) -> float:
    """Occupant and cargo carrying capacity in kg: gross rating less unladen mass and full propane.

    Water, occupants and goods are all cargo (FMVSS 110 S9, as an article on the 2008 rule prints it).
    """
    return gross_rating - (unladen + propane)


def least_capacity_us(belted_seats: int) -> float:
    """What that capacity may not fall below, in kg: 150 lb for each belted seat (NHTSA interpretation)."""
    return PASSENGER_MASS_US.value * belted_seats


def relabel_threshold_us(gross_rating: float) -> float:
    """Added mass in kg that must be disclosed on labels: the lesser of 1.5 % of the rating and 100 lb."""
    return min(RELABEL_SHARE.value * gross_rating, RELABEL_MASS.value)
