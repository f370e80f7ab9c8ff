"""Conditions: what is accepted and what it answers, what is refused and why, and what hostile text does."""

from __future__ import annotations

import operator
from collections.abc import Callable
from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest
from condition_world import PLACE, SCHEMA, View, device, world
from effort import calls_of
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import nodes

from specreg.facts.missing import Missing
from specreg.facts.value_type import ANYTHING, TRUTH, ValueType, list_of, number, text
from specreg.rules.condition import compile_condition
from specreg.rules.condition_compile import compiled
from specreg.rules.condition_parse import Source, parse
from specreg.rules.filters import (
    FILTERS,
    TESTS,
    Typing,
    extreme,
    look,
    measured,
    nameable,
    needs,
    needs_numbers,
    needs_truth,
    of_list,
)
from specreg.units import Dimension

ANSWERS = [
    ("run.medium == 'dc' and not run.starts_engine and run.let_through <= run.ampacity", True),
    ("run.medium != 'dc' or run.starts_engine", False),
    ("run.medium in ['dc', 'ac']", True),
    ("run.medium not in ('gas', 'ac')", True),
    ("'red' in run.colours", True),
    ("'green' in run.colours", False),
    ("run.medium == run.name", False),
    ("run.name != run.medium", True),
    ("'dc' == run.medium", True),
    ("0 < run.let_through <= run.ampacity", True),
    ("0 < run.ampacity <= run.let_through", False),
    ("0 < run.let_through < run.ampacity < run.let_through", False),
    ("0 < run.let_through < run.ampacity < limits.current", True),
    ("run.ampacity < run.let_through < limits.current", False),
    ("run.length > 0 and -run.length < 0", True),
    ("run.ampacity > limits.current", False),
    ("run.let_through * 2 > run.ampacity", True),
    ("run.load / run.voltage < run.ampacity", True),
    ("run.voltage * run.ampacity > run.load", True),
    ("run.ampacity / run.let_through > 1.3", True),
    ("run.drop <= limits.drop", True),
    ("1 - run.drop > limits.drop", True),
    ("run.length / limits.distance > limits.drop", True),
    ("run.ampacity - run.let_through > 0", True),
    ("(run.ampacity if run.starts_engine else run.let_through) < run.ampacity", True),
    ("(run.medium if run.starts_engine else run.name) == 'pump-feed'", True),
    ("(run.medium if not run.starts_engine else 'nothing') == 'dc'", True),
    ("(run.medium if run.starts_engine else 'nothing') == 'nothing'", True),
    ("run.cores in [-1, 2]", True),
    ("run.cores not in (-2, 1)", True),
    ("(run.name if not run.starts_engine else run.medium) == 'pump-feed'", True),
    ("run.made < limits.day", True),
    ("run.devices is empty", False),
    ("run.devices is not none_left", True),
    ("run.devices | where('breaks') | count == 1", True),
    ("run.devices | every('breaks')", False),
    ("run.devices | some('breaks')", True),
    ("run.devices | sum('rating') <= run.ampacity", True),
    ("run.devices | each('rating') | sum == run.let_through", True),
    ("(run.devices | largest('rating')) > (run.devices | smallest('rating'))", True),
    ("run.ambient is present and run.rated is absent", True),
    ("run.main.rating is present", False),
    ("run.rated is absent or run.ambient < run.rated", True),
    ("true", True),
    ("run.cores < 1e15", True),
    ("run.cores < 1000000000000000", True),
    ("run.starts_engine == false", True),
    ("run.length\n  > limits.distance", True),
]


@pytest.mark.parametrize(("text", "answer"), ANSWERS)
def test_answers(text: str, answer: bool) -> None:
    """An accepted condition answers as its words say."""
    condition, problems = compile_condition(text, SCHEMA, PLACE)
    assert not problems
    assert condition is not None
    assert condition.evaluate(world()) is answer


