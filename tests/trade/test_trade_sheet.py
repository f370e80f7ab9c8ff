"""Which lines stand on a trade's sheet, with which limits, and when a test is due again."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from mains_van import SPEC, changed, pack, recorded, report

from specreg import workshop
from specreg.facts.recorded_tests import KNOWN
from specreg.report import Report
from specreg.trade.limits import Judges, limits_of, strictest
from specreg.trade.sheet import State, TradeSheet, trade_sheet, trade_sheets
from specreg.trade.tests import TESTS
from specreg.trade.trades import Trade, trade_of
from specreg.units import parse_any

BUILDS = Path(__file__).parents[2] / "builds"
VANS = ("fieldwork", "winter-tourer", "pocket", "second-hand")


@cache
def demo(name: str) -> Report:
    """The check of a demonstration van."""
    (build,) = workshop.load(BUILDS / name).sound
    return workshop.inspect(build, pack())


def sheet(of: Report, trade: Trade = Trade.electrician) -> TradeSheet:
    """A sheet that there must be."""
    found = trade_sheet(of, trade)
    assert found is not None
    return found


def lines(of: TradeSheet, test: str) -> list[str]:
    """The things on which a test is asked for."""
    return [line.thing.id for line in of.lines if line.test == test]


@pytest.mark.parametrize(
    ("van", "trade", "test", "things"),
    [
        ("fieldwork", "electrician", "polarity", ["work-socket", "bed-socket"]),
        ("fieldwork", "electrician", "residual-current-trip-time", ["inlet-board", "mains-board"]),
        (
            "fieldwork",
            "electrician",
            "insulation-resistance",
            ["mains", "inlet-board/inverter", "inlet-board/water-heater", "mains-board/sockets"],
        ),
        ("fieldwork", "electrician", "dielectric", []),
        ("fieldwork", "gas-engineer", "gas-tightness", ["gas"]),
        ("fieldwork", "gas-engineer", "gas-lock-up", ["gas-regulator"]),
        ("fieldwork", "gas-engineer", "carbon-monoxide", ["hob"]),
        ("fieldwork", "examiner", "carbon-monoxide", ["air-heater"]),
        ("fieldwork", "examiner", "alarm", ["co-alarm", "smoke-alarm", "gas-alarm"]),
        ("winter-tourer", "electrician", "polarity", ["galley-socket", "bed-socket"]),
        (
            "winter-tourer",
            "electrician",
            "residual-current-trip-time",
            ["galley-socket", "bed-socket", "mains-board/2", "mains-board/3"],
        ),
        (
            "winter-tourer",
            "electrician",
            "insulation-resistance",
            ["mains", "mains-board/1", "mains-board/2", "mains-board/3", "shore-breaker"],
        ),
        ("winter-tourer", "electrician", "dielectric", ["mains"]),
        ("winter-tourer", "seat-fitter", "anchorage-torque", ["left-seat-anchorage", "right-seat-anchorage"]),
        ("winter-tourer", "examiner", "carbon-monoxide", ["heater"]),
    ],
)
def test_lines_of_the_demonstration_vans(van: str, trade: str, test: str, things: list[str]) -> None:
    """Every circuit, outlet, device, gas appliance and anchorage of the van has its line, nothing else has."""
    assert sorted(lines(sheet(demo(van), Trade(trade)), test)) == sorted(things)


@pytest.mark.parametrize(
    ("van", "trades"),
    [
        ("fieldwork", ["electrician", "gas-engineer", "seat-fitter", "examiner"]),
        ("winter-tourer", ["electrician", "seat-fitter", "examiner"]),
        ("pocket", ["electrician", "examiner"]),
    ],
)
def test_no_sheet_without_something_fitted(van: str, trades: list[str]) -> None:
    """A van without gas has no sheet for a gas engineer."""
    assert [one.trade.value for one in trade_sheets(demo(van))] == trades


def test_every_fitted_thing_of_gas_is_on_the_engineers_sheet() -> None:
    """Cylinder, locker, regulator, hose, shut-off, drop-out, appliance; a rigid pipe is no thing to renew."""
    found = {one.id for one in sheet(demo("fieldwork"), Trade.gas_engineer).fitted}
    assert found == {
        *(
            "gas-cylinder",
            "gas-locker",
            "gas-regulator",
            "cylinder-hose",
            "hob-valve",
            "galley-drop-out",
            "hob",
        ),
    }


REMOVED = (
    ("  bed-socket: {kind: socket, rated_current: 13 A, earth_contact: true}\n", ""),
    (
        "  socket-loop: {medium: ac, from: galley-socket/loop, to: bed-socket/mains, conductor: 1.5 mm², length: 3 m}\n",
        "",
    ),
)


def test_a_socket_taken_out_takes_its_lines() -> None:
    """No line speaks of it any more, and the others stay."""
    before, after = sheet(report()), sheet(report(changed(*REMOVED)))
    gone = [(line.test, line.thing.id) for line in before.lines if line.thing.id == "bed-socket"]
    assert gone == [("earth-continuity", "bed-socket"), ("polarity", "bed-socket")]
    kept = [(line.test, line.thing.id) for line in before.lines if line.thing.id != "bed-socket"]
    assert [(line.test, line.thing.id) for line in after.lines] == kept


def test_a_circuit_added_adds_its_line() -> None:
    """A way with something on it is a circuit; a spare way is none."""
    spare = (
        "kettle: {breaker: 10 A, poles: 2}}",
        "kettle: {breaker: 10 A, poles: 2}, fan: {breaker: 6 A, poles: 2}}",
    )
    fed = (
        "runs:\n",
        "  fan: {kind: mains-appliance, mains_power: 40 W}\nruns:\n  fan-feed: {medium: ac, from: board/fan, to: fan, length: 1 m}\n",
    )
    circuits = ["mains", "board/sockets", "board/kettle"]
    assert lines(sheet(report()), "insulation-resistance") == circuits
    assert lines(sheet(report(changed(spare))), "insulation-resistance") == circuits
    assert lines(sheet(report(changed(spare, fed))), "insulation-resistance") == [*circuits, "board/fan"]


def test_an_insulated_or_plugged_appliance_has_no_earth_to_test() -> None:
    """Class II and plugged things are left out of the continuity test."""
    assert "kettle" in lines(sheet(report()), "earth-continuity")
    for more in ("protection_class: II", "plugged: true"):
        text = changed(("mains_power: 1.1 kW", f"mains_power: 1.1 kW, {more}"))
        assert "kettle" not in lines(sheet(report(text)), "earth-continuity")


@pytest.mark.parametrize("van", VANS)
def test_a_limit_on_a_sheet_is_the_rules(van: str) -> None:
    """Law over all lines and matters: the figure is that of the rule's own front matter for the place."""
    of, checked = demo(van), 0
    held = [word.value for word in of.build.header.jurisdictions]
    for one in trade_sheets(of):
        found = [line.limit for line in one.lines if line.limit]
        found += [limit for matter in one.matters for limit in matter.limits]
        for limit in found:
            written = of.rules[limit.rule].header.limits[limit.name]
            stated = {written.get(where, written.get("any")) for where in held}
            meant = [parse_any(value)[0] if isinstance(value, str) else float(value or 0) for value in stated]
            assert limit.value in meant
            checked += 1
    assert checked >= 3


