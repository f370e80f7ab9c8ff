"""Which way water takes through a small system, laid out by the base of the water rules."""

import pytest
from building import build
from water_system import water_system

from specreg.facts.engine import Facts
from specreg.facts.missing import Missing

DRY = (
    "{components: {toilet: {form: composting}, out: {kind: vent}, other: {kind: vent}, outlet: {kind: air-outlet}},"
    " runs: {soil: {from: toilet/urine}, fumes: {medium: air, from: toilet/vent, to: out}}}"
)


@pytest.mark.parametrize(
    ("change", "subject", "fact", "expected"),
    [
        ("{}", "tap", "fed_by_tanks", ("fresh-tank",)),
        ("{}", "tap", "fed_by_pumps", ("water-pump",)),
        ("{runs: {delivery: ~}}", "tap", "fed_by_tanks", ()),
        ("{runs: {delivery: ~}}", "tap", "fed_by_pumps", ()),
        # Water that also runs past the pump does not need it.
        (
            "{components: {tee-2: {kind: water-manifold, outlets: 1}}, runs: {suction: {to: tee-2/in},"
            " delivery: ~, past: {medium: water, from: tee-2/1, to: tee/in}}}",
            "tap",
            "fed_by_pumps",
            (),
        ),
        ("{}", "tap", "heated_by", ("water-heater",)),
        ("{runs: {hot-mixer: ~}}", "tap", "heated_by", ()),
        ("{runs: {hot-mixer: ~}}", "tap", "gives_hot_water", False),
        ("{}", "water-pump", "own_switches", ("pump-switch",)),
        # The battery's own disconnect stops everything, and is no switch of the pump.
        (
            "{components: {main: {kind: disconnect}}, runs: {battery-main: {to: main/in}, on: {medium: dc,"
            " from: main/out, to: fuse-box/feed, return: battery-return, conductor: 25 mm², length: 1 m}}}",
            "water-pump",
            "own_switches",
            ("pump-switch",),
        ),
        ("{components: {water-pump: {strainer: false}}}", "water-pump", "strained", False),
        (
            "{components: {water-pump: {strainer: false}, net: {kind: strainer}},"
            " runs: {suction: {to: net/in}, strained: {medium: water, from: net/out, to: water-pump/inlet}}}",
            "water-pump",
            "strained",
            True,
        ),
        ("{}", "fresh-tank", "emptying_valves", ("drain-valve",)),
        ("{runs: {fresh-drain: ~}}", "fresh-tank", "emptying_valves", ()),
        ("{}", "filler", "carries_drinking_water", True),
        ("{}", "water-heater", "carries_drinking_water", True),
        ("{}", "mixer", "carries_drinking_water", True),
        ("{}", "toilet", "carries_drinking_water", False),
        ("{}", "grey-valve", "carries_drinking_water", False),
        ("{components: {other: {kind: tap, form: cold}}}", "other", "carries_drinking_water", False),
        ("{components: {other: {kind: fresh-tank}}}", "other", "carries_drinking_water", True),
        ("{components: {other: {kind: filler}}}", "other", "carries_drinking_water", True),
        # Water from a filler is drinking water before there is a tank; a toilet that flushes with it ends its way.
        (
            "{components: {other: {kind: filler}, hose: {kind: check-valve}},"
            " runs: {a: {medium: water, from: other/out, to: hose/in}}}",
            "hose",
            "carries_drinking_water",
            True,
        ),
        (
            "{components: {tee: {outlets: 4}, toilet: {flush_from: fresh water}},"
            " runs: {a: {medium: water, from: tee/4, to: toilet/flush}}}",
            "toilet",
            "carries_drinking_water",
            False,
        ),
        ("{}", "fill-hose", "leads_drinking_water", True),
        ("{runs: {delivery: ~}}", "cold-tap", "leads_drinking_water", False),
        # What no filler and no tank gives water to.
        (
            "{components: {stop: {kind: check-valve}, other: {kind: tap, form: cold}},"
            " runs: {a: {medium: water, from: stop/out, to: other}}}",
            "a",
            "leads_drinking_water",
            False,
        ),
        # A second tank that nothing is joined to changes neither.
        ("{components: {second: {kind: fresh-tank}}}", "tap", "fed_by_tanks", ("fresh-tank",)),
        ("{components: {second: {kind: fresh-tank}}}", "tap", "fed_by_pumps", ("water-pump",)),
        (
            "{components: {second: {kind: fresh-tank}, water-pump: {strainer: false}}}",
            "water-pump",
            "strained",
            False,
        ),
        ("{runs: {suction: ~}}", "water-pump", "strained", True),
        # A check valve strains nothing.
        (
            "{components: {water-pump: {strainer: false}, stop: {kind: check-valve}}, runs: {suction: {to: stop/in},"
            " on: {medium: water, from: stop/out, to: water-pump/inlet}}}",
            "water-pump",
            "strained",
            False,
        ),
        # Of a fork behind the drain one valve empties the tank; behind a pump none does.
        (
            "{components: {fork: {kind: water-manifold}, low: {kind: valve, purpose: drain}}, runs: {fresh-drain:"
            " {to: fork/in}, a: {medium: water, from: fork/1, to: drain-valve/in},"
            " b: {medium: water, from: fork/2, to: low/in}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve", "low"),
        ),
        (
            "{components: {second: {kind: fresh-tank}}, runs: {a: {medium: water, from: second/outlet, to: tee/in}}}",
            "tap",
            "fed_by_tanks",
            ("fresh-tank", "second"),
        ),
        # Two pumps side by side: neither is needed; one behind the other: both are.
        (
            "{components: {second: {kind: pump}}, runs: {a: {medium: water, from: fresh-tank/outlet, to: second/inlet},"
            " b: {medium: water, from: second/outlet, to: tee/in}}}",
            "tap",
            "fed_by_pumps",
            (),
        ),
        (
            "{components: {second: {kind: pump}}, runs: {delivery: {to: second/inlet},"
            " b: {medium: water, from: second/outlet, to: tee/in}}}",
            "tap",
            "fed_by_pumps",
            ("water-pump", "second"),
        ),
        ("{}", "water-pump", "strained", True),
        (
            "{components: {water-pump: {strainer: ~}, net: {kind: water-filter}},"
            " runs: {suction: {to: net/in}, strained: {medium: water, from: net/out, to: water-pump/inlet}}}",
            "water-pump",
            "strained",
            True,
        ),
        # A strainer beside the way strains nothing.
        (
            "{components: {water-pump: {strainer: false}, net: {kind: strainer}},"
            " runs: {a: {medium: water, from: fresh-tank/outlet, to: net/in},"
            " b: {medium: water, from: net/out, to: water-pump/inlet}}}",
            "water-pump",
            "strained",
            False,
        ),
        (
            "{components: {frost: {kind: frost-valve}}, runs: {a: {medium: water, from: fresh-tank/outlet, to: frost/in}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve", "frost"),
        ),
        (
            "{components: {low: {kind: valve, purpose: drain}},"
            " runs: {a: {medium: water, from: fresh-tank/outlet, to: low/in}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve", "low"),
        ),
        (
            "{components: {tap-valve: {kind: valve, purpose: shut-off}},"
            " runs: {a: {medium: water, from: fresh-tank/outlet, to: tap-valve/in}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve",),
        ),
        (
            "{components: {tee: {outlets: 4}, low: {kind: valve, purpose: drain}},"
            " runs: {a: {medium: water, from: tee/4, to: low/in}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve",),
        ),
        (
            "{components: {drain-valve: {purpose: shut-off}}}",
            "fresh-tank",
            "emptying_valves",
            ("drain-valve",),
        ),
        (
            "{components: {coupling: {kind: quick-coupling}}, runs: {suction: {drains_to: coupling}}}",
            "suction",
            "low_point_drained",
            True,
        ),
        ("{runs: {suction: {drains_to: grey-outlet}}}", "suction", "low_point_drained", True),
        ("{}", "suction", "low_point_drained", False),
        (
            "{components: {tap-off: {kind: gas-valve}}, runs: {suction: {drains_to: tap-off}}}",
            "suction",
            "low_point_drained",
            False,
        ),
        (
            "{components: {frost: {kind: frost-valve}}, runs: {suction: {drains_to: frost}}}",
            "suction",
            "low_point_drained",
            True,
        ),
        ("{runs: {grey-drain: {drains_to: grey-valve}}}", "grey-drain", "low_point_drained", True),
        ("{}", "sink", "carries_drinking_water", False),
        ("{}", "house-battery", "carries_drinking_water", False),
        ("{}", "mixed-tap", "leads_drinking_water", True),
        ("{runs: {suction: ~}}", "mixed-tap", "leads_drinking_water", False),
        ("{}", "suction", "holds_water", False),
        ("{runs: {suction: {lowest: 89 mm}}}", "suction", "holds_water", True),
        ("{runs: {suction: {lowest: 91 mm}}}", "suction", "holds_water", False),
        ("{runs: {suction: {drains_to: drain-valve}}}", "suction", "low_point_drained", True),
        ("{runs: {suction: {drains_to: sink}}}", "suction", "low_point_drained", False),
        ("{}", "sink", "drains_into", ("grey-tank",)),
        ("{runs: {sink-drain: {to: grey-outlet}, grey-out: ~}}", "sink", "drains_into", ("grey-outlet",)),
        # Through a trap and a tee, where a second plug-hole joins.
        (
            "{components: {loop: {kind: drain-trap}, fork: {kind: waste-tee}, basin: {kind: sink}}, runs: {sink-drain:"
            " {to: loop/in}, on: {medium: waste, from: loop/out, to: fork/1}, beside: {medium: waste, from: basin, to:"
            " fork/2}, last: {medium: waste, from: fork/out, to: grey-tank}}}",
            "sink",
            "drains_into",
            ("grey-tank",),
        ),
        ("{runs: {sink-drain: ~}}", "sink", "drains_into", ()),
        ("{}", "toilet", "empties_into", ("cassette",)),
        ("{components: {sink: {trap: none}}}", "sink", "odour_trapped", False),
        (
            "{components: {sink: {trap: none}, loop: {kind: drain-trap}},"
            " runs: {sink-drain: {to: loop/in}, on: {medium: waste, from: loop/out, to: grey-tank}}}",
            "sink",
            "odour_trapped",
            True,
        ),
        # A tee is no trap.
        (
            "{components: {sink: {trap: none}, fork: {kind: waste-tee}},"
            " runs: {sink-drain: {to: fork/1}, on: {medium: waste, from: fork/out, to: grey-tank}}}",
            "sink",
            "odour_trapped",
            False,
        ),
        ("{}", "sink", "odour_trapped", True),
        ("{}", "grey-tank", "drain_closable", True),
        ("{runs: {grey-drain: {to: grey-outlet}, grey-out: ~}}", "grey-tank", "drain_closable", False),
        # A tee closes nothing.
        (
            "{components: {fork: {kind: waste-tee}}, runs: {grey-drain: {to: fork/1},"
            " grey-out: {from: fork/out, to: grey-outlet}}}",
            "grey-tank",
            "drain_closable",
            False,
        ),
        ("{}", "grey-valve", "holds_a_tank", True),
        ("{runs: {grey-drain: ~}}", "grey-valve", "holds_a_tank", False),
        # Behind a tee it holds one tank of two.
        (
            "{components: {other: {kind: grey-tank}, fork: {kind: waste-tee}},"
            " runs: {grey-drain: {to: fork/1}, on: {medium: waste, from: fork/out, to: grey-valve/in}}}",
            "grey-valve",
            "holds_a_tank",
            True,
        ),
        ("{}", "cassette", "waste_vents", ("soil-vent",)),
        ("{}", "cassette", "vented_outside", True),
        ("{components: {soil-vent: {passes: inwards}}}", "cassette", "vented_outside", False),
        ("{runs: {soil-air: ~}}", "cassette", "vented_outside", False),
        ("{runs: {soil: {to: grey-tank}, sink-drain: ~}}", "grey-tank", "foreign_inflow", ("toilet",)),
        ("{}", "grey-tank", "foreign_inflow", ()),
        ("{}", "cassette", "soil_stands_in_it", False),
        ("{components: {black: {kind: black-tank}}}", "black", "soil_stands_in_it", True),
        ("{components: {can: {kind: urine-tank, removable: true}}}", "can", "soil_stands_in_it", False),
        ("{components: {can: {kind: urine-tank}}}", "can", "soil_stands_in_it", True),
        ("{}", "grey-tank", "soil_stands_in_it", False),
        ("{components: {sink: {trap: waterless valve}}}", "sink", "odour_trapped", True),
        # Two plug-holes of which one has a trap of its own.
        (
            "{components: {sink: {trap: none, drains: 2}, loop: {kind: drain-trap}}, runs: {sink-drain: {from: sink/drain-1,"
            " to: loop/in}, on: {medium: waste, from: loop/out, to: grey-tank},"
            " other: {medium: waste, from: sink/drain-2, to: grey-tank}}}",
            "sink",
            "odour_trapped",
            False,
        ),
        (
            "{components: {sink: {drains: 2}, other: {kind: grey-tank}}, runs: {sink-drain: {from: sink/drain-1},"
            " second: {medium: waste, from: sink/drain-2, to: other}}}",
            "sink",
            "drains_into",
            ("grey-tank", "other"),
        ),
        ("{runs: {sink-drain: {to: cassette}}}", "cassette", "foreign_inflow", ("sink",)),
        (
            "{components: {black: {kind: black-tank}}, runs: {sink-drain: {to: black}}}",
            "black",
            "foreign_inflow",
            ("sink",),
        ),
        (
            "{components: {can: {kind: urine-tank}}, runs: {sink-drain: {to: can}}}",
            "can",
            "foreign_inflow",
            ("sink",),
        ),
        ("{}", "cassette", "foreign_inflow", ()),
        ("{}", "fresh-tank", "foreign_inflow", ()),
        ("{}", "fresh-tank", "waste_vents", ()),
        ("{}", "grey-tank", "waste_vents", ("grey-vent",)),
        ("{components: {soil-vent: {form: air admittance valve}}}", "cassette", "vented_outside", False),
        ("{components: {soil-vent: {opens_to: under floor}}}", "cassette", "vented_outside", False),
        # A valve that lets air in only says nothing by where it is; another vent outside is enough.
        (
            "{components: {soil-vent: {form: air admittance valve, opens_to: ~}}}",
            "cassette",
            "vented_outside",
            False,
        ),
        (
            "{components: {more: {kind: waste-vent, opens_to: outside}, soil-vent: {opens_to: ~}},"
            " runs: {more-air: {medium: waste, from: cassette/vent, to: more}}}",
            "cassette",
            "vented_outside",
            True,
        ),
        ("{}", "toilet", "keeps_solids_dry", False),
        (DRY, "toilet", "keeps_solids_dry", True),
        (DRY.replace("composting", "urine-diverting"), "toilet", "keeps_solids_dry", True),
        (DRY, "toilet", "air_leaves_by", ("out",)),
        (DRY.replace(", to: out", ", to: outlet"), "toilet", "air_leaves_by", ()),
        # A second valve behind the first does not hold the tank.
        (
            "{components: {second: {kind: waste-valve}}, runs: {grey-out: {to: second/in},"
            " last: {medium: waste, from: second/out, to: grey-outlet}}}",
            "second",
            "holds_a_tank",
            False,
        ),
        # The valve on one drain does not close the other way out of the tank.
        (
            "{runs: {past: {medium: waste, from: grey-tank/drain, to: grey-outlet}}}",
            "grey-tank",
            "drain_closable",
            False,
        ),
        # Soil comes into a tank through another one's outlet only: into the first it empties.
        (
            "{components: {black: {kind: black-tank}}, runs: {soil: {to: black}, on: {medium: waste,"
            " from: black/drain, to: grey-tank}}}",
            "toilet",
            "empties_into",
            ("black",),
        ),
    ],
)
def test_ways_of_water(change: str, subject: str, fact: str, expected: object) -> None:
    """What the graph says about one thing after one change."""
    assert getattr(water_system(change).subject(subject), fact) == expected


