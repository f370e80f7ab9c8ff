"""What the records lack: declarations, counts, tests, sign-offs, concessions, days."""

from datetime import date

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.declared_systems import SIGNS
from specreg.facts.engine import Facts, Subject
from specreg.facts.missing import Missing
from specreg.facts.recorded_tests import KNOWN
from specreg.model.build import SYSTEMS


def van(text: str) -> Subject:
    """The whole of a small van."""
    return Facts(build(text)).whole


def test_every_system_has_its_signs() -> None:
    """Each system that a spec declares can be recognised by what is fitted."""
    assert set(SIGNS) == set(SYSTEMS)


@pytest.mark.parametrize(
    ("component", "system"),
    [
        ("kind: battery", "dc"),
        ("kind: solar-panel", "solar"),
        ("kind: shore-inlet", "mains"),
        ("kind: fresh-tank", "water"),
        ("kind: grey-tank", "grey-water"),
        ("kind: cassette", "black-water"),
        ("kind: toilet, form: composting", "black-water"),
        ("kind: gas-cylinder", "gas"),
        ("kind: portable-stove", "combustion"),
        ("kind: hob, burns: propane", "combustion"),
        ("kind: seat, belts: [three-point]", "travel-seats"),
        ("kind: bed", "beds"),
    ],
)
def test_a_component_shows_its_system(component: str, system: str) -> None:
    """Declared absent, the component contradicts; undeclared, the system is recognised."""
    text = f"components: {{thing: {{{component}}}}}\nsystems: {{none: [{system}]}}"
    whole = van(text)
    assert whole.fitted_systems == (system,)
    assert whole.fitted_though_declared_absent == ("thing",)
    assert set(whole.undeclared_systems) == set(SYSTEMS) - {system}


@pytest.mark.parametrize("component", ["kind: seat, belts: [none]", "kind: sink", "kind: notice"])
def test_a_component_that_shows_nothing(component: str) -> None:
    """A seat without belts is no travel seat, and a sink alone no water."""
    assert van(f"components: {{thing: {{{component}}}}}").fitted_systems == ()


@given(st.sets(st.sampled_from(SYSTEMS)), st.sets(st.sampled_from(SYSTEMS)))
def test_declarations_part_the_systems(present: set[str], absent: set[str]) -> None:
    """Declared systems and undeclared ones are all there are; those in both lists are said to be."""
    said = f"systems: {{present: [{', '.join(sorted(present))}], none: [{', '.join(sorted(absent))}]}}"
    whole = van(said)
    assert set(whole.undeclared_systems) == set(SYSTEMS) - present - absent
    assert set(whole.doubly_declared_systems) == present & absent
    assert set(whole.present_but_unspecified) == present


WALKED = """
components:
  box: {{kind: fuse-box, ways: {{1: {{fuse: 10 A}}, 2: {{fuse: 5 A}}}}}}
  alarm: {{kind: smoke-alarm}}
  lamps: {{kind: ceiling-light, count: 4}}
records: {{walk_round: {{counts: {{{0}}}}}}}
"""


@pytest.mark.parametrize(
    ("counts", "different", "uncounted"),
    [
        ("devices: 2, smoke-alarm: 1", (), ()),
        ("devices: 3, smoke-alarm: 1", ("devices",), ()),
        ("devices: 2", (), ("smoke-alarm",)),
        ("smoke-alarm: 1, ceiling-light: 4", (), ("devices",)),
        ("devices: 2, smoke-alarm: 1, ceiling-light: 1", ("ceiling-light",), ()),
        ("devices: 2, smoke-alarm: 1, socket: 1", ("socket",), ()),
    ],
)
def test_walk_round(counts: str, different: tuple[str, ...], uncounted: tuple[str, ...]) -> None:
    """Counts are compared with the spec, things alike counted one by one."""
    whole = van(WALKED.format(counts))
    assert tuple(item.name for item in whole.walk_round_differences) == different
    assert whole.walk_round_uncounted == uncounted


