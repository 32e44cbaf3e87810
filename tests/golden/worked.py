"""Arithmetic worked by hand, such as ``ceil(1966.6667 / 420) = 5``: its steps, and what an expression comes to."""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable

OPERATIONS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
FUNCTIONS: dict[str, Callable[[float], float]] = {"ceil": math.ceil, "sqrt": math.sqrt}


def step(written: str) -> tuple[float, float]:
    """What a step's expression comes to, and what was written as its result."""
    expression, _, result = written.rpartition("=")
    return evaluated(ast.parse(expression.strip(), mode="eval").body), float(result)


def evaluated(node: ast.expr) -> float:
    """The value of numbers, ``+ - * /`` and the functions named above; ValueError for anything else."""
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in OPERATIONS:
            return OPERATIONS[type(op)](evaluated(left), evaluated(right))
        case ast.Call(func=ast.Name(id=name), args=[argument]) if name in FUNCTIONS:
            return float(FUNCTIONS[name](evaluated(argument)))
    raise ValueError(f"not arithmetic: {ast.unparse(node)}")
