"""Sizes, lengths, resistances and ampacities of cables as they are written and laid: tables worked by hand."""

from math import pi

import building
import pytest
from dc_van import dc_facts

from specreg.facts.missing import Missing

MM2 = 1e-6
AWG_10 = pi / 4 * (0.1019 * 0.0254) ** 2
"""10 AWG is 0.1019 in across (ASTM B258, printed to four digits)."""


@pytest.mark.parametrize(
    ("written", "area", "back"),
    [
        ("conductor: 2.5 mm², return: same cable", 2.5 * MM2, 2.5 * MM2),
        ("conductor: 2.5 mm², return: same cable, return_conductor: 4 mm²", 2.5 * MM2, 4 * MM2),
        ("conductor: 10 AWG, return: same cable", AWG_10, AWG_10),
        ("conductor: 2.5 mm², return: ground", 2.5 * MM2, 10 * MM2),
    ],
)
def test_area_out_and_back(written: str, area: float, back: float) -> None:
    """Back by the other core of the cable, which may be of another size, or by the run that is named."""
    lamp = dc_facts(f"runs: {{lamp-feed: {{{written}}}}}").subject("lamp-feed")
    assert lamp.conductor_area == pytest.approx(area, rel=1e-3)
    assert lamp.return_area == pytest.approx(back, rel=1e-3)


def test_the_body_has_no_cross_section() -> None:
    """A return by the chassis is not compared with a cable, and that is why; one that is not written is asked for."""
    lamp = dc_facts("runs: {lamp-feed: {return: chassis}}").subject("lamp-feed")
    with pytest.raises(Missing) as absent:
        _ = lamp.return_area
    assert absent.value.reason == "lamp feed returns through the chassis"
    with pytest.raises(Missing, match=r"ground\.return"):
        _ = dc_facts().subject("ground").return_area


LEAST = [
    # by ISO 10133 7.7 in mm², by 33 CFR 183.425 (d), (e) as gauges: 16 AWG is 1.309 mm², 18 AWG 0.823 mm²
    ("1 mm²", "none", 1.0, True),
    ("0.75 mm²", "none", 1.0, False),
    ("0.75 mm²", "conduit", 1.0, False),
    ("0.75 mm²", "sheath", 0.75, True),
    ("0.5 mm²", "sheath", 0.75, False),
    ("16 AWG", "none", 1.309, True),
    ("18 AWG", "none", 1.309, False),
    ("18 AWG", "sheath", 0.823, True),
    ("20 AWG", "sheath", 0.823, False),
]


@pytest.mark.parametrize(("size", "covering", "least", "enough"), LEAST)
def test_least_size(size: str, covering: str, least: float, enough: bool) -> None:
    """A size in a sheath may be a step smaller; the size that is written as the least is no less than it."""
    lamp = dc_facts(f"runs: {{lamp-feed: {{conductor: {size}, covering: {covering}}}}}").subject("lamp-feed")
    assert lamp.least_area == pytest.approx(least * MM2, rel=5e-4)
    assert (lamp.conductor_area >= lamp.least_area) is enough


def test_a_cable_that_says_nothing_of_its_cover_lies_open() -> None:
    """The greater of the two least sizes holds."""
    assert dc_facts().subject("lamp-feed").least_area == pytest.approx(1.0 * MM2)


HOLDERS = [
    # limits of the holders of the main's fuse and the lamp's, class of the cable, 10 AWG by 33 CFR 183.425 Table 5
    ("75 °C", "~", "105 °C", 40.0),
    ("90 °C", "~", "105 °C", 55.0),
    ("90 °C", "75 °C", "105 °C", 40.0),
    ("75 °C", "90 °C", "105 °C", 40.0),
    ("125 °C", "~", "90 °C", 55.0),
    ("~", "~", "105 °C", None),
]


@pytest.mark.parametrize(("one", "other", "cable", "amperes"), HOLDERS)
def test_the_coolest_holder_decides_the_column(
    one: str, other: str, cable: str, amperes: float | None
) -> None:
    """Two batteries, each behind a fuse, meet on the cable: the least of both holders and of the insulation."""
    facts = dc_facts(
        f"""
        components:
          second: {{kind: battery, nominal_voltage: 12 V, short_circuit_current: 2 kA}}
          bar: {{kind: bus-bar, studs: 3}}
        runs:
          lamp-feed: {{from: bar/3, conductor: 10 AWG, insulation: {cable}}}
          main: {{to: bar/1, protection: [{{fuse: 20 A, holder_temperature: {one}}}]}}
          more: {{medium: dc, from: second/positive, to: bar/2, protection: [{{fuse: 20 A, holder_temperature: {other}}}]}}
        """
    )
    lamp = facts.subject("lamp-feed")
    assert lamp.protecting_devices == ("main/1", "more/1")
    assert lamp.holder_limited is (amperes is not None)
    if amperes is None:
        with pytest.raises(Missing) as absent:
            _ = lamp.ampacity_at_terminals
        assert absent.value.fields == ("main/1.holder_temperature", "more/1.holder_temperature")
    else:
        assert lamp.ampacity_at_terminals == amperes