@pytest.mark.parametrize(
    ("change", "subject", "fact", "field"),
    [
        ("{components: {water-pump: {strainer: ~}}}", "water-pump", "strained", "water-pump.strainer"),
        ("{components: {sink: {trap: ~}}}", "sink", "odour_trapped", "sink.trap"),
        ("{components: {soil-vent: {opens_to: ~}}}", "cassette", "vented_outside", "soil-vent.opens_to"),
        ("{runs: {suction: {lowest: ~}}}", "suction", "holds_water", "suction.lowest"),
        ("{components: {mixer: {temperature: ~}}}", "tap", "hottest_water", "mixer.temperature"),
    ],
)
def test_missing_fields_are_named(change: str, subject: str, fact: str, field: str) -> None:
    """What is not stated is named, and nothing is guessed."""
    with pytest.raises(Missing) as caught:
        getattr(water_system(change).subject(subject), fact)
    assert caught.value.fields == (field,)


@pytest.mark.parametrize(
    ("components", "runs", "ends", "outside"),
    [
        ("", "", (), False),
        ("out: {kind: tank-vent, opens_to: outside}", "a: {from: tank/vent, to: out}", ("out",), True),
        ("out: {kind: tank-vent, opens_to: under floor}", "a: {from: tank/vent, to: out}", ("out",), False),
        (
            "in: {kind: tank-vent, opens_to: living space}, out: {kind: tank-vent, opens_to: outside}",
            "a: {from: tank/vent, to: tee/in}, b: {from: tee/1, to: in}, c: {from: tee/2, to: out}",
            ("in", "out"),
            True,
        ),
        (
            "in: {kind: tank-vent}, out: {kind: tank-vent, opens_to: outside}",
            "a: {from: tank/vent, to: tee/in}, b: {from: tee/1, to: in}, c: {from: tee/2, to: out}",
            ("in", "out"),
            True,
        ),
        (
            "out: {kind: tank-vent, opens_to: outside}",
            "a: {from: tank/vent, to: tee/in}, b: {from: tee/1, to: tank/fill}, c: {from: tank/outlet, to: out}",
            (),
            False,
        ),
        ("out: {kind: tank-vent, opens_to: outside}", "a: {from: tank/drain, to: out}", (), False),
        ("out: {kind: tank-vent, opens_to: outside}", "a: {from: tank/vent, to: tap/cold}", (), False),
    ],
    ids=[
        "no pipe",
        "outside",
        "under the floor",
        "inside and outside",
        "unknown and outside",
        "only through the tank's own water",
        "on the drain",
        "to a tap",
    ],
)
def test_where_a_fresh_tank_breathes(
    components: str, runs: str, ends: tuple[str, ...], outside: bool
) -> None:
    """At the open ends of its vent pipe, of which one outside is enough; water in the tank lets no air past."""
    piped = runs.replace(": {from", ": {medium: water, from")
    text = f"""
        components: {{tank: {{kind: fresh-tank}}, tee: {{kind: water-manifold, outlets: 2}}, tap: {{kind: tap, form: cold}}{", " if components else ""}{components}}}
        runs: {{{piped}}}
        """
    tank = Facts(build(text)).subject("tank")
    assert tank.vent_ends == ends
    assert tank.breathes_outside is outside


