"""Gas: use, days on a cylinder, lockers, shut-offs on the graph, against worked checks and laws.

Expected values: tests/published/environment.csv (checked on the tables there, here through the facts) and
tests/published/gas-and-air.csv (kinds: rule, derived).
"""

import csv
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from building import build
from hypothesis import given
from hypothesis import strategies as st

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.facts.missing import Missing
from specreg.facts.schedule import supply_of
from specreg.faults.checks import Look, checks
from specreg.faults.dead import Fault
from specreg.graph.supply import isolated_by
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Answer

TESTS = Path(__file__).parents[1]
RULES, _ = load_pack(TESTS.parent / "rules")
BTU_PER_HOUR = 1055.05585262 / 3600


def rows(name: str) -> dict[str, dict[str, str]]:
    """The rows of a file of published checks by id."""
    with (TESTS / "published" / name).open(encoding="utf-8", newline="") as file:
        return {row["id"]: row for row in csv.DictReader(file)}


CHECKS = {**rows("environment.csv"), **rows("gas-and-air.csv")}


def locker(floor: str, **more: str) -> Facts:
    """A locker with a floor."""
    fields = "".join(f", {key}: {value}" for key, value in more.items())
    return Facts(build(f"components: {{locker: {{kind: gas-locker, floor_area: {floor}{fields}}}}}"))


def hob(watts: float, basis: str = "gross") -> Facts:
    """A hob on propane with an input."""
    return Facts(
        build(
            f"components: {{hob: {{kind: hob, burns: propane, input: {watts:.6f} W, input_basis: {basis}}}}}"
        )
    )


SYSTEM = """
components:
  cylinder: {kind: gas-cylinder, content: 6 kg, usable: 90 %}
  regulator: {kind: regulator}
  manifold: {kind: gas-manifold, ways: {a: {}, b: {}}}
  hob: {kind: hob, burns: propane, input: 1.2 kW, input_basis: net, burn_hours_per_day: 1 h}
  heater: {kind: air-heater, burns: propane, input: 2 kW, input_basis: gross, burn_hours_per_day: HOURS}
runs:
  hose: {medium: gas, from: cylinder/valve, to: regulator}
  main: {medium: gas, from: regulator, to: manifold}
  hob-pipe: {medium: gas, from: manifold/a, to: hob}
  heater-pipe: {medium: gas, from: manifold/b, to: heater}
"""


def days(hours: str) -> float:
    """Days on the cylinder of the small system."""
    return float(Facts(build(SYSTEM.replace("HOURS", hours))).subject("cylinder").lasts) / 86_400


def rule_passes(identity: str, text: str) -> bool:
    """Whether one rule of the pack passes on a spec."""
    rule = RULES.by_identity()[identity]
    (result,) = [r for r in judge(Pack((rule,)), Facts(build(text))) if r.answer is not Answer.not_applicable]
    assert result.answer in (Answer.passes, Answer.fails)
    return result.answer is Answer.passes


def drop_passes(drop: str) -> bool:
    """Whether the tightness rule passes on a recorded loss."""
    text = f"""
        components: {{hob: {{kind: hob, burns: propane}}}}
        records: {{tests: [{{test: gas-tightness, on: gas, value: {drop}, date: 2026-04-01}}]}}
        """
    return rule_passes("gas/tightness-measured", text)


def tank() -> float:
    """Propane in a tank of 40 L filled to 80 %."""
    text = "components: {tank: {kind: gas-tank, volume: 40 L, fill_limit: 80 %}}"
    return float(Facts(build(text)).subject("tank").gas_when_full)


def cylinder_hours() -> float:
    """Hours that 20 lb of gas last at 30 000 BTU/h."""
    text = f"""
        components:
          cylinder: {{kind: gas-cylinder, content: 20 lb, usable: 100 %}}
          hob: {{kind: hob, burns: propane, input: {30_000 * BTU_PER_HOUR:.6f} W, input_basis: gross,
                burn_hours_per_day: 24 h}}
        runs: {{pipe: {{medium: gas, from: cylinder/valve, to: hob}}}}
        """
    return float(Facts(build(text)).subject("cylinder").lasts) / 3600


