"""The walk over one expression: what it has found so far, and how it says so."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from jinja2 import nodes

from specreg.facts.value_type import ValueType
from specreg.rules.condition_parse import DEEPEST, Source, anchor, too_deep
from specreg.rules.condition_types import describe
from specreg.source.problem import Problem, nearest_word

LONGEST_LIST = 24
"""How many right words are listed where none is near."""

REFUSED: Mapping[type[nodes.Node], str] = {
    nodes.Call: "nothing can be called here; use a filter, such as `run.devices | count`",
    nodes.Getitem: "nothing can be taken by `[…]`; use an attribute, such as `run.ampacity`",
    nodes.Pow: "powers are not allowed; make the figure a fact",
    nodes.Concat: "`~` is not allowed; put texts side by side with `{{ … }}`",
    nodes.FloorDiv: "`//` is not allowed; make the figure a fact",
    nodes.Mod: "`%` is not allowed; make the figure a fact",
    nodes.Dict: "`{…}` is not allowed",
    nodes.Pos: "a leading `+` is not needed",
}

Typed = ValueType | None
"""The type of a node, or None where a problem has been found in it: nothing more is said of such a node."""
Check = Callable[["Checker", Any], Typed]
"""How one sort of node is checked."""


class Checker:
    """Walks one expression; collects problems, the names read, and the type of each node."""

    def __init__(
        self,
        source: Source,
        schema: Mapping[str, ValueType],
        checks: Mapping[type[nodes.Node], Check],
        *,
        wording: bool,
    ) -> None:
        self.source = source
        self.schema = schema
        self.checks = checks
        self.wording = wording
        self.problems: list[Problem] = []
        self.reads: dict[str, None] = {}
        self.depth = 0

    def check(self, node: nodes.Node) -> Typed:
        """The node's type; None, and at least one problem, where it has none."""
        if self.depth >= DEEPEST:
            self.problems.append(too_deep(self.source.at()))
            return None
        self.depth += 1
        try:
            handler = self.checks.get(type(node))
            return handler(self, node) if handler else self._refuse(node)
        finally:
            self.depth -= 1

    def complain(self, node: nodes.Node, message: str, word: str = "", **details: str | None) -> None:
        """Record a problem at a word of the expression (that of the node where none is given)."""
        place = self.source.at(word or anchor(node), node.lineno)
        self.problems.append(Problem(place, message, **details))

    def unknown(self, node: nodes.Node, what: str, word: str, words: Iterable[str]) -> None:
        """Record an unknown word with the nearest right one, or all right ones where there are few."""
        known = sorted(words)
        nearest = nearest_word(word, known)
        expected = ", ".join(known) if nearest is None and 0 < len(known) <= LONGEST_LIST else None
        self.complain(node, f"unknown {what}", word, read=word, nearest=nearest, expected=expected)

    def want_truth(self, node: nodes.Node) -> None:
        """Check a node that must be a truth value; lists and numbers are not taken for one."""
        kind = self.check(node)
        if kind is None or kind.form == "truth":
            return
        remedy = "compare it, or use a test such as `is present`"
        if kind.form == "list":
            remedy = "use `is empty` or `is not empty`"
        self.complain(node, f"a yes or no is needed here, and this is {describe(kind)}", remedy=remedy)

    def _refuse(self, node: nodes.Node) -> Typed:
        message = REFUSED.get(type(node), f"this is not allowed in an expression ({type(node).__name__})")
        self.complain(node, message)
        return None
