"""Money: exact amounts in one currency each, never added across currencies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from specreg.model.works import PRICE

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Money:
    """An amount in a currency (ISO 4217), for one or for one `per`: m, h, kg."""

    amount: Decimal
    currency: str
    per: str = ""

    def times(self, number: Decimal | float) -> Money:
        """Return the price of so many, to the cent, half a cent upwards."""
        exact = self.amount * (number if isinstance(number, Decimal) else Decimal(repr(number)))
        return Money(exact.quantize(CENT, ROUND_HALF_UP), self.currency)

    def __str__(self) -> str:
        return f"{self.amount:f} {self.currency}" + (f"/{self.per}" if self.per else "")


def read_money(text: str | None) -> Money | None:
    """Return the price that a text states; None where it states none."""
    found = PRICE.fullmatch((text or "").strip())
    return Money(Decimal(found["amount"]), found["currency"], found["per"] or "") if found else None


def sums(amounts: Iterable[Money]) -> tuple[Money, ...]:
    """Return the sums by currency, in the order of their letters."""
    found: dict[str, Decimal] = {}
    for one in amounts:
        found[one.currency] = found.get(one.currency, Decimal()) + one.amount
    return tuple(Money(amount, currency) for currency, amount in sorted(found.items()))


def with_share(money: Money, share: float) -> Money:
    """Return an amount with a share of it added, to the cent."""
    return money.times(1 + Decimal(repr(share)))
