"""Values of an expression for arrays of numbers, and the same as a student with a rounding calculator finds them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache, reduce
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


class Columns(dict[str, Any]):
    """Values of symbols by name, arrays of one shape, with what was worked out of them: alike parts are met again."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        super().__init__(values)
        self.parts: dict[_Operation, Any] = {}

    def changed(self, name: str, values: Any) -> Columns:
        """The same with other values of one symbol; parts that do not speak of it need not be worked out again."""
        found = Columns({**self, name: values})
        found.parts = {part: each for part, each in self.parts.items() if name not in part.names}
        return found


def evaluate(expression: sympy.Expr, values: Mapping[str, Any], rounding: Callable[[Any], Any] | None = None) -> Any:
    """The value of ``expression`` in SI units, element by element; nan where it is not real or not finite.

    ``values`` maps each symbol's name to a number or an array, all of one shape. ``rounding`` is applied to the result
    of every operation, and to no given number. Raises KeyError for a symbol without a value.
    """
    with np.errstate(all="ignore"):
        result = np.asarray(_value(_operation_of(expression), values, rounding), dtype=float)
        return np.where(np.isfinite(result), result, np.nan)


def agree(first: sympy.Expr, second: sympy.Expr, values: Mapping[str, Any]) -> bool | None:
    """Whether two expressions are equal, but for rounding, wherever both are real; None where they never are."""
    one, other = (evaluate(each, values) for each in (first, second))
    return not differ(one, other) if np.any(np.isfinite(one) & np.isfinite(other)) else None


def differ(one: Any, other: Any) -> bool:
    """Whether two values, or arrays of one shape with nan for what is not real, are apart where both are real."""
    return bool(np.any(np.abs(one - other) > SAME * np.abs(other)))


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
    return np.abs(_value(_operation_of(part), values, None))


def to_figures(figures: int) -> Callable[[Any], Any]:
    """A rounding to significant figures for ``evaluate``."""

    def rounded(value: Any) -> Any:
        value = np.asarray(value, dtype=float)
        size = np.where((value == 0) | ~np.isfinite(value), 1.0, np.abs(value))
        scale = 10.0 ** (figures - 1 - np.floor(np.log10(size)))
        return np.round(value * scale) / scale

    return rounded


# --- the operations of an expression -------------------------------------------------------------


@dataclass(frozen=True, eq=False, slots=True)
class _Operation:
    """A part of an expression: a symbol by its name, a number, or an operation on other parts.

    Equal parts of all expressions are one, so that each is told by its identity. ``names`` are those of all its
    symbols.
    """

    name: str = ""
    number: float = np.nan
    operation: Callable[..., Any] | None = None
    inner: tuple[_Operation, ...] = ()
    names: frozenset[str] = frozenset()


REMEMBERED = 20_000


@lru_cache(maxsize=REMEMBERED)
def _operation_of(expression: sympy.Expr) -> _Operation:
    if expression.is_Symbol:
        return _Operation(name=expression.name, names=frozenset({expression.name}))
    if not expression.args and expression.is_number:
        return _Operation(number=float(expression) if expression.is_real else np.nan)
    inner = tuple(map(_operation_of, expression.args))
    names = frozenset().union(*(each.names for each in inner))
    return _Operation(operation=_function_of(expression), inner=inner, names=names)


def _function_of(expression: sympy.Expr) -> Callable[..., Any]:
    if expression.is_Add:
        return _sum
    if expression.is_Mul:
        return _product
    if not expression.is_Pow:
        return _FUNCTIONS[expression.func]
    return _ROOTS.get(expression.exp, _power)


def _sum(*inner: Any) -> Any:
    return reduce(np.add, inner)


def _product(*inner: Any) -> Any:
    return reduce(np.multiply, inner)


def _power(base: Any, exponent: Any) -> Any:
    return np.power(np.asarray(base, dtype=float), exponent)


_ROOTS = {
    sympy.Rational(1, 2): lambda base, _: np.sqrt(base),
    sympy.Rational(1, 3): lambda base, _: np.cbrt(base),
}


def _value(part: _Operation, values: Mapping[str, Any], rounding: Callable[[Any], Any] | None) -> Any:
    if part.name:
        return values[part.name]
    if part.operation is None:
        return part.number
    known = values.parts if rounding is None and isinstance(values, Columns) else None
    if known is not None and part in known:
        return known[part]
    result = part.operation(*[_value(each, values, rounding) for each in part.inner])
    if rounding:
        return rounding(result)
    if known is not None:
        known[part] = result
    return result
