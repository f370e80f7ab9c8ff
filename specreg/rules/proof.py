"""A rule's own fragments laid on a small build and judged: does it fire, and can it stay quiet?"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specreg.facts.engine import Facts
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.rules.document import Fragment
from specreg.rules.judge import judge
from specreg.rules.pack import Pack, Rule
from specreg.rules.result import Answer, Result
from specreg.source import Mapping, Problem, merge, read_yaml
from specreg.source.circuits import expand_circuits


@dataclass(frozen=True)
class Proof:
    """What came of one fragment; `complaint` says what was expected instead, empty where all is well."""

    rule: str
    fragment: Fragment
    results: tuple[Result, ...]
    problems: tuple[Problem, ...]
    complaint: str


def proving_base(folders: Iterable[Path], system: str) -> tuple[Mapping | None, list[Problem]]:
    """Return the small build on which fragments are laid: the first `base.yaml`, with that of the system.

    `folders` are packs, of which the first that has the file counts.
    """
    packs = list(folders)
    trees: list[Mapping] = []
    problems: list[Problem] = []
    for name in ("base.yaml", f"{system}/base.yaml"):
        path = next((pack / name for pack in packs if (pack / name).is_file()), None)
        if path is not None:
            tree, found = read_yaml(path.read_bytes(), f"{path.parent.name}/{path.name}")
            problems += found
            trees += [tree] if isinstance(tree, Mapping) else []
    base = trees[0] if trees else None
    for over in trees[1:]:
        merged = merge(base, over) if base else over
        base = merged if isinstance(merged, Mapping) else base
    return base, problems


def prove(rule: Rule, base: Mapping, on: date | None = None) -> tuple[Proof, ...]:
    """Judge a rule on each of its fragments, laid on the base build."""
    return tuple(_prove(rule, fragment, base, on) for fragment in rule.document.fragments)


def _prove(rule: Rule, fragment: Fragment, base: Mapping, on: date | None) -> Proof:
    build, problems = laid(fragment, base, rule.document.file)
    if build is None:
        why = "the fragment has problems of its own" if problems else "the fragment is a mapping"
        return Proof(rule.identity, fragment, (), tuple(problems), why)
    results = judge(Pack((rule,)), Facts(build, on))
    return Proof(rule.identity, fragment, results, (), complaint(rule, fragment, results))


def laid(fragment: Fragment, base: Mapping, file: str) -> tuple[Build | None, list[Problem]]:
    """Return the base build with a fragment laid over it; none where that has problems or is no mapping."""
    tree, problems = read_yaml(("\n" * (fragment.line - 1) + fragment.text).encode(), file)
    if not isinstance(tree, Mapping):
        return None, problems
    merged = merge(base, tree)
    assert isinstance(merged, Mapping)
    expanded, found = expand_circuits(merged)
    build, more = read_build(expanded)
    problems = [*problems, *found, *more]
    return (None if problems else build), problems


def complaint(rule: Rule, fragment: Fragment, results: tuple[Result, ...]) -> str:
    """Say what a fragment's heading expects of a rule and the results are not; empty where all is well."""
    answers = [result.answer for result in results]
    shown = ", ".join(f"{r.subject or 'build'}: {r.answer.value} {r.message}" for r in results)
    if fragment.heading == "Conforms":
        wanted = Answer.passes if rule.header.decides is None else Answer.review
        fine = set(answers) == {wanted}
        return "" if fine else f"expected {wanted.value} everywhere, got {shown}"
    if fragment.heading == "Missing":
        return "" if Answer.open in answers and Answer.fails not in answers else f"expected open, got {shown}"
    failed = [result for result in results if result.answer is Answer.fails]
    if not failed:
        return f"expected a failure, got {shown}"
    if fragment.expects and not any(fragment.expects in result.message for result in failed):
        return f"expected a finding with “{fragment.expects}”, got {shown}"
    return ""
