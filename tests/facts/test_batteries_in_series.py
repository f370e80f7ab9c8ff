"""Batteries in series: voltages and resistances add, the current is one, worked by hand and by law."""

import pytest
from building import read
from dc_van import dc_facts
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

QUICK = settings(max_examples=25, deadline=None)
LINK = "medium: dc, conductor: 35 mm²"
PLAIN = "nominal_voltage: 12 V, chemistry: agm, capacity: 100 Ah"
THICK = "conductor: 95 mm², length: 0 m"


def bank(series: int, parallel: int, *over: str, battery: str = PLAIN) -> Facts:
    """Strings of 5 mΩ batteries on a bar, a box behind it, a lamp of 4 A and a pump of 6 A at 24 V."""
    batteries, runs = [], []
    for p in range(parallel):
        for s in range(series):
            batteries.append(f"  b{p}-{s}: {{kind: battery, internal_resistance: 5 mΩ, {battery}}}")
            if s:
                runs.append(f"  l{p}-{s}: {{{LINK}, from: b{p}-{s}/positive, to: b{p}-{s - 1}/negative}}")
        runs.append(
            f"  m{p}: {{medium: dc, from: b{p}-0/positive, to: bar/{p + 2}, return: g{p}, {THICK}, "
            "protection: [{fuse: 100 A, distance: 0 m}]}"
        )
        runs.append(f"  g{p}: {{medium: dc, from: b{p}-{series - 1}/negative, to: minus/{p + 2}, {THICK}}}")
    base = f"""
components:
{chr(10).join(batteries)}
  bar: {{kind: bus-bar, studs: 9}}
  minus: {{kind: bus-bar, studs: 9, polarity: negative}}
  box: {{kind: fuse-box, ways: {{a: {{fuse: 20 A}}, b: {{fuse: 20 A}}}}}}
  lamp: {{kind: dc-appliance, current: 4 A, load: motor}}
  pump: {{kind: dc-appliance, current: 6 A, load: motor}}
runs:
{chr(10).join(runs)}
  feed: {{medium: dc, from: bar/1, to: box/feed, return: back, conductor: 10 mm², length: 2 m, protection: [{{fuse: 80 A, distance: 0 m}}]}}
  back: {{medium: dc, from: minus/1, to: box/feed, conductor: 10 mm², length: 2 m}}
  lamp-feed: {{medium: dc, from: box/a, to: lamp, return: same cable, conductor: 1.5 mm², length: 3 m}}
  pump-feed: {{medium: dc, from: box/b, to: pump, return: same cable, conductor: 2.5 mm², length: 5 m}}
"""
    return dc_facts(*over, base=base)


@pytest.mark.parametrize(
    ("series", "parallel", "current", "volts"),
    [
        (1, 1, 2400, 12),
        (2, 1, 2400, 24),
        (1, 2, 4800, 12),
        (2, 2, 4800, 24),
        (2, 3, 7200, 24),
        (4, 1, 2400, 48),
    ],
)
def test_series_does_not_add_and_parallel_does(
    series: int, parallel: int, current: float, volts: float
) -> None:
    """12 V / 5 mΩ = 2400 A each (Ohm); ABYC E-11 as quoted: 2S3P of 2400 A gives 7200 A."""
    facts = bank(series, parallel)
    assert facts.subject("feed/1").prospective_current == pytest.approx(current)
    assert facts.subject("feed").nominal_voltage == volts


def test_links_add_their_resistance() -> None:
    """28.8 V / (2 × 5 mΩ + 0.5 m × 0.554 mΩ/m of 35 mm², IEC 60228 class 5) = 2802.4 A."""
    facts = bank(
        2,
        1,
        "runs: {l0-1: {length: 0.5 m}}",
        battery="nominal_voltage: 12 V, chemistry: agm, highest_charge_voltage: 14.4 V",
    )
    assert facts.subject("feed/1").prospective_current == pytest.approx(28.8 / 0.010277, rel=1e-6)
    assert facts.subject("feed/1").highest_voltage == pytest.approx(28.8)


def test_each_string_has_its_own_links() -> None:
    """Two such strings give twice that; a longer link in one holds back that one alone: 28.8 V / 10.554 mΩ."""
    volts = "nominal_voltage: 12 V, chemistry: agm, highest_charge_voltage: 14.4 V"
    links = "runs: {l0-1: {length: 0.5 m}, l1-1: {length: %s}}"
    like, unlike = (
        bank(2, 2, links % metres, battery=volts).subject("feed/1") for metres in ("0.5 m", "1 m")
    )
    assert like.prospective_current == pytest.approx(2 * 28.8 / 0.010277)
    assert unlike.prospective_current == pytest.approx(28.8 / 0.010277 + 28.8 / 0.010554)


@pytest.mark.parametrize(("over", "current"), [([], 10), (["components: {sun: {rated_current: 30 A}}"], 30)])
def test_a_string_returns_by_its_lower_pole(over: list[str], current: float) -> None:
    """What its loads take, or what charges it, comes back to the negative pole of the lowest battery."""
    facts = bank(2, 1, *([SUN, *over] if over else []))
    assert facts.subject("g0").design_current == pytest.approx(current)
    assert facts.subject("back").design_current == pytest.approx(current)


