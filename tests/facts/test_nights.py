"""Nights of the demonstration builds: a poor week is never longer than a mean one, worn never than new."""

from pathlib import Path

import pytest

from specreg import workshop
from specreg.facts import nights
from specreg.facts.engine import Facts

BUILDS = {b.header.title: b for b in workshop.load(Path(__file__).parents[2] / "builds").sound}
PLACED = sorted(t for t, b in BUILDS.items() if any(p.poor_week_clearness for p in b.header.use.places))


def test_two_builds_name_their_places() -> None:
    """The laws below are tried on something."""
    assert len(PLACED) >= 2 and nights.NIGHTS == 60


@pytest.mark.parametrize("title", PLACED)
def test_order_of_nights(title: str) -> None:
    """No sun, a poor week and mean sun are in this order; a worn battery is never longer."""
    van = Facts(BUILDS[title]).whole
    assert van.least_nights_in_a_poor_week <= van.least_nights_with_mean_sun
    assert van.least_nights_in_a_poor_week <= van.most_nights_in_a_poor_week
    assert van.least_days_without_charge <= van.least_nights_in_a_poor_week
