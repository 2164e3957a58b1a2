"""The small grammar of formulas in bank files: names, numbers, + - * / **, and a few functions of one argument.

Text is read by Python's ``ast`` and rebuilt node by node from a whitelist; nothing in it is ever run.
Angles are symbols, and a trigonometric function takes one angle symbol only.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import sympy
from turnwright.bank.errors import ExpressionError

LONGEST = 200
DEEPEST = 20
GREATEST_POWER = 6
FUNCTIONS: dict[str, Callable[[Any], Any]] = {
    name: getattr(sympy, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt")
}
_ALLOWED = "use names, numbers, + - * / **, brackets, pi and " + ", ".join(sorted(FUNCTIONS))
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9]{0,11}(_[A-Za-z0-9]{1,12})?$")
_RELATION = re.compile(r"(<=|>=|=|<|>)")


@dataclass(frozen=True)
class Relation:
    """Two expressions and the sign between them: ``=``, ``<=``, ``>=``, ``<`` or ``>``."""

    left: sympy.Expr
    sign: str
    right: sympy.Expr

    @property
    def symbols(self) -> frozenset[str]:
        """The names of all quantities on both sides."""
        return names_in(self.left) | names_in(self.right)


def is_name(text: str) -> bool:
    """Whether ``text`` can name a quantity: letters and digits, at most one subscript after ``_``."""
    return bool(_NAME.match(text)) and text not in FUNCTIONS and text != "pi"


def names_in(expression: sympy.Expr) -> frozenset[str]:
    """The names of the quantities in an expression."""
    return frozenset(symbol.name for symbol in expression.free_symbols)


@cache
def parse(text: str) -> sympy.Expr:
    """The SymPy expression that ``text`` stands for.

    Raises ExpressionError with the column of the first part that the grammar does not have.
    """
    if len(text) > LONGEST:
        raise ExpressionError(text[:20] + "...", f"found {len(text)} characters", f"at most {LONGEST} are read")
    try:
        tree = ast.parse(text.strip(), mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError) as error:
        column = getattr(error, "offset", None) or 1
        raise ExpressionError(text, "found something that is no formula", _ALLOWED, column) from None
    return _build(tree.body, text, 0)


@cache
def parse_relation(text: str) -> Relation:
    """The relation that ``text`` stands for: two expressions around one ``=``, ``<=``, ``>=``, ``<`` or ``>``."""
    pieces = _RELATION.split(text)
    if len(pieces) != 3 or not pieces[0].strip() or not pieces[2].strip():
        wrong = "found no single relation sign between two formulas"
        raise ExpressionError(text, wrong, "write for example 'T >= 0' or 'r = L*sin(theta)'")
    return Relation(parse(pieces[0]), pieces[1], parse(pieces[2]))


def _build(node: ast.expr, text: str, depth: int) -> sympy.Expr:
    if depth > DEEPEST:
        raise ExpressionError(text, "found too many nested parts", f"at most {DEEPEST} levels are read")
    builder = _BUILDERS.get(type(node))
    if builder is None:
        raise _refusal(node, text, f"found '{ast.unparse(node)[:20]}'")
    return builder(node, text, depth + 1)


def _refusal(node: ast.expr, text: str, wrong: str, right: str = _ALLOWED) -> ExpressionError:
    return ExpressionError(text, wrong, right, node.col_offset + 1)


def _name(node: ast.Name, text: str, depth: int) -> sympy.Expr:
    if node.id == "pi":
        return sympy.pi
    if not is_name(node.id):
        raise _refusal(
            node, text, f"found the name '{node.id}'", "names are letters and digits with one subscript, v_top"
        )
    return sympy.Symbol(node.id)


def _constant(node: ast.Constant, text: str, depth: int) -> sympy.Expr:
    if type(node.value) not in (int, float) or abs(node.value) > 1e30:
        raise _refusal(node, text, f"found '{node.value!r:.20}'", "expected a plain number of ordinary size")
    return sympy.Rational(str(node.value))


def _unary(node: ast.UnaryOp, text: str, depth: int) -> sympy.Expr:
    if not isinstance(node.op, ast.USub | ast.UAdd):
        raise _refusal(node, text, "found an operator that is no arithmetic")
    value = _build(node.operand, text, depth)
    return -value if isinstance(node.op, ast.USub) else value


def _binary(node: ast.BinOp, text: str, depth: int) -> sympy.Expr:
    left, right = _build(node.left, text, depth), _build(node.right, text, depth)
    if isinstance(node.op, ast.Pow):
        if not right.is_Rational or abs(right) > GREATEST_POWER:
            wrong = f"found the power '{ast.unparse(node.right)[:20]}'"
            raise _refusal(node.right, text, wrong, f"powers are numbers from -{GREATEST_POWER} to {GREATEST_POWER}")
        return left**right
    if isinstance(node.op, ast.Div):
        if right.is_zero:
            raise _refusal(node.right, text, "found a division by zero", "divide by something else")
        return left / right
    simple = {ast.Add: left + right, ast.Sub: left - right, ast.Mult: left * right}.get(type(node.op))
    if simple is None:
        raise _refusal(node, text, "found an operator that is no arithmetic")
    return simple


def _call(node: ast.Call, text: str, depth: int) -> sympy.Expr:
    name = node.func.id if isinstance(node.func, ast.Name) else ""
    if name not in FUNCTIONS or len(node.args) != 1 or node.keywords:
        raise _refusal(node, text, f"found the function '{ast.unparse(node.func)[:20]}'")
    argument = _build(node.args[0], text, depth)
    if name in ("sin", "cos", "tan") and not argument.is_Symbol:
        raise _refusal(node, text, f"found {name} of a longer formula", f"write {name}(theta), with one angle symbol")
    return FUNCTIONS[name](argument)


_BUILDERS: dict[type, Callable[..., sympy.Expr]] = {
    ast.Name: _name,
    ast.Constant: _constant,
    ast.UnaryOp: _unary,
    ast.BinOp: _binary,
    ast.Call: _call,
}
