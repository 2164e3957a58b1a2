"""What a mistake does to a question: each kind of edit changes the model, the equations, the givens or the last step.

What an edit makes of a solved question is a system to be solved anew, or a changed closed form, or None where it finds
nothing to change.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial, singledispatch
from typing import TypeAlias

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import Equation, System, rates, system_of
from ..model.edit import (
    AccelerationEdit,
    ContactEdit,
    Edit,
    EnergyEdit,
    ExtraForceEdit,
    InsteadEdit,
    InwardContactEdit,
    LimitEdit,
    RelationEdit,
    RoundEdit,
)
from ..model.expression import named, names_in
from ..model.problem import Diagram, Motion, Problem
from ..quantities.units import unit
from ..solving.solution import SolvedQuestion
from . import closed_form_edits, force_edits, given_edits, state_edits
from .closed_form_edits import used_equations

Edited: TypeAlias = System | Expr | None
ACCELERATION = unit("m/s^2").dimension
SPEED = unit("m/s").dimension


@singledispatch
def edited(edit: Edit, solved: SolvedQuestion) -> Edited:
    """What the edit makes of a question; None where there is nothing for it to change."""
    return None


edited.register(force_edits.drop)
edited.register(force_edits.reverse)
edited.register(force_edits.exchange)
edited.register(force_edits.put_weight_inward)
edited.register(force_edits.flatten)
edited.register(force_edits.at_its_limit)
edited.register(closed_form_edits.ratio)
edited.register(closed_form_edits.parts)
edited.register(closed_form_edits.square)
edited.register(closed_form_edits.gravity)
edited.register(closed_form_edits.sum_of_two)
edited.register(closed_form_edits.inverse)
edited.register(closed_form_edits.report)
edited.register(state_edits.between_states)
edited.register(given_edits.given)
edited.register(given_edits.angle)
edited.register(given_edits.answer)


# --- equations ------------------------------------------------------------------------------------


def _with_equations(solved: SolvedQuestion, change: Callable[[Equation], Equation | None]) -> System | None:
    changed = tuple(each for each in map(change, solved.system.equations) if each is not None)
    return None if changed == solved.system.equations else replace(solved.system, equations=changed)


@edited.register
def _acceleration(edit: AccelerationEdit, solved: SolvedQuestion) -> Edited:
    def change(equation: Equation) -> Equation:
        mass, right = _mass_and_acceleration(solved.problem, equation)
        new = _in_place(solved.problem, edit.formula.value, right) if right is not None else None
        return equation if new is None else replace(equation, right=mass * new)

    return None if _has_another_acceleration(solved) else _with_equations(solved, change)


def _has_another_acceleration(solved: SolvedQuestion) -> bool:
    """Whether the answer rests on the acceleration at a second place, of which the same would be thought."""
    return any(
        each.kind == "relation"
        and str(each.left) in solved.problem.quantities.keys() - {solved.problem.motion.acceleration}
        and solved.problem.quantities[str(each.left)].unit.dimension == ACCELERATION
        and names_in(each.right) & solved.system.speeds
        for each in used_equations(solved)
    )


@edited.register
def _extra_force(edit: ExtraForceEdit, solved: SolvedQuestion) -> Edited:
    """The inward equation with the net force itself as one more term, which stands on the right as well."""
    sign = 1 if edit.way == "inward" else -1
    masses = {each.name: each.mass for each in solved.problem.diagrams}

    def change(equation: Equation) -> Equation:
        if equation.kind != "inward":
            return equation
        weight = Symbol(masses[equation.diagram]) * Symbol("g")
        return replace(equation, terms=(*equation.terms, sign * (weight if "weight" in edit.way else equation.right)))

    return _with_equations(solved, change)


def _mass_and_acceleration(problem: Problem, equation: Equation) -> tuple[Expr, Expr | None]:
    """The factor and the acceleration of an inward equation, or of the relation that gives the acceleration."""
    diagram = problem.diagram(equation.diagram) if equation.diagram else None
    if equation.kind == "inward" and diagram:
        return Symbol(diagram.mass), equation.right / Symbol(diagram.mass)
    if equation.kind == "relation" and equation.left == Symbol(problem.motion.acceleration or ""):
        return sympy.Integer(1), equation.right
    return sympy.Integer(1), None


def _in_place(problem: Problem, formula: Expr, right: Expr) -> Expr | None:
    """The formula with the right acceleration for ``a``; None where it speaks of a quantity that is not there.

    Where the inward equation names the acceleration, the relation that gives it is the one to change.
    """
    if right == Symbol(problem.motion.acceleration or "") and names_in(formula) - {"a", "g"}:
        return None
    here = {"v": problem.motion.speed, "omega": problem.motion.angular_speed, "r": problem.motion.radius}
    places = {each.speed for each in problem.diagrams if each.speed} & names_in(right)
    here["v"] = places.pop() if len(places) == 1 else here["v"]
    values = {Symbol("a"): right, Symbol("g"): Symbol("g")}
    for name in names_in(formula) - {"a", "g"}:
        symbol = Symbol(here.get(name) or "")
        if not right.has(symbol):
            return None
        values[Symbol(name)] = symbol
    return formula.xreplace(values)


@edited.register
def _contact(edit: ContactEdit, solved: SolvedQuestion) -> Edited:
    found = _one_contact(solved, edit.formula.value)
    if found is None:
        return None
    symbol, size = found
    if solved.question.ask == symbol.name:
        return size if names_in(size) <= solved.system.known else None
    kept = tuple(each for each in solved.system.equations if each.kind != "up")
    fixed = Equation("limiting", (symbol,), size)
    return replace(solved.system, equations=(fixed, *kept))


@edited.register
def _contact_inward(edit: InwardContactEdit, solved: SolvedQuestion) -> Edited:
    found = _one_contact(solved, edit.formula.value)
    if found is None or solved.question.ask == found[0].name:
        return None
    symbol, size = found
    if any(symbol.name in each.symbols for each in used_equations(solved) if each.kind in ("limiting", "relation")):
        return None  # what is thought of the force would stand there as well

    def change(equation: Equation) -> Equation:
        if equation.kind != "inward":
            return equation
        return replace(equation, terms=tuple(term.xreplace({symbol: size}) for term in equation.terms))

    return _with_equations(solved, change)


def _one_contact(solved: SolvedQuestion, formula: Expr) -> tuple[Symbol, Expr] | None:
    """The only contact force, where it is unknown and not the limiting one, and the size that it is thought to have."""
    problem = solved.problem
    if len(problem.diagrams) != 1 or problem.diagrams[0].spot == "rest":
        return None
    diagram = problem.diagrams[0]
    contact = [each for each in diagram.forces if force_edits.is_contact(each)]
    size = _size(problem, diagram, formula)
    if len(contact) != 1 or size is None or contact[0].symbol in solved.system.known:
        return None
    symbol = named(contact[0].symbol, "size", contact[0].role)
    limiting = solved.question.limiting
    if limiting and symbol.name in limiting.symbols and solved.question.ask != symbol.name and limiting.right == 0:
        return None
    return symbol, size


def _size(problem: Problem, diagram: Diagram, formula: Expr) -> Expr | None:
    """A size in m, g and theta, in the symbols of the diagram."""
    angle = diagram.tilt or diagram.angle
    values = {Symbol("m"): Symbol(diagram.mass)}
    if formula.has(Symbol("theta")):
        if not angle:
            return None
        values[Symbol("theta")] = Symbol(angle)
    return formula.xreplace(values)


@edited.register
def _relation(edit: RelationEdit, solved: SolvedQuestion) -> Edited:
    if edit.what == "whole-length":
        return _with_equations(solved, partial(_without_rest_length, _springs(solved.problem)))
    radius = Symbol(solved.problem.motion.radius or "")
    if edit.what == "arc-for-chord":
        return _with_equations(solved, partial(_along_the_arc, solved.problem.motion))

    def change(equation: Equation) -> Equation:
        if equation.kind != "relation" or equation.left != radius or equation.right.has(sympy.pi):
            return equation
        if edit.what == "without-sine":
            ones = {each: sympy.Integer(1) for each in equation.right.atoms(sympy.sin)}
            return replace(equation, right=equation.right.xreplace(ones))
        terms = sorted(sympy.Add.make_args(equation.right), key=lambda term: (sympy.count_ops(term), str(term)))
        return replace(equation, right=terms[0 if edit.what == "first-term" else -1])

    return _with_equations(solved, change)


def _along_the_arc(motion: Motion, equation: Equation) -> Equation:
    """The distance along the arc in place of the displacement."""
    displacement, angle, radius = (
        Symbol(name or "") for name in (motion.displacement, motion.angle_turned, motion.radius)
    )
    is_chord = motion.displacement and equation.kind == "relation" and equation.left == displacement**2
    return replace(equation, terms=(displacement,), right=radius * angle) if is_chord else equation


def _springs(problem: Problem) -> frozenset[Symbol]:
    forces = (force for diagram in problem.diagrams for force in diagram.forces)
    return frozenset(Symbol(force.symbol) for force in forces if force.kind == "spring" and force.symbol)


def _without_rest_length(springs: frozenset[Symbol], equation: Equation) -> Equation:
    """The relation of a spring force with the length for the difference of two lengths."""
    if equation.kind != "relation" or equation.left not in springs:
        return equation
    differences = [each for each in equation.right.atoms(sympy.Add) if len(each.args) == 2]
    lengths = {each: next(term for term in each.args if not term.could_extract_minus_sign()) for each in differences}
    return replace(equation, right=equation.right.xreplace(lengths))


@edited.register
def _energy(edit: EnergyEdit, solved: SolvedQuestion) -> Edited:
    what = edit.what
    speeds = iter(_end_speeds(solved.problem))

    def change(equation: Equation) -> Equation | None:
        if equation.kind == "relation" and what == "double-kinetic":
            left, right = (_kinetic_doubled(side, solved.problem) for side in (equation.left, equation.right))
            return replace(equation, terms=(left,), right=right)
        if equation.kind != "energy":
            return equation
        ends = next(speeds)
        if what == "half-height" and equation.left.has(sympy.cos) | equation.right.has(sympy.cos):
            return equation  # between an end and a place given by an angle the climb is no 2 r
        if what == "ignored":
            return Equation("relation", (Symbol(ends[0]),), Symbol(ends[1])) if all(ends) else equation
        return Equation("energy", (_energy_side(equation.left, what),), _energy_side(equation.right, what))

    return _with_equations(solved, change)


def _kinetic_doubled(side: Expr, problem: Problem) -> Expr:
    """A side of a relation in which each m v²/2 has lost its half, and each v²/2 of a unit mass."""
    letters = names_in(side) & problem.quantities.keys()
    speeds = (name for name in letters if problem.quantities[name].unit.dimension == SPEED)
    halves = [Symbol(name) ** 2 / 2 for name in speeds]
    terms = sympy.Add.make_args(side)
    return sympy.Add(
        *(
            term * (2 if any(_is_mass(term / each) or _is_mass(-term / each) for each in halves) else 1)
            for term in terms
        )
    )


def _is_mass(factor: Expr) -> bool:
    """Whether v²/2 is multiplied by a mass alone, or by nothing: a unit mass."""
    return bool(factor.is_Symbol or factor == 1)


def _end_speeds(problem: Problem) -> Iterator[tuple[str, str]]:
    for energy in problem.energies:
        ends = (problem.diagram(level.diagram) if level.diagram else None for level in (energy.start, energy.end))
        first, second = (rates(problem.motion, each).speed or "" if each else "" for each in ends)
        yield first, second


_LOSSES = {"loss-left-out": 0, "loss-gained": -1}


def _energy_side(side: Expr, what: str) -> Expr:
    """One side of a balance with half the height of its potential energy, twice its kinetic energy, or another loss."""
    changed = []
    for term in sympy.Add.make_args(side):
        if term.is_Symbol and what in _LOSSES:
            changed.append(_LOSSES[what] * term)
            continue
        potential = term.has(Symbol("g"))
        factor = sympy.Rational(1, 2) if what == "half-height" and potential and term.as_coeff_Mul()[0] == 2 else 1
        kinetic = not potential and not term.is_Symbol  # a letter alone is the energy that is lost
        changed.append(term * (2 if what == "double-kinetic" and kinetic else factor))
    return sympy.Add(*changed)


@edited.register
def _round(edit: RoundEdit, solved: SolvedQuestion) -> Edited:
    factor = edit.formula.value / (2 * sympy.pi * Symbol("r"))
    motion = solved.problem.motion
    no_way_round = {Symbol(motion.circumference or "")}
    goes_round = any(motion.radius in each.symbols for each in used_equations(solved))
    if not goes_round or edit.formula.value == Symbol(
        "r"
    ):  # n revolutions for n radians is a thought of the angle alone
        no_way_round.add(Symbol(motion.angle_turned or ""))

    def change(equation: Equation) -> Equation:
        if equation.kind != "relation" or not equation.right.has(sympy.pi) or equation.left in no_way_round:
            return equation
        terms = sympy.Add.make_args(equation.right)
        return replace(equation, right=sympy.Add(*(term * factor ** _power_of_pi(term) for term in terms)))

    return _with_equations(solved, change)


def _power_of_pi(term: Expr) -> Expr:
    """How often once round is a factor: twice in 4π² a³/(G M), which is the square of a period."""
    return term.as_powers_dict().get(sympy.pi, sympy.Integer(1 if term.has(sympy.pi) else 0))


@edited.register
def _instead(edit: InsteadEdit, solved: SolvedQuestion) -> Edited:
    """The system with the wrong relation where the right one stands."""

    def change(equation: Equation) -> Equation:
        if equation.kind != "relation" or (equation.left, equation.right) != (edit.right.left, edit.right.right):
            return equation
        return replace(equation, terms=(edit.wrong.left,), right=edit.wrong.right)

    return _with_equations(solved, change)


@edited.register
def _limit(edit: LimitEdit, solved: SolvedQuestion) -> Edited:
    if not solved.question.limiting:
        return None
    return system_of(solved.problem, replace(solved.question, limiting=edit.relation))
