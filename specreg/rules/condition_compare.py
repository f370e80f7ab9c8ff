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
    left_node, left, sound = node.expr, checker.check(node.expr), True
    for operand in node.ops:
        right = checker.check(operand.expr)
        if left is None or right is None:
            sound = False
        elif operand.op in SIGNS:
            sound &= compared(checker, SIGNS[operand.op], (left_node, left), (operand.expr, right))
        else:
            sound &= contained(checker, (left_node, left), (operand.expr, right))
        left_node, left = operand.expr, right
    return TRUTH if sound else None


def compared(checker: Checker, sign: str, left: Side, right: Side) -> bool:
    """Whether two values may be compared by a sign."""
    complaint = comparable(sign, left[1], right[1])
    if complaint and (zero_beside(left, right) or zero_beside(right, left) or ratios(left, right)):
        return True
    if complaint:
        checker.complain(left[0], complaint)
        return False
    return chosen(checker, left[1], right[0]) and chosen(checker, right[1], left[0])


def contained(checker: Checker, left: Side, right: Side) -> bool:
    """Whether a value may be looked for in a list."""
    item = right[1].item
    if right[1].form != "list" or item is None:
        checker.complain(right[0], f"`in` needs a list, and this is {describe(right[1])}")
        return False
    if complaint := comparable("==", left[1], item):
        checker.complain(left[0], complaint)
        return False
    words = right[0].items if isinstance(right[0], nodes.List | nodes.Tuple) else [right[0]]
    unknown = [word for word in words if not chosen(checker, left[1], word)]
    return not unknown and chosen(checker, item, left[0])


def chosen(checker: Checker, kind: ValueType, node: nodes.Node) -> bool:
    """Whether a constant text is one of the words that the other side can be."""
    if not kind.choices or not isinstance(node, nodes.Const) or node.value in kind.choices:
        return True
    checker.unknown(node, "word", str(node.value), kind.choices)
    return False


def ratios(left: Side, right: Side) -> bool:
    """Whether a share stands beside a computed ratio; a written `3` could mean 3 % or three times."""
    dimensions = {left[1].dimension, right[1].dimension}
    written = isinstance(left[0], nodes.Const) or isinstance(right[0], nodes.Const)
    return dimensions == {Dimension.share, Dimension.plain} and not written


def zero_beside(zero: Side, other: Side) -> bool:
    """Whether one side is a written 0, which is the same in every unit except those of temperature."""
    node, dimension = zero[0], other[1].dimension
    written = isinstance(node, nodes.Const) and not isinstance(node.value, bool | str) and node.value == 0
    return written and other[1].form == "number" and dimension is not Dimension.temperature