def test_every_end_that_may_be_outside_is_asked_for() -> None:
    """One inside, two that do not say: both are named."""
    text = """
        components:
          tank: {kind: fresh-tank}
          tee: {kind: water-manifold, outlets: 3}
          inside: {kind: tank-vent, opens_to: living space}
          one: {kind: tank-vent}
          two: {kind: tank-vent}
        runs:
          a: {medium: water, from: tank/vent, to: tee/in}
          b: {medium: water, from: tee/1, to: one}
          c: {medium: water, from: tee/2, to: inside}
          d: {medium: water, from: tee/3, to: two}
        """
    with pytest.raises(Missing) as caught:
        _ = Facts(build(text)).subject("tank").breathes_outside
    assert caught.value.fields == ("one.opens_to", "two.opens_to")


WASTE = """
components:
  tank: {kind: grey-tank}
  other: {kind: grey-tank}
  outlet: {kind: drain-outlet}
  one: {kind: waste-vent}
  two: {kind: waste-vent}
runs:
  drain: {medium: waste, from: tank/drain, to: outlet, bore: 8 mm}
  others: {medium: waste, from: other/vent, to: two, bore: 9 mm}
"""


@pytest.mark.parametrize(
    ("runs", "pipes", "bore"),
    [
        ("  a: {medium: waste, from: tank/vent, to: one, bore: 25 mm}\n", ("a",), 0.025),
        (
            "  a: {medium: waste, from: tank/vent, to: one, bore: 25 mm}\n"
            "  b: {medium: waste, from: tank/vent, to: two, bore: 12 mm}\n",
            ("a", "b"),
            0.012,
        ),
    ],
    ids=["one", "the narrower of two"],
)
def test_the_bore_of_a_waste_vent(runs: str, pipes: tuple[str, ...], bore: float) -> None:
    """Of the pipes on its own vent: neither its drain nor another tank's vent counts."""
    tank = Facts(build(WASTE + runs)).subject("tank")
    assert tank.vent_pipes == pipes
    assert tank.vent_bore == pytest.approx(bore)


