"""Closed forms of the solver as computations: what a system without algebra needs to work a key out."""

from __future__ import annotations

from decimal import Context, Decimal

import sympy
from sympy import Expr

from ..item.computation import Constant, Function, Minus, Node, Pi, Product, Quotient, Raised, Sum, Value
from ..quantities.units import Unit

FIGURES = Context(prec=15)  # what every double keeps of a decimal
_FUNCTIONS = {
    sympy.sin: "sin",
    sympy.cos: "cos",
    sympy.tan: "tan",
    sympy.asin: "asin",
    sympy.acos: "acos",
    sympy.atan: "atan",
}


def computation_of(closed_form: Expr, unit: Unit) -> Node:
    """The closed form, in SI values, as a tree whose result is in ``unit``."""
    form = translated(closed_form)
    if unit.symbol == "deg":
        return Quotient(Product((form, Constant(Decimal(180)))), Pi())
    return form if unit.factor == 1 else Quotient(form, Constant(decimal_of(unit.factor)))


def decimal_of(value: float) -> Decimal:
    """The shortest decimal that stands for a double to 15 figures, without a power of ten."""
    shortest = FIGURES.create_decimal(repr(value)).normalize()
    return Decimal(
        f"{shortest:f}"
    )  # digit by digit: quantize refuses more than 28 of them, and masses of stars have more


def translated(expression: Expr) -> Node:
    """The tree of an expression in letters."""
    if expression.is_Symbol:
        return Value(expression.name)
    if expression == sympy.pi:
        return Pi()
    if expression.is_Rational:
        return _rational(expression)
    if expression.is_Add:
        return _sum(expression)
    if expression.is_Mul:
        return _product(expression)
    if expression.is_Pow:
        return _power(expression)
    return Function(_FUNCTIONS[expression.func], translated(expression.args[0]))


def _rational(number: sympy.Rational) -> Node:
    """A whole number, or a quotient of two; a half is written as 0.5."""
    above = Constant(Decimal(int(number.p)))
    if number.q == 1:
        return above
    if number.q in (2, 4, 5, 10):
        return Constant(Decimal(int(number.p)) / Decimal(int(number.q)))
    return Quotient(above, Constant(Decimal(int(number.q))))


def _sum(expression: Expr) -> Node:
    """The positive terms less the negative ones."""
    added = [each for each in expression.args if not each.could_extract_minus_sign()]
    taken = [-each for each in expression.args if each.could_extract_minus_sign()]
    if not taken:
        return _added(added)
    if not added:
        return Product((Constant(Decimal(-1)), _added(taken)))
    return Minus(_added(added), _added(taken))


def _added(terms: list[Expr]) -> Node:
    nodes = tuple(translated(each) for each in sorted(terms, key=str))
    return nodes[0] if len(nodes) == 1 else Sum(nodes)


def _product(expression: Expr) -> Node:
    """A product over a product, as it stands on paper."""
    above = [each for each in expression.args if not _is_below(each)]
    below = [1 / each for each in expression.args if _is_below(each)]
    return Quotient(_multiplied(above), _multiplied(below)) if below else _multiplied(above)


def _is_below(factor: Expr) -> bool:
    return bool(factor.is_Pow and factor.exp.is_Rational and factor.exp < 0)


def _multiplied(factors: list[Expr]) -> Node:
    nodes = tuple(translated(each) for each in factors)
    return nodes[0] if len(nodes) == 1 else Product(nodes) if nodes else Constant(Decimal(1))


def _power(expression: Expr) -> Node:
    if _is_below(expression):
        return Quotient(Constant(Decimal(1)), translated(1 / expression))
    return Raised(translated(expression.base), translated(expression.exp))
