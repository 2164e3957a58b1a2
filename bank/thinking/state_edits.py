"""Edits of the relation between two states of a rotation: what is taken for the average, for rest, for a difference."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeAlias

import sympy
from sympy import Expr, Symbol

from ..mechanics.equations import Equation, System
from ..mechanics.interval import StateRelation, TwoStates, interval_of, links
from ..model.edit import IntervalEdit
from ..solving.solution import SolvedQuestion

Sides: TypeAlias = tuple[Expr, Expr]


@dataclass(frozen=True)
class _Letters:
    """The five quantities; ``lesser`` is the smaller angular speed, 0 at rest, ``known`` the names that are given."""

    lesser: Expr
    greater: Expr
    rate: Symbol
    angle: Symbol
    time: Symbol
    known: frozenset[str]


def between_states(edit: IntervalEdit, solved: SolvedQuestion) -> System | None:
    """The system with the relations between two states as the mistake has them; None where it changes none."""
    two = interval_of(solved.problem.motion)
    if two is None:
        return None
    change = partial(CHANGES[edit.what], _letters(two, solved.system.known))
    wrong = {(each.left, each.right): change(each) for each in links(two)}
    equations = tuple(_put(wrong, each) for each in solved.system.equations)
    return None if equations == solved.system.equations else replace(solved.system, equations=equations)


def _letters(two: TwoStates, known: frozenset[str]) -> _Letters:
    names = (two.final, two.initial) if two.slows else (two.initial, two.final)
    lesser, greater = (Symbol(name) if name else sympy.Integer(0) for name in names)
    return _Letters(lesser, greater, Symbol(two.rate), Symbol(two.angle or ""), Symbol(two.duration or ""), known)


def _put(wrong: Mapping[Sides, Sides], equation: Equation) -> Equation:
    left, right = wrong.get((equation.left, equation.right), (equation.left, equation.right))
    return (
        equation if (left, right) == (equation.left, equation.right) else replace(equation, terms=(left,), right=right)
    )


def _greater_for_average(its: _Letters, link: StateRelation) -> Sides:
    """The angle is the greater angular speed times the time, with the right change in angular speed."""
    if link.left.is_Pow:
        return its.greater * (its.greater - its.lesser), its.rate * its.angle
    if link.left != its.angle:
        return link.left, link.right
    if its.greater.is_Symbol and link.right.has(its.greater):
        return its.angle, its.greater * its.time
    return its.angle, its.lesser * its.time + its.rate * its.time**2


def _smaller_left_out(its: _Letters, link: StateRelation) -> Sides:
    rest = {its.lesser: sympy.Integer(0)} if its.lesser.is_Symbol else {}
    left, right = link.left.xreplace(rest), link.right.xreplace(rest)
    return (left, right) if left != 0 else (its.greater ** _power(link), its.greater ** _power(link) - right)


def _power(link: StateRelation) -> int:
    return 2 if link.left.is_Pow else 1


def _difference_squared(its: _Letters, link: StateRelation) -> Sides:
    if not (its.lesser.is_Symbol and link.left.is_Pow):
        return link.left, link.right
    difference, squared = its.greater - its.lesser, 2 * its.rate * its.angle
    # the two speeds stand there squared and not, so neither could be isolated without the root
    both_known = {str(its.lesser), str(its.greater)} <= its.known
    return (difference**2, squared) if both_known else (difference, sympy.sqrt(squared))


def _average_for_change(its: _Letters, link: StateRelation) -> Sides:
    is_change = link.right == its.rate * its.time and link.left == its.greater
    return (link.left / 2, link.right) if is_change else (link.left, link.right)


CHANGES: Mapping[str, Callable[[_Letters, StateRelation], Sides]] = {
    "greater-for-average": _greater_for_average,
    "smaller-left-out": _smaller_left_out,
    "difference-squared": _difference_squared,
    "average-for-change": _average_for_change,
}