def test_unlike_batteries_add_one_by_one() -> None:
    """12 V behind 5 mΩ on 12 V behind 15 mΩ: 24 V / 20 mΩ = 1200 A, between 800 A and 2400 A."""
    facts = bank(2, 1, "components: {b0-1: {internal_resistance: 15 mΩ}}")
    assert facts.subject("feed/1").prospective_current == pytest.approx(1200)
    assert facts.subject("b0-0").unlike_in_parallel == ()


def test_one_current_through_the_string() -> None:
    """4 A and 6 A go through both batteries and their link; the two together hold 24 V."""
    facts = bank(2, 1)
    for battery in ("b0-0", "b0-1"):
        assert facts.subject(battery).discharge_demand == pytest.approx(10)
    assert facts.subject("l0-1").design_current == pytest.approx(10)
    assert facts.subject("m0").design_current == pytest.approx(10)
    lost = 10 * 4 * 1.91e-3 + 4 * 6 * 13.3e-3
    assert facts.subject("lamp").supply_drop == pytest.approx(lost)
    assert facts.subject("lamp").voltage_to_spare == pytest.approx(24 - lost - 21)


SUN = """
components: {sun: {kind: solar-controller, rated_current: 20 A, absorption_voltage: 28.4 V}}
runs: {out: {medium: dc, from: sun/battery, to: box/feed, return: same cable}}
"""


def test_each_battery_takes_its_part_of_the_charging_voltage() -> None:
    """28.4 V over two like batteries are 14.2 V each; the 20 A go through both."""
    facts = bank(2, 1, SUN)
    for battery in ("b0-0", "b0-1"):
        assert facts.subject(battery).greatest_charging_voltage == pytest.approx(14.2)
        assert facts.subject(battery).charge_offered == pytest.approx(20)


def test_a_lost_way_between_strings_is_seen() -> None:
    """Two strings share; every battery of both is compared with every other."""
    facts = bank(2, 2, "components: {b1-1: {capacity: 80 Ah}}")
    assert facts.subject("b0-0").unlike_in_parallel == (facts.name_of("b1-1"),)
    assert facts.subject("b0-0").discharge_demand == pytest.approx(5)
    assert len(facts.subject("b1-1").unlike_in_parallel) == 3


def test_a_link_is_protected_as_what_its_battery_feeds() -> None:
    """The lower battery reaches a bare link; its length is what is judged."""
    facts = bank(2, 1, "runs: {l0-1: {length: 0.3 m}, m0: {length: 0.5 m}}")
    link = facts.subject("l0-1")
    assert link.positive and "b0-1" in link.bare_sources
    assert link.bare_length == pytest.approx(0.3)
    assert facts.subject("m0").fault_sources == ("b0-0", "b0-1")
    assert facts.subject("lamp-feed").let_through_current == 20


def test_a_fuse_in_the_link_breaks_what_one_battery_can_give() -> None:
    """Any shorted part of the string gives at most the greatest E/R of one battery: 2400 A, at 24 V."""
    facts = bank(
        2,
        1,
        "runs: {l0-1: {length: 0.3 m, protection: [{fuse: 80 A, distance: 0 m}]}}",
        battery="nominal_voltage: 12 V, chemistry: agm, highest_charge_voltage: 12 V",
    )
    device = facts.subject("l0-1/1")
    assert device.prospective_current == pytest.approx(2400)
    assert device.carried_current == pytest.approx(10)
    assert device.highest_voltage == pytest.approx(24)
    assert facts.subject("lamp-feed").let_through_current == 20


FUSED_LINK = "runs: {l0-1: {length: 0.3 m, protection: [{fuse: 80 A, distance: 0 m}]}}"


def test_a_fuse_in_the_link_breaks_what_the_stronger_battery_gives_and_what_charges() -> None:
    """12 V behind 5 mΩ and 12 V behind 15 mΩ: 2400 A and 800 A; a controller of 20 A adds its limit, two add theirs."""
    weak = "components: {b0-1: {internal_resistance: 15 mΩ}}"
    other = """
    components: {sun-2: {kind: solar-controller, rated_current: 30 A}}
    runs: {out-2: {medium: dc, from: sun-2/battery, to: box/feed, return: same cable}}
    """
    assert dc_facts_of(weak).subject("l0-1/1").prospective_current == pytest.approx(2400)
    assert dc_facts_of(weak, SUN).subject("l0-1/1").prospective_current == pytest.approx(2420)
    assert dc_facts_of(weak, SUN, other).subject("l0-1/1").prospective_current == pytest.approx(2450)


def dc_facts_of(*over: str) -> Facts:
    """Two batteries in series with a fuse in their link, and more laid over them."""
    return bank(2, 1, FUSED_LINK, *over)