def test_without_a_walk_round_nothing_agrees() -> None:
    """No walk-round is no agreement."""
    with pytest.raises(Missing) as caught:
        _ = van("components: {alarm: {kind: smoke-alarm}}").walk_round_differences
    assert caught.value.fields == ("records.walk_round",)


def recorded(*records: str) -> Subject:
    """A van with recorded tests."""
    return van("records:\n  tests:\n" + "\n".join(f"    - {{{record}}}" for record in records))


@pytest.mark.parametrize(
    ("fact", "records", "value"),
    [
        ("recorded_insulation_resistance", ["test: insulation-resistance, value: 2.4 MΩ"], 2.4e6),
        ("recorded_insulation_resistance", ["test: insulation-resistance, value: '> 200 MΩ'"], 200e6),
        (
            "recorded_insulation_resistance",
            [
                "test: insulation-resistance, on: a, value: 2 MΩ",
                "test: insulation-resistance, on: b, value: 1 MΩ",
            ],
            1e6,
        ),
        (
            "recorded_earth_continuity",
            ["test: earth-continuity, on: a, value: 0.1 Ω", "test: earth-continuity, on: b, value: 0.3 Ω"],
            0.3,
        ),
        ("recorded_trip_time", ["test: residual-current-trip-time, value: 28 ms"], 0.028),
        ("recorded_trip_time", ["test: residual-current-trip-time, value: '< 40 ms'"], 0.040),
        ("recorded_trip_time", ["test: residual-current-trip-time, value: ≤ 40 ms"], 0.040),
        ("recorded_insulation_resistance", ["test: insulation-resistance, value: ≥ 200 MΩ"], 200e6),
        ("recorded_trip_time", ["test: residual-current-trip-time, value: '> 2 s'"], 2.0),
        ("recorded_trip_time_known", ["test: residual-current-trip-time, value: '< 40 ms'"], True),
        ("recorded_insulation_resistance_known", ["test: insulation-resistance, value: ≥ 200 MΩ"], True),
        ("recorded_water_hold_known", ["test: water-hold"], True),
        ("recorded_body_voltage", ["test: body-voltage, value: 0 V"], 0.0),
        ("recorded_gas_drop", ["test: Gas tightness, value: 2 mbar"], 200.0),
        ("recorded_water_hold", ["test: water-hold, value: 30 min"], 1800.0),
        # A test that was repeated counts by its latest record.
        (
            "recorded_water_hold",
            [
                "test: water-hold, value: 40 min, date: 2026-04-02",
                "test: water-hold, value: 5 min, date: 2026-04-01",
            ],
            2400.0,
        ),
        # Of two on one day the one that was written later, of one without a day the other.
        (
            "recorded_water_hold",
            [
                "test: water-hold, value: 40 min, date: 2026-04-01",
                "test: water-hold, value: 5 min, date: 2026-04-01",
            ],
            300.0,
        ),
        (
            "recorded_water_hold",
            ["test: water-hold, value: 40 min, date: 2026-04-01", "test: water-hold, value: 5 min"],
            2400.0,
        ),
        (
            "recorded_water_hold",
            ["test: water-hold, value: 5 min", "test: water-hold, value: 40 min, date: 2026-04-01"],
            2400.0,
        ),
        # Each thing by itself, whichever was tested first.
        (
            "recorded_insulation_resistance",
            [
                "test: insulation-resistance, on: a, value: 1 MΩ",
                "test: insulation-resistance, on: b, value: 2 MΩ",
            ],
            1e6,
        ),
        (
            "recorded_water_hold",
            [
                "test: water-hold, value: 40 min, date: 2026-04-02",
                "test: water-hold, on: '', value: 5 min, date: 2026-04-01",
            ],
            2400.0,
        ),
        ("recorded_lock_up", ["test: gas-lock-up, value: 34 mbar"], 3400.0),
        (
            "gas_test_pressure",
            [
                "test: gas-tightness, on: a, pressure: 150 mbar",
                "test: gas-tightness, on: b, pressure: 140 mbar",
                "test: gas-tightness, on: c, pressure: 145 mbar",
            ],
            14000.0,
        ),
        (
            "gas_test_time",
            [
                "test: gas-tightness, on: a, held: 5 min",
                "test: gas-tightness, on: b, held: 4 min",
                "test: gas-tightness, on: c, held: 6 min",
            ],
            240.0,
        ),
        (
            "recorded_polarity",
            [
                "test: polarity, on: a, result: within the limit, date: 2026-04-01",
                "test: polarity, on: b, result: within the limit, date: 2026-04-02",
                "test: polarity, on: c, result: within the limit, date: 2026-03-31",
            ],
            date(2026, 4, 2),
        ),
        *(
            (name, [f"test: {test}, result: within the limit, date: 2026-04-02"], date(2026, 4, 2))
            for name, test in (
                ("recorded_polarity", "polarity"),
                ("recorded_bond_test", "neutral-earth-bond"),
                ("recorded_alarm_test", "alarm"),
                ("recorded_drain_test", "waste-drain"),
                ("recorded_sanitising", "sanitising"),
            )
        ),
    ],
)
def test_readings(fact: str, records: list[str], value: object) -> None:
    """Readings are read with their units; the worst one counts."""
    found = getattr(recorded(*records), fact)
    assert found == (pytest.approx(value) if isinstance(value, float) else value)


