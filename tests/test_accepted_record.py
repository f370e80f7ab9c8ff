"""The record of accepted findings, asked directly: what it calls a finding, and what it takes from a file."""

from dataclasses import replace

import pytest
from small_register import HERON, RULES

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.accepted import Known, Record, key_of, known_of, read_record, record_text
from specreg.model.build import Build
from specreg.model.read import read_build
from specreg.rules.document import Level
from specreg.rules.pack import Pack, pack_of
from specreg.rules.result import Answer, Result
from specreg.source import Mapping, Place, read_yaml

RESULT = Result(
    "dc/battery-large-enough",
    "The battery holds enough",
    "dc",
    Level.error,
    Answer.fails,
    "house-battery",
    "house battery",
    Place("spec.yaml", 8, 3),
    message="it holds 80 Ah",
)
KNOWN = known_of("heron", RESULT)


def pack() -> Pack:
    """The rules of the small register, one of which has had another name."""
    old = RULES["dc/battery-large-enough"].replace("judges:", "formerly: [dc/old]\njudges:")
    found, problems = pack_of({"dc/battery-large-enough.md": old}, "rules")
    assert not problems
    return found


def build() -> Build:
    """The heron, in which a battery has had another name."""
    tree, _ = read_yaml((HERON + "renamed: {old-battery: house-battery}\n").encode(), "spec.yaml")
    assert isinstance(tree, Mapping)
    found, problems = read_build(tree)
    assert found is not None and not problems
    return found


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({}, ("heron", "dc/battery-large-enough", "house-battery", "", "")),
        ({"case": "night"}, ("heron", "dc/battery-large-enough", "house-battery", "night", "")),
        ({"jurisdiction": "uk"}, ("heron", "dc/battery-large-enough", "house-battery", "", "uk")),
    ],
)
def test_what_tells_a_finding_from_another(change: dict[str, str], key: tuple[str, ...]) -> None:
    """A failure at night does not stand for one by day, nor one country for another."""
    result = replace(RESULT, **change)  # type: ignore[arg-type]
    assert key_of("heron", result) == known_of("heron", result).key == key


@pytest.mark.parametrize(("message", "says"), [("it holds 80 Ah", "it holds 80 Ah"), ("", RESULT.title)])
def test_what_a_finding_said(message: str, says: str) -> None:
    """Its sentence, or what must hold where it had none."""
    known = known_of("heron", replace(RESULT, message=message, reason="missing"))
    assert (known.says, known.level, known.reason) == (says, Level.error, "missing")


@pytest.mark.parametrize(
    ("change", "key"),
    [
        ({}, KNOWN.key),
        ({"rule": "dc/old", "subject": "old-battery"}, KNOWN.key),
        ({"rule": "dc/gone"}, ("heron", "dc/gone", "house-battery", "", "")),
        ({"build": "crane"}, None),
    ],
)
def test_what_is_known_of_a_build(change: dict[str, str], key: tuple[str, ...] | None) -> None:
    """By the names of today; a rule that the pack no longer has keeps its own, another van is left out."""
    known = KNOWN.model_copy(update=change)
    assert Record("accepted.yaml", (known,)).of(build(), pack()) == ({key: known} if key else {})


@pytest.mark.parametrize("number", [0, 1, 3])
def test_what_is_written_is_read_back(number: int) -> None:
    """In the order of what they are about; words with quotation marks and accents as they are."""
    findings = [
        Known(build="heron", rule=f"dc/{name}", level=Level.note, says=f'"{name}": 5 mm² à côté')
        for name in "cab"[:number]
    ]
    record, problems = read_record(record_text(findings).encode(), "accepted.yaml")
    assert not problems
    assert record == Record("accepted.yaml", tuple(sorted(findings, key=lambda one: one.rule)))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        (record_text([KNOWN]) + "format: 1\n", 7),
        ("format: 1\nfindings: [\n", 3),
        ("- 1\n", 1),
        ("format: 1\nfindings: [{}]\n", 2),
    ],
)
def test_a_record_with_a_problem_is_none(text: str, line: int) -> None:
    """A key that stands twice, too: whichever of the two were taken, somebody meant the other."""
    record, problems = read_record(text.encode(), "accepted.yaml")
    assert record is None
    assert {problem.place.line for problem in problems if problem.place} >= {line}
