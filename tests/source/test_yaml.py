"""What the strict reader takes, what it refuses, and where it says that things stand."""

from __future__ import annotations

import math
from typing import Any

import pytest
import yaml as library
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.source.place import Place
from specreg.source.tree import Mapping, Scalar, at, key_place_of, place_of, plain, walk
from specreg.source.yaml import Limits, read_yaml

FILE = "builds/demo/spec.yaml"
STANDARD = Limits()


def read(text: str | bytes, limits: Limits = STANDARD) -> tuple[Any, list[tuple[int, int, str]]]:
    data = text if isinstance(text, bytes) else text.encode()
    node, problems = read_yaml(data, FILE, limits)
    assert problems == sorted(problems)
    found = [(p.place.line, p.place.column, p.message) for p in problems if p.place is not None]
    assert len(found) == len(problems)
    return node, found


@pytest.mark.parametrize(
    ("text", "value"),
    [
        # YAML 1.2.2, 10.3.2 (core schema) where it concerns what a spec may hold
        ("null", None),
        ("Null", None),
        ("NULL", None),
        ("~", None),
        ("", None),
        ("true", True),
        ("True", True),
        ("TRUE", True),
        ("false", False),
        ("False", False),
        ("FALSE", False),
        ("0", 0),
        ("12", 12),
        ("-12", -12),
        ("+12", 12),
        ("0.5", 0.5),
        (".5", 0.5),
        ("-.5", -0.5),
        ("5.", 5.0),
        ("1e3", 1000.0),
        ("12e03", 12000.0),
        ("-2E+05", -200000.0),
        # words and texts
        ("yes", "yes"),
        ("no", "no"),
        ("on", "on"),
        ("off", "off"),
        ("y", "y"),
        ("nULL", "nULL"),
        ("010", "010"),
        ("-007", "-007"),
        ("0x1F", "0x1F"),
        ("0o17", "0o17"),
        ("1_000", "1_000"),
        ("12:30:45", "12:30:45"),
        ("2026-05-03", "2026-05-03"),
        ("1.5 mm²", "1.5 mm²"),
        ("2/0 AWG", "2/0 AWG"),
        ("-18 °C", "-18 °C"),
        (".", "."),
        ("+", "+"),
        ("1e", "1e"),
        ("٣", "٣"),  # a digit, but not one of ours
        ("'12'", "12"),
        ('"true"', "true"),
        ('""', ""),
        ("'~'", "~"),
        ('".inf"', ".inf"),
    ],
)
def test_scalars_have_the_types_of_the_core_schema(text: str, value: object) -> None:
    node, problems = read(f"key: {text}\n")
    assert problems == []
    read_value = plain(node)["key"]
    assert read_value == value
    assert type(read_value) is type(value)


def test_block_scalars_are_texts() -> None:
    node, problems = read("a: |\n  12\nb: >-\n  one\n  two\n")
    assert problems == []
    assert plain(node) == {"a": "12\n", "b": "one two"}


def test_number_keys_become_text_as_written() -> None:
    node, problems = read("ways: {4: {fuse: 10 A}, 010: x, 1.50: y}\n")
    assert problems == []
    assert list(plain(node)["ways"]) == ["4", "010", "1.50"]


SAMPLE = """\
# a comment
build: heron
maße: "1 ½ in"   # not in ASCII
ways:
  4: {fuse: 10 A, für: pump}
list:
- one
- two: 2
  🚐: [a, b]
text: |
  lines
  of text
last: ~
"""


