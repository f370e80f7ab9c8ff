"""Labels stay: whatever is put in, taken out or renamed between two assignments, a thing keeps its label."""

import json
from dataclasses import dataclass, field

import pytest
from building import read
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.model.build import Build
from specreg.model.designation import assign, designated
from specreg.model.read import read_build
from specreg.model.renaming import current_id
from specreg.source import Mapping, read_yaml

HEADER = {"format": 1, "build": "van", "title": "Van", "stage": "design", "jurisdictions": ["uk"]}
FUSE = {"fuse": "10 A", "family": "blade", "distance": "0 m"}
CHANGES = ("insert way", "remove way", "rename way", "insert device", "remove device", "rename device")
STEPS = st.lists(
    st.tuples(st.sampled_from((*CHANGES, "rename box", "rename cable")), st.integers(0, 9)), max_size=14
)


@dataclass
class Van:
    """A box of ways and a cable with in-line devices; each thing is known by a number that nobody sees."""

    box: str = "box"
    cable: str = "cable"
    ways: dict[str, int] = field(default_factory=dict)
    devices: dict[str, int] = field(default_factory=dict)
    renamed: dict[str, str] = field(default_factory=dict)
    made: int = 0

    def apply(self, change: str, which: int) -> None:
        """Change the spec as a person would, and declare what was renamed."""
        self.made += 1
        fresh = f"x{self.made}"
        verb, thing = change.split()
        if thing in ("box", "cable"):
            self.renamed[getattr(self, thing)] = fresh
            setattr(self, thing, fresh)
            return
        things, owner = (self.ways, self.box) if thing == "way" else (self.devices, self.cable)
        if verb == "insert":
            items = [*things.items()]
            items.insert(which, (fresh, self.made))
        elif things:
            name = list(things)[which % len(things)]
            items = [
                (fresh if key == name else key, value)
                for key, value in things.items()
                if verb == "rename" or key != name
            ]
            if verb == "rename":
                self.renamed[f"{owner}/{name}"] = f"{owner}/{fresh}"
        else:
            return
        things.clear()
        things.update(items)
        there = set(self.numbers())
        self.renamed = {
            old: new for old, new in self.renamed.items() if current_id(old, self.renamed) in there
        }

    def numbers(self) -> dict[str, int]:
        """Everything that bears a label, by its id of today."""
        boxes = {self.box: -1, self.cable: -2}
        ways = {f"{self.box}/{name}": number for name, number in self.ways.items()}
        return boxes | ways | {f"{self.cable}/{name}": number for name, number in self.devices.items()}

    def build(self, labels: dict[str, str]) -> Build:
        """Read it, with the labels that are on file."""
        spec = {
            **HEADER,
            "renamed": self.renamed,
            "components": {
                "cell": {"kind": "battery"},
                self.box: {"kind": "fuse-box", "ways": {way: {"fuse": "10 A"} for way in self.ways}},
            },
            "runs": {
                self.cable: {
                    "medium": "dc",
                    "from": "cell/positive",
                    "to": f"{self.box}/feed",
                    "return": "chassis",
                    "protection": dict.fromkeys(self.devices, FUSE),
                }
            },
        }
        tree, _ = read_yaml(json.dumps(spec).encode(), "spec.yaml")
        assert isinstance(tree, Mapping)
        made, problems = read_build(tree, labels)
        assert made is not None and not problems, [problem.text() for problem in problems]
        return made


@settings(max_examples=150, deadline=None)
@given(STEPS)
def test_no_history_changes_a_label(steps: list[tuple[str, int]]) -> None:
    """Each thing keeps the first label that it was given, and no two things ever have the same."""
    van, on_file, first = Van(), dict[str, str](), dict[int, str]()
    for change, which in [("insert way", 0), ("insert device", 0), *steps]:
        van.apply(change, which)
        build = van.build(on_file)
        added = assign(build)
        assert not added.keys() & on_file.keys(), "the file is only added to"
        on_file |= added
        labels = van.build(on_file).designations
        for name, number in van.numbers().items():
            assert first.setdefault(number, labels[name]) == labels[name], (change, name)
    assert len(set(first.values())) == len(first)
    assert len(set(on_file.values())) == len(on_file)


TWO = """
components:
  cell: {kind: battery}
  box: {kind: fuse-box}
runs:
  main: {medium: dc, from: cell/positive, to: box/feed, return: chassis, protection: %s}
"""


def test_a_device_alone_in_a_list_is_called_1() -> None:
    """The short form, and the long form that keeps its label beside another device put in before it."""
    alone, problems = read(TWO % "[{fuse: 40 A, distance: 200 mm}]")
    assert alone is not None and not problems
    assert "main/1" in dict(designated(alone))
    both, problems = read(TWO % "{near: {fuse: 60 A, distance: 50 mm}, 1: {fuse: 40 A, distance: 200 mm}}")
    assert both is not None and not problems
    run = both.runs["main"]
    assert {f"main/{name}" for name in run.protection} == {"main/near", "main/1"}  # type: ignore[attr-defined]
    assert run.protection["1"].fuse == 40  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("protection", "said"),
    [
        ("[{fuse: 60 A}, {fuse: 40 A}]", "`main` has 2 in-line devices without names"),
        ("{Near Box: {fuse: 60 A}}", "the name of an in-line device is words or numbers joined by hyphens"),
        ("{near: {fuze: 60 A}}", "`fuze`"),
        ("[{fuze: 60 A}]", "`fuze`"),
    ],
)
def test_what_is_refused(protection: str, said: str) -> None:
    """Two without names, a name that is none, and a slip within either form, each at its own place."""
    _, problems = read(TWO % protection)
    assert len(problems) == 1, problems
    assert said in problems[0].text()
    assert problems[0].place is not None and problems[0].place.line == 6


@pytest.mark.parametrize(
    ("renamed", "labels", "said"),
    [
        ("{cell: battery}", {}, "is there under its old id too"),
        ("{batt: sell}", {}, "which is nothing that bears a designation"),
        ("{a: b, b: a}", {}, "which is nothing that bears a designation"),
        ("{batt: cell}", {"batt": "-G1", "cell": "-G2"}, "`cell` would be -G1 and -G2"),
    ],
)
def test_renamings_that_cannot_be(renamed: str, labels: dict[str, str], said: str) -> None:
    """An id in use, a new id that is nothing, a circle, and a thing that has labels under both ids."""
    text = TWO % "{}" + f"renamed: {renamed}\n" + "\n".join(f"{k}: {v}" for k, v in HEADER.items())
    tree, _ = read_yaml(text.replace("['uk']", "[uk]").encode(), "spec.yaml")
    assert isinstance(tree, Mapping)
    _, problems = read_build(tree, labels)
    assert any(said in problem.text() for problem in problems), problems
    assert {problem.place.line for problem in problems if problem.place} == {7}


@pytest.mark.parametrize(
    ("old", "new"),
    [("a", "c"), ("a/1", "c/2"), ("a/9", "c/9"), ("b/1", "c/2"), ("d", "d"), ("e", "e"), ("f", "f")],
)
def test_the_id_of_today(old: str, new: str) -> None:
    """Through chains; a box takes its ways along unless a way was renamed itself; a circle leads nowhere."""
    assert current_id(old, {"a": "b", "b": "c", "c/1": "c/2", "e": "f", "f": "e"}) == new
