"""Which things may share room because the spec says how they belong together: let in, held by, kept in."""

from __future__ import annotations

from specreg.model.build import Build
from specreg.model.component import Component
from specreg.model.furniture import Storage
from specreg.model.gas import GasLocker
from specreg.model.seating import Bench

REFERENCES = (
    "fixed_to",
    "lies_on",
    "stands_on",
    "stowed_in",
    "under",
    "is_part",
    "lifted_by",
    "locker",
    "carries",
    "made_from",
    "contents",
    "holds",
)
"""Fields that may name what a thing belongs to."""

HOLLOW = (Storage, Bench, GasLocker)
"""Kinds that keep other things inside their box."""


def named_by(model: Component) -> frozenset[str]:
    """Return the ids, among other words, that a component names as what it belongs to."""
    found: set[str] = set()
    for field in REFERENCES:
        value = getattr(model, field, None)
        if isinstance(value, str):
            found.add(value)
        elif isinstance(value, tuple):
            found.update(item for item in value if isinstance(item, str))
    return frozenset(found)


def chain(build: Build, name: str) -> frozenset[str]:
    """Return what a thing is fixed to, what that is fixed to, and so on; the thing itself among them."""
    found: list[str] = []
    at: str | None = name
    while at is not None and at not in found:
        found.append(at)
        model = build.components.get(at)
        at = model.fixed_to if model is not None else None
    return frozenset(found)


def belong_together(build: Build, first: str, second: str) -> bool:
    """Tell whether the spec says that one of two things is let into, lies on or is kept in the other."""
    for one, other in ((first, second), (second, first)):
        supports = chain(build, one)
        if other in supports:
            return True
        models = (build.components[name] for name in supports if name in build.components)
        if any(other in named_by(model) for model in models):
            return True
    return False
