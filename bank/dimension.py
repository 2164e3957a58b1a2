"""The physical dimension of an expression, from the dimensions of its symbols; Pint does the arithmetic."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import sympy
from turnwright.bank.unit import Unit, registry


class UnequalDimensionsError(Exception):
    """A sum or relation whose parts differ in dimension, or a function of something that is no pure number."""

    def __init__(self, first: str, second: str) -> None:
        self.first, self.second = first, second
        super().__init__(first, second)

    def __str__(self) -> str:
        return f"'{self.first}' and '{self.second}' have different dimensions"


def dimension_of(unit: Unit) -> Any:
    """Pint's dimensionality of a unit, with exponents by base dimension."""
    container = registry().parse_units("dimensionless").dimensionality
    for part, sign in ((piece, -1 if index else 1) for index, piece in enumerate(unit.dimension.split(" / "))):
        for factor in part.split(" * "):
            container = container * _factor(factor) ** sign
    return container


def _factor(text: str) -> Any:
    name, _, power = text.partition(" ** ")
    none = registry().parse_units("dimensionless").dimensionality
    return none if name in ("1", "dimensionless") else type(none)({name: float(power or 1)})


def dimension(expression: sympy.Expr, units: Mapping[str, Unit]) -> Any:
    """The dimensionality of ``expression``; zero fits every dimension and gives None.

    Raises UnequalDimensionsError where terms that are added differ, and KeyError for a symbol without a unit.
    """
    if expression.is_zero:
        return None
    if expression.is_Symbol:
        return dimension_of(units[expression.name])
    none = registry().parse_units("dimensionless").dimensionality
    if expression.is_number:
        return none
    if expression.is_Add:
        return same_dimension(expression.args, units)
    if expression.is_Mul:
        product = none
        for factor in expression.args:
            product = product * dimension(factor, units)
        return product
    if expression.is_Pow:
        return dimension(expression.base, units) ** float(expression.exp)
    (argument,) = expression.args
    if dimension(argument, units) != none:
        raise UnequalDimensionsError(str(argument), "1")
    return none


def same_dimension(parts: Any, units: Mapping[str, Unit]) -> Any:
    """The dimensionality that all parts share. Raises UnequalDimensionsError where two differ."""
    found = [(part, dimension(part, units)) for part in parts]
    known = [(part, each) for part, each in found if each is not None]
    for part, each in known[1:]:
        if each != known[0][1]:
            raise UnequalDimensionsError(str(known[0][0]), str(part))
    return known[0][1] if known else None
