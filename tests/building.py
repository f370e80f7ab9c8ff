"""Small builds for tests: text in, build out, no problem tolerated."""

from textwrap import dedent

from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.source import Mapping, Problem, merge, read_yaml
from specreg.source.circuits import expand_circuits

HEADER = """
format: 1
build: test
title: Test build
stage: design
jurisdictions: [uk]
as_of: 2026-05-01
defaults: {insulation: 105 °C, mains_insulation: 75 °C}
"""


def read(text: str) -> tuple[Build | None, list[Problem]]:
    """Read a spec laid over a small header, with its problems."""
    header, _ = read_yaml(HEADER.encode(), "header.yaml")
    tree, problems = read_yaml(dedent(text).encode(), "spec.yaml")
    assert header is not None
    merged = merge(header, tree) if tree is not None else header
    assert isinstance(merged, Mapping)
    expanded, more = expand_circuits(merged)
    build, found = read_build(expanded)
    return build, [*problems, *more, *found]


def build(text: str) -> Build:
    """Read a spec that must have no problem."""
    found, problems = read(text)
    assert not problems, "\n".join(problem.text() for problem in problems)
    assert found is not None
    return found
