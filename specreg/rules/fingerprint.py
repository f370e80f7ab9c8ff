"""A short mark of what a sign-off covers: when the thing changes, the mark does."""

import json
from collections.abc import Iterator, Mapping
from hashlib import sha256
from typing import Any

from pydantic import BaseModel

from specreg.model.build import Build, Header

BESIDE_THE_POINT = frozenset(
    {
        "title", "label", "note", "part", "supplier", "price", "state", "manual", "serial", "fitted_on",
        "made_on", "maker", "maker_model", "mass_status", "lead_time", "sale_price",
    }
)  # fmt: skip
"""Fields whose change does not reopen a signed matter, unless a rule names them."""


def fingerprint(build: Build, subject: str, covers: tuple[str, ...]) -> str:
    """Return eight hexadecimal digits over what a sign-off of `subject` covers.

    `covers` names fields of the subject, or whole systems as `system:gas`; nothing means the whole
    subject. SHA-256 over canonical JSON, cut to 32 bits: enough to tell a change, not meant to resist
    someone who wants a collision.
    """
    fields = tuple(name for name in covers if not name.startswith("system:"))
    systems = {name.removeprefix("system:") for name in covers if name.startswith("system:")}
    covered: dict[str, Any] = dict(_of_systems(build, systems))
    if subject:
        model = build.components.get(subject) or build.runs[subject]
        covered[subject] = _relevant(model, fields)
    elif not systems:
        covered["vehicle"] = _relevant(build.header.vehicle, ())
    return _digest(covered)


def mark_of(parts: Mapping[str, BaseModel], fields: tuple[str, ...] = ()) -> str:
    """Return the same kind of mark over several things by id, or over some fields of each."""
    return _digest({name: _relevant(model, fields) for name, model in parts.items()})


def _digest(covered: Mapping[str, Any]) -> str:
    text = json.dumps(covered, sort_keys=True, ensure_ascii=True, default=str)
    return sha256(text.encode()).hexdigest()[:8]


def _of_systems(build: Build, systems: set[str]) -> Iterator[tuple[str, Any]]:
    for name, component in build.components.items():
        if component.system.value in systems:
            yield name, _relevant(component, ())
    for name, run in build.runs.items():
        if run.system.value in systems:
            yield name, _relevant(run, ())


def _relevant(model: BaseModel, fields: tuple[str, ...]) -> dict[str, Any]:
    assert not isinstance(model, Header)
    stated = model.model_dump(mode="python", exclude_none=True)
    if fields:
        return {name: stated[name] for name in sorted(fields) if name in stated}
    return {name: value for name, value in stated.items() if name not in BESIDE_THE_POINT}
