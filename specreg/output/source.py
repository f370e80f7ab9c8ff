"""Where a rule comes from and how its authors know, in words."""

from __future__ import annotations

from specreg.rules.document import RuleSource
from specreg.rules.pack import Rule

KNOWN_HOW = {
    "read": "read",
    "secondary": "read in a secondary source",
    "memory": "from memory",
    "common practice": "common practice, no source",
    "physics": "plain physics",
}
"""How a source is known, as it is said to people."""


def source_words(source: RuleSource) -> str:
    """Return one source in words: document, clause, edition, and how it is known."""
    named = " ".join(part for part in (source.document, source.clause) if part)
    edition = f", {source.edition}" if source.edition else ""
    how = KNOWN_HOW[source.how]
    return f"{named}{edition} ({how})" if named else how


def sources_words(rule: Rule) -> str:
    """Return every source of a rule in words."""
    return "; ".join(source_words(source) for source in rule.header.sources)
