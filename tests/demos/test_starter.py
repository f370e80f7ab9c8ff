"""The register that ships for a workshop to start from: it reads, its parts read, and it has no error."""

from pathlib import Path

import pytest
from opening import pack

import specreg
from specreg.facts.engine import Facts
from specreg.model.kinds import kinds
from specreg.model.read import data_of, read_build
from specreg.model.run import RUNS
from specreg.rules.judge import judge
from specreg.source.register import open_register, read_source

STARTER = Path(specreg.__file__).parent / "starter"
REGISTER = open_register(STARTER, "starter")


def test_first_van_reads_and_nothing_stops_it() -> None:
    """The one-page example has no problem, and no rule fails on it at level error."""
    source = read_source(REGISTER, STARTER / "first-van")
    assert source.tree is not None
    build, problems = read_build(source.tree)
    assert [p.text() for p in (*REGISTER.problems, *source.problems, *problems)] == []
    assert build is not None
    assert len(build.components) >= 20
    assert [f"{r.rule}: {r.message}" for r in judge(pack(), Facts(build)) if r.stops] == []


@pytest.mark.parametrize("name", sorted(REGISTER.parts))
def test_every_part_is_one_of_a_kind(name: str) -> None:
    """A part that nobody has used yet reads as a component or a run of its kind."""
    data = data_of(REGISTER.parts[name].node)
    if "kind" in data:
        kinds()[data["kind"]].model_validate(data)
    else:
        RUNS[data["medium"]].model_validate({"from": "one", "to": "two", **data})
