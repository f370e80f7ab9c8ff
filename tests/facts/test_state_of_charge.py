"""Laws of the hour-by-hour course: energy is kept, more panels and less load never shorten it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.facts.state_of_charge import Course, Store, course, sun_by_hour

DAYS = 5
SHARES = st.floats(0, 1)
STORES = st.builds(Store, st.floats(2e6, 2e7), st.floats(0, 1e6), st.floats(0, 1000), st.floats(0.8, 1))


def _run(store: Store, daily_load: float, daily_sun: float) -> Course:
    return course(store, store.full, [daily_load / 24] * 24 * DAYS, sun_by_hour(daily_sun) * DAYS)


def _length(run: Course, store: Store) -> float:
    nights = run.nights(store.reserve)
    return float("inf") if nights is None else nights


@given(STORES, st.floats(0, 1e7), st.floats(0, 1e7))
def test_energy_is_kept(store: Store, load: float, sun: float) -> None:
    """What was offered is used, stored, lost or turned away."""
    run = _run(store, load, sun)
    gone = run.used + run.lost + run.turned_away + run.contents[-1] - store.full
    assert gone == pytest.approx(run.offered, abs=1e-6 * (store.full + run.offered))
    assert run.used + run.unserved == pytest.approx(load * DAYS, rel=1e-6)


@given(STORES, st.floats(0, 1e7), st.floats(0, 1e7), SHARES)
def test_more_sun_never_shortens(store: Store, load: float, sun: float, share: float) -> None:
    """A part of the panels never lasts longer than all of them."""
    assert _length(_run(store, load, sun * share), store) <= _length(_run(store, load, sun), store)


@given(STORES, st.floats(1, 1e7), st.floats(0, 1e7), SHARES)
def test_less_load_never_shortens(store: Store, load: float, sun: float, share: float) -> None:
    """A part of the load never empties it earlier than all of it."""
    assert _length(_run(store, load * share, sun), store) >= _length(_run(store, load, sun), store)


def test_no_sun_is_a_division() -> None:
    """2 MJ above the reserve at 1 MJ a day is two days."""
    run = _run(Store(3e6, 1e6, 1e3, 0.95), 1e6, 0.0)
    assert run.nights(1e6) == 2.0