def test_where_several_places_hold_the_strictest_limit_counts() -> None:
    """In the United Kingdom and Australia together no fall of pressure is allowed."""
    rule = Judges(pack()).of_test("gas-tightness")
    assert rule is not None
    both = report(changed(("jurisdictions: [uk]", "jurisdictions: [uk, au]"))).build
    alone = report().build
    found = [strictest(rule, build) for build in (alone, both)]
    assert [limit.value for limit in found if limit] == [1000.0, 0.0]
    assert [limit.bound for limit in found if limit] == ["<=", "<="]


def test_every_known_test_is_some_trades() -> None:
    """A test that the register knows stands on a sheet, and a sheet knows no other."""
    assert {test.name for test in TESTS} == set(KNOWN)


def test_every_matter_to_decide_has_a_trade() -> None:
    """What a rule leaves to a person is on somebody's sheet, unless it is the workshop's own to ask."""
    words = {rule.header.decides for rule in pack().rules if rule.header.decides}
    nobodys = {word for word in words if trade_of(word) is None}
    assert all("workshop" in word for word in nobodys)
    assert {trade_of(word) for word in words - nobodys} == set(Trade)


@pytest.mark.parametrize("name", sorted(name for name, test in KNOWN.items() if test.dimension and test.fact))
def test_a_reading_that_rules_read_has_a_bounded_limit(name: str) -> None:
    """The sheet can say `at least` or `at most`, from the rule that judges the record."""
    rule = Judges(pack()).of_test(name)
    assert rule is not None
    limit = strictest(rule, report().build)
    assert limit is not None and limit.bound is not None and limit.dimension is KNOWN[name].dimension
    assert [one.bound for one in limits_of(rule, "uk")] == [limit.bound]


