"""What a slight change does to a body in its limiting case, from the equations: whether it is held, and how strongly.

The change is one of the rate that was asked for, of one given, or of a mass that has cancelled; all else stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Any, TypeAlias

import numpy as np
import sympy
from numpy.typing import NDArray

from ...item.draw import lot
from ...limits.budget import goes_to_worker
from ...limits.worker import in_worker
from ...mechanics.equations import System, system_of
from ...model.bounds import is_ratio
from ...model.evaluation import evaluate
from ...model.once import once
from ...model.problem import Problem, Question
from ...quantities.unit_kinds import kind_of
from ...solving.cache import cached_sign
from ...solving.serial import dump_sign, sign_from
from ...solving.solution import Sign, SolvedQuestion, gap, samples_of, sign_of
from ...storage.entries import Tree
from ...writing.limit_words import Change, Outcome, Sense
from .failures import Limit, limit_of

STEP = 1.02  # how many times as great a quantity is after a slight change
CHANGES: Mapping[Change, float] = {"more": STEP, "less": 1 / STEP}
NO_SIGN = Sign(sympy.Integer(0), sympy.Integer(1), ())
NOTHING = 1e-6  # of what a step of the asked rate does: no change

Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True)
class Turn:
    """What happens in the limiting case after a slight ``change`` of one quantity.

    ``needed`` tells how the force changes that the motion requires, and ``ceiling`` how the greatest possible one does,
    None for a force that has none and is at its limit as it comes to nothing. ``of_mass``: a mass that has cancelled.
    """

    symbol: str
    change: Change
    outcome: Outcome
    needed: Sense
    ceiling: Sense | None
    of_mass: bool


def turns(solved: SolvedQuestion, limit: Limit) -> tuple[Turn, ...]:
    """The changes that are asked about: for each outcome that some change has, one of these, drawn by the question.

    So each outcome is right as often as the others, and what is offered does not tell which it is.
    """
    found = sorted(all_turns(solved, limit), key=lambda each: _draw(solved, each))
    return tuple(reversed({each.outcome: each for each in reversed(found)}.values()))


def _draw(solved: SolvedQuestion, turn: Turn) -> bytes:
    return lot(solved.id, turn.symbol, turn.change)


def all_turns(solved: SolvedQuestion, limit: Limit) -> Iterator[Turn]:
    """What each slight change does that may be asked about; a mass in one question of a problem only."""
    forces = forces_of(solved, limit)
    if forces is None:
        return
    given = [(name, way) for name in (solved.question.ask, *_varied(solved)) for way in CHANGES]
    heavier: list[tuple[str, Change]] = [(limit.diagram.mass, "more")] if _asks_for_mass(solved, limit) else []
    for symbol, change in (*given, *heavier):
        found = forces.after(symbol, change)
        if found is not None:
            yield found


def _varied(solved: SolvedQuestion) -> Iterator[str]:
    """The givens that may be a little greater or smaller; an angle and a ratio are left as they are."""
    for name in solved.question.given:
        spec = solved.problem.quantities[name]
        varies = spec.draw and len(spec.draw.values) > 1 and not spec.constant
        if varies and kind_of(spec.unit) != "angle" and not is_ratio(solved.problem, name):
            yield name


def _asks_for_mass(solved: SolvedQuestion, limit: Limit) -> bool:
    """Whether the mass of the body has cancelled here, and in no question of the problem that comes before."""
    problem, mass = solved.problem, limit.diagram.mass
    asked = (each.name for each in problem.questions if mass not in each.told and limit_of(problem, each))
    return next(asked, "") == solved.question.name


# --- the forces before and after ---------------------------------------------------------------------


@dataclass(frozen=True)
class Forces:
    """The force at its limit and what is ``left`` up to it, as functions of what is known; their values at the limit.

    ``idle`` is the mass that has cancelled, if any.
    """

    left: sympy.Expr
    force: sympy.Expr
    has_ceiling: bool
    asked: str
    idle: str
    values: Mapping[str, Any]

    def after(self, symbol: str, change: Change) -> Turn | None:
        """What happens after a slight change; None where it is not the same in all samples, or nothing but a mass."""
        left, needed = self._steps(symbol, CHANGES[change])
        held, force, ceiling = map(self._sense, (left, needed, left + needed))
        if held is None or force is None or ceiling is None or (held == "same") != (symbol == self.idle):
            return None
        outcome: Outcome = "lost" if held == "smaller" else force
        return Turn(symbol, change, outcome, force, ceiling if self.has_ceiling else None, symbol == self.idle)

    def _steps(self, symbol: str, factor: float) -> tuple[Array, Array]:
        """How much more is left after a change than before, and how much greater the force is that is needed."""
        after = {**self.values, symbol: factor * np.asarray(self.values[symbol])}
        left, force = (evaluate(each, after) - evaluate(each, self.values) for each in (self.left, self.force))
        return left, force

    @cached_property
    def _nothing(self) -> Array:
        """What is no change, from what a step of the asked rate does to what is left."""
        return NOTHING * np.abs(self._steps(self.asked, STEP)[0])

    def _sense(self, step: Array) -> Sense | None:
        is_there = np.isfinite(step)
        if not is_there.any():
            return None
        step, nothing = step[is_there], self._nothing[is_there]
        greater, smaller = step > nothing, step < -nothing
        if not (greater | smaller).any():
            return "same"
        return "greater" if greater.all() else "smaller" if smaller.all() else None


def forces_of(solved: SolvedQuestion, limit: Limit) -> Forces | None:
    """The force at its limit and what is left up to it, from the equations of motion; None where these leave it open.

    A mass that has cancelled counts as known.
    """
    problem, question, name = solved.problem, solved.question, limit.force.symbol or ""
    idle = limit.diagram.mass if limit.diagram.mass not in question.told else ""
    place = problem.holds.index(limit.reason)
    signs = once(solved, ("near a limit", place, name), partial(_signs, solved, place, name, idle))
    left, over = (sign.expression if sign and not sign.factor.free_symbols else None for sign in signs)
    if left is None or over is None:
        return None
    samples = dict(samples_of(problem, question))
    samples[question.ask] = evaluate(solved.solution.closed_form, samples)
    if idle:
        samples[idle] = np.ones_like(samples[question.ask])
    has_ceiling = gap(limit.reason) != sympy.Symbol(name)
    return Forces(left, left + over if has_ceiling else left, has_ceiling, question.ask, idle, samples)


def _signs(solved: SolvedQuestion, hold: int, force: str, idle: str) -> list[Sign | None]:
    """The signs of what is left and of how much greater the force is, of which a force without a ceiling has none."""
    problem, question = solved.problem, solved.question
    if goes_to_worker(problem):
        return [sign_from(each) for each in in_worker(problem, question, signs_task, question, hold, force, idle)]
    system, *terms = _terms(problem, question, hold, force, idle)
    return [cached_sign(system, each) if each != 0 else NO_SIGN for each in terms]


def _terms(
    problem: Problem, question: Question, hold: int, force: str, idle: str
) -> tuple[System, sympy.Expr, sympy.Expr]:
    """What is left, and how much greater the force is, where the rate is known and the limiting case is not said.

    Of the force alone the angular speed would be left out as a factor that the question doesn't give.
    """
    known = (*question.given, question.ask, *([idle] if idle else ()))
    system = system_of(problem, replace(question, limiting=None, ask="", given=known))
    left = gap(problem.holds[hold])
    return system, left, sympy.Symbol(force) - left


def signs_task(problem: Problem, question: Question, hold: int, force: str, idle: str) -> list[Tree]:
    """Both signs as plain data."""
    system, *terms = _terms(problem, question, hold, force, idle)
    return [dump_sign(sign_of(system, each) if each != 0 else NO_SIGN) for each in terms]
