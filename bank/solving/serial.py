"""SymPy expressions as nested JSON lists, and back from a closed list of heads; nothing is parsed or run.

Arguments keep their order and are not evaluated on loading, so a root that stands as one root stays one.
"""

from __future__ import annotations

from typing import Any, TypeAlias

import sympy

Tree: TypeAlias = Any
DEEPEST = 40
HIGHEST = 64  # power of powers: what stands there can't grow into a number that is never worked out
_HEADS = {each.__name__: each for each in (sympy.Add, sympy.Mul)}
_FUNCTIONS = {name: getattr(sympy, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan")}


class NoExpressionError(ValueError):
    """A tree that does not stand for an expression."""


def dump(expression: sympy.Expr) -> Tree:
    """The tree of an expression: a name, ``["1/2"]`` for a number, or a head with its arguments."""
    if expression.is_Symbol:
        return expression.name
    if expression == sympy.pi:
        return ["pi"]
    if expression.is_Rational:
        return [str(expression)]
    return [type(expression).__name__, *(dump(each) for each in expression.args)]


def load(tree: Tree, depth: int = 0, height: int = 1) -> sympy.Expr:
    """The expression of a tree. Raises NoExpressionError for anything that ``dump`` does not make."""
    if depth > DEEPEST or height > HIGHEST:
        raise NoExpressionError("too deep, or too high a power")
    if isinstance(tree, str) and 0 < len(tree) <= 40:
        return sympy.Symbol(tree)
    if not isinstance(tree, list) or not tree or not isinstance(tree[0], str):
        raise NoExpressionError(f"{tree!r:.40}")
    head, *arguments = tree
    if not arguments:
        return sympy.pi if head == "pi" else _number(head)
    if head == "Pow":
        return _power(arguments, depth + 1, height)
    parts = [load(each, depth + 1, height) for each in arguments]
    if head in _HEADS and len(parts) >= 2:
        return _HEADS[head](*parts, evaluate=False)
    if head in _FUNCTIONS and len(parts) == 1:
        return _FUNCTIONS[head](*parts, evaluate=False)
    raise NoExpressionError(head[:40])


def _power(arguments: list[Tree], depth: int, height: int) -> sympy.Expr:
    """A base to a number of few figures."""
    if len(arguments) != 2 or not isinstance(arguments[1], list) or len(arguments[1]) != 1:
        raise NoExpressionError("no power")
    exponent = load(arguments[1], depth)
    if not exponent.is_Rational or exponent.q > HIGHEST:
        raise NoExpressionError("no exponent")
    base = load(arguments[0], depth, height * max(1, abs(exponent.p)))
    return sympy.Pow(base, exponent, evaluate=False)


def _number(text: str) -> sympy.Rational:
    above, _, below = text.partition("/")
    if len(text) > 40 or not above.lstrip("-").isdigit() or (below and not below.isdigit()) or below == "0":
        raise NoExpressionError(text[:40])
    return sympy.Rational(int(above), int(below or 1))
