"""Every module of facts, imported so that the register of facts is whole."""

from specreg.facts import conductors, mains_cable, mains_modes, mains_path, protection

MODULES = (conductors, mains_cable, mains_modes, mains_path, protection)
"""The modules that register facts."""
