"""Where in a rule a wrong word stands, and how long and how deep an expression may be."""

from __future__ import annotations

import pytest
from condition_world import PLACE, SCHEMA
from jinja2 import nodes

from specreg.facts.value_type import ValueType, number, view
from specreg.rules.condition import compile_condition, compile_text
from specreg.rules.condition_parse import Source, anchor, dotted, parse
from specreg.source import Place, Problem

BLOCK = "run.length > 0\n  and run.ampacty > 0\n"


@pytest.mark.parametrize(
    ("text", "line", "column", "message"),
    [
        # PLACE is line 7, column 10; a text of one line stands there, a block from the line below
        ("run.length > 0 and run.ampacty > 0", 7, 10 + 23, "unknown attribute"),
        ("rum.length > 0", 7, 10, "unknown name"),
        ("run.length > limits.currant", 7, 10 + 20, "unknown attribute"),
        ("run.name == 'rum' and rum.length > 0", 7, 10 + 13, "unknown name"),  # the first that reads like it
        ("run.lengths > run.length", 7, 10 + 4, "unknown attribute"),
        ("run.length > run.len", 7, 10 + 17, "unknown attribute"),
        ("run.length > 0 and 1", 7, 10 + 19, "a yes or no is needed here"),
        ("run.main.length > 0", 7, 10 + 9, "unknown attribute"),
        ("limits.current > run.length", 7, 10, "compares a current with a length"),
        ("0 < -run.ambient", 7, 10 + 5, "a minus belongs"),
        ("run.devices is none_left and run.length is empty", 7, 10 + 43, "`is empty` works on a list"),
        ("run.medium == 'dcc'", 7, 10 + 15, "unknown word"),
        (BLOCK, 9, 11, "unknown attribute"),
        ("\n" + BLOCK, 10, 11, "unknown attribute"),
        ("run.length > 0 and\nrum.x > 0 and\nrun.length > 0", 9, 1, "unknown name"),
        ("run.length >\n", 8, 1, "this is not an expression"),
        ("true and\n)", 9, 1, "this is not an expression"),
        ("run.length > 0 true", 7, 10 + 15, "the expression ends before the text does"),
        ("run.length\n> 0 true", 9, 5, "the expression ends before the text does"),
        ("", 7, 10, "the expression is empty"),
    ],
)
def test_a_problem_stands_at_its_word(text: str, line: int, column: int, message: str) -> None:
    """At the whole word that is wrong, on its line; not at one that only holds it."""
    _, problems = compile_condition(text, SCHEMA, PLACE)
    found = [problem for problem in problems if problem.message.startswith(message)]
    assert [problem.place for problem in found] == [Place("rule.md", line, column)], problems


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a {{ run.ampacty }}", 7, 10 + 9),
        ("run.ampacty {{ run }} {{ run.ampacty }}", 7, 10 + 29),
        ("a {{ run }}\nb {{ run.ampacty }}", 9, 10),
        ("a {{ run\n}} {{\nrun.ampacty }}", 10, 5),
        ("a {{ 3 > }} b", 7, 10 + 4),
        ("a {{ }} b", 7, 10 + 4),
        ("a {{+ run }}", 7, 10 + 4),
        ("a\n b {{ run -}}", 9, 6),
        ("a }} b", 7, 10 + 2),
        ("{{ run }} {{", 7, 10 + 10),
        ("{{ run }}\n{% b", 9, 1),
        ("{{ run.name == '}}' }}", 7, 10 + 20),
        ("{{ run.name }} and }}", 7, 10 + 19),
    ],
)
def test_a_problem_of_a_text_stands_in_its_part(text: str, line: int, column: int) -> None:
    """The words before and between the parts count; a part's own lines too."""
    compiled, problems = compile_text(text, SCHEMA, PLACE)
    assert compiled is None
    assert Place("rule.md", line, column) in [problem.place for problem in problems], problems


@pytest.mark.parametrize("part", ["-run.cores ", "+run.cores ", "- 3 ", " run.cores -", " run.cores +"])
def test_a_sign_at_a_bracket_is_told_as_such(part: str) -> None:
    """There it means something else in templates, and would be lost; within it is a minus."""
    compiled, problems = compile_text(f"{{{{{part}}}}}", SCHEMA, PLACE)
    assert compiled is None
    assert "a sign directly at `{{` or `}}` is not allowed" in [problem.message for problem in problems]


def test_a_text_of_parts_that_are_right_and_wrong_is_refused_whole() -> None:
    """Its problems come in the order of their places, those between the parts too."""
    _, problems = compile_text("}} {{ rum }} {% {{ run.ampacty }} {{ run }} #}", SCHEMA, PLACE)
    columns = [problem.place.column for problem in problems if problem.place is not None]
    assert columns == [10, 10 + 6, 10 + 13, 10 + 23, 10 + 44]


LONGEST = 2000