@pytest.mark.parametrize(
    ("fact", "records", "fields"),
    [
        ("recorded_water_hold", ["test: polarity"], ("records.tests.water-hold",)),
        ("recorded_water_hold", ["test: water-hold"], ("records.tests.water-hold.value",)),
        ("recorded_water_hold", ["test: water-hold, value: long"], ("records.tests.water-hold.value",)),
        ("recorded_water_hold", ["test: water-hold, value: 3 bar"], ("records.tests.water-hold.value",)),
        # A device that had not tripped when the instrument gave up has no time; nor is "less than" a least.
        (
            "recorded_trip_time_known",
            ["test: residual-current-trip-time, value: ' > 300 ms'"],
            ("records.tests.residual-current-trip-time.value",),
        ),
        (
            "recorded_earth_continuity_known",
            ["test: earth-continuity, on: a, value: 0.1 Ω", "test: earth-continuity, on: b, value: ≥ 2 Ω"],
            ("records.tests.earth-continuity.value",),
        ),
        (
            "recorded_insulation_resistance_known",
            ["test: insulation-resistance, value: '< 1 MΩ'"],
            ("records.tests.insulation-resistance.value",),
        ),
        (
            "recorded_insulation_resistance_known",
            ["test: insulation-resistance, value: ≤ 1 MΩ"],
            ("records.tests.insulation-resistance.value",),
        ),
        ("recorded_polarity", ["test: polarity, date: 2026-04-02"], ("records.tests.polarity.result",)),
        ("recorded_polarity", ["test: polarity, result: within the limit"], ("records.tests.polarity.date",)),
        ("recorded_polarity", ["test: polarity, result: outside the limit, date: 2026-04-02"], ()),
    ],
)
def test_unusable_readings(fact: str, records: list[str], fields: tuple[str, ...]) -> None:
    """A reading that is absent, or in another unit, decides nothing."""
    with pytest.raises(Missing) as caught:
        getattr(recorded(*records), fact)
    assert caught.value.fields == fields


def test_why_a_reading_decides_nothing() -> None:
    """One that is absent is asked for; one that is no reading, or has no end that counts, says why."""
    told = {}
    for fact, value in (("", ""), ("", ", value: long"), ("_known", ", value: '> 300 ms'")):
        with pytest.raises(Missing) as caught:
            getattr(recorded(f"test: residual-current-trip-time{value}"), f"recorded_trip_time{fact}")
        told[value] = caught.value.reason
    assert list(told.values()) == [
        "",
        "the reading: long does not begin with a number",
        "the reading > 300 ms does not say how far beyond it is",
    ]


