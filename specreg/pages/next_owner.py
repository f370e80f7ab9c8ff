"""A van's book for its next owner: without what belongs to the one before."""

from __future__ import annotations

from dataclasses import replace

from specreg.model.build import Build
from specreg.model.records import Records, Service
from specreg.model.vehicle import Identity

FORMER: dict[type, tuple[str, ...]] = {Identity: ("owner", "contact", "plate"), Service: ("by",)}
"""What is the former owner's: name, contact, the mark that may go with them, who did which work."""


def for_next_owner(build: Build) -> Build:
    """Return the build without the former owner's data; it is read, judged and shown from then on so."""
    header = build.header
    identity = header.vehicle.identity.model_copy(update=_emptied(Identity))
    vehicle = header.vehicle.model_copy(update={"identity": identity})
    records = header.records.model_copy(update={"services": _services(header.records)})
    return replace(build, header=header.model_copy(update={"vehicle": vehicle, "records": records}))


def _services(records: Records) -> tuple[Service, ...]:
    return tuple(one.model_copy(update=_emptied(Service)) for one in records.services)


def _emptied(model: type) -> dict[str, None]:
    return dict.fromkeys(FORMER[model])
