"""The small grammar of formulas in bank files: names, numbers, + - * / **, and a few functions of one argument.

Text is read by Python's ``ast`` and rebuilt node by node from a whitelist; nothing in it is ever run.
A trigonometric function takes an angle symbol, or a product such as omega*t or s/r. How large a formula can get when
it is multiplied out is reckoned before anything is made.
"""

from __future__ import annotations

import ast
import keyword
import re
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from typing import Any

import sympy

from ..errors import ExpressionError, MissingNameError

LONGEST = 200
DEEPEST = 20
GREATEST_POWER = 6
MOST_TERMS = 64
GREATEST_DEGREE = 48
GREATEST_NUMBER = 10**40
FUNCTIONS: dict[str, Callable[[Any], Any]] = {
    name: getattr(sympy, name) for name in ("sin", "cos", "tan", "asin", "acos", "atan", "sqrt")
}
_SPOKEN = {"sin": "sine", "cos": "cosine", "tan": "tangent"}
_FUNCTION_NAMES = "sqrt, sin, cos, tan, asin, acos and atan"
_ALLOWED = f"use names, numbers, + - * / **, brackets, pi, {_FUNCTION_NAMES}"
_EXAMPLE = "write a formula such as m*v**2/r, with * between factors"
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9]{0,11}(_[A-Za-z0-9]{1,12})?")
_NUMBER = re.compile(r"([0-9]+\.?[0-9]*|\.[0-9]+)([eE][-+]?[0-9]{1,2})?")
_SIGN = re.compile(r"(<=|>=|[=!]=|=|<|>)")
_FOREIGN = re.compile(r"[^A-Za-z0-9_.+\-*/() ]")
_NO_VALUE = ("found a formula that has no real value", "check divisions and roots")
_ROOT = ("found a root of a power of asin, acos or atan", "write it as one power, or name the angle and use the name")
_INSTEAD = {
    "^": "write a power with **, as in r**2",
    "²": "write a power with **, as in r**2",
    "³": "write a power with **, as in r**3",
    "×": "write * for times",
    "·": "write * for times",
    "⋅": "write * for times",
    "÷": "write / for a fraction",
    "−": "write the minus of the keyboard, -",
    "–": "write the minus of the keyboard, -",
    "√": "write sqrt(...)",
    "π": "write pi",
    "≤": "write <=",
    "≥": "write >=",
    ",": "write a decimal point",
}
_INSTEAD |= dict.fromkeys("αβγδθλμρφωΔΘΦΩ", "write a Greek letter by its name, as in theta")


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


@dataclass(frozen=True)
class _Part:
    """A part of a formula, with bounds of its terms and its degree when it is multiplied out."""

    value: sympy.Expr
    terms: int = 1
    degree: int = 1


def is_name(text: str) -> bool:
    """Whether ``text`` can name a quantity: letters and digits, at most one subscript after ``_``."""
    return bool(_NAME.fullmatch(text)) and text not in FUNCTIONS and text != "pi" and not keyword.iskeyword(text)


@lru_cache(maxsize=4096)
def names_in(expression: sympy.Expr) -> frozenset[str]:
    """The names of the quantities in an expression."""
    return frozenset(symbol.name for symbol in expression.free_symbols)


@lru_cache(maxsize=4096)
def names_outside_functions(formula: sympy.Expr) -> frozenset[str]:
    """The names that stand in the formula outside of sine, cosine and tangent: an angle among them is in radians."""
    return names_in(formula.replace(lambda part: isinstance(part, _OF_ANGLES), lambda _: sympy.Integer(1)))


_OF_ANGLES = (sympy.sin, sympy.cos, sympy.tan)


def named(name: str | None, what: str, where: str) -> sympy.Symbol:
    """The symbol of a quantity, ``what`` in words. Raises MissingNameError where it has no name."""
    if name is None:
        raise MissingNameError(where, what)
    return sympy.Symbol(name)


@lru_cache(maxsize=4096)
def parse(text: str) -> sympy.Expr:
    """The SymPy expression that ``text`` stands for.

    Raises ExpressionError with the column of the first part that the grammar does not have.
    """
    _refuse_at_sight(text)
    lead = len(text) - len(text.lstrip())
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # Python has views on '1if r else 2'; the grammar refuses it anyway
            tree = ast.parse(text.strip(), mode="eval")
    except (SyntaxError, ValueError, MemoryError, RecursionError) as error:
        column = min(max(getattr(error, "offset", None) or 1, 1) + lead, max(len(text), 1))
        raise ExpressionError(text, "found something that is no formula", _EXAMPLE, column) from None
    return _Reader(text, lead).read(tree.body)