@pytest.mark.parametrize(
    ("parallel", "over", "both"),
    [(1, [], False), (1, [SUN], True), (2, [], True)],
    ids=["alone", "sun", "beside"],
)
def test_a_breaker_in_the_link_is_passed_both_ways_where_something_charges(
    parallel: int, over: list[str], both: bool
) -> None:
    """Out by night; in by day from a controller, or from a string beside it that holds more."""
    facts = bank(2, parallel, FUSED_LINK, *over)
    assert facts.subject("l0-1/1").fed_from_both_sides is both


@pytest.mark.parametrize(("rated", "current"), [("20 A", 20), ("8 A", 10)])
def test_a_link_carries_what_goes_out_or_comes_in(rated: str, current: float) -> None:
    """4 A and 6 A of loads, or what the controller charges with: the greater."""
    facts = bank(2, 1, SUN, f"components: {{sun: {{rated_current: {rated}}}}}")
    assert facts.subject("l0-1").design_current == pytest.approx(current)


def test_a_fuse_in_the_link_of_one_of_two_strings_carries_half() -> None:
    """10 A of loads over two like strings; 30 A of charge likewise; while one string is off, all of it."""
    device = bank(2, 2, FUSED_LINK).subject("l0-1/1")
    assert (device.carried_current, device.carried_current_alone) == pytest.approx((5, 10))
    charged = bank(2, 2, FUSED_LINK, SUN, "components: {sun: {rated_current: 30 A}}").subject("l0-1/1")
    assert (charged.carried_current, charged.carried_current_alone) == pytest.approx((15, 30))


@pytest.mark.parametrize("where", ["l0-1/1", "feed/1"])
def test_every_battery_of_a_string_that_states_nothing_is_named(where: str) -> None:
    """A fault current is not guessed, in the link or behind it."""
    silent = "components: {b0-0: {internal_resistance: ~}, b0-1: {internal_resistance: ~}}"
    with pytest.raises(Missing) as absent:
        _ = dc_facts_of(silent).subject(where).prospective_current
    assert absent.value.fields == ("b0-0.short_circuit_current", "b0-1.short_circuit_current")


@pytest.mark.parametrize("silent", ["b0-0", "b0-1"])
def test_of_a_string_only_the_battery_that_states_nothing_is_named(silent: str) -> None:
    """The figures of its neighbour stand in the spec."""
    with pytest.raises(Missing) as absent:
        one = f"components: {{{silent}: {{internal_resistance: ~}}}}"
        _ = dc_facts_of(one).subject("feed/1").prospective_current
    assert absent.value.fields == (f"{silent}.short_circuit_current",)


@pytest.mark.parametrize(
    ("links", "said"),
    [
        ("{a: [one, two]}", ""),
        ("{a: [one, two], b: [two, one]}", "closes a ring of batteries in series"),
        ("{a: [one, two], b: [one, three]}", "another link in series joins already"),
        ("{a: [one, one]}", "joins a positive to a negative"),
    ],
)
def test_what_cannot_be_joined(links: str, said: str) -> None:
    """A ring is a short circuit; one pole takes one link; a battery is not joined to itself."""
    wanted = [item.split(": [") for item in links.strip("{}").rstrip("]").split("], ")]
    runs = "\n".join(
        f"  {name}: {{medium: dc, from: {pair.split(', ')[0]}/positive, to: {pair.split(', ')[1]}/negative}}"
        for name, pair in wanted
    )
    kinds = "{one: {kind: battery}, two: {kind: battery}, three: {kind: battery}}"
    _, problems = read(f"components: {kinds}\nruns:\n{runs}")
    assert [said in problem.text() for problem in problems] == ([True] if said else [])


@QUICK
@given(
    st.lists(st.tuples(st.integers(2, 20), st.sampled_from([6, 12])), min_size=1, max_size=5),
    st.booleans(),
)
def test_a_string_is_its_sum(cells: list[tuple[int, int]], backwards: bool) -> None:
    """ΣE / ΣR for any string, whichever way its links are written, and never more than the best battery."""
    parts = ", ".join(
        f"c{n}: {{kind: battery, nominal_voltage: {volts} V, internal_resistance: {milliohms} mΩ}}"
        for n, (milliohms, volts) in enumerate(cells)
    )
    ends = [(f"c{n}/positive", f"c{n - 1}/negative") for n in range(1, len(cells))]
    links = "".join(
        f"  k{n}: {{{LINK}, from: {pair[backwards]}, to: {pair[not backwards]}}}\n"
        for n, pair in enumerate(ends)
    )
    base = f"""
components: {{{parts}, box: {{kind: fuse-box, ways: {{a: {{fuse: 5 A}}}}}}}}
runs:
{links}
  main: {{medium: dc, from: c0/positive, to: box/feed, return: back}}
  back: {{medium: dc, from: c{len(cells) - 1}/negative, to: box/feed}}
"""
    found = dc_facts(base=base).subject("box/a").prospective_current
    volts, ohms = sum(v for _, v in cells), sum(m for m, _ in cells) / 1000
    assert found == pytest.approx(volts / ohms)
    assert found <= max(v / m * 1000 for m, v in cells) * (1 + 1e-9)
