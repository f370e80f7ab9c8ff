"""Values for people and machines, rows, styles, and files written whole."""

import io
import os
from dataclasses import dataclass
from datetime import date
from math import inf, isfinite, nan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.facts.value_type import list_of, text, view
from specreg.facts.value_type import number as number_type
from specreg.model.build import Stage
from specreg.output.rows import as_csv, in_columns
from specreg.output.style import Style, style_for
from specreg.output.value import SI_UNITS, machine, number, shortened, worded
from specreg.units import Dimension, System, parse, parse_conductor
from specreg.writing import write_whole


@pytest.mark.parametrize(
    ("value", "dimension", "system", "expected"),
    [
        (None, None, System.metric, "not stated"),
        (True, None, System.metric, "yes"),
        (False, None, System.metric, "no"),
        (3, None, System.metric, "3"),
        (0.3, Dimension.length, System.metric, "300 mm"),
        (0.3048, Dimension.length, System.us, "12 in"),
        (inf, Dimension.current, System.metric, "without limit"),
        (nan, Dimension.current, System.metric, "not a number"),
        (date(2026, 5, 1), None, System.metric, "2026-05-01"),
        (Stage.hand_over, None, System.metric, "hand-over"),
        (parse_conductor("2/0 AWG"), None, System.metric, "2/0 AWG"),
        ((), None, System.metric, "none"),
        ((1.0, 2.0), Dimension.mass, System.metric, "1 kg, 2 kg"),
        ({"a": 1.0}, Dimension.mass, System.metric, "a: 1 kg"),
    ],
)
def test_values_in_words(value: Any, dimension: Dimension | None, system: System, expected: str) -> None:
    """As a person writes them."""
    assert worded(value, dimension, system) == expected


@pytest.mark.parametrize("dimension", [d for d in Dimension if SI_UNITS[d] not in ("", "1")])
def test_the_unit_beside_a_number_is_the_one_it_is_held_in(dimension: Dimension) -> None:
    """Where the unit can be read at all, one of it is read as 1 (kelvin as an absolute temperature)."""
    readable = {"C": "0.000277777777777777777 Ah", "kg/s": "3600 kg/h", "J/m²": "0.000001 MJ/m²"}
    readable |= {"1/K": "100 %/K"} | ({"m/s": "60000 mm/min"} if dimension is Dimension.burn_rate else {})
    unit = SI_UNITS[dimension]
    assert parse(readable.get(unit, f"1 {unit}"), dimension) == pytest.approx(1.0)


@dataclass(frozen=True)
class Joint:
    """A thing with a figure."""

    name: str
    current: float


def test_figures_inside_things_carry_their_units() -> None:
    """A list of things keeps what each number measures."""
    kind = list_of(view("joint", {"name": text(), "current": number_type(Dimension.current)}))
    assert machine((Joint("lug", 12.5),), kind) == [{"name": "lug", "current": {"value": 12.5, "unit": "A"}}]


@given(st.floats())
def test_numbers_survive_as_json(value: float) -> None:
    """Twelve digits of every finite number, words for the others."""
    found = number(value)
    if isinstance(found, str):
        assert not isfinite(value)
    else:
        assert found == pytest.approx(value, rel=1e-11, abs=0)


@given(st.text(max_size=300), st.integers(min_value=5, max_value=100))
def test_shortened_texts_are_short(words: str, longest: int) -> None:
    """Never longer than asked for, the mark apart, and untouched where short."""
    assert len(shortened(words, longest)) <= longest + 2
    assert shortened(words, max(len(words), longest)) == words


@pytest.mark.parametrize("cell", ["=1+1", "+49 30", "@name", "-F3", "\tx"])
def test_no_cell_becomes_a_formula(cell: str) -> None:
    """A spreadsheet shows the text instead of computing it; numbers stay numbers."""
    assert as_csv(["a"], [[cell]]).splitlines()[1].lstrip('"').startswith("'")
    assert as_csv(["a"], [["-1.5"]]).splitlines()[1] == "-1.5"


def test_empty_columns_are_left_out() -> None:
    """A table shows what there is."""
    assert in_columns(["a", "b", "c"], [["1", "", "x"], ["22", "", "y"]]) == ["a   c", "1   x", "22  y"]


ROWS = [["-F3", "fuse-box/pump", "a cable of a length that fills the line"], ["-F12", "x", "short"]]


@pytest.mark.parametrize("width", [20, 25, 30, 46, 60, 200])
def test_columns_give_way_on_a_narrow_terminal(width: int) -> None:
    """No line is wider than the terminal, no word is lost or cut, and wide enough means one line each."""
    lines = in_columns(["name", "id", "remark"], ROWS, width=width)
    assert max(map(len, lines)) <= width
    told = " ".join(lines).replace(";", " ").split()
    assert set(told) >= {word for row in ROWS for cell in row for word in cell.split()}
    assert (len(lines) == 3) is (width >= 60)


def test_a_row_that_fits_no_columns_is_told() -> None:
    """Each cell by the name of its column."""
    lines = in_columns(["name", "id", "remark"], ROWS, width=20)
    assert lines[:3] == ["name -F3; id", "  fuse-box/pump;", "  remark a cable of"]


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("stream", "environment", "expected"),
    [
        (io.StringIO(), {}, Style(None, False)),
        (io.StringIO(), {"COLUMNS": "90"}, Style(90, False)),
        (Terminal(), {"COLUMNS": "90"}, Style(90, True)),
        (Terminal(), {"COLUMNS": "90", "NO_COLOR": "1"}, Style(90, False)),
        (Terminal(), {"COLUMNS": "90", "TERM": "dumb"}, Style(90, False)),
        (Terminal(), {"COLUMNS": "5"}, Style(40, True)),
        (Terminal(), {"COLUMNS": "wide"}, Style(80, True)),
    ],
)
def test_style_follows_the_stream(
    stream: io.StringIO, environment: dict[str, str], expected: Style, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Colour only on a terminal and not against NO_COLOR; no wrapping into a pipe unless asked for."""
    monkeypatch.setattr("shutil.get_terminal_size", lambda: os.terminal_size((80, 24)))
    assert style_for(stream, environment) == expected


def test_no_line_ends_between_a_number_and_its_unit() -> None:
    """`300 mm` stays together."""
    wrapped = Style(20).wrap("a length of about 300 mm here")
    assert "300 mm" in wrapped


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the last step fails, the old file is as it was and nothing lies about."""
    path = tmp_path / "out.txt"
    write_whole(path, "old")
    monkeypatch.setattr(os, "replace", _refuse)
    with pytest.raises(OSError, match="full"):
        write_whole(path, "new")
    assert [(one.name, one.read_text()) for one in tmp_path.iterdir()] == [("out.txt", "old")]


def _refuse(*_: object) -> None:
    raise OSError("full")


def test_a_written_file_keeps_its_permissions_and_links(tmp_path: Path) -> None:
    """What a link leads to is written, not the link."""
    target, link = tmp_path / "real.txt", tmp_path / "link.txt"
    write_whole(target, "1")
    target.chmod(0o640)
    link.symlink_to(target)
    write_whole(link, "2")
    assert link.is_symlink()
    assert target.read_text() == "2"
    assert target.stat().st_mode & 0o777 == 0o640