@pytest.mark.parametrize(
    ("path", "key_at", "value_at"),
    [
        ((), (2, 1), (2, 1)),
        (("build",), (2, 1), (2, 8)),
        (("maße",), (3, 1), (3, 7)),
        (("ways",), (4, 1), (5, 3)),
        (("ways", "4"), (5, 3), (5, 6)),
        (("ways", 4), (5, 3), (5, 6)),
        (("ways", "4", "fuse"), (5, 7), (5, 13)),
        (("ways", "4", "für"), (5, 19), (5, 24)),
        (("list",), (6, 1), (7, 1)),
        (("list", 0), (7, 3), (7, 3)),
        (("list", 1), (8, 3), (8, 3)),
        (("list", 1, "two"), (8, 3), (8, 8)),
        (("list", 1, "🚐"), (9, 3), (9, 6)),
        (("list", 1, "🚐", 1), (9, 10), (9, 10)),
        (("text",), (10, 1), (10, 7)),
        (("last",), (13, 1), (13, 7)),
        # paths that break off name the deepest thing that is there
        (("ways", "5"), (4, 1), (5, 3)),
        (("list", 9), (6, 1), (7, 1)),
        (("build", "deeper"), (2, 1), (2, 8)),
    ],
)
def test_places_of_keys_and_values(path: tuple[str | int, ...], key_at: object, value_at: object) -> None:
    node, problems = read(SAMPLE)
    assert problems == []
    assert key_place_of(node, path)[1:] == key_at
    assert place_of(node, path)[1:] == value_at


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_line_endings_and_a_leading_mark_change_no_place(ending: str, mark: bytes) -> None:
    node, problems = read(mark + SAMPLE.replace("\n", ending).encode())
    expected, _ = read(SAMPLE)
    assert problems == []
    assert [(path, n.place) for path, n in walk(node)] == [(path, n.place) for path, n in walk(expected)]


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a: 1\nb: 2\na: 3\n", (3, 1), "first on line 1, column 1"),
        ("{4: x, '4': y}\n", (1, 8), "the same key a second time"),
        ("a: &x 1\n", (1, 4), "an anchor"),
        ("a: &x {b: 1}\n", (1, 4), "an anchor"),
        ("a: *x\n", (1, 4), "an alias"),
        ("*x : 1\n", (1, 1), "an alias"),
        ("a: !!int 1\n", (1, 4), "a tag"),
        ("a: !thing {b: 1}\n", (1, 4), "a tag"),
        ("a:\n  <<: {b: 1}\n", (2, 3), "a merge key"),
        ("%YAML 1.2\n---\na: 1\n", (1, 1), "a directive"),
        ("%TAG ! tag:x,2000:\n---\na: 1\n", (1, 1), "a directive"),
        ("%OTHER x\n---\na: 1\n", (1, 1), "a directive"),
        ("%YAML x\n---\na: 1\n", (1, 1), "a directive"),
        ("%\na: 1\n", (1, 1), "a directive"),
        ("a: !<x y\n", (1, 4), "a tag"),
        ("a: 1\n---\nb: 1\n", (2, 1), "a second document"),
        ("~: 1\n", (1, 1), "a key that is empty"),
        ("a: {null: 1}\n", (1, 5), "a key that is empty"),
        ("a: {true: 1}\n", (1, 5), "a key that is not text"),
        ("? [a, b]\n: 1\n", (1, 3), "a list or mapping as a key"),
        ("a: {{b: 1}: 2}\n", (1, 5), "a list or mapping as a key"),
        ("a: .inf\n", (1, 4), "not finite"),
        ("a: [-.Inf]\n", (1, 5), "not finite"),
        ("a: .NaN\n", (1, 4), "not finite"),
        ("a: 1e400\n", (1, 4), "not finite"),
        ("a: " + "9" * 5000 + "\n", (1, 4), "not finite"),
        ("", (1, 1), "the file is empty"),
        ("# nothing\n", (1, 1), "the file is empty"),
        ("---\n...\n", (1, 1), "the file is empty"),
        (b"a: 1\nb: caf\xe9\n", (2, 7), "not UTF-8"),
        (b"\xff\xfea\x00:\x00", (1, 1), "not UTF-8"),
        ("a: 1\nb: x\x00y\n", (2, 5), "does not belong"),
        ("a: x\x07\n", (1, 5), "does not belong"),
        ("a: x\x7f\n", (1, 5), "does not belong"),
        ("a: é\x85b\n", (1, 5), "does not belong"),
        ("a: é\u2028b\n", (1, 5), "does not belong"),
        ("a: é\u2029b\n", (1, 5), "does not belong"),
        ("a: 1\rb: 2\n", (1, 5), "does not belong"),
        ("a: 1\n\ufeffb: 2\n", (2, 1), "does not belong"),
        ("a:\n\tb: 1\n", (2, 1), "a tab in the indentation"),
        ("a:\n  \tb: 1\n", (2, 3), "a tab in the indentation"),
        # what stops the parser
        ("a: b: c\n", (1, 5), "a key is not possible here"),
        ("a: 1\nword\nb: 2\n", (2, 1), "a key without its colon"),
        ("a: [1, 2\nb: 3\n", (2, 2), "a list in brackets is not closed"),
        ("a: {b: 1\nc: 3\n", (2, 2), "a mapping in braces is not closed"),
        ('a: 1\nb: "x\nc: 3\n', (2, 4), "a quotation mark is opened and never closed"),
        ("a: @x\n", (1, 4), "a value cannot begin with this character"),
        ("a: `x`\n", (1, 4), "a value cannot begin with this character"),
        ("a: - b\n", (1, 4), "an item of a list is not possible here"),
        ('a: "x" y\n', (1, 8), "a key was expected here"),
        ('a: "\\d"\n', (1, 5), "a backslash"),
        ("a: [1, , 2]\n", (1, 8), "a value was expected here"),
        ("a: | text\n", (1, 6), "text on the line of a `|`"),
        ("  a: 1\n b: 2\n", (2, 2), "text behind the end"),
        ("a:\n  - b\n  c: 1\n", (3, 3), "an item of the list was expected"),
        ("a: &\n", (1, 4), "a value cannot begin with `&` or `*`"),
        ("a: |0\n x\n", (1, 5), "a wrong sign behind"),
        ("a: !x!y z\n", (1, 4), "a tag"),
    ],
)
def test_one_mistake_gives_one_problem_at_its_place(text: str | bytes, place: object, words: str) -> None:
    _, problems = read(text)
    assert [p[:2] for p in problems] == [place], problems
    assert words in problems[0][2]


