"""A spec's mistakes are all found at once, each where it stands; what follows from one is not reported."""

import pytest
from building import build, read

TWENTY = """\
title: 12
stage: desing
jurisdictions: [uk, mars]
vehicle:
  wheelbase: 4035
  permitted: {total: 3500 lbs per axle}
  interior: {lenght: 3 m}
use: {people: {adults: two}}
components:
  house-battery: {kind: battery, nominal_voltage: 12.8, capacity: 100 Wh}
  Water_Pump: {kind: pump}
  light: {kind: celing-light}
  fan: {power: 5 W}
  fuse-box: {kind: fuse-box, ways: {1: {fuse: 5 A, breaker: 5 A}}}
  tap: {kind: tap, zone: nowhere}
  tank: {kind: fresh-tank, volume: 70 L, colour: blue}
runs:
  feed: {medium: dc, from: house-batery/positive, to: tap}
  pipe: {medium: watter, from: tank, to: tap}
  drain: {medium: water, from: tank/outlett, to: tap}
  hose: {medium: water, from: tank/outlet, to: tap, bore: 10}
records: {sign_offs: [{matter: a/b, target: nothing}]}
"""


def test_twenty_mistakes_give_twenty_problems() -> None:
    """Each stands at its own line; the parts that are right are still read."""
    _, problems = read(TWENTY)
    lines = [problem.place.line if problem.place else 0 for problem in problems]
    assert lines == [1, 2, 3, 5, 6, 7, 8, 10, 10, 11, 12, 13, 14, 15, 16, 18, 18, 19, 21, 22]
    assert len(problems) == 20


@pytest.mark.parametrize(
    ("text", "line", "column", "message", "nearest"),
    [
        ("stage: desing", 1, 8, "`stage` is not one of the words it can be", "design"),
        ("vehicle: {wheelbase: 4035}", 1, 22, "a bare number is not a length with a unit", None),
        ("vehicle:\n  interior: {lenght: 3 m}", 2, 14, "unknown key `lenght`", "length"),
        ("components: {light: {kind: celing-light}}", 1, 28, "unknown kind", "ceiling-light"),
        ("components: {light: {power: 1 W}}", 1, 14, "does not say its kind", None),
        ("components: {b: {kind: battery, capacity: 5 Wh}}", 1, 43, "capacity", None),
        ("components: {b: {kind: battery, capacty: 5 Ah}}", 1, 33, "unknown key `capacty`", "capacity"),
        ("components: {b: {kind: battery, count: 2}}", 1, 17, "cannot be this", None),
        ("components: {t: {kind: tap, fixed_to: boddy}}", 1, 39, "names nothing in this spec", "body"),
    ],
)
def test_a_mistake_is_told_with_its_place(
    text: str, line: int, column: int, message: str, nearest: str | None
) -> None:
    """Line, column, what is wrong, and the nearest right word."""
    _, problems = read(text)
    (problem,) = problems
    assert problem.place is not None
    assert (problem.place.line, problem.place.column) == (line, column)
    assert message in problem.message
    assert problem.nearest == nearest


@pytest.mark.parametrize(
    ("part", "written", "said"),
    [
        ("kind: pump, serial: 12345", "12345", "`serial` cannot be this"),
        ("kind: pump, serial: 1e5", "1e5", "`serial` cannot be this"),
        ("kind: pump, serial: 12.50", "12.50", "`serial` cannot be this"),
        ("kind: pump, serial: true", "true", "`serial` cannot be this"),
        ("kind: pump, label: 7", "7", "`label` cannot be this"),
        ("kind: bonding-point, bonds: [body, 2]", "2", "item 2 of `bonds` cannot be this"),
    ],
)
def test_what_looks_like_a_number_is_told_to_stand_in_quotation_marks(
    part: str, written: str, said: str
) -> None:
    """At its place, and as it was written: 1e5 and not 100000.0."""
    text = f"components: {{it: {{{part}}}}}"
    _, (problem,) = read(text)
    at = text.rindex(written) + 1
    told = f'read "{written}", expected text; write "{written}" in quotation marks'
    assert problem.text() == f"spec.yaml:1:{at}: problem: {said}: {told}"


