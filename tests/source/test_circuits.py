"""Circuits on one line are written out as ways, devices, switches and runs."""

import pytest

from specreg.source import Mapping, plain, read_yaml
from specreg.source.circuits import expand_circuits

BOXES = """
components:
  box: {kind: fuse-box, ways: {2: {fuse: 20 A}}}
  board: {kind: mains-board}
  panel: {kind: switch-panel}
circuits:
  pump: %s
"""


def expand(line: str) -> tuple[dict[str, object], list[str]]:
    tree, problems = read_yaml((BOXES % line).encode(), "spec.yaml")
    assert isinstance(tree, Mapping)
    expanded, more = expand_circuits(tree)
    return plain(expanded), [problem.message for problem in (*problems, *more)]


def test_a_whole_circuit() -> None:
    """Way, device, both runs, switch and labels follow from one line."""
    data, problems = expand("box/7 10 A blade · 1.5 mm² · 4.2 m · panel/1 · 1.3 m")
    assert not problems
    assert data == {
        "components": {
            "box": {
                "kind": "fuse-box",
                "ways": {
                    "7": {"fuse": "10 A", "label": "Pump", "family": "blade"},
                    "2": {"fuse": "20 A"},
                },
            },
            "board": {"kind": "mains-board"},
            "panel": {"kind": "switch-panel", "ways": {"1": {"label": "Pump"}}},
        },
        "runs": {
            "pump-feed": {
                "medium": "dc",
                "from": "box/7",
                "to": "panel/1",
                "conductor": "1.5 mm²",
                "length": "4.2 m",
                "return": "same cable",
            },
            "pump-load": {
                "medium": "dc",
                "from": "panel/1",
                "to": "pump",
                "conductor": "1.5 mm²",
                "length": "1.3 m",
                "return": "same cable",
            },
        },
    }


@pytest.mark.parametrize(
    ("line", "run"),
    [
        ("box/7 10 A", {"medium": "dc", "from": "box/7", "to": "pump", "return": "same cable"}),
        (
            "box/7 10 A | 14 AWG | 6 ft 3 in",
            {
                "medium": "dc",
                "from": "box/7",
                "to": "pump",
                "conductor": "14 AWG",
                "length": "6 ft 3 in",
                "return": "same cable",
            },
        ),
        ("board/3 16 A · to kettle", {"medium": "ac", "from": "board/3", "to": "kettle"}),
    ],
)
def test_shorter_circuits(line: str, run: dict[str, str]) -> None:
    """What a line leaves out is left out; a mains board gives a mains cable."""
    data, problems = expand(line)
    assert not problems
    assert data["runs"] == {"pump-feed": run}


def test_a_label_and_what_the_spec_says_itself_hold() -> None:
    """The spec's own way lies over what the line writes out."""
    data, problems = expand("'box/2 10 A · \"Bilge\"'")
    assert not problems
    assert data["components"]["box"]["ways"] == {"2": {"fuse": "20 A", "label": "Bilge"}}  # type: ignore[index]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("bax/7 10 A", "starts at `bax`, which is no box"),
        ("box/7", "begins with a way and its device"),
        ("box/7 10 A · something", "cannot tell what this is"),
        ("box/7 10 A · 1.5 mm · 4 m", "cannot tell what this is"),
        ("{a: 1}", "is written on one line"),
    ],
)
def test_what_cannot_be_read_is_told(line: str, message: str) -> None:
    """Each wrong line is one problem."""
    _, problems = expand(line)
    assert [message in problem for problem in problems] == [True]


def test_what_is_written_out_stands_where_its_line_stands() -> None:
    """A finding on the run points at the line of the circuit."""
    tree, _ = read_yaml((BOXES % "box/7 10 A").encode(), "spec.yaml")
    assert isinstance(tree, Mapping)
    expanded, _ = expand_circuits(tree)
    run = expanded.entries["runs"].node
    assert isinstance(run, Mapping)
    assert str(run.entries["pump-feed"].key_place) == "spec.yaml:7:9"
