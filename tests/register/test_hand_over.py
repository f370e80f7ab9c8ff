"""A handed-over van is read from what was frozen: nothing that others share reaches it any more."""

import shutil
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.cli.commands import cli
from specreg.output.as_built import _scalar, as_built_text
from specreg.source import plain, read_yaml
from specreg.source.register import Source, open_register, read_source

BUILDS = Path(__file__).parents[2] / "builds"
DAY = date(2026, 5, 20)

REGISTER = "workshop: Test workshop\ndefaults: {insulation: 105 °C}\n"
PARTS = """\
pump-a: {kind: pump, title: Pump A, power: 60 W, supply_voltage: 12 V, mass: 1.5 kg, manual: folder 1, maker: Maker A}
pump-b: {kind: pump, power: 72 W, supply_voltage: 12 V, mass: 2 kg, maker: Maker B}
"""
ASSEMBLY = """\
components:
  house-battery: {kind: battery, capacity: 100 Ah, nominal_voltage: 12.8 V, short_circuit_current: 1.5 kA}
  fuse-box: {kind: fuse-box}
runs:
  battery-main:
    {medium: dc, from: house-battery/positive, to: fuse-box/feed, return: battery-return, conductor: 25 mm², length: 1 m}
  battery-return: {medium: dc, from: house-battery/negative, to: fuse-box/feed, conductor: 25 mm², length: 1 m}
"""
SPEC = """\
format: 1
build: heron
title: Two-berth van
stage: commissioning
jurisdictions: [uk]
as_of: 2026-05-20
include: [{assembly: power}]
components:
  water-pump: {part: pump-a, serial: A-17, title: Galley pump}
circuits:
  water-pump: fuse-box/pump 10 A blade · 1.5 mm² · 3 m
"""


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """A register with one part, one assembly and one van that uses both."""
    for name, text in {
        "register.yaml": REGISTER,
        "parts/water.yaml": PARTS,
        "assemblies/power.yaml": ASSEMBLY,
        "heron/spec.yaml": SPEC,
    }.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def read(register: Path) -> Source:
    return read_source(open_register(register, "builds"), register / "heron")


def tree(register: Path) -> dict[str, object]:
    source = read(register)
    assert source.tree is not None
    assert source.problems == ()
    return dict(plain(source.tree))


def freeze(register: Path) -> str:
    text = as_built_text(open_register(register, "builds"), register / "heron", DAY)
    (register / "heron" / "as-built.yaml").write_text(text, encoding="utf-8")
    return text


def change(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")


def test_a_frozen_van_reads_as_it_did(register: Path) -> None:
    """Only the day of hand-over is added."""
    before = tree(register)
    freeze(register)
    after = tree(register)
    assert after.pop("records") == {"handed_over_on": "2026-05-20"}
    assert after == before


@pytest.mark.parametrize("build", ["fieldwork", "winter-tourer", "pocket", "second-hand"])
def test_every_demo_freezes_to_what_it_is(build: str, tmp_path: Path) -> None:
    """What is read back has the same components, runs and standards."""
    shutil.copytree(BUILDS, tmp_path / "builds")
    shared = open_register(tmp_path / "builds", "builds")
    before = read_source(shared, tmp_path / "builds" / build)
    text = as_built_text(shared, tmp_path / "builds" / build, DAY)
    assert text == as_built_text(shared, tmp_path / "builds" / build, DAY)
    assert str(tmp_path) not in text
    (tmp_path / "builds" / build / "as-built.yaml").write_text(text, encoding="utf-8")
    after = read_source(shared, tmp_path / "builds" / build)
    assert before.tree is not None
    assert after.tree is not None
    for section in ("components", "runs", "defaults"):
        assert plain(after.tree)[section] == plain(before.tree)[section]


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("parts/water.yaml", "power: 60 W", "power: 90 W"),
        ("assemblies/power.yaml", "capacity: 100 Ah", "capacity: 80 Ah"),
        ("register.yaml", "insulation: 105 °C", "insulation: 60 °C"),
    ],
)
def test_what_vans_share_does_not_reach_it_any_more(register: Path, file: str, old: str, new: str) -> None:
    """Before hand-over the change reaches the van; afterwards it says what it said."""
    planned = tree(register)
    freeze(register)
    frozen = tree(register)
    change(register / file, old, new)
    assert tree(register) == frozen
    (register / "heron" / "as-built.yaml").unlink()
    assert tree(register) != planned


