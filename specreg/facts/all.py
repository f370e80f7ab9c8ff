"""Every module of facts, imported so that the register of facts is whole."""

from importlib import import_module

NAMES = (
    "air_openings",
    "axle_loads",
    "battery_current",
    "combustion",
    "conductor_size",
    "conductors",
    "declared_systems",
    "design_current",
    "device_place",
    "energy",
    "exits",
    "fire",
    "fixed_vents",
    "flue_place",
    "gas_path",
    "gas_supply",
    "hot_water",
    "load_current",
    "load_flow",
    "mains_cable",
    "mains_modes",
    "mains_path",
    "mass_ledger",
    "mass_height",
    "nights",
    "payload",
    "payload_places",
    "protection",
    "recorded_tests",
    "run_mass",
    "records",
    "seats",
    "selectivity",
    "solar_string",
    "sun",
    "switching",
    "tank_days",
    "tap_flow",
    "under_way",
    "voltage_drop",
    "waste_path",
    "water_path",
    "weighing",
    "weighing_series",
)
"""The modules that register facts."""

MODULES = tuple(import_module(f"specreg.facts.{name}") for name in NAMES)
"""The same, imported."""