CASES: dict[str, Callable[[], float | bool]] = {
    "C1.01": lambda: locker("0.2 m²").subject("locker").single_vent_due * 1e6,
    "C1.02": lambda: locker("0.64 m²").subject("locker").single_vent_due * 1e6,
    "C1.03": lambda: locker("0.64 m²").subject("locker").split_vent_due * 1e6,
    "C1.06": lambda: locker("0.2 m²").subject("locker").half_vent_due_us * 1e6,
    "C1.07": lambda: drop_passes("9 mbar"),
    "C1.08": lambda: drop_passes("11 mbar"),
    "C1.13": lambda: hob(30_000 * BTU_PER_HOUR).subject("hob").gas_use * 3.6e6,
    "C1.14": cylinder_hours,
    "C1.15": lambda: hob(1000.0).subject("hob").gas_use * 3.6e6,
    "G-01": lambda: days("5 h"),
    "G-02": tank,
}


@pytest.mark.parametrize("check", CASES)
def test_facts_agree_with_worked_checks(check: str) -> None:
    """Each check by its id; sources stand in the files."""
    found, row = CASES[check](), CHECKS[check]
    if isinstance(found, bool):
        assert str(found) == row["expected"]
    else:
        assert found == pytest.approx(float(row["expected"]), abs=max(float(row["tolerance"]), 1e-6))


def test_an_input_without_its_basis_is_not_turned_into_gas() -> None:
    """Net and gross differ by 8 %, so that the basis is asked for."""
    of = Facts(build("components: {hob: {kind: hob, burns: propane, input: 1 kW}}"))
    with pytest.raises(Missing) as raised:
        _ = of.subject("hob").gas_use
    assert raised.value.fields == ("hob.input_basis",)


@given(st.floats(min_value=0.5, max_value=12))
def test_days_fall_as_hours_rise(hours: float) -> None:
    """More hours of burning never make a cylinder last longer, and the heater's share is linear."""
    once, twice = 1 / days(f"{hours:.3f} h"), 1 / days(f"{2 * round(hours, 3):.3f} h")
    idle = 1 / days("0 h")
    assert twice - idle == pytest.approx(2 * (once - idle), rel=1e-6)


def test_the_regulator_counts_what_lies_behind_it_only() -> None:
    """An appliance on another cylinder is not its load."""
    text = SYSTEM.replace("HOURS", "1 h") + "  spare-pipe: {medium: gas, from: other/valve, to: stove}\n"
    text = text.replace(
        "  regulator:",
        "  other: {kind: gas-cylinder}\n  stove: {kind: oven, gas_flow: 1 kg/h}\n  regulator:",
        1,
    )
    regulator = Facts(build(text)).subject("regulator")
    assert regulator.serves == ("hob", "heater")
    # by hand: 1200 W / 46.332 MJ/kg + 2000 W / 50.1206 MJ/kg
    assert regulator.demand == pytest.approx(1200 / 46.332e6 + 2000 / 50.120648e6)


PATHS = """
components:
  cylinder: {kind: gas-cylinder}
  second: {kind: gas-cylinder}
  regulator: {kind: regulator, change_over: automatic}
  manifold: {kind: gas-manifold, ways: {a: {}, b: {}, c: {shut_off: false}}}
  valve: {kind: gas-valve}
  hob: {kind: hob}
  oven: {kind: oven}
  heater: {kind: air-heater, burns: propane}
  outlet: {kind: gas-outlet}
runs:
  hose-1: {medium: gas, from: cylinder/valve, to: regulator/in-1}
  hose-2: {medium: gas, from: second/valve, to: regulator/in-2}
  main: {medium: gas, from: regulator, to: valve}
  main-2: {medium: gas, from: valve, to: manifold}
  hob-pipe: {medium: gas, from: manifold/a, to: hob}
  oven-pipe: {medium: gas, from: manifold/b, to: oven}
  heater-pipe: {medium: gas, from: manifold/c, to: heater}
  outlet-pipe: {medium: gas, from: manifold/b, to: outlet}
"""


