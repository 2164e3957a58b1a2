"""What an inequality bounds: which side is at most the other, and the ceiling that friction has."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import sympy

from ..quantities.unit_kinds import OWN_TO_A_BODY, kind_of
from .expression import Relation, names_in
from .problem import Diagram, ForceKind, Problem, Question

PUSHING: frozenset[ForceKind] = frozenset({"normal", "contact"})
ONE_WAY: frozenset[ForceKind] = frozenset({"normal", "tension"})  # at zero they act no longer


@dataclass(frozen=True)
class Ceiling:
    """The force ``bounded`` is at most a coefficient times the force ``pressing``; both are symbols."""

    bounded: str
    pressing: str


def sides(relation: Relation) -> tuple[sympy.Expr, sympy.Expr]:
    """The side of an inequality that is at most the other, and the other."""
    return (relation.right, relation.left) if relation.sign.startswith(">") else (relation.left, relation.right)


def kinds_of(problem: Problem, symbol: str) -> frozenset[ForceKind]:
    """The kinds of the forces of this symbol; empty where it is no force."""
    return frozenset(force.kind for each in problem.diagrams for force in each.forces if force.symbol == symbol)


def ceiling_of(problem: Problem, relation: Relation) -> Ceiling | None:
    """The ceiling that a relation such as ``f <= mu*N`` states for one force by another that pushes; else None."""
    lower, upper = sides(relation)
    pressing = [name for name in sorted(names_in(upper)) if kinds_of(problem, name) & PUSHING]
    if not lower.is_Symbol or not kinds_of(problem, lower.name) or len(pressing) != 1:
        return None
    coefficient = names_in(upper / sympy.Symbol(pressing[0]))
    return Ceiling(lower.name, pressing[0]) if coefficient and not _speaks_of_forces(problem, coefficient) else None


def comes_by_itself(question: Question, diagram: Diagram) -> bool:
    """Whether the motion itself leads to the limit somewhere on the circle, so that nobody sets the rate there."""
    return bool(diagram.angle) and diagram.angle not in question.given


def is_ratio(problem: Problem, name: str) -> bool:
    """Whether a pure number sets one quantity against another, as in ``N = k*m*g``: it comes of the motion.

    A coefficient of friction and a number of revolutions are none.
    """
    if problem.quantities[name].unit.symbol != "1":
        return False
    own = [each.relation for each in (*problem.relations, *problem.holds) if name in each.relation.symbols]
    return any(ceiling_of(problem, each) is None for each in own)


def is_coefficient(problem: Problem, name: str) -> bool:
    """Whether a pure number is that of a friction's ceiling."""
    own = (each.relation for each in problem.holds if name in each.relation.symbols)
    return problem.quantities[name].unit.symbol == "1" and any(ceiling_of(problem, each) for each in own)


def may_be_zero(problem: Problem, name: str) -> bool:
    """Whether a quantity may have the value 0, as a speed has from rest; no mass, radius or time of one turn has."""
    motion = problem.motion
    never = {motion.radius, motion.diameter, motion.circumference, motion.period, motion.frequency, motion.turns}
    for diagram in problem.diagrams:
        never |= {diagram.mass, diagram.radius}
        for force in diagram.forces:
            never |= {force.centre_mass, force.charge, force.centre_charge, force.field, force.distance}
    return name not in never and kind_of(problem.quantities[name].unit) not in OWN_TO_A_BODY


def least_words(problem: Problem, name: str) -> str:
    """Which values a quantity may have that is never negative: ``values above 0``."""
    return "0 or values above it" if may_be_zero(problem, name) else "values above 0"


def is_allowed(problem: Problem, name: str, value: Decimal) -> bool:
    """Whether a quantity of the problem may be drawn, or set, at this value as far as its sign goes."""
    return value > 0 or not problem.quantities[name].positive or (value == 0 and may_be_zero(problem, name))


def _speaks_of_forces(problem: Problem, names: frozenset[str]) -> bool:
    return any(kinds_of(problem, name) for name in names)