@lru_cache(maxsize=4096)
def parse_relation(text: str) -> Relation:
    """The relation that ``text`` stands for: two expressions around one ``=``, ``<=``, ``>=``, ``<`` or ``>``.

    Raises ExpressionError with the place in the text.
    """
    _refuse_at_sight(_SIGN.sub(lambda sign: " " * len(sign[0]), text), text)
    left, *signs = _SIGN.split(text)
    wrong = _sign_fault(left, signs)
    if wrong:
        raise ExpressionError(text, wrong, "write for example 'T >= 0' or 'r = L*sin(theta)'", len(left) + 1)
    sign, right = signs
    return Relation(_side(text, left, 0), sign, _side(text, right, len(left) + len(sign)))


def _sign_fault(left: str, signs: list[str]) -> str:
    if not signs:
        return "found no relation sign"
    if signs[0] in ("==", "!="):
        return f"found '{signs[0]}'"
    if len(signs) > 2:
        return "found more than one relation sign"
    side = "left" if not left.strip() else "right" if not signs[1].strip() else ""
    return f"found nothing to the {side} of '{signs[0]}'" if side else ""


def _side(text: str, piece: str, offset: int) -> sympy.Expr:
    try:
        return parse(piece)
    except ExpressionError as error:
        raise ExpressionError(text, error.wrong, error.right, error.column + offset) from None


def _refuse_at_sight(text: str, whole: str | None = None) -> None:
    """Refuse what is too long, or holds a character that no formula has."""
    if len(text) > LONGEST:
        raise ExpressionError(text[:20] + "...", f"found {len(text)} characters", f"at most {LONGEST} are read")
    foreign = _FOREIGN.search(text)
    if foreign:
        right = _INSTEAD.get(foreign[0], _ALLOWED)
        shown = "a quotation mark" if foreign[0] in "'\"" else f"'{foreign[0]}'"
        raise ExpressionError(whole or text, f"found {shown}", right, foreign.start() + 1)


def _is_unreal(part: sympy.Expr) -> bool:
    return bool(part.is_number and part.is_real is False)


def _is_hard_to_root(part: sympy.Expr) -> bool:
    """Whether SymPy would look for the sign of an inverse function in a root of it, for which it may take minutes."""
    powers = [factor for factor in sympy.Mul.make_args(part) if factor.is_Pow and factor.exp.is_Integer]
    return any(each.base.has(sympy.asin, sympy.acos, sympy.atan) for each in powers)


def _is_angle(part: sympy.Expr) -> bool:
    """Whether the trigonometric functions take it: a letter, or a few factors above and below one stroke."""
    factors = sympy.Mul.make_args(part)
    plain = (
        each.is_number or each.is_Symbol or (each.is_Pow and each.base.is_Symbol and each.exp.is_Integer)
        for each in factors
    )
    return bool(part.free_symbols) and all(plain)


