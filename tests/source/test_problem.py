"""How a problem reads, how problems are ordered, and which word is the nearest."""

from __future__ import annotations

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specreg.source.place import Place
from specreg.source.problem import Problem, Unreadable, nearest_word

HERE = Place("builds/heron/spec.yaml", 12, 5)


@pytest.mark.parametrize(
    ("problem", "text"),
    [
        (Problem(HERE, "unknown key"), "builds/heron/spec.yaml:12:5: problem: unknown key"),
        (Problem(None, "no build"), "problem: no build"),
        (
            Problem(HERE, "unknown key", read="mas", expected="a key", nearest="mass", remedy="mend it"),
            "builds/heron/spec.yaml:12:5: problem: unknown key: "
            'read "mas", expected a key, nearest is "mass"; mend it',
        ),
        (Problem(HERE, "odd", read=""), 'builds/heron/spec.yaml:12:5: problem: odd: read ""'),
        (Problem(None, "odd", remedy="mend it"), "problem: odd; mend it"),
        (Problem(None, "odd", read="a\nb\x1b[1m"), 'problem: odd: read "a\\nb\\x1b[1m"'),
        (Problem(None, "odd", read="x" * 100), f'problem: odd: read "{"x" * 59}…"'),
    ],
)
def test_a_problem_reads_as_one_line(problem: Problem, text: str) -> None:
    assert problem.text() == text


def test_problems_are_ordered_by_file_line_and_column() -> None:
    """Line 9 comes before line 10, and what has no place comes first."""
    expected = [
        Problem(None, "z"),
        Problem(Place("a", 9, 3), "z"),
        Problem(Place("a", 10, 2), "b"),
        Problem(Place("a", 10, 2), "c"),
        Problem(Place("a", 10, 12), "a"),
        Problem(Place("b", 1, 1), "a"),
    ]
    assert sorted(expected[i] for i in (3, 5, 0, 4, 2, 1)) == expected


def test_unreadable_carries_its_problems_in_order() -> None:
    first, second = Problem(Place("a", 1, 1), "one"), Problem(Place("a", 2, 1), "two")
    error = Unreadable([second, first])
    assert error.problems == (first, second)
    assert str(error) == "a:1:1: problem: one\na:2:1: problem: two"
    assert pickle.loads(pickle.dumps(error)).problems == (first, second)


@pytest.mark.parametrize(
    ("word", "words", "nearest"),
    [
        ("mas", ["mass", "size", "at"], "mass"),
        ("lenght", ["length", "height", "width"], "length"),
        ("Front-Axle", ["front_axle", "rear_axle"], "front_axle"),
        ("conducter", ["conductor", "conduit"], "conductor"),
        ("zz", ["at", "of"], None),
        ("x", ["y", "z"], None),
        ("spaceship", ["pump", "battery"], None),
        ("cat", ["car", "bat"], "bat"),
        ("", ["a"], None),
        ("a", [], None),
        ("y" * 10_000, ["y"], None),
    ],
)
def test_nearest_word(word: str, words: list[str], nearest: str | None) -> None:
    assert nearest_word(word, words) == nearest
    assert nearest_word(word, reversed(words)) == nearest


WORDS = st.text("abc_", min_size=2, max_size=8)


@given(WORDS, st.lists(WORDS))
def test_a_known_word_is_nearest_to_itself(word: str, others: list[str]) -> None:
    """What is at no distance wins over all that is at some."""
    found = nearest_word(word, [word, *others])
    assert found == word


@given(st.text("abcdefgh", min_size=4, max_size=12), st.integers(0, 10))
def test_two_letters_swapped_are_still_recognised(word: str, position: int) -> None:
    i = position % (len(word) - 1)
    swapped = word[:i] + word[i + 1] + word[i] + word[i + 2 :]
    assert nearest_word(swapped, [word, "0123456789"]) == word