@pytest.mark.parametrize(("length", "taken"), [(LONGEST, True), (LONGEST + 1, False)])
def test_the_longest_text(length: int, taken: bool) -> None:
    """At the limit it is read, one letter beyond it is not; the same for a condition and for a sentence."""
    condition, problems = compile_condition("true".ljust(length), SCHEMA, PLACE)
    assert (condition is not None) is taken
    compiled, others = compile_text("x" * length, SCHEMA, PLACE)
    assert (compiled is not None) is taken
    said = [] if taken else [Problem(PLACE, "the text has 2001 characters", expected="at most 2000")]
    assert problems == others == said


@pytest.mark.parametrize(
    ("text", "taken"),
    [
        ("(" * 30 + "true" + ")" * 30, True),
        ("(" * 31 + "true" + ")" * 31, False),
        ("(" * 15 + "[" * 15 + "{" + "true", False),
        ("(true) and " * 40 + "true", True),
        (" <= ".join(["(1)"] * 40), True),
        ("run.cores in [" + "1, " * 70 + "1] or " + "not " * 58 + "true", True),
        ("run.cores in [" + "1, " * 70 + "1] or " + "not " * 59 + "true", False),
        ("not " * 59 + "true", True),
        ("not " * 60 + "true", False),
        ("run" + ".main.run" * 29 + ".starts_engine", True),  # a name and 59 attributes
        ("run" + ".main.run" * 29 + ".main.breaks", False),
    ],
)
def test_the_deepest_expression(text: str, taken: bool) -> None:
    """Thirty brackets, sixty levels."""
    condition, problems = compile_condition(text, SCHEMA, PLACE)
    assert (condition is not None) is taken, problems
    deep = "the expression is nested too deeply to be read"
    assert taken or [problem.message for problem in problems] == [deep]
    assert all(problem.remedy and problem.place == PLACE for problem in problems)


def test_each_side_of_a_long_expression_starts_anew() -> None:
    """Depth is of one branch: what stands beside it does not count."""
    side = "(" + "not " * 40 + "true)"
    condition, problems = compile_condition(f"{side} and {side} and {side}", SCHEMA, PLACE)
    assert condition is not None, problems


def test_a_backslash_in_a_word_is_no_warning(recwarn: pytest.WarningsRecorder) -> None:
    """What the parser thinks of it is nothing that a reader could act upon."""
    condition, problems = compile_condition(r"run.name == 'a\d'", SCHEMA, PLACE)
    assert condition is not None, problems
    assert list(recwarn) == []


WORDS = [f"word_{number}" for number in range(25)]


@pytest.mark.parametrize(("count", "listed"), [(24, True), (25, False)])
def test_right_words_are_listed_where_none_is_near(count: int, listed: bool) -> None:
    """Up to two dozen, in the order of the alphabet; beyond that, and beside a near one, none."""
    members: dict[str, ValueType] = {word: number() for word in WORDS[:count][::-1]}
    _, (problem,) = compile_condition("it.zzzzzzzzzz > 0", {"it": view("it", members)}, PLACE)
    assert problem.expected == (", ".join(sorted(members)) if listed else None)
    assert (problem.read, problem.nearest) == ("zzzzzzzzzz", None)
    _, (single,) = compile_condition("it.zzzzzzzzzz > 0", {"it": view("it", {"word": number()})}, PLACE)
    assert single.expected == "word"
    _, (near,) = compile_condition("it.word_03 > 0", {"it": view("it", {"word_3": number()})}, PLACE)
    assert (near.nearest, near.expected) == ("word_3", None)
    for label, message in (("it", "unknown attribute of it"), ("", "unknown attribute")):
        _, (alone,) = compile_condition("it.zzz > 0", {"it": view(label, {})}, PLACE)
        assert (alone.message, alone.nearest, alone.expected) == (message, None, None)


@pytest.mark.parametrize(
    ("text", "name", "first"),
    [
        ("run", "run", "run"),
        ("run.main.rating", "run.main.rating", "run.main.rating"),
        ("(run.main if true else run.main).rating", None, "True"),
        ("run.devices | count", None, "run.devices"),
        ("not run.length", None, "run.length"),
        ("3 + run.length", None, "3"),
        ("'dc'", None, "dc"),
        ("0.5", None, "0.5"),
        ("none", None, ""),
        ("[]", None, ""),
        ("none == run.length", None, "run.length"),
    ],
)
def test_the_name_of_a_node_and_where_it_begins(text: str, name: str | None, first: str) -> None:
    """A chain of names is one; of anything else the first name or constant is looked for in the text."""
    tree = parse(Source(text, PLACE))
    assert isinstance(tree, nodes.Expr)
    assert (dotted(tree), anchor(tree)) == (name, first)


@pytest.mark.parametrize(
    ("text", "reads"),
    [
        ("run.length >", "run.length >"),
        ("  'a ", "'a"),
        ("0x" + "f" * 1000 + " > 1", None),
    ],
)
def test_what_is_no_expression(text: str, reads: str | None) -> None:
    """Told with what was read and why the parser stopped."""
    found = parse(Source(text, PLACE))
    if isinstance(found, Problem):
        assert found.message.startswith("this is not an expression: ")
        assert found.read == reads
    else:
        assert reads is None
