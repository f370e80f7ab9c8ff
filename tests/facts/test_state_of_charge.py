"""Laws of the hour-by-hour course: energy is kept; more sun, less load, a bigger bank never shorten it."""

from collections.abc import Sequence
from dataclasses import astuple, replace
from math import e, inf, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.facts import state_of_charge
from specreg.facts.state_of_charge import HOUR, Course, Store, course, course_of_days

DAYS = 5
SHARES = st.floats(0, 1)
STORES = st.builds(
    Store,
    st.floats(2e6, 2e7),
    st.floats(0, 1e6),
    st.one_of(st.floats(1, 2000), st.just(inf)),
    st.floats(0.7, 1),
    st.one_of(st.just(0.0), st.floats(0.01, 0.5)),
    st.one_of(st.floats(10, 2000), st.just(inf)),
)
HOURS = st.lists(st.floats(0, 5e6), min_size=24 * DAYS, max_size=24 * DAYS)


def day_of_sun(daily: float) -> list[float]:
    """A half sine from 6 to 18 h."""
    raw = [max(0.0, sin(pi * (h + 0.5 - 6) / 12)) if 6 <= h < 18 else 0.0 for h in range(24)]
    return [daily * one / sum(raw) for one in raw]


def run(store: Store, loads: Sequence[float], sources: Sequence[float]) -> Course:
    return course(store, store.full, loads, sources)


def simple(store: Store, daily_load: float, daily_sun: float) -> Course:
    return run(store, [daily_load / 24] * 24 * DAYS, day_of_sun(daily_sun) * DAYS)


def length(found: Course, store: Store) -> float:
    nights = found.nights(store.reserve)
    return inf if nights is None else nights


@given(STORES, HOURS, HOURS)
def test_energy_is_kept(store: Store, loads: list[float], sources: list[float]) -> None:
    """What was offered is used, stored, lost or turned away; what was asked is used or wanting."""
    found = run(store, loads, sources)
    gone = found.used + found.lost + found.turned_away + found.contents[-1] - store.full
    assert gone == pytest.approx(found.offered, rel=1e-6, abs=1e-6 * store.full)
    assert found.used + found.unserved == pytest.approx(sum(loads), rel=1e-6)
    assert min(found.lost, found.turned_away, found.unserved) >= -1e-6 * store.full


DAY = st.lists(st.floats(0, 5e6), min_size=24, max_size=24)


@given(STORES, SHARES, DAY, DAY, st.integers(0, 40))
def test_equal_days_are_those_days_one_after_the_other(
    store: Store, share: float, loads: list[float], sources: list[float], days: int
) -> None:
    """Days that are not worked out again, because one ended as it began, say what working them out says."""
    start = store.reserve + share * (store.full - store.reserve)
    short, long = (
        course_of_days(store, start, loads, sources, days),
        course(store, start, loads * days, sources * days),
    )
    assert short.contents == long.contents
    for one, other in zip(astuple(short)[1:], astuple(long)[1:], strict=True):
        assert one == pytest.approx(other, rel=1e-9, abs=1e-9 * store.full)


