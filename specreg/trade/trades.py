"""The trades that take a sheet along, and which matters of the rules are theirs."""

from __future__ import annotations

from specreg.model.component import System
from specreg.model.field import Word


class Trade(Word):
    """Who takes a sheet along."""

    electrician = "electrician"
    gas_engineer = "gas-engineer"
    seat_fitter = "seat-fitter"
    examiner = "examiner"


ROLES = (
    ("electrician", Trade.electrician),
    ("gas engineer", Trade.gas_engineer),
    ("seat installer", Trade.seat_fitter),
    ("workshop", None),
)
"""Words in a rule's `decides`, with the trade that is meant: what the workshop confirms is no trade's."""

SYSTEMS: dict[Trade, tuple[System, ...]] = {
    Trade.electrician: (System.mains,),
    Trade.gas_engineer: (System.gas,),
    Trade.seat_fitter: (System.seating,),
    Trade.examiner: (),
}
"""The systems whose written figures and open findings stand on a trade's sheet."""


def trade_of(decides: str) -> Trade | None:
    """Return whose sheet a matter belongs on; the examiner looks at whatever is no other trade's."""
    return next((trade for word, trade in ROLES if word in decides), Trade.examiner)