def test_a_vent_without_a_pipe_has_no_bore() -> None:
    """And that is said."""
    tank = Facts(build(WASTE)).subject("tank")
    assert tank.vent_pipes == ()
    with pytest.raises(Missing) as caught:
        _ = tank.vent_bore
    assert caught.value.reason == "no pipe leaves the vent of tank"


PLACED = """
components:
  low: {kind: valve, at: [1 m, 0 m, 300 mm], size: [100 mm, 100 mm, 200 mm]}
  high: {kind: valve, at: [2 m, 0 m, 500 mm], size: [100 mm, 100 mm, 200 mm]}
  point: {kind: valve, at: [2 m, 0 m, 350 mm]}
runs:
  pipe: {medium: water, from: %s/out, to: %s/in, lowest: %s mm}
"""


@pytest.mark.parametrize(
    ("start", "finish", "lowest", "sag", "holds"),
    [
        ("low", "high", 250, 0.050, True),
        ("high", "low", 250, 0.050, True),
        ("low", "high", 300, 0.0, False),
        ("low", "high", 320, 0.0, False),
        ("low", "high", 289, 0.011, True),
        ("low", "high", 291, 0.009, False),
        ("point", "high", 300, 0.050, True),
    ],
)
def test_sag_of_a_pipe(start: str, finish: str, lowest: int, sag: float, holds: bool) -> None:
    """Below the bottom of the lower of the two things that it joins: at 300 mm, or where a thing has no size at its place."""
    pipe = Facts(build(PLACED % (start, finish, lowest))).subject("pipe")
    assert pipe.sag == pytest.approx(sag, abs=1e-9)
    assert pipe.holds_water is holds


