"""Where a file can be broken by one small change, and the change: an operator, a constant, a condition, a statement."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from typing import NamedTuple

OPERATORS: dict[type[ast.AST], type[ast.AST]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.And: ast.Or, ast.Or: ast.And,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div,
    ast.BitOr: ast.BitAnd, ast.BitAnd: ast.BitOr,
}


class Site(NamedTuple):
    """A place that can be broken, how it reads now, and what breaks it in place."""

    line: int
    what: str
    reads: str
    breaks: Callable[[], None]


def sites(tree: ast.Module) -> list[Site]:
    """Every site within the functions of a file; annotations, docstrings and what is raised are left alone."""
    return [site for function in _functions(tree) for statement in function.body for site in _within(statement)]


def _functions(tree: ast.AST) -> Iterator[ast.FunctionDef]:
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.FunctionDef):
            yield node
        elif isinstance(node, ast.ClassDef):
            yield from _functions(node)


def _within(node: ast.AST) -> Iterator[Site]:
    if isinstance(node, ast.Raise) or (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)):
        return
    yield from _here(node)
    children = [node.value] if isinstance(node, ast.AnnAssign) and node.value else ast.iter_child_nodes(node)
    for child in children:
        yield from _within(child)


def _here(node: ast.AST) -> Iterator[Site]:
    def site(what: str, breaks: Callable[[], None]) -> Site:
        return Site(node.lineno, what, ast.unparse(node).splitlines()[0], breaks)  # type: ignore[attr-defined]

    def put(**fields: object) -> Callable[[], None]:
        return lambda: [setattr(node, name, value) for name, value in fields.items()] and None

    match node:
        case ast.Compare(ops=[op, *rest]) if type(op) in OPERATORS:
            yield site("comparison", put(ops=[OPERATORS[type(op)](), *rest]))
        case (ast.BoolOp(op=op) | ast.BinOp(op=op)) if type(op) in OPERATORS:
            yield site("operator", put(op=OPERATORS[type(op)]()))
        case ast.Constant(value=bool() as value):
            yield site("constant", put(value=not value))
        case ast.Constant(value=int() as value):
            yield site("constant", put(value=value + 1))
        case ast.Constant(value=str() as value) if value.strip():
            yield site("text", put(value=f"XX{value}"))
        case ast.IfExp(body=body, orelse=orelse):
            yield site("choice", put(body=orelse, orelse=body))
        case ast.If(test=test):
            yield site("condition", put(test=ast.UnaryOp(ast.Not(), test)))
        case ast.Return(value=value) if value is not None:
            yield site("return", put(value=ast.Constant(None)))
        case ast.Expr(value=ast.Call() | ast.Yield() | ast.YieldFrom()):
            yield site("statement", put(value=ast.Constant(None)))