@pytest.mark.parametrize(
    ("appliance", "shut_offs", "own"),
    [
        ("hob", ("manifold, a", "valve"), ("manifold, a",)),
        ("oven", ("manifold, b", "valve"), ()),  # the outlet hangs on the same way
        ("heater", ("valve",), ()),  # its way has no valve
    ],
)
def test_shut_offs_are_found_on_the_graph(
    appliance: str, shut_offs: tuple[str, ...], own: tuple[str, ...]
) -> None:
    """A valve is an appliance's own when it takes the gas from nothing else."""
    found = Facts(build(PATHS)).subject(appliance)
    assert found.gas_stores == ("cylinder", "second")
    assert found.shut_offs == shut_offs
    assert found.own_shut_offs == own


def test_a_valve_is_called_alike_by_the_rules_and_where_a_fault_is_looked_for() -> None:
    """The way of a manifold by its manifold and itself, a valve by its title; each cuts off what hangs on it."""
    text = PATHS.replace("{kind: gas-valve}", "{kind: gas-valve, title: main cock}")
    facts = Facts(build(text))
    steps = isolated_by(facts.once(supply_of), "hob")
    assert [(step.form, step.id) for step in steps] == [("valve", "manifold/a"), ("valve", "valve")]
    assert tuple(facts.name_of(step.id) for step in steps) == facts.subject("hob").shut_offs
    assert facts.subject("hob").shut_offs == ("manifold, a", "main cock")
    looked = [
        check.things for check in checks(facts, Fault("hob", "dead", "heat")) if check.look is Look.valve
    ]
    assert looked == [("manifold/a",), ("valve",)]


def test_an_appliance_without_gas_has_no_shut_off() -> None:
    """A valve that shuts off nothing is not counted as one that shuts it off."""
    lone = Facts(build(PATHS.replace("  hob-pipe: {medium: gas, from: manifold/a, to: hob}\n", ""))).subject(
        "hob"
    )
    assert (lone.gas_stores, lone.shut_offs, lone.own_shut_offs) == ((), (), ())


@pytest.mark.parametrize(
    ("extra", "found"),
    [
        ("lamp: {kind: strip-light, at: [1 m, 0 m, 0.1 m]}", ("lamp",)),
        ("lamp: {kind: strip-light, at: [1.6 m, 0 m, 0.1 m]}", ()),
        ("probe: {kind: gas-valve, drive: solenoid, at: [1 m, 0 m, 0.1 m]}", ()),
        ("heater: {kind: air-heater, at: [1 m, 0 m, 0.1 m]}", ("heater",)),
        ("hob: {kind: hob, ignition: match, at: [1 m, 0 m, 0.1 m]}", ("hob",)),
        ("plate: {kind: induction-hob, at: [1 m, 0 m, 0.1 m]}", ("plate",)),
    ],
    ids=[
        "inside",
        "outside",
        "part of the gas system",
        "a flame",
        "a flame without a cable",
        "on mains alone",
    ],
)
def test_ignition_sources_are_found_by_place(extra: str, found: tuple[str, ...]) -> None:
    """What stands inside the locker's box counts though nobody listed it."""
    text = f"components: {{locker: {{kind: gas-locker, at: [0.8 m, -0.2 m, 0 m], size: [0.4 m, 0.4 m, 0.6 m]}}, {extra}}}"
    assert Facts(build(text)).subject("locker").ignition_sources == found


@given(st.integers(min_value=0, max_value=9000))
def test_ages_are_counted_to_the_day_of_judgement(age: int) -> None:
    """There is no clock: the day is the spec's `as_of`."""
    of = Facts(build("components: {regulator: {kind: regulator}}"))
    made = of.on - timedelta(days=age)
    aged = Facts(build(f"components: {{regulator: {{kind: regulator, made_on: {made.isoformat()}}}}}"))
    assert aged.subject("regulator").regulator_age == age * 86_400


