"""What the spec states about a thing of any kind."""

from __future__ import annotations

from typing import Any

from specreg.facts.engine import Subject


def stated(subject: Subject, field: str) -> Any:
    """Return a field, or None where it is not stated or its kind has no such field."""
    return subject.get(field) if field in type(subject.model).model_fields else None
