"""Rational expressions as fractions of two polynomials: cancelled, factored and multiplied out, as SymPy writes them.

SymPy finds its way through any expression again in each step; here a sum of products of letters is a pair of
polynomials from the first step on. What is no such sum (a root, a function) is left to SymPy.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any, TypeAlias

import sympy
from sympy import Expr
from sympy.core.mul import _keep_coeff
from sympy.polys.rings import PolyElement, ring

REMEMBERED = 20_000
Polynomial: TypeAlias = PolyElement
_Parts: TypeAlias = tuple[Polynomial, dict[Polynomial, int]]  # what is above, and the powers of what is below


class _NotRationalError(Exception):
    """Something in an expression that is no number, no letter and no sum, product or whole power of such."""


@dataclass(frozen=True)
class PolynomialQuotient:
    """Two polynomials without a common factor, whole numbers before their terms; ``below`` begins with a plus."""

    above: Polynomial
    below: Polynomial

    @cached_property
    def cancelled(self) -> Expr:
        """One sum over another."""
        return self.above.as_expr() / self.below.as_expr()

    @cached_property
    def expanded(self) -> Expr:
        """As a sum of terms."""
        if len(self.below) > 1:
            return sympy.expand(self.cancelled)
        return _sum_of_terms(self.above, self.below)

    @cached_property
    def factored(self) -> Expr:
        """As a product of what can't be taken apart any further; 0 where nothing is left above the line."""
        if not self.above:
            return sympy.S.Zero
        number, above = _factors(self.above)
        other, below = _factors(self.below)
        powers = [factor.as_expr() ** power for factor, power in above.items()]
        powers += [factor.as_expr() ** -power for factor, power in below.items()]
        return _keep_coeff(sympy.Rational(number, other), sympy.Mul(*powers))


@lru_cache(maxsize=REMEMBERED)
def fraction_of(expression: Expr) -> PolynomialQuotient | None:
    """The fraction that an expression is; None where it is none, or a mere number."""
    parts = _parts_of(expression)
    if parts is None:
        return None
    above, below = parts
    whole = above.ring.one
    for base, power in below.items():
        left = power
        while left:
            shared = above.gcd(base)
            if shared == 1:
                break
            above, rest = above.exquo(shared), base.exquo(shared)
            whole, left = whole * rest, left - 1
        whole *= base**left
    if whole.LC < 0:
        above, whole = -above, -whole
    return PolynomialQuotient(above, whole)


@lru_cache(maxsize=REMEMBERED)
def cancelled(expression: Expr) -> Expr:
    """One polynomial over another, what they share cancelled."""
    found = fraction_of(expression)
    return found.cancelled if found else sympy.cancel(expression)


@lru_cache(maxsize=REMEMBERED)
def factored(expression: Expr) -> Expr:
    """The factors of a cancelled expression."""
    found = fraction_of(expression)
    return found.factored if found else sympy.factor(expression)


@lru_cache(maxsize=REMEMBERED)
def expanded(expression: Expr) -> Expr:
    """The expression multiplied out."""
    parts = _parts_of(expression)
    if parts is None or any(len(base) > 1 for base in parts[1]):
        return sympy.expand(expression)
    below = parts[0].ring.one
    for base, power in parts[1].items():
        below *= base**power
    return _sum_of_terms(parts[0], below)


def _sum_of_terms(above: Polynomial, below: Polynomial) -> Expr:
    """A polynomial over one term, term by term."""
    letters = above.ring.symbols
    ((lower, divisor),) = below.terms()
    return sympy.Add(
        *(
            sympy.Mul(
                sympy.Rational(int(number), int(divisor)),
                *(letter ** (up - down) for letter, up, down in zip(letters, upper, lower, strict=True) if up != down),
            )
            for upper, number in above.terms()
        )
    )


def coefficients(polynomial: Expr, symbol: sympy.Symbol) -> dict[int, Expr]:
    """What stands before each power of a symbol in a polynomial of it, all else being numbers; none of them is zero."""
    found = fraction_of(polynomial)
    if found is None or len(found.below) > 1 or any(found.below.degrees()):
        poly = sympy.Poly(polynomial, symbol)
        return {power: poly.coeff_monomial(symbol**power) for (power,) in poly.monoms()}
    letters = found.above.ring.symbols
    if symbol not in letters:
        return {0: polynomial}
    place = letters.index(symbol)
    parts: dict[int, dict[Any, Any]] = {}
    for powers, number in found.above.terms():
        parts.setdefault(powers[place], {})[(*powers[:place], 0, *powers[place + 1 :])] = number
    divisor = int(found.below.LC)
    return {power: found.above.ring.from_dict(each).as_expr() / divisor for power, each in parts.items()}


