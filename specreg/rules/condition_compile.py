"""A checked expression as a Python function, built once, without builtins and without source text."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from types import CodeType
from typing import Any

from jinja2 import nodes

from specreg.rules.condition_parse import dotted
from specreg.rules.filters import FILTERS

OPERATORS: Mapping[str, type[ast.cmpop]] = {
    "eq": ast.Eq,
    "ne": ast.NotEq,
    "in": ast.In,
    "notin": ast.NotIn,
}
ORDERED: Mapping[str, str] = {"lt": "below", "lteq": "at_most", "gt": "above", "gteq": "at_least"}
"""The function for each sign of order, which knows that figures are computed."""
SIGNS: Mapping[type[nodes.Node], type[ast.operator]] = {
    nodes.Add: ast.Add,
    nodes.Sub: ast.Sub,
    nodes.Mul: ast.Mult,
}


def compiled(tree: nodes.Expr, expression: str) -> CodeType:
    """Return the code of a tree without problems: a function of the names and the reader's unit system."""
    body = Builder(expression).build(tree)
    arguments = ast.arguments([], [ast.arg("names"), ast.arg("system")], None, [], [], None, [])
    module = ast.Expression(ast.Lambda(arguments, body))
    locate(module)
    return compile(module, "<condition>", "eval")


class Builder:
    """Turns nodes that the checker has passed into Python's own."""

    def __init__(self, expression: str) -> None:
        self.expression = expression

    def build(self, node: nodes.Node) -> ast.expr:  # noqa: PLR0911 - one line for each sort of node
        """One node and what hangs from it."""
        match node:
            case nodes.And() | nodes.Or():
                word = ast.And() if isinstance(node, nodes.And) else ast.Or()
                return ast.BoolOp(word, [self.build(node.left), self.build(node.right)])
            case nodes.Not():
                return ast.UnaryOp(ast.Not(), self.build(node.node))
            case nodes.Neg():
                return ast.UnaryOp(ast.USub(), self.build(node.node))
            case nodes.Compare():
                return self.compare(node)
            case nodes.Const():
                return ast.Constant(_as_number(node.value))
            case nodes.List() | nodes.Tuple():
                return ast.Tuple([self.build(item) for item in node.items], ast.Load())
            case nodes.Name() | nodes.Getattr():
                return self.needed(node)
            case nodes.CondExpr():
                assert node.expr2 is not None
                return ast.IfExp(self.build(node.test), self.build(node.expr1), self.build(node.expr2))
            case nodes.Test():
                return self.test(node)
            case nodes.Filter():
                return self.filter(node)
            case nodes.Div():
                return call(
                    "divide", self.build(node.left), self.build(node.right), ast.Constant(self.expression)
                )
            case nodes.Add() | nodes.Sub() | nodes.Mul():
                return ast.BinOp(self.build(node.left), SIGNS[type(node)](), self.build(node.right))
        raise AssertionError(f"the checker let {type(node).__name__} through")

    def compare(self, node: nodes.Compare) -> ast.expr:
        """A chain of comparisons, each side worked out once."""
        found: list[ast.expr] = []
        left = self.build(node.expr)
        for operand in node.ops[:-1]:
            found.append(compared(operand.op, left, keep(self.build(operand.expr))))
            left = load(KEPT)
        found.append(compared(node.ops[-1].op, left, self.build(node.ops[-1].expr)))
        return ast.BoolOp(ast.And(), found) if len(found) > 1 else found[0]

    def look(self, node: nodes.Node) -> ast.expr:
        """A name or an attribute as it is, None included."""
        if isinstance(node, nodes.Name):
            return ast.Subscript(load("names"), ast.Constant(node.name), ast.Load())
        if isinstance(node, nodes.Getattr):
            return ast.Attribute(self.build(node.node), node.attr, ast.Load())
        raise AssertionError(f"{type(node).__name__} is no name")

    def needed(self, node: nodes.Name | nodes.Getattr) -> ast.expr:
        """A name or an attribute; None is missing data, never a value that quietly compares unequal."""
        name = node.name if isinstance(node, nodes.Name) else dotted(node) or node.attr
        known = ast.Compare(keep(self.look(node)), [ast.IsNot()], [ast.Constant(None)])
        return ast.IfExp(known, load(KEPT), call("absent", ast.Constant(name)))

    def test(self, node: nodes.Test) -> ast.expr:
        """One of our tests, each of which is a small piece of Python."""
        if node.name in ("none_left", "empty"):
            return ast.UnaryOp(ast.Not(), self.build(node.node))
        later = ast.Lambda(ast.arguments([], [], None, [], [], None, []), self.look(node.node))
        seen = call("present", later)
        return seen if node.name == "present" else ast.UnaryOp(ast.Not(), seen)

    def filter(self, node: nodes.Filter) -> ast.expr:
        """A call of the filter's function with the attribute's name or the unit system."""
        assert node.node is not None
        second: ast.expr = load("system") if FILTERS[node.name].words else ast.Constant(None)
        if node.args:
            second = self.build(node.args[0])
        function = ast.Subscript(load("filters"), ast.Constant(node.name), ast.Load())
        return ast.Call(function, [self.build(node.node), second], [])


def _as_number(value: Any) -> Any:
    """Return a constant; a whole number as a float: products of whole ones grow beyond any float."""
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def locate(top: ast.AST) -> None:
    """Give every node the place that Python's compiler asks for; `ast` itself takes thrice as long."""
    waiting = [top]
    while waiting:
        node = waiting.pop()
        node.lineno, node.col_offset = 1, 0  # type: ignore[attr-defined]
        for value in vars(node).values():
            if isinstance(value, ast.AST):
                waiting.append(value)
            elif isinstance(value, list):
                waiting.extend(value)


def compared(sign: str, left: ast.expr, right: ast.expr) -> ast.expr:
    """One comparison, its left side first: in this order figures stand in the evidence."""
    if sign in ORDERED:
        return call(ORDERED[sign], left, right)
    return ast.Compare(left, [OPERATORS[sign]()], [right])


KEPT = "value"
"""The one name for a value that is used twice: each is read again before another is kept."""


def keep(value: ast.expr) -> ast.expr:
    """A value that is used now and once more."""
    return ast.NamedExpr(ast.Name(KEPT, ast.Store()), value)


def load(name: str) -> ast.Name:
    """A name that is read."""
    return ast.Name(name, ast.Load())


def call(function: str, *arguments: ast.expr) -> ast.expr:
    """A call of one of the functions in `GLOBALS`."""
    return ast.Call(load(function), list(arguments), [])
