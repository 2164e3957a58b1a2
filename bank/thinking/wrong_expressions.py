"""The three wrong expressions of a question: of its sets the one that tells least of the key, kept on disk."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import Any

import sympy

from ..item.formula import text
from ..limits.budget import goes_to_worker
from ..limits.worker import in_worker
from ..mechanics.equations import system_of
from ..model.mistake import Mistake
from ..model.problem import Problem, Question
from ..solving.cache import cached
from ..solving.serial import data_of, dump, load, rebuilt
from ..solving.solution import SolvedQuestion
from ..storage.entries import Tree
from ..writing.notation import Notation
from .balance import Counterweights, balanced
from .expression_sets import ExpressionSets, WrongExpression
from .mistaken_forms import forms_here, forms_key

# what counts against a set of which none, one, two or all have the dimension of the key
DIMENSIONS = (0.8, 0.2, 0.1, 0.0)
LACKING = 0.4  # against a set with an expression that lacks a given of the key: who reads the stem rules it out
ALONE = 9.0  # against one in which all lack some letter of the key, which is told by that: the last choice
COUNTERWEIGHTS = Counterweights(
    has={
        "+": 0.05,
        "−": 0.18,
        "/": 0.05,
        "√": 0.17,
        "4": 0.26,
        "π": 0.13,
        "cos": 0.25,
        "letter": 0.34,
        "power": 0.2,
    },
    lacks={"(": 0.18, ")": 0.18, "1": 0.34, "2": 0.37, "number": 0.08, "sin": 0.2},
    length=(0.0, 0.22, 0.13, 0.27, 0.17, 0.26, 0.08),
)


def wrong_expressions(
    solved: SolvedQuestion, catalogue: Sequence[Mistake], notation: Notation
) -> tuple[WrongExpression, ...]:
    """Three wrong expressions that stand beside the right one as ``notation`` shows them; () where there are none."""
    if not goes_to_worker(solved.problem):
        return _kept(solved, catalogue, notation)
    task = (_task, solved.question, data_of(solved), tuple(catalogue), notation)
    return _read(solved.problem.mistakes_from(catalogue), in_worker(solved.problem, solved.question, *task))


def _task(problem: Problem, question: Question, data: Any, catalogue: Sequence[Mistake], notation: Notation) -> Tree:
    """The wrong expressions, as plain data."""
    solved = rebuilt(problem, question, system_of(problem, question), data)
    return _data_of(problem.mistakes_from(catalogue), _kept(solved, catalogue, notation))


def _kept(solved: SolvedQuestion, catalogue: Sequence[Mistake], notation: Notation) -> tuple[WrongExpression, ...]:
    """The same, from the cache where question, mistakes and letters are unchanged."""
    tried = solved.problem.mistakes_from(catalogue)
    key = ["wrong expression", forms_key(solved, tried), sorted(notation.names.items())]
    return cached(key, lambda: _data_of(tried, _chosen(solved, catalogue, notation)), partial(_read, tried))


def _chosen(solved: SolvedQuestion, catalogue: Sequence[Mistake], notation: Notation) -> tuple[WrongExpression, ...]:
    tried = solved.problem.mistakes_from(catalogue)
    found = ExpressionSets(solved, forms_here(solved, catalogue)[0], tried)
    draw = f"{solved.id} expression"
    key, ask = solved.solution.closed_form, sympy.Symbol(solved.solution.ask)
    shown: dict[sympy.Expr, str] = {}

    def read(form: sympy.Expr) -> str:
        if form not in shown:
            shown[form] = text(notation.equation(ask, form))
        return shown[form]

    sets = [one for one in found.sets(draw) if len({read(each) for each in (key, *(x.form for x in one))}) == 4]
    texts = [tuple(read(each.form) for each in one) for one in sets]
    own = [
        DIMENSIONS[sum(bool(found.fits(each.form)) for each in one)]
        + LACKING * found.lack_a_given(one)
        + ALONE * found.leave_the_key_alone(one)
        for one in sets
    ]
    chosen = balanced(read(key), texts, partial(COUNTERWEIGHTS.against, draw=draw), own)
    return () if chosen is None else found.simplest(sets[chosen])


def _data_of(tried: Sequence[Mistake], found: Sequence[WrongExpression]) -> Tree:
    """Wrong expressions as plain data, each mistake by its place among those tried."""
    return [[dump(each.form), [tried.index(mistake) for mistake in each.mistakes]] for each in found]


def _read(tried: Sequence[Mistake], data: Any) -> tuple[WrongExpression, ...]:
    """The wrong expressions of which these are the data."""
    return tuple(WrongExpression(load(form), tuple(tried[place] for place in places)) for form, places in data)
