"""Each node of an expression against the whitelist and the types of the facts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jinja2 import nodes

from specreg.facts.value_type import TRUTH, ValueType, list_of, number, text
from specreg.rules.condition_checker import Check, Checker, Typed
from specreg.rules.condition_compare import comparison
from specreg.rules.condition_parse import dotted
from specreg.rules.condition_types import combine, describe
from specreg.rules.filters import FILTERS, TESTS
from specreg.units import Dimension

GREATEST_CONSTANT = 1e15
ARITHMETIC = {nodes.Add: "+", nodes.Sub: "-", nodes.Mul: "*", nodes.Div: "/"}


def logic(checker: Checker, node: nodes.And | nodes.Or) -> Typed:
    """`and`, `or`: truth values on both sides."""
    checker.want_truth(node.left)
    checker.want_truth(node.right)
    return TRUTH


def negation(checker: Checker, node: nodes.Not) -> Typed:
    """`not`: a truth value."""
    checker.want_truth(node.node)
    return TRUTH


def name(checker: Checker, node: nodes.Name) -> Typed:
    """A name of the schema; inside a chain of attributes the chain is what is read."""
    kind = checker.schema.get(node.name)
    if kind is None:
        checker.unknown(node, "name", node.name, checker.schema)
    else:
        checker.reads.setdefault(node.name)
    return kind


def attribute(checker: Checker, node: nodes.Getattr) -> Typed:
    """An attribute that the view's type declares."""
    before = set(checker.reads)
    owner = checker.check(node.node)
    if owner is None:
        return None
    if owner.form != "view":
        checker.complain(node, f"{describe(owner)} has no attributes", node.attr, read=node.attr)
        return None
    kind = owner.attributes().get(node.attr)
    if kind is None:
        what = f"attribute of {owner.label}" if owner.label else "attribute"
        checker.unknown(node, what, node.attr, owner.attributes())
        return None
    shorter = dotted(node.node)
    if shorter is not None:
        if shorter not in before:
            checker.reads.pop(shorter)
        checker.reads.setdefault(f"{shorter}.{node.attr}")
    return kind


def constant(checker: Checker, node: nodes.Const) -> Typed:
    """A number, a text, true or false."""
    value: Any = node.value
    if isinstance(value, bool):
        return TRUTH
    if isinstance(value, str):
        return text()
    if isinstance(value, int | float) and abs(value) <= GREATEST_CONSTANT:
        return number()
    remedy = "use `is absent`" if value is None else None
    checker.complain(node, "this constant is not allowed", read=str(value)[:20], remedy=remedy)
    return None


def sequence(checker: Checker, node: nodes.List | nodes.Tuple) -> Typed:
    """A list of constants of one form."""
    kinds = [checker.check(item) for item in node.items]
    if None in kinds:
        return None
    first = kinds[0] if kinds else None
    if first is None or any(kind != first for kind in kinds) or not all(map(is_constant, node.items)):
        checker.complain(node, "a list here holds constants of one form, such as `['dc', 'ac']`")
        return None
    return list_of(first)


def arithmetic(checker: Checker, node: nodes.BinExpr) -> Typed:
    """`+ - * /` by the dimensions of both sides."""
    left, right = checker.check(node.left), checker.check(node.right)
    if left is None or right is None:
        return None
    result = combine(ARITHMETIC[type(node)], left, right)
    if isinstance(result, str):
        checker.complain(node, result)
        return None
    return result


def minus(checker: Checker, node: nodes.Neg) -> Typed:
    """A leading minus: numbers other than temperatures, whose zero is not a natural one."""
    kind = checker.check(node.node)
    if kind is None or (kind.form == "number" and kind.dimension is not Dimension.temperature):
        return kind
    checker.complain(node, f"a minus belongs before a number, and this is {describe(kind)}")
    return None


