"""Every small change of the Python that computes: one comparison, sign, constant, branch or answer at a time."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from enum import Enum
from functools import cache
from pathlib import Path
from types import CodeType
from typing import Any

BOUNDARIES: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
}
OPPOSITES: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE,
    ast.LtE: ast.Gt,
    ast.Gt: ast.LtE,
    ast.GtE: ast.Lt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
OPERATORS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
TWINS = {"min": "max", "max": "min", "any": "all", "all": "any"}
NEUTRAL = {"float": "0.0", "int": "0", "str": "''"}


class Part(Enum):
    """What is changed: the body of a function, the defaults of its parameters, or the value of a constant."""

    body = "body"
    defaults = "defaults"
    value = "value"


@dataclass(frozen=True)
class Mutant:
    """One change, inside one function or in one constant of a module; `nth` among those that read alike."""

    path: Path
    function: str
    line: int
    before: str
    after: str
    nth: int
    part: Part
    code: Callable[[], CodeType]
    """Return the changed code: of the whole module, or of an expression for the defaults or the value."""

    @property
    def name(self) -> str:
        """Return what the list of equivalents calls it: it stays the same while lines move."""
        nth = f" ({self.nth})" if self.nth > 1 else ""
        return f"{self.before} → {self.after}{nth}"


@dataclass(frozen=True)
class Site:
    """A node of the tree with the place where it hangs: a field of its parent, or one of a list there."""

    node: ast.AST
    parent: ast.AST
    field: str
    index: int | None

    def put(self, node: ast.AST) -> None:
        """Hang another node in its place."""
        if self.index is None:
            setattr(self.parent, self.field, node)
        else:
            getattr(self.parent, self.field)[self.index] = node


def mutants(path: Path) -> tuple[Mutant, ...]:
    """Return every mutant of a module, in the order of its lines."""
    tree = ast.parse(path.read_bytes())
    typed = _parameters(path.parent)
    seen: Counter[tuple[str, str, str]] = Counter()
    found = []
    for function, root in _roots(tree):
        for site in _sites(root):
            for changed in _changes(site, root, typed):
                before, after = _text(site.node), _text(changed)
                if before == after:
                    continue
                seen[function, before, after] += 1
                nth = seen[function, before, after]
                line = getattr(site.node, "lineno", root.lineno)
                part, code = _compiler(tree, root, path, site, changed)
                found.append(Mutant(path, function, line, before, after, nth, part, code))
    return tuple(found)


def _compiler(
    tree: ast.Module, root: Root, path: Path, site: Site, changed: ast.AST
) -> tuple[Part, Callable[[], CodeType]]:
    part = Part.body
    if not isinstance(root, ast.FunctionDef):
        part = Part.value
    elif any(node is site.node for node in ast.walk(root.args)):
        part = Part.defaults

    def compiled() -> CodeType:
        ast.copy_location(changed, site.node)
        site.put(ast.fix_missing_locations(changed))
        try:
            if isinstance(root, ast.FunctionDef) and part is Part.body:
                return compile(tree, str(path), "exec", dont_inherit=True)
            value = _defaults(root.args) if isinstance(root, ast.FunctionDef) else root.value
            assert value is not None
            whole = ast.fix_missing_locations(ast.Expression(value))
            return compile(whole, str(path), "eval", dont_inherit=True)
        finally:
            site.put(site.node)

    return part, compiled


def _defaults(args: ast.arguments) -> ast.expr:
    """Return the defaults of parameters as a function keeps them: by place, and by keyword alone."""
    named = [(arg.arg, value) for arg, value in zip(args.kwonlyargs, args.kw_defaults, strict=True) if value]
    keywords = ast.Dict([ast.Constant(name) for name, _ in named], [value for _, value in named])
    return ast.Tuple([ast.Tuple(args.defaults, ast.Load()), keywords], ast.Load())


Root = ast.FunctionDef | ast.Assign | ast.AnnAssign


def _roots(tree: ast.Module) -> Iterator[tuple[str, Root]]:
    """Yield the functions, the methods and the constants of a module."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            yield node.name, node
        elif isinstance(node, ast.ClassDef):
            for method in node.body:
                if isinstance(method, ast.FunctionDef):
                    yield f"{node.name}.{method.name}", method
        elif isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            yield node.targets[0].id, node
        elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value:
            yield node.target.id, node


PASSED_OVER = (ast.JoinedStr, ast.Assert, ast.Import, ast.ImportFrom)
"""Texts for people, what only the type checker needs, and imports."""
FIELDS_PASSED_OVER = {"annotation", "returns", "decorator_list"}


def _sites(node: ast.AST) -> Iterator[Site]:
    for field, value in ast.iter_fields(node):
        if field in FIELDS_PASSED_OVER:
            continue
        for index, child in enumerate(value) if isinstance(value, list) else ((None, value),):
            if not isinstance(child, ast.AST) or isinstance(child, PASSED_OVER):
                continue
            yield Site(child, node, field, index)
            yield from _sites(child)


Parameters = Mapping[str, tuple[str, ...]]
"""The types of the parameters of functions."""


@cache
def _parameters(package: Path) -> Parameters:
    """Return what the functions of a package and its neighbours take, of those of one name the last."""
    found: dict[str, tuple[str, ...]] = {}
    for path in sorted(package.parent.glob("*/*.py")):
        for node in ast.walk(ast.parse(path.read_bytes())):
            if isinstance(node, ast.FunctionDef):
                found[node.name] = tuple(
                    ast.unparse(argument.annotation)
                    for argument in node.args.args
                    if argument.annotation is not None
                )
    return found


