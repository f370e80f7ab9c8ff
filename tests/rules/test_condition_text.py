"""Texts of findings and remedies: what is written, what is refused, what is missing."""

from __future__ import annotations

import pytest
from condition_world import PLACE, SCHEMA, world
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.rules.condition import compile_text
from specreg.units import System

WRITTEN = [
    ("no parts", "no parts"),
    ("", ""),
    ("{{ run }} is fed by {{ run.devices | names }}", "pump-feed is fed by F1 and F2"),
    ("{{ -run.cores }} and {{ 3 - run.cores }}", "-2 and 1"),
    ("{{ run.devices }}; {{ run.devices | where('breaks') | names }}", "F1 and F2; F1"),
    ("{{ run.ampacity | amps }} beside {{ run.let_through }}", "40 A beside 30 A"),
    ("{{ run.devices | each('rating') | sum }} of {{ run.devices | count }}", "30 A of 2"),
    ("{{ run.drop | as_percent }} of {{ run.cores }} cores", "2.5 % of 2 cores"),
    ("{{ run.made | as_date }}, engine: {{ run.starts_engine }}", "2024-05-01, engine: no"),
    ("at {{ run.rated | as_temperature }}", "at unknown"),
    ("{{ run.ampacity | amps if run.ampacity is present else 'nothing' }}", "40 A"),
    ("{{ run.rated | as_temperature if run.rated is present else 'nothing' }}", "nothing"),
    ("a } b { c", "a } b { c"),
    ("{{ run.ampacity / (run.let_through - run.let_through) }}", "unknown"),
    ("{{ " + " * ".join(["1e15"] * 21) + " }}", "unknown"),  # 10 to the 315th is beyond all floats
    ("{{ run.ampacity * run.voltage | volts }}", None),  # a filter binds tighter than `*`
]


@pytest.mark.parametrize(("text", "sentence"), WRITTEN)
def test_written(text: str, sentence: str | None) -> None:
    """Each part is written by its filter, or as its dimension is usually written."""
    compiled, problems = compile_text(text, SCHEMA, PLACE)
    if sentence is None:
        assert compiled is None
        assert problems
    else:
        assert compiled is not None, problems
        assert compiled.render(world(), System.metric) == sentence


def test_units_follow_the_reader() -> None:
    """The same text gives metric figures to one reader and US figures to another: 7 in is 177.8 mm."""
    compiled, _ = compile_text("within {{ limits.distance | as_length }}", SCHEMA, PLACE)
    assert compiled is not None
    assert compiled.render(world(), System.us) == "within 7 in"
    assert "in" not in compiled.render(world(), System.metric).removeprefix("within")


REFUSED = [
    ("{% if true %}x{% endif %}", "only `{{ … }}` parts are allowed", 10),
    ("see {# note #}", "only `{{ … }}` parts are allowed", 14),
    ("{{ run.name", "only `{{ … }}` parts are allowed", 10),
    ("{{- run.ampacity }}", "a sign directly at", 12),
    ("{{ }}", "the expression is empty", 12),
    ("fit {{ run.ampacty | amps }}", 'nearest is "ampacity"', 21),
    ("{{ run.length | amps }}", "`amps` writes a current, and this is a length", 26),
    ("{{ run.length | names }}", "`names` works on a list", 26),
    ("{{ run.length | as_date }}", "`as_date` writes a date", 26),
    ("{{ run.length | as_percent }}", "`as_percent` writes a ratio", 26),
    ("{{ run.length | as_lenght }}", 'nearest is "as_length"', 26),
    ("x" * 2001, "the text has 2001 characters", 10),
]


@pytest.mark.parametrize(("text", "reason", "column"), REFUSED)
def test_refused(text: str, reason: str, column: int) -> None:
    """A refused text says why, at the part that is wrong."""
    compiled, problems = compile_text(text, SCHEMA, PLACE)
    assert compiled is None
    found = [problem for problem in problems if reason in problem.text()]
    assert found, [problem.text() for problem in problems]
    assert found[0].place is not None
    assert found[0].place.column == column


def test_problems_of_all_parts_are_told() -> None:
    """Every part is checked, whatever is wrong with the others."""
    _, problems = compile_text("{{ rum }} and {{ run.ampacty }} and {% x %}", SCHEMA, PLACE)
    assert len(problems) == 4  # two unknown words, one bracket at either end of the statement


def test_reads_of_all_parts() -> None:
    """A text knows the names that its parts mention."""
    compiled, _ = compile_text(
        "{{ run }} {{ run.length }} {{ run.ampacity }} {{ run.length }}", SCHEMA, PLACE
    )
    assert compiled is not None
    assert compiled.reads == ("run", "run.length", "run.ampacity")


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet="{}%#- run.medi|'\n", max_size=60))
def test_any_text_is_answered_with_problems_or_a_text(text: str) -> None:
    """Whatever the text, there is a text or a problem, and a text without brackets is itself."""
    compiled, problems = compile_text(text, SCHEMA, PLACE)
    assert (compiled is None) == bool(problems)
    if compiled is not None and "{{" not in text:
        assert compiled.render(world(), System.metric) == text
