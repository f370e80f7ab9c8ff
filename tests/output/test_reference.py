"""The reference and the glossary are made from the model and hold all of it."""

import re

import pytest
from pydantic import BaseModel

import specreg.facts.all  # noqa: F401 - registers the facts
from specreg.model.build import Header, Jurisdiction, Stage
from specreg.model.component import Component
from specreg.model.field import Reader
from specreg.model.kinds import kinds
from specreg.model.port import Medium
from specreg.model.run import RUNS, Run
from specreg.output.glossary import ANSWERS, LEVELS, MEDIA, READERS, STAGES, TERMS, glossary
from specreg.output.spec_reference import spec_reference
from specreg.rules.document import Level
from specreg.rules.result import Answer

TEXT = spec_reference()
SECTIONS = dict(re.findall(r"^#{2,3} ([^\n]+)\n\n(.*?)(?=^#{2,3} |\Z)", TEXT, re.DOTALL | re.MULTILINE))


def keys(section: str) -> set[str]:
    """The keys that a section tells."""
    return set(re.findall(r"^\| `([^`]+)` \|", SECTIONS[section], re.MULTILINE))


def written(model: type[BaseModel]) -> set[str]:
    """The keys that a spec writes for a model."""
    return {field.alias or name for name, field in model.model_fields.items()}


def test_the_van_is_told_whole() -> None:
    """Every key of the header."""
    assert keys("The van") == written(Header)


@pytest.mark.parametrize("kind", sorted(kinds()))
def test_every_key_of_a_kind_is_told(kind: str) -> None:
    """In its own section, or in that of every component."""
    assert written(kinds()[kind]) - {"kind"} == keys(kind) | keys("Every component")
    assert keys("Every component") == written(Component) - {"kind"}


@pytest.mark.parametrize("medium", RUNS)
def test_every_key_of_a_run_is_told(medium: str) -> None:
    """In the section of its medium, or in that of every run."""
    assert written(RUNS[medium]) - {"medium"} <= keys(f"Run: {medium}") | keys("Every run")
    assert keys("Every run") == written(Run) - {"medium"}


def test_what_keys_hold_inside_is_told() -> None:
    """Every inner part that a form names has a section of its own."""
    named = {name for name in re.findall(r"(?<![\w*])\*([a-z][a-z ]+)\*(?!\*)", TEXT) if name != "needed"}
    assert named - {"reader"} <= SECTIONS.keys()


@pytest.mark.parametrize(
    ("section", "row"),
    [
        ("pump", "| `power` | Rated power when running. | power (W, kW, mW) | `60 W` |  | public |"),
        ("Every component", "| `price` | Price paid, with the currency. | text | `129 GBP` |  | workshop |"),
        (
            "Every component",
            "| `count` | How many alike stand here as one. | whole number | `2` | `1` | public |",
        ),
    ],
)
def test_a_row_says_meaning_form_example_default_and_reader(section: str, row: str) -> None:
    """As an author reads it."""
    assert row in SECTIONS[section]


def test_ports_are_told() -> None:
    """A run names them."""
    assert "`positive` (dc, positive)" in SECTIONS["battery"]


def test_the_glossary_tells_every_word_of_the_closed_lists() -> None:
    """A word that is added to the model is missed here."""
    assert (set(ANSWERS), set(LEVELS), set(STAGES)) == (set(Answer), set(Level), set(Stage))
    assert (set(READERS), set(MEDIA)) == (set(Reader), set(Medium))
    text = glossary()
    assert all(f"| {stage.value} |" in text for stage in Stage)
    assert all(f"`{one.value}`" in text for one in Jurisdiction)


def test_the_terms_stand_in_order_once() -> None:
    """As in any glossary."""
    names = [name for name, _, _ in TERMS]
    assert len(set(names)) == len(names)
    assert all(meaning and whose for _, meaning, whose in TERMS)
