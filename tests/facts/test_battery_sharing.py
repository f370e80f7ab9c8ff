"""What the device in a battery's lead carries beside its like, by hand and by Kirchhoff's law."""

import pytest
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

LIKE = "kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA, highest_charge_voltage: 14.4 V"


def bank(count: int, chargers: int = 0, other: str = LIKE) -> str:
    """Batteries beside the first one, each with a fused lead to the bar, and chargers on the bar."""
    more = range(2, count + 1)
    batteries = "".join(f"  b{n}: {{{other}}}\n" for n in more)
    leads = "".join(
        f"  m{n}: {{medium: dc, from: b{n}/positive, to: bar/{n}, return: g{n}, conductor: 10 mm², length: 2 m, "
        f"protection: [{{fuse: 60 A, distance: 0 m}}]}}\n"
        f"  g{n}: {{medium: dc, from: b{n}/negative, to: box/feed, conductor: 10 mm², length: 2 m}}\n"
        for n in more
    )
    suns = "".join(f"  s{n}: {{kind: solar-controller, rated_current: 6 A}}\n" for n in range(chargers))
    outs = "".join(
        f"  o{n}: {{medium: dc, from: s{n}/battery, to: box/feed, return: same cable}}\n"
        for n in range(chargers)
    )
    return f"""
components:
  bar: {{kind: bus-bar, studs: 12}}
{batteries}{suns}
runs:
  main: {{to: bar/1, protection: [{{fuse: 60 A, distance: 0 m}}]}}
  feed: {{medium: dc, from: bar/12, to: box/feed, return: ground, conductor: 16 mm², length: 1 m}}
{leads}{outs}
"""


@pytest.mark.parametrize(("count", "share"), [(1, 10), (2, 5), (4, 2.5)])
def test_an_even_share_with_all_on(count: int, share: float) -> None:
    """4 A and 6 A of loads: by two batteries 5 A each, by four 2.5 A; one left alone carries 10 A."""
    device = dc_facts(bank(count)).subject("main/1")
    assert device.carried_current == pytest.approx(share)
    assert device.carried_current_alone == pytest.approx(10)
    assert device.shares_with_batteries is (count > 1)


@pytest.mark.parametrize("unlike", ["capacity: 50 Ah", "chemistry: agm", "role: starter"])
def test_unlike_batteries_are_not_taken_to_share(unlike: str) -> None:
    """Without likeness nobody knows the shares: the whole is assumed."""
    device = dc_facts(bank(2, other=f"{LIKE}, {unlike}")).subject("main/1")
    assert device.carried_current == pytest.approx(10)


def test_charge_is_shared_too() -> None:
    """Three controllers of 6 A charge two batteries with 9 A each, more than the 5 A that each gives."""
    device = dc_facts(bank(2, chargers=3)).subject("main/1")
    assert device.carried_current == pytest.approx(9)
    assert device.carried_current_alone == pytest.approx(18)


GROUP = """
components:
  box-bar: {kind: bus-bar, studs: 5}
  b3: {%s}
runs:
  feed: {to: box-bar/1, protection: [{fuse: 100 A, distance: 0 m}]}
  onward: {medium: dc, from: box-bar/2, to: box/feed, return: ground, conductor: 16 mm², length: 1 m}
  m3: {medium: dc, from: b3/positive, to: box-bar/3, return: g3, conductor: 10 mm², length: 2 m, protection: [{fuse: 60 A, distance: 0 m}]}
  g3: {medium: dc, from: b3/negative, to: box/feed, conductor: 10 mm², length: 2 m}
"""


@pytest.mark.parametrize(("chargers", "current"), [(0, 20 / 3), (3, 12)])
def test_two_of_three_carry_two_thirds(chargers: int, current: float) -> None:
    """A device before two batteries, a third beside it: two thirds of 10 A out, or of 18 A of charge in."""
    device = dc_facts(bank(2, chargers), GROUP % LIKE).subject("feed/1")
    assert device.carried_current == pytest.approx(current)


