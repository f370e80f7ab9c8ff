"""Tests recorded with their readings: what was measured, within which limit, and what a record lacks.

A test that was repeated counts by its latest record of the same thing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import partial
from typing import Literal

from specreg.facts.engine import Subject
from specreg.facts.missing import Missing
from specreg.facts.registry import fact
from specreg.facts.value_type import DATE, TRUTH, list_of, number, text
from specreg.model.build import Header
from specreg.model.records import Test
from specreg.units import Dimension, NotAQuantity, parse

RECORD = "the readings recorded under `records: tests:`"


@dataclass(frozen=True)
class KnownTest:
    """A test that the register knows: what its reading measures, and which end of several readings counts.

    `fact` is the fact through which rules read its records; empty where no rule judges them.
    """

    name: str
    dimension: Dimension | None
    worst: Literal["least", "greatest"] = "least"
    fact: str = ""


KNOWN = {
    test.name: test
    for test in (
        KnownTest("insulation-resistance", Dimension.resistance, fact="recorded_insulation_resistance"),
        KnownTest("earth-continuity", Dimension.resistance, "greatest", fact="recorded_earth_continuity"),
        KnownTest("residual-current-trip-time", Dimension.time, "greatest", fact="recorded_trip_time"),
        KnownTest("dielectric", None),
        KnownTest("polarity", None, fact="polarity_right"),
        KnownTest("body-voltage", Dimension.voltage, "greatest", fact="recorded_body_voltage"),
        KnownTest("neutral-earth-bond", None, fact="recorded_bond_test"),
        KnownTest("gas-tightness", Dimension.pressure, "greatest", fact="recorded_gas_drop"),
        KnownTest("gas-lock-up", Dimension.pressure, "greatest", fact="recorded_lock_up"),
        KnownTest("carbon-monoxide", Dimension.fraction_of_air, "greatest"),
        KnownTest("alarm", None, fact="recorded_alarm_test"),
        KnownTest("water-hold", Dimension.time, fact="recorded_water_hold"),
        KnownTest("waste-drain", None, fact="recorded_drain_test"),
        KnownTest("sanitising", None, fact="recorded_sanitising"),
        KnownTest("voltage-drop", Dimension.voltage, "greatest"),
        KnownTest("terminal-torque", None, fact="terminal_torque_right"),
        KnownTest("thermal", Dimension.temperature_difference, "greatest"),
        KnownTest("battery-settings", None),
        KnownTest("anchorage-torque", Dimension.torque),
        KnownTest("rain", None),
        KnownTest("road-test", None),
    )
}
"""Tests of the commissioning sheet by the name that a record gives them."""


def _name(test: Test) -> str:
    """Return the name of a test as the register writes it: people write capitals and spaces, too."""
    return test.test.strip().lower().replace(" ", "-")


def latest(build: Subject) -> tuple[Test, ...]:
    """Return the tests that count: of each name and thing the last record."""
    found: dict[tuple[str, str], Test] = {}
    for test in build.van.build.header.records.tests:
        key = (_name(test), test.on or "")
        if key not in found or (test.date or date.min) >= (found[key].date or date.min):
            found[key] = test
    return tuple(found.values())


def _named(build: Subject, name: str) -> tuple[Test, ...]:
    found = tuple(test for test in latest(build) if _name(test) == name)
    if not found:
        raise Missing(f"records.tests.{name}")
    return found


def reading(build: Subject, name: str) -> float:
    """Return the worst recorded reading of a known test in SI; raises Missing where one is absent.

    Of one with a sign (`> 2 s`) it is the number: a limit that this breaks is broken. Whether one that it
    keeps is kept, `bounded` tells.
    """
    known = KNOWN[name]
    assert known.dimension is not None
    tests = _named(build, name)
    written = [test.value for test in tests if test.value is not None]
    if len(written) < len(tests):
        raise Missing(f"records.tests.{name}.value")
    try:
        values = [reading_in(value, known.dimension) for value in written]
    except NotAQuantity as problem:
        raise Missing(f"records.tests.{name}.value", reason=f"the reading: {problem.reason}") from None
    return min(values) if known.worst == "least" else max(values)


def bounded(build: Subject, name: str) -> bool:
    """Tell that no reading of a test leaves open the end that counts; raises Missing where one does."""
    for test in _named(build, name):
        if test.value is not None and leaves_open(test.value, KNOWN[name].worst):
            reason = f"the reading {test.value.strip()} does not say how far beyond it is"
            raise Missing(f"records.tests.{name}.value", reason=reason)
    return True


def _stated(build: Subject, name: str, field: str) -> list[float]:
    """Return a figure of how a test was done, of each record; raises Missing where one is absent."""
    found = [getattr(test, field) for test in _named(build, name)]
    if any(value is None for value in found):
        raise Missing(f"records.tests.{name}.{field}")
    return [float(value) for value in found]


def reading_in(value: str, dimension: Dimension) -> float:
    """Return a reading in SI, without the sign that says it was beyond the instrument's range.

    Raises NotAQuantity where it is none.
    """
    return parse(value.strip().lstrip("><≥≤").strip(), dimension)


def leaves_open(value: str, worst: Literal["least", "greatest"]) -> bool:
    """Tell whether the sign of a reading leaves open the end that counts: `> 300 ms` is no greatest time."""
    return value.strip().startswith(("<", "≤") if worst == "least" else (">", "≥"))


def all_within_limit(build: Subject, name: str) -> bool:
    """Tell whether the last records of a test are all within the limit; raises Missing without a result."""
    tests = _named(build, name)
    if any(test.result is None for test in tests):
        raise Missing(f"records.tests.{name}.result")
    return all(test.result == "within the limit" for test in tests)


def passed_on(build: Subject, name: str) -> date:
    """Return the day of the last record of a test of which all records are within the limit."""
    tests = _named(build, name)
    if any(test.result == "outside the limit" for test in tests):
        raise Missing(reason=f"the test {name} was outside the limit")
    if any(test.result is None for test in tests):
        raise Missing(f"records.tests.{name}.result")
    days = [test.date for test in tests if test.date is not None]
    if len(days) < len(tests):
        raise Missing(f"records.tests.{name}.date")
    return max(days)


@fact(Header, number(Dimension.resistance), formula="least recorded reading", source=RECORD)
def recorded_insulation_resistance(build: Subject) -> float:
    """Least insulation resistance recorded."""
    return reading(build, "insulation-resistance")


@fact(Header, number(Dimension.resistance), formula="greatest recorded reading", source=RECORD)
def recorded_earth_continuity(build: Subject) -> float:
    """Greatest resistance of the protective conductor recorded."""
    return reading(build, "earth-continuity")


@fact(Header, number(Dimension.time), formula="greatest recorded reading", source=RECORD)
def recorded_trip_time(build: Subject) -> float:
    """Greatest trip time of a residual-current device recorded at its rated residual current."""
    return reading(build, "residual-current-trip-time")


@fact(Header, number(Dimension.voltage), formula="greatest recorded reading", source=RECORD)
def recorded_body_voltage(build: Subject) -> float:
    """Greatest voltage from the body to earth recorded."""
    return reading(build, "body-voltage")


@fact(Header, number(Dimension.pressure), formula="greatest recorded reading", source=RECORD)
def recorded_gas_drop(build: Subject) -> float:
    """Greatest fall of pressure recorded in the gas tightness test."""
    return reading(build, "gas-tightness")


@fact(Header, number(Dimension.pressure), formula="least of the recorded starts", source=RECORD)
def gas_test_pressure(build: Subject) -> float:
    """Pressure at which the gas tightness test began."""
    return min(_stated(build, "gas-tightness", "pressure"))


@fact(Header, number(Dimension.time), formula="least recorded time", source=RECORD)
def gas_test_time(build: Subject) -> float:
    """Time for which the gas tightness test was read."""
    return min(_stated(build, "gas-tightness", "held"))


@fact(Header, number(Dimension.pressure), formula="greatest recorded reading", source=RECORD)
def recorded_lock_up(build: Subject) -> float:
    """Greatest pressure recorded behind the regulator with nothing burning."""
    return reading(build, "gas-lock-up")


@fact(Header, number(Dimension.time), formula="least recorded reading", source=RECORD)
def recorded_water_hold(build: Subject) -> float:
    """Time recorded for which the water system held its pressure."""
    return reading(build, "water-hold")


known_fact = partial(fact, Header, TRUTH, source=RECORD)
"""That the readings of a test say how much it was at the end that counts; not known where one does not."""
LEAST, GREATEST = "no reading begins with < or ≤", "no reading begins with > or ≥"


@known_fact(formula=LEAST)
def recorded_insulation_resistance_known(build: Subject) -> bool:
    """Whether the readings say how much the insulation resistance was at least."""
    return bounded(build, "insulation-resistance")


@known_fact(formula=GREATEST)
def recorded_earth_continuity_known(build: Subject) -> bool:
    """Whether the readings say how much the resistance to earth was at most."""
    return bounded(build, "earth-continuity")


@known_fact(formula=GREATEST)
def recorded_trip_time_known(build: Subject) -> bool:
    """Whether the readings say how much the trip time was at most."""
    return bounded(build, "residual-current-trip-time")


@known_fact(formula=GREATEST)
def recorded_body_voltage_known(build: Subject) -> bool:
    """Whether the readings say how much the voltage of the body was at most."""
    return bounded(build, "body-voltage")


@known_fact(formula=GREATEST)
def recorded_gas_drop_known(build: Subject) -> bool:
    """Whether the readings say how much the fall of gas pressure was at most."""
    return bounded(build, "gas-tightness")


@known_fact(formula=GREATEST)
def recorded_lock_up_known(build: Subject) -> bool:
    """Whether the readings say how much the pressure with nothing burning was at most."""
    return bounded(build, "gas-lock-up")


@known_fact(formula=LEAST)
def recorded_water_hold_known(build: Subject) -> bool:
    """Whether the readings say how much the time of the hold test was at least."""
    return bounded(build, "water-hold")


@fact(Header, DATE, formula="last record within the limit", source=RECORD)
def recorded_polarity(build: Subject) -> date:
    """Day on which polarity was found right at every outlet."""
    return passed_on(build, "polarity")


@fact(Header, DATE, formula="last record within the limit", source=RECORD)
def recorded_bond_test(build: Subject) -> date:
    """Day on which exactly one neutral-earth bond was found in each source mode."""
    return passed_on(build, "neutral-earth-bond")


@fact(Header, DATE, formula="last record within the limit", source=RECORD)
def recorded_alarm_test(build: Subject) -> date:
    """Day on which every alarm sounded."""
    return passed_on(build, "alarm")


@fact(Header, DATE, formula="last record within the limit", source=RECORD)
def recorded_drain_test(build: Subject) -> date:
    """Day on which water ran through every drain without a leak."""
    return passed_on(build, "waste-drain")


@fact(Header, DATE, formula="last record within the limit", source=RECORD)
def recorded_sanitising(build: Subject) -> date:
    """Day on which the fresh-water system was sanitised."""
    return passed_on(build, "sanitising")


def _listed(test: Test) -> str:
    return f"{test.test} on {test.on}" if test.on else test.test


@fact(Header, list_of(text()), formula="records of a name that the register does not know", source=RECORD)
def unknown_tests(build: Subject) -> tuple[str, ...]:
    """Recorded tests that the register does not know, so that no rule looks at their readings."""
    return tuple(t.test for t in latest(build) if _name(t) not in KNOWN)


@fact(Header, list_of(text()), formula="latest records that say `outside the limit`", source=RECORD)
def tests_outside_limit(build: Subject) -> tuple[str, ...]:
    """Tests whose last record is outside the limit."""
    return tuple(_listed(test) for test in latest(build) if test.result == "outside the limit")


def _lacks(test: Test) -> Iterator[str]:
    known = KNOWN.get(_name(test))
    if known is not None and known.dimension is not None:
        yield from (word for word in ("value", "instrument", "calibrated_on") if getattr(test, word) is None)
    yield from (word for word in ("result", "by", "date") if getattr(test, word) is None)


@fact(
    Header,
    list_of(text()),
    formula="latest records without result, person or date; for readings also value, instrument, calibration",
    source="common practice, no source",
)
def incomplete_tests(build: Subject) -> tuple[str, ...]:
    """Tests whose record lacks something, with what it lacks."""
    lacking = [(test, list(_lacks(test))) for test in latest(build)]
    return tuple(f"{_listed(test)} ({', '.join(words)})" for test, words in lacking if words)


CALIBRATION_DAYS = 366
"""How long a calibration is taken to hold: a year, common practice, no source."""


@fact(
    Header,
    list_of(text()),
    formula="day of the test more than a year after, or before, the day of calibration",
    source="common practice, no source",
)
def tests_out_of_calibration(build: Subject) -> tuple[str, ...]:
    """Tests made with an instrument whose calibration was too old, or later than the test."""
    return tuple(
        _listed(test)
        for test in latest(build)
        if test.date is not None
        and test.calibrated_on is not None
        and not 0 <= (test.date - test.calibrated_on).days <= CALIBRATION_DAYS
    )
