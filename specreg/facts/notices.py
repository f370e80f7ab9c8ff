"""Notices that have to hang in the van."""

from __future__ import annotations

from specreg.facts.engine import Subject
from specreg.facts.registry import fact
from specreg.facts.value_type import list_of, text
from specreg.model.build import Header
from specreg.model.safety import Notice


@fact(Header, list_of(text()), formula="notices whose purpose is the hook-up", source="the spec")
def hook_up_notices(build: Subject) -> tuple[str, ...]:
    """Notices that say how the van is connected and when it is inspected again."""
    return tuple(notice.name for notice in build.van.of_class(Notice) if notice.get("purpose") == "hook-up")