@pytest.mark.parametrize(
    ("part", "said"),
    [
        ("kind: pump, serial: [A1]", "`serial` cannot be this: expected text"),
        ("kind: pump, runs_in: [day, nihgt]", "item 2 of `runs_in` is not one of the words it can be"),
        ("kind: battery, at: [1 m, 2, 3 m]", "item 2 of `at`: a bare number is not"),
    ],
)
def test_an_item_of_a_list_is_called_by_its_number(part: str, said: str) -> None:
    """From one, with the list's name; nobody is told to put a list into quotation marks."""
    _, (problem,) = read(f"components: {{it: {{{part}}}}}")
    assert said in problem.text() and "quotation" not in problem.text()


@pytest.mark.parametrize(
    "serial", ["0123", "00", "2026-05-03", "1-2", "0x1F", "12:30", "1_000", "'12345'", "A100"]
)
def test_what_is_no_number_needs_no_quotation_marks(serial: str) -> None:
    """Leading zeros, days, hyphens, times: text as it was written."""
    made, problems = read(f"components: {{p: {{kind: pump, serial: {serial}}}}}")
    assert made is not None and not problems
    assert made.components["p"].serial == serial.strip("'")


BATTERY_AND_LIGHT = """
components:
  battery: {{kind: battery, nominal_voltage: 12.8 V}}
  light: {{kind: ceiling-light, power: 5 W}}
  ground: {{kind: bus-bar, polarity: negative}}
runs:
  feed: {{medium: dc, {run}}}
"""


@pytest.mark.parametrize(
    ("run", "message"),
    [
        ("from: battery, to: light, return: chassis", "could be several ports"),
        ("from: battery/plus, to: light, return: chassis", "there is no such port"),
        ("from: battery/positive, to: light", "does not say how its current returns"),
        ("from: battery/positive, to: ground/1", "joins a positive to a negative"),
        ("from: light, to: battery/positive, return: chassis", "a port that a run only goes to"),
        ("from: battery/positive, to: light, return: feeed", "names nothing in this spec"),
        ("from: batery/positive, to: light, return: chassis", "a component that is not there"),
    ],
)
def test_a_run_that_joins_nothing_is_told(run: str, message: str) -> None:
    """A run's ends and its return are checked against the ports that there are."""
    _, problems = read(BATTERY_AND_LIGHT.format(run=run))
    assert [message in problem.message for problem in problems] == [True]


def test_what_follows_from_a_broken_component_is_not_reported() -> None:
    """A run to a component that could not be read is set aside in silence."""
    made, problems = read(
        """
        components:
          battery: {kind: battery, nominal_voltage: 12.8}
          light: {kind: ceiling-light}
        runs:
          feed: {medium: dc, from: battery/positive, to: light, return: chassis}
        """
    )
    assert len(problems) == 1
    assert made is not None
    assert made.set_aside == {"battery", "feed"}


@pytest.mark.parametrize(
    ("returns", "cores"),
    [
        ("return: same cable", ("positive", "negative")),
        ("return: chassis", ("positive",)),
        ("return: back", ("positive",)),
    ],
)
def test_cores_follow_from_ports_and_return(returns: str, cores: tuple[str, ...]) -> None:
    """A cable between two pairs has the return core only where it says so."""
    made = build(
        f"""
        components:
          box: {{kind: fuse-box, ways: {{1: {{fuse: 5 A}}}}}}
          light: {{kind: ceiling-light}}
        runs:
          feed: {{medium: dc, from: box/1, to: light, {returns}}}
          back: {{medium: dc, from: box/1, to: light, return: same cable}}
        """
    )
    assert made.ends["feed"].cores == cores
