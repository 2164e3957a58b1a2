"""The physical dimension of an expression, from the dimensions of its symbols; SymPy does the arithmetic.

A dimension is a product of powers of base dimensions, each a positive symbol: ``[length]/[time]``, 1 for a pure number.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import sympy

from .units import Unit

NONE = sympy.Integer(1)


class UnequalDimensionsError(Exception):
    """A sum or relation whose parts differ in dimension, or a function of something that is no pure number."""

    def __init__(self, first: str, second: str) -> None:
        self.first, self.second = first, second
        super().__init__(first, second)

    def __str__(self) -> str:
        return f"'{self.first}' and '{self.second}' have different dimensions"


def dimension_of(unit: Unit) -> sympy.Expr:
    """The dimension of a unit, from Pint's name for it: ``[length] / [time] ** 2``."""
    above, *below = (sympy.Mul(*map(_factor, part.split(" * "))) for part in unit.dimension.split(" / "))
    return above / sympy.Mul(*below)


def _factor(text: str) -> sympy.Expr:
    name, _, power = text.partition(" ** ")
    none = name in ("1", "dimensionless")
    return NONE if none else sympy.Symbol(name, positive=True) ** sympy.Rational(power or 1)


def dimension(expression: sympy.Expr, units: Mapping[str, Unit]) -> sympy.Expr | None:
    """The dimension of ``expression``; zero fits every dimension and gives None.

    Raises UnequalDimensionsError where terms that are added differ, and KeyError for a symbol without a unit.
    """
    if expression.is_zero:
        return None
    if expression.is_Symbol:
        return dimension_of(units[expression.name])
    if expression.is_number:
        return NONE
    if expression.is_Add:
        return same_dimension(expression.args, units)
    if expression.is_Mul:
        return sympy.Mul(*(_or_none(each, units) for each in expression.args))
    if expression.is_Pow:
        return _or_none(expression.base, units) ** expression.exp
    (argument,) = expression.args
    if dimension(argument, units) != NONE:
        raise UnequalDimensionsError(str(argument), "1")
    return NONE


def _or_none(expression: sympy.Expr, units: Mapping[str, Unit]) -> sympy.Expr:
    found = dimension(expression, units)
    return NONE if found is None else found


def same_dimension(parts: Sequence[sympy.Expr], units: Mapping[str, Unit]) -> sympy.Expr | None:
    """The dimension that all parts share. Raises UnequalDimensionsError where two differ."""
    found = [(part, dimension(part, units)) for part in parts]
    known = [(part, each) for part, each in found if each is not None]
    for part, each in known[1:]:
        if each != known[0][1]:
            raise UnequalDimensionsError(str(known[0][0]), str(part))
    return known[0][1] if known else None
