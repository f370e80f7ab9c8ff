"""What devices let into mains cables, and what the mains as a whole is asked for."""

from math import inf

import pytest
from building import build

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

VAN = """
components:
  inlet: {{kind: shore-inlet, rated_current: {inlet}, rated_voltage: 230 V}}
  board: {{kind: mains-board, main: {{breaker: {main}, poles: 2}}, ways: {{a: {{breaker: {way}, poles: 2}}}}}}
  kettle: {{kind: mains-appliance, mains_power: 1.2 kW}}
runs:
  lead: {{medium: ac, from: inlet, to: board, conductor: {size}}}
  feed: {{medium: ac, from: board/a, to: kettle, conductor: {size}, protection: [{protection}]}}
"""


def facts(
    inlet: str = "16 A", main: str = "16 A", way: str = "10 A", size: str = "1.5 mm²", protection: str = ""
) -> Facts:
    """The facts of a board with one way."""
    return Facts(build(VAN.format(inlet=inlet, main=main, way=way, size=size, protection=protection)))


@pytest.mark.parametrize(
    ("main", "way", "protection", "let"),
    [
        ("16 A", "10 A", "", 10.0),
        ("16 A", "32 A", "", 16.0),  # the main breaker bounds what a larger way lets through
        ("40 A", "32 A", "", 16.0),  # and the site's own device bounds both
        ("16 A", "10 A", "{fuse: 5 A, distance: 0 mm}", 10.0),  # the piece before the fuse still takes 10 A
    ],
)
def test_the_least_device_in_a_row_bounds_a_cable(main: str, way: str, protection: str, let: float) -> None:
    """Wherever the smallest stands, upstream or at the head."""
    assert facts(main=main, way=way, protection=protection).subject("feed").mains_let_through == let


def test_the_lead_behind_the_inlet_takes_the_device_on_the_site() -> None:
    """It is reckoned with the inlet's rated current, and says so."""
    of = facts(inlet="32 A")
    lead = of.subject("lead")
    assert (lead.mains_let_through, lead.unlimited_sources) == (32.0, ())
    with of.recording() as frame:
        _ = lead.mains_let_through
    assert any("the site's device" in text for text in frame.assumptions)


def test_an_inlet_without_its_rating_leaves_the_cables_open() -> None:
    """The field that would decide is named."""
    of = Facts(
        build(
            VAN.format(inlet="16 A", main="16 A", way="10 A", size="1.5 mm²", protection="").replace(
                "rated_current: 16 A, ", ""
            )
        )
    )
    with pytest.raises(Missing) as raised:
        _ = of.subject("feed").mains_let_through
    assert raised.value.fields == ("inlet.rated_current",)


@pytest.mark.parametrize(
    ("surge", "let", "unlimited"),
    [("surge_power: 2.3 kW, output_voltage: 230 V", 10.0, ()), ("rated_power: 1 kW", 0.0, ("inverter",))],
)
def test_an_inverter_limits_itself_only_by_a_stated_figure(
    surge: str, let: float, unlimited: tuple[str, ...]
) -> None:
    """Without one it counts as unlimited: 2.3 kW at 230 V are 10 A by hand."""
    of = Facts(
        build(
            f"components:\n  inverter: {{kind: inverter, {surge}}}\n  kettle: {{kind: mains-appliance}}\n"
            "runs:\n  feed: {medium: ac, from: inverter/ac-out, to: kettle, conductor: 1.5 mm²}\n"
        )
    )
    feed = of.subject("feed")
    assert feed.mains_let_through == pytest.approx(let)
    assert feed.unlimited_sources == unlimited
    assert feed.mains_let_through < inf


BEHIND = """
components:
  inlet: {{kind: shore-inlet, rated_current: 16 A}}
  inverter: {{kind: inverter, short_circuit_current: 12 A}}
  changeover: {{kind: transfer-switch, switched_cores: line and neutral}}
  board: {{kind: mains-board, main: {{breaker: {main}}}, ways: {{a: {{breaker: 10 A}}}}}}
  kettle: {{kind: mains-appliance}}
  bond: {{kind: bonding-point}}
  lone: {{kind: mains-board, ways: {{a: {{breaker: 10 A}}}}}}
  spare-kettle: {{kind: mains-appliance}}
runs:
  lead: {{medium: ac, from: inlet, to: changeover/shore}}
  inverted: {{medium: ac, from: inverter/ac-out, to: changeover/inverter}}
  both: {{medium: ac, from: changeover/out, to: board}}
  feed: {{medium: ac, from: board/a, to: kettle}}
  bonding: {{medium: ac, from: board/earth, to: bond}}
  spare: {{medium: ac, from: lone/a, to: spare-kettle}}
"""


