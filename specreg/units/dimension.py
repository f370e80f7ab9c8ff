"""What a quantity measures, and the two systems in which a trade writes it."""

from enum import StrEnum


class Dimension(StrEnum):
    """What a quantity measures; the comment names the SI unit that holds it inside the program."""

    length = "length"  # m
    area = "area"  # m²
    volume = "volume"  # m³
    mass = "mass"  # kg
    time = "time"  # s
    temperature = "temperature"  # K, absolute
    temperature_difference = "temperature_difference"  # K
    current = "current"  # A
    voltage = "voltage"  # V
    resistance = "resistance"  # Ω
    power = "power"  # W
    energy = "energy"  # J
    charge = "charge"  # C, that is A·s
    pressure = "pressure"  # Pa
    flow = "flow"  # m³/s
    mass_flow = "mass_flow"  # kg/s
    speed = "speed"  # m/s
    force = "force"  # N
    torque = "torque"  # N·m
    angle = "angle"  # rad
    frequency = "frequency"  # Hz
    thermal_conductivity = "thermal_conductivity"  # W/(m·K)
    heat_transfer = "heat_transfer"  # W/(m²·K)
    thermal_resistance = "thermal_resistance"  # m²·K/W
    density = "density"  # kg/m³
    area_density = "area_density"  # kg/m²
    fraction_of_air = "fraction_of_air"  # parts of air, 1
    share = "share"  # parts of a whole, 1
    per_kelvin = "per_kelvin"  # relative change per kelvin, 1/K
    irradiation = "irradiation"  # J/m²
    burn_rate = "burn_rate"  # m/s
    plain = "plain"  # a bare number


class System(StrEnum):
    """The system of units in which figures are shown."""

    metric = "metric"
    us = "us"