def test_what_branches_off_before_a_regulator_is_not_its_load() -> None:
    """A barbecue at the cylinder's pressure hangs on the cylinder, not on the regulator beside it."""
    text = """
        components:
          cylinder: {kind: gas-cylinder}
          tee: {kind: gas-manifold, ways: {a: {}, b: {}}}
          regulator: {kind: regulator}
          barbecue: {kind: gas-outlet, gas_flow: 300 g/h}
          hob: {kind: hob, gas_flow: 200 g/h}
        runs:
          hose: {medium: gas, from: cylinder/valve, to: tee}
          to-regulator: {medium: gas, from: tee/a, to: regulator}
          to-barbecue: {medium: gas, from: tee/b, to: barbecue}
          pipe: {medium: gas, from: regulator, to: hob}
        """
    facts = Facts(build(text))
    assert facts.subject("regulator").serves == ("hob",)
    assert facts.subject("regulator").demand == pytest.approx(0.2 / 3600)
    assert facts.subject("cylinder").demand_on_it == pytest.approx(0.5 / 3600)


def test_gas_does_not_come_back_through_a_regulator() -> None:
    """Two cylinders feed one line; what hangs before the regulator of one is fed by that one alone."""
    text = """
        components:
          one: {kind: gas-cylinder}
          two: {kind: gas-cylinder}
          tee: {kind: gas-manifold, ways: {a: {}, b: {}}}
          first: {kind: regulator}
          second: {kind: regulator}
          line: {kind: gas-valve}
          oven: {kind: oven}
          hob: {kind: hob}
        runs:
          a: {medium: gas, from: one/valve, to: tee}
          b: {medium: gas, from: tee/a, to: first}
          c: {medium: gas, from: tee/b, to: oven}
          d: {medium: gas, from: two/valve, to: second}
          e: {medium: gas, from: first, to: line}
          f: {medium: gas, from: second, to: line}
          g: {medium: gas, from: line, to: hob}
        """
    facts = Facts(build(text))
    assert facts.subject("oven").gas_stores == ("one",)
    assert facts.subject("hob").gas_stores == ("one", "two")
    assert facts.subject("oven").own_shut_offs == ("tee, b",)
    assert facts.subject("hob").own_shut_offs == ("line",)


def test_gas_does_not_come_by_the_flue() -> None:
    """Two heaters share a flue terminal; each has a cylinder and a regulator of its own."""
    text = """
        components:
          left-cylinder: {kind: gas-cylinder}
          right-cylinder: {kind: gas-cylinder}
          left-regulator: {kind: regulator}
          right-regulator: {kind: regulator}
          left: {kind: combined-heater, burns: propane, gas_flow: 100 g/h}
          right: {kind: combined-heater, burns: propane, gas_flow: 300 g/h}
          flue: {kind: flue-terminal}
        runs:
          a: {medium: gas, from: left-cylinder/valve, to: left-regulator}
          b: {medium: gas, from: right-cylinder/valve, to: right-regulator}
          c: {medium: gas, from: left-regulator, to: left}
          d: {medium: gas, from: right-regulator, to: right}
          e: {medium: exhaust, from: left/exhaust, to: flue}
          f: {medium: exhaust, from: right/exhaust, to: flue}
        """
    facts = Facts(build(text))
    assert facts.subject("left-regulator").serves == ("left",)
    assert facts.subject("right-cylinder").demand_on_it == pytest.approx(0.3 / 3600)
    assert facts.subject("left").gas_stores == ("left-cylinder",)


@pytest.mark.parametrize(
    ("opening", "counted"),
    [
        ("below: [hob], closable: false", True),
        ("below: [oven, hob], closable: false, covered_by: none", True),
        ("below: [oven], closable: false", False),
        ("below: [hob], closable: true", False),
        ("below: [hob], closable: false, covered_by: drawer", False),
    ],
)
def test_drop_outs_below_an_appliance(opening: str, counted: bool) -> None:
    """An opening counts that names it, cannot be shut and lies bare."""
    text = (
        f"components: {{hob: {{kind: hob}}, oven: {{kind: oven}}, hole: {{kind: gas-drop-out, {opening}}}}}"
    )
    assert Facts(build(text)).subject("hob").drop_outs == (("hole",) if counted else ())


def test_ways_that_cannot_be_shut_are_named() -> None:
    """By their names on the manifold."""
    assert Facts(build(PATHS)).subject("manifold").ways_without_valve == ("c",)
