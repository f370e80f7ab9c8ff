"""Every small change of one condition: signs, words, limits named, parts left out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from copy import copy
from typing import Any

from jinja2 import nodes

from specreg.rules.condition_parse import Source, parse
from specreg.source.place import Place

NOWHERE = Place("condition", 1, 1)

SIGNS = {
    "eq": "==",
    "ne": "!=",
    "lt": "<",
    "lteq": "<=",
    "gt": ">",
    "gteq": ">=",
    "in": "in",
    "notin": "not in",
}
NEIGHBOURS: Mapping[str, tuple[str, ...]] = {
    "lt": ("lteq", "gt"),
    "lteq": ("lt", "gteq", "eq"),
    "gt": ("gteq", "lt"),
    "gteq": ("gt", "lteq", "eq"),
    "eq": ("ne",),
    "ne": ("eq",),
    "in": ("notin",),
    "notin": ("in",),
}
ARITHMETIC: Mapping[type[nodes.BinExpr], str] = {
    nodes.Add: "+",
    nodes.Sub: "-",
    nodes.Mul: "*",
    nodes.Div: "/",
}
OTHER_SIGN: Mapping[type[nodes.BinExpr], type[nodes.BinExpr]] = {
    nodes.Add: nodes.Sub,
    nodes.Sub: nodes.Add,
    nodes.Mul: nodes.Div,
    nodes.Div: nodes.Mul,
}
OTHER_FILTER = {"every": "some", "some": "every", "largest": "smallest", "smallest": "largest"}

Changed = tuple[str, nodes.Expr]
"""What was changed, in words, and what came of it."""


def changed(condition: str) -> Iterator[tuple[str, str]]:
    """Yield each change of a condition in words, with the changed condition; none twice."""
    tree = tree_of(condition)
    seen = {written(tree)}
    for what, other in _anywhere(tree):
        text = written(other)
        if text not in seen:
            seen.add(text)
            yield what, text


def tree_of(condition: str) -> nodes.Expr:
    """Return the syntax tree of a condition that is known to be one."""
    tree = parse(Source(condition, NOWHERE))
    assert isinstance(tree, nodes.Expr), tree
    return tree


def _anywhere(node: nodes.Expr) -> Iterator[Changed]:
    """Yield the changes of a node itself, then those of what hangs from it."""
    yield from _here(node)
    for name in node.fields:
        value = getattr(node, name)
        for what, other in _below(value):
            whole = copy(node)
            setattr(whole, name, other)
            yield what, whole


def _below(value: Any) -> Iterator[tuple[str, Any]]:
    if isinstance(value, nodes.Operand):
        for what, other in _anywhere(value.expr):
            yield what, nodes.Operand(value.op, other)
    elif isinstance(value, nodes.Expr):
        yield from _anywhere(value)
    elif isinstance(value, list):
        for index, item in enumerate(value):
            for what, other in _below(item):
                yield what, [*value[:index], other, *value[index + 1 :]]


def _here(node: nodes.Expr) -> Iterator[Changed]:
    if change := next((how for sort, how in CHANGES.items() if isinstance(node, sort)), None):
        yield from change(node)
    if answers(node):
        yield f"`not` before `{written(node)}`", nodes.Not(node)


def answers(node: nodes.Expr) -> bool:
    """Tell whether a node by itself may be a yes or no that has no opposite sign of its own."""
    return isinstance(node, nodes.Getattr | nodes.Test)


def _logic(node: nodes.And | nodes.Or) -> Iterator[Changed]:
    word, other = ("and", nodes.Or) if isinstance(node, nodes.And) else ("or", nodes.And)
    yield f"`{word}` before `{written(node.right)}` to the other", other(node.left, node.right)
    yield f"`{written(node.right)}` left out", node.left
    yield f"`{written(node.left)}` left out", node.right


def _negation(node: nodes.Not) -> Iterator[Changed]:
    yield f"`not` before `{written(node.node)}` left out", node.node


def _comparison(node: nodes.Compare) -> Iterator[Changed]:
    for index, operand in enumerate(node.ops):
        for sign in NEIGHBOURS[operand.op]:
            ops = [*node.ops[:index], nodes.Operand(sign, operand.expr), *node.ops[index + 1 :]]
            what = f"`{SIGNS[operand.op]}` to `{SIGNS[sign]}` before `{written(operand.expr)}`"
            yield what, nodes.Compare(node.expr, ops)


def _list(node: nodes.List) -> Iterator[Changed]:
    for index, item in enumerate(node.items):
        if len(node.items) > 1:
            rest = [*node.items[:index], *node.items[index + 1 :]]
            yield f"word `{written(item)}` left out", nodes.List(rest)


def _constant(node: nodes.Const) -> Iterator[Changed]:
    value: Any = node.value
    if isinstance(value, bool) or not isinstance(value, int | float):
        return
    for other in (
        (value + 1, value - 1) if isinstance(value, int) else (value * 1.01, value * 0.99, value * 2)
    ):
        yield f"{value} to {other:g}", nodes.Const(other) if other >= 0 else nodes.Neg(nodes.Const(-other))


def _arithmetic(node: nodes.BinExpr) -> Iterator[Changed]:
    other = OTHER_SIGN[type(node)]
    yield f"`{ARITHMETIC[type(node)]}` to `{ARITHMETIC[other]}`", other(node.left, node.right)
    yield f"`{written(node.right)}` left out", node.left


def _filter(node: nodes.Filter) -> Iterator[Changed]:
    assert node.node is not None
    if node.name in OTHER_FILTER:
        other = copy(node)
        other.name = OTHER_FILTER[node.name]
        yield f"`{node.name}` to `{other.name}`", other
    if node.name == "where":
        yield "`where` left out", node.node


def _choice(node: nodes.CondExpr) -> Iterator[Changed]:
    assert node.expr2 is not None
    yield "always what stands before `if`", node.expr1
    yield "always what stands after `else`", node.expr2


CHANGES: Mapping[Any, Callable[[Any], Iterator[Changed]]] = {
    (nodes.And, nodes.Or): _logic,
    nodes.Not: _negation,
    nodes.Compare: _comparison,
    nodes.List: _list,
    nodes.Const: _constant,
    tuple(ARITHMETIC): _arithmetic,
    nodes.Filter: _filter,
    nodes.CondExpr: _choice,
}


def written(node: nodes.Node) -> str:  # noqa: PLR0911 - one line for each sort of node
    """Return a tree as the text of a condition."""
    match node:
        case nodes.And() | nodes.Or():
            word = "and" if isinstance(node, nodes.And) else "or"
            return f"{_inner(node.left)} {word} {_inner(node.right)}"
        case nodes.Not():
            return f"not {_inner(node.node)}"
        case nodes.Neg():
            return f"-{_inner(node.node)}"
        case nodes.Compare():
            sides = [f"{SIGNS[operand.op]} {_inner(operand.expr)}" for operand in node.ops]
            return " ".join([_inner(node.expr), *sides])
        case nodes.Const():
            return repr(node.value) if not isinstance(node.value, bool) else str(node.value).lower()
        case nodes.List() | nodes.Tuple():
            return f"[{', '.join(written(item) for item in node.items)}]"
        case nodes.Name():
            return str(node.name)
        case nodes.Getattr():
            return f"{written(node.node)}.{node.attr}"
        case nodes.CondExpr():
            assert node.expr2 is not None
            return f"{_inner(node.expr1)} if {_inner(node.test)} else {_inner(node.expr2)}"
        case nodes.Test():
            return f"{_inner(node.node)} is {node.name}"
        case nodes.Filter():
            assert node.node is not None
            given = f"({', '.join(written(one) for one in node.args)})" if node.args else ""
            return f"{_inner(node.node)} | {node.name}{given}"
        case nodes.BinExpr():
            return f"{_inner(node.left)} {ARITHMETIC[type(node)]} {_inner(node.right)}"
    raise AssertionError(f"no condition has {type(node).__name__}")


def _inner(node: nodes.Node) -> str:
    """Return a part of a condition, in brackets unless it is a name or a constant."""
    plain = isinstance(node, nodes.Name | nodes.Getattr | nodes.Const | nodes.List | nodes.Tuple)
    return written(node) if plain else f"({written(node)})"
