"""An empty value in a build takes away what an assembly or a part brings, wherever the part was named."""

from pathlib import Path

import pytest

from specreg.workshop import load

PARTS = "cell:\n  kind: battery\n  capacity: 100 Ah\n  discharge_current: 80 A\ncold:\n  kind: fridge\n  power: 48 W\n"
ASSEMBLY = (
    "components:\n  bank: {kind: battery, part: cell, label: Bank}\n  box: {kind: fuse-box, label: Box}\n"
)
SPEC = """format: 1
build: van
title: Van
stage: enquiry
jurisdictions: [uk]
include: [{assembly: pack}]
components:
  bank: {BANK}
  fridge: {kind: fridge, part: cold, FRIDGE}
"""


def van(folder: Path, bank: str, fridge: str) -> Path:
    """A register with a part, an assembly that names it, and a van that takes both."""
    for name in ("parts", "assemblies", "van"):
        (folder / name).mkdir()
    (folder / "register.yaml").write_text("format: 1\n")
    (folder / "parts" / "parts.yaml").write_text(PARTS)
    (folder / "assemblies" / "pack.yaml").write_text(ASSEMBLY)
    (folder / "van" / "spec.yaml").write_text(SPEC.replace("BANK", bank).replace("FRIDGE", fridge))
    return folder / "van"


@pytest.mark.parametrize(
    ("bank", "fridge", "discharge", "label", "power"),
    [
        ("", "", 80.0, "Bank", 48.0),
        ("discharge_current: ~", "", None, "Bank", 48.0),
        ("label: ~", "", 80.0, None, 48.0),
        ("", "power: ~", 80.0, "Bank", None),
        ("discharge_current: 60 A", "power: 30 W", 60.0, "Bank", 30.0),
    ],
)
def test_an_empty_value_takes_away_what_lies_below_it(
    tmp_path: Path, bank: str, fridge: str, discharge: float | None, label: str | None, power: float | None
) -> None:
    """The part's field, the assembly's field, the part's field of a component of the build's own."""
    opened = load(van(tmp_path, bank, fridge))
    assert [problem.text() for problem in opened.problems] == []
    components = opened.sound[0].components
    assert getattr(components["bank"], "discharge_current") == discharge  # noqa: B009 - a field of its kind
    assert components["bank"].label == label
    assert getattr(components["fridge"], "power") == power  # noqa: B009 - as above


def test_a_whole_member_is_taken_away(tmp_path: Path) -> None:
    """An empty entry removes the component that the assembly brings."""
    folder = van(tmp_path, "", "")
    spec = folder / "spec.yaml"
    spec.write_text(spec.read_text() + "  box: ~\n")
    opened = load(folder)
    assert [problem.text() for problem in opened.problems] == []
    assert sorted(opened.sound[0].components) == ["bank", "fridge"]


def test_an_empty_value_over_nothing_is_a_problem(tmp_path: Path) -> None:
    """It would be a slip that nobody sees."""
    problems = load(van(tmp_path, "serial: ~", "")).problems
    assert ["`serial` is empty" in problem.message for problem in problems] == [True]
