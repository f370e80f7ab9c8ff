"""No text makes a regular expression of ours go round for ever: each of them is looked at in its parts.

A backtracking matcher takes more than the square of a text's length only where repetitions stand within repetitions
or where two that can match the same letters follow one another. Patterns in which they do are named here with the
reason why their texts are short.
"""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
import re._constants as codes  # type: ignore[import-not-found]
import re._parser as parser  # type: ignore[import-not-found]
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import specreg

MANY = codes.MAXREPEAT
SIGNS = "".join(map(chr, range(32, 127))) + "\t\n\r ·²³°½€é−–\u00a0\u0661\U0001f600"
"""Letters of every sort by which it is told whether two pieces can match the same."""


def modules() -> Iterator[Any]:
    """Every module of the program that can be imported without an extra."""
    for found in pkgutil.walk_packages(specreg.__path__, "specreg."):
        if not found.name.endswith("__main__"):
            yield importlib.import_module(found.name)


def patterns() -> dict[str, str]:
    """Every compiled pattern of a module by `module.NAME`; those in a table by their place in it."""
    found: dict[str, str] = {}
    for module in modules():
        for name, value in vars(module).items():
            of = (
                list(value) if isinstance(value, tuple) and value and isinstance(value[0], tuple) else [value]
            )
            for number, one in enumerate(of):
                pattern = one[0] if isinstance(one, tuple) and one else one
                if isinstance(pattern, re.Pattern) and not any(
                    pattern.pattern == known for known in found.values()
                ):
                    found[f"{module.__name__}.{name}{f'[{number}]' if len(of) > 1 else ''}"] = str(
                        pattern.pattern
                        if isinstance(pattern.pattern, str)
                        else pattern.pattern.decode("latin-1")
                    )
    return found


def in_calls() -> dict[str, str]:
    """Every pattern that stands as a text in a call such as `re.split("…", text)`, by its place."""
    found = {}
    for path in sorted(Path(specreg.__file__).parent.rglob("*.py")):
        text = path.read_text(encoding="utf-8")
        for node in ast.walk(ast.parse(text)) if "import re\n" in text else ():
            match node:
                case ast.Call(ast.Attribute(ast.Name("re"), called), [ast.Constant(str(pattern)), *_]):
                    if called not in ("compile", "escape"):
                        found[f"{path.name}:{node.lineno}"] = pattern
    return found


def letters(tokens: Any) -> set[str]:
    """Which of the signs can stand first in a match, or anywhere in one for a repetition of single letters."""
    for token in tokens:
        return _of(token) | (letters(tokens[1:]) if _may_be_empty(token) else set())
    return set()


def _of(token: Any) -> set[str]:
    kind, value = token
    if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT, codes.POSSESSIVE_REPEAT):
        return letters(list(value[2]))
    if kind is codes.SUBPATTERN:
        return letters(list(value[3]))
    if kind is codes.BRANCH:
        return set().union(*(letters(list(one)) for one in value[1]))
    if kind is codes.LITERAL:
        return {chr(value), chr(value).swapcase()}
    if kind in (codes.AT, codes.ASSERT, codes.ASSERT_NOT, codes.GROUPREF, codes.GROUPREF_EXISTS):
        return set()
    return set(_matching(_written(token)))


@cache
def _matching(pattern: str) -> frozenset[str]:
    one = re.compile(pattern, re.DOTALL)
    return frozenset(sign for sign in SIGNS if one.fullmatch(sign))


def _written(token: Any) -> str:
    kind, value = token
    if kind is codes.ANY:
        return "."
    if kind is codes.NOT_LITERAL:
        return f"[^{re.escape(chr(value))}]"
    inside = ""
    for what, of in value:
        if what is codes.NEGATE:
            inside += "^"
        elif what is codes.LITERAL:
            inside += re.escape(chr(of))
        elif what is codes.RANGE:
            inside += f"{re.escape(chr(of[0]))}-{re.escape(chr(of[1]))}"
        else:
            inside += {
                "DIGIT": r"\d",
                "NOT_DIGIT": r"\D",
                "SPACE": r"\s",
                "NOT_SPACE": r"\S",
                "WORD": r"\w",
                "NOT_WORD": r"\W",
            }[str(of).removeprefix("CATEGORY_")]
    return f"[{inside}]"


