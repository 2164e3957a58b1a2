"""How a key is worked out, as a small tree of plain nodes: no symbols to solve, no way of printing.

It is to a calculator what ``formula`` is to a page. All values are SI numbers, angles are in radians.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import reduce
from typing import TypeAlias


@dataclass(frozen=True)
class Constant:
    """A number that is the same for every variant."""

    value: Decimal


@dataclass(frozen=True)
class Pi:
    """The ratio of circumference to diameter."""


@dataclass(frozen=True)
class Value:
    """The value of a given, by its name in ``Computation.values``."""

    name: str


@dataclass(frozen=True)
class Sum:
    """All terms added."""

    terms: tuple[Node, ...]


@dataclass(frozen=True)
class Minus:
    """The first less the second."""

    first: Node
    second: Node


@dataclass(frozen=True)
class Product:
    """All factors multiplied."""

    factors: tuple[Node, ...]


@dataclass(frozen=True)
class Quotient:
    """One number over another."""

    above: Node
    below: Node


@dataclass(frozen=True)
class Raised:
    """A base to an exponent; a root has the exponent 1/2 or 1/3."""

    base: Node
    exponent: Node


@dataclass(frozen=True)
class Function:
    """A function of one number: sin, cos, tan, asin, acos or atan."""

    name: str
    argument: Node


Node: TypeAlias = Constant | Pi | Value | Sum | Minus | Product | Quotient | Raised | Function


@dataclass(frozen=True)
class Computation:
    """A ``form`` and the SI ``values`` that it needs; it gives the key before rounding, in the unit of the answer."""

    form: Node
    values: tuple[tuple[str, Decimal], ...]

    @property
    def result(self) -> float:
        """The key before rounding, worked out in doubles."""
        return evaluate(self.form, {name: float(value) for name, value in self.values})


FUNCTIONS: Mapping[str, Callable[[float], float]] = {
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "asin": math.asin,
    "acos": math.acos,
    "atan": math.atan,
}


def evaluate(node: Node, values: Mapping[str, float]) -> float:
    """The value of a tree in doubles; nan where it is no real number."""
    try:
        found = _evaluate(node, values)
    except (ArithmeticError, ValueError):
        return math.nan
    return math.nan if isinstance(found, complex) else found


def _evaluate(node: Node, values: Mapping[str, float]) -> float:
    match node:
        case Constant(value=value):
            return float(value)
        case Pi():
            return math.pi
        case Value(name=name):
            return values[name]
        case Function(name=name, argument=argument):
            return FUNCTIONS[name](_evaluate(argument, values))
        case Raised(base=base, exponent=exponent):
            return float.__pow__(_evaluate(base, values), _evaluate(exponent, values))  # type: ignore[no-any-return]
        case _:
            return _combine(node, [_evaluate(each, values) for each in _parts(node)])


def _parts(node: Sum | Minus | Product | Quotient) -> tuple[Node, ...]:
    match node:
        case Sum(terms=terms):
            return terms
        case Product(factors=factors):
            return factors
        case Minus(first=first, second=second):
            return first, second
        case Quotient(above=above, below=below):
            return above, below


def _combine(node: Sum | Minus | Product | Quotient, parts: list[float]) -> float:
    match node:
        case Sum():
            return reduce(float.__add__, parts)  # as a platform adds; from Python 3.12 on, sum is better than that
        case Product():
            return math.prod(parts)
        case Minus():
            return reduce(float.__sub__, parts)
        case Quotient():
            return parts[0] / parts[1]