REFUSALS = [
    ("run.medium == 'dcc'", 'unknown word: read "dcc", nearest is "dc"'),
    ("'dcc' == run.medium", 'unknown word: read "dcc", nearest is "dc"'),
    ("'dc' != 'ac' != run.medium != 'gass'", 'unknown word: read "gass", nearest is "gas"'),
    ("run.medium == ('dcc' if run.starts_engine else 'ac')", 'nearest is "dc"'),
    ("('dc' if run.starts_engine else ('acc' if true else 'gas')) != run.medium", 'nearest is "ac"'),
    ("(run.medium if true else run.medium) == 'dcc'", 'nearest is "dc"'),
    ("run.medium in ['dc', 'acc']", 'nearest is "ac"'),
    ("'rad' in run.colours", 'nearest is "red"'),
    ("rum.medium == 'dc'", 'unknown name: read "rum", nearest is "run"'),
    ("run.ampacty > 0", 'unknown attribute of run: read "ampacty", nearest is "ampacity"'),
    ("run.main.ratng > 0", 'unknown attribute of device: read "ratng", nearest is "rating"'),
    ("run.ambient is presnt", 'unknown test: read "presnt", nearest is "present"'),
    ("run.devices | cuont > 1", 'unknown filter: read "cuont", nearest is "count"'),
    ("run.devices | length > 1", "unknown filter"),
    ("run.devices | every('brakes')", 'nearest is "breaks"'),
    ("run.devices | every", "takes one attribute name in quotation marks"),
    ("run.devices | every(run.name)", "takes one attribute name in quotation marks"),
    ("run.devices | every(attribute='breaks')", "takes one attribute name in quotation marks"),
    ("run.devices | every('rating')", "asks for a yes-or-no attribute, and this is a current"),
    ("run.devices | count(1) > 1", "takes nothing in brackets"),
    ("run.devices | count('rating') > 1", "takes nothing in brackets"),
    ("run.devices | count(*run.colours) > 1", "takes nothing in brackets"),
    ("run.devices | sum(*run.colours) > run.ampacity", "takes one attribute name in quotation marks"),
    ("run.devices | sum(**run.colours) > run.ampacity", "takes one attribute name in quotation marks"),
    ("run.devices | sum(1) > run.ampacity", "takes one attribute name in quotation marks"),
    ("run.devices | sum('rating', 'breaks') > run.ampacity", "takes one attribute name in quotation marks"),
    ("run.length is none_left", "works on a list, and this is a length"),
    ("run.length is present(x=1)", "takes nothing in brackets"),
    ("run.length is present(*run.colours)", "takes nothing in brackets"),
    ("run.length is present(**run.colours)", "takes nothing in brackets"),
    ("run.devices | sum > 1", "works on a list of numbers, and each item is a thing (device)"),
    ("run.devices | sum('heat') > 0", "adds temperatures"),
    ("run.length | count > 1", "works on a list, and this is a length"),
    ("run.ampacity | amps == '40 A'", "belongs in `finding:` and `remedy:`"),
    ("run.length < run.ampacity", "compares a length with a current"),
    ("run.ampacity < 50", "compares a current with a bare number; give a current under `limits:`"),
    ("run.drop <= 3", "compares a share with a bare number"),
    ("3 >= run.drop", "compares a share with a bare number"),
    ("run.length == false", "compares a length with a truth value"),
    ("false < run.length", "compares a truth value with a length"),
    ("run.starts_engine + 1 > 1", "`+` works on numbers, and this is a truth value"),
    ("run.ambient > 0", "compares a temperature with a bare number"),
    ("run.length == 'long'", "compares a length with a text"),
    ("run.name < 'm'", "`<` needs numbers or dates"),
    ("run.devices == run.devices", "cannot be compared"),
    ("run.note == 3", "compares a value of unknown type with a bare number"),
    ("run.main == run", "compares a thing (device) with a thing (run)"),
    ("'d' in run.medium", "`in` needs a list, and this is a text"),
    ("3 in run.colours", "compares a bare number with a text"),
    ("run.length in ['dc']", "compares a length with a text"),
    ("run.length + run.ampacity > 0", "adds a length and a current"),
    ("run.length - run.ampacity > 0", "subtracts a current from a length"),
    ("run.length * run.ampacity > 0", "multiplies a length by a current"),
    ("run.length / run.ampacity > 0", "divides a length by a current"),
    ("run.ambient + run.rated > run.rated", "adds a temperature and a temperature"),
    ("run.ambient * 2 > run.rated", "multiplies a temperature by a bare number"),
    ("-run.ambient < run.rated", "a minus belongs before a number, and this is a temperature"),
    ("run.name + 'x' == 'y'", "`+` works on numbers, and this is a text"),
    ("run.ampacity", "a condition answers yes or no, and this is a current"),
    ("run.devices", "a condition answers yes or no, and this is a list"),
    ("run.devices and run.starts_engine", "use `is empty` or `is not empty`"),
    ("not run.cores", "compare it, or use a test such as `is present`"),
    ("not run.cores", "a yes or no is needed here, and this is a bare number"),
    ("run.length is empty", "works on a list, and this is a length"),
    ("(run.length + run.length) is present", "works on a name"),
    ("run.length is present('x')", "takes nothing in brackets"),
    ("run.cores if run.starts_engine", "`if` needs an `else`"),
    (
        "(run.length if run.cores else run.length) > 0",
        "a yes or no is needed here, and this is a bare number",
    ),
    ("(run.note if true else run.note) == run.note", "gives a value of unknown type or else"),
    ("(run.length if run.starts_engine else run.load) > 0", "gives a length or else a power"),
    ("(run.length if run.starts_engine else run.length) < run.ampacity", "compares a length with a current"),
    ("(run.ampacity if run.starts_engine else run.let_through) > 3", "compares a current with a bare number"),
    ("(run.main if run.starts_engine else run.main).ratng > limits.current", 'nearest is "rating"'),
    ("run.medium in ['dc', 1]", "constants of one form"),
    ("run.medium in [run.name]", "constants of one form"),
    ("run.name in ['dc', run.name]", "constants of one form"),
    ("run.cores in [1, run.cores]", "constants of one form"),
    ("run.medium in []", "constants of one form"),
    ("run.medium == none", "use `is absent`"),
    ("run.medium.upper() == 'DC'", "nothing can be called here"),
    ("run.medium.upper == 'DC'", "a text has no attributes"),
    ("run.describe()", "nothing can be called here"),
    ("run['medium'] == 'dc'", "nothing can be taken by `[…]`"),
    ("run.cores % 2 == 0", "`%` is not allowed"),
    ("run.cores // 2 == 1", "`//` is not allowed"),
    ("run.name ~ 'x' == 'y'", "`~` is not allowed"),
    ("{'a': 1} == 1", "`{…}` is not allowed"),
    ("+run.cores > 1", "a leading `+` is not needed"),
    ("run.cores > 1e16", "this constant is not allowed"),
    ("run.cores > 1.05e15", "this constant is not allowed"),
    ("run.cores > -1.05e15", "this constant is not allowed"),
    ("run.cores > 1e999", "this constant is not allowed"),
    ("run.cores > ٣.٥", "this is not an expression: a number in it cannot be read"),
    (
        "run.cores in [" + "1, " * 99 + "1] and " + "not " * 70 + "true",
        "nested too deeply",
    ),  # each item is left again
    ("", "the expression is empty"),
    ("  \n ", "the expression is empty"),
    ("run.length >", "this is not an expression"),
    ("run.length > 0, true", "the expression ends before the text does"),
    ("true }} {% for x in y %}", "the expression ends before the text does"),
    ("true) }}{{ (true", "this is not an expression: unexpected"),
]