def _changes(site: Site, root: Root, typed: Parameters) -> Iterator[ast.AST]:
    node = site.node
    if site.field in {"test", "ifs"}:
        yield from (ast.Constant(value) for value in (True, False) if not _is_constant(node, value))
    if isinstance(node, ast.stmt):
        yield from _statement(node, root)
    elif isinstance(node, ast.match_case):
        yield from _case(node, site)
    elif isinstance(node, ast.Compare):
        yield from _comparison(node, decides=site.field in {"test", "ifs"})
    elif isinstance(node, ast.Call):
        yield from _call(node, typed)
    elif isinstance(node, ast.expr):
        yield from _expression(node, decides=site.field in {"test", "ifs"})


def _statement(node: ast.stmt, root: Root) -> Iterator[ast.AST]:
    match node:
        case ast.Expr(value=ast.Constant()):
            return
        case ast.Expr() | ast.AugAssign() | ast.Raise():
            yield ast.Pass()
        case ast.Continue():
            yield from (ast.Pass(), ast.Break())
        case ast.Break():
            yield from (ast.Pass(), ast.Continue())
        case ast.Return(value=ast.expr() as value):
            yield from (ast.Return(answer) for answer in _other_answers(value, root))


def _other_answers(value: ast.expr, root: Root) -> Iterator[ast.expr]:
    given = ast.unparse(root.returns) if isinstance(root, ast.FunctionDef) and root.returns else "None"
    if given == "bool":
        yield from (ast.Constant(answer) for answer in (True, False) if not _is_constant(value, answer))
    elif given.startswith("tuple[") or given in NEUTRAL:
        neutral = ast.parse(NEUTRAL.get(given, "()"), mode="eval").body
        if ast.dump(neutral) != ast.dump(value):
            yield neutral
    elif not _is_constant(value, None):
        yield ast.Constant(None)


def _case(node: ast.match_case, site: Site) -> Iterator[ast.AST]:
    assert isinstance(site.parent, ast.Match)
    if site.parent.cases[-1] is node and isinstance(node.pattern, ast.MatchAs) and node.guard is None:
        return
    yield ast.match_case(deepcopy(node.pattern), ast.Constant(False), node.body)
    if node.guard is not None:
        yield ast.match_case(node.pattern, None, node.body)


def _comparison(node: ast.Compare, decides: bool) -> Iterator[ast.expr]:
    for place, operator in enumerate(node.ops):
        for others in (BOUNDARIES,) if decides and len(node.ops) == 1 else (BOUNDARIES, OPPOSITES):
            if type(operator) in others:
                changed = deepcopy(node)
                changed.ops[place] = others[type(operator)]()
                yield changed
    for place, side in enumerate((node.left, *node.comparators)):
        for word in _words(side):
            changed = deepcopy(node)
            new_side = changed.left if place == 0 else changed.comparators[place - 1]
            list(_words(new_side))[list(_words(side)).index(word)].value = "another"
            yield changed


def _words(side: ast.expr) -> Iterator[ast.Constant]:
    parts = side.elts if isinstance(side, ast.Tuple | ast.Set | ast.List) else [side]
    yield from (part for part in parts if isinstance(part, ast.Constant) and isinstance(part.value, str))


def _expression(node: ast.expr, decides: bool) -> Iterator[ast.expr]:
    match node:
        case ast.BoolOp(op=operator, values=values):
            if not decides:
                yield ast.BoolOp(ast.Or() if isinstance(operator, ast.And) else ast.And(), values)
            for place in range(len(values)):
                left = values[:place] + values[place + 1 :]
                yield left[0] if len(left) == 1 else ast.BoolOp(operator, left)
        case ast.BinOp(left=one, op=operator, right=other) if type(operator) in OPERATORS:
            yield ast.BinOp(one, OPERATORS[type(operator)](), other)
        case ast.UnaryOp(op=ast.USub() | ast.Invert(), operand=inner):
            yield inner
        case ast.UnaryOp(op=ast.Not(), operand=inner) if not decides:
            yield inner
        case ast.Constant(value=bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(value=int() as value):
            yield ast.Constant(value + 1)
        case ast.Constant(value=float() as value):
            yield ast.Constant(value * 1.1 if value else 1.0)


def _call(node: ast.Call, typed: Parameters) -> Iterator[ast.expr]:
    name = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    if name in TWINS:
        yield ast.Call(ast.Name(TWINS[name], ast.Load()), node.args, node.keywords)
    if any(isinstance(argument, ast.Starred) for argument in node.args):
        return
    types = typed.get(name, ())
    for place in range(min(len(node.args), len(types)) - 1):
        if types[place] != types[place + 1]:
            continue  # the type checker sees it
        swapped = list(node.args)
        swapped[place], swapped[place + 1] = swapped[place + 1], swapped[place]
        if ast.dump(swapped[place]) != ast.dump(swapped[place + 1]):
            yield ast.Call(node.func, swapped, node.keywords)


def _is_constant(node: ast.AST, value: Any) -> bool:
    return isinstance(node, ast.Constant) and node.value is value


def _text(node: ast.AST) -> str:
    """Return a node as one line of Python; of a case of a match only its head."""
    if isinstance(node, ast.match_case):
        guard = f" if {ast.unparse(node.guard)}" if node.guard else ""
        return f"case {ast.unparse(node.pattern)}{guard}"
    return " ".join(ast.unparse(node).split())
