"""From a condition's text to its syntax tree, by the template language's own parser, and places in it."""

from __future__ import annotations

import re
import warnings
from dataclasses import dataclass

from jinja2 import Environment, TemplateSyntaxError, nodes
from jinja2.parser import Parser

from specreg.source.place import Place
from specreg.source.problem import Problem

LONGEST_TEXT = 2000
DEEPEST = 60
DEEPEST_BRACKETS = 30

# No folding of constants: it would run `2 ** 10 ** 9` while a rule is only being read.
_ENVIRONMENT = Environment(autoescape=False, optimized=False, cache_size=0)


@dataclass(frozen=True)
class Source:
    """An expression, and where it stands: `place` is that of `whole`, which holds it from `start`."""

    expression: str
    place: Place
    whole: str = ""
    start: int = 0

    def at(self, word: str = "", line: int = 1) -> Place:
        """The place of a word on a line of the expression; the start of the line where it is not found."""
        lines = self.expression.split("\n")
        above = sum(len(text) + 1 for text in lines[: line - 1])
        found = re.search(rf"(?<!\w){re.escape(word)}(?!\w)", self.expression[above:]) if word else None
        return self.place_of(above + (found.start() if found else 0))

    def place_of(self, offset: int) -> Place:
        """The place of a character of the expression.

        A text of several lines is a block: it begins below its mark, and its indentation is not known.
        """
        whole = self.whole or self.expression
        before = whole[: self.start + offset]
        if "\n" not in whole:
            return self.place._replace(column=self.place.column + len(before))
        line = before.count("\n")
        return Place(self.place.file, self.place.line + 1 + line, len(before) - before.rfind("\n"))


def parse(source: Source) -> nodes.Expr | Problem:
    """The syntax tree of an expression, or why there is none; never raises, whatever the text."""
    text = source.expression
    if problem := _outside_limits(source):
        return problem
    try:
        return _tree(text, source)
    except TemplateSyntaxError as error:
        return Problem(
            source.at(line=error.lineno), f"this is not an expression: {error.message}", read=text.strip()
        )
    except RecursionError:
        return too_deep(source.at())
    except (ValueError, OverflowError, MemoryError, SyntaxError):
        return Problem(source.at(), "this is not an expression: a number in it cannot be read")


def _outside_limits(source: Source) -> Problem | None:
    text = source.expression
    if len(text) > LONGEST_TEXT:
        return too_long(source.place, len(text))
    if not text.strip():
        return Problem(source.at(), "the expression is empty")
    return too_deep(source.at()) if _brackets(text) > DEEPEST_BRACKETS else None


def _tree(text: str, source: Source) -> nodes.Expr | Problem:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the lexer's opinion of `\d` in a string is not the reader's
        parser = Parser(_ENVIRONMENT, text, state="variable")
        tree = parser.parse_expression()
    if parser.stream.eos:
        return tree
    current = parser.stream.current
    message = "the expression ends before the text does"
    return Problem(source.at(str(current.value), current.lineno), message, read=str(current.value))


def too_long(place: Place, length: int) -> Problem:
    """The problem of a text beyond the limit."""
    return Problem(place, f"the text has {length} characters", expected=f"at most {LONGEST_TEXT}")


def too_deep(place: Place) -> Problem:
    """The problem of an expression nested beyond the limit."""
    remedy = "split it into several rules, or make part of it a fact"
    return Problem(place, "the expression is nested too deeply to be read", remedy=remedy)


def _brackets(text: str) -> int:
    """How deeply brackets nest; those inside quoted strings count too, which only errs on the short side."""
    depth = deepest = 0
    for letter in text:
        depth += (letter in "([{") - (letter in ")]}")
        deepest = max(deepest, depth)
    return deepest


def dotted(node: nodes.Node) -> str | None:
    """`run.device.rating` for a chain of attributes that begins with a name, else None."""
    words: list[str] = []
    while isinstance(node, nodes.Getattr):
        words.append(node.attr)
        node = node.node
    return ".".join([node.name, *reversed(words)]) if isinstance(node, nodes.Name) else None


def anchor(node: nodes.Node) -> str:
    """The last word of the first name in a node: what to look for in the text to find its place."""
    word = dotted(node)
    if word is not None:
        return word
    if isinstance(node, nodes.Const) and isinstance(node.value, str | int | float):
        return str(node.value)
    return next((found for child in node.iter_child_nodes() if (found := anchor(child))), "")
