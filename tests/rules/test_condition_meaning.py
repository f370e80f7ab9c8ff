"""What conditions mean: an interpreter in plain Python beside the compiler, and figures that carry their units."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from condition_world import PLACE, SCHEMA, View
from hypothesis import given, settings
from hypothesis import strategies as st

from specreg.facts.missing import Missing
from specreg.rules.condition import compile_condition

NO_ANSWER = Missing(reason="there is no such figure of it")
"""What a fact says where no field is missing, and yet there is nothing to say."""

Stated = Mapping[str, Any]
"""What a van states, by dotted name; None where it states nothing. Devices are a list of such."""


class Lacking(Exception):  # noqa: N818 - as Missing, of which it knows nothing
    """What is missing, by name; no name where there is no figure for another reason."""

    def __init__(self, *fields: str) -> None:
        super().__init__(*fields)
        self.fields = fields


@dataclass(frozen=True)
class Said:
    """An expression as it is written, and what it means."""

    text: str
    means: Callable[[Stated], Any]


NAMES = {
    "current": ("run.ampacity", "run.let_through", "limits.current", "run.main.rating"),
    "bare": ("run.cores",),
    "text": ("run.medium",),
    "truth": ("run.starts_engine", "run.main.breaks"),
}


def stated(name: str) -> Said:
    """A name: its value, or the name itself where nothing is stated; the thing that has it comes first."""

    def means(van: Stated) -> Any:
        parts = name.split(".")
        for length in range(2, len(parts) + 1):
            if van.get(".".join(parts[:length])) is None:
                raise Lacking(".".join(parts[:length]))
        return van[name]

    return Said(name, means)


def written(text: str, value: Any) -> Said:
    """A constant."""
    return Said(text, lambda _: value)


def same(one: float, other: float) -> bool:
    """Whether two figures are one but for the arithmetic of fractions: a billionth, or next to nothing."""
    return abs(one - other) <= max(1e-9 * max(abs(one), abs(other)), 1e-10)


SIGNS: Mapping[str, Callable[[Any, Any], bool]] = {
    "==": lambda one, other: one == other,
    "!=": lambda one, other: one != other,
    "<": lambda one, other: one < other and not same(one, other),
    ">": lambda one, other: one > other and not same(one, other),
    "<=": lambda one, other: one < other or same(one, other),
    ">=": lambda one, other: one > other or same(one, other),
}


def compared(first: Said, *rest: tuple[str, Said]) -> Said:
    """A chain of comparisons: from the left to the right, up to the first that is wrong."""

    def means(van: Stated) -> bool:
        left = first.means(van)
        for sign, side in rest:
            right = side.means(van)
            if not SIGNS[sign](left, right):
                return False
            left = right
        return True

    return Said("(" + " ".join([first.text, *(f"{sign} {side.text}" for sign, side in rest)]) + ")", means)


def computed(sign: str, left: Said, right: Said) -> Said:
    """A sum, difference, product or quotient; nothing is divided by zero."""

    def means(van: Stated) -> float:
        one, other = left.means(van), right.means(van)
        if sign == "/" and other == 0:
            raise Lacking
        table: Mapping[str, Callable[[], float]] = {
            "+": lambda: one + other,
            "-": lambda: one - other,
            "*": lambda: one * other,
            "/": lambda: one / other,
        }
        return table[sign]()

    return Said(f"({left.text} {sign} {right.text})", means)


def negative(inner: Said) -> Said:
    """A minus."""
    return Said(f"(-{inner.text})", lambda van: 0.0 - inner.means(van))


def either(first: Said, test: Said, second: Said) -> Said:
    """One or the other; the one that is not wanted is not asked for."""
    text = f"({first.text} if {test.text} else {second.text})"
    return Said(text, lambda van: first.means(van) if test.means(van) else second.means(van))


def both(left: Said, right: Said) -> Said:
    """`and`: the right side is asked for only where the left one holds."""

    def means(van: Stated) -> bool:
        if not left.means(van):
            return False
        answer: bool = right.means(van)
        return answer

    return Said(f"({left.text} and {right.text})", means)


def one_of_two(left: Said, right: Said) -> Said:
    """`or`: the right side is asked for only where the left one does not hold."""

    def means(van: Stated) -> bool:
        if left.means(van):
            return True
        answer: bool = right.means(van)
        return answer

    return Said(f"({left.text} or {right.text})", means)


def denied(inner: Said) -> Said:
    """`not`."""
    return Said(f"(not {inner.text})", lambda van: not inner.means(van))


def in_list(item: Said, words: Sequence[str], positive: bool) -> Said:
    """Whether a word is in a list of words."""
    text = f"({item.text} {'in' if positive else 'not in'} [{', '.join(repr(word) for word in words)}])"
    return Said(text, lambda van: any(item.means(van) == word for word in words) is positive)


def has_word(word: str, positive: bool) -> Said:
    """Whether a list of the van has a word."""
    colours = stated("run.colours")
    text = f"('{word}' {'in' if positive else 'not in'} run.colours)"
    return Said(text, lambda van: any(one == word for one in colours.means(van)) is positive)


def is_there(name: Said, word: str, positive: bool) -> Said:
    """`is present` and `is absent`, and their contraries; this alone may be asked of what is missing."""

    def means(van: Stated) -> bool:
        try:
            name.means(van)
        except Lacking:
            return (word == "absent") is positive
        return (word == "present") is positive

    return Said(f"({name.text} is {'' if positive else 'not '}{word})", means)


def is_empty(of: Said, word: str, positive: bool) -> Said:
    """`is empty` and `is none_left`, and their contraries."""
    text = f"({of.text} is {'' if positive else 'not '}{word})"
    return Said(text, lambda van: (len(of.means(van)) == 0) is positive)


def attribute(things: Sequence[Stated], name: str) -> list[Any]:
    """That attribute of each; all that are missing are missing, and what has no figure has no name."""
    gone = [f"{thing['id']}.{name}" for thing in things if thing[name] is None]
    if gone or any(thing[name] is NO_ANSWER for thing in things):
        raise Lacking(*gone)
    return [thing[name] for thing in things]


DEVICES = stated("run.devices")
BREAKING = Said(
    "(run.devices | where('breaks'))",
    lambda van: [
        thing
        for thing, breaks in zip(DEVICES.means(van), attribute(DEVICES.means(van), "breaks"), strict=True)
        if breaks
    ],
)
LISTS = st.sampled_from([DEVICES, BREAKING])


def of_every(things: Said, word: str) -> Said:
    """`every` and `some`: one known answer decides, whatever is missing elsewhere."""
    decides = word == "some"

    def means(van: Stated) -> bool:
        listed = things.means(van)
        if any(thing["breaks"] is decides for thing in listed):
            return decides
        attribute(listed, "breaks")
        return not decides

    return Said(f"({things.text} | {word}('breaks'))", means)


def figure_of(things: Said, word: str, by_each: bool) -> Said:
    """`sum`, `largest`, `smallest` of the ratings, of which the last two ask for one at least."""

    def means(van: Stated) -> float:
        ratings = attribute(things.means(van), "rating")
        if word == "sum":
            total = 0.0
            for rating in ratings:
                total += rating
            return total
        if not ratings:
            raise Lacking
        found: float = sorted(ratings)[-1 if word == "largest" else 0]
        return found

    by = f"each('rating') | {word}" if by_each else f"{word}('rating')"
    return Said(f"({things.text} | {by})", means)


def count_of(things: Said) -> Said:
    """`count`."""
    return Said(f"({things.text} | count)", lambda van: len(things.means(van)))


def names(kind: str) -> st.SearchStrategy[Said]:
    """Names of one type."""
    return st.sampled_from([stated(name) for name in NAMES[kind]])


ORDER = st.sampled_from(sorted(SIGNS))
FIGURES_OF_DEVICES = st.builds(
    figure_of, LISTS, st.sampled_from(["sum", "largest", "smallest"]), st.booleans()
)
WORDS = ("dc", "ac", "gas")
CURRENT_LEAVES = st.one_of(names("current"), FIGURES_OF_DEVICES)
BARE_LEAVES = st.one_of(
    names("bare"),
    st.builds(count_of, LISTS),
    st.sampled_from([written("0", 0.0), written("2", 2.0), written("0.1", 0.1), written("1.5", 1.5)]),
)
TRUTH_LEAVES = st.one_of(
    names("truth"),
    st.sampled_from([written("true", True), written("false", False)]),
    st.builds(of_every, LISTS, st.sampled_from(["every", "some"])),
    st.builds(is_empty, LISTS, st.sampled_from(["empty", "none_left"]), st.booleans()),
    st.builds(
        is_there,
        st.sampled_from([stated(name) for group in NAMES.values() for name in group] + [DEVICES]),
        st.sampled_from(["present", "absent"]),
        st.booleans(),
    ),
    st.builds(
        in_list, names("text"), st.lists(st.sampled_from(WORDS), min_size=1, max_size=2), st.booleans()
    ),
    st.builds(has_word, st.sampled_from(["red", "black", "green"]), st.booleans()),
    st.builds(
        lambda sign, word: compared(stated("run.medium"), (sign, written(repr(word), word))),
        st.sampled_from(["==", "!="]),
        st.sampled_from(WORDS),
    ),
)


Kinds = Mapping[str, st.SearchStrategy[Said]]
LEAVES: Kinds = {"current": CURRENT_LEAVES, "bare": BARE_LEAVES, "truth": TRUTH_LEAVES}


def chain(first: Said, rest: list[tuple[str, Said]]) -> Said:
    """A chain of comparisons."""
    return compared(first, *rest)


def deeper(kinds: Kinds) -> Kinds:
    """What can be made of such expressions by one more sign."""
    current, bare, truth = kinds["current"], kinds["bare"], kinds["truth"]

    def chains(side: st.SearchStrategy[Said]) -> st.SearchStrategy[Said]:
        return st.builds(chain, side, st.lists(st.tuples(ORDER, side), min_size=1, max_size=3))

    def figures(own: st.SearchStrategy[Said]) -> tuple[st.SearchStrategy[Said], ...]:
        return (
            st.builds(computed, st.sampled_from("+-"), own, own),
            st.builds(computed, st.just("*"), own, bare),
            st.builds(computed, st.just("*"), bare, own),
            st.builds(computed, st.just("/"), own, bare),
            st.builds(negative, own),
            st.builds(either, own, truth, own),
        )

    return {
        "current": st.one_of(CURRENT_LEAVES, *figures(current)),
        "bare": st.one_of(BARE_LEAVES, st.builds(computed, st.just("/"), current, current), *figures(bare)),
        "truth": st.one_of(
            chains(current),
            chains(bare),
            st.builds(both, truth, truth),
            st.builds(one_of_two, truth, truth),
            st.builds(denied, truth),
            st.builds(either, truth, truth, truth),
            st.builds(
                chain,
                truth,
                st.lists(st.tuples(st.sampled_from(["==", "!="]), truth), min_size=1, max_size=1),
            ),
        ),
    }


CONDITIONS = deeper(deeper(deeper(LEAVES)))["truth"]


FIGURES = (0.0, 0.1, 0.2, 0.1 + 0.2, 0.3, 1.0, 1.5, 2.0, 30.0)
TRUTHS = (True, False)


def van_of(lots: Random) -> Stated:
    """What a van states, of which anything may be missing."""

    def one(values: Sequence[Any], missing: float = 0.15) -> Any:
        return None if lots.random() < missing else lots.choice(values)

    listed = [
        {"id": f"box.F{number}", "rating": one([*FIGURES, NO_ANSWER]), "breaks": one([*TRUTHS, NO_ANSWER])}
        for number in range(1, lots.choice([0, 1, 2, 3, 3]) + 1)
    ]
    return {
        **{name: one(FIGURES) for name in NAMES["current"]},
        "run.cores": one([0, 1, 2, 3]),
        "run.medium": one(WORDS),
        "run.starts_engine": one(TRUTHS),
        "run.main.breaks": one(TRUTHS),
        "run.main": one([True]),
        "run.colours": one([[], ["red"], ["red", "black"]]),
        "run.devices": one([listed]),
    }


VANS = [van_of(Random(number)) for number in range(40)]


def thing(path: str, figures: Mapping[str, Any]) -> View:
    """A view of what is stated; what is not raises Missing."""
    return View(path, **{name: value for name, value in figures.items() if value is not None})


def namespace(van: Stated) -> dict[str, object]:
    """The van as conditions see it."""
    figures = {
        name.removeprefix("run."): value
        for name, value in van.items()
        if name.startswith("run.") and name.count(".") == 1
    }
    if van["run.main"] is not None:
        figures["main"] = thing("run.main", {name: van[f"run.main.{name}"] for name in ("rating", "breaks")})
    if van["run.devices"] is not None:
        figures["devices"] = [thing(one["id"], one) for one in van["run.devices"]]
    return {
        "run": thing("run", figures),
        "limits": thing("limits", {"current": van["limits.current"]}),
    }


def outcome(asked: Callable[[Any], Any], of: object) -> object:
    """The answer, or the names of what is missing."""
    try:
        return asked(of)
    except (Missing, Lacking) as missing:
        return missing.fields


@settings(max_examples=200, deadline=None)
@given(CONDITIONS)
def test_a_condition_answers_as_an_interpreter_in_plain_python(said: Said) -> None:
    """On every van, whatever it leaves out: the same yes or no, or the same names of what is missing."""
    condition, problems = compile_condition(said.text, SCHEMA, PLACE)
    assert condition is not None, problems
    for van in VANS:
        assert outcome(condition.evaluate, namespace(van)) == outcome(said.means, van), van