@pytest.mark.parametrize(
    ("fact", "test", "unit", "settled", "open_end"),
    [
        ("recorded_insulation_resistance", "insulation-resistance", "Ω", "≥", "≤"),
        ("recorded_earth_continuity", "earth-continuity", "Ω", "≤", "≥"),
        ("recorded_trip_time", "residual-current-trip-time", "s", "≤", "≥"),
        ("recorded_body_voltage", "body-voltage", "V", "≤", "≥"),
        ("recorded_gas_drop", "gas-tightness", "Pa", "≤", "≥"),
        ("recorded_lock_up", "gas-lock-up", "Pa", "≤", "≥"),
        ("recorded_water_hold", "water-hold", "s", "≥", "≤"),
    ],
)
def test_the_end_that_counts(fact: str, test: str, unit: str, settled: str, open_end: str) -> None:
    """A reading has its number whatever sign it has; how much it was is known unless that end is left open."""
    for sign, known in (("", True), (settled, True), (open_end, False)):
        whole = recorded(f"test: {test}, value: '{sign} 7 {unit}'")
        assert getattr(whole, fact) == 7
        if known:
            assert getattr(whole, f"{fact}_known") is True
        else:
            with pytest.raises(Missing) as caught:
                getattr(whole, f"{fact}_known")
            assert caught.value.fields == (f"records.tests.{test}.value",)


PART = ["test: polarity, on: a, date: 2026-04-02", "test: polarity, on: b, result: within the limit"]


@pytest.mark.parametrize(
    ("fact", "records", "fields"),
    [
        (
            "recorded_water_hold",
            ["test: water-hold, on: a, value: 5 min", "test: water-hold, on: b"],
            ("records.tests.water-hold.value",),
        ),
        (
            "gas_test_pressure",
            ["test: gas-tightness, on: a, pressure: 150 mbar", "test: gas-tightness, on: b"],
            ("records.tests.gas-tightness.pressure",),
        ),
        ("recorded_polarity", PART, ("records.tests.polarity.result",)),
        (
            "recorded_polarity",
            [PART[1], "test: polarity, on: c, result: within the limit, date: 2026-04-01"],
            ("records.tests.polarity.date",),
        ),
        (
            "recorded_polarity",
            ["test: polarity, on: d, result: outside the limit", *PART],
            (),
        ),
        (
            "terminal_torque_right",
            [
                "test: terminal-torque, on: a, result: within the limit",
                "test: terminal-torque, on: b",
            ],
            ("records.tests.terminal-torque.result",),
        ),
        ("terminal_torque_right", ["test: polarity"], ("records.tests.terminal-torque",)),
    ],
)
def test_one_record_that_lacks_something_decides_for_none(
    fact: str, records: list[str], fields: tuple[str, ...]
) -> None:
    """What was tested twice is known when both records are whole; a failure comes before what is lacking."""
    with pytest.raises(Missing) as caught:
        getattr(recorded(*records), fact)
    assert caught.value.fields == fields


@pytest.mark.parametrize(
    ("results", "right"),
    [
        (["within the limit"], True),
        (["within the limit", "within the limit"], True),
        (["within the limit", "outside the limit"], False),
        (["outside the limit"], False),
    ],
)
def test_terminals_are_right_where_all_are(results: list[str], right: bool) -> None:
    """One terminal that was found loose is enough; it is listed with its place."""
    records = [f"test: terminal-torque, on: t{n}, result: {result}" for n, result in enumerate(results)]
    whole = recorded(*records)
    assert whole.terminal_torque_right is right
    outside = [f"terminal-torque on t{n}" for n, result in enumerate(results) if result[0] == "o"]
    assert whole.tests_outside_limit == tuple(outside)


@pytest.mark.parametrize(
    ("components", "there"), [("battery: {kind: battery}", True), ("alarm: {kind: smoke-alarm}", False)]
)
def test_whether_there_is_a_battery(components: str, there: bool) -> None:
    """Without one there are no terminals to be tightened."""
    assert van(f"components: {{{components}}}").has_battery is there


@pytest.mark.parametrize("name", sorted(KNOWN))
def test_known_names_are_known(name: str) -> None:
    """Each name of the table is recognised, in words as well, and a slip of the pen is not."""
    assert recorded(f"test: {name}").unknown_tests == ()
    assert recorded(f"test: {name.replace('-', ' ')}").unknown_tests == ()
    assert recorded(f"test: {name}x").unknown_tests == (f"{name}x",)