@pytest.mark.parametrize(
    ("run", "main", "sources", "let", "devices", "site"),
    [
        ("lead", "25 A", ("inlet",), 16.0, (), True),
        ("inverted", "25 A", ("inverter",), 12.0, (), False),
        ("both", "25 A", ("inlet", "inverter"), 16.0, (), True),  # the greater of the two modes
        ("feed", "25 A", ("inlet", "inverter"), 10.0, ("board/a",), False),
        ("feed", "6 A", ("inlet", "inverter"), 6.0, ("board/main",), False),
        ("bonding", "25 A", (), 0.0, (), False),
        ("spare", "25 A", (), 0.0, (), False),  # its board is joined to nothing
    ],
)
def test_what_feeds_a_cable_and_what_bounds_it(
    run: str, main: str, sources: tuple[str, ...], let: float, devices: tuple[str, ...], site: bool
) -> None:
    """The inlet bounds at 16 A and speaks of the site's device; the inverter at 12 A; behind a way its breaker."""
    cable = Facts(build(BEHIND.format(main=main))).subject(run)
    with cable.van.recording() as frame:
        assert (cable.feeding_sources, cable.mains_let_through) == (sources, let)
    assert cable.bounding_devices == devices
    assert cable.unlimited_sources == ()
    assert any("the site's device" in sentence for sentence in frame.assumptions) is site


@pytest.mark.parametrize(("gauge", "ampere"), [("14 AWG", 15.0), ("12 AWG", 20.0), ("10 AWG", 30.0)])
def test_small_conductors_have_the_printed_cap(gauge: str, ampere: float) -> None:
    """NEC 240.4(D): 14, 12 and 10 AWG; the table itself is checked with the tables."""
    assert facts(size=gauge).subject("feed").small_conductor_limit == ampere


@pytest.mark.parametrize(
    ("conductor", "area"),
    [("2.5 mm²", 2.5e-6), ("4 mm²", 4e-6), ("8 AWG", 8.36556e-6), ("6 AWG", 13.3018e-6)],
)
def test_a_bonding_conductor_has_its_area(conductor: str, area: float) -> None:
    """8 AWG is 8.37 mm² (NEC chapter 9 table 8 prints 8.367; ASTM B258 gives 8.366)."""
    of = Facts(
        build(
            "components:\n  board: {kind: mains-board}\n  bond: {kind: bonding-point, bonds: [body]}\n"
            f"runs:\n  bonding: {{medium: ac, from: board/earth, to: bond, conductor: {conductor}}}\n"
        )
    )
    bonding = of.subject("bonding")
    assert bonding.carries_line is False
    assert bonding.protective_area == pytest.approx(area, rel=1e-4)


def test_a_cable_with_a_line_states_its_protective_conductor() -> None:
    """It need not be as thick as the line: what is not stated is asked for, never taken from the other cores."""
    stated = facts(size="2.5 mm², protective_conductor: 1.5 mm²").subject("feed")
    assert (stated.core_area, stated.protective_area) == pytest.approx((2.5e-6, 1.5e-6))
    with pytest.raises(Missing) as absent:
        _ = facts(size="2.5 mm²").subject("feed").protective_area
    assert absent.value.fields == ("feed.protective_conductor",)


def test_a_bonding_conductor_of_which_nothing_is_stated() -> None:
    """And where both are, the protective conductor is what protects."""
    text = (
        "components:\n  board: {kind: mains-board}\n  bond: {kind: bonding-point, bonds: [body]}\n"
        "runs:\n  bonding: {medium: ac, from: board/earth, to: bond%s}\n"
    )
    with pytest.raises(Missing) as absent:
        _ = Facts(build(text % "")).subject("bonding").protective_area
    assert absent.value.fields == ("bonding.protective_conductor",)
    both = Facts(build(text % ", conductor: 4 mm², protective_conductor: 6 mm²"))
    assert both.subject("bonding").protective_area == pytest.approx(6e-6)