def test_nothing_of_find_inspect_and_publish_changes(register: Path) -> None:
    """The commands say the same, byte for byte, after part, assembly and standards have changed."""
    freeze(register)

    def said() -> list[str]:
        run = CliRunner()
        found = run.invoke(cli, ["find", str(register), "build=heron", "--format", "csv"]).stdout
        checked = run.invoke(cli, ["inspect", str(register / "heron"), "--format", "json"]).stdout
        into = register.parent / "site"
        run.invoke(cli, ["publish", str(register / "heron"), "--reader", "workshop", "--into", str(into)])
        pages = [path.read_text(encoding="utf-8") for path in sorted(into.rglob("*.html"))]
        assert pages
        return [found, checked, *pages]

    before = said()
    change(register / "parts/water.yaml", "power: 60 W", "power: 90 W")
    change(register / "assemblies/power.yaml", "capacity: 100 Ah", "capacity: 80 Ah")
    change(register / "register.yaml", "insulation: 105 °C", "insulation: 60 °C")
    assert said() == before


def test_another_part_takes_the_old_one_with_it(register: Path) -> None:
    """What the old part and the old piece said is gone; what the place said stays."""
    freeze(register)
    (register / "heron" / "fitted.yaml").write_text(
        "components: {water-pump: {part: pump-b, fitted_on: 2029-06-01}}\n", encoding="utf-8"
    )
    components = tree(register)["components"]
    assert isinstance(components, dict)
    assert components["water-pump"] == {
        **{"title": "Galley pump", "part": "pump-b", "kind": "pump", "power": "72 W"},
        **{"supply_voltage": "12 V", "mass": "2 kg", "maker": "Maker B", "fitted_on": "2029-06-01"},
    }


def test_what_was_fitted_is_laid_over_the_plan_before_hand_over(register: Path) -> None:
    """Lengths as laid, another fuse, a thing left out; the files of the plan stay as they are."""
    (register / "heron" / "fitted.yaml").write_text(
        "components: {fuse-box: {ways: {pump: {fuse: 7.5 A}}}}\nruns: {water-pump-feed: {length: 3.4 m}}\n",
        encoding="utf-8",
    )
    found = plain(read(register).tree)  # type: ignore[arg-type]
    assert found["components"]["fuse-box"]["ways"]["pump"]["fuse"] == "7.5 A"
    assert found["runs"]["water-pump-feed"]["length"] == "3.4 m"


def test_a_thing_is_taken_away_by_an_empty_value(register: Path) -> None:
    """An empty value of a name that is not there is a problem with its place."""
    freeze(register)
    fitted = register / "heron" / "fitted.yaml"
    fitted.write_text("components: {water-pump: ~}\nruns: {water-pump-feed: ~}\n", encoding="utf-8")
    assert "water-pump" not in plain(read(register).tree)["components"]  # type: ignore[arg-type]
    fitted.write_text("components: {water-pumpe: ~}\n", encoding="utf-8")
    assert [one.text() for one in read(register).problems] == [
        "builds/heron/fitted.yaml:1:14: problem: there is no `water-pumpe` to take away"
    ]


def test_the_plan_changed_after_hand_over_is_a_problem(register: Path) -> None:
    """What is no longer read says so; the head of the spec may change, and the plan may go."""
    freeze(register)
    change(register / "heron/spec.yaml", "title: Two-berth van", "title: The heron")
    assert read(register).problems == ()
    change(register / "heron/spec.yaml", "serial: A-17", "serial: A-18")
    (problem,) = read(register).problems
    assert "fitted.yaml" in (problem.remedy or "")
    text = SPEC[: SPEC.index("include:")]
    (register / "heron/spec.yaml").write_text(text, encoding="utf-8")
    assert read(register).problems == ()