def test_a_tag_is_quoted_as_written_and_a_wrong_sign_is_shown() -> None:
    _, problems = read_yaml(b"a: !!int 1\nb: @x\n", FILE)
    assert [problem.read for problem in problems] == ["!!int", "@"]


def test_every_message_says_what_to_do() -> None:
    _, problems = read_yaml(b"a: 1\na: &x 1\nb: *x\nc: !t 1\nd: .inf\n", FILE)
    assert len(problems) == 5
    assert all(problem.remedy for problem in problems)


MANY = """\
build: heron
build: robin
a: &anchor 1
b: *anchor
c: !tag 1
d: .inf
e: 1e999
f: {x: 1, x: 2}
<<: {g: 1}
~: 1
true: 1
? [complex]
: 1
h: bell\x07
i: next\x85line
j: sep\u2028arator
k:
  - &other [1]
  - !!map {a: 1}
  - *other
l: {m: .nan, m: 2}
n: \ufeffmark
"""
LINES_OF_MANY = [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 18, 19, 20, 21, 21, 22]


def test_twenty_mistakes_in_one_file_are_all_found_on_their_lines() -> None:
    node, problems = read(MANY)
    assert [line for line, _, _ in problems] == LINES_OF_MANY
    assert plain(node)["build"] == "heron"
    assert list(plain(node)["k"]) == [[1], {"a": 1}, None]


def test_mistakes_before_a_syntax_error_are_kept() -> None:
    node, problems = read("a: 1\na: 2\nb: [1\nc: 2\n")
    assert node is None
    assert [line for line, _, _ in problems] == [2, 4]


def test_a_complex_key_leaves_its_neighbours_alone() -> None:
    node, problems = read("a: 1\n? {b: [c]}\n: {d: .inf}\ne: 2\n")
    assert [line for line, _, _ in problems] == [2, 3]
    assert plain(node) == {"a": 1, "e": 2}


def test_a_second_document_is_searched_for_problems_but_not_taken() -> None:
    node, problems = read("a: 1\n---\nb: *x\n")
    assert [line for line, _, _ in problems] == [2, 3]
    assert plain(node) == {"a": 1}


@pytest.mark.parametrize(
    ("text", "limits", "words"),
    [
        ("a: 1\n", Limits(bytes=4), "too large"),
        ("[1, 2, 3]\n", Limits(nodes=3), "more than 3 values"),
        ("[[[1]]]\n", Limits(depth=2), "nested deeper than 2"),
        ("? [[x]]\n: 1\n", Limits(depth=2), "nested deeper than 2"),
        ("[" * 100_000, Limits(), "nested deeper than "),
        ("- " * 100_000, Limits(), "nested deeper than 40"),
        ("{a: " * 100_000, Limits(), "nested deeper than 40"),
    ],
)
def test_beyond_a_limit_reading_stops_with_a_problem(text: str, limits: Limits, words: str) -> None:
    node, problems = read(text, limits)
    assert node is None
    assert words in " ".join(message for _, _, message in problems)


@pytest.mark.parametrize(
    ("text", "limits"),
    [("a: 1\n", Limits(bytes=5)), ("[1, 2, 3]\n", Limits(nodes=4)), ("[[1]]\n", Limits(depth=2))],
)
def test_what_just_keeps_to_a_limit_is_read(text: str, limits: Limits) -> None:
    node, problems = read(text, limits)
    assert node is not None
    assert problems == []


def test_the_number_of_problems_is_bounded() -> None:
    _, problems = read("[" + "*a, " * 1000 + "]")
    assert len(problems) == Limits().problems
    _, problems = read(b"\x00" * 1000)
    assert "980 more of this kind from here on" in problems[-1][2]


def test_places_behind_a_refused_character_stay_right() -> None:
    node, problems = read("a: x\u2028y\nb: 2\n")
    assert len(problems) == 1
    assert place_of(node, ("b",)) == Place(FILE, 2, 4)


@given(st.binary(max_size=400))
def test_no_bytes_raise(data: bytes) -> None:
    node, problems = read_yaml(data, FILE)
    assert node is not None or problems