USES = """
components:
  inlet: {kind: shore-inlet, rated_current: 6 A, rated_voltage: 230 V}
  board: {kind: mains-board, ways: {a: {breaker: 10 A}, b: {breaker: 10 A}}}
  kettle: {kind: mains-appliance, mains_power: 1.2 kW}
  heater: {kind: electric-heater, mains_power: 500 W, count: 2}
  dryer: {kind: mains-appliance, mains_power: 1.5 kW, plugged: true, modes: [generator]}
  toaster: {kind: mains-appliance, mains_power: 800 W, plugged: true}
runs:
  lead: {medium: ac, from: inlet, to: board}
  kettle-feed: {medium: ac, from: board/a, to: kettle}
  heater-feed: {medium: ac, from: board/b, to: heater}
"""


def test_demand_adds_what_the_mode_feeds_and_what_may_be_plugged_in() -> None:
    """1200 + 2 × 500 + 800 W on shore, against 6 A × 230 V; the dryer is meant for a generator."""
    whole = Facts(build(USES)).subject("", "shore")
    assert whole.mains_demand == pytest.approx(3000.0)
    assert whole.mains_capacity == pytest.approx(1380.0)


@pytest.mark.parametrize(
    ("mode", "watts"),
    [
        ("shore", 3000),  # kettle, heaters, toaster
        ("generator", 2300),  # no generator is there: what may be plugged in, the dryer and the toaster
        ("inverter", 800),  # the toaster may be plugged in; nothing feeds the kettle
    ],
)
def test_demand_is_that_of_the_mode(mode: str, watts: float) -> None:
    """What a cable joins counts where its source gives; what has a plug in the modes that it is meant for."""
    assert Facts(build(USES)).subject("", mode).mains_demand == pytest.approx(watts)


def test_what_is_neither_wired_nor_plugged_asks_for_nothing() -> None:
    """A toaster without a cable, that nobody says to have a plug, draws from no supply."""
    loose = USES.replace("mains_power: 800 W, plugged: true", "mains_power: 800 W")
    assert Facts(build(loose)).subject("", "shore").mains_demand == pytest.approx(2200)


COMBINED = USES.replace(
    "  board:", "  combined: {kind: inverter-charger, rated_power: 1 kW%s}\n  board:"
).replace(
    "lead: {medium: ac, from: inlet, to: board}",
    "lead: {medium: ac, from: inlet, to: combined/ac-in}\n  on: {medium: ac, from: combined/ac-out, to: board}",
)


def test_an_input_limit_is_asked_for_where_a_supply_comes_in() -> None:
    """An inverter charges with what its limit leaves of the supply, and that is said; from the battery it charges nothing."""
    unset = Facts(build(COMBINED % ""))
    with pytest.raises(Missing) as absent:
        _ = unset.subject("", "shore").mains_demand
    assert absent.value.fields == ("combined.input_limit",)
    assert unset.subject("", "inverter").mains_demand == pytest.approx(3000)
    limited = Facts(build(COMBINED % ", input_limit: 6 A"))
    with limited.recording() as frame:
        assert limited.subject("", "shore").mains_demand == pytest.approx(3000)
    assert "combined charges with what its input limit leaves over" in frame.assumptions


@pytest.mark.parametrize(
    ("listed", "mains"),
    [
        ("components: {it: {kind: shore-inlet}}", True),
        ("components: {it: {kind: inverter}}", True),
        ("components: {it: {kind: inverter-charger}}", True),
        ("components: {it: {kind: generator}}", True),
        (
            "components: {board: {kind: mains-board}, bond: {kind: bonding-point}}\n"
            "runs: {bonding: {medium: ac, from: board/earth, to: bond}}",
            True,
        ),
        (
            "components: {battery: {kind: battery}, box: {kind: fuse-box}}\n"
            "runs: {main: {medium: dc, from: battery/positive, to: box/feed, return: chassis}}",
            False,
        ),
        ("components: {it: {kind: shore-lead}}", False),
    ],
)
def test_what_makes_a_van_one_with_mains(listed: str, mains: bool) -> None:
    """A source of mains or a mains cable; neither a battery with its cable nor a lead that lies in a locker."""
    assert Facts(build(listed)).whole.has_mains is mains


POLARITY = "records: {tests: [%s]}"
WITHIN, OUTSIDE = "result: within the limit", "result: outside the limit"


