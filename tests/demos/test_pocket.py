"""The micro-camper on one page: six circuits, all electric, no problem, no error."""

from pathlib import Path

import pytest
from opening import sound

from specreg.facts.engine import Facts
from specreg.model.build import Build, Stage
from specreg.model.component import CombustionAppliance
from specreg.model.gas import GasStore
from specreg.rules.judge import judge
from specreg.rules.pack import load_pack
from specreg.rules.result import Answer

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "builds" / "pocket"


@pytest.fixture(scope="module")
def build() -> Build:
    """The demo, read without a problem."""
    return sound("pocket")


def test_it_is_one_page() -> None:
    """All that is written by hand is one file of at most eighty lines; designations are assigned."""
    assert {path.name for path in FOLDER.glob("*.yaml")} == {"spec.yaml", "designations.yaml"}
    assert len((FOLDER / "spec.yaml").read_text(encoding="utf-8").splitlines()) <= 80


def test_it_has_six_circuits(build: Build) -> None:
    """Six circuits leave the fuse box, each with its device and its load."""
    starts = [ends.start for ends in build.ends.values()]
    ways = {start.port.name for start in starts if start.component == "fuse-box"}
    assert len(ways) == 6
    fuse_box = build.components["fuse-box"]
    assert all(link.device for link in fuse_box.links() if link.name)
    assert build.header.stage is Stage.design


def test_nothing_on_board_burns(build: Build) -> None:
    """It is the electric one of the demo vans: no gas, no flame, and it says so."""
    assert not any(isinstance(part, CombustionAppliance | GasStore) for part in build.components.values())
    assert {"gas", "combustion"} <= set(build.header.systems.none)


def test_no_rule_fails_at_error_level(build: Build) -> None:
    """The whole pack finds no error in it at its stage."""
    pack, problems = load_pack(ROOT / "rules")
    assert [problem.text() for problem in problems] == []
    failed = [
        (result.rule, result.subject, result.message)
        for result in judge(pack, Facts(build))
        if result.answer is Answer.fails and result.level == "error" and result.concession is None
    ]
    assert failed == []
