"""Cost and quotation: exact sums, and nothing of what the workshop pays in what the client reads."""

from __future__ import annotations

import re
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from works_van import small

from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.field import Reader
from specreg.pages.publish import publish
from specreg.works.bill import bill_of
from specreg.works.cost import Cost, Quotation, cost_of, quotation
from specreg.works.money import Money, sums, with_share
from specreg.works.plan import plan_of

BUILDS = Path(__file__).parents[2] / "builds"
QUOTED = "works: {rate: 40 GBP/h, margin: 25 %, quote: {number: Q-1, tax: 20 %, tax_name: VAT}}\n"


def priced(more: str) -> tuple[Cost, Quotation | None, Build]:
    """Cost and quotation of the small van."""
    build = small(more)
    plan, _ = plan_of(build)
    assert plan is not None
    bill = bill_of(Facts(build))
    return cost_of(bill, plan, build.header.works), quotation(bill, plan, build.header.works), build


def test_cost_is_parts_and_work() -> None:
    """400 + 40 + 3 × 12.35 + 2 × 30 GBP; each hour at its rate."""
    cost, _, _ = priced(QUOTED)
    assert cost.parts == (Money(Decimal("537.05"), "GBP"),)
    assert cost.labour == Money(Decimal(40 * cost.minutes) / 60, "GBP").times(1)
    assert cost.total == sums([*cost.parts, *([cost.labour] if cost.labour else [])])
    assert set(cost.unpriced) == {"wall", "shelf", "cable 16 mm²", "two-core cable 1.5 mm²", "fuse 5 A blade"}


def test_the_client_pays_cost_and_margin_or_the_stated_price() -> None:
    """Each line with its margin: 500 + 50 + 46.31 + 37.50 + 37.50, or as stated for one."""
    _, quote, _ = priced(QUOTED)
    assert quote is not None
    parts = [one.price for one in quote.lines if one.name != "labour" and one.price]
    assert sums(parts) == (Money(Decimal("671.31"), "GBP"),)
    stated = QUOTED.replace("rate:", "materials: {cell-100: {sale_price: 450 GBP}}, rate:")
    _, other, _ = priced(stated)
    assert other is not None
    parts = [one.price for one in other.lines if one.name != "labour" and one.price]
    assert sums(parts) == (Money(Decimal("621.31"), "GBP"),)


def test_tax_is_on_the_sum() -> None:
    """Sum and tax give the total; what has no price is counted beside it."""
    _, quote, _ = priced(QUOTED)
    assert quote is not None
    (net,), (tax,), (total,) = quote.sum, quote.tax, quote.total
    assert tax.amount == (net.amount / 5).quantize(Decimal("0.01"))
    assert total.amount == net.amount + tax.amount
    assert quote.to_be_priced == 5


def test_a_stated_rate_for_the_client_takes_no_margin() -> None:
    """Hours × the sale rate."""
    cost, quote, _ = priced(QUOTED.replace("rate:", "sale_rate: 60 GBP/h, rate:", 1))
    assert quote is not None
    labour = next(one.price for one in quote.lines if one.name == "labour")
    assert labour == Money(Decimal(cost.minutes), "GBP")  # 60 GBP/h is 1 GBP a minute


def test_currencies_are_never_added() -> None:
    """Each currency has a sum of its own."""
    amounts = [Money(Decimal(5), "GBP"), Money(Decimal(7), "EUR"), Money(Decimal(1), "GBP")]
    assert sums(amounts) == (Money(Decimal(7), "EUR"), Money(Decimal(6), "GBP"))


@given(st.decimals("0.01", "99999", places=2), st.integers(0, 100))
def test_a_margin_is_exact_to_the_cent(amount: Decimal, percent: int) -> None:
    """Against whole cents: (cost × (100 + margin)) / 100, half a cent upwards."""
    cents = int(amount * 100) * (100 + percent)
    assert int(with_share(Money(amount, "GBP"), percent / 100).amount * 100) == (cents + 50) // 100


SECRET = {
    "price": "731.17",
    "supplier": "canary-supplier",
    "rate": "47.93",
    "margin": "23.71",
    "cable": "canary-reel",
    "task": "canary-task",
    "who": "canary-person",
}


@pytest.fixture
def quoted(tmp_path: Path) -> Path:
    """A demonstration van in whose works everything that only the workshop may read is a canary."""
    shutil.copytree(BUILDS, tmp_path / "builds")
    folder = tmp_path / "builds" / "pocket"
    works = f"""
works:
  starts: 2026-06-15
  rate: {SECRET["rate"]} GBP/h
  margin: {SECRET["margin"]} %
  quote: {{number: Q-77, tax: 20 %}}
  tasks: {{polish: {{title: {SECRET["task"]}, who: {SECRET["who"]}, hours: 2 h}}}}
  materials:
    battery-lithium-100ah-pocket: {{price: {SECRET["price"]} GBP, supplier: {SECRET["supplier"]}}}
    two-core cable 1.5 mm²: {{price: 3.17 GBP/m, supplier: {SECRET["cable"]}}}
"""
    spec = (folder / "spec.yaml").read_text(encoding="utf-8").splitlines()
    kept = [line for line in spec if not line.startswith("works:")]
    (folder / "spec.yaml").write_text("\n".join(kept) + works, encoding="utf-8")
    return folder


@pytest.mark.parametrize("reader", list(Reader))
def test_the_client_reads_no_cost(quoted: Path, reader: Reader, tmp_path: Path) -> None:
    """Prices, rate, margin, suppliers and tasks are in the workshop's edition alone; the quotation is the owner's too."""
    assert publish(quoted, reader, tmp_path / "site").problems == ()
    pages = {
        path.name: path.read_text(encoding="utf-8")
        for path in (tmp_path / "site").rglob("*")
        if path.is_file()
    }
    everything = "\n".join(pages.values())
    seen = {word for word in SECRET.values() if word in everything}
    hidden = set() if reader is Reader.workshop else set(SECRET.values())
    assert seen.isdisjoint(hidden)
    assert ("works.html" in pages) is (reader is Reader.workshop)
    assert ("quotation.html" in pages) is reader.may_read(Reader.owner)
    assert ("Q-77" in everything) is reader.may_read(Reader.owner)
    if reader is Reader.workshop:
        assert {SECRET["price"], SECRET["supplier"], SECRET["rate"], SECRET["task"]} <= seen


def test_the_quotation_is_the_same_for_owner_and_workshop(quoted: Path, tmp_path: Path) -> None:
    """And it holds neither cost nor margin."""
    words = []
    for reader in (Reader.owner, Reader.workshop):
        publish(quoted, reader, tmp_path / reader.value)
        text = (tmp_path / reader.value / "quotation.html").read_text(encoding="utf-8")
        assert not any(word in text for word in SECRET.values())
        words.append(re.findall(r"\d+\.\d\d GBP", text))
    assert words[0] == words[1]
    assert words[0]


def test_no_quote_no_page(tmp_path: Path) -> None:
    """Without `quote` nothing of the works leaves the workshop."""
    publish(BUILDS / "pocket", Reader.owner, tmp_path / "site")
    assert not (tmp_path / "site" / "quotation.html").exists()