class _Reader:
    """Rebuilds one formula from its syntax tree; ``lead`` is how many blanks stood before it."""

    def __init__(self, text: str, lead: int) -> None:
        self.text, self.lead = text, lead
        self.builders: dict[type, Callable[[Any, int], _Part]] = {
            ast.Name: self._name,
            ast.Constant: self._constant,
            ast.UnaryOp: self._unary,
            ast.BinOp: self._binary,
            ast.Call: self._call,
        }

    def read(self, node: ast.expr) -> sympy.Expr:
        value = self._build(node, 0).value
        if value.has(sympy.zoo, sympy.nan, sympy.oo, sympy.I) or any(map(_is_unreal, sympy.preorder_traversal(value))):
            raise self._refusal(node, *_NO_VALUE)
        sizes = [abs(number) for number in value.atoms(sympy.Rational) if number]
        if any(size > GREATEST_NUMBER or size * GREATEST_NUMBER < 1 for size in sizes):
            raise self._refusal(node, "found a number beyond all measure", "use numbers of ordinary size")
        return value

    def _build(self, node: ast.expr, depth: int) -> _Part:
        if depth > DEEPEST:
            raise self._refusal(node, "found too many nested parts", f"at most {DEEPEST} levels are read")
        builder = self.builders.get(type(node))
        if builder is None:
            raise self._refusal(node, f"found '{self._shown(node)}'")
        part = builder(node, depth + 1)
        if _is_unreal(part.value):  # SymPy may think for ever about the sign of a root of one
            raise self._refusal(node, *_NO_VALUE)
        return part

    def _bounded(self, node: ast.expr, terms: int, degree: int) -> tuple[int, int]:
        if terms > MOST_TERMS or degree > GREATEST_DEGREE:
            wrong = "found a formula that grows too long when it is multiplied out"
            raise self._refusal(node, wrong, "use fewer brackets and smaller powers")
        return terms, degree

    def _shown(self, node: ast.expr) -> str:
        shown = self.text.lstrip()[node.col_offset : node.end_col_offset]
        return shown if len(shown) <= 20 else shown[:20] + "..."

    def _refusal(self, node: ast.expr, wrong: str, right: str = _ALLOWED) -> ExpressionError:
        return ExpressionError(self.text, wrong, right, node.col_offset + 1 + self.lead)

    def _name(self, node: ast.Name, _: int) -> _Part:
        if node.id == "pi":
            return _Part(sympy.pi)
        if not is_name(node.id):
            right = "names are letters and digits with at most one subscript, as in v_top"
            raise self._refusal(node, f"found the name '{self._shown(node)}'", right)
        return _Part(sympy.Symbol(node.id))

    def _constant(self, node: ast.Constant, _: int) -> _Part:
        shown = self.text.lstrip()[node.col_offset : node.end_col_offset]
        if not shown[:1].isdigit() and not shown.startswith("."):
            raise self._refusal(node, f"found '{self._shown(node)}'")
        if not _NUMBER.fullmatch(shown) or not float(shown) <= 1e30:
            raise self._refusal(node, f"found '{self._shown(node)}'", "expected a plain number of ordinary size")
        return _Part(sympy.Rational(shown))

    def _unary(self, node: ast.UnaryOp, depth: int) -> _Part:
        if not isinstance(node.op, ast.USub | ast.UAdd):
            raise self._refusal(node, f"found '{self._shown(node)}'")
        part = self._build(node.operand, depth)
        return _Part(-part.value, part.terms, part.degree) if isinstance(node.op, ast.USub) else part

    def _binary(self, node: ast.BinOp, depth: int) -> _Part:
        left, right = self._build(node.left, depth), self._build(node.right, depth)
        if isinstance(node.op, ast.Pow):
            return self._power(node, left, right)
        if isinstance(node.op, ast.Add | ast.Sub):
            bounds = self._bounded(node, left.terms + right.terms, max(left.degree, right.degree))
            return _Part(left.value + (right.value if isinstance(node.op, ast.Add) else -right.value), *bounds)
        if not isinstance(node.op, ast.Mult | ast.Div):
            raise self._refusal(node, f"found '{self._shown(node)}'")
        bounds = self._bounded(node, left.terms * right.terms, left.degree + right.degree)
        if isinstance(node.op, ast.Mult):
            return _Part(left.value * right.value, *bounds)
        if right.value.is_zero:
            raise self._refusal(node.right, "found a division by zero", "divide by something else")
        return _Part(left.value / right.value, *bounds)

    def _power(self, node: ast.BinOp, base: _Part, exponent: _Part) -> _Part:
        power = exponent.value
        if not power.is_Rational or abs(power) > GREATEST_POWER or power.q > GREATEST_POWER:
            right = f"powers are numbers from -{GREATEST_POWER} to {GREATEST_POWER}, or simple fractions such as 1/2"
            raise self._refusal(node.right, f"found the power '{self._shown(node.right)}'", right)
        if base.value.is_zero and power <= 0:
            raise self._refusal(node, "found a division by zero", "divide by something else")
        if not power.is_Integer and _is_hard_to_root(base.value):
            raise self._refusal(node, *_ROOT)
        size = max(ceil(abs(power)), 1)
        bounds = self._bounded(node, base.terms**size, base.degree * max(abs(power.p), power.q))
        return _Part(base.value**power, *bounds)

    def _call(self, node: ast.Call, depth: int) -> _Part:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name not in FUNCTIONS:
            right = f"write a * before the bracket, or use one of {_FUNCTION_NAMES}"
            raise self._refusal(node, f"found the function '{self._shown(node.func)}'", right)
        if len(node.args) != 1 or node.keywords:
            raise self._refusal(node, f"found '{self._shown(node)}'", f"{name} takes one argument")
        argument = self._build(node.args[0], depth)
        if name in ("sin", "cos", "tan") and not _is_angle(argument.value):
            wrong = f"found the {_SPOKEN[name]} of what is no angle"
            right = f"write {name}(theta) or {name}(omega*t), of letters without brackets, roots and functions"
            raise self._refusal(node, wrong, right)
        if name == "sqrt" and _is_hard_to_root(argument.value):
            raise self._refusal(node, *_ROOT)
        bounds = self._bounded(node, argument.terms, argument.degree * 2)
        return _Part(FUNCTIONS[name](argument.value), *bounds)
