"""The list of component kinds, one module for each system."""

from functools import cache

from specreg.model import (
    air,
    charging,
    dc,
    furniture,
    gas,
    heat,
    loads,
    mains,
    safety,
    seating,
    sleeping,
    solar,
    structure,
    waste,
    water,
)
from specreg.model.component import Component

MODULES = (
    dc,
    charging,
    solar,
    mains,
    loads,
    water,
    waste,
    gas,
    heat,
    air,
    seating,
    sleeping,
    furniture,
    structure,
    safety,
)
"""The modules that define kinds, in the order of the reference."""


@cache
def kinds() -> dict[str, type[Component]]:
    """Return every component kind by its name."""
    found: dict[str, type[Component]] = {}
    for kind in (kind for module in MODULES for kind in module.KINDS):
        name = kind_name(kind)
        if name in found:
            raise ValueError(f"two kinds are called {name}: {found[name].__module__} and {kind.__module__}")
        found[name] = kind
    return found


def kind_name(kind: type[Component]) -> str:
    """Return the word that a spec writes for a kind."""
    (name,) = kind.model_fields["kind"].annotation.__args__  # type: ignore[union-attr]
    return str(name)