def states(text: str) -> dict[tuple[str, str], State]:
    """How it stands with each line of the electrician's sheet."""
    return {(line.test, line.thing.id): line.state for line in sheet(report(text)).lines}


def covered() -> tuple[str, ...]:
    """A record for every line of the electrician's sheet, each with what it covers."""
    return tuple(
        f"{{test: {line.test}, on: {line.thing.id}, result: within the limit, date: 2026-04-28, covers: {line.mark}}}"
        for line in sheet(report()).lines
        if line.mark
    )


@pytest.mark.parametrize(
    ("change", "again"),
    [
        (("from: board/kettle, to: kettle, conductor: 1.5 mm²", "from: board/kettle, to: kettle, conductor: 2.5 mm²"),
         {("insulation-resistance", "board/kettle"), ("earth-continuity", "kettle")}),
        (("residual_current: 30 mA, residual_type: A", "residual_current: 30 mA, residual_type: B"),
         {("residual-current-trip-time", "board")}),
        (("bonds: [body]", "bonds: [body, sink]"), {("earth-continuity", "bond")}),
        (("to: bed-socket/mains, conductor: 1.5 mm²", "to: bed-socket/mains, conductor: 2.5 mm²"),
         {("insulation-resistance", "board/sockets"), ("earth-continuity", "bed-socket"), ("polarity", "bed-socket")}),
        (("outlet_pressure: 30 mbar", "outlet_pressure: 37 mbar"), set()),
        (("galley-socket: {kind: socket,", "galley-socket: {kind: socket, label: Galley,"), set()),
    ],
)  # fmt: skip
def test_a_change_shows_exactly_the_lines_to_test_again(
    change: tuple[str, str], again: set[tuple[str, str]]
) -> None:
    """A record covers what it was made on: only what has changed is due again, and the mains as a whole."""
    whole = {(line.test, line.thing.id) for line in sheet(report()).lines if line.thing.system == "mains"}
    before = recorded(*covered())
    assert set(states(before).values()) <= {State.done, State.to_do}
    assert change[0] in before
    after = states(before.replace(*change))
    assert {line for line, state in after.items() if state is State.again} - whole == again


def test_a_record_without_what_it_covers_cannot_go_stale() -> None:
    """It stays what it was; the sheet does not guess."""
    text = recorded("{test: polarity, on: bed-socket, result: within the limit, date: 2026-04-28}")
    assert states(text)["polarity", "bed-socket"] is State.done


@pytest.mark.parametrize(
    ("records", "state", "wider"),
    [
        (["{test: polarity, on: mains, date: 2026-04-28}"], State.done, True),
        (["{test: polarity, on: mains, date: 2026-04-30}", "{test: polarity, on: bed-socket, date: 2026-04-28}"],
         State.done, False),
        (["{test: polarity, on: bed-socket, result: outside the limit, date: 2026-04-28}"], State.outside, False),
        (["{test: polarity, on: bed-socket, result: outside the limit, date: 2026-04-28}",
          "{test: polarity, on: bed-socket, result: within the limit, date: 2026-04-28}"], State.done, False),
        (["{test: Polarity, on: bed-socket, date: 2026-04-28}"], State.done, False),
        (["{test: polarity, on: galley-socket, date: 2026-04-28}"], State.to_do, False),
    ],
)  # fmt: skip
def test_the_record_that_counts(records: list[str], state: State, wider: bool) -> None:
    """The latest on the thing itself, else one on its box or system; of two on a day the later line."""
    line = next(
        one
        for one in sheet(report(recorded(*records))).lines
        if (one.test, one.thing.id) == ("polarity", "bed-socket")
    )
    assert (line.state, line.wider) == (state, wider)


def test_the_spec_of_these_tests_has_every_trade_but_the_seat_fitter() -> None:
    """The small van is what the other tests take it for."""
    assert [one.trade.value for one in trade_sheets(report(SPEC))] == [
        "electrician",
        "gas-engineer",
        "examiner",
    ]