@pytest.mark.parametrize(("text", "reason"), REFUSALS)
def test_refusals(text: str, reason: str) -> None:
    """A refused condition says why, in words, at a place in the rule."""
    condition, problems = compile_condition(text, SCHEMA, PLACE)
    assert condition is None
    assert any(reason in problem.text() for problem in problems), [problem.text() for problem in problems]
    assert all(problem.place is not None and problem.place.file == "rule.md" for problem in problems)


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("run.medium == 'dc' and run.ampacty > 0", 7, 10 + 27),
        ("run.length > 0 and\nrun.ampacty > 0", 9, 5),  # a block begins below its mark
        ("run.devices | cuont > 1", 7, 10 + 14),
    ],
)
def test_places(text: str, line: int, column: int) -> None:
    """The place is that of the wrong word."""
    _, (problem,) = compile_condition(text, SCHEMA, PLACE)
    assert problem.place is not None
    assert problem.place[1:] == (line, column)


def test_all_problems_at_once() -> None:
    """Each wrong word is reported, and nothing that only follows from one."""
    _, problems = compile_condition("run.ampacty > 3 and run.medium == 'cd' and rum.x", SCHEMA, PLACE)
    assert [problem.read for problem in problems] == ["ampacty", "cd", "rum"]


@pytest.mark.parametrize(
    "text",
    [
        "run.ampacty + run.length > 0",
        "run.length - rum > 0",
        "-run.ampacty > 0",
        "(run.ampacty if true else run.length) > 0",
        "(run.length if true else run.ampacty) > 0",
        "(run.length if run.cores else run.length) > 0",
        "(run.length if true) > 3",
        "(run.length if true else run.load) * 2 > run.cores",
        "run.medium in ['dc', rum]",
        "rum in ['dc']",
        "'dc' in rum",
        "run.length < rum < run.ampacity",
        "run.ampacty | count > 1",
        "run.ampacty | sum('rating') > 1",
        "rum | each('rating') | sum > 1",
        "run.devices | cuont > 1",
        "run.devices | count(1) > 1",
        "run.devices | every",
        "run.devices | every('brakes')",
        "run.devices | sum('ratng') > run.cores",
        "run.ampacity | amps > 3",
        "run.ampacty is empty",
        "run.ampacty is present",
        "run.length is empty and true",
        "run.length is presnt",
        "rum.x.y > 0",
        "run.name.x.y > 0",
        "run.mian.rating > 0",
        "(run.length + run.ampacity) * 2 > 3",
        "run.medium.upper() == 3",
        "not run.ampacty",
        "run.ampacty and true",
        "run.medium in ['dc', 2] or true",
    ],
)
def test_one_fault_is_told_once(text: str) -> None:
    """What only follows from a fault is no second one."""
    _, problems = compile_condition(text, SCHEMA, PLACE)
    assert len(problems) == 1, [problem.text() for problem in problems]