@pytest.mark.parametrize(("engine", "amperes"), [("", 40.0), (", engine_space: true", 40 * 0.75)])
def test_the_engine_space_counts_at_a_holder_too(engine: str, amperes: float) -> None:
    """Table 5 note 1: 0.75 in the column of 75 °C."""
    box = "components: {box: {ways: {a: {holder_temperature: 75 °C}}}}"
    lamp = dc_facts(box, f"runs: {{lamp-feed: {{conductor: 10 AWG{engine}}}}}").subject("lamp-feed")
    assert lamp.ampacity_at_terminals == pytest.approx(amperes)


def test_a_holder_cooler_than_the_table() -> None:
    """Table 5 begins at 60 °C: nothing is known below, and that is said."""
    box = "components: {box: {ways: {a: {holder_temperature: 55 °C}}}}"
    lamp = dc_facts(box, "runs: {lamp-feed: {conductor: 10 AWG}}").subject("lamp-feed")
    with pytest.raises(Missing) as absent:
        _ = lamp.ampacity_at_terminals
    assert absent.value.reason.startswith("33 CFR 183.425 Table 5 begins at 60 °C insulation")


def test_panels_beside_a_battery_do_not_feed_alone() -> None:
    """A panel straight on the box: what its lead carries may come from the battery as well."""
    panel = """
    components: {panel: {kind: solar-panel, short_circuit_current: 9 A}}
    runs: {lead: {medium: dc, from: panel/leads, to: box/feed, return: same cable}}
    """
    assert dc_facts(panel).subject("lead").fed_by_panels is False
    assert dc_facts(panel, "runs: {main: ~, ground: ~}").subject("lead").fed_by_panels is True
    assert dc_facts(panel).subject("ground").fed_by_panels is False


@pytest.mark.parametrize(
    ("ends", "bonds"),
    [
        ("from: battery/negative, to: stud", True),
        ("from: stud, to: battery/negative", True),
        ("from: battery/negative, to: box/feed", False),
    ],
)
def test_what_bonds_the_body(ends: str, bonds: bool) -> None:
    """A run with a chassis point at either end."""
    facts = dc_facts(
        f"components: {{stud: {{kind: chassis-point}}}}\nruns: {{bond: {{medium: dc, {ends}, conductor: 10 mm²}}}}"
    )
    assert facts.subject("bond").bonds_chassis is bonds


def test_edges_that_cables_pass() -> None:
    """A route without a word on its edges, one with a grommet, one that is bare; a hose is no cable."""
    facts = dc_facts(
        """
        components: {tank: {kind: fresh-tank}, tap: {kind: tap}}
        runs:
          main: {route: [bulkhead]}
          lamp-feed: {route: [bulkhead, roof void], protection_at_edges: rubber grommets}
          pump-feed: {protection_at_edges: none}
          hose: {medium: water, from: tank/outlet, to: tap/cold, route: [bulkhead]}
        """
    )
    whole = facts.whole
    assert whole.cables_with_a_route == ("main", "lamp feed")
    assert whole.cables_silent_on_edges == ("main",)
    assert whole.cables_with_bare_edges == ("pump feed",)


PLACES = (
    "components: {box: {at: [1 m, 2 m, 3 m]}, lamp: {at: [3 m, 1.5 m, 0 m], size: [0.2 m, 0.2 m, 0.2 m]}}"
)


@pytest.mark.parametrize(("factor", "length"), [("", 1.2 * 5.4), ("defaults: {routing_factor: 2}", 2 * 5.4)])
def test_a_length_from_places(factor: str, length: float) -> None:
    """From (1, 2, 3) to the middle of the lamp at (3.1, 1.6, 0.1): 2.1 + 0.4 + 2.9 m along the axes, × 1.2 or as set."""
    facts = dc_facts(PLACES, "runs: {lamp-feed: {length: ~}}", *([factor] if factor else []))
    with facts.recording() as frame:
        assert facts.subject("lamp-feed").laid_length == pytest.approx(length)
    assert any("estimated from the places of its ends" in sentence for sentence in frame.assumptions)
    with facts.recording() as stated:
        assert dc_facts(PLACES).subject("lamp-feed").laid_length == 3.0
    assert not stated.assumptions


@pytest.mark.parametrize("unplaced", ["box", "lamp"])
def test_no_length_without_both_places(unplaced: str) -> None:
    """Half a way is none: the length is asked for."""
    facts = dc_facts(PLACES, f"components: {{{unplaced}: {{at: ~}}}}", "runs: {lamp-feed: {length: ~}}")
    with pytest.raises(Missing) as absent:
        _ = facts.subject("lamp-feed").laid_length
    assert absent.value.fields == ("lamp-feed.length",)


MAINS = """
components: {board: {kind: mains-board, ways: {a: {breaker: 16 A}}}, hob: {kind: mains-appliance}}
runs:
  hob-feed: {medium: ac, from: board/a, to: hob, conductor: 2.5 mm²%s}
"""