def test_days_that_are_alike_are_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A battery that is as full every evening is followed for few days, however long the stay."""
    worked_out: list[float] = []

    def counted(store: Store, start: float, loads: Sequence[float], sources: Sequence[float]) -> Course:
        worked_out.append(start)
        return course(store, start, loads, sources)

    monkeypatch.setattr(state_of_charge, "course", counted)
    store = Store(4e6, 4e5, 400.0, 0.95)
    found = course_of_days(store, 4e6, [1e4] * 24, day_of_sun(5e6), 300)
    assert len(found.contents) == 300 * 24
    assert 1 <= len(worked_out) <= 3


@given(STORES, HOURS, HOURS)
def test_contents_stay_within_the_battery(store: Store, loads: list[float], sources: list[float]) -> None:
    """Never fuller than full, never below the reserve."""
    for content in run(store, loads, sources).contents:
        assert store.reserve - 1e-6 * store.full <= content <= store.full * (1 + 1e-9)


@given(STORES, HOURS, HOURS, st.lists(SHARES, min_size=24 * DAYS, max_size=24 * DAYS))
def test_more_sun_never_leaves_less(
    store: Store, loads: list[float], sources: list[float], shares: list[float]
) -> None:
    """In no hour is there less in the battery than with a part of the sun of each hour."""
    fewer = run(store, loads, [one * share for one, share in zip(sources, shares, strict=True)])
    more = run(store, loads, sources)
    margin = 1e-9 * store.full
    assert all(a <= b + margin for a, b in zip(fewer.contents, more.contents, strict=True))


@given(STORES, st.floats(0, 1e7), st.floats(0, 1e7), SHARES)
def test_more_sun_never_shortens(store: Store, load: float, sun: float, share: float) -> None:
    """A part of the panels never lasts longer than all of them."""
    assert length(simple(store, load, sun * share), store) <= length(simple(store, load, sun), store)


@given(STORES, st.floats(1, 1e7), st.floats(0, 1e7), st.floats(1, 5))
def test_more_load_never_lengthens(store: Store, load: float, sun: float, factor: float) -> None:
    """All loads times a factor of one or more never last longer."""
    assert length(simple(store, load * factor, sun), store) <= length(simple(store, load, sun), store)


@given(STORES, st.floats(1, 1e7), st.floats(0, 1e7), st.floats(1, 5))
def test_a_bigger_bank_never_shortens(store: Store, load: float, sun: float, factor: float) -> None:
    """More of the same batteries never last shorter, where each gives what is asked of it.

    One that may give little only never empties: it leaves loads without.
    """
    freely = replace(store, greatest_draw=inf)
    bigger = freely.times(factor)
    assert length(simple(bigger, load, sun), bigger) >= length(simple(freely, load, sun), freely)


@given(STORES, SHARES, st.floats(0, 3000), st.floats(0, 1))
def test_charging_in_parts_is_charging_at_once(store: Store, start: float, power: float, part: float) -> None:
    """The taper is solved exactly: an hour in two parts ends where the whole hour does."""
    begin = store.full * start
    halfway = store.charged(begin, power, HOUR * part)
    found = store.charged(halfway, power, HOUR * (1 - part))
    assert found == pytest.approx(store.charged(begin, power), rel=1e-9)


WH = HOUR
CHARGED = [
    # full Wh, greatest W, share kept, taper; Wh at first, W offered, hours; Wh at last by hand
    ((1000, 500, 0.8, 0.0), (200, 300, 1), 200 + 240),
    ((1000, 500, 0.8, 0.0), (200, 700, 1), 200 + 400),  # no more than it takes
    ((1000, 500, 0.8, 0.0), (200, 700, 0.5), 200 + 200),
    ((1000, 500, 0.8, 0.0), (900, 700, 1), 1000),
    ((1000, inf, 0.8, 0.0), (200, 700, 1), 200 + 560),
    ((1000, inf, 0.8, 0.1), (200, 700, 1), 200 + 560),  # what takes any power has no taper
    ((1000, inf, 0.8, 0.1), (900, 700, 1), 1000),
    ((1000, 500, 0.8, 0.1), (300, 0, 1), 300),
    ((1000, 500, 0.8, 0.1), (300, 0.5, 1), 300.4),
    ((1000, 0, 0.8, 0.0), (300, 500, 1), 300),
    ((1000, 500, 0.8, 0.1), (1000, 500, 1), 1000),
    # 1 kW at most, 80 % kept: over the last 100 Wh it asks for 1 kW × what is wanting / 100 Wh, so that what
    # is wanting falls by e in 100 Wh / 800 W = 1/8 h. Of 500 W offered it takes all up to 950 Wh: 50 Wh in 1/8 h
    ((1000, 1000, 0.8, 0.1), (900, 500, 1 / 16), 925),
    ((1000, 1000, 0.8, 0.1), (900, 500, 1 / 8), 950),
    ((1000, 1000, 0.8, 0.1), (900, 500, 2 / 8), 1000 - 50 / e),
    ((1000, 1000, 0.8, 0.1), (900, 500, 3 / 8), 1000 - 50 / e**2),
    ((1000, 1000, 0.8, 0.1), (960, 500, 1 / 8), 1000 - 40 / e),
    ((1000, 1000, 0.8, 0.1), (900, 3000, 1 / 8), 1000 - 100 / e),  # offered more than it ever takes
    ((1000, 1000, 0.8, 0.1), (820, 3000, 2 / 8), 1000 - 100 / e**1.2),  # 80 Wh at 800 W take 0.1 h
]


@pytest.mark.parametrize(("store", "course_", "wh"), CHARGED)
def test_charging_by_hand(
    store: tuple[float, float, float, float], course_: tuple[float, float, float], wh: float
) -> None:
    """Power × share kept × time, no more than it takes, over the last part ever less."""
    (full, greatest, kept, taper), (first, offered, hours) = store, course_
    found = Store(full * WH, 0, greatest, kept, taper).charged(first * WH, offered, hours * HOUR)
    assert found / WH == pytest.approx(wh)


def test_charging_takes_an_hour_where_no_time_is_said() -> None:
    """300 W, 80 % kept."""
    assert Store(1000 * WH, 0, 500, 0.8).charged(0.0, 300) == pytest.approx(240 * WH)


def test_batteries_side_by_side() -> None:
    """Three hold, keep, take and give three times as much, with the same losses."""
    assert Store(10, 2, 5, 0.8, 0.1, 7).times(3) == Store(30, 6, 15, 0.8, 0.1, 21)


@pytest.mark.parametrize("greatest", [500, inf])
def test_no_battery_takes_nothing(greatest: float) -> None:
    """What is left of one of which there is none: it is full and empty at once."""
    assert Store(1000 * WH, 200 * WH, greatest, 0.8, 0.1, inf).times(0).charged(0.0, 300) == 0.0


HOUR_BY_HAND = [
    # Wh at first, asked, offered; Wh at last, turned away, lost, used, unserved: of 1 kWh 200 Wh are kept,
    # at most 400 W go in, of which 75 % are kept, at most 300 W come out
    ((700, 100, 0), (600, 0, 0, 100, 0)),
    ((700, 150, 50), (600, 0, 0, 150, 0)),
    ((700, 500, 0), (400, 0, 0, 300, 200)),
    ((700, 500, 120), (400, 0, 0, 420, 80)),
    ((250, 100, 0), (200, 0, 0, 50, 50)),
    ((200, 100, 0), (200, 0, 0, 0, 100)),
    ((100, 100, 0), (100, 0, 0, 0, 100)),  # below its reserve it gives nothing, and takes nothing back
    ((700, 100, 100), (700, 0, 0, 100, 0)),
    ((700, 0, 0), (700, 0, 0, 0, 0)),
    ((400, 100, 300), (550, 0, 50, 100, 0)),
    ((400, 0, 200), (550, 0, 50, 0, 0)),
    ((400, 100, 900), (700, 400, 100, 100, 0)),
    ((940, 0, 400), (1000, 320, 20, 0, 0)),
]


@pytest.mark.parametrize(("given_", "found"), HOUR_BY_HAND)
def test_an_hour_by_hand(given_: tuple[float, float, float], found: tuple[float, ...]) -> None:
    """First what is offered, then the battery as far as it may; what is left over charges it, with its loss."""
    first, asked, offered = (one * WH for one in given_)
    run = course(Store(1000 * WH, 200 * WH, 400, 0.75, greatest_draw=300), first, [asked], [offered])
    sums = (run.contents[-1], run.turned_away, run.lost, run.used, run.unserved)
    assert [one / WH for one in sums] == pytest.approx(found, abs=1e-9)
    assert run.offered == offered


def test_two_hours_by_hand() -> None:
    """Sums go on from hour to hour: 700 → 550 + 75 Wh of 100 → 625 − 300 Wh, 100 Wh wanting → 325 Wh."""
    store = Store(1000 * WH, 200 * WH, 400, 0.75, greatest_draw=300)
    hours = ([150 * WH, 20 * WH, 400 * WH, 50 * WH], [0.0, 120 * WH, 0.0, 850 * WH])
    run = course(store, 700 * WH, *hours)
    # in the last hour 800 Wh are left over, of which 400 go in and 300 stay
    assert [one / WH for one in run.contents] == pytest.approx([550, 625, 325, 625])
    sums = (run.offered, run.turned_away, run.lost, run.used, run.unserved)
    assert [one / WH for one in sums] == pytest.approx([970, 400, 25 + 100, 150 + 20 + 300 + 50, 100])


REACHED = [
    # contents, hours and days until 200
    ((300.0, 250.0, 200.0, 200.0), 3, 0.0),
    ((200.0,), 1, 0.0),
    ((300.0, 200.0000005, 100.0), 2, 0.0),  # floats: within a millionth of a joule
    ((300.0, 200.0 + 1e-6, 100.0), 2, 0.0),
    ((300.0, 200.0 + 1.05e-6, 100.0), 3, 0.0),
    ((300.0,) * 11 + (200.0,), 12, 0.5),
    ((300.0,) * 22 + (200.0,), 23, 0.5),
    ((300.0,) * 23 + (200.0, 300.0), 24, 1.0),
    ((300.0,) * 100, None, None),
    ((), None, None),
]


@pytest.mark.parametrize(("contents", "hours", "nights"), REACHED)
def test_when_the_reserve_is_reached(
    contents: tuple[float, ...], hours: int | None, nights: float | None
) -> None:
    """The first hour that ends there; days down to halves."""
    run = Course(contents, 0.0, 0.0, 0.0, 0.0, 0.0)
    assert (run.hours(200.0), run.nights(200.0)) == (hours, nights)


def test_loads_and_sources_are_of_the_same_hours() -> None:
    """An hour too few is a fault of whoever asks."""
    with pytest.raises(ValueError, match="zip"):
        course(Store(1e6, 0, 1e3, 1), 1e6, [1.0, 2.0], [1.0])


def test_no_sun_is_a_division() -> None:
    """2 MJ above the reserve at 1 MJ a day is two days."""
    assert simple(Store(3e6, 1e6, 1e3, 0.95), 1e6, 0.0).nights(1e6) == 2.0


def test_a_battery_gives_no_more_than_its_management_lets_out() -> None:
    """1 kW asked of a battery that gives 400 W: 600 W are wanting although it is full."""
    found = course(Store(1e8, 0.0, 1e3, 1.0, greatest_draw=400.0), 1e8, [1000 * HOUR], [0.0])
    assert found.unserved == pytest.approx(600 * HOUR)
