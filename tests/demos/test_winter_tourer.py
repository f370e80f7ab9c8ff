"""The winter touring van: it reads, it is complete, and nothing in it fails at error level."""

import re
from pathlib import Path

import pytest
from opening import sound

from specreg.facts.axes import LOADING_CASES
from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.run import Cable
from specreg.rules.judge import judge
from specreg.rules.pack import load_pack
from specreg.rules.result import Answer

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "builds" / "winter-tourer"
BASE_VEHICLE = {
    "starter-battery", "alternator", "starter-motor", "engine-signal", "side-door", "rear-doors", "driver-door"
}  # fmt: skip


@pytest.fixture(scope="module")
def build() -> Build:
    """The demo, read without a problem."""
    return sound("winter-tourer")


def test_nothing_is_set_aside(build: Build) -> None:
    """Every component and run of the text is in the model."""
    assert build.set_aside == frozenset()
    assert len(build.components) > 100
    assert len(build.runs) > 80


def test_every_component_has_a_mass_and_a_place(build: Build) -> None:
    """The loads on the axles follow from stated masses and places; only the base vehicle's own lack a mass."""
    components = build.components.items()
    assert [name for name, thing in components if thing.at is None or thing.size is None] == []
    unweighed = {name for name, thing in components if thing.mass is None or thing.mass_status is None}
    assert unweighed == BASE_VEHICLE


@pytest.mark.parametrize("case", LOADING_CASES)
def test_every_loading_case_is_within_the_permitted_masses(build: Build, case: str) -> None:
    """Total and both axles stay within the plate even when every mass is wrong in the worse direction."""
    van = Facts(build).whole.in_case(case)
    assert van.payload_left_least > 0
    assert van.front_axle_left_least > 0
    assert van.rear_axle_left_least > 0


def test_every_run_has_its_length(build: Build) -> None:
    """No run's length is left to an estimate."""
    assert [name for name, run in build.runs.items() if run.length is None] == []


def test_every_cable_has_its_conductor(build: Build) -> None:
    """Every cable states its conductor."""
    cables = {name: run for name, run in build.runs.items() if isinstance(run, Cable)}
    assert len(cables) > 50
    assert [name for name, run in cables.items() if run.conductor is None] == []


def test_it_burns_no_gas(build: Build) -> None:
    """Gas is declared absent, and no gas run contradicts that."""
    assert build.header.systems.none == ("gas",)
    assert [name for name, run in build.runs.items() if run.medium == "gas"] == []


def test_no_rule_fails_at_error_level(build: Build) -> None:
    """The whole pack finds no error that is not conceded; a concession counts only where the rule allows."""
    pack, problems = load_pack(ROOT / "rules")
    assert [problem.text() for problem in problems] == []
    failed = [
        (result.rule, result.subject, result.message)
        for result in judge(pack, Facts(build))
        if result.answer is Answer.fails and result.level == "error" and result.concession is None
    ]
    assert failed == []


@pytest.mark.parametrize("path", sorted((FOLDER / "procedures").glob("*.md")), ids=lambda path: path.stem)
def test_procedures_name_what_is_fitted(build: Build, path: Path) -> None:
    """Every component that a procedure links to is in the build."""
    named = re.findall(r"\]\(component:([a-z0-9-]+)\)", path.read_text(encoding="utf-8"))
    assert named
    assert [name for name in named if name not in build.components] == []
