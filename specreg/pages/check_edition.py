"""Which rules were put: the codes that they refer to, and a mark of the pack's edition."""

from __future__ import annotations

from hashlib import sha256

from specreg.rules.pack import Pack


def codes(pack: Pack) -> tuple[str, ...]:
    """Return every document that the rules refer to, with its edition."""
    found = {
        f"{source.document}{f', {source.edition}' if source.edition else ''}"
        for rule in pack.rules
        for source in rule.header.sources
        if source.document
    }
    return tuple(sorted(found))


def pack_mark(pack: Pack) -> str:
    """Return eight hexadecimal digits that change whenever a rule does: the edition of the rule pack."""
    digest = sha256()
    for rule in pack.rules:
        digest.update(f"{rule.identity}\0{rule.document.digest}\0".encode())
    return digest.hexdigest()[:8]
