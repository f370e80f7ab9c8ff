"""Comparisons in an expression: what stands on each side, and words that the other side can never be."""

from __future__ import annotations

from jinja2 import nodes

from specreg.facts.value_type import TRUTH, ValueType
from specreg.rules.condition_checker import Checker, Typed
from specreg.rules.condition_types import comparable, describe
from specreg.units import Dimension

SIGNS = {"eq": "==", "ne": "!=", "lt": "<", "lteq": "<=", "gt": ">", "gteq": ">="}

Side = tuple[nodes.Node, ValueType]
"""One side of a comparison: the node and its type."""


def comparison(checker: Checker, node: nodes.Compare) -> Typed:
    """A chain of comparisons, each side's type against the next."""
    left_node, left = node.expr, checker.check(node.expr)
    for operand in node.ops:
        right = checker.check(operand.expr)
        if left is not None and right is not None:
            if operand.op in SIGNS:
                compared(checker, SIGNS[operand.op], (left_node, left), (operand.expr, right))
            else:
                contained(checker, (left_node, left), (operand.expr, right))
        left_node, left = operand.expr, right
    return TRUTH


def compared(checker: Checker, sign: str, left: Side, right: Side) -> None:
    """Say why two values may not be compared by a sign."""
    complaint = comparable(sign, left[1], right[1])
    if complaint is None:
        chosen(checker, left[1], right[0])
        chosen(checker, right[1], left[0])
    elif not (zero_beside(left, right) or zero_beside(right, left) or ratios(left, right)):
        checker.complain(left[0], complaint)


def contained(checker: Checker, left: Side, right: Side) -> None:
    """Say why a value may not be looked for in a list."""
    item = right[1].item
    if item is None:
        checker.complain(right[0], f"`in` needs a list, and this is {describe(right[1])}")
    elif complaint := comparable("==", left[1], item):
        checker.complain(left[0], complaint)
    else:
        for word in right[0].items if isinstance(right[0], nodes.List | nodes.Tuple) else ():
            chosen(checker, left[1], word)
        chosen(checker, item, left[0])


def chosen(checker: Checker, kind: ValueType, node: nodes.Node | None) -> None:
    """Say where a constant text is none of the words that the other side can be."""
    if isinstance(node, nodes.CondExpr):
        for branch in (node.expr1, node.expr2):
            chosen(checker, kind, branch)
    elif kind.choices and isinstance(node, nodes.Const) and node.value not in kind.choices:
        checker.unknown(node, "word", str(node.value), kind.choices)


def ratios(left: Side, right: Side) -> bool:
    """Whether a share stands beside a computed ratio; a written `3` could mean 3 % or three times."""
    dimensions = {left[1].dimension, right[1].dimension}
    written = isinstance(left[0], nodes.Const) or isinstance(right[0], nodes.Const)
    return dimensions == {Dimension.share, Dimension.plain} and not written


def zero_beside(zero: Side, other: Side) -> bool:
    """Whether one side is a written 0, which is the same in every unit except those of temperature."""
    node, dimension = zero[0], other[1].dimension
    written = isinstance(node, nodes.Const) and not isinstance(node.value, bool) and node.value == 0
    return written and other[1].form == "number" and dimension is not Dimension.temperature
