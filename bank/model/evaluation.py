"""Values of an expression for arrays of numbers, and the same as a student with a rounding calculator finds them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import reduce
from typing import Any

import numpy as np
import sympy
from numpy.typing import NDArray

Array = NDArray[np.float64]
SAME = 1e-9  # relative: what rounding may make of one value worked out in two ways

ROUNDING = 1e-12  # what rounding may take off a difference, as a share of the terms compared

_FUNCTIONS: dict[type, Callable[[Any], Any]] = {
    sympy.sin: np.sin,
    sympy.cos: np.cos,
    sympy.tan: np.tan,
    sympy.asin: np.arcsin,
    sympy.acos: np.arccos,
    sympy.atan: np.arctan,
}


def evaluate(expression: sympy.Expr, values: Mapping[str, Any], rounding: Callable[[Any], Any] | None = None) -> Any:
    """The value of ``expression`` in SI units, element by element; nan where it is not real or not finite.

    ``values`` maps each symbol's name to a number or an array, all of one shape. ``rounding`` is applied to the result
    of every operation, and to no given number. Raises KeyError for a symbol without a value.
    """
    with np.errstate(all="ignore"):
        result = np.asarray(_value(expression, values, rounding), dtype=float)
    return np.where(np.isfinite(result), result, np.nan)


def agree(first: sympy.Expr, second: sympy.Expr, values: Mapping[str, Any]) -> bool | None:
    """Whether two expressions are equal, but for rounding, wherever both are real; None where they never are."""
    one, other = np.broadcast_arrays(*(np.atleast_1d(evaluate(each, values)) for each in (first, second)))
    both = np.isfinite(one) & np.isfinite(other)
    return bool(np.allclose(one[both], other[both], rtol=SAME, atol=0)) if both.any() else None


def holds(margin: sympy.Expr, values: Mapping[str, Any], *, strict: bool = False) -> NDArray[np.bool_]:
    """Whether ``margin`` is not negative (above zero where ``strict``) but for rounding; False where it is not real.

    The shape is that of the ``values``, SI. What rounding may do is judged by the terms of the margin, so that the
    units of a problem do not matter.
    """
    found = evaluate(margin, values)
    with np.errstate(all="ignore"):
        size = np.asarray(_size(margin, values), dtype=float)
    least = ROUNDING * np.where(np.isfinite(size), size, 0.0)
    return np.asarray(found > least if strict else found >= -least)


def _size(part: sympy.Expr, values: Mapping[str, Any]) -> Any:
    """What the value would be if no two terms of a sum took anything off each other."""
    if part.is_Add or part.is_Mul:
        return reduce(np.add if part.is_Add else np.multiply, [_size(each, values) for each in part.args])
    if part.is_Pow and part.exp.is_Rational and part.exp > 0:
        return _size(part.base, values) ** float(part.exp)
    return np.abs(_value(part, values, None))


def to_figures(figures: int) -> Callable[[Any], Any]:
    """A rounding to significant figures for ``evaluate``."""

    def rounded(value: Any) -> Any:
        value = np.asarray(value, dtype=float)
        size = np.where((value == 0) | ~np.isfinite(value), 1.0, np.abs(value))
        scale = 10.0 ** (figures - 1 - np.floor(np.log10(size)))
        return np.round(value * scale) / scale

    return rounded


def _value(part: sympy.Expr, values: Mapping[str, Any], rounding: Callable[[Any], Any] | None) -> Any:
    if part.is_Symbol:
        return values[part.name]
    if not part.args and part.is_number:
        return float(part) if part.is_real else np.nan
    inner = [_value(each, values, rounding) for each in part.args]
    if part.is_Add:
        result = reduce(np.add, inner)
    elif part.is_Mul:
        result = reduce(np.multiply, inner)
    elif part.is_Pow:
        result = _power(part, inner)
    else:
        result = _FUNCTIONS[part.func](inner[0])
    return rounding(result) if rounding else result


def _power(part: sympy.Expr, inner: list[Any]) -> Any:
    if part.exp == sympy.Rational(1, 2):
        return np.sqrt(inner[0])
    if part.exp == sympy.Rational(1, 3):
        return np.cbrt(inner[0])
    return np.power(np.asarray(inner[0], dtype=float), inner[1])
