"""Edits of what is put in, and of the last step: another value for a given, an angle misread, an answer misreported."""

from __future__ import annotations

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import rates
from ..model.edit import AngleEdit, AnswerEdit, GivenEdit
from ..model.expression import names_in
from ..model.problem import Problem
from ..solving.solution import SolvedQuestion
from .force_edits import exchanged


def given(edit: GivenEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with another value for the givens of a role; None where it has none."""
    closed, role = solved.solution.closed_form, edit.role.replace("-", "_")
    if role == "duration" and not solved.problem.motion.angle_turned:
        return None  # the time for counted revolutions has mistakes of its own
    symbols = given_symbols(solved.problem, role) & set(solved.question.given) & solved.solution.symbols
    if not symbols:
        return None
    formula = edit.formula.value
    if edit.formula.written == "1/x" and any(_is_a_term(Symbol(name), closed) for name in symbols):
        return None  # nothing is multiplied by it, nor divided
    return closed.xreplace({Symbol(name): formula.xreplace({Symbol("x"): Symbol(name)}) for name in symbols})


def _is_a_term(letter: Symbol, form: Expr) -> bool:
    """Whether a letter stands alone as a term of a sum."""
    return any(term.as_coeff_Mul()[1] == letter for each in form.atoms(sympy.Add) for term in each.args)


def given_symbols(problem: Problem, role: str) -> set[str]:
    """The symbols of a role at all places of a problem: its periods, its radii, the masses and angles of diagrams."""
    if role in ("mass", "angle"):
        parts = ("mass",) if role == "mass" else ("angle", "tilt")
        return {name for each in problem.diagrams for part in parts if (name := getattr(each, part))}
    places = [rates(problem.motion, each) for each in (None, *problem.diagrams)]
    return {name for name in (getattr(each, role) for each in places) if name}


def angle(edit: AngleEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with its angles from the other line, or with the wrong mode of the calculator.

    An angle that is in no function, as that of an arc, is drawn from no line, and no calculator has a mode for it.
    """
    closed, ask = solved.solution.closed_form, solved.question.ask
    angles = {name for name, spec in solved.problem.quantities.items() if spec.unit.symbol == "deg"}
    angles &= (
        {ask} if closed.has(*_INVERSE) else {name for each in closed.atoms(*_FUNCTIONS) for name in names_in(each)}
    )
    if edit.what == "radians":
        if ask in angles:
            return closed * sympy.pi / 180
        put_in = {Symbol(name): Symbol(name) * 180 / sympy.pi for name in angles & solved.solution.symbols}
        return closed.xreplace(put_in) if put_in else None
    if ask in angles:
        return sympy.pi / 2 - closed
    return exchanged(closed) if angles & solved.solution.symbols else None


_FUNCTIONS = (sympy.sin, sympy.cos, sympy.tan)
_INVERSE = (sympy.asin, sympy.acos, sympy.atan)


def answer(edit: AnswerEdit, solved: SolvedQuestion) -> Expr | None:
    """The closed form with something done to it at the end; None where nobody would do that."""
    closed, formula = solved.solution.closed_form, edit.formula
    if formula.written == "x**2":
        rooted = any(part.is_Pow and part.exp == sympy.Rational(1, 2) for part in sympy.Mul.make_args(closed))
        return closed**2 if rooted else None
    if formula.written == "1/x" and solved.problem.quantities[solved.question.ask].unit.dimension != "dimensionless":
        return None
    return formula.value.xreplace({Symbol("x"): closed})