@pytest.mark.parametrize(
    ("records", "right"),
    [
        ([f"test: polarity, {WITHIN}"], True),
        ([f"test: polarity, {OUTSIDE}"], False),
        ([f"test: polarity, on: galley, {WITHIN}", f"test: polarity, on: bed, {OUTSIDE}"], False),
        ([f"test: polarity, {WITHIN}", f"test: alarm, {OUTSIDE}"], True),
        # The last record of an outlet counts, and one written with a capital letter is one of polarity.
        ([f"test: polarity, {OUTSIDE}, date: 2026-04-01", f"test: polarity, {WITHIN}, date: 2026-04-02"], True),
        ([f"test: polarity, {WITHIN}, date: 2026-04-01", f"test: Polarity, {OUTSIDE}, date: 2026-04-02"], False),
        ([f"test: Polarity, {OUTSIDE}, date: 2026-04-01", f"test: polarity, {WITHIN}, date: 2026-04-02"], True),
    ],
)  # fmt: skip
def test_polarity_is_right_where_every_last_record_says_so(records: list[str], right: bool) -> None:
    """One outlet with its cores reversed is enough."""
    listed = ", ".join(f"{{{record}}}" for record in records)
    assert Facts(build(POLARITY % listed)).whole.polarity_right is right


@pytest.mark.parametrize(
    ("records", "asked"),
    [
        ("", "records.tests.polarity"),
        (f"{{test: alarm, {WITHIN}}}", "records.tests.polarity"),
        ("{test: polarity}", "records.tests.polarity.result"),
        (f"{{test: polarity, on: galley, {WITHIN}}}, {{test: polarity, on: bed}}", "records.tests.polarity.result"),
    ],
)  # fmt: skip
def test_polarity_that_nobody_found_is_open(records: str, asked: str) -> None:
    """Without a record, or with one that lacks its result, the field is named."""
    with pytest.raises(Missing) as absent:
        _ = Facts(build(POLARITY % records)).whole.polarity_right
    assert absent.value.fields == (asked,)


def test_a_charger_on_the_inverter_is_found() -> None:
    """It would charge the battery that feeds it."""
    text = """
        components:
          inverter: {kind: inverter}
          charger: {kind: shore-charger}
        runs:
          loop: {medium: ac, from: inverter/ac-out, to: charger}
        """
    assert Facts(build(text)).whole.chargers_on_inverter == ("charger",)


@pytest.mark.parametrize(
    ("where", "size", "way", "device", "least"),
    [
        ("uk", "1.5 mm²", "10 A", 15, "1 mm²"),
        ("uk", "4 mm²", "16 A", 25, "2.5 mm²"),
        ("us", "12 AWG", "20 A", 20, "12 AWG"),
        ("us", "10 AWG", "15 A", 30, "14 AWG"),
        ("us", "10 AWG", "20 A", 30, "12 AWG"),
        ("uk", "10 AWG", "20 A", 40, "14 AWG"),
        ("us, uk", "10 AWG", "20 A", 30, "12 AWG"),
        ("uk, ca", "10 AWG", "20 A", 30, "12 AWG"),
    ],
)
def test_largest_device_and_smallest_conductor(
    where: str, size: str, way: str, device: float, least: str
) -> None:
    """75 °C column of 33 CFR 183.425 Table 5: 18 to 10 AWG bear 10, 15, 20, 25, 40 A; mm² the next
    smaller AWG area. In the US NEC 240.4(D) caps 14, 12, 10 AWG at 15, 20, 30 A. Ratings of NEC 240.6(A)."""
    text = VAN.format(inlet="32 A", main="32 A", way=way, size=size, protection="")
    feed = Facts(build(f"{text}jurisdictions: [{where}]\n")).subject("feed")
    assert feed.largest_device == device
    assert feed.smallest_conductor == least


@pytest.mark.parametrize(
    ("laid", "least"),
    [
        ("", "14 AWG"),  # 20 A
        (", bundled_with: 2", "14 AWG"),
        (", bundled_with: 3", "10 AWG"),  # 12 AWG: 25 A × 0.7 = 17.5 A; 10 AWG: 40 A × 0.7 = 28 A
        (", bundled_with: 7", "10 AWG"),  # 40 A × 0.5 = 20 A
        (", engine_space: true", "10 AWG"),  # 12 AWG: 25 A × 0.75 = 18.75 A
    ],
)
def test_the_smallest_conductor_is_laid_as_this_one(laid: str, least: str) -> None:
    """33 CFR 183.425 Table 5 at 75 °C with its notes 1 and 2: what 20 A need alone, in a bundle, by the engine."""
    feed = facts(inlet="32 A", main="32 A", way="20 A", size=f"10 AWG{laid}").subject("feed")
    assert feed.smallest_conductor == least


