"""Charts of facts: the block and its words, the table folded below, what is said instead of a chart."""

from __future__ import annotations

from collections.abc import Sequence

from specreg.facts.engine import Fact
from specreg.pages.charts import Drawn
from specreg.pages.content import Block, Chart, Fold, Known, Paragraph, Table, Words
from specreg.pages.van import Van


def chart_of(van: Van, anchor: str, title: str, drawn: Drawn, told: Sequence[str], beside: str) -> Chart:
    """Return a chart of computed figures; `told` is what it shows, for who cannot see it."""
    description = van.texts("chart.described", words="; ".join(told))
    return Chart(anchor, title, description, drawn, Known.computed, beside)


def folded(van: Van, table: Table) -> Fold:
    """Return the table that says the same as a chart."""
    return Fold(van.texts("chart.table"), (table,))


def not_drawn(van: Van, title: str, fact: Fact) -> Block:
    """Return what is said where a figure of a chart is not known: what is missing."""
    return Paragraph((Words(van.texts("chart.not_drawn", title=title)), *van.told(fact)))
