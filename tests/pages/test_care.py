"""The page of care, and its calendar as an independent reader takes it."""

from __future__ import annotations

from datetime import date
from typing import Any

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st
from published import van

from specreg.pages.care import calendar, care_page, escaped, fold

VAN = """
title: Van, with a comma; and more
components:
  tank: {kind: fresh-tank, volume: 60 l, title: "Tank, left; behind a rather long description that folds its line"}
  alarm: {kind: smoke-alarm, expires_on: 2034-05-01}
records: {handed_over_on: 2026-06-30, services: [{date: 2026-07-01, what: Belt changed, by: a person}]}
"""


def events(text: str) -> dict[str, Any]:
    """The events of a van's calendar by what they say."""
    read: Any = icalendar.Calendar.from_ical(calendar(van(text)))
    return {str(event["SUMMARY"]): event for event in read.walk("VEVENT")}


def test_a_calendar_library_reads_every_event() -> None:
    """Summary, day and repetition come back as they were meant."""
    found = events(VAN)
    (sanitise,) = [event for summary, event in found.items() if summary.startswith("Sanitise")]
    assert sanitise["DTSTART"].dt == date(2027, 6, 30)
    assert sanitise["RRULE"] == {"FREQ": ["MONTHLY"], "INTERVAL": [12]}
    assert str(sanitise["SUMMARY"]).endswith(
        "Tank, left; behind a rather long description that folds its line"
    )
    (renew,) = [event for summary, event in found.items() if summary.startswith("Renew")]
    assert renew["DTSTART"].dt == date(2034, 5, 1)
    assert "RRULE" not in renew


def test_a_van_called_anything_adds_no_line() -> None:
    """The name of its folder stands in what tells the events apart."""
    text = calendar(van('build: "a\\nATTENDEE:b"\n' + VAN.lstrip()))
    (line,) = [line for line in text.split("\r\n") if line.startswith("UID:renew") and "alarm" in line]
    assert line.endswith("@a%0AATTENDEE%3Ab.specreg.invalid")
    assert not [line for line in text.splitlines() if line.startswith("ATTENDEE")]


def test_no_two_events_share_their_identity_and_it_stays() -> None:
    """A telephone updates what it knows by the identity."""
    first, again = calendar(van(VAN)), calendar(van(VAN))
    assert first == again
    identities = [line for line in first.splitlines() if line.startswith("UID:")]
    assert len(identities) == len(set(identities)) > 3


def test_before_hand_over_only_what_bears_a_day_is_in_the_calendar() -> None:
    """Nothing is dated that nothing dates."""
    found = events(VAN.replace("handed_over_on: 2026-06-30, ", ""))
    assert len(found) == 1


def test_what_was_done_is_listed_and_who_did_it_is_not_for_the_public() -> None:
    """The record stands below what is due."""
    said = str(care_page(van(VAN)))
    assert "Belt changed" in said
    assert "a person" in said


@given(st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=300))
def test_folded_lines_are_short_and_unfold_to_the_same(text: str) -> None:
    """RFC 5545, 3.1: at most 75 octets, unfolded by dropping the break and one space."""
    parts = list(fold(text))
    assert all(len(part.encode()) <= 75 for part in parts)
    assert "\r\n".join(parts).replace("\r\n ", "") == text


@pytest.mark.parametrize(("text", "written"), [("a, b; c\\d\ne", "a\\, b\\; c\\\\d\\ne")])
def test_signs_with_a_meaning_are_escaped(text: str, written: str) -> None:
    """RFC 5545, 3.3.11."""
    assert escaped(text) == written
