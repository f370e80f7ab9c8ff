"""A register's folders become one tree for each build; parts and assemblies keep their origin."""

from pathlib import Path

import pytest

from specreg.source import at, plain, where
from specreg.source.listing import build_folders
from specreg.source.register import Source, open_register, read_source

FILES = {
    "register.yaml": "workshop: The workshop\ndefaults: {insulation: 105 °C, routing_factor: 1.3}\n",
    "parts/dc.yaml": "pump-10l:\n  kind: pump\n  power: 60 W\n  mass: 1.9 kg\n",
    "assemblies/light-pair.yaml": """\
parameters:
  power: {type: text, default: 3 W}
  dimmed: {type: boolean, default: false}
components:
  left: {kind: ceiling-light, power: "{power}"}
  right: {kind: ceiling-light, power: "{power}"}
  dimmer: {kind: dimmer, when: "{dimmed}"}
runs:
  feed: {medium: dc, from: dimmer/out, to: left, return: same cable, when: "{dimmed}"}
""",
    "one/spec.yaml": """\
build: one
include:
  - {assembly: light-pair, set: {power: 5 W}}
  - {assembly: light-pair, prefix: rear, set: {dimmed: true}}
components:
  pump: {kind: pump, part: pump-10l, power: 55 W}
  left: {label: Over the bed}
""",
    "one/water.yaml": "components:\n  tank: {kind: fresh-tank}\n",
}


def lay(folder: Path, **changes: str) -> Source:
    """Write the register with some files changed, and read its first build."""
    for name, text in {**FILES, **{k.replace("__", "/") + ".yaml": v for k, v in changes.items()}}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    register = open_register(folder, "builds")
    return read_source(register, build_folders(folder)[0])


def test_everything_is_merged(tmp_path: Path) -> None:
    """Standards, assemblies with their parameters, parts and the files beside the spec."""
    source = lay(tmp_path)
    assert source.problems == ()
    assert source.tree is not None
    data = plain(source.tree)
    assert data["workshop"] == "The workshop"
    assert data["defaults"] == {"insulation": "105 °C", "routing_factor": 1.3}
    assert data["components"] == {
        "left": {"kind": "ceiling-light", "power": "5 W", "label": "Over the bed"},
        "right": {"kind": "ceiling-light", "power": "5 W"},
        "rear-left": {"kind": "ceiling-light", "power": "3 W"},
        "rear-right": {"kind": "ceiling-light", "power": "3 W"},
        "rear-dimmer": {"kind": "dimmer"},
        "pump": {"kind": "pump", "power": "55 W", "mass": "1.9 kg", "part": "pump-10l"},
        "tank": {"kind": "fresh-tank"},
    }
    assert data["runs"] == {
        "rear-feed": {"medium": "dc", "from": "rear-dimmer/out", "to": "rear-left", "return": "same cable"}
    }


def test_every_value_knows_where_it_came_from(tmp_path: Path) -> None:
    """A value that overrides a part's names both places; a parameter names the line that set it."""
    source = lay(tmp_path)
    assert source.tree is not None
    power = at(source.tree, ("components", "pump", "power"))
    assert power is not None
    assert where(power) == "builds/one/spec.yaml:6:45, from builds/parts/dc.yaml:3:10"
    mass = at(source.tree, ("components", "pump", "mass"))
    assert mass is not None
    assert str(mass.place) == "builds/parts/dc.yaml:4:9"
    set_here = at(source.tree, ("components", "left", "power"))
    assert set_here is not None
    assert set_here.place.file == "builds/one/spec.yaml"


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"one__water": "title: twice\nbuild: one\n"}, "`build` is already stated at"),
        ({"one__water": "components:\n  pump: {kind: tap}\n"}, "`pump` is already stated at"),
        (
            {"one__spec": "build: one\nvehicle: {zones: {a: {title: Galley, left}}}\n"},
            "nothing below it to remove",
        ),
        ({"one__spec": "build: two\n"}, "equals the name of its folder"),
        ({"one__spec": "build: one\ninclude: [{assembly: light-par}]\n"}, "no such assembly"),
        ({"one__spec": "build: one\ncomponents: {a: {part: pump-1l}}\n"}, "no such part"),
        (
            {"one__spec": "build: one\ninclude: [{assembly: light-pair, set: {powr: 1 W}}]\n"},
            "the assembly has no such parameter",
        ),
        (
            {"one__spec": "build: one\ninclude: [{assembly: light-pair, set: {dimmed: 1 W}}]\n"},
            "has another type",
        ),
        (
            {"one__spec": "build: one\ninclude: [{assembly: light-pair}, {assembly: light-pair}]\n"},
            "comes from two assemblies",
        ),
    ],
)
def test_what_does_not_fit_is_told(tmp_path: Path, changes: dict[str, str], message: str) -> None:
    """Each mistake in the register's files is told once or more, and never passed over."""
    source = lay(tmp_path, **changes)
    assert any(message in problem.message for problem in source.problems)


def test_a_build_that_cannot_be_read_stops_nothing_else(tmp_path: Path) -> None:
    """A file that is no mapping is a problem of its build alone."""
    source = lay(tmp_path, one__spec="- a list\n", one__water="[\n")
    assert source.tree is None
    assert len(source.problems) == 2


def test_the_private_file_adds_to_any_entry(tmp_path: Path) -> None:
    """Serial numbers and identity may sit in a file that git ignores."""
    private = "vehicle: {identity: {plate: AB 12}}\ncomponents: {pump: {serial: S-1}}\n"
    source = lay(tmp_path, one__private=private)
    assert source.problems == ()
    assert source.tree is not None
    assert plain(source.tree)["components"]["pump"]["serial"] == "S-1"


def test_an_empty_value_takes_away_what_a_part_brings(tmp_path: Path) -> None:
    """That is what it is for, and no slip."""
    source = lay(tmp_path, one__spec="build: one\ncomponents: {pump: {part: pump-10l, mass: ~}}\n")
    assert source.problems == ()
    assert source.tree is not None
    assert "mass" not in plain(source.tree)["components"]["pump"]
