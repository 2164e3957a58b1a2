"""Expressions of numbers: functions, constants, rounding and statistics.

Functions are worked out in doubles, also where all else is exact. Angles are in radians (from memory).
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Mapping
from types import MappingProxyType

from ...strangers.documents import Element
from ...strangers.parsing import shown
from .comparison import lifted, number_base, want_numbers
from .expressions import Context, Operands, Scope, Term, constant
from .values import CannotMarkError, Value, rounded_to

CONSTANTS: Mapping[str, str] = MappingProxyType({"pi": repr(math.pi), "e": repr(math.e)})
_EXACT: Mapping[str, tuple[Callable[[Value], Value], str]] = MappingProxyType(
    {
        "abs": (abs, ""),
        "ceil": (math.ceil, "integer"),
        "floor": (math.floor, "integer"),
        "signum": (lambda a: (a > 0) - (a < 0), "integer"),
    }
)
_IN_DOUBLES: Mapping[str, Callable[[float], float]] = MappingProxyType(
    {
        "sin": math.sin,
        "cos": math.cos,
        "tan": math.tan,
        "asin": math.asin,
        "acos": math.acos,
        "atan": math.atan,
        "sinh": math.sinh,
        "cosh": math.cosh,
        "tanh": math.tanh,
        "sec": lambda a: 1 / math.cos(a),
        "csc": lambda a: 1 / math.sin(a),
        "cot": lambda a: 1 / math.tan(a),
        "asec": lambda a: math.acos(1 / a),
        "acsc": lambda a: math.asin(1 / a),
        "acot": lambda a: math.atan(1 / a) if a else math.pi / 2,
        "sech": lambda a: 1 / math.cosh(a),
        "csch": lambda a: 1 / math.sinh(a),
        "coth": lambda a: 1 / math.tanh(a),
        "log": math.log10,
        "ln": math.log,
        "exp": math.exp,
        "toDegrees": math.degrees,
        "toRadians": math.radians,
    }
)
_STATISTICS: Mapping[str, tuple[Callable[[list[float]], float], int]] = MappingProxyType(
    {
        "mean": (statistics.fmean, 1),
        "sampleVariance": (statistics.variance, 2),
        "sampleSD": (statistics.stdev, 2),
        "popVariance": (statistics.pvariance, 1),
        "popSD": (statistics.pstdev, 1),
    }
)


def math_operator(element: Element, operands: Operands, context: Context) -> Term:
    """The function that ``name`` stands for, of one number; atan2 takes y and x.

    Raises CannotMarkError for what can't be marked exactly.
    """
    name = element.get("name")
    want_numbers(element, operands)
    wanted = 2 if name == "atan2" else 1
    if len(operands) != wanted:
        raise CannotMarkError(f"{element.name} '{shown(name)}' has {len(operands)} operands, {wanted} expected")
    if name in _EXACT:
        function, base = _EXACT[name]
        return lifted(function, operands, base or number_base(operands))
    if name == "atan2":
        return lifted(lambda y, x: _told(context, math.atan2(float(y), float(x))), operands, "float")
    if name not in _IN_DOUBLES:
        raise CannotMarkError(f"{element.name} '{shown(name)}' can not be marked yet")
    return lifted(lambda a: _in_doubles(context, _IN_DOUBLES[name], a), operands, "float")


def _in_doubles(context: Context, function: Callable[[float], float], operand: Value) -> Value:
    try:
        return _told(context, function(float(operand)))
    except ValueError:  # outside the domain, as the logarithm of -1
        raise ArithmeticError from None


def _told(context: Context, value: float) -> Value:
    """A double as a number of the arithmetic at hand. Raises ArithmeticError, which makes NULL, for what is none."""
    if not math.isfinite(value):
        raise ArithmeticError
    return context.number(repr(value))


def math_constant(element: Element, operands: Operands, context: Context) -> Term:
    """The constant that ``name`` stands for. Raises CannotMarkError for what can't be marked exactly."""
    text = CONSTANTS.get(element.get("name"))
    if text is None:
        raise CannotMarkError(f"{element.name} '{shown(element.get('name'))}' is not known")
    return constant(context.number(text), "float")


def round_to(element: Element, operands: Operands, context: Context) -> Term:
    """The number at so many significant figures or decimal places, halves away from zero (from memory).

    Raises CannotMarkError for what can't be marked exactly.
    """
    want_numbers(element, operands)
    mode = element.get("rounding-mode") or "significantFigures"
    if mode not in ("significantFigures", "decimalPlaces"):
        raise CannotMarkError(f"{element.name} has the rounding mode '{shown(mode)}'")
    figures, value_of = context.whole(element, "figures"), operands[0].value
    significant = mode == "significantFigures"

    def value(scope: Scope) -> Value:
        number, wanted = value_of(scope), figures(scope)
        if number is None or wanted is None or not (1 if significant else 0) <= wanted <= 15:
            return None
        return context.number(str(rounded_to(number, wanted, significant)))

    return Term("float", "single", value)


def stats_operator(element: Element, operands: Operands, context: Context) -> Term:
    """The statistic that ``name`` stands for, of a container; NULL where it has too few values.

    Raises CannotMarkError for what can't be marked exactly.
    """
    found = _STATISTICS.get(element.get("name"))
    if found is None:
        raise CannotMarkError(f"{element.name} '{shown(element.get('name'))}' is not known")
    want_numbers(element, operands, containers=True)
    function, fewest = found

    def value(values: Value) -> Value:
        numbers = [float(each) for each in (values if isinstance(values, tuple) else (values,))]
        if len(numbers) < fewest:
            raise ArithmeticError
        return _told(context, function(numbers))

    return lifted(value, operands, "float")
