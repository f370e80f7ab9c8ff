"""The one exception by which absent data travels from a fact to the answer *open*."""

from __future__ import annotations


class Missing(Exception):  # noqa: N818 - an absence, not an error: the rule's answer becomes "open"
    """Something cannot be said because data is absent; `fields` names what would decide it."""

    fields: tuple[str, ...]
    """Dotted names of the absent fields, in the order in which they were asked for."""
    reason: str
    """Why it cannot be said, where absence of a field is not the whole story."""

    def __init__(self, *fields: str, reason: str = "") -> None:
        super().__init__(reason or ", ".join(fields))
        self.fields = fields
        self.reason = reason
