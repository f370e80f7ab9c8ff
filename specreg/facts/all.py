"""Every module of facts, imported so that the register of facts is whole."""

from specreg.facts import (
    battery_current,
    conductors,
    design_current,
    load_current,
    mains_cable,
    mains_modes,
    mains_path,
    protection,
    voltage_drop,
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
)
"""The modules that register facts."""