WRITES = {
    "amps": Dimension.current, "volts": Dimension.voltage, "watts": Dimension.power, "as_length": Dimension.length,
    "as_area": Dimension.area, "as_volume": Dimension.volume, "as_mass": Dimension.mass,
    "as_temperature": Dimension.temperature,
}  # fmt: skip
LISTED, COUNTED = list_of(text("red")), list_of(number(Dimension.current))


def test_which_filters_write_words() -> None:
    """These belong in sentences alone; each of one dimension writes that and no other."""
    assert {name for name, rule in FILTERS.items() if rule.words} == {
        "names",
        "as_percent",
        "as_date",
        *WRITES,
    }
    for name in FILTERS:
        if FILTERS[name].words:
            _, (problem,) = compile_condition(f"run.name | {name} == 'x'", SCHEMA, PLACE)
            assert problem.message.endswith("belongs in `finding:` and `remedy:`")
    for name, dimension in WRITES.items():
        _, measured_so = measured(name, "a figure", dimension)
        assert measured_so.words
        for rule in (FILTERS[name], measured_so):
            assert rule.typing(number(dimension), None) == needs(dimension)(number(dimension), None) == text()
            assert "and this is a torque" in str(rule.typing(number(Dimension.torque), None))


@pytest.mark.parametrize(
    ("made", "kind", "attribute", "gives"),
    [
        (lambda: of_list(lambda _, item: item), LISTED, None, text("red")),
        (lambda: of_list(lambda _, item: item), LISTED, TRUTH, TRUTH),
        (lambda: of_list(lambda kind, _: kind), TRUTH, None, "works on a list, and this is a truth value"),
        (lambda: needs_truth(lambda kind: kind), LISTED, TRUTH, LISTED),
        (lambda: needs_truth(lambda kind: kind), list_of(TRUTH), None, list_of(TRUTH)),
        (lambda: needs_truth(lambda kind: kind), LISTED, None, "asks for a yes-or-no attribute, and this is a text"),
        (lambda: needs_numbers(additive=True), COUNTED, None, number(Dimension.current)),
        (lambda: needs_numbers(additive=True), LISTED, number(), number()),
        (lambda: needs_numbers(additive=True), LISTED, None, "works on a list of numbers, and each item is a text"),
        (lambda: needs_numbers(additive=True), LISTED, number(Dimension.temperature), "adds temperatures, which has no meaning"),
        (lambda: needs_numbers(additive=False), LISTED, number(Dimension.temperature), number(Dimension.temperature)),
        (lambda: of_list(nameable), LISTED, None, text()),
        (lambda: of_list(nameable), list_of(ANYTHING), None, text()),
        (lambda: of_list(nameable), list_of(SCHEMA["run"]), None, text()),
        (lambda: of_list(nameable), COUNTED, None, "names things or texts, and each item is a current"),
        (lambda: FILTERS["each"].typing, LISTED, TRUTH, list_of(TRUTH)),
        (lambda: FILTERS["largest"].typing, LISTED, number(Dimension.temperature), number(Dimension.temperature)),
        (lambda: FILTERS["smallest"].typing, LISTED, number(Dimension.temperature), number(Dimension.temperature)),
        (lambda: FILTERS["names"].typing, COUNTED, None, "names things or texts, and each item is a current"),
        (lambda: FILTERS["as_percent"].typing, number(), None, text()),
        (lambda: FILTERS["as_percent"].typing, number(Dimension.share), None, text()),
    ],
)  # fmt: skip
def test_what_filters_take_and_give(
    made: Callable[[], Typing], kind: ValueType, attribute: ValueType | None, gives: ValueType | str
) -> None:
    """The named attribute of each item, or the item itself."""
    assert made()(kind, attribute) == gives


