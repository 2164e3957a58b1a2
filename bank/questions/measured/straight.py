"""What makes a straight line of a closed form: which power of the answer against which power of a given."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

import sympy

from ...item.draw import lot
from ...model.bounds import is_ratio
from ...model.once import once
from ...quantities.unit_kinds import OWN_TO_A_BODY, kind_of
from ...solving.algebra import rerooted
from ...solving.solution import SolvedQuestion
from ...writing.numeric_steps import power_law
from ..change_keys import is_bound, is_unasked
from ..fixed import is_fixed
from ..graphs.varied import dependence

SLOPE = sympy.Symbol("slope")
LEAST_VALUES = 5  # of the given that is set
UNSET = (*OWN_TO_A_BODY, "force", "acceleration")  # kinds of quantities that follow, or come with the body
INVERTED = (1, 2)  # powers of the wanted quantity in the slope, that are solved for


@dataclass(frozen=True)
class Straight:
    """The answer to the power ``up`` is plotted against a given, ``symbol``, to the power ``across``.

    ``row`` is what the answer to that power is, ``slope`` its part that multiplies the plotted power of the given;
    ``wanted`` is a given in the slope that is not told, and ``inverse`` that given from the slope.
    """

    symbol: str
    across: sympy.Rational
    up: int
    row: sympy.Expr
    slope: sympy.Expr
    wanted: str
    inverse: sympy.Expr
    is_through_origin: bool


def straight_lines(solved: SolvedQuestion) -> tuple[Straight, ...]:
    """The lines from which a given can be found, those first that give what a body has once and for all.

    Of a limiting case nothing is measured: a class can't set the greatest speed in a bend.
    """
    return once(solved, "straight lines", lambda: tuple(_straight_lines(solved)))


def _straight_lines(solved: SolvedQuestion) -> Iterator[Straight]:
    problem, ask = solved.problem, solved.question.ask
    if is_unasked(solved) or is_bound(solved) or solved.question.limiting or is_ratio(problem, ask):
        return
    if kind_of(problem.quantities[ask].unit) == "length":
        return  # which somebody sets
    found = [line for name in solved.question.given if _is_set(solved, name) for line in _lines(solved, name)]
    yield from sorted(found, key=lambda each: (*_liking(solved, each), lot(solved.id, each.wanted)))


def _is_set(solved: SolvedQuestion, name: str) -> bool:
    """Whether somebody can set a given to several values."""
    spec = solved.problem.quantities[name]
    many = name in solved.solution.symbols and spec.draw is not None and len(spec.draw.values) >= LEAST_VALUES
    scenes = solved.problem.scenes_of(solved.question)
    settable = kind_of(spec.unit) not in UNSET and not is_ratio(solved.problem, name)
    return many and settable and not any(is_fixed(solved, each, name) for each in scenes)


def _liking(solved: SolvedQuestion, line: Straight) -> tuple[bool, bool]:
    """What is its body's own is asked for first, and a speed is set rather than a radius."""
    wanted, varied = (kind_of(solved.problem.quantities[each].unit) for each in (line.wanted, line.symbol))
    return wanted not in (*OWN_TO_A_BODY, None), varied == "length"


def _lines(solved: SolvedQuestion, name: str) -> Iterator[Straight]:
    form, letter = solved.solution.closed_form, sympy.Symbol(name)
    law = dependence(form, name)
    power = power_law(law.moving, name) if law else None
    if law is None or not power or law.is_proportion or (law.fixed is not None and power.q != 1):
        return
    up = int(power.q)
    across = sympy.Rational(power.p)
    moving = form if law.fixed is None else law.moving
    slope = _tidy(partial(_raised, power=sympy.Integer(up)), moving / letter**power)
    for wanted in solved.question.given:
        spec = solved.problem.quantities[wanted]
        inside = power_law(slope, wanted)
        drawn = spec.draw is not None and len(spec.draw.values) > 1
        if (
            wanted in (name, solved.problem.motion.turns)  # who takes the time of many turns has counted them
            or not inside
            or not drawn
            or kind_of(spec.unit) == "angle"
            or is_ratio(solved.problem, wanted)
        ):
            continue
        if abs(inside) not in INVERTED or (abs(inside) != 1 and slope.could_extract_minus_sign()):
            continue
        rest = slope / sympy.Symbol(wanted) ** inside
        inverse = _tidy(partial(_raised, power=1 / inside), SLOPE / rest)
        row = slope * letter**across + (law.fixed or 0)
        yield Straight(name, across, up, row, slope, wanted, inverse, law.fixed is None)


def _raised(expression: sympy.Expr, power: sympy.Rational) -> sympy.Expr:
    return expression**power


def _tidy(change: Callable[[sympy.Expr], sympy.Expr], expression: sympy.Expr) -> sympy.Expr:
    """A changed expression, simplified as one of positive quantities."""
    positive = {each: sympy.Dummy(each.name, positive=True) for each in expression.free_symbols}
    made = sympy.simplify(change(expression.subs(positive)))
    return rerooted(made.subs({dummy: each for each, dummy in positive.items()}))
