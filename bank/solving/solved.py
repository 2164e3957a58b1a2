"""A question made ready for drawing: its system, its closed form, and what has to hold, all in known symbols."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np
import sympy

from ..mechanics.equations import System, system_of
from ..model.draws import grid_of
from ..model.problem import Problem, Question, Reason
from .solution import Sign, Solution, sign_of, solve

SAMPLES = 64
SAMPLE_GRAVITY = Decimal("9.81")


@dataclass(frozen=True)
class Kept:
    """Something that holds, with its sign in known symbols; None where the question leaves it open."""

    reason: Reason
    sign: Sign | None
    strict: bool

    @property
    def expression(self) -> sympy.Expr | None:
        """What must not be negative, in known symbols."""
        return self.sign.expression if self.sign else None


@dataclass(frozen=True)
class SolvedQuestion:
    """A question with all that is the same for its variants."""

    problem: Problem
    question: Question
    system: System
    solution: Solution
    kept: tuple[Kept, ...]

    @property
    def id(self) -> str:
        """The id of the question, ``problem.question``."""
        return self.system.question


def solve_question(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question. Raises SolveError where it has no single admissible closed form."""
    system = system_of(problem, question)
    solution = solve(system, samples_of(problem, question))
    holding = tuple(kept(system, reason) for reason in problem.holds)
    return SolvedQuestion(problem, question, system, solution, holding)


def samples_of(problem: Problem, question: Question) -> Mapping[str, Any]:
    """SI values of the givens for a fixed choice of draws from every scene, as equally long arrays; g included."""
    grids = [grid_of(problem, question, scene, SAMPLE_GRAVITY) for scene in problem.scenes_of(question)]
    blocks = [grid.values(grid.shuffled(f"samples of {question.name}", 0, SAMPLES)) for grid in grids]
    return {name: np.concatenate([block[name] for block in blocks]) for name in blocks[0]}


def kept(system: System, reason: Reason) -> Kept:
    """What holds, decided as far as the system fixes it."""
    return Kept(reason, sign_of(system, gap(reason)), strict=reason.relation.sign in "<>")


def gap(reason: Reason) -> sympy.Expr:
    """What must not be negative for an inequality to hold: left minus right of ``>=``, right minus left of ``<=``."""
    relation = reason.relation
    return relation.left - relation.right if relation.sign.startswith(">") else relation.right - relation.left