def test_no_conductor_for_what_nothing_bounds_or_nothing_carries() -> None:
    """Behind an inverter without a figure every conductor is too small; 1 kA no conductor of the table carries."""
    bare = Facts(
        build(
            "components:\n  inverter: {kind: inverter}\n  kettle: {kind: mains-appliance}\n"
            "runs:\n  feed: {medium: ac, from: inverter/ac-out, to: kettle, conductor: 1.5 mm²}\n"
        )
    )
    with pytest.raises(Missing, match="a source reaches it through no device"):
        _ = bare.subject("feed").smallest_conductor
    with pytest.raises(Missing, match="no conductor of the table is that large"):
        _ = facts(inlet="1 kA", main="1 kA", way="1 kA").subject("feed").smallest_conductor


@pytest.mark.parametrize(
    ("charger", "watts"),
    [
        ("charge_current: 30 A, output_voltage: 14.4 V, efficiency: 90 %", 480),
        ("mains_power: 500 W, charge_current: 30 A", 500),
    ],
)
def test_a_charger_asks_for_its_output_over_its_efficiency(charger: str, watts: float) -> None:
    """30 A × 14.4 V ÷ 0.9 = 480 W on top of the 3 kW; what its plate says comes first."""
    text = USES.replace("  toaster:", f"  charger: {{kind: shore-charger, {charger}}}\n  toaster:").replace(
        "b: {breaker: 10 A}", "b: {breaker: 10 A}, c: {breaker: 10 A}"
    )
    whole = Facts(build(text + "  charger-feed: {medium: ac, from: board/c, to: charger}\n")).subject(
        "", "shore"
    )
    assert whole.mains_demand == pytest.approx(3000 + watts)


@pytest.mark.parametrize(
    ("lead", "flex"),
    [
        ("from: board/c, to: toaster, plugged: true", True),
        ("from: board/c, to: toaster, plugged: false", False),
        ("from: socket/outlet, to: toaster", True),
        ("from: board/c, to: kettle-2", False),
        ("from: board/c, to: socket/mains", False),
        ("from: socket/loop, to: socket-2/mains", False),
    ],
)
def test_a_flex_comes_from_an_outlet(lead: str, flex: bool) -> None:
    """What comes out of a socket, or is said to be plugged in, has a plug; what leads to a socket or a fixed thing is wiring."""
    parts = "  socket: {kind: socket}\n  socket-2: {kind: socket}\n  kettle-2: {kind: mains-appliance}\n  toaster:"
    lead, _, plugged = lead.partition(", plugged: ")
    text = (
        USES.replace("  toaster:", parts)
        .replace("800 W, plugged: true", f"800 W, plugged: {plugged}" if plugged else "800 W")
        .replace("b: {breaker: 10 A}", "b: {breaker: 10 A}, c: {breaker: 10 A}")
    )
    assert Facts(build(text + f"  it: {{medium: ac, {lead}}}\n")).subject("it").plug_in_flex is flex


def test_what_is_plugged_in_somewhere_is_counted_and_said() -> None:
    """A toaster with a plug and no cable of its own may stand at any socket; a kettle on a cable is where its cable is."""
    whole = Facts(build(USES)).subject("", "shore")
    with whole.van.recording() as frame:
        _ = whole.mains_demand
    said = [sentence for sentence in frame.assumptions if "plugged in somewhere" in sentence]
    assert said == ["toaster: plugged in somewhere, counted in every mode it is meant for"]
    cabled = USES.replace("b: {breaker: 10 A}", "b: {breaker: 10 A}, c: {breaker: 10 A}")
    fixed = Facts(build(cabled + "  it: {medium: ac, from: board/c, to: toaster}\n")).subject("", "shore")
    with fixed.van.recording() as frame:
        assert fixed.mains_demand == pytest.approx(3000)
    assert not any("plugged in somewhere" in sentence for sentence in frame.assumptions)
