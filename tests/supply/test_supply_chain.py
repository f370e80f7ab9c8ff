"""What the program is made of: every dependency, direct or brought along, with its licence, in DEVELOPERS.md."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator
from importlib import metadata
from itertools import chain
from pathlib import Path

import pytest
from oldest import DEMOS, EXTRAS, LEANING, WITH_EVERY_TEST, WITH_NO_TEST, constraints, required
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
OPTIONAL = PROJECT["optional-dependencies"]
OF_PROGRAM = ("editor", "photos", "preview", "spreadsheet")
FAMILIES = ("MPL", "PSF", "Apache", "BSD", "MIT")
"""Licences that ask for no more than their own files to stay open; the first that is named counts."""


def name_of(text: str) -> str:
    """A package's name as registries compare it."""
    return re.sub(r"[-_.]+", "-", text).lower()


def tables() -> list[dict[str, list[str]]]:
    """The tables of the section, each row by the packages that it speaks of."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.partition("\n## Dependencies\n")[2].partition("\n## ")[0]
    found: list[dict[str, list[str]]] = []
    for line in section.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("| package "):
            found.append({})
        elif line.startswith("|") and not line.startswith("|---"):
            found[-1] |= {name_of(name): cells[1:] for name in cells[0].split(", ")}
    return found


NEEDED, OPTIONS, BROUGHT, TESTED = tables()


def names_in(requirements: Iterable[str]) -> list[str]:
    """The packages that requirements name."""
    return [name_of(Requirement(one).name) for one in requirements]


def closure(names: Iterable[str]) -> set[str]:
    """All packages that packages need here, themselves included."""
    found: set[str] = set()
    waiting = list(names)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting += _needs(name)
    return found


def _needs(name: str) -> Iterator[str]:
    for text in metadata.requires(name) or ():
        requirement = Requirement(text)
        if requirement.marker is None or requirement.marker.evaluate({"extra": ""}):
            yield name_of(requirement.name)


def licence_of(name: str) -> str:
    """The licence that an installed package states."""
    told = metadata.metadata(name)
    classes = [one for one in told.get_all("Classifier") or () if one.startswith("License ::")]
    plain = [*(told.get_all("License") or ()), ""][0].partition("\n")[0]
    return (
        " ".join(told.get_all("License-Expression") or (one.rpartition(" :: ")[2] for one in classes))
        or plain
    )


def family(licence: str) -> str:
    """The family of a licence; the strictest of several."""
    licence = licence.replace("Mozilla Public License", "MPL").replace("Python Software Foundation", "PSF")
    return next((one for one in FAMILIES if one in licence), licence)


def test_the_program_needs_what_the_table_says() -> None:
    """Each direct dependency has a row with a reason, and no row is left over."""
    assert list(NEEDED) == names_in(PROJECT["dependencies"])
    assert all(len(row) == 2 and len(row[1]) > 20 for row in NEEDED.values())


def imported() -> set[str]:
    """The packages, by the names of registries, that the program's modules import anywhere."""
    of_module = metadata.packages_distributions()
    found = set()
    for path in (ROOT / "specreg").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {one.name.partition(".")[0] for one in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.partition(".")[0])
    strangers = found - sys.stdlib_module_names - {"specreg"}
    return {name_of(package) for module in strangers for package in of_module[module]}


def test_what_is_imported_is_what_is_needed() -> None:
    """Each dependency is used; of what they bring along, what belongs to their own interfaces, as DEVELOPERS.md says."""
    through = {"lsprotocol", "markupsafe", "pydantic-core", "typing-extensions"}
    assert imported() == {*NEEDED, *OPTIONS} | through
    assert through <= set(BROUGHT)


def test_each_extra_brings_what_the_table_says() -> None:
    """And says which one."""
    said = {name: row[1] for name, row in OPTIONS.items()}
    assert said == {name: extra for extra in OF_PROGRAM for name in names_in(OPTIONAL[extra])}
    assert set(OPTIONAL) == {*OF_PROGRAM, "test", "develop"}


def test_what_comes_along_is_known() -> None:
    """A dependency that begins to bring another package is looked at before it is used."""
    direct = {*NEEDED, *OPTIONS}
    assert set(BROUGHT) == closure(direct) - direct
    for name, (_, by) in BROUGHT.items():
        assert name in closure([by]), f"{name} does not come with {by}"


def test_tests_and_development_need_what_the_table_says() -> None:
    """No more, no less."""
    named = {*names_in(OPTIONAL["test"]), *names_in(OPTIONAL["develop"])} - {"specreg", *NEEDED, *OPTIONS}
    assert set(TESTED) == named


@pytest.mark.parametrize("name", sorted({*NEEDED, *OPTIONS, *BROUGHT, *TESTED}))
def test_the_licence_is_the_one_that_is_listed(name: str) -> None:
    """As the installed package states it; tools that check types and form need not be installed."""
    if name not in (*NEEDED, *OPTIONS, *BROUGHT, *names_in(OPTIONAL["test"])) and not _installed(name):
        return
    listed = next(table[name][0] for table in (NEEDED, OPTIONS, BROUGHT, TESTED) if name in table)
    assert family(listed) == family(licence_of(name))
    assert family(listed) in FAMILIES


def _installed(name: str) -> bool:
    try:
        metadata.distribution(name)
    except metadata.PackageNotFoundError:
        return False
    return True


def test_what_tests_bring_along_is_as_free() -> None:
    """Their packages' packages are under one of the same licences."""
    found = {name: licence_of(name) for name in closure(names_in(OPTIONAL["test"]))}
    assert {name: one for name, one in found.items() if family(one) not in FAMILIES} == {}


def test_every_bound_is_a_lower_one_that_is_tried() -> None:
    """Whoever writes an upper bound, or two lower ones for a package, must say so here, and why."""
    text = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    oldest = dict(line.split("==") for line in constraints(text).split())
    assert set(oldest) == {*NEEDED, *OPTIONS, *names_in(OPTIONAL["test"])}
    assert set(EXTRAS) == {*OF_PROGRAM, "test"}
    assert dict(required(text)).items() <= oldest.items()


@pytest.mark.parametrize("wrong", ["a", "a<3", "a>=2,<3", "a~=2.1", "a==2", "a>=2; python_version < '4'"])
def test_another_form_of_bound_is_refused(wrong: str) -> None:
    """Rather than passed over, so that it would go untried."""
    with pytest.raises(ValueError, match="from which version on"):
        list(
            required(
                f"[project]\ndependencies = ['{wrong}']\n"
                if "'" not in wrong
                else f'[project]\ndependencies = ["{wrong}"]\n'
            )
        )


def test_what_is_run_with_the_oldest_is_there() -> None:
    """Tests and demo vans by their names."""
    assert [
        name
        for name in (*chain(*LEANING.values()), *(f"builds/{one}" for one in DEMOS))
        if not (ROOT / name).exists()
    ] == []


def test_every_package_is_run_in_its_oldest_version() -> None:
    """Whoever needs one more package says which tests lean on it."""
    assert {*LEANING, *WITH_EVERY_TEST, *WITH_NO_TEST} == {*NEEDED, *OPTIONS, *names_in(OPTIONAL["test"])}