@pytest.mark.parametrize(("stated", "dc", "mains"), [("", 105, 75), ("insulation: 90 °C", 90, 90)])
def test_insulation_that_counts(stated: str, dc: float, mains: float) -> None:
    """What the cable states, else the workshop's standard for its circuit: 105 °C, on mains 75 °C."""
    facts = dc_facts(MAINS % f", {stated}", f"runs: {{lamp-feed: {{{stated}}}}}")
    assert facts.subject("lamp-feed").insulation_class == pytest.approx(dc + 273.15)
    assert facts.subject("hob-feed").insulation_class == pytest.approx(mains + 273.15)


@pytest.mark.parametrize(
    ("standard", "silent", "known"),
    [("insulation: 105 °C", "hob-feed", "lamp-feed"), ("mains_insulation: 75 °C", "lamp-feed", "hob-feed")],
)
def test_insulation_that_nobody_states(
    monkeypatch: pytest.MonkeyPatch, standard: str, silent: str, known: str
) -> None:
    """The standard of one circuit is none for the other: the cable's own class is asked for."""
    monkeypatch.setattr(building, "HEADER", building.HEADER.partition("defaults:")[0])
    facts = dc_facts(MAINS % "", f"defaults: {{{standard}}}")
    assert facts.subject(known).insulation_class > 273.15
    with pytest.raises(Missing) as absent:
        _ = facts.subject(silent).insulation_class
    assert absent.value.fields == (f"{silent}.insulation",)


LAID = [
    # 33 CFR 183.425 Table 5, 10 AWG at 105 °C: 60 A; notes 1 (engine space 0.85) and 2 (bundles, from 50 V);
    # what practice takes off beyond: bundles below 50 V likewise, other ambients by √((105 − T)/(105 − 30))
    ("", 60, 60),
    ("ambient: 30 °C", 60, 60),
    ("ambient: 86.25 °C", 60, 30),
    ("engine_space: true", 51, 51),
    ("engine_space: false", 60, 60),
    ("bundled_with: 2", 60, 60),
    ("bundled_with: 4", 60, 36),
    ("bundled_with: 25, ambient: 86.25 °C", 60, 12),
]


@pytest.mark.parametrize(("laid", "regulated", "practice"), LAID)
def test_ampacity_as_laid(laid: str, regulated: float, practice: float) -> None:
    """The regulation reduces a 12 V cable for the engine space only; practice for heat and bundles, too."""
    lamp = dc_facts(f"runs: {{lamp-feed: {{conductor: 10 AWG, {laid}}}}}").subject("lamp-feed")
    assert lamp.ampacity == pytest.approx(regulated)
    assert lamp.derated_ampacity == pytest.approx(practice)


@pytest.mark.parametrize(("bundled", "amperes"), [("", 20.0), (", bundled_with: 3", 14.0)])
def test_a_bundle_of_mains_cables_is_reduced_by_the_regulation(bundled: str, amperes: float) -> None:
    """2.5 mm² takes the row of 14 AWG (2.08 mm²), 20 A at 75 °C; three conductors of 230 V in a bundle, × 0.7."""
    hob = dc_facts(MAINS % bundled).subject("hob-feed")
    assert hob.ampacity == pytest.approx(amperes)


@pytest.mark.parametrize(
    ("size", "insulation", "row", "said"),
    [
        ("10 AWG", "105 °C", "10 AWG, 105 °C", ""),
        ("10 AWG", "110 °C", "10 AWG, 105 °C", "insulation of 110 °C judged by the 105 °C column"),
        ("6 mm²", "105 °C", "10 AWG, 105 °C", "6 mm² judged by the row of 10 AWG"),
    ],
)
def test_which_row_was_taken(size: str, insulation: str, row: str, said: str) -> None:
    """Between two rows or columns the lower one, which is said; of an exact hit nothing."""
    facts = dc_facts(f"runs: {{lamp-feed: {{conductor: {size}, insulation: {insulation}}}}}")
    with facts.recording() as frame:
        assert facts.subject("lamp-feed").ampacity == 60
    assert facts.subject("lamp-feed").ampacity_row == row
    assert [said in sentence for sentence in frame.assumptions] == ([True] if said else [])


def test_no_ampacity_outside_the_table() -> None:
    """0.5 mm² is less than 18 AWG: the table's own words say so."""
    with pytest.raises(Missing) as absent:
        _ = dc_facts("runs: {lamp-feed: {conductor: 0.5 mm²}}").subject("lamp-feed").ampacity
    assert absent.value.reason.startswith("33 CFR 183.425 Table 5 begins at 18 AWG")


def test_resistance_of_one_core_one_way() -> None:
    """13.3 mΩ/m of 1.5 mm² (IEC 60228 class 5) over 3 m, at 20 °C."""
    assert dc_facts().subject("lamp-feed").core_resistance == pytest.approx(3 * 13.3e-3)