@pytest.mark.parametrize(("lowest", "holds"), [(-9.5, False), (-10, False), (-10.5, True)])
def test_a_sag_of_more_than_10_mm_holds_water(lowest: float, holds: bool) -> None:
    """Ten millimetres themselves do not."""
    text = PLACED.replace("at: [1 m, 0 m, 300 mm]", "at: [1 m, 0 m, 0 mm]") % ("low", "high", lowest)
    assert Facts(build(text)).subject("pipe").holds_water is holds


def test_what_only_its_zone_tells_stands_at_the_middle_of_it() -> None:
    """A zone from 300 to 500 mm: its middle at 400 mm counts, whatever the size of what stands there."""
    text = PLACED.replace("at: [1 m, 0 m, 300 mm]", "zone: bay").replace(
        "at: [2 m, 0 m, 500 mm]", "zone: bay"
    )
    zones = "vehicle: {zones: {bay: {at: [1 m, 0 m, 300 mm], size: [1 m, 1 m, 200 mm]}}}"
    pipe = Facts(build(zones + text % ("low", "high", 250))).subject("pipe")
    assert pipe.sag == pytest.approx(0.150)


def test_without_a_place_of_its_ends_a_pipe_has_no_sag() -> None:
    """The place that would tell is named."""
    text = PLACED.replace("at: [2 m, 0 m, 500 mm], size: [100 mm, 100 mm, 200 mm]", "note: loose")
    with pytest.raises(Missing) as caught:
        _ = Facts(build(text % ("low", "high", 250))).subject("pipe").sag
    assert caught.value.fields == ("high.at",)


def test_what_no_tank_reaches_has_no_strainer_to_look_for() -> None:
    """Neither yes nor no."""
    change = "{components: {water-pump: {strainer: false}}, runs: {suction: ~}}"
    with pytest.raises(Missing, match="no fresh tank reaches the pump"):
        _ = water_system(change).subject("water-pump").strained


def test_a_tank_whose_drain_leads_nowhere_is_neither_open_nor_closed() -> None:
    """No pipe leaves it."""
    with pytest.raises(Missing, match="no pipe leaves the drain"):
        _ = water_system("{runs: {grey-drain: ~}}").subject("grey-tank").drain_closable