def choice(checker: Checker, node: nodes.CondExpr) -> Typed:
    """`a if condition else b`: both of one type."""
    checker.want_truth(node.test)
    first = checker.check(node.expr1)
    if node.expr2 is None:
        checker.complain(node, "`if` needs an `else` here")
        return None
    second = checker.check(node.expr2)
    if first is None or second is None:
        return None
    alike = first.form == second.form == "text" or (first == second and first.form != "anything")
    if not alike:
        checker.complain(node, f"gives {describe(first)} or else {describe(second)}; both must be the same")
        return None
    if first.form == "text":
        return (
            text(*dict.fromkeys(first.choices + second.choices))
            if first.choices and second.choices
            else text()
        )
    return first


def tested(checker: Checker, node: nodes.Test) -> Typed:
    """`is` and one of our tests."""
    kind = checker.check(node.node)
    if node.name not in TESTS:
        checker.unknown(node, "test", node.name, TESTS)
    elif node.args or node.kwargs or node.dyn_args or node.dyn_kwargs:
        checker.complain(node, f"the test `{node.name}` takes nothing in brackets", node.name)
    elif node.name in ("none_left", "empty"):
        if kind is not None and kind.form != "list":
            checker.complain(
                node, f"`is {node.name}` works on a list, and this is {describe(kind)}", node.name
            )
    elif dotted(node.node) is None:
        checker.complain(node, f"`is {node.name}` works on a name such as `tank.vent`", node.name)
    return TRUTH


def filtered(checker: Checker, node: nodes.Filter) -> Typed:
    """`|` and one of our filters."""
    assert node.node is not None  # which stands for a block's text in whole templates only
    kind = checker.check(node.node)
    rule = FILTERS.get(node.name)
    if rule is None:
        checker.unknown(node, "filter", node.name, FILTERS)
        return None
    if rule.words and not checker.wording:
        checker.complain(
            node, f"`{node.name}` writes words, and belongs in `finding:` and `remedy:`", node.name
        )
        return None
    argument = argument_of(checker, node, rule.argument, kind)
    if kind is None or isinstance(argument, bool):
        return None
    result = rule.typing(kind, argument)
    if isinstance(result, str):
        checker.complain(node, f"`{node.name}` {result}", node.name)
        return None
    return result


def argument_of(checker: Checker, node: nodes.Filter, wanted: str, kind: Typed) -> ValueType | bool | None:
    """The type of the attribute that a filter names, None for none, False after a problem."""
    given = [
        *node.args,
        *node.kwargs,
        *[more for more in (node.dyn_args, node.dyn_kwargs) if more is not None],
    ]
    if not given and wanted != "needed":
        return None
    first = given[0] if given else None
    if (
        wanted == "none"
        or len(given) != 1
        or not (isinstance(first, nodes.Const) and isinstance(first.value, str))
    ):
        say = (
            "takes nothing in brackets" if wanted == "none" else "takes one attribute name in quotation marks"
        )
        checker.complain(node, f"the filter `{node.name}` {say}", node.name)
        return False
    item = kind.item if kind else None
    if item is None:
        return None
    found = item.attributes().get(first.value)
    if found is None:
        checker.unknown(node, f"attribute of {item.label or 'an item'}", first.value, item.attributes())
        return False
    return found


def is_constant(node: nodes.Node) -> bool:
    """Whether a node is a constant, perhaps with a minus."""
    return isinstance(node.node if isinstance(node, nodes.Neg) else node, nodes.Const)


CHECKS: Mapping[type[nodes.Node], Check] = {
    nodes.And: logic,
    nodes.Or: logic,
    nodes.Not: negation,
    nodes.Compare: comparison,
    nodes.Name: name,
    nodes.Getattr: attribute,
    nodes.Const: constant,
    nodes.List: sequence,
    nodes.Tuple: sequence,
    nodes.Test: tested,
    nodes.Filter: filtered,
    nodes.CondExpr: choice,
    nodes.Neg: minus,
    **dict.fromkeys(ARITHMETIC, arithmetic),
}
"""The whitelist: a node that is not here is refused."""
