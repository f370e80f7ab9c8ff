"""Every module of facts, imported so that the register of facts is whole."""

from specreg.facts import (
    battery_current,
    conductors,
    declared_systems,
    design_current,
    hot_water,
    load_current,
    mains_cable,
    mains_modes,
    mains_path,
    protection,
    recorded_tests,
    records,
    tank_days,
    voltage_drop,
    waste_path,
    water_path,
)

MODULES = (
    battery_current,
    conductors,
    design_current,
    load_current,
    mains_cable,
    mains_modes,
    mains_path,
    protection,
    voltage_drop,
    declared_systems,
    hot_water,
    recorded_tests,
    records,
    tank_days,
    waste_path,
    water_path,
)
"""The modules that register facts."""