# --- from an expression to polynomials --------------------------------------------------------------


def _parts_of(expression: Expr) -> _Parts | None:
    """The fraction that an expression is, not cancelled; None where it is none, or a mere number."""
    letters = expression.free_symbols | expression.atoms(sympy.core.numbers.Pi)
    if not letters:
        return None
    try:
        return _FractionReader(_letters_of(frozenset(letters))).read(expression)
    except _NotRationalError:
        return None


@lru_cache(maxsize=REMEMBERED)
def _letters_of(letters: frozenset[Expr]) -> Mapping[Expr, Polynomial]:
    """The polynomials that are one letter each, in SymPy's order of letters."""
    ordered = sympy.Poly(sympy.Add(*letters)).gens
    _, *found = ring(ordered, sympy.ZZ)
    return dict(zip(ordered, found, strict=True))


class _FractionReader:
    """Reads expressions in some letters."""

    def __init__(self, letters: Mapping[Expr, Polynomial]) -> None:
        self._letters = letters
        self._ring = next(iter(letters.values())).ring

    def read(self, expression: Expr) -> _Parts:
        """What is above and below. Raises _NotRationalError."""
        if expression in self._letters:
            return self._letters[expression], {}
        if expression.is_Rational:
            return self._ring(int(expression.p)), {} if expression.q == 1 else {self._ring(int(expression.q)): 1}
        if expression.is_Add:
            return self._sum(expression)
        if expression.is_Mul:
            return self._product(expression)
        if expression.is_Pow and expression.exp.is_Integer:
            return self._power(*self.read(expression.base), int(expression.exp))
        raise _NotRationalError

    def _sum(self, expression: Expr) -> _Parts:
        parts = [self.read(each) for each in expression.args]
        common: dict[Polynomial, int] = {}
        for _, below in parts:
            for base, power in below.items():
                common[base] = max(power, common.get(base, 0))
        total = self._ring.zero
        for above, below in parts:
            for base, power in common.items():
                above *= base ** (power - below.get(base, 0))  # noqa: PLW2901
            total += above
        return total, common

    def _product(self, expression: Expr) -> _Parts:
        product, common = self._ring.one, dict[Polynomial, int]()
        for above, below in map(self.read, expression.args):
            product *= above
            for base, power in below.items():
                common[base] = power + common.get(base, 0)
        return product, common

    def _power(self, above: Polynomial, below: Mapping[Polynomial, int], power: int) -> _Parts:
        if power >= 0:
            return above**power, {base: number * power for base, number in below.items() if power}
        if not above:
            raise _NotRationalError
        turned = self._ring.one
        for base, number in below.items():
            turned *= base ** (number * -power)
        return turned, {above: -power}


# --- factors ----------------------------------------------------------------------------------------


def _factors(polynomial: Polynomial) -> tuple[int, dict[Polynomial, int]]:
    """The number before it, and the powers of its factors, each of which begins with a plus."""
    number, rest = polynomial.primitive()
    if rest.LC < 0:
        number, rest = -number, -rest
    shared = tuple(map(min, zip(*rest.itermonoms(), strict=True)))
    rest = rest.quo(rest.ring.from_dict({shared: 1}))
    found = {letter: power for letter, power in zip(rest.ring.gens, shared, strict=True) if power}
    for factor, power in _split(rest):
        found[factor] = power + found.get(factor, 0)
    return int(number), found


def _split(polynomial: Polynomial) -> Iterator[tuple[Polynomial, int]]:
    """The factors of a polynomial that shares no letter or number with all its terms.

    One that is linear in a letter has no factors besides what its two coefficients share.
    """
    if polynomial == 1:
        return
    place = next((place for place, degree in enumerate(polynomial.degrees()) if degree == 1), None)
    if place is None:
        yield from polynomial.factor_list()[1]
        return
    ring_ = polynomial.ring
    with_it: dict[Any, Any] = {}
    without: dict[Any, Any] = {}
    for powers, number in polynomial.terms():
        (with_it if powers[place] else without)[(*powers[:place], 0, *powers[place + 1 :])] = number
    shared = ring_.from_dict(with_it).gcd(ring_.from_dict(without))
    yield from _split(shared)
    yield polynomial.exquo(shared), 1
