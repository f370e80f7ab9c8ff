"""The demo register, opened once for all tests of it."""

from functools import cache
from pathlib import Path

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.facts.engine import Facts
from specreg.model.build import Build, Stage
from specreg.model.read import read_build
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, load_pack
from specreg.rules.result import Result
from specreg.source import Mapping, Problem
from specreg.source.register import Source, open_register, read_source

ROOT = Path(__file__).parents[2]


@cache
def source(name: str) -> Source:
    """One demo as its merged tree."""
    return read_source(open_register(ROOT / "builds", "builds"), ROOT / "builds" / name)


@cache
def pack() -> Pack:
    """The whole rule pack; that it loads without a problem is tested beside the rules."""
    return load_pack(ROOT / "rules")[0]


def build_of(tree: Mapping) -> tuple[Build, list[Problem]]:
    """A build from a tree, with its problems."""
    made, problems = read_build(tree)
    assert made is not None
    return made, problems


def answers(tree: Mapping, only: tuple[str, ...] = (), stage: Stage | None = None) -> tuple[Result, ...]:
    """What the rules (or those of some systems) say of a tree that must have no problem."""
    made, problems = build_of(tree)
    assert not problems, "\n".join(problem.text() for problem in problems)
    chosen = [rule for rule in pack().rules if not only or rule.identity.partition("/")[0] in only]
    return judge(Pack(tuple(chosen)), Facts(made), stage)


def sound(name: str) -> Build:
    """One demo as the command line reads it; a problem anywhere fails the test that asks."""
    read = source(name)
    assert read.tree is not None
    found, problems = read_build(read.tree, read.designations)
    assert [problem.text() for problem in (*read.problems, *problems)] == []
    assert found is not None
    return found
