"""The sheet of a hold point as text, and as a table to be filled in on a phone."""

from __future__ import annotations

from collections.abc import Iterable

from specreg.facts.engine import Facts
from specreg.output.rows import as_csv
from specreg.trade.hold_points import BLANKS, hold_lines

COLUMNS = ("build", "mark", "on", "where", "planned", *BLANKS)
"""The columns; `specreg record` takes the last ones back."""


def hold_sheets_csv(vans: Iterable[Facts], point: str) -> str:
    """Return the lines of a hold point as a table."""
    rows = (
        (facts.build.name, line.mark, line.id, line.where, line.planned, *("" for _ in BLANKS))
        for facts in vans
        for line in hold_lines(facts, point)
    )
    return as_csv(COLUMNS, rows)


def hold_sheet_text(facts: Facts, point: str) -> str:
    """Return the sheet of one van as text."""
    lines = hold_lines(facts, point)
    head = f"{facts.build.header.title}: before {point}, {len(lines)} things to write down"
    listed = [
        f"  {line.mark or '-':6} {line.id}, {line.where}; planned {line.planned or 'nothing'}; "
        + ", ".join(f"{blank.replace('_', ' ')}: ______" for blank in line.blanks)
        for line in lines
    ]
    return "\n".join([head, *listed]) + "\n"