def _may_be_empty(token: Any) -> bool:
    kind, value = token
    if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT, codes.POSSESSIVE_REPEAT):
        return value[0] == 0 or all(map(_may_be_empty, value[2]))
    if kind is codes.SUBPATTERN:
        return all(map(_may_be_empty, value[3]))
    if kind is codes.BRANCH:
        return any(all(map(_may_be_empty, one)) for one in value[1])
    return kind in (codes.AT, codes.ASSERT, codes.ASSERT_NOT)


def repetitions(tokens: Any, within: bool = False) -> Iterator[str]:
    """What is wrong with a pattern: repetitions within repetitions, and neighbours that can take each other's letters."""
    open_: set[str] = set()  # letters that a repetition before this token may still give back
    for token in tokens:
        kind, value = token
        if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT) and value[1] is MANY:
            if within:
                yield "a repetition within a repetition"
            if open_ & letters(list(value[2])):
                yield "a repetition behind one that can match the same"
            yield from repetitions(value[2], not _begins_apart(list(value[2])))
            open_ = open_ | _of(token) if _may_be_empty(token) else _of(token)
            continue
        if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT):
            inner = list(repetitions(value[2], within))
            yield from inner
            if not _may_be_empty(token):
                open_ = open_ & _last(value[2])
            continue
        if kind is codes.SUBPATTERN:
            yield from repetitions(list(value[3]), within)
            open_ = _trailing(list(value[3])) | (open_ if _may_be_empty(token) else open_ & _of(token))
            continue
        if kind is codes.BRANCH:
            for one in value[1]:
                yield from repetitions(list(one), within)
            open_ = set().union(open_ & _of(token), *(_trailing(list(one)) for one in value[1]))
            continue
        if not _may_be_empty(token):
            open_ = open_ & _of(token)


def _begins_apart(tokens: list[Any]) -> bool:
    """Whether what is repeated is found by its beginning, which no repetition inside can take: `(-[a-z]+)*`."""
    if len(tokens) == 1 and tokens[0][0] is codes.SUBPATTERN:
        return _begins_apart(list(tokens[0][1][3]))
    inside: set[str] = set()
    for kind, value in tokens[1:]:
        if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT):
            inside |= letters(list(value[2]))
    return (
        not _may_be_empty(tokens[0])
        and not _of(tokens[0]) & inside
        and tokens[0][0] in (codes.LITERAL, codes.IN)
    )


def _last(tokens: Any) -> set[str]:
    return _of(tokens[0]) if len(tokens) == 1 else set(SIGNS)


def _trailing(tokens: list[Any]) -> set[str]:
    """The letters that a repetition at the end of a group may give back."""
    for kind, value in reversed(tokens):
        if kind in (codes.MAX_REPEAT, codes.MIN_REPEAT) and value[1] is MANY:
            return letters(list(value[2]))
        if not _may_be_empty((kind, value)):
            return set()
    return set()


KNOWN = {
    "specreg.source.circuits.CONDUCTOR": "what follows the second takes all that is left, so the first is tried once for each letter",
    "specreg.units.reading._feet": "no quantity has more than sixty letters",
}


def test_every_pattern_takes_one_way_along_the_text() -> None:
    """Compiled ones of every module, and those that stand in a call."""
    found = {**patterns(), **in_calls()}
    assert len(found) > 80
    wrong = {name: sorted(set(repetitions(parser.parse(text)))) for name, text in sorted(found.items())}
    assert {name for name, said in wrong.items() if said} == {*KNOWN}, {
        name: said for name, said in wrong.items() if said
    }


def test_the_look_sees_what_it_should() -> None:
    """Patterns that are known to go round, and some that do not."""
    bad = (r"(a+)+b", r"\{\s*([^{}]*?)\s*\}", r"a.*b.*c", r"\s*\s*x", r"(?:a|b*)*c", r"[a-z]+\w+!")
    good = (
        r"\{([^{}]*)\}",
        r"[a-z]+(?:-[a-z]+)*",
        r"[0-9]+(\.[0-9]+)?",
        r"a+b+",
        r"[a-z]+/[0-9]+",
        r"\s+[0-9]+\s*m",
    )
    for pattern in bad:
        assert list(repetitions(parser.parse(pattern))), pattern
    for pattern in good:
        assert not list(repetitions(parser.parse(pattern))), pattern