def test_what_the_private_file_says_is_not_frozen(register: Path) -> None:
    """Git must not see it; it adds to the frozen spec as it did to the plan."""
    private = register / "heron" / "private.yaml"
    private.write_text("components: {house-battery: {serial: canary-1}}\n", encoding="utf-8")
    before = tree(register)["components"]
    assert "canary-1" not in freeze(register)
    assert tree(register)["components"] == before


def test_frozen_again_it_keeps_the_parts_of_then_and_takes_those_fitted_since(register: Path) -> None:
    """A part fitted later is pinned by freezing again, and the file of what was fitted may stay."""
    freeze(register)
    change(register / "parts/water.yaml", "power: 60 W", "power: 90 W")
    fitted = register / "heron" / "fitted.yaml"
    fitted.write_text(
        "components: {spare-pump: {part: pump-b}, water-pump: ~}\nruns: {water-pump-feed: ~}\n",
        encoding="utf-8",
    )
    text = freeze(register)
    text = freeze(register)
    assert "power: 90 W" not in text
    assert "taken_away: [water-pump, water-pump-feed]" in text
    before = tree(register)
    change(register / "parts/water.yaml", "power: 72 W", "power: 99 W")
    assert tree(register) == before


def test_frozen_again_it_names_where_each_value_came_from_at_first(register: Path) -> None:
    """Files of the build, of the parts and of the assembly with their lines, and what was fitted since; never itself."""
    change(register / "heron/spec.yaml", "serial: A-17", 'note: "see  # old/file.yaml:3", serial: A-17')
    first = freeze(register)
    assert "  water-pump:  # heron/spec.yaml:9" in first
    assert "    power: 60 W  # parts/water.yaml:1" in first
    assert "  house-battery:  # assemblies/power.yaml:2" in first
    assert freeze(register) == first
    fitted = register / "heron" / "fitted.yaml"
    fitted.write_text(
        "components:\n  water-pump:\n    power: 66 W\n  lamp: {kind: strip-light}\n", encoding="utf-8"
    )
    for _ in range(2):
        text = freeze(register)
        assert "    power: 66 W  # heron/fitted.yaml:3" in text
        assert "  lamp:  # heron/fitted.yaml:4" in text
        assert "  # heron/as-built.yaml" not in text
        others = [line for line in text.splitlines() if "fitted.yaml:" not in line]
        there = [line for line in others if line in first or "strip-light" in line]
        assert others == there


def test_hand_over_is_refused_with_what_stands_against_it(register: Path) -> None:
    """Exit 1, nothing written, the rules named, and how to see all."""
    done = CliRunner().invoke(cli, ["hand-over", str(register / "heron"), "--on", "2026-05-20"])
    assert done.exit_code == 1
    assert done.stdout.startswith("May it be handed over? No: ")
    assert "dc/positive-run-protected" in done.stdout
    assert "--for hand-over" in done.stdout
    assert not (register / "heron" / "as-built.yaml").exists()


def test_a_frozen_spec_is_not_written_over_unasked(register: Path) -> None:
    """Exit 2, and the file stays."""
    before = freeze(register)
    done = CliRunner().invoke(cli, ["hand-over", str(register / "heron"), "--on", "2027-05-20"])
    assert done.exit_code == 2
    assert "--again" in done.stderr
    assert (register / "heron" / "as-built.yaml").read_text(encoding="utf-8") == before


@settings(deadline=None)
@given(st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn"]), max_size=12))
def test_every_text_reads_back_as_that_text(text: str) -> None:
    """A frozen text is never a number, a truth or nothing."""
    read_back, problems = read_yaml(f"key: {_scalar(text)}\n".encode(), "file")
    assert read_back is not None
    assert not [one for one in problems if "empty" not in one.message]
    assert plain(read_back)["key"] == text
