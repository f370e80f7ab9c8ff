"""The survey van of the demonstration register: complete, readable, and without an error."""

from functools import cache
from pathlib import Path

import pytest

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.axes import cases
from specreg.facts.engine import Facts
from specreg.facts.registry import Axis
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.model.run import RUNS, AcRun, DcRun, GasRun, WaterRun
from specreg.rules.judge import judge
from specreg.rules.pack import load_pack
from specreg.rules.result import Result
from specreg.source.register import open_register, read_source

ROOT = Path(__file__).parents[2]
BUILD = ROOT / "builds" / "fieldwork"


@cache
def _read() -> tuple[Build | None, tuple[str, ...]]:
    register = open_register(BUILD.parent, "builds")
    source = read_source(register, BUILD)
    assert source.tree is not None
    build, problems = read_build(source.tree, source.designations)
    return build, tuple(p.text() for p in (*source.problems, *problems))


def _build() -> Build:
    build = _read()[0]
    assert build is not None
    return build


@cache
def _facts() -> Facts:
    return Facts(_build())


@cache
def _results() -> tuple[Result, ...]:
    pack, problems = load_pack(ROOT / "rules")
    assert not problems, [problem.text() for problem in problems]
    return judge(pack, _facts())


def test_reads_without_a_problem() -> None:
    """Every line of the demo is understood."""
    assert _read()[1] == ()


def test_is_as_large_as_it_was_written() -> None:
    """Nothing fell out of it: at least the parts and runs that it was written with."""
    assert len(_build().components) >= 154
    assert len(_build().runs) >= 88
    assert not _build().set_aside


def test_every_component_has_a_mass_a_place_a_label_and_a_fastening() -> None:
    """Complete down to the last screw: mass with its status, box, words beside it, what holds it."""
    wanted = ("mass", "mass_status", "at", "size", "label", "fastening")
    bare = {
        name: [field for field in wanted if getattr(component, field) is None]
        for name, component in _build().components.items()
    }
    assert {name: fields for name, fields in bare.items() if fields} == {}


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        (DcRun, ("length", "conductor", "covering")),
        (AcRun, ("length", "conductor", "protective_conductor", "cable_type", "covering")),
        (WaterRun, ("length", "bore", "material", "lowest", "drains_to")),
        (GasRun, ("length", "bore", "material", "joints", "pressure_side")),
    ],
)
def test_every_run_has_its_length_and_size(kind: type, fields: tuple[str, ...]) -> None:
    """A run without a length or a size would hide behind an estimate."""
    runs = {name: run for name, run in _build().runs.items() if isinstance(run, kind)}
    assert runs
    assert [(n, f) for n, run in runs.items() for f in fields if getattr(run, f) is None] == []


def test_every_run_has_a_length_and_a_marker() -> None:
    """Whatever it carries, a run has its length and the words on its marker."""
    assert [name for name, run in _build().runs.items() if run.length is None or run.label is None] == []


def test_every_medium_is_there() -> None:
    """The demo shows each medium that a run can carry."""
    assert {run.medium.value for run in _build().runs.values()} == set(RUNS)


def test_no_rule_fails_at_level_error() -> None:
    """What the rules call an error is put right, not explained away."""
    failed = [f"{r.rule}: {r.subject} {r.case or ''} {r.message}" for r in _results() if r.stops]
    assert failed == []


def test_every_failing_warning_is_a_concession_with_a_reason() -> None:
    """A failing warning stays only where somebody took it on himself and said why."""
    failed = [f"{r.rule}: {r.subject} {r.message}" for r in _results() if r.failed and r.level == "warning"]
    assert failed == []


def test_masses_stay_inside_the_plate_in_every_loading_case() -> None:
    """Total and both axles, the doubt of every mass taken off, in each loading case."""
    whole = _facts().whole
    left = {
        (case, name): getattr(whole.in_case(case), name)
        for case in cases(Axis.loading, _facts())
        for name in ("payload_left_least", "front_axle_left_least", "rear_axle_left_least")
    }
    assert {key: value for key, value in left.items() if value <= 0} == {}


def test_the_final_ticket_agrees_with_the_computed_mass() -> None:
    """The scale and the ledger differ by less than what rounding and guessed masses explain."""
    whole = _facts().whole
    assert abs(whole.unexplained_mass) < whole.reconciliation_doubt
    assert abs(whole.unexplained_rear) < whole.reconciliation_rear_doubt


def test_procedures_name_only_what_is_fitted() -> None:
    """Each `component:` link of a procedure leads to a component of this van."""
    links = [
        (path.name, link.partition(")")[0])
        for path in sorted((BUILD / "procedures").glob("*.md"))
        for link in path.read_text(encoding="utf-8").split("](component:")[1:]
    ]
    assert len(links) > 20
    assert [link for link in links if link[1] not in _build().components] == []


PACKAGE = """\
format: 1
build: other
title: Another van with the same package
stage: enquiry
jurisdictions: [uk]
include:
  - assembly: house-power-12v
    set: {{second_battery: {second}, inverter: {inverter}, shore_charger: {charger}}}
"""


@pytest.mark.parametrize("second", ["true", "false"])
@pytest.mark.parametrize(("inverter", "charger"), [("true", "false"), ("false", "true"), ("false", "false")])
def test_the_package_in_each_of_its_forms_leaves_no_cable_unprotected(
    tmp_path: Path, second: str, inverter: str, charger: str
) -> None:
    """With one battery or two, with inverter, charger or neither: it reads, and devices bound every short."""
    other = tmp_path / "other"
    other.mkdir()
    text = PACKAGE.format(second=second, inverter=inverter, charger=charger)
    (other / "spec.yaml").write_text(text, encoding="utf-8")
    source = read_source(open_register(BUILD.parent, "builds"), other)
    assert source.tree is not None
    build, problems = read_build(source.tree)
    assert [p.text() for p in (*source.problems, *problems)] == []
    assert build is not None
    assert ("house-battery-2" in build.components) is (second == "true")
    runs = [run for run in Facts(build).of_class(DcRun) if run.positive and run.fault_sources]
    assert len(runs) >= 6
    assert [run.id for run in runs if run.bare_length > 7 * 0.0254] == []
