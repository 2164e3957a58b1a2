"""Edits of the closed form: what goes wrong after the equations are right."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import Equation, rates
from ..model.edit import GravityEdit, InverseEdit, PartsEdit, RatioEdit, ReportEdit, SquareEdit, SumEdit
from ..quantities.units import unit
from ..solving.solution import SolvedQuestion

HALF = sympy.Rational(1, 2)
LENGTH = unit("m").dimension
TIME = unit("s").dimension


def ratio(edit: RatioEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with the first ratio of two givens of one kind changed; None where it has none."""
    closed = solved.solution.closed_form
    found = next(_ratios(solved), None)
    if found is None:
        return None
    quotient, power = found
    if edit.what in ("squared", "rooted") and abs(power) != 1:
        return None  # "the ratio itself" is what belongs there
    if edit.what in ("first-power", "exponents-exchanged") and not _is_of_periods_and_radii(solved, quotient):
        return None  # where masses count as well, the exponent of their ratio would change too
    if edit.what == "left-out" and not _is_a_given_of_another(solved, closed, quotient):
        return None
    wanted = {
        "upside-down": -power,
        "left-out": sympy.Integer(0),
        "first-power": sympy.sign(power),
        "squared": 2 * power,
        "rooted": power / 2,
        "exponents-exchanged": 1 / power,
    }[edit.what]
    return None if wanted == power else closed * quotient ** (wanted - power)


def _is_a_given_of_another(solved: SolvedQuestion, closed: Expr, quotient: Expr) -> bool:
    """Whether one given is left without the ratio, to be the same for both; two places of one body are not."""
    one, other = quotient.free_symbols
    return (
        closed.xreplace({one: other}).is_Symbol
        and solved.problem.quantities[solved.question.ask].unit.dimension != LENGTH
    )


def _is_of_periods_and_radii(solved: SolvedQuestion, quotient: Expr) -> bool:
    """Whether a period is asked from a ratio of radii, or a radius from one of periods: Kepler's third law.

    Nothing but the other period or radius may stand beside the ratio.
    """
    quantities = solved.problem.quantities
    kinds = {quantities[str(each)].unit.dimension for each in quotient.free_symbols}
    beside = solved.solution.closed_form.free_symbols - quotient.free_symbols
    kinds_with_asked = kinds | {quantities[solved.question.ask].unit.dimension}
    return len(beside) == len(kinds) == 1 and kinds_with_asked == {LENGTH, TIME}


def ratio_of_givens(solved: SolvedQuestion) -> tuple[str, ...]:
    """The two givens of one kind whose ratio is a factor of the closed form; () where there is none."""
    quotient, _ = next(_ratios(solved), (sympy.Integer(1), None))
    return tuple(sorted(map(str, quotient.free_symbols), key=solved.question.given.index))


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