def test_the_largest_and_the_smallest() -> None:
    """Of nothing there is neither."""
    assert extreme(max, "largest")([3, 1, 2], None) == 3
    assert extreme(min, "smallest")([SimpleNamespace(rating=3), SimpleNamespace(rating=1)], "rating") == 1
    with pytest.raises(Missing, match="there is no largest of an empty list"):
        extreme(max, "largest")([], None)


def test_what_looking_at_an_item_finds() -> None:
    """Its attribute, itself, or what is missing of it: None is no value."""
    item = device("F1", rating=2.0, breaks=None)
    assert (look(item, "rating"), look(item, None)) == (2.0, item)
    assert [look(item, name).fields for name in ("breaks", "heat")] == [("breaks",), ("box.F1.heat",)]


HOSTILE = [
    "''.__class__",
    "run.__class__",
    "run.__class__.__mro__[1].__subclasses__()",
    "run.devices | every('__class__')",
    "2**10**9",
    "'a'*10**9 == 'a'",
    "9" * 1999,
    "0x" + "f" * 1000 + " > 1",
    "(" * 999 + "true" + ")" * 999,
    "(" * 29 + "true" + ")" * 28,
    "[" * 1000,
    "not " * 400 + "true",
    "-" * 1900 + "1 > 0",
    "true and " * 200 + "true",
    "run" + ".main.run" * 200 + ".starts_engine",
    "'" + "x" * 1_000_000 + "' == 'x'",
    "true or " * 130_000 + "true",
    "\x00",
    "lipsum.__globals__",
    "self",
    "'\\N{' == 'x'",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_is_refused_quickly(text: str) -> None:
    """Hostile text is a problem after some thousand calls, not a hang, a crash or a large string."""
    found: list[Any] = []
    called = calls_of(lambda: found.extend(compile_condition(text, SCHEMA, PLACE)))
    condition, problems = found
    assert called < 50_000
    assert condition is None
    assert problems


def test_reads_names_what_is_compared() -> None:
    """The dotted names are recorded in order of first mention, whole chains only."""
    text = "run.main.rating <= limits.current and run.devices is empty and run.main.rating > 0"
    condition, _ = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None
    assert condition.reads == ("run.main.rating", "limits.current", "run.devices")


@pytest.mark.parametrize(
    ("text", "reads"),
    [
        ("run.main is present and run.main.rating > 0", ("run.main", "run.main.rating")),
        ("run.main.rating > 0 and run.main is present", ("run.main.rating", "run.main")),
        ("run.main.rating > 0", ("run.main.rating",)),
        ("(run.main if true else run.main).rating > 0", ("run.main",)),
        ("run.main.run == run", ("run.main.run", "run")),
    ],
)
def test_a_thing_that_is_read_for_itself_is_named(text: str, reads: tuple[str, ...]) -> None:
    """Beside what is read of it; a thing that only leads to an attribute is not."""
    condition, problems = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None, problems
    assert condition.reads == reads


@pytest.mark.parametrize(
    ("text", "read", "remedy"),
    [
        ("run.note == none", "None", "use `is absent`"),
        ("run.cores > 1e16", "1e+16", None),
        ("run.cores > " + "9" * 30, "9" * 20, None),
    ],
)
def test_a_constant_that_is_none(text: str, read: str, remedy: str | None) -> None:
    """What is meant is told for `none` only; a long one is told by its beginning."""
    _, problems = compile_condition(text, SCHEMA, PLACE)
    assert [(problem.read, problem.remedy) for problem in problems] == [(read, remedy)]


MISSING = [
    ("run.rated > run.ambient", {}, ("run.rated",)),
    ("run.main.rating > 0", {}, ("run.main",)),
    ("run.medium == 'dc'", {"medium": None}, ("run.medium",)),
    ("run.main.rating > 0", {"main": device("F1")}, ("box.F1.rating",)),
    ("run.main.rating > 0", {"main": device("F1", rating=None)}, ("run.main.rating",)),
    ("(run.main if true else run.main).rating > 0", {"main": device("F1", rating=None)}, ("rating",)),
    (
        "run.devices | sum('rating') > 0",
        {"devices": [device("F1"), device("F2")]},
        ("box.F1.rating", "box.F2.rating"),
    ),
    ("run.devices | where('breaks') is empty", {"devices": [device("F1")]}, ("box.F1.breaks",)),
    ("run.devices | every('breaks')", {"devices": [device("F1", breaks=None)]}, ("breaks",)),
    ("run.devices | some('breaks')", {"devices": [device("F1", breaks=None)]}, ("breaks",)),
    ("run.devices | sum('rating') > 0", {"devices": [device("F1", rating=None)]}, ("rating",)),
]


@pytest.mark.parametrize(("text", "stated", "fields"), MISSING)
def test_missing_data_names_its_field(text: str, stated: dict[str, object], fields: tuple[str, ...]) -> None:
    """Absent data, None included, is never a value: the answer names the field instead."""
    condition, _ = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(Missing) as caught:
        condition.evaluate(world(**stated))
    assert caught.value.fields == fields


def test_a_missing_top_level_name_is_missing_data() -> None:
    """A namespace without one of the schema's names leaves the answer open."""
    condition, _ = compile_condition("limits.current > 0", SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(Missing, match=r"limits\.current"):
        condition.evaluate({"run": View("run")})


@pytest.mark.parametrize(
    "text", ["run.ampacity / run.let_through > 1", "run.devices | largest('rating') > 0"]
)
def test_no_figure_is_missing_with_a_reason(text: str) -> None:
    """A division by zero and the largest of nothing are open with their reason, not a crash."""
    condition, _ = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(Missing) as caught:
        condition.evaluate(world(let_through=0.0, devices=[]))
    assert caught.value.reason


def test_short_circuit_spares_missing_data() -> None:
    """What is not needed for the answer is not asked for, as in Python."""
    condition, _ = compile_condition("run.medium == 'gas' and run.rated > run.ambient", SCHEMA, PLACE)
    assert condition is not None
    assert condition.evaluate(world()) is False


NO_FIGURE = "devices of its kind state no current"


@pytest.mark.parametrize("first", [0, 1])
@pytest.mark.parametrize(
    "text",
    ["run.devices | every('breaks')", "run.devices | some('breaks')", "run.devices | where('breaks') is empty",
     "run.devices | sum('rating') > 0", "run.devices | largest('rating') > 0", "run.devices | each('rating') | sum > 0"],
)  # fmt: skip
def test_what_has_no_figure_for_another_reason_is_missing_too(text: str, first: int) -> None:
    """Every device was taken to break the fault where a fact gave a reason and no field; a sum ended in a crash."""
    gone = Missing(reason=NO_FIGURE)
    devices = [
        device("F1", breaks="some" not in text, rating=1.0),
        device("F2", breaks=gone, rating=gone),
    ]
    condition, _ = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(Missing) as caught:
        condition.evaluate(world(devices=devices[::-1] if first else devices))
    assert (caught.value.fields, caught.value.reason) == ((), NO_FIGURE)
    with pytest.raises(Missing) as caught:
        condition.evaluate(world(devices=[*devices, device("F3"), device("F3")]))
    assert caught.value.fields == (("box.F3.rating",) if "rating" in text else ("box.F3.breaks",))
    assert caught.value.reason == ""  # what can be stated is asked for first


@pytest.mark.parametrize(
    ("breaks", "all_do", "one_does"),
    [([], True, False), ([True], True, True), ([False], False, False), ([True, True], True, True),
     ([True, False], False, True), ([False, False], False, False)],
)  # fmt: skip
def test_every_and_some(breaks: list[bool], all_do: bool, one_does: bool) -> None:
    """Of no devices every one does, and none does."""
    names = world(devices=[device(f"F{number}", breaks=one) for number, one in enumerate(breaks)])
    for said, answer in (("every", all_do), ("some", one_does)):
        condition, _ = compile_condition(f"run.devices | {said}('breaks')", SCHEMA, PLACE)
        assert condition is not None
        assert condition.evaluate(names) is answer


@pytest.mark.parametrize("reverse", [False, True])
def test_every_and_some_do_not_depend_on_order(reverse: bool) -> None:
    """One known item decides, wherever the item with missing data stands in the list."""
    devices = [device("F1"), device("F2", breaks=False), device("F3", breaks=True)]
    names = world(devices=devices[::-1] if reverse else devices)
    for said, answer in (("run.devices | every('breaks')", False), ("run.devices | some('breaks')", True)):
        condition, _ = compile_condition(said, SCHEMA, PLACE)
        assert condition is not None
        assert condition.evaluate(names) is answer


def test_a_fault_of_the_program_is_not_taken_for_missing_data() -> None:
    """An error inside a view stays an error: it must not pass for an open answer."""

    class Broken:
        @property
        def ampacity(self) -> float:
            figures: dict[str, float] = {}
            return figures["somewhere else"]

    condition, _ = compile_condition("run.ampacity > 0", SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(KeyError):
        condition.evaluate({"run": Broken()})


@pytest.mark.parametrize(
    ("text", "run", "fields"),
    [
        ("run.main.rating > 0 and run.length > 0", SimpleNamespace(), ("run.main.rating",)),
        ("run.main.rating > 0 and run.length > 0", SimpleNamespace(main=SimpleNamespace()), ("run.main.rating",)),
        ("limits.current > 0 and run.length > 0", SimpleNamespace(), ("limits.current",)),
        ("run.main.rating > 0 or run.main.breaks", SimpleNamespace(), ("run.main.rating", "run.main.breaks")),
    ],
)  # fmt: skip
def test_an_attribute_that_nobody_gives_is_missing_data(
    text: str, run: object, fields: tuple[str, ...]
) -> None:
    """A limit that a country does not have leaves the answer open, with the names that ask for it."""
    condition, _ = compile_condition(text, SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(Missing) as caught:
        condition.evaluate({"run": run, "limits": SimpleNamespace()})
    assert caught.value.fields == fields


def test_an_attribute_that_the_condition_does_not_name_is_a_fault() -> None:
    """As above: what a view looks for inside is no field of the spec, though it have the name of the view."""

    class Broken:
        @property
        def ampacity(self) -> float:
            found: float = SimpleNamespace().run
            return found

    condition, _ = compile_condition("run.ampacity > 0", SCHEMA, PLACE)
    assert condition is not None
    with pytest.raises(AttributeError, match="run"):
        condition.evaluate({"run": Broken()})


def test_the_code_sees_no_builtins() -> None:
    """The compiled function reaches nothing but its own few functions."""
    condition, _ = compile_condition("run.length > 0", SCHEMA, PLACE)
    assert condition is not None
    assert condition.judge.__globals__["__builtins__"] == {}


@pytest.mark.parametrize("text", ["+run.cores", "run['cores']", "2 ** 3", "run.describe()", "{'a': 1}"])
def test_what_the_check_does_not_know_is_not_compiled(text: str) -> None:
    """A second fence behind the check: such a tree has no code, whoever hands it over."""
    tree = parse(Source(text, PLACE))
    assert isinstance(tree, nodes.Expr)
    with pytest.raises(AssertionError):
        compiled(tree, text)


def test_only_a_name_can_be_present() -> None:
    """As above, of a test on a constant."""
    tree = parse(Source("3 is present", PLACE))
    assert isinstance(tree, nodes.Expr)
    with pytest.raises(AssertionError):
        compiled(tree, "3 is present")


def test_every_filter_and_test_is_documented() -> None:
    """The rule reference prints a sentence for each."""
    assert all(rule.meaning.endswith(".") and rule.example for rule in FILTERS.values())
    assert all(sentence.endswith(".") for sentence in TESTS.values())


@settings(max_examples=300, deadline=None)
@given(st.one_of(st.text(), st.text(alphabet="run.medi =<>'\"()[]{}|%#~*-+/ 019\n\\", max_size=80)))
def test_any_text_is_answered_with_problems_or_a_condition(text: str) -> None:
    """Whatever the text, there is a condition or a problem, never a crash."""
    condition, problems = compile_condition(text, SCHEMA, PLACE)
    assert (condition is None) == bool(problems)


@pytest.mark.parametrize(
    ("sign", "first", "second", "answer"),
    [
        # 0.05 + 0.1 is 0.15000000000000002: what stands at a limit by all that is written meets it
        ("<=", 0.05 + 0.1, 0.15, True),
        ("<", 0.15, 0.05 + 0.1, False),
        (">=", 0.15, 0.05 + 0.1, True),
        (">", 0.05 + 0.1, 0.15, False),
        (">=", 1.1 - 0.8 - 0.3 - 1e-16, 0.0, True),  # and nothing left is nothing left
        (">", 1.1 - 0.8 - 0.3, 0.0, False),
        ("<=", 0.15 * (1 + 1e-8), 0.15, False),  # a figure that anybody could write differs
        ("<", 0.15, 0.15 * (1 + 1e-8), True),
        ("<=", 2e-10, 0.0, False),
        ("<=", 40.0 * (1 + 0.95e-9), 40.0, True),  # a billionth of the larger, to either side
        ("<=", 40.0 * (1 + 1.05e-9), 40.0, False),
        (">=", 40.0, 40.0 * (1 + 0.95e-9), True),
        (">=", 40.0, 40.0 * (1 + 1.05e-9), False),
        ("<=", 0.95e-10, 0.0, True),  # and a ten-billionth of a unit where nothing is left
        ("<=", 1.05e-10, 0.0, False),
    ],
)
def test_sums_of_fractions_meet_their_limit(sign: str, first: float, second: float, answer: bool) -> None:
    """Order knows that figures are computed; it differs from Python's only within a billionth."""
    condition, problems = compile_condition(f"run.ampacity {sign} run.let_through", SCHEMA, PLACE)
    assert condition is not None, problems
    assert condition.evaluate(world(ampacity=first, let_through=second)) is answer


@pytest.mark.parametrize(
    ("sign", "made", "answer"),
    [
        ("<", date(2024, 12, 31), True), ("<", date(2025, 1, 1), False),
        ("<=", date(2025, 1, 1), True), ("<=", date(2025, 1, 2), False),
        (">=", date(2025, 1, 1), True), (">=", date(2024, 12, 31), False),
        (">", date(2025, 1, 2), True), (">", date(2025, 1, 1), False),
        ("==", date(2025, 1, 1), True), ("!=", date(2025, 1, 1), False),
    ],
)  # fmt: skip
def test_the_last_day_is_within_the_limit(sign: str, made: date, answer: bool) -> None:
    """Days are whole: what ends on a day still holds on it, and `limits.day` is 1 January 2025."""
    condition, problems = compile_condition(f"run.made {sign} limits.day", SCHEMA, PLACE)
    assert condition is not None, problems
    assert condition.evaluate(world(made=made)) is answer


def test_a_chain_works_each_side_out_once() -> None:
    """The middle of a chain is compared twice and asked for once."""

    class Counting(View):
        asked = 0

        @property
        def let_through(self) -> float:
            Counting.asked += 1
            return 30.0

    condition, _ = compile_condition("0 < run.let_through <= run.ampacity", SCHEMA, PLACE)
    assert condition is not None
    assert condition.evaluate({"run": Counting("run", ampacity=40.0)}) is True
    assert Counting.asked == 1


COMPARE: dict[str, Callable[[Any, Any], bool]] = {
    "<": operator.lt, "<=": operator.le, ">": operator.gt, ">=": operator.ge,
    "==": operator.eq, "!=": operator.ne,
}  # fmt: skip
Case = tuple[str, Callable[[float, float, bool], bool]]


def comparison(sign: str, flip: bool) -> Case:
    """`run.ampacity < run.let_through` or the other way round, with what it means."""
    words = ["run.ampacity", "run.let_through"]
    left, right = reversed(words) if flip else words
    return f"{left} {sign} {right}", lambda a, b, _: COMPARE[sign](*((b, a) if flip else (a, b)))


def joined(left: Case, word: str, right: Case) -> Case:
    """Two conditions joined, with what the whole means."""
    f, g = left[1], right[1]
    text = f"({left[0]}) {word} ({right[0]})"
    if word == "and":
        return text, lambda a, b, c: f(a, b, c) and g(a, b, c)
    return text, lambda a, b, c: f(a, b, c) or g(a, b, c)


def denied(inner: Case) -> Case:
    """`not`, with what it means."""
    return f"not ({inner[0]})", lambda a, b, c: not inner[1](a, b, c)


LEAVES: st.SearchStrategy[Case] = st.one_of(
    st.builds(comparison, st.sampled_from(sorted(COMPARE)), st.booleans()),
    st.just(("run.starts_engine", lambda _a, _b, c: c)),
)
CASES = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.builds(joined, inner, st.sampled_from(["and", "or"]), inner), st.builds(denied, inner)
    ),
    max_leaves=8,
)
FIGURES = st.sampled_from([0.0, 1.0, 2.0, 2.5])


@settings(max_examples=200, deadline=None)
@given(CASES, FIGURES, FIGURES, st.booleans())
def test_conditions_mean_what_python_means(case: Case, a: float, b: float, c: bool) -> None:
    """Comparisons joined by `and`, `or`, `not` have the usual meaning and precedence of brackets."""
    condition, problems = compile_condition(case[0], SCHEMA, PLACE)
    assert condition is not None, problems
    assert condition.evaluate(world(ampacity=a, let_through=b, starts_engine=c)) is case[1](a, b, c)
