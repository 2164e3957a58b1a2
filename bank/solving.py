"""A question made ready for drawing: its system, its closed form, and what has to hold, all in known symbols."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import numpy as np
import sympy

from turnwright.bank.equation import System, system_of
from turnwright.bank.grid import Grid, grid_of
from turnwright.bank.problem import Problem, Question, Reason
from turnwright.bank.solution import Solution, sign_of, solve

SAMPLES = 64
SAMPLE_GRAVITY = Decimal("9.81")


@dataclass(frozen=True)
class Kept:
    """Something that holds, as an expression that must not be negative; None where the question leaves it open."""

    reason: Reason
    expression: sympy.Expr | None
    strict: bool


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
    kept = tuple(_kept(system, reason) for reason in problem.holds)
    return SolvedQuestion(problem, question, system, solution, kept)


def samples_of(problem: Problem, question: Question) -> Mapping[str, Any]:
    """SI values of the givens for a fixed choice of draws from every scene, as equally long arrays; g included."""
    grids = [grid_of(problem, question, scene, SAMPLE_GRAVITY) for scene in problem.scenes_of(question)]
    blocks = [grid.values(grid.shuffled(f"samples of {question.name}", 0, SAMPLES)) for grid in grids]
    return {name: np.concatenate([block[name] for block in blocks]) for name in blocks[0]}


def _kept(system: System, reason: Reason) -> Kept:
    relation = reason.relation
    gap = relation.left - relation.right if relation.sign.startswith(">") else relation.right - relation.left
    return Kept(reason, sign_of(system, gap), strict=relation.sign in "<>")


__all__ = ["Grid", "Kept", "SolvedQuestion", "samples_of", "solve_question"]
