"""A matter that was signed on a filled sheet, as the record of a sign-off."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from specreg.facts.engine import Facts
from specreg.trade.sheet import Matter, TradeSheet
from specreg.trade.table import Row

Record = dict[str, str]

SIGN_OFF = "sign-off"
"""What stands in the place of a test's name where a person signs a matter."""

RESULTS = ("accepted", "refused")

SAME = ("matter", "target", "result", "by", "date", "covers")
"""Two sign-offs that agree in these are one."""


def matters(sheets: Iterable[TradeSheet]) -> dict[tuple[str, str], Matter]:
    """Return what is to be signed, by rule and target."""
    found = (matter for sheet in sheets for matter in sheet.matters if matter.to_sign)
    return {(matter.result.rule, matter.result.subject): matter for matter in found}


def record_of(row: Row, cell: Callable[[Row, str], str], matter: Matter) -> Record:
    """Return the sign-off that a row says; what it covers is what stood on the sheet."""
    said = {
        "matter": matter.result.rule,
        "target": matter.result.subject,
        "result": row["result"].lower(),
        **{column: cell(row, column) for column in ("by", "name", "licence")},
        "reference": row["value"],
        "date": cell(row, "date"),
        "covers": row["covers"] or matter.result.fingerprint,
    }
    return {key: value for key, value in said.items() if value}


def known(record: Record, facts: Facts) -> bool:
    """Tell whether a sign-off stands in the spec already."""
    signed = facts.build.header.records.sign_offs
    return any(all(record.get(key, "") == str(getattr(one, key) or "") for key in SAME) for one in signed)
