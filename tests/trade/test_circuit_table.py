"""Circuits go out as a table and come back unchanged."""

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from specreg.cli.commands import cli
from specreg.output.rows import as_csv
from specreg.source import plain
from specreg.source.circuit_table import COLUMNS, line_of, lines_of, reads_back, row_of
from specreg.source.circuits import Line
from specreg.source.register import open_register, read_source
from specreg.trade.circuit_answers import is_circuits, read_circuits

BUILDS = Path(__file__).parents[2] / "builds"

ids = st.from_regex(r"[a-z]{1,6}(-[a-z0-9]{1,4})?", fullmatch=True)
ways = st.from_regex(r"[A-Za-z0-9-]{1,4}", fullmatch=True)
lengths = st.decimals("0.1", "30", places=2).map(lambda number: f"{number} m")
conductors = st.sampled_from(["", "1.5 mm²", "2.5 mm²", "14 AWG"])
families = st.sampled_from(["", "blade", "mini blade"])
labels = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=12).map(
    lambda text: " ".join(text.replace("·", "").replace("|", "").replace('"', "").split())
)


@st.composite
def circuits(draw: st.DrawFn) -> tuple[str, Line]:
    name = draw(ids)
    panel = draw(st.one_of(st.just(""), ids))
    line = Line(
        draw(st.one_of(st.just(name), ids)), draw(ids), draw(ways),
        f"{draw(st.integers(1, 60))} A", draw(families), draw(conductors), panel,
        draw(ways) if panel else "", draw(st.lists(lengths, max_size=1)),
        draw(st.lists(lengths, max_size=1)) if panel else [], draw(labels),
    )  # fmt: skip
    return name, line


@given(circuits())
def test_a_circuit_comes_back_from_its_row_and_from_its_line(one: tuple[str, Line]) -> None:
    """As a row of cells, and as the line that is written of that."""
    name, line = one
    assert line_of(dict(zip(COLUMNS, row_of(name, line), strict=True))) == (name, line)
    assert reads_back(name, line)


@given(st.lists(circuits(), max_size=5, unique_by=lambda one: one[0]))
def test_a_table_comes_back_with_nothing_new(listed: list[tuple[str, Line]]) -> None:
    """Printed and read, every circuit is the one that the build has."""
    printed = as_csv(COLUMNS, [row_of(name, line) for name, line in listed]).encode()
    assert is_circuits(printed)
    answers = read_circuits(printed, "circuits.csv", dict(listed))
    assert answers.fitted == {}
    assert [one for one in answers.problems if listed] == []
    assert len(answers.known) == len(listed)


@pytest.mark.parametrize("build", ["fieldwork", "pocket", "winter-tourer", "second-hand"])
def test_the_circuits_of_the_demos_come_back(build: str) -> None:
    """Each of their lines, too."""
    lines = lines_of(open_register(BUILDS, "builds"), BUILDS / build)
    printed = as_csv(COLUMNS, [row_of(name, line) for name, line in lines.items()]).encode()
    answers = read_circuits(printed, "circuits.csv", lines)
    assert (answers.fitted, len(answers.known)) == ({}, len(lines))


SPEC = """\
format: 1
build: heron
title: Two-berth van
stage: design
jurisdictions: [uk]
components:
  fuse-box: {kind: fuse-box}
  water-pump: {kind: pump, power: 60 W, supply_voltage: 12 V}
circuits:
  water-pump: fuse-box/1 10 A blade · 1.5 mm² · 3 m
"""


@pytest.mark.parametrize("handed_over", [False, True])
def test_an_edited_row_changes_the_van_and_no_file_of_the_spec(tmp_path: Path, handed_over: bool) -> None:
    """Before hand-over and after it; a row that is wrong is told with its place."""
    folder = tmp_path / "heron"
    folder.mkdir()
    (folder / "spec.yaml").write_text(SPEC, encoding="utf-8")
    run = CliRunner()
    if handed_over:
        shown = run.invoke(cli, ["hand-over", str(folder), "--on", "2026-05-20", "--show"]).stdout
        (folder / "as-built.yaml").write_text(shown, encoding="utf-8")
    table = tmp_path / "circuits.csv"
    head = run.invoke(cli, ["schedule", str(folder), "--circuits"]).stdout.splitlines()[0]
    table.write_text(f"{head}\nwater-pump,fuse-box,1,10 A,blade,2.5 mm²,3.4 m,,,,,Pump\n", encoding="utf-8")
    done = run.invoke(cli, ["record", str(folder), str(table), "--write"])
    assert done.exit_code == 0, done.output
    tree = read_source(open_register(tmp_path, "builds"), folder).tree
    assert tree is not None
    run_ = plain(tree)["runs"]["water-pump-feed"]
    assert (run_["conductor"], run_["length"]) == ("2.5 mm²", "3.4 m")
    assert (folder / "spec.yaml").read_text(encoding="utf-8") == SPEC
    table.write_text(f"{head}\nwater-pump,fuse-box,1,10 A,blade,thick,3.4 m,,,,,\n", encoding="utf-8")
    done = run.invoke(cli, ["record", str(folder), str(table), "--write"])
    assert done.exit_code == 2
    assert "circuits.csv:2:1" in done.stderr
