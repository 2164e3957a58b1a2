"""Edits of the closed form: what goes wrong after the equations are right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import rates
from ..model.mistake import GravityEdit, PartsEdit, RatioEdit, SquareEdit
from ..solving.solution import SolvedQuestion

HALF = sympy.Rational(1, 2)


def ratio(edit: RatioEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with the first ratio of two givens of one kind changed; None where it has none."""
    closed = solved.solution.closed_form
    found = next(_ratios(solved), None)
    if found is None:
        return None
    quotient, power = found
    wanted = {"upside-down": -power, "left-out": sympy.Integer(0), "first-power": sympy.sign(power)}[edit.what]
    return None if wanted == power else closed * quotient ** (wanted - power)


def _ratios(solved: SolvedQuestion) -> Iterator[tuple[Expr, Expr]]:
    """The ratios that are a factor of the closed form, each with its power."""
    closed, quantities = solved.solution.closed_form, solved.problem.quantities
    given = [name for name in solved.question.given if name in solved.solution.symbols]
    for first, second in combinations(given, 2):
        if quantities[first].unit.dimension == quantities[second].unit.dimension:
            powers = [_power_of(closed, Symbol(each)) for each in (first, second)]
            if powers[0] is not None and powers[1] is not None and powers[0] == -powers[1] != 0:
                yield Symbol(first) / Symbol(second), powers[0]


def _power_of(closed: Expr, symbol: Symbol) -> Expr | None:
    """The power of a symbol that is a factor; None where it is none."""
    power = symbol * sympy.diff(closed, symbol) / closed
    return power if power.is_Rational else None


def parts(_: PartsEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with √(x² ± y²) as x ± y; None where it has no such root."""
    closed = solved.solution.closed_form
    roots = [each for each in closed.atoms(sympy.Pow) if each.exp == HALF and each.base.is_Add]
    sums = {each: as_numbers for each in roots if (as_numbers := _sum(each.base)) is not None}
    return closed.xreplace(sums) if sums else None


def _sum(squares: Expr) -> Expr | None:
    """x ± y for x² ± y²; None where a term is no square in letters."""
    terms = []
    for term in sympy.Add.make_args(squares):
        sign = -1 if term.could_extract_minus_sign() else 1
        root = sympy.powdenest(sympy.sqrt(sign * term), force=True)
        if not root.is_rational_function(*root.free_symbols):
            return None
        terms.append(sign * root)
    return sympy.Add(*terms)


def square(_: SquareEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with squared givens as they are; squares of speeds are a matter of the equations."""
    closed, motion = solved.solution.closed_form, solved.problem.motion
    places = [rates(motion, each) for each in (None, *solved.problem.diagrams)]
    speeds = {name for each in places for name in (each.speed, each.angular_speed)}
    givens = [Symbol(name) for name in solved.question.given if name not in speeds]
    plain = {each**power: each ** (power / 2) for each in givens for power in (sympy.Integer(2), sympy.Integer(-2))}
    return closed.xreplace(plain) if closed.has(*plain) else None


def gravity(_: GravityEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form without its g; None where it has none."""
    closed, g = solved.solution.closed_form, Symbol("g")
    return closed.xreplace({g: sympy.Integer(1)}) if closed.has(g) else None