FULL = (
    "test: water-hold, value: 30 min, instrument: gauge 1, calibrated_on: 2026-01-01,"
    " result: within the limit, by: workshop, date: 2026-04-01"
)


@pytest.mark.parametrize(
    ("record", "lacks"),
    [
        (FULL, ()),
        (FULL.replace(" by: workshop,", ""), ("water-hold (by)",)),
        (FULL.replace("value: 30 min, instrument: gauge 1, ", ""), ("water-hold (value, instrument)",)),
        ("test: road-test, result: within the limit, by: workshop, date: 2026-04-01", ()),
        ("test: road-test, on: van", ("road-test on van (result, by, date)",)),
        ("test: rattle", ("rattle (result, by, date)",)),
        ("test: water-hold", ("water-hold (value, instrument, calibrated_on, result, by, date)",)),
    ],
)
def test_incomplete_tests(record: str, lacks: tuple[str, ...]) -> None:
    """A record says what was read with what by whom and when; a look needs no instrument."""
    assert recorded(record).incomplete_tests == lacks


@pytest.mark.parametrize(
    ("calibrated", "too_old"),
    [("2026-04-01", False), ("2025-03-31", False), ("2025-03-30", True), ("2026-04-02", True)],
)
def test_calibration(calibrated: str, too_old: bool) -> None:
    """An instrument was calibrated within the year before, and not after, the test."""
    found = recorded(FULL.replace("2026-01-01", calibrated)).tests_out_of_calibration
    assert found == (("water-hold",) if too_old else ())


@pytest.mark.parametrize(
    ("day", "expired"), [("2026-04-30", ("gas/x",)), ("2026-05-01", ()), ("2026-05-02", ())]
)
def test_expiry_of_sign_offs_and_concessions(day: str, expired: tuple[str, ...]) -> None:
    """The last day counts in; judged on 1 May 2026."""
    whole = van(
        f"records: {{sign_offs: [{{matter: gas/x, expires_on: {day}}}]}}\n"
        f"concessions: [{{rule: gas/x, reason: a part is late, granted_by: lead, until: {day}}}]"
    )
    assert whole.expired_sign_offs == expired
    assert whole.expired_concessions == expired


def test_calibration_is_judged_where_both_days_are_written() -> None:
    """A day that is absent is told by what is incomplete, not by what is too old."""
    undated = FULL.replace(", date: 2026-04-01", "").replace("2026-01-01", "2024-01-01")
    assert recorded(undated).tests_out_of_calibration == ()
    assert recorded(FULL.replace(" calibrated_on: 2026-01-01,", "")).tests_out_of_calibration == ()


def test_a_later_sign_off_replaces_an_expired_one() -> None:
    """Only the latest record of a matter can be expired."""
    whole = van(
        "records: {sign_offs: ["
        "{matter: gas/x, date: 2026-01-01, expires_on: 2026-02-01},"
        "{matter: gas/x, date: 2026-03-01, expires_on: 2027-02-01}]}"
    )
    assert whole.expired_sign_offs == ()


@pytest.mark.parametrize(
    ("kind", "traced", "manual"),
    [
        ("battery", True, True),
        ("smoke-alarm", True, True),
        ("extinguisher", True, True),
        ("seat", True, False),
        ("hob", True, True),
        ("water-heater", True, True),
        ("pump", False, True),
        ("ceiling-light", False, False),
        ("sink", False, False),
    ],
)
def test_what_wants_a_serial_and_a_manual(kind: str, traced: bool, manual: bool) -> None:
    """What burns, stores energy, warns or holds people is traced; appliances have manuals."""
    thing = van(f"components: {{thing: {{kind: {kind}}}}}").van.subject("thing")
    assert (thing.traced_by_serial, thing.comes_with_manual) == (traced, manual)


def test_what_a_hand_over_lacks_shrinks() -> None:
    """Each item that is recorded leaves the list."""
    bare = van("{}").hand_over_lacks
    better = van("revision: A\nrecords: {walk_round: {counts: {devices: 0}}}").hand_over_lacks
    assert set(bare) - set(better) == {"the counted walk-round", "the revision of the as-built spec"}
