"""The physical dimension of an expression, from the dimensions of its symbols."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

import sympy

from .units import Unit

Dimension: TypeAlias = Mapping[str, float]  # exponents by base dimension: {"[length]": 1.0, "[time]": -1.0}
NONE: Dimension = {}


class UnequalDimensionsError(Exception):
    """A sum or relation whose parts differ in dimension, or a function of something that is no pure number."""

    def __init__(self, first: str, second: str) -> None:
        self.first, self.second = first, second
        super().__init__(first, second)

    def __str__(self) -> str:
        return f"'{self.first}' and '{self.second}' have different dimensions"


def dimension_of(unit: Unit) -> Dimension:
    """The dimension of a unit."""
    found = NONE
    for part, sign in ((piece, -1 if index else 1) for index, piece in enumerate(unit.dimension.split(" / "))):
        for factor in part.split(" * "):
            found = _times(found, _power(_factor(factor), sign))
    return found


def _factor(text: str) -> Dimension:
    name, _, power = text.partition(" ** ")
    return NONE if name in ("1", "dimensionless") else {name: float(power or 1)}


def _times(one: Dimension, other: Dimension) -> Dimension:
    found = dict(one)
    for name, power in other.items():
        found[name] = found.get(name, 0.0) + power
    return {name: power for name, power in found.items() if power}


def _power(of: Dimension, exponent: float) -> Dimension:
    return {name: power * exponent for name, power in of.items()}


def dimension(expression: sympy.Expr, units: Mapping[str, Unit]) -> Dimension | None:
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
        product = NONE
        for factor in expression.args:
            product = _times(product, dimension(factor, units) or NONE)
        return product
    if expression.is_Pow:
        return _power(dimension(expression.base, units) or NONE, float(expression.exp))
    (argument,) = expression.args
    if dimension(argument, units) != NONE:
        raise UnequalDimensionsError(str(argument), "1")
    return NONE


def same_dimension(parts: Sequence[sympy.Expr], units: Mapping[str, Unit]) -> Dimension | None:
    """The dimension that all parts share. Raises UnequalDimensionsError where two differ."""
    found = [(part, dimension(part, units)) for part in parts]
    known = [(part, each) for part, each in found if each is not None]
    for part, each in known[1:]:
        if each != known[0][1]:
            raise UnequalDimensionsError(str(known[0][0]), str(part))
    return known[0][1] if known else None
