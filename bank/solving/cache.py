"""Solved questions and their mistakes on disk, so that what is unchanged is not solved twice.

An entry (see ``storage.entries``) is named by a digest of all that it depends on: ``FORMAT``, the version of SymPy, and
its key. Nothing in it is run (see ``serial``).

A forged entry could bring a wrong answer, worked line, condition or mistake into all that is made of the question. The
proof of a pack would not tell, for it compares the pack with keys that rest on the same entry. Where that matters,
``TURNWRIGHT_CACHE=off`` makes all from the bank alone.

A stranger's question is looked up and solved in a worker (see ``in_worker``).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

import sympy

from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import System, system_of
from ..model.problem import Problem, Question
from ..storage.entries import Tree, kept
from .serial import data_of, dump, dump_sign, measured, rebuilt, sign_from
from .solution import Sign, SolvedQuestion, samples_of, sign_of, solve_question

FORMAT = 19  # raised when the results of the solver or of the mistakes' edits change, or this layout
_Found = TypeVar("_Found")


# --- solved questions -------------------------------------------------------------------------


def solved_question(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged; a stranger's is solved apart.

    Raises SolveError as the solver does, OverBudgetError where it takes too much.
    """
    if not goes_to_worker(problem):
        return solved_here(problem, question)
    data = in_worker(problem, question, solve_task, question)
    return rebuilt(problem, question, system_of(problem, question), data)


def solved_here(problem: Problem, question: Question) -> SolvedQuestion:
    """The solved question, from the cache where its model is unchanged, worked out in this process."""
    system = system_of(problem, question)
    return cached(
        _key(problem, system, samples_of(problem, question)),
        lambda: measured(solve_question(problem, question)),
        lambda data: rebuilt(problem, question, system, data),
    )


def solve_task(problem: Problem, question: Question) -> dict[str, Tree]:
    """A question solved, as plain data."""
    return data_of(solved_here(problem, question))


def cached_sign(system: System, expression: sympy.Expr) -> Sign | None:
    """The sign of an expression in known symbols, from the cache where its system is unchanged."""
    key = {**_of_system(system), "speeds": sorted(system.speeds), "sign": dump(expression)}
    return cached(key, lambda: dump_sign(sign_of(system, expression)), sign_from)


def _of_system(system: System) -> dict[str, Tree]:
    return {
        "equations": [
            [each.kind, [dump(term) for term in each.terms], dump(each.right), each.diagram]
            for each in system.equations
        ],
        "ask": system.ask,
        "known": sorted(system.known),
        "signed": sorted(system.signed),
        "forces": sorted(system.forces),
    }


def _key(problem: Problem, system: System, samples: Mapping[str, Any]) -> Tree:
    return {
        **_of_system(system),
        "holds": [reason.text for reason in problem.holds],
        "samples": {name: [repr(float(value)) for value in values] for name, values in sorted(samples.items())},
    }


# --- entries ----------------------------------------------------------------------------------


def cached(key: Tree, make: Callable[[], Tree], read: Callable[[Any], _Found]) -> _Found:
    """What ``read`` makes of the data under a key: those on disk, or those of ``make``, which are left there.

    ``key`` is plain data and names all that ``make`` depends on besides ``FORMAT`` and the version of SymPy.
    """
    return kept("solved", [FORMAT, sympy.__version__, key], make, read)
