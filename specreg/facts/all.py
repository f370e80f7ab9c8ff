"""Every module of facts, imported so that the register of facts is whole."""

from specreg.facts import conductors, protection

MODULES = (conductors, protection)
"""The modules that register facts."""