def parts(edit: PartsEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with √(x² ± y²) as x ± y, or as √(x² ∓ y²), or with one of two parts of a resultant alone.

    None where it has no such root, and where what is left is given.
    """
    closed = solved.solution.closed_form
    roots = [each for each in closed.atoms(sympy.Pow) if each.exp == HALF and each.base.is_Add]
    sums = {each: as_numbers for each in roots if (as_numbers := _sum(each.base)) is not None}
    if edit.what == "other-sign":
        sums = {each: sympy.sqrt(_signed_otherwise(each.base)) for each in sums if len(each.base.args) == 2}
    elif edit.what != "as-numbers":
        sums = {each: part for each in sums if (part := _alone(each.base, edit.what)) is not None}
    answer = closed.xreplace(sums)
    return None if not sums or answer.is_Symbol else answer


def _alone(squares: Expr, which: str) -> Expr | None:
    """One of two perpendicular parts; None for a leg, of which the longest side would be left, or for more parts."""
    terms = sorted(sympy.Add.make_args(squares), key=str)
    if len(terms) != 2 or any(each.could_extract_minus_sign() for each in terms):
        return None
    return _sum(terms[0 if which == "first-alone" else 1])


def _sum(squares: Expr) -> Expr | None:
    """x ± y for x² ± y²; None where a term is no square in letters."""
    terms = []
    for term in sympy.Add.make_args(squares):
        sign = -1 if term.could_extract_minus_sign() else 1
        letters = {each: sympy.Dummy(positive=True) for each in term.atoms(sympy.sin, sympy.cos, sympy.tan)}
        root = sympy.powdenest(sympy.sqrt(sign * term.xreplace(letters)), force=True)
        if not root.is_rational_function(*root.free_symbols):
            return None
        terms.append(sign * root.xreplace({letter: each for each, letter in letters.items()}))
    return sympy.Add(*terms)


def square(edit: SquareEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with one square as it is: of the first squared given, of the last of several, or of (2π)²."""
    closed = solved.solution.closed_form
    if edit.what == "of-two-pi":
        plain = {sympy.pi**power: sympy.pi ** (power / 2) * 2 ** (-power / 2) for power in _SQUARES}
        return closed.xreplace(plain) if closed.has(*plain) else None
    squares = squared_givens(solved)
    if not squares or (edit.what == "last-given" and len(squares) == 1):
        return None
    chosen = Symbol(squares[0 if edit.what == "first-given" else -1])
    return closed.xreplace({chosen**power: chosen ** (power / 2) for power in _SQUARES})


def squared_givens(solved: SolvedQuestion) -> tuple[str, ...]:
    """The givens that stand squared in the closed form and in no other power, in their order.

    Squares of speeds in the inward equation are a matter of the equations.
    """
    speeds = _speeds(solved) if any(each.kind == "inward" for each in used_equations(solved)) else set()
    return tuple(
        name
        for name in solved.question.given
        if name not in speeds and _stands_only_squared(Symbol(name), solved.solution.closed_form)
    )


def _stands_only_squared(letter: Symbol, form: Expr) -> bool:
    """Whether every power of a letter is its square, so that it is clear what it means not to square it."""
    return form.has(letter) and not form.xreplace({letter**power: sympy.Integer(1) for power in _SQUARES}).has(letter)


_SQUARES = (sympy.Integer(2), sympy.Integer(-2))


def _speeds(solved: SolvedQuestion) -> set[str | None]:
    places = [rates(solved.problem.motion, each) for each in (None, *solved.problem.diagrams)]
    return {name for each in places for name in (each.speed, each.angular_speed)}


def used_equations(solved: SolvedQuestion) -> list[Equation]:
    """The equations that the right answer rests on."""
    numbers = {each.origin for each in solved.solution.path if each.origin >= 0}
    return [solved.system.equations[number] for number in sorted(numbers)]


def sum_of_two(edit: SumEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with its only sum of two terms changed; None where it has no such sum, or more than one."""
    factors = sympy.Mul.make_args(sympy.together(solved.solution.closed_form))
    sums = [each for each in factors if each.is_Add and len(each.args) == 2]
    if len(sums) != 1:
        return None
    first, last = _in_order(sums[0])
    if edit.what == "last-term" and last.could_extract_minus_sign():
        return None  # whoever keeps it would have to change its sign as well
    if edit.what != "last-term" and _is_collected(last):
        return None  # several terms of the equations would have to be changed alike
    changed = {"other-sign": first - last, "first-term": first, "last-term": last}[edit.what]
    answer = sympy.Mul(*(changed if each == sums[0] else each for each in factors))
    return None if answer.is_Symbol else answer  # what is given is not given back


def _in_order(two: Expr) -> tuple[Expr, Expr]:
    """The two terms of a sum, one with a plus first."""
    terms = sorted(sympy.Add.make_args(two), key=lambda term: (term.could_extract_minus_sign(), str(term)))
    return terms[0], terms[1]


def _is_collected(term: Expr) -> bool:
    """Whether a term was collected from several: its number is no power of two, as the 5 of m g + 4 m g."""
    number = sympy.fraction(term.as_coeff_Mul()[0])[0]
    return bool(abs(number) & (abs(number) - 1)) if number.is_Integer else False


def _signed_otherwise(two: Expr) -> Expr:
    first, last = _in_order(two)
    return first - last


def inverse(edit: InverseEdit, solved: SolvedQuestion) -> Expr | None:
    """What is under the inverse function of the closed form as a number of degrees, or as a tangent."""
    closed = solved.solution.closed_form
    if not isinstance(closed, sympy.acos | sympy.asin | sympy.atan):
        return None
    if edit.what == "not-taken":
        return closed.args[0] * sympy.pi / 180
    return None if isinstance(closed, sympy.atan) else sympy.atan(closed.args[0])


def report(edit: ReportEdit, solved: SolvedQuestion) -> Expr | None:
    """Twice an asked radius, one over an asked period, or a speed divided by its radius; None for other questions."""
    closed, ask = solved.solution.closed_form, solved.question.ask
    places = [rates(solved.problem.motion, each) for each in (None, *solved.problem.diagrams)]
    for here in places:
        if edit.what == "diameter" and ask == here.radius:
            return 2 * closed
        if edit.what == "frequency" and ask == here.period:
            return 1 / closed
        if edit.what == "angular-speed" and ask == here.speed and here.radius:
            turning = closed / Symbol(here.radius)
            return None if turning.is_Symbol else turning  # what is given is not given back
    return None


def gravity(_: GravityEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form without its g; None where it has none."""
    closed, g = solved.solution.closed_form, Symbol("g")
    return closed.xreplace({g: sympy.Integer(1)}) if closed.has(g) else None