SIGNS = "a b : , - ? [ ] { } & * ! | > ' % @ # ~ << --- ... 0 1e400 .inf true é"
PIECES = st.sampled_from([*SIGNS.split(), *' "\\\n\t\r\x85\ufeff', "  ", "\n  ", ": ", "- "])


@settings(max_examples=400)
@given(st.lists(PIECES, max_size=40).map("".join))
def test_no_mixture_of_signs_raises(text: str) -> None:
    node, problems = read_yaml(text.encode(), FILE)
    assert node is not None or problems
    lines = text.split("\n")
    for problem in problems:
        assert problem.place is not None
        assert 1 <= problem.place.line <= len(lines)
        assert 1 <= problem.place.column <= len(lines[problem.place.line - 1]) + 1
        assert "\n" not in problem.text()


class Quoting(library.SafeDumper):
    """Dumps texts in quotation marks, for the library types some words and numbers in another way."""


Quoting.add_representer(
    str, lambda dumper, text: dumper.represent_scalar("tag:yaml.org,2002:str", text, style='"')
)
UNSEEN = "\ufeff\ufffe\uffff\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
SEEN = st.characters(blacklist_categories=["Cs", "Cc", "Zl", "Zp"], blacklist_characters=UNSEEN)
TEXTS = st.text(SEEN | st.sampled_from("\n\t"), max_size=12)
TREES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**18), 10**18)
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)


@given(TREES, st.booleans(), st.booleans())
def test_what_the_library_writes_reads_back_equal(tree: object, flow: bool, unicode: bool) -> None:
    dumped = library.dump(
        tree, Dumper=Quoting, default_flow_style=flow, allow_unicode=unicode, width=10_000, sort_keys=False
    )
    node, problems = read_yaml(dumped.encode(), FILE)
    assert problems == []
    assert node is not None
    assert plain(node) == tree


@pytest.mark.parametrize(
    ("escape", "name"),
    [("\\e[31m", "U+001B"), ("\\x9b", "U+009B"), ("\\0", "U+0000"), ("\\r", "U+000D"), ("\\u202e", "U+202E"),
     ("\\L", "U+2028"), ("\\uFEFF", "U+FEFF")],
)  # fmt: skip
def test_an_escape_stands_for_nothing_that_may_not_stand_there(escape: str, name: str) -> None:
    """What steers a terminal or turns the writing round does not come in by the back door, as key or value."""
    for text in (f'a: "x{escape}y"\n', f'"x{escape}y": 1\n'):
        _, problems = read_yaml(text.encode(), FILE)
        assert [problem.message for problem in problems] == ["a character that does not belong into a spec"]
        assert (problems[0].read or "").startswith(name)
    assert read_yaml(b'a: "line\\nanother\\t\\u00e9\\x7e"\n', FILE)[1] == []


WORDS = st.text("abcäö🚐0123456789", min_size=1, max_size=8).map(lambda text: f"w{text}")
WORD_TREES = st.recursive(
    WORDS,
    lambda inner: st.lists(inner, min_size=1) | st.dictionaries(WORDS, inner, min_size=1),
    max_leaves=25,
)


@given(WORD_TREES, st.booleans())
def test_every_place_points_at_its_text(tree: object, flow: bool) -> None:
    dumped = library.safe_dump(tree, default_flow_style=flow, allow_unicode=True, width=10_000)
    lines = dumped.split("\n")
    node, problems = read_yaml(dumped.encode(), FILE)
    assert problems == []
    assert node is not None
    for _, part in walk(node):
        if isinstance(part, Scalar):
            assert lines[part.place.line - 1][part.place.column - 1 :].startswith(part.text)
        elif isinstance(part, Mapping):
            for key, entry in part.entries.items():
                place = entry.key_place
                assert lines[place.line - 1][place.column - 1 :].startswith(key)


@given(TREES)
def test_whole_numbers_and_decimals_keep_their_type(tree: object) -> None:
    dumped = library.dump([tree], Dumper=Quoting, width=10_000)
    node, _ = read_yaml(dumped.encode(), FILE)
    assert node is not None
    for _, part in walk(node):
        if isinstance(part, Scalar) and isinstance(part.value, float):
            assert math.isfinite(part.value)
            assert "." in part.text or "e" in part.text


def test_at_finds_nodes_and_says_none_where_there_are_none() -> None:
    node, _ = read(SAMPLE)
    found = at(node, ("ways", "4", "fuse"))
    assert isinstance(found, Scalar)
    assert found.value == "10 A"
    assert at(node, ("ways", "9", "fuse")) is None
    assert at(node, ("list", -1)) is None
    assert at(node, ("list", "0")) is None