@pytest.mark.parametrize(("count", "said"), [(1, False), (2, True)])
def test_sharing_is_an_assumption_and_said(count: int, said: bool) -> None:
    """A battery alone shares with none; beside its like the even share is taken for granted, and told."""
    facts = dc_facts(bank(count))
    with facts.recording() as frame:
        _ = facts.subject("main/1").carried_current
    assert any("sharing the current evenly" in sentence for sentence in frame.assumptions) is said


@pytest.mark.parametrize(("chargers", "offered"), [(1, 3), (3, 9)])
def test_what_charges_is_offered_in_even_shares(chargers: int, offered: float) -> None:
    """6 A of each controller over two batteries; one of another role takes no share, and is offered all."""
    facts = dc_facts(bank(2, chargers))
    with facts.recording() as frame:
        assert facts.subject("battery").charge_offered == pytest.approx(offered)
    assert any("2 batteries in parallel" in sentence for sentence in frame.assumptions)
    alone = dc_facts(bank(2, chargers, other=f"{LIKE}, role: starter"))
    with alone.recording() as frame:
        assert alone.subject("battery").charge_offered == pytest.approx(2 * offered)
    assert not any("in parallel" in sentence for sentence in frame.assumptions)


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 8), st.integers(0, 3))
def test_shares_add_up(count: int, chargers: int) -> None:
    """Kirchhoff: the shares of all leads are what the loads take, or what the chargers give."""
    facts = dc_facts(bank(count, chargers))
    leads = ["main/1", *(f"m{n}/1" for n in range(2, count + 1))]
    assert sum(facts.subject(x).carried_current for x in leads) == pytest.approx(max(10, 6 * chargers))


def parted(giving: str, wire: str) -> str:
    """A battery and what else gives on one side of a fuse, its like with the loads of 4 A and 6 A on the other."""
    return f"""
components:
  battery: ~
  bar: {{kind: bus-bar, studs: 5}}
  there: {{kind: bus-bar, studs: 5}}
  b1: {{{LIKE}}}
  b2: {{{LIKE}}}
  {giving}
runs:
  main: {{from: there/1}}
  ground: {{from: b1/negative}}
  m1: {{medium: dc, from: b1/positive, to: bar/1, return: ground, conductor: 10 mm², length: 1 m}}
  m2: {{medium: dc, from: b2/positive, to: there/2, return: chassis, conductor: 10 mm², length: 1 m}}
  between: {{medium: dc, from: bar/2, to: there/3, return: ground, conductor: 16 mm², length: 1 m, protection: [{{fuse: 60 A, distance: 0 m}}]}}
  {wire}
"""


@pytest.mark.parametrize(
    ("giving", "wire", "current"),
    [
        ("unused: {kind: bus-bar}", "", 5.0),
        (
            "sun: {kind: solar-controller, rated_current: 7 A}",
            "out: {medium: dc, from: sun/battery, to: bar/3, return: chassis}",
            17.0,
        ),
        (
            "socket: {kind: dc-outlet, rated_current: 20 A}",
            "plugged: {medium: dc, from: socket/outlet, to: bar/3, return: chassis}",
            10.0,
        ),
    ],
    ids=["battery alone", "with a controller", "with a socket"],
)
def test_only_what_batteries_alone_give_is_shared(giving: str, wire: str, current: float) -> None:
    """Two alone share 10 A; a controller adds 7 A for the battery there and for the loads; a socket may give all."""
    assert dc_facts(parted(giving, wire)).subject("between/1").carried_current == pytest.approx(current)


def test_what_also_charges_a_controller_is_not_shared() -> None:
    """An alternator of 100 A into a battery and a controller's panel side: how much the battery gets is open."""
    facts = dc_facts(
        parted(
            "alternator: {kind: alternator, rated_current: 100 A}\n  sun: {kind: solar-controller}\n  lamp: ~\n  pump: ~",
            "up: {medium: dc, from: alternator/positive, to: bar/3, return: chassis}\n"
            "  over: {medium: dc, from: there/4, to: sun/panel, return: chassis}\n  lamp-feed: ~\n  pump-feed: ~",
        )
    )
    assert facts.subject("between/1").carried_current == pytest.approx(100)
