"""The care calendar: what is due on what, from when it is counted, and how a maker's own interval counts."""

from __future__ import annotations

from datetime import date

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

from specreg.care.due import Due, add_months, care_of
from specreg.care.duties import DUTIES, Basis, Carer
from specreg.facts.engine import Facts

VAN = """
components:
  bank: {kind: battery, chemistry: lithium iron phosphate, nominal_voltage: 12 V}
  tank: {kind: fresh-tank, volume: 60 l}
  alarm-front: {kind: smoke-alarm}
  alarm-bed: {kind: smoke-alarm, expires_on: 2034-05-01}
  heater: {kind: air-heater, burns: diesel}
  hob: {kind: hob, burns: propane}
  inlet: {kind: shore-inlet}
  extinguisher: {kind: extinguisher, serviced_on: 2026-02-10, service_interval: 1 year}
"""
HANDED = "records: {handed_over_on: 2026-06-30, services: []}\n"


def due(text: str, duty: str) -> list[Due]:
    """What a small van asks for under one duty."""
    return [one for one in care_of(Facts(build(text))) if one.duty == duty]


@pytest.mark.parametrize(
    ("duty", "things", "months", "who"),
    [
        ("test-alarms", ("alarm-front", "alarm-bed"), 1, Carer.owner),
        ("sanitise-water", ("tank",), 12, Carer.owner),
        ("charge-stored-lithium", ("bank",), 3, Carer.owner),
        ("run-diesel-heater", ("heater",), 1, Carer.owner),
        ("inspect-gas", ("hob",), 12, Carer.gas_engineer),
        ("inspect-mains", ("inlet",), 36, Carer.electrician),
        ("check-tyres", ("",), 1, Carer.owner),
    ],
)
def test_a_duty_follows_from_what_is_fitted(
    duty: str, things: tuple[str, ...], months: int, who: Carer
) -> None:
    """Each thing brings its duty; without it the duty is gone."""
    (found,) = due(VAN, duty)
    assert (found.things, found.months, found.who) == (things, months, who)
    without = "\n".join(line for line in VAN.splitlines() if line.strip().partition(":")[0] not in things)
    assert due(without, duty) == [] or things == ("",)


def test_days_are_counted_from_hand_over_and_unknown_before_it() -> None:
    """Nothing is due on a day while the van is not handed over."""
    (before,), (after,) = due(VAN, "sanitise-water"), due(VAN + HANDED, "sanitise-water")
    assert before.next is None
    assert after.next == date(2027, 6, 30)


def test_a_service_moves_the_next_day() -> None:
    """What was done counts from the day on which it was done."""
    done = HANDED.replace("[]", "[{date: 2026-09-15, what: Sanitised, duty: sanitise-water, on: tank}]")
    (found,) = due(VAN + done, "sanitise-water")
    assert (found.last, found.next) == (date(2026, 9, 15), date(2027, 9, 15))


def test_a_duty_on_several_things_is_done_when_all_of_them_are() -> None:
    """One tested alarm is not both."""
    one = "{date: 2026-08-01, what: Tested, duty: test-alarms, on: alarm-front}"
    other = "{date: 2026-07-20, what: Tested, duty: test-alarms, on: alarm-bed}"
    (half,) = due(VAN + HANDED.replace("[]", f"[{one}]"), "test-alarms")
    (whole,) = due(VAN + HANDED.replace("[]", f"[{one}, {other}]"), "test-alarms")
    assert half.last is None
    assert whole.last == date(2026, 7, 20)


def test_a_day_on_a_thing_is_its_own_and_is_not_repeated() -> None:
    """A date of expiry needs no hand-over."""
    (found,) = due(VAN, "renew")
    assert (found.things, found.next, found.months) == (("alarm-bed",), date(2034, 5, 1), 0)
    assert not found.overdue(date(2034, 5, 1))
    assert found.overdue(date(2034, 5, 2))


def test_the_interval_of_a_maker_counts_from_the_last_service() -> None:
    """The extinguisher says when it was served and how often it wants to be."""
    (found,) = due(VAN, "service")
    assert (found.months, found.next, found.basis) == (12, date(2027, 2, 10), Basis.maker)


@pytest.mark.parametrize(("where", "months"), [("uk", 12), ("eu", 24), ("[eu, uk]", 12)])
def test_the_shortest_interval_of_several_jurisdictions_holds(where: str, months: int) -> None:
    """A van for two jurisdictions is cared for by the stricter."""
    words = where if where.startswith("[") else f"[{where}]"
    (found,) = due(VAN + f"jurisdictions: {words}\n", "inspect-gas")
    assert found.months == months


def test_every_interval_says_from_where_it_is() -> None:
    """A document is named exactly where one is cited."""
    for duty in DUTIES:
        assert bool(duty.document) == (duty.basis is Basis.memory)


@given(st.dates(date(2000, 1, 1), date(2090, 1, 1)), st.integers(0, 120), st.integers(0, 120))
def test_months_add_up_but_for_short_months(day: date, one: int, other: int) -> None:
    """In two steps a day never falls later than in one, and by at most three days earlier."""
    together, apart = add_months(day, one + other), add_months(add_months(day, one), other)
    assert apart <= together
    assert (together - apart).days <= 3
    assert (together.year * 12 + together.month) - (day.year * 12 + day.month) == one + other
